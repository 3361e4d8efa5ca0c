package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.RepeatDoesNotFit),
	Severity: Error,
	Summary:  "A repeat around, across or to the last stitches does not come out",
	Why: "A repeat without a count goes on until the stitches are used up, so it must divide them exactly. Where it does not, the last repeat stops in the middle " +
		"and nobody knows what the round makes.",
	Repair: "Another count in the repeat, or the stitches that are left as a step behind it, where the part comes out with it.",
	Bad:    "Piece: Shell\nRnd 1: 8 sc in magic ring (8)\nRnd 2: *sc 2, inc; rep from * around (11)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: *sc 2, inc; rep from * around (8)\n",
	Start:  fromProblems(fabric.RepeatDoesNotFit),
})
