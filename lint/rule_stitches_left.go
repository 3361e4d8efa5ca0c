package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.StitchesLeft),
	Severity: Error,
	Summary:  "A round leaves stitches of the round below unworked and does not say so",
	Why: "The words end before the round does. A maker does not know whether to go on, to stop there or to count again; where stitches are to be left on purpose, " +
		"the pattern says so: leave remaining 4 sts unworked.",
	Repair: "The repeat count, the stitch count or the missing step that makes the part come out even. `--fix` applies it where there is only one that does.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 5 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Good:   "Piece: Strap\nWorked: in rows\nRow 1: ch 13, sc in 2nd ch from hook and in each ch across (12)\nRow 2: ch 1, sc 8, leave remaining 4 sts unworked (8)\n",
	Start:  fromProblems(fabric.StitchesLeft),
})
