package fabric

import (
	"math"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Measure is how large something is, in millimetres. What does not apply is 0.
type Measure struct {
	// Width is the widest row, or the greatest length of a piece worked around
	// a chain; else it equals Diameter.
	Width float64
	// Height is along the rows, or along the axis of a piece in the round.
	Height float64
	// Diameter is the greatest one of a piece in the round, and Around the
	// length of its longest round. Laid flat, a tube is half of that wide.
	Diameter, Around float64
	// Along is the way along the fabric of a piece in the round, from its
	// beginning to its last round: what a hat or a bag measures laid flat.
	Along float64
}

// Longest is the greatest extent in any direction as it stands, in millimetres.
func (m Measure) Longest() float64 { return max(m.Width, m.Height, m.Diameter) }

// Size is the finished size of one copy of a piece, by the pattern's gauge.
type Size struct {
	Measure
	// Gauge is what it was reckoned from.
	Gauge StitchGauge
	// Rows is set for a piece worked flat in rows, Disc for one in the round
	// that does not rise.
	Rows, Disc bool
	// Stuffed is set where the height is that of the stuffed piece, whose flat
	// ends round out.
	Stuffed bool
	// Straight is the length of the straight sides of a piece worked around a
	// chain, in millimetres; 0 for a circle.
	Straight float64
	// Unsure is how many rounds are taken to be like the one below, because
	// neither words nor total tell how many stitches they have.
	Unsure int64
	// Profile is the outline of a piece in the round, from its beginning
	// outwards and up. It is empty for rows.
	Profile []Level
}

// Level is one point of a profile, in millimetres: how far from the axis (for
// an oval, from its straight middle) and how high.
type Level struct{ Radius, Height float64 }

// StitchGauge is the size of the stitches of a piece.
type StitchGauge struct {
	// Gauge is the pattern's; nil for the glossary's proportions alone, in
	// which a stitch is 1 wide.
	Gauge *grammar.Gauge
	// Stitch is the one it was measured in.
	Stitch *Stitch
	// Width and Height are those of the piece's main stitch, in millimetres.
	Width, Height float64
	// Scaled is set where the gauge is in another stitch than the piece's, so
	// that the height is by the glossary's ratios; Half where it gives stitches
	// or rounds only, and the other is by those ratios.
	Scaled, Half bool

	// perTall is the height in millimetres of a stitch as tall as wide by the glossary.
	perTall float64
	by      *reckoner
}

// height is how tall a stitch is, in millimetres, by the mean ratio of height
// to width of a round's stitches.
func (g StitchGauge) height(tall float64) float64 { return g.perTall * tall }

// The bounds of what is taken for a measure at all: a tenth of the finest
// thread, and a hundred metres.
const (
	leastMM = 1e-2
	mostMM  = 1e5
)

func measurable(mm float64) bool { return mm >= leastMM && mm <= mostMM }

// StitchGauge finds the size of a piece's stitches: from the gauge in its main
// stitch, else from the first usable one, by the glossary's ratios. Stitches of
// all heights are taken to be equally wide. False without a usable gauge.
func (p *Pattern) StitchGauge(piece *Piece) (StitchGauge, bool) {
	by := p.reckoner(piece)
	var best StitchGauge
	fit := 0
	for _, g := range p.Header.Gauges {
		of, how := by.gaugeStitch(g)
		if how <= fit {
			continue
		}
		if s, ok := by.measured(g, of); ok {
			s.Scaled = how == otherStitch
			best, fit = s, how
		}
		if fit == mainStitch {
			break
		}
	}
	return best, fit > 0
}

// How well a gauge suits a piece.
const (
	otherStitch = iota + 1
	unnamedStitch
	mainStitch
)

// gaugeStitch is the stitch that a gauge is in, and how well it suits the piece.
func (k *reckoner) gaugeStitch(g *grammar.Gauge) (*Stitch, int) {
	of := k.book.find(g.Stitch)
	switch {
	case of == nil:
		return k.main, unnamedStitch
	case of == k.main || k.plain(of) == k.main:
		return k.main, mainStitch
	}
	return of, otherStitch
}

// measured works out the size of stitches from a gauge.
func (k *reckoner) measured(g *grammar.Gauge, of *Stitch) (StitchGauge, bool) {
	tall := k.tall(of)
	w, h := 0.0, 0.0
	if g.Sts.N > 0 {
		w = g.Over.MM / float64(g.Sts.N)
	}
	if g.Rnds.N > 0 {
		h = g.Down.MM / float64(g.Rnds.N)
	}
	s := StitchGauge{Gauge: g, Stitch: of, by: k}
	switch hasW, hasH := measurable(w), measurable(h); {
	case !hasW && !hasH:
		return s, false
	case !hasW:
		s.Half, w = true, h/tall
	case !hasH:
		s.Half, h = true, w*tall
	}
	s.perTall = h / tall
	s.Width, s.Height = w, s.perTall*k.tall(k.main)
	return s, measurable(s.Width) && measurable(s.Height)
}

// proportions is a gauge by the glossary's ratios alone, in stitch widths.
func (p *Pattern) proportions(piece *Piece) StitchGauge {
	by := p.reckoner(piece)
	return StitchGauge{Stitch: by.main, Width: 1, Height: by.tall(by.main), perTall: 1, by: by}
}

// reckoner knows the height and the yarn of stitches as one piece uses them.
type reckoner struct {
	p    *Pattern
	book *book
	main *Stitch
	// own holds what was found out of the pattern's own stitches.
	own map[*Stitch]ownStitch
	// spare is room for the yarn of a round's steps.
	spare []spunYarn
}

// ownStitch is what a pattern's own stitch is like: its plain stitch, nil where
// its definition names none, and its yarn in single crochets.
type ownStitch struct {
	plain *Stitch
	yarn  float64
}

func (p *Pattern) reckoner(piece *Piece) *reckoner {
	k := &reckoner{p: p, book: p.book, main: piece.Main}
	if k.book == nil {
		k.book = &book{sys: p.Header.System}
	}
	if k.main == nil || k.main.Of == nil {
		k.main = k.book.byID("sc")
	}
	return k
}

// ownOf finds out about one of the pattern's own stitches.
func (k *reckoner) ownOf(s *Stitch) ownStitch {
	o, ok := k.own[s]
	if ok {
		return o
	}
	o.yarn = max(float64(s.Makes), 1) * k.yarn(k.main)
	if s.def != nil && len(s.def.Steps) > 0 {
		o.plain = k.p.firstPlain(s.def.Steps)
		t := spun{own: true}
		t.steps(k, s.def.Steps, nil)
		if n := t.units(); n > 0 {
			o.yarn = n
		}
	}
	if k.own == nil {
		k.own = map[*Stitch]ownStitch{}
	}
	k.own[s] = o
	return o
}

// plain is the plain stitch that a stitch is made of, or itself.
func (k *reckoner) plain(s *Stitch) *Stitch {
	if s.Of != nil {
		return s.base(k.book)
	}
	if o := k.ownOf(s); o.plain != nil {
		return o.plain
	}
	return s
}

// tall is a stitch's height over its width by the glossary; what has no height
// of its own follows the main stitch.
func (k *reckoner) tall(s *Stitch) float64 {
	for _, t := range []*Stitch{s, k.main} {
		if t == nil {
			continue
		}
		if of := k.plain(t).Of; t.Of != nil && t.Of.Tall > 0 {
			return t.Of.Tall
		} else if of != nil && of.Tall > 0 {
			return of.Tall
		}
	}
	return terms.ByID("sc").Tall
}

// archFrom is the least chain space that stands up as an arch instead of
// lying in the round as a bridge: common practice, in laces.
const archFrom = 4

// course is one round or row of a piece, or several alike.
type course struct {
	round *Round
	// steps are what is worked: those of another round where it is repeated.
	steps []grammar.Step
	// times is how many rounds are alike.
	times int64
	// sts is how many stitches the next round can be worked into.
	sts int64
	// wide is its length, in stitch widths; tall its height, as StitchGauge.height takes it.
	wide, tall float64
	// arch is the height that chain arches add, in stitch widths; lacy is set
	// where there are any, or own stitches of which only the counts are known:
	// how wide those lie nobody can tell.
	arch float64
	lacy bool
	// chain is set for a foundation chain and nothing else; unsure where the
	// number of stitches is a guess; rows for a row worked back and forth.
	chain, unsure, rows bool
}

// alike says whether two courses measure the same.
func (c course) alike(d course) bool {
	return c.sts == d.sts && c.wide == d.wide && c.tall == d.tall && c.arch == d.arch && c.chain == d.chain
}

// height is how tall one round is, in millimetres.
func (c course) height(g StitchGauge) float64 {
	if c.chain {
		return 0
	}
	return g.height(c.tall) + c.arch*g.Width
}

// courseOn measures an edge.
func (k *reckoner) courseOn(e *Edge) course {
	c := course{times: 1}
	tall, arch, arches, n := 0.0, 0.0, 0.0, 0.0
	var last *Stitch
	lastTall := k.tall(k.main)
	for _, i := range e.Items {
		count := float64(i.N)
		switch i.Kind {
		case Space:
			long := count * float64(i.Chains)
			if i.Chains < archFrom {
				c.wide += long
				break
			}
			// a half circle of that many chains: 2/π as wide, 1/π as high
			c.lacy = true
			c.wide += long * 2 / math.Pi
			arches += long * 2 / math.Pi
			arch += long * 2 / math.Pi * float64(i.Chains) / math.Pi
		case Chains:
			c.chain = true
			c.sts, c.wide = c.sts+i.N, c.wide+count
		case Stitches:
			if i.Stitch != last {
				last, lastTall = i.Stitch, k.tall(i.Stitch)
				c.lacy = c.lacy || i.Stitch != nil && i.Stitch.Of == nil && k.ownOf(i.Stitch).plain == nil
			}
			c.sts, c.wide = c.sts+i.N, c.wide+count
			tall += count * lastTall
			n += count
		}
	}
	c.chain = c.chain && n == 0
	c.tall = k.tall(k.main)
	if n > 0 {
		c.tall = tall / n
	}
	if arches > 0 && c.wide > 0 {
		c.arch = arch / c.wide
	}
	return c
}

// Bounds on ranges of rounds that change from one to the next.
const (
	maxCourses = 512 // worked again one by one
	maxSlices  = 64  // drawn between the first and the last
)

// courses lists a piece's rounds in order, those of ranges too.
func (k *reckoner) courses(piece *Piece) []course {
	out := make([]course, 0, len(piece.Rounds))
	mixed := mixedLabels(piece)
	for i, r := range piece.Rounds {
		below := course{}
		if len(out) > 0 {
			below = out[len(out)-1]
		}
		from := len(out)
		out = k.coursesOf(out, piece, i, r, below)
		for j := from; j < len(out); j++ {
			out[j].rows = mixed && r.Node.Row || !mixed && piece.flat(r.Node.Row)
		}
	}
	return out
}

// mixedLabels says whether a piece has rows and rounds, so that the label tells
// which is which; else how it is worked does.
func mixedLabels(piece *Piece) bool {
	for _, r := range piece.Rounds {
		if r.Node.Row != piece.Rounds[0].Node.Row {
			return true
		}
	}
	return false
}

// coursesOf adds the rounds of one statement.
func (k *reckoner) coursesOf(out []course, piece *Piece, at int, r *Round, below course) []course {
	n := max(r.RoundsWorked, 1)
	e := r.Meant
	if e == nil {
		e = r.Out
	}
	last := below
	last.unsure = true
	if e != nil && !e.Unknown {
		last = k.courseOn(e)
	}
	last.round, last.times, last.steps = r, n, r.Node.Steps
	if below.round == nil {
		below = last
	}
	repeats := repeatsOthers(r.Node)
	switch {
	case last.unsure, n == 1 && !repeats, below.alike(last) && !repeats:
		return append(out, last)
	case r.Known && r.entry != nil:
		return append(out, k.reworked(piece, at, r, last)...)
	}
	return append(out, between(below, last)...)
}

// reworked works the rounds of a range again one by one, since each differs.
func (k *reckoner) reworked(piece *Piece, at int, r *Round, last course) []course {
	var out []course
	period := repeatPeriod(r.Node)
	cur := *r.entry
	from := int64(r.Node.From.N)
	for done := int64(0); done < last.times; done++ {
		label := from + done
		steps, _, _, ok := k.p.stepsFor(lower{kept: piece.Rounds[:at]}, r.Node, r.Line, label, 0)
		o := k.p.once(piece, lower{kept: piece.Rounds[:at]}, &cur, r.Node, r.Line, label, false)
		c := course{unsure: true}
		if o.known && ok {
			c = k.courseOn(o.out)
		}
		cur = o.next
		o.w.release()
		rest := last.times - done
		steady := len(out) > 0 && c.alike(out[len(out)-1]) && period == 1
		if c.unsure || rest == 1 || steady || done >= maxCourses {
			last.times = rest
			if ok && steps != nil {
				last.steps = steps
			}
			return append(out, last)
		}
		c.round, c.steps = r, steps
		if n := len(out); n > 0 && c.alike(out[n-1]) && sameSteps(c.steps, out[n-1].steps) {
			out[n-1].times++
			continue
		}
		out = append(out, c)
	}
	return out
}

func sameSteps(a, b []grammar.Step) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// between draws the rounds of a range evenly from the round below to the last.
func between(below, last course) []course {
	slices := min(last.times, maxSlices)
	out := make([]course, 0, slices)
	worked := int64(0)
	for k := int64(1); k <= slices; k++ {
		c := last
		part := float64(k) / float64(slices)
		c.sts = below.sts + int64(math.Round(part*float64(last.sts-below.sts)))
		c.wide = below.wide + part*(last.wide-below.wide)
		c.times = k*last.times/slices - worked
		worked += c.times
		out = append(out, c)
	}
	return out
}

// section is a run of rounds or of rows that each stand on the one before.
type section struct {
	courses []course
	rows    bool
	// apart is set where it begins somewhere else than on the last round: at
	// free loops, at stitches left unworked, along the ends of rows.
	apart bool
}

func sections(cs []course) []section {
	var out []section
	for i, c := range cs {
		apart := i > 0 && c.round != cs[i-1].round && elsewhere(c.steps)
		if i == 0 || apart || c.rows != cs[i-1].rows {
			out = append(out, section{rows: c.rows, apart: apart, courses: cs[i:i]})
		}
		last := &out[len(out)-1]
		last.courses = last.courses[:len(last.courses)+1]
	}
	return out
}

// elsewhere says whether steps begin away from the round below.
func elsewhere(steps []grammar.Step) bool {
	for i := range steps {
		s := &steps[i]
		for _, at := range s.Places {
			switch {
			case at.Kind == grammar.PlaceFree, at.Kind == grammar.PlaceUnworked, at.Kind == grammar.PlacePiece, at.Unit.Kind == grammar.UnitRowEnd:
				return true
			}
		}
		switch {
		case s.Group != nil:
			return elsewhere(s.Group.Steps)
		case s.Kind == grammar.StepWork && !isChainRef(s.Stitch):
			return false
		}
	}
	return false
}

// SizeOf is the finished size of one copy of a piece. It is a reckoning from
// the gauge: sewing, blocking and firm stuffing change it. A piece is measured
// as what the greater part of it is, in rows or in the round: a flap in rows on
// a bag in the round is left out, an edging round a piece in rows is added to
// both its sides. False without a usable gauge, or where nothing is known to
// be worked.
func SizeOf(p *Pattern, piece *Piece) (Size, bool) {
	g, ok := p.StitchGauge(piece)
	if !ok {
		return Size{}, false
	}
	cs := g.by.courses(piece)
	s := Size{Gauge: g}
	rows, rounds := int64(0), int64(0)
	for _, c := range cs {
		if c.unsure {
			s.Unsure += c.times
		}
		if c.rows {
			rows += c.times
		} else {
			rounds += c.times
		}
	}
	if s.Rows = rows > rounds; s.Rows {
		s.inRows(sections(cs))
	} else {
		s.inTheRound(piece, sections(cs))
	}
	return s, s.Longest() > 0
}

// inRows is as wide as the widest row and as high as all of them. Rows that
// begin apart stand beside those before them.
func (s *Size) inRows(sections []section) {
	chain, foot, edging := 0.0, 0.0, 0.0
	for _, part := range sections {
		high := 0.0
		for _, c := range part.courses {
			wide := c.wide * s.Gauge.Width
			switch {
			case c.chain:
				chain = max(chain, wide)
				continue
			case part.rows:
				s.Width = max(s.Width, wide)
			}
			high += float64(c.times) * c.height(s.Gauge)
		}
		switch {
		case !part.rows:
			edging += 2 * high
		case part.apart:
			s.Height = max(s.Height, foot+high)
		default:
			foot = s.Height
			s.Height += high
		}
	}
	if s.Width == 0 {
		s.Width = chain
	}
	s.Width, s.Height = s.Width+edging, s.Height+edging
}

// Bounds are the least and the greatest extent, in millimetres, that the whole
// of a pattern can have once made up: no less than its largest piece, and no
// more than every piece laid end to end. False where a piece has no size.
func Bounds(p *Pattern) (least, most float64, ok bool) {
	for _, piece := range p.Pieces {
		s, ok := SizeOf(p, piece)
		if !ok {
			return 0, 0, false
		}
		least = max(least, s.Longest())
		most += s.Longest() * float64(max(piece.Make, 1))
	}
	return least, most, len(p.Pieces) > 0
}
