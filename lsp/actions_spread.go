package lsp

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// spread offers to space the increases or decreases of a round: as many as lead
// from the edge below to the total, or as the words make. They are spaced evenly
// from the start, or so that they stand as far as can be from those of the last
// round that has any. Where they stand so already there is nothing to offer, and
// neither in a round of several stitches, which would come out as another fabric.
func (o *offered) spread() []action {
	p := o.Pattern()
	piece, r := p.RoundAt(o.first)
	if r == nil || r.Node.Broken || r.In == nil || r.In.Unknown || r.Start || r.Node.To.N > r.Node.From.N || !stitchesOnly(r.In) || len(r.Spaces) > 0 {
		return nil
	}
	below := r.In.Stitches()
	above, stated := p.StatedStitches(r.Node.Total)
	if !stated {
		if !r.Known {
			return nil
		}
		above = r.Makes
	}
	span, ok := workedSpan(p, piece, r)
	s, one := spacingOf(p, piece, r)
	if !ok || !one {
		return nil
	}
	s.below, s.above = below, above
	n, _, _, _ := s.shapings()
	if n == 1 && comesOut(r) && r.Makes == above {
		return nil // one by itself stands where the designer wants it
	}
	what := manyOf(above-below, "increase")
	if above < below {
		what = manyOf(below-above, "decrease")
	}
	begun := lead{stands: r.Stands.Counted}
	offer := func(first int64, how string) []action {
		words := begun.instead(s.words(first), s.main)
		if words == "" || s.isSpaced(p, piece, r, first) {
			return nil
		}
		return o.rewrite(piece, r, span, words, "Space "+what+" "+how+": "+words)
	}
	out := offer(0, "evenly")
	if begun.stands || n == 1 {
		return out
	}
	before, from := shapedBelow(p, piece, r)
	if first := s.apartFrom(before); first > 0 {
		how := "evenly, begun with half a gap"
		if from != nil {
			how = "evenly, staggered from " + from.Name()
		}
		out = append(out, offer(first, how)...)
	}
	return out
}

func manyOf(n int64, what string) string { return count(n, what, what+"s") }

// stitchesOnly says whether an edge is stitches and nothing else.
func stitchesOnly(e *fabric.Edge) bool {
	for _, i := range e.Items {
		if i.Kind != fabric.Stitches {
			return false
		}
	}
	return true
}

// mainStitch is what a piece is worked in, in the pattern's terms.
func mainStitch(p *fabric.Pattern, piece *fabric.Piece) string {
	if piece != nil && piece.Main != nil {
		return piece.Main.Name
	}
	if p.Header.System.String() == "UK" {
		return "dc"
	}
	return "sc"
}

// workedSpan are the steps of a round between the chain that begins it and what
// ends it, which takes and makes nothing: a join, however it is worded. False
// where the chain leaves a space too, or steps do more than work.
func workedSpan(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) (grammar.Span, bool) {
	steps := r.Node.Steps
	first, last := 0, len(steps)-1
	if r.Stands.Skipped || r.Stands.Space > 0 {
		return grammar.Span{}, false
	}
	for first <= last && (steps[first].Kind == grammar.StepTurn || steps[first].Kind == grammar.StepYarn || begins(r, &steps[first])) {
		first++
	}
	by := explainedSteps(p, piece, r)
	for first <= last {
		s := &steps[last]
		x, worked := by[s]
		if (s.Kind == grammar.StepWork || s.Kind == grammar.StepBracket || s.Kind == grammar.StepStar) && (!worked || x.Takes > 0 || x.Makes > 0) {
			break
		}
		last--
	}
	if first > last {
		return grammar.Span{}, false
	}
	if !onlyWork(steps[first : last+1]) {
		return grammar.Span{}, false
	}
	return steps[first].Span.To(steps[last].Span), true
}

// begins says whether a step is the chain, or a part of it, that a round begins with.
func begins(r *fabric.Round, s *grammar.Step) bool {
	return r.Stands.Present && r.Stands.Span.Start <= s.Span.Start && s.Span.Start < r.Stands.Span.End
}

