package lint

import (
	"fmt"
	"math"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "shape",
	Severity: Information,
	Summary:  "A round that must ruffle or cup, increases stacked in a line, or a round that more than doubles",
	Why: "A round lies flat when it grows by what its stitches' height lets it: about 6 single crochet or 12 double crochet a round. Much more and the edge ruffles, much less in tall stitches and it " +
		"stands up as a bowl. Increases that stand one above another for many rounds turn a circle into a hexagon. All of that may be meant; then say so with `// allow: shape`.",
	Bad:  "Piece: Motif\nRnd 1: 9 sc in magic ring (9)\nRnd 2: inc x 9 (18)\nRnd 3: (sc, inc) x 9 (27)\nRnd 4: (sc 2, inc) x 9 (36)\n",
	Good: "Piece: Motif\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n",
	Start: func(p *Pass) Visits {
		s := &shape{Pass: p}
		return Visits{Piece: s.piece, Round: s.round}
	},
})

// Growth over what lies flat. Published starts of 6 or 7 sc come to about 1.07
// and 1.25, 12 dc to 1.19, and 8 sc, which makers say ruffles, to 1.43. A neck
// that widens to a head grows faster for a round or two, and is no ruffle.
const (
	ruffles     = 1.3
	ruffledFrom = 3
	cups        = 0.7
	cuppedFrom  = 3
	// tallStitch is the height from which cupping is told, tallRoom how much a
	// round of such stitches has to grow: in sc, cones and balls are what toys are
	// made of.
	tallStitch = 1.2
	tallRoom   = 2 * math.Pi * tallStitch
	// stackedFrom is the round of increases in a line from which corners show: from memory.
	stackedFrom = 7
)

// shape looks at each part as a surface, and at its increases round by round.
type shape struct {
	*Pass
	before    stack
	stacked   int
	lowest    *fabric.Round // the first of those stacked
	toldStack bool
	// gauge says whether nothing can be reckoned from the gauge; nil where it was
	// not looked at yet.
	gauge *bool
}

func (s *shape) piece(piece *fabric.Piece) {
	*s = shape{Pass: s.Pass, gauge: s.gauge}
	if !s.mayCurve(piece) {
		return
	}
	if s.gauge == nil {
		unlikely := s.gaugeMisshapen()
		s.gauge = &unlikely
	}
	if *s.gauge {
		return
	}
	curves := fabric.Curvatures(s.Pattern, piece)
	grows, ruffled := 0, false
	for i, c := range curves {
		ruffled = ruffled || c.Curve == fabric.Ruffles
		if c.Curve == fabric.Cups && grows == i && c.Growth > 0 && c.Ratio < cups && c.Room >= tallRoom && c.Round.RoundsWorked == 1 && !unsure(piece, c.Round) {
			if grows++; grows == cuppedFrom {
				s.below(piece, c.Round, s.Report(lineOf(piece, c.Round), c.Round.Node.Label, sayCups(c)))
			}
		}
	}
	if !ruffled {
		return
	}
	for _, r := range fabric.Ruffled(s.Pattern, piece) {
		switch {
		case unsure(piece, r.From):
		case r.Rounds >= ruffledFrom && r.Worst >= ruffles:
			x := s.Report(lineOf(piece, r.From), r.From.Node.Label, sayRuffles(r))
			if r.To != r.From {
				x.Related = append(x.Related, s.related(lineOf(piece, r.To), r.To.Node.Label, sayLastOfThem()))
			}
		case r.Doubles:
			s.below(piece, r.From, s.Report(lineOf(piece, r.From), r.From.Node.Label, sayMoreThanDoubles(r.From)))
		}
	}
}

// unsure says whether a round or the one below it is a slip, so that how it
// grows is not known.
func unsure(piece *fabric.Piece, r *fabric.Round) bool {
	below, _ := neighborsOf(piece, r)
	return slips(r) || below != nil && slips(below)
}

// below leads from a finding to the round below the one it is on.
func (s *shape) below(piece *fabric.Piece, r *fabric.Round, x *Finding) {
	if below, _ := neighborsOf(piece, r); below != nil {
		x.Related = append(x.Related, s.related(lineOf(piece, below), below.Node.Label, sayBelow(below)))
	}
}

