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

// What a round may take up of the circumference that its distance from the
// start gives. A flat circle has 1; published starts of 6 or 7 sc come to 1.07
// and 1.25, 12 dc to 1.19, and 8 sc, which makers say ruffles, to 1.43.
const (
	ruffles = 1.3
	cups    = 0.7
	// tallFrom is the height of a stitch from which cupping is told: in sc cones
	// and balls are what toys are made of.
	tallFrom = 1.2
	// stackedFrom is the round of increases in a line from which corners show: from memory.
	stackedFrom = 7
)

// shape follows the circumference of a part in the round. Lengths are in
// stitch widths.
type shape struct {
	*Pass
	// radius is the distance from the start along the fabric, around what the
	// start itself measures.
	radius, around float64
	rounds         int64
	// growing is set as long as every round increases.
	growing             bool
	ruffled, cupped     bool
	before              stack
	stacked             int
	toldStack, unknown  bool
	wide, lastWide      float64
	lastTall, firstMake int64
}

// stack is a round of the kind (sc 2, inc) x 6.
type stack struct {
	plain, times int64
	// lead is set where the increase stands first in the repeat.
	lead bool
	ok   bool
}

func (s *shape) piece(*fabric.Piece) { *s = shape{Pass: s.Pass, growing: true} }

func (s *shape) round(piece *fabric.Piece, r *fabric.Round) {
	if s.unknown || r.Node.Row || !r.Known || r.Out == nil || piece.Mode == grammar.ModeRows {
		s.unknown = true
		return
	}
	long, tall := edgeLength(r.Out), s.tallOf(r)
	if tall == 0 || long == 0 {
		return
	}
	at := lineOf(piece, r)
	if s.rounds == 0 {
		s.around = startAround(r, long)
	}
	s.growing = s.growing && (s.rounds == 0 || long > s.wide)
	last := s.wide
	s.wide = long
	s.rounds += r.RoundsWorked
	s.radius += tall * float64(r.RoundsWorked)
	flat := s.around + 2*math.Pi*s.radius
	switch {
	case !s.ruffled && s.rounds >= 3 && long > ruffles*flat:
		s.ruffled = true
		s.Report(at, r.Node.Label, sayRuffles(r, long, flat))
	case s.ruffled:
	case last > 0 && long > 2*last && r.RoundsWorked == 1 && !r.Start:
		s.Report(at, r.Node.Label, sayMoreThanDoubles(r, last, long))
	case !s.cupped && s.growing && s.rounds >= 3 && tall >= tallFrom && s.around == 0 && long < cups*flat:
		s.cupped = true
		s.Report(at, r.Node.Label, sayCups(r, tall))
	}
	s.stack(at, r)
}

// tallOf is how tall the stitches of a round are, as a multiple of their width.
func (s *shape) tallOf(r *fabric.Round) float64 {
	sum, n := 0.0, 0.0
	for _, c := range r.Stitches {
		t := s.facts().tall(c.Stitch)
		if t == 0 && c.Stitch.Of != nil {
			if base := terms.ByID(c.Stitch.Of.Base); base != nil {
				t = base.Tall
			}
		}
		if t > 0 {
			sum, n = sum+t*float64(c.N), n+float64(c.N)
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

// edgeLength is how long an edge lies, in stitch widths: a chain is as long as
// a stitch is wide.
func edgeLength(e *fabric.Edge) float64 {
	n := 0.0
	for _, i := range e.Items {
		switch i.Kind {
		case fabric.Space:
			n += float64(i.N) * float64(i.Chains)
		default:
			n += float64(i.N)
		}
	}
	return n
}

// startAround is what the start of a part measures around: nothing for a ring
// that is drawn up, the chain for a ring of chains, all of the first round
// where it is worked along a longer chain.
func startAround(r *fabric.Round, long float64) float64 {
	if bothSides(r.Node.Steps) {
		return long
	}
	chains := 0.0
	if len(r.Node.Steps) > 0 {
		if s := &r.Node.Steps[0]; s.Kind == grammar.StepWork && s.Stitch.Known(terms.US) == terms.ByID("ch") {
			chains = float64(s.Count.N)
		}
	}
	switch {
	case chains > 8:
		return long
	case chains > 3:
		return chains
	case chains == 0 && long > 20:
		return long // foundation stitches, or another part's edge
	}
	return 0
}

// stack follows increases that stand one above another.
func (s *shape) stack(at int, r *fabric.Round) {
	now := stackOf(s.Pattern, r)
	if now.ok && s.before.ok && now.times == s.before.times && now.plain == s.before.plain+1 && (now.lead == s.before.lead || s.before.plain == 0) {
		s.stacked++
	} else {
		s.stacked = 1
	}
	s.before = now
	if now.ok && s.stacked == stackedFrom && !s.toldStack {
		s.toldStack = true
		s.Report(at, r.Node.Label, sayStacked(now.times))
	}
}

// stackOf reads a round that is one repeat of plain stitches and an increase.
func stackOf(p *fabric.Pattern, r *fabric.Round) stack {
	if r.RoundsWorked != 1 {
		return stack{}
	}
	var group *grammar.Step
	for i := range r.Node.Steps {
		switch st := &r.Node.Steps[i]; st.Kind {
		case grammar.StepBracket, grammar.StepStar:
			if group != nil || len(st.Places) > 0 {
				return stack{}
			}
			group = st
		case grammar.StepWork:
			if i > 0 || len(r.Node.Steps) > 1 {
				return stack{}
			}
			if increases(p, st) {
				return stack{times: r.Takes, ok: r.Takes > 0}
			}
			return stack{}
		case grammar.StepJoin, grammar.StepMarker:
		default:
			return stack{}
		}
	}
	if group == nil || len(group.Group.Steps) != 2 {
		return stack{}
	}
	a, b := &group.Group.Steps[0], &group.Group.Steps[1]
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

func sayRuffles(r *fabric.Round, long, flat float64) string {
	return fmt.Sprintf("%s will ruffle: it has %s where about %s would lie flat", r.Name(), stitches(int64(long)), number(math.Round(flat)))
}

func sayCups(r *fabric.Round, tall float64) string {
	return fmt.Sprintf("%s will stand up as a bowl: in stitches as tall as these a flat circle takes about %s more in each round", r.Name(), number(math.Round(2*math.Pi*tall)))
}

func sayMoreThanDoubles(r *fabric.Round, last, long float64) string {
	return fmt.Sprintf("%s is more than twice as long as the round below (%s to %s): it will ruffle", r.Name(), number(last), number(long))
}

func sayStacked(n int64) string {
	return fmt.Sprintf("the increases stand one above another for %d rounds: the circle becomes a shape with %s; shift them by half a repeat in every other round", stackedFrom, many(n, "corner", "corners"))
}