// spacingOf is the stitch that a round is worked in, with the words for its
// increases and decreases, as the piece says them. False where the round has
// several stitches.
func spacingOf(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) (spacing, bool) {
	s := spacing{main: mainStitch(p, piece)}
	if len(r.Stitches) == 0 {
		return s, !r.Known
	}
	st := r.Stitches[0].Stitch
	if len(r.Stitches) > 1 || st == nil || st.Own {
		return s, false
	}
	if st.Name != s.main {
		s.main, s.inc, s.dec = st.Name, st.Name+" inc", st.Name+"2tog"
	}
	found := false
	for i := len(piece.Rounds) - 1; i >= 0; i-- {
		x := piece.Rounds[i]
		found = found || x == r
		if !found || x.Off < r.Off-mostBelow {
			continue
		}
		if len(x.Stitches) == 1 && x.Stitches[0].Stitch != nil && x.Stitches[0].Stitch.Of == st.Of {
			if dec := decreaseIn(x.Node.Steps, explainedSteps(p, piece, x)); dec != "" {
				s.dec = dec
				break
			}
		}
	}
	return s, true
}

// decreaseIn is the word for a decrease that steps have; empty without one.
func decreaseIn(steps []grammar.Step, by map[*grammar.Step]fabric.StepResult) string {
	for i := range steps {
		s := &steps[i]
		if s.Group != nil {
			if dec := decreaseIn(s.Group.Steps, by); dec != "" {
				return dec
			}
			continue
		}
		if x := by[s]; s.Kind == grammar.StepWork && !s.Tog && !s.Evenly && s.Stitch.Written() && x.Makes > 0 && x.Takes == 2*x.Makes {
			return strings.ToLower(strings.Join(strings.Fields(s.Stitch.Text), " "))
		}
	}
	return ""
}

// onlyWork says whether steps do nothing but work, both loops, into the round below.
func onlyWork(steps []grammar.Step) bool {
	for i := range steps {
		s := &steps[i]
		if s.Kind != grammar.StepWork && s.Kind != grammar.StepBracket && s.Kind != grammar.StepStar || s.Loop != grammar.LoopUnsaid {
			return false
		}
		for k := range s.Places {
			if p := &s.Places[k]; p.Kind > grammar.PlaceNth || p.Of().Written() || p.Rnd().Written() || p.Below().N > 0 || p.Loop != grammar.LoopUnsaid {
				return false
			}
		}
		if s.Group != nil && !onlyWork(s.Group.Steps) {
			return false
		}
	}
	return true
}

// spacing is a round that leads from one number of stitches to another, in a
// main stitch, with its increases or decreases as far from each other as can be.
type spacing struct {
	below, above int64
	main         string
	// inc and dec are other words for an increase and a decrease than these.
	inc, dec string
}

// spaced writes a round as evenly as can be, or begun half a gap earlier.
func spaced(below, above int64, main string, staggered bool) string {
	s := spacing{below: below, above: above, main: main}
	if !staggered {
		return s.words(0)
	}
	if lead := s.apartFrom(nil); lead > 0 {
		return s.words(lead)
	}
	return ""
}

// shapings is how many increases or decreases there are, what each is called
// and takes, and how many plain stitches are between them in all.
func (s spacing) shapings() (n, takes, plain int64, shape string) {
	n, takes, shape = s.above-s.below, 1, cmp.Or(s.inc, "inc")
	if n < 0 {
		n, takes, shape = -n, 2, cmp.Or(s.dec, "dec")
	}
	return n, takes, s.below - n*takes, shape
}

// Bounds of what is written: mostShapings in a round, mostParts without a repeat.
const (
	mostShapings = 1000
	mostParts    = 12
)

