package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.TotalPartDiffers),
	Severity: Error,
	Summary:  "One part of a total that is broken down is not what the words make",
	Why: "A total such as (12 dc, 12 ch-1 sps) lets a maker check stitches and spaces apart. A wrong part sends her looking for a space that was never there, " +
		"although the stitches are all right.",
	Repair: "The number that the words make, or another count in the words, where the rest of the part comes out with it.",
	Bad: "Piece: Motif\nWorked: in joined rounds\nRnd 1: ch 4, join with sl st to form ring; ch 3 (counts as dc), 11 dc in ring, join (12)\n" +
		"Rnd 2: ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 11 ch-1 sps)\n",
	Good: "Piece: Motif\nWorked: in joined rounds\nRnd 1: ch 4, join with sl st to form ring; ch 3 (counts as dc), 11 dc in ring, join (12)\n" +
		"Rnd 2: ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 12 ch-1 sps)\n",
	Start: fromProblems(fabric.TotalPartDiffers),
})
