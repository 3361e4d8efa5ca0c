package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.TotalDiffers),
	Severity: Error,
	Summary:  "The total stated at the end of a round is not what its words make",
	Why: "A maker counts to the total and trusts it. Where the words make another number, one of the two is a slip, and she rips back a round that was right. " +
		"The next rounds show which of the two was meant, and the message says so where they do.",
	Repair: "Another total, or another count in the words, whichever makes the rest of the part come out. `--fix` applies it where there is only one that does.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (20)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Start:  fromProblems(fabric.TotalDiffers),
})
