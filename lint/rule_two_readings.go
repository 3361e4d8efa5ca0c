package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.TwoReadings),
	Severity: Warning,
	Summary:  "A wording that makers read in two ways",
	Why: "Printed patterns use the same words for different things: \"repeat 5 times\" is five or six in all, \"2 sc in next 3 sts\" is six stitches or two, a chain at the start " +
		"is a stitch or is not. Half the makers read it the other way, and their count is off from there on.",
	Repair: "The first reading, said plainly. It is not applied by `--fix`, since only you know which of the two was meant.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in next 6 sts (12)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each of next 6 sts (12)\n",
	Start:  fromProblems(fabric.TwoReadings),
})