// words writes the round; lead is how much later it begins than with a whole
// gap, up to the length of the first. Empty where there is nothing to space, no
// room, or too much to write.
func (s spacing) words(lead int64) string {
	n, _, plain, shape := s.shapings()
	if n == 0 || plain < 0 || n > mostShapings || lead > plain/n {
		return ""
	}
	// gaps of two lengths at most, the longer ones spread among the shorter
	rest := plain % n
	groups := n / gcd(n, rest)
	if groups > mostParts {
		return ""
	}
	var parts []string
	for i := range groups {
		parts = append(parts, gap(plain/n+bump(i, rest, n), s.main, shape))
	}
	unit := strings.Join(parts, ", ")
	if lead == 0 {
		return repeated(unit, n/groups)
	}
	if lead == plain/n && plain%n == 0 {
		return repeated(shape+", "+several(s.main, lead), n)
	}
	first := gap(plain/n+bump(0, rest, n)-lead, s.main, shape)
	if groups > 1 {
		first += ", " + strings.Join(parts[1:], ", ")
	}
	out := []string{first}
	if n > groups {
		out = append(out, repeated(unit, n/groups-1))
	}
	return strings.Join(append(out, several(s.main, lead)), ", ")
}

// isSpaced says whether a round has its increases or decreases where the words
// would put them. One that leaves that to the maker has not.
func (s spacing) isSpaced(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round, lead int64) bool {
	now := shapingsOf(p, piece, r)
	n, _, plain, _ := s.shapings()
	if int64(len(now)) != n || saysEvenly(r.Node.Steps) {
		return false
	}
	made := -lead
	for i, at := range now {
		made += plain/n + bump(int64(i), plain%n, n)
		makes := int64(1)
		if s.above > s.below {
			makes = 2
		}
		if math.Abs(at*float64(s.above)-float64(made)-float64(makes)/2) > 1e-6 {
			return false
		}
		made += makes
	}
	return true
}

// saysEvenly says whether some step is spread over the round in words alone.
func saysEvenly(steps []grammar.Step) bool {
	return slices.ContainsFunc(steps, func(s grammar.Step) bool { return s.Evenly })
}

// apartFrom is how much earlier a round has to begin for its shapings to stand
// the farthest from those of a round below; these are given as shares of that
// round's length. Without any it is half a gap. 0 means as it is.
func (s spacing) apartFrom(before []float64) int64 {
	n, takes, plain, _ := s.shapings()
	if n == 0 || plain < n || s.below == 0 || n > mostShapings {
		return 0
	}
	if len(before) == 0 {
		return plain / n / 2
	}
	best, lead := -1.0, int64(0)
	for try := range plain/n + 1 {
		nearest, at := 1.0, -try
		for i := range n {
			at += plain/n + bump(i, plain%n, n)
			nearest = min(nearest, nearestTo((float64(at)+float64(takes)/2)/float64(s.below), before))
			at += takes
		}
		if nearest > best+1e-9 {
			best, lead = nearest, try
		}
	}
	return lead
}

// nearestTo is how far the nearest of some places, which rise, is from another,
// around a circle of length 1.
func nearestTo(x float64, places []float64) float64 {
	i, _ := slices.BinarySearch(places, x)
	after, before := places[i%len(places)], places[(i+len(places)-1)%len(places)]
	apart := func(y float64) float64 {
		d := math.Abs(x - y)
		return min(d, 1-d)
	}
	return min(apart(after), apart(before))
}

// bump is 1 where the i-th of n gaps is one of the longer ones.
func bump(i, longer, n int64) int64 { return (i+1)*longer/n - i*longer/n }

func gap(plain int64, main, shape string) string {
	if plain == 0 {
		return shape
	}
	return several(main, plain) + ", " + shape
}

func several(stitch string, n int64) string {
	if n == 1 {
		return stitch
	}
	return stitch + " " + strconv.FormatInt(n, 10)
}

// again is a step that is worked several times, in the words that a pattern
// would use: "sc2tog 6" reads as two numbers.
func again(stitch string, n int64) string {
	if strings.HasSuffix(stitch, "tog") && n > 1 {
		return stitch + " x " + strconv.FormatInt(n, 10)
	}
	return several(stitch, n)
}

func repeated(words string, times int64) string {
	switch {
	case times == 1:
		return words
	case !strings.Contains(words, ","):
		return again(words, times)
	}
	return "(" + words + ") x " + strconv.FormatInt(times, 10)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
