package fabric

import (
	"math"
	"slices"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// spin shares a round's yarn out over its steps, and holds the steps' count of
// stitches against what the round really makes.
// It holds until the next round is spun.
func (k *reckoner) spin(c course, cur strand, find func(string) strand) spun {
	t := spun{cur: cur, entries: k.spare[:0]}
	t.steps(k, c.steps, find)
	t.fit(float64(c.sts))
	if t.units() <= 0 {
		t.put(spunYarn{units: float64(c.sts) * k.yarn(k.main)})
	}
	k.spare = t.entries
	return t
}

// corners is how many corners a round has: groups in one place with a chain
// space in them, or where there are none, places that three or more stitches
// are worked into. Where nothing lies between such places, only four of them
// make a shape with corners.
func (k *reckoner) corners(c course) int64 {
	t := k.spin(c, nil, nil)
	open, full := 0.0, 0.0
	for _, e := range t.entries {
		open += e.open
		full += e.full
	}
	if open >= 2 && spelledOut(c.steps) {
		open++
	}
	if open > 0 {
		return int64(math.Round(min(open, 100)))
	}
	n := int64(math.Round(min(full, 100)))
	if n != 4 && 3*full >= float64(c.sts) {
		return 0
	}
	return n
}

// spelledOut says whether a round begins with a chain and half a corner: ch 3,
// 2 dc, ch 2, and so on, which no bracket holds.
func spelledOut(steps []grammar.Step) bool {
	chains := 0
	for i := range steps {
		if steps[i].Kind == grammar.StepWork && isChainRef(steps[i].Stitch) {
			chains++
		}
	}
	return chains >= 2
}

// spunYarn is the yarn of one step, or of what it works besides stitches.
type spunYarn struct {
	strand strand
	// units is in single crochets, made in stitches.
	units, made float64
	// filling is set for what goes on as far as the edge allows: units and made
	// are then of one time, or one place.
	filling bool
	// open and full count places with three or more stitches, with a chain
	// space among them or without.
	open, full float64
}

// spun is the yarn of the steps of a round.
type spun struct {
	entries []spunYarn
	cur     strand
	// own is set for the steps of an own stitch: others of the pattern's own in
	// it are taken for the main stitch, so that none can lead back to itself.
	own bool
}

func (t *spun) units() float64 {
	n := 0.0
	for _, e := range t.entries {
		n += e.units
	}
	return n
}

// fit scales what fills the round so that the steps make as many stitches as
// the round does; where nothing fills it, all of it is scaled.
func (t *spun) fit(made float64) {
	fixed, filling := 0.0, 0.0
	for _, e := range t.entries {
		if e.filling {
			filling += e.made
		} else {
			fixed += e.made
		}
	}
	scale, all := 1.0, false
	switch {
	case made <= 0:
	case filling > 0 && made > fixed:
		scale = (made - fixed) / filling
	case fixed > 0 && filling == 0:
		scale, all = made/fixed, true
	}
	for i := range t.entries {
		if e := &t.entries[i]; e.filling || all {
			e.units *= scale
			e.made *= scale
			e.open *= scale
			e.full *= scale
			e.filling = false
		}
	}
}

func (t *spun) steps(k *reckoner, steps []grammar.Step, find func(string) strand) {
	for i := range steps {
		s := &steps[i]
		if s.Yarn().Text != "" && find != nil {
			t.cur = find(s.Yarn().Text)
		}
		switch s.Kind {
		case grammar.StepWork:
			t.work(k, s)
		case grammar.StepEven:
			st := k.main
			if said := k.book.find(s.Stitch); s.Stitch.Written() && said != nil {
				st = said
			}
			t.put(spunYarn{units: k.yarn(st), made: 1, filling: true})
		case grammar.StepJoin:
			t.put(spunYarn{units: k.yarn(k.book.byID("sl st"))})
		case grammar.StepBracket, grammar.StepStar:
			t.group(k, s, find)
		}
	}
}

func (t *spun) put(e spunYarn) {
	e.strand = t.cur
	t.entries = append(t.entries, e)
}

// places is how many places a step goes into, and whether it goes on to the
// end of the edge.
func places(s *grammar.Step) (n float64, filling bool) {
	filling = s.Fill.Kind != grammar.FillNone
	for _, at := range s.Places {
		n += float64(max(at.Count.N, 1))
		filling = filling || at.Kind == grammar.PlaceEach || at.Fill.Kind != grammar.FillNone || at.Each && !at.Count.Written()
	}
	if filling || n == 0 {
		n = 1
	}
	return n, filling
}

func (t *spun) work(k *reckoner, s *grammar.Step) {
	st := k.book.find(s.Stitch)
	if st == nil || t.own && st.Of == nil {
		st = k.main
	}
	n := float64(max(s.Count.N, 1))
	where, filling := places(s)
	e := spunYarn{filling: filling}
	units := k.yarn(st)
	if slices.ContainsFunc(s.Places, func(at grammar.Place) bool { return at.Kind == grammar.PlaceMagicRing }) {
		t.put(spunYarn{units: k.yarn(k.book.byID("magic ring"))})
	}
	switch kind := st.kind(); {
	case kind == terms.Chain:
		e.units = n * units
	case kind == terms.Ring:
		e.units = units
	case kind == terms.Slip && len(s.Places) > 0 && !filling: // a join, or a picot's
		e.units = n * where * units
	case s.Evenly && (kind == terms.Increase || kind == terms.Decrease):
		t.put(spunYarn{units: n * units, made: n * float64(st.Makes)})
		e = spunYarn{units: k.yarn(k.main), made: 1, filling: true}
	case s.Tog:
		e.units, e.made = n*where*units*unfinished(), where
	case st.Takes > 1 || n == where:
		e.units, e.made = n*units, n*float64(st.Makes)
	default:
		each := n * float64(st.Makes)
		e.units, e.made = n*where*units, each*where
		switch {
		case slices.ContainsFunc(st.Leaves, func(i Item) bool { return i.Kind == Space }):
			e.open = n * where
		case st.Leaves != nil && st.Makes >= 3:
			e.full = n * where
		case each >= 3 && len(s.Places) > 0 && ofStitches(s):
			e.full = where
		}
	}
	t.put(e)
}

// ofStitches says whether a step goes into stitches or spaces rather than into
// a ring.
func ofStitches(s *grammar.Step) bool {
	k := s.Places[0].Kind
	return k != grammar.PlaceMagicRing && k != grammar.PlaceRing
}

func (t *spun) group(k *reckoner, s *grammar.Step, find func(string) strand) {
	from := len(t.entries)
	t.steps(k, s.Group.Steps, find)
	inner := t.entries[from:]
	times, filling := 1.0, s.Group.Times.Kind == grammar.TimesFill
	switch s.Group.Times.Kind {
	case grammar.TimesTotal:
		times = float64(s.Group.Times.Count.N)
	case grammar.TimesMore, grammar.TimesUnclear:
		times = float64(s.Group.Times.Count.N) + 1
	}
	if len(s.Places) > 0 && ofStitches(s) {
		where, all := places(s)
		times, filling = times*where, filling || all
		if made, chain := tops(inner, s); made >= 3 || chain {
			corner := spunYarn{}
			if chain {
				corner.open = 1
			} else {
				corner.full = 1
			}
			t.put(corner)
			inner = t.entries[from:]
		}
	}
	for i := range inner {
		e := &inner[i]
		e.units *= times
		e.made *= times
		e.open *= times
		e.full *= times
		e.filling = e.filling || filling
	}
}

// tops is how many stitches a group in one place makes, and whether it has a
// chain among them.
func tops(inner []spunYarn, s *grammar.Step) (made float64, chain bool) {
	for _, e := range inner {
		made += e.made
	}
	for i := range s.Group.Steps {
		chain = chain || isChainRef(s.Group.Steps[i].Stitch)
	}
	return made, chain
}
