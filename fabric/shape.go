package fabric

import (
	"math"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Curve is what a round does to the surface, by how much longer it is than the
// round below.
type Curve uint8

// Curves. What cannot be judged is Unjudged: lace, whose arches give way, a
// first row, and rounds of which the stitches are not known.
const (
	Unjudged Curve = iota
	Tube           // as long as the round below
	Cups           // too short to lie flat, or shorter than the round below
	Flat
	Ruffles // longer than lies flat
)

// Curvature is the verdict on one statement of rounds, or on one round.
type Curvature struct {
	Round *Round
	Curve Curve
	// Ratio is Growth over Room.
	Ratio float64
	// Growth is how much longer a round is than the one below, in stitch
	// widths; Room how much longer it has to be to lie flat: 2π times the height
	// of its stitches, or for a square and the like, as much as its corners ask.
	Growth, Room float64
}

// Bounds of what still lies flat, as parts of the room. They are the rule of
// thumb of 0.8 and 1.2 for a gauge that was measured. By the glossary's
// proportions alone they are wider by as much as published gauges differ from
// their mean: sc 0.833 to 1 high, mean 0.89 (yarn makers' leaflets).
const (
	flatFrom, flatTo = 0.8, 1.2
	ratioFrom        = 0.833 / 0.89
	ratioTo          = 1 / 0.89
	// tubeTo is how little growth still makes a tube.
	tubeTo = 0.1
)

func (g StitchGauge) flat() (from, to float64) {
	if g.Gauge == nil {
		return flatFrom * ratioFrom, flatTo * ratioTo
	}
	return flatFrom, flatTo
}

// Verdict says what a statement of rounds does to the surface, and its growth
// over the room there is; for a range, on the mean of its rounds.
func Verdict(p *Pattern, piece *Piece, r *Round) (Curve, float64) {
	for _, c := range Curvatures(p, piece) {
		if c.Round == r {
			return c.Curve, c.Ratio
		}
	}
	return Unjudged, 0
}

// Curvatures gives the verdict on each statement of a piece, in order.
func Curvatures(p *Pattern, piece *Piece) []Curvature {
	g := p.gaugeOrProportions(piece)
	var out []curvedCourse
	for _, c := range curved(piece, g) {
		n := len(out)
		if n == 0 || out[n-1].Round != c.Round {
			out = append(out, c)
			out[n].Room *= float64(c.times)
			continue
		}
		last := &out[n-1]
		last.Growth += c.Growth
		last.Room += c.Room * float64(c.times)
		if c.Curve == Unjudged {
			last.Curve = Unjudged
		}
	}
	verdicts := make([]Curvature, len(out))
	for i := range out {
		out[i].judge(g)
		verdicts[i] = out[i].Curvature
	}
	return verdicts
}

func (c *curvedCourse) judge(g StitchGauge) {
	from, to := g.flat()
	c.Ratio = 0
	if c.Room > 0 {
		c.Ratio = c.Growth / c.Room
	}
	switch {
	case c.Curve == Unjudged:
	case c.Ratio > to:
		c.Curve = Ruffles
	case c.rows, c.Ratio >= from:
		c.Curve = Flat
	case math.Abs(c.Ratio) <= tubeTo:
		c.Curve = Tube
	default:
		c.Curve = Cups
	}
}

// Ruffle is a stretch of rounds that must ruffle. A hyperbolic surface is made
// so on purpose.
type Ruffle struct {
	From, To *Round
	// Rounds is how many rounds the stretch has.
	Rounds int64
	// Worst is its greatest growth over the room there is.
	Worst float64
	// Doubles is set where a round more than doubles the one below.
	Doubles bool
	// Radius is that of the hyperbolic plane with the stretch's mean growth, in
	// millimetres; 0 without a gauge.
	Radius float64
}

// Ruffled finds what is worth a note: two rounds or more on end with more
// growth than lies flat, or a round that more than doubles.
func Ruffled(p *Pattern, piece *Piece) []Ruffle {
	g := p.gaugeOrProportions(piece)
	var out []Ruffle
	var run []curvedCourse
	end := func() {
		if r, ok := ruffleOf(run, g); ok {
			out = append(out, r)
		}
		run = run[:0]
	}
	for _, c := range curved(piece, g) {
		c.judge(g)
		if c.Curve != Ruffles {
			end()
			continue
		}
		run = append(run, c)
		if c.times > 1 { // those alike do not grow any more
			end()
		}
	}
	end()
	return out
}

func ruffleOf(run []curvedCourse, g StitchGauge) (Ruffle, bool) {
	if len(run) == 0 {
		return Ruffle{}, false
	}
	last := run[len(run)-1]
	r := Ruffle{From: run[0].Round, To: last.Round, Rounds: int64(len(run))}
	tall := 0.0
	for _, c := range run {
		r.Worst = max(r.Worst, c.Ratio)
		r.Doubles = r.Doubles || c.below > 0 && c.wide > 2*c.below
		tall += c.course.height(g)
	}
	if first := run[0].below; g.Gauge != nil && first > 0 && last.wide > first {
		mean := math.Log(last.wide/first) / float64(len(run))
		r.Radius = tall / float64(len(run)) / mean
	}
	return r, len(run) >= 2 || r.Doubles
}

// HyperbolicRadius is the radius of the hyperbolic plane that comes of one
// increase every so many stitches, in the unit of the height of a row: each row
// is (every + 1) / every times as long as the one below. 0 for what makes none.
func HyperbolicRadius(every, rowHeight float64) float64 {
	if !(every > 0) || !(rowHeight > 0) || math.IsInf(every, 1) || math.IsInf(rowHeight, 1) {
		return 0
	}
	return rowHeight / math.Log1p(1/every)
}

func (p *Pattern) gaugeOrProportions(piece *Piece) StitchGauge {
	if g, ok := p.StitchGauge(piece); ok {
		return g
	}
	return p.proportions(piece)
}

// curvedCourse is a course with its growth over the course below.
type curvedCourse struct {
	course
	Curvature
	// below is how long the course below is, in stitch widths; 0 for a beginning.
	below float64
}

func curved(piece *Piece, g StitchGauge) []curvedCourse {
	var out []curvedCourse
	for _, part := range sections(g.by.courses(piece)) {
		below, lacy, known := g.beginning(part).around(), false, !part.rows
		for i, c := range part.courses {
			x := curvedCourse{course: c, Curvature: Curvature{Round: c.round, Curve: Flat}}
			if i > 0 && !part.courses[i-1].chain {
				x.below = below
			}
			x.Growth = c.wide - below
			x.Room = g.room(c, x.Growth)
			if c.unsure || c.lacy || lacy || c.chain || !known || x.Room <= 0 {
				x.Curve = Unjudged
			}
			if c.times > 1 {
				first, rest := x, x
				first.times, rest.times = 1, c.times-1
				rest.Growth, rest.below = 0, c.wide
				out = append(out, first, rest)
			} else {
				out = append(out, x)
			}
			below, lacy, known = c.wide, c.lacy, !c.unsure
		}
	}
	return out
}

// room is how much longer than the round below a round has to be to lie flat,
// in stitch widths. Corners count only where it grows.
func (g StitchGauge) room(c course, growth float64) float64 {
	high := c.height(g) / g.Width
	if growth > 0 {
		if corners := g.by.corners(c); corners >= 3 && corners <= 8 {
			return 2 * float64(corners) * math.Tan(math.Pi/float64(corners)) * high
		}
	}
	return 2 * math.Pi * high
}

// beginning is what the first round of a section is worked into, in stitch widths.
type beginning struct {
	// inner is the radius of the opening; straight the length of each side of a
	// chain that is worked round.
	inner, straight float64
	// chains are the courses that are a foundation chain only.
	chains int
}

// around is how long the edge is that the first round is worked into.
func (b beginning) around() float64 { return 2*math.Pi*b.inner + 2*b.straight }

// closedChain is the longest chain whose ring the first round draws shut.
const closedChain = 6

func (g StitchGauge) beginning(part section) beginning {
	b := beginning{}
	for b.chains < len(part.courses)-1 && part.courses[b.chains].chain {
		b.chains++
	}
	first := part.courses[b.chains]
	var seen startSteps
	for _, c := range part.courses[:b.chains+1] {
		seen.look(g.by, c.steps)
	}
	around := first.wide / (2 * math.Pi)
	chain := float64(seen.chain)
	switch {
	case seen.side:
		// the stitches over the first and the last chain go round the ends
		b.straight = min(max(chain-float64(seen.skipped)-2, 0), first.wide/2)
	case seen.magic:
	case seen.ring:
		b.inner = min(max(around-first.height(g)/g.Width, 0), chain/(2*math.Pi))
		if seen.chain <= closedChain {
			b.inner = 0
		}
	case seen.skipped > 0 && seen.chain <= closedChain:
	case first.round.Takes > 0:
		b.inner = float64(first.round.Takes) / (2 * math.Pi)
	case seen.chain > 0 && seen.skipped == 0 && !part.apart:
		b.inner = chain / (2 * math.Pi)
	default:
		b.inner = around
	}
	return b
}

// startSteps is what the steps of a first round say of how it begins.
type startSteps struct {
	// chain is the length of the foundation chain, skipped how much of it is
	// left out before the first stitch.
	chain, skipped int64
	// magic and ring are set for stitches worked into a ring, side for those
	// along the other side of the chain, worked once any stitch is.
	magic, ring, side, worked bool
}

func (s *startSteps) look(k *reckoner, steps []grammar.Step) {
	for i := range steps {
		step := &steps[i]
		s.side = s.side || step.Kind == grammar.StepOtherSide
		if step.Group != nil {
			s.look(k, step.Group.Steps)
		}
		if step.Kind == grammar.StepWork {
			s.stitch(k.book.find(step.Stitch), step)
		}
		for _, at := range step.Places {
			s.magic = s.magic || at.Kind == grammar.PlaceMagicRing
			s.ring = s.ring || at.Kind == grammar.PlaceRing
			s.side = s.side || at.Kind == grammar.PlaceOther
			if at.Kind == grammar.PlaceNth && at.FromHook && s.skipped == 0 {
				s.skipped = int64(at.Count.N) - 1
			}
		}
	}
}

func (s *startSteps) stitch(st *Stitch, step *grammar.Step) {
	if st == nil {
		return
	}
	switch st.kind() {
	case terms.Chain:
		if !s.worked && s.chain == 0 && len(step.Places) == 0 {
			s.chain = int64(step.Count.N)
		}
	case terms.Ring:
		s.magic = true
	case terms.Slip:
	default:
		s.worked = true
	}
}

// inTheRound measures a piece as a surface of revolution: a round of a length c
// has the radius c / 2π, as far as the height of its stitches lets it out or in,
// and what the height does not spend on that it rises.
func (s *Size) inTheRound(piece *Piece, sections []section) {
	stuffed, closed := filling(piece)
	first := true
	for _, part := range sections {
		if part.rows {
			continue
		}
		b := s.Gauge.beginning(part)
		o := outlineOf(part.courses, b, s.Gauge)
		s.Along = max(s.Along, o.arcs[len(o.arcs)-1])
		if o.flat && !stuffed {
			o.lieFlat()
		}
		if closed && first {
			o.step(0, o.levels[len(o.levels)-1].Radius)
		}
		if stuffed {
			o.roundOut()
		}
		straight := b.straight * s.Gauge.Width
		wide, high := o.extent()
		if first || high > s.Height {
			s.Profile, s.Straight = o.levels, straight
		}
		s.Height = max(s.Height, high)
		s.Diameter = max(s.Diameter, wide)
		s.Width = max(s.Width, wide+straight)
		for _, c := range part.courses {
			s.Around = max(s.Around, c.wide*s.Gauge.Width)
		}
		first = false
	}
	s.Stuffed = stuffed
	s.Disc = !stuffed && s.Height <= s.Width/10
}

// filling says whether a piece is stuffed, and whether its last round is drawn shut.
func filling(piece *Piece) (stuffed, closed bool) {
	for _, l := range piece.Lines {
		if a, ok := l.Node.(*grammar.Action); ok {
			stuffed = stuffed || a.Verb == grammar.VerbStuff
			closed = closed || a.Verb == grammar.VerbClose
		}
	}
	return stuffed, closed
}

// outline is the profile of a section, in millimetres; arcs are the lengths
// along the fabric from its beginning to each level.
type outline struct {
	levels []Level
	arcs   []float64
	// flat is set where the rounds are as long as those of a disc.
	flat bool
}

// levelsOfCourse is how many levels are drawn of rounds that are alike.
const levelsOfCourse = 32

func outlineOf(section []course, b beginning, g StitchGauge) outline {
	o := outline{levels: make([]Level, 1, len(section)+8), arcs: make([]float64, 1, len(section)+8), flat: true}
	o.levels[0].Radius = b.inner * g.Width
	from, _ := g.flat()
	part, below := 0.0, b.around()
	for i, c := range section[b.chains:] {
		if c.chain {
			continue
		}
		high := c.height(g)
		target := max(c.wide-2*b.straight, 0) * g.Width / (2 * math.Pi)
		o.step(target, high)
		rest := c.times - 1
		for k := min(rest, levelsOfCourse); k > 0; k-- {
			n := rest / k
			o.step(target, float64(n)*high)
			rest -= n
		}
		// a round that is short of a disc's is made up for by the next
		part = target / (o.levels[0].Radius + o.arcs[len(o.arcs)-1])
		o.flat = o.flat && c.wide >= below && (i == 0 || part >= from*from)
		below = c.wide
	}
	o.flat = o.flat && part >= from
	return o
}

// step adds a length of fabric towards a radius.
func (o *outline) step(target, slant float64) {
	last := o.levels[len(o.levels)-1]
	d := target - last.Radius
	if math.Abs(d) < slant {
		last.Radius = target
		last.Height += math.Sqrt(slant*slant - d*d)
	} else {
		last.Radius += math.Copysign(slant, d)
	}
	o.levels = append(o.levels, last)
	o.arcs = append(o.arcs, o.arcs[len(o.arcs)-1]+slant)
}

// lieFlat lays a disc down: its radius is the way along the fabric.
func (o *outline) lieFlat() {
	for i := range o.levels {
		o.levels[i] = Level{Radius: o.levels[0].Radius + o.arcs[i]}
	}
}

// extent is the greatest diameter and the height.
func (o *outline) extent() (wide, high float64) {
	for _, l := range o.levels {
		wide, high = max(wide, 2*l.Radius), max(high, l.Height)
	}
	return wide, high
}

// roundOut fills a piece: each stretch from a narrow place to a wide one bulges
// to a quarter of an ellipse as long as the fabric, or to a quarter circle with
// a tube beyond, where that is higher than the piece is by itself.
func (o *outline) roundOut() {
	turns := o.turns()
	out := make([]Level, len(o.levels))
	out[0] = o.levels[0]
	for t := 1; t < len(turns); t++ {
		i, j := turns[t-1], turns[t]
		base, from := out[i].Height, o.levels[i].Height
		long := o.arcs[j] - o.arcs[i]
		d := o.levels[j].Radius - o.levels[i].Radius
		b := bulge(long, math.Abs(d))
		if b <= o.levels[j].Height-from {
			for k := i + 1; k <= j; k++ {
				out[k] = Level{o.levels[k].Radius, base + o.levels[k].Height - from}
			}
			continue
		}
		narrow := min(o.levels[i].Radius, o.levels[j].Radius)
		q := quarter{long, math.Abs(d), b}
		for k := i + 1; k <= j; k++ {
			if s := o.arcs[k] - o.arcs[i]; d >= 0 {
				r, z := q.at(s)
				out[k] = Level{narrow + r, base + z}
			} else {
				r, z := q.at(long - s)
				out[k] = Level{narrow + r, base + b - z}
			}
		}
	}
	o.levels = out
}

// turns are the levels where the outline is narrowest or widest, in the middle
// of where it stays so, with both ends.
func (o *outline) turns() []int {
	out := []int{0}
	dir := 0.0
	plateau := 0
	for i := 1; i < len(o.levels); i++ {
		d := o.levels[i].Radius - o.levels[i-1].Radius
		if math.Abs(d) < leastMM {
			continue
		}
		if dir != 0 && d*dir < 0 {
			out = append(out, (plateau+i-1)/2)
		}
		dir, plateau = d, i
	}
	if n := len(o.levels) - 1; out[len(out)-1] != n {
		out = append(out, n)
	}
	return out
}

// quarterArc is the length of a quarter of an ellipse, after Ramanujan's second
// formula, which is short by 4 in 10,000 at worst.
func quarterArc(a, b float64) float64 {
	h := (a - b) * (a - b) / ((a + b) * (a + b))
	return math.Pi / 4 * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
}

// bulge is how high fabric of a length stands that has to come out by d.
func bulge(long, d float64) float64 {
	if full := math.Pi / 2 * d; long >= full {
		return d + long - full
	}
	if long <= 1.001*d {
		return 0 // flat
	}
	low, high := 0.0, d
	for range 60 {
		if mid := (low + high) / 2; quarterArc(d, mid) < long {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// quarter is a bulge of fabric so long, out by d and up by b.
type quarter struct{ long, d, b float64 }

// at is the point at a length along the fabric from the narrow end.
func (q quarter) at(s float64) (r, z float64) {
	full := math.Pi / 2 * q.d
	if q.long >= full {
		if s >= full {
			return q.d, q.d + s - full
		}
		return q.d * math.Sin(s/q.d), q.d * (1 - math.Cos(s/q.d))
	}
	const pieces = 64
	step := math.Pi / 2 / pieces
	total := 0.0
	length := func(k int) float64 {
		t := (float64(k) + 0.5) * step
		return step * math.Hypot(q.d*math.Cos(t), q.b*math.Sin(t))
	}
	for k := range pieces {
		total += length(k)
	}
	want := total * s / q.long
	for k := range pieces {
		if l := length(k); want > l {
			want -= l
		} else {
			t := (float64(k) + want/l) * step
			return q.d * math.Sin(t), q.b * (1 - math.Cos(t))
		}
	}
	return q.d, q.b
}
