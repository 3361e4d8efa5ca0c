package lint

import (
	"fmt"
	"math"
	"strconv"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "yarn-short",
	Severity: Warning,
	Summary:  "Less yarn is listed than the pattern is reckoned to take",
	Why: "A maker who runs out in the last part cannot always get the same dye lot again. The reckoning counts every stitch and chain, and adds a tenth for tails and seams; " +
		"makers differ by some 15 in the hundred, so only a list below the least of that is reported. `uses 9.5 m` on the Gauge line makes it more exact.",
	Repair: "The number of balls that is enough, where the line gives one.",
	Bad:    "Piece: Bag\nWorked: in a spiral\nRnd 1: ch 96, join with sl st to form ring, sc in each ch around (96)\nRnds 2-80: sc around (96)\n",
	Good:   "Piece: Bag\nWorked: in a spiral\nRnd 1: ch 48, join with sl st to form ring, sc in each ch around (48)\nRnds 2-40: sc around (48)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.yarnShort, Reads: readsRounds}
	},
})

func (p *Pass) yarnShort() {
	f := p.facts()
	if len(f.yarns) == 0 || len(f.gauges) == 0 {
		return
	}
	at := map[*grammar.Yarn]int{}
	for _, y := range f.yarns {
		at[y.node] = y.at
	}
	for _, u := range fabric.YarnInAll(p.Pattern) {
		listed, ok := u.Listed()
		if !ok || u.Shared || listed >= u.Low {
			continue
		}
		span := u.Yarn.Metres.Span
		if u.Yarn.Balls.Written() {
			span = u.Yarn.Balls.Span
		}
		x := p.Report(at[u.Yarn], span, sayYarnShort(u, listed))
		if b := u.Yarn.Balls; b.Written() && b.N > 0 {
			n := int64(math.Ceil(u.High / (listed / float64(b.N))))
			x.Fixes = append(x.Fixes, fix(sayBalls(n), false, p.edit(at[u.Yarn], b.Span, strconv.FormatInt(n, 10))))
		}
	}
}

func sayYarnShort(u fabric.YarnUse, listed float64) string {
	return fmt.Sprintf("the pattern takes about %s m of yarn %s (%s to %s), and %s m are listed", number(math.Round(u.Mean)), u.Key, number(math.Round(u.Low)), number(math.Round(u.High)), number(math.Round(listed)))
}

func sayBalls(n int64) string { return "list " + Number(int(n), "ball", "balls") }
