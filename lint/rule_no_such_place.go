package lint

import "workeven/fabric"

var _ = declare(Rule{
	Name:     string(fabric.NoSuchPlace),
	Severity: Error,
	Summary:  "A stitch is worked into a space, loop, round, stitch or part that is not there",
	Why: "A maker looks for the space or the free loops and cannot find them: the round below made others, used them up, or was worked through both loops. " +
		"All that follows hangs in the air.",
	Repair: "The place that is there instead, where the part comes out with it.",
	Bad: "Piece: Motif\nWorked: in joined rounds\nRnd 1: ch 4, join with sl st to form ring; ch 3 (counts as dc), 11 dc in ring, join (12)\n" +
		"Rnd 2: ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 12 ch-1 sps)\nRnd 3: ch 1, 2 sc in each ch-2 sp around, join (24)\n",
	Good: "Piece: Motif\nWorked: in joined rounds\nRnd 1: ch 4, join with sl st to form ring; ch 3 (counts as dc), 11 dc in ring, join (12)\n" +
		"Rnd 2: ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 12 ch-1 sps)\nRnd 3: ch 1, 2 sc in each ch-1 sp around, join (24)\n",
	Start: fromProblems(fabric.NoSuchPlace),
})