// mayCurve says whether any round of a part could ruffle or cup so that it is
// worth a note, at a glance: most parts grow as flat circles do, or not at all.
func (s *shape) mayCurve(piece *fabric.Piece) bool {
	if piece.Main == nil || piece.Main.Of == nil || len(piece.Rounds) == 0 {
		return false
	}
	tall := piece.Main.Of.Tall
	if g, ok := s.Pattern.StitchGauge(piece); ok && !g.Half {
		tall = g.Height / g.Width
	}
	if tall >= tallStitch {
		return true
	}
	const slack = 0.8 // for rounds of shorter stitches than the part's own
	room, below := slack*ruffles*2*math.Pi*tall, int64(0)
	for i, r := range piece.Rounds {
		if r.Meant == nil || r.Meant.Unknown {
			continue
		}
		now := r.Meant.Stitches()
		if i > 0 && float64(now-below) > room {
			return true
		}
		below = now
	}
	return false
}

// stack is a round of the kind (sc 2, inc) x 6.
type stack struct {
	plain, times int64
	// lead is set where the increase stands first in the repeat.
	lead bool
	ok   bool
}

// round follows increases that stand one above another.
func (s *shape) round(piece *fabric.Piece, r *fabric.Round) {
	now := stack{}
	if !r.Node.Row && r.Known && r.RoundsWorked == 1 {
		now = stackOf(s.Pattern, r)
	}
	if now.ok && s.before.ok && now.times == s.before.times && now.plain == s.before.plain+1 && (now.lead == s.before.lead || s.before.plain == 0) {
		s.stacked++
	} else {
		s.stacked, s.lowest = 1, r
	}
	s.before = now
	if now.ok && s.stacked == stackedFrom && !s.toldStack {
		s.toldStack = true
		x := s.Report(lineOf(piece, r), r.Node.Label, sayStacked(now.times))
		x.Related = append(x.Related, s.related(lineOf(piece, s.lowest), s.lowest.Node.Label, sayFirstOfThem()))
	}
}

// stackOf reads a round that is one repeat of plain stitches and an increase.
func stackOf(p *fabric.Pattern, r *fabric.Round) stack {
	var only *grammar.Step
	for i := range r.Node.Steps {
		switch st := &r.Node.Steps[i]; st.Kind {
		case grammar.StepJoin, grammar.StepMarker:
		default:
			if only != nil {
				return stack{}
			}
			only = st
		}
	}
	switch {
	case only == nil || len(only.Places) > 0 && only.Group != nil:
		return stack{}
	case only.Group == nil:
		return stack{times: r.Takes, ok: increases(p, only) && r.Takes > 0}
	case len(only.Group.Steps) != 2:
		return stack{}
	}
	a, b := &only.Group.Steps[0], &only.Group.Steps[1]
	lead := increases(p, a)
	if lead {
		a, b = b, a
	}
	if !increases(p, b) || b.Count.N > 2 || a.Kind != grammar.StepWork || increases(p, a) {
		return stack{}
	}
	plain := int64(a.Count.N)
	for i := range a.Places {
		plain = max(plain, int64(a.Places[i].Count.N))
	}
	if plain <= 0 || r.Takes%(plain+1) != 0 {
		return stack{}
	}
	return stack{plain: plain, times: r.Takes / (plain + 1), lead: lead, ok: true}
}

// increases says whether a step works two stitches into each one below: inc,
// or 2 sc in next st.
func increases(p *fabric.Pattern, s *grammar.Step) bool {
	if s.Kind != grammar.StepWork {
		return false
	}
	st := p.Find(s.Stitch)
	if st == nil || st.Of == nil {
		return false
	}
	if st.Of.Kind == terms.Increase {
		return true
	}
	return st.Of.Kind == terms.Plain && s.Count.N == 2 && len(s.Places) == 1 && (s.Places[0].Count.N <= 1 || s.Places[0].Kind == grammar.PlaceEach)
}

func sayRuffles(r fabric.Ruffle) string {
	return fmt.Sprintf("from %s on the edge will ruffle: %d rounds grow by up to %s times what lies flat", r.From.Name(), r.Rounds, number(math.Round(10*r.Worst)/10))
}

func sayCups(c fabric.Curvature) string {
	return fmt.Sprintf("%s will stand up as a bowl: it has %s more than the round below, where in stitches of that height about %s more lie flat", c.Round.Name(), number(math.Round(c.Growth)), number(math.Round(c.Room)))
}

func sayMoreThanDoubles(r *fabric.Round) string {
	return r.Name() + " is more than twice as long as the round below, so it will ruffle"
}

func sayLastOfThem() string { return "the last of them" }

func sayFirstOfThem() string { return "the first of them" }

func sayStacked(n int64) string {
	return fmt.Sprintf("the increases stand one above another for %d rounds: the circle becomes a shape with %s; shift them by half a repeat in every other round", stackedFrom, Number(int(n), "corner", "corners"))
}
