package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.TooManyWorked),
	Severity: Error,
	Summary:  "A round works more stitches than the round below has",
	Why: "The stitches run out before the words do. A maker either works on into the next round without knowing, so that every round after starts in the wrong place, " +
		"or stops and rips back to find a mistake that is not hers.",
	Repair: "The repeat count, the stitch count or the total that makes the part come out even. `--fix` applies it where there is only one that does.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 7 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Start:  fromProblems(fabric.TooManyWorked),
})
