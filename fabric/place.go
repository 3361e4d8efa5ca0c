package fabric

import (
	"workeven/grammar"
)

// noPlace reports a place that is not there. What follows in the round cannot
// be counted.
func (w *worker) noPlace(s grammar.Span, message string, of Spoken) {
	if w.demand == met {
		w.demand = noSpace
	}
	if w.dead || w.quiet > 0 {
		return
	}
	w.dead, w.unknown = true, true
	w.problem(Problem{Kind: NoSuchPlace, Span: s, Message: message, Of: of})
}

// placed works n of a stitch into each of so many stitches.
func (w *worker) placed(st *Stitch, n, places int64, loop grammar.Loop) {
	if places <= 0 {
		return
	}
	got := w.take(places)
	w.free(st.loop(loop), got)
	w.makeIn(st, n, places, got)
}

// makeIn makes n of a stitch in each of so many places, of which got were there.
func (w *worker) makeIn(st *Stitch, n, places, got int64) {
	if places > manyStitches/max(n, 1) {
		w.tooLong()
		return
	}
	if w.bound > 0 && got < places {
		w.make(st, mul(n, got))
		if extra := n*max(st.Makes, 1) - 1; extra > 0 && st.Leaves == nil {
			w.put(Item{Kind: Stitches, Stitch: st.on(w.mainStitch), N: extra})
		}
		return
	}
	w.make(st, mul(n, places))
}

// inPlaces works a step into the places it names, in order.
func (w *worker) inPlaces(s *grammar.Step, st *Stitch, n int64) {
	if len(s.Places) == 2 && s.Places[0].Kind == grammar.PlaceEach && s.Places[1].Kind == grammar.PlaceEach {
		w.bothEach([]goes{{&s.Places[0], st, n}, {&s.Places[1], st, n}})
		return
	}
	for i := range s.Places {
		if w.dead {
			return
		}
		p := &s.Places[i]
		loop := p.Loop
		if loop == grammar.LoopUnsaid {
			loop = s.Loop
		}
		w.inPlace(s, p, st, n, loop)
	}
}

// goes is a stitch and how many of it go into each of what a place names.
type goes struct {
	place *grammar.Place
	st    *Stitch
	n     int64
}

// bothEach works into stitches and spaces alike, as they come: "sc in each st
// and ch-1 sp around", "sc in each dc and 2 sc in each ch-2 sp around".
func (w *worker) bothEach(all []goes) {
	k := w.source()
	if k.endless || k.vague {
		w.unknown = true
		return
	}
	items := k.remainder()
	for _, i := range items {
		for _, g := range all {
			per := w.answersPlace(i, g.place)
			if per == 0 {
				continue
			}
			if i.Kind != Space {
				w.takes += i.N
				w.gained += i.N
			}
			w.make(g.st, mul(g.n, mul(i.N, per)))
			break
		}
	}
	w.stood = false
	k.stitches(k.left)
	k.i, k.off, k.touched = len(k.items), 0, true
}

// answersPlace says how many places of a kind each of a run of items gives.
func (w *worker) answersPlace(i Item, p *grammar.Place) int64 {
	switch u := p.Unit; u.Kind {
	case grammar.UnitSpace, grammar.UnitLoop:
		if i.Kind == Space && (u.Chains == 0 || u.Chains == i.Chains) {
			return 1
		}
	case grammar.UnitChain:
		switch i.Kind {
		case Space:
			return int64(i.Chains)
		case Chains:
			return 1
		}
	case grammar.UnitTerm:
		if asked := w.find(u.Ref()); asked != nil && i.Kind == Stitches && i.Stitch.answers(asked) {
			return 1
		}
	default:
		if i.Kind != Space {
			return 1
		}
	}
	return 0
}

// eachTwice says whether a step and the one behind it go into the stitches and
// the spaces of one round, side by side.
func eachTwice(s, next *grammar.Step) bool {
	one := func(s *grammar.Step) bool {
		return s.Kind == grammar.StepWork && len(s.Places) == 1 && s.Places[0].Kind == grammar.PlaceEach && !s.Places[0].Of().Written()
	}
	if !one(s) || !one(next) || s.Places[0].Fill.Kind != grammar.FillNone {
		return false
	}
	space := func(s *grammar.Step) bool { return s.Places[0].Unit.Kind == grammar.UnitSpace }
	return space(s) != space(next) || s.Places[0].Unit.Kind == grammar.UnitTerm && next.Places[0].Unit.Kind == grammar.UnitTerm
}

func (w *worker) inPlace(s *grammar.Step, p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	if p.Of().Written() && p.Kind != grammar.PlacePiece {
		w.intoPiece(s, p, st, n)
		return
	}
	count := int64(p.Count.N)
	switch p.Kind {
	case grammar.PlaceMagicRing, grammar.PlaceRing:
		w.intoRing(p, st, n)
	case grammar.PlaceFree, grammar.PlaceUnworked, grammar.PlaceOther:
		w.elsewhere(s, p, st, n, loop)
	case grammar.PlaceNth:
		if p.FromHook {
			w.fromHook(s, p, st, n)
			return
		}
		w.toNth(p, st, n, loop)
	case grammar.PlaceSame:
		w.inSame(p, st, n, loop)
	case grammar.PlaceTop, grammar.PlaceTurning:
		w.inTurning(p, st, n, loop)
	case grammar.PlaceEach:
		w.each(s, p, st, n, loop)
	case grammar.PlaceFirst:
		if w.stood {
			w.make(st, n)
			if count > 1 {
				w.placed(st, n, count-1, loop)
			}
			return
		}
		if st.Takes > 1 {
			w.over2(s, p, st, n, count, loop)
			return
		}
		w.units(s, p, st, n, count, loop)
	case grammar.PlaceLast:
		w.last(s, p, st, n, count, loop)
	case grammar.PlaceEachNext:
		w.units(s, p, st, n, count, loop)
	case grammar.PlaceNext, grammar.PlaceOne, grammar.PlaceAny:
		w.next(s, p, st, n, count, loop)
	}
}

// next works into the next so many units, and sorts out what a count before
// the stitch and one behind it mean together.
func (w *worker) next(s *grammar.Step, p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	said := s.Count.Written()
	switch {
	case s.Tog && count > 1:
		got := w.take(count)
		w.free(loop, got)
		w.put(Item{Kind: Stitches, Stitch: st, N: 1})
	case s.Tog:
		w.units(s, p, st, 1, 1, loop)
	case st.Takes > 1:
		w.over2(s, p, st, n, count, loop)
	case count > 1 && n == count:
		w.units(s, p, st, 1, count, loop)
	case count > 1 && n > 1 && said:
		w.problem(Problem{Kind: TwoReadings, Span: s.Span, Message: w.p.sayEachOrOver(n, st, count, p),
			Plain: []Repair{w.plainEach(s, p)}})
		w.units(s, p, st, n, count, loop)
	default:
		w.units(s, p, st, n, count, loop)
	}
}

// plainEach says "each of next 3 sts" where "next 3 sts" stands.
func (w *worker) plainEach(s *grammar.Step, p *grammar.Place) Repair {
	at := p.Span.Start
	if p.Loop != grammar.LoopUnsaid {
		at = p.Count.Start // behind "BLO of next"
	}
	new := "each of "
	return Repair{Span: grammar.Span{Start: at, End: at}, New: new, Title: w.p.sayWriteEach()}
}

// over2 works stitches that take several, such as decreases, over what a place names.
func (w *worker) over2(s *grammar.Step, p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	if p.Count.Written() && count < st.Takes && n == 1 {
		got := w.take(count) // a decrease over fewer than it draws together is none
		w.free(loop, got)
		w.put(Item{Kind: Stitches, Stitch: st.on(w.mainStitch), N: st.Makes})
		return
	}
	if count <= st.Takes || mul(n, st.Takes) == count {
		w.work(st, n, loop)
		return
	}
	times := count / st.Takes
	if n == 1 {
		message := w.p.sayDecOver(st, count, times)
		plain := Repair{Span: s.Span, New: s.Stitch.Text + " " + digits(times), Title: w.p.sayWrite(s.Stitch.Text + " " + digits(times))}
		w.problem(Problem{Kind: TwoReadings, Span: s.Span, Message: message, Plain: []Repair{plain}})
		w.work(st, times, loop)
		if rem := count - times*st.Takes; rem > 0 {
			w.take(rem)
		}
		return
	}
	w.work(st, n, loop)
}

// units works n of a stitch into each of count units of a place.
func (w *worker) units(s *grammar.Step, p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	switch p.Unit.Kind {
	case grammar.UnitSpace:
		w.intoSpaces(p, st, n, count)
	case grammar.UnitChain:
		w.intoChains(p, st, n, count, loop)
	case grammar.UnitTerm:
		w.intoKind(p, st, n, count, loop)
	case grammar.UnitLoop:
		if w.source().spacesAhead(0) > 0 {
			w.intoSpaces(p, st, n, count)
			return
		}
		w.placed(st, n, count, loop)
	case grammar.UnitRowEnd:
		w.make(st, mul(n, count))
		w.fresh = w.fresh || !w.main.touched
	default:
		if st.Takes > 1 {
			w.work(st, mul(n, count), loop)
			return
		}
		if !w.hasSource() {
			w.nothingBelow(s.Span)
			return
		}
		w.placed(st, n, count, loop)
	}
}

// intoSpaces works into the next so many chain spaces.
func (w *worker) intoSpaces(p *grammar.Place, st *Stitch, n, count int64) {
	k := w.source()
	w.askedSpace = p.Unit.Chains
	for range min(count, maxSteps) {
		if !k.space(p.Unit.Chains) {
			w.noPlace(p.Span, w.p.sayNoSpace(w, p.Unit.Chains), Spoken{Kind: SpokenSpaces})
			return
		}
		w.gained++
		w.stood = false
		w.make(st, n)
	}
}

// intoChains works into the next so many chains: of a foundation, of a chain
// just made, or one by one along a chain space.
func (w *worker) intoChains(p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	k := w.source()
	switch {
	case k.open(), k.endless, k.vague, k.atChains():
		w.placed(st, n, count, loop)
	case k.i < len(k.items) && w.alongSpace(k, st, n, count):
	case w.alongOwn(st, n, count):
	case len(k.items) > 0 && k.items[len(k.items)-1].Kind == Chains:
		w.placed(st, n, count, loop) // more chains than there are
	default:
		w.noPlace(p.Span, w.p.sayNoChain(w.name()), Spoken{})
	}
}

// alongSpace works into the single chains of the space that comes next.
func (w *worker) alongSpace(k *walk, st *Stitch, n, count int64) bool {
	probe := *k
	if !probe.atSpace() || int64(k.items[k.i].Chains) < count {
		return false
	}
	chains := int64(k.items[k.i].Chains)
	k.space(0)
	k.inSpace = false
	w.takes += count
	w.avail += chains
	w.stood = false
	w.make(st, mul(n, count))
	if chains > count {
		w.local = &walk{items: []Item{{Kind: Chains, N: chains - count}}, left: chains - count}
	}
	return true
}

// alongOwn works back along a chain that this round made earlier, once it has
// come round to it.
func (w *worker) alongOwn(st *Stitch, n, count int64) bool {
	if w.source().left > 0 {
		return false
	}
	seen := int64(0)
	for _, i := range w.out {
		if i.Kind != Space {
			continue
		}
		if seen += i.N; seen > w.ownUsed && int64(i.Chains) >= count {
			w.ownUsed = seen
			w.takes += count
			w.avail += count
			w.make(st, mul(n, count))
			return true
		}
	}
	return false
}

// intoKind works into stitches of one kind, passing nothing but spaces.
func (w *worker) intoKind(p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	asked := w.find(p.Unit.Ref())
	if asked == nil {
		w.dead = true
		return
	}
	k := w.source()
	if asked.Leaves != nil {
		w.intoGroups(p, asked, st, n, count)
		return
	}
	got := k.ofStitch(count, asked)
	if got < count && k.left > 0 && !k.endless {
		w.noPlace(p.Span, w.p.sayNotThatStitch(w, asked, k), Spoken{Kind: SpokenStanding})
		return
	}
	w.taken(count, got)
	w.free(loop, got)
	w.makeIn(st, n, count, got)
}

// middle is the space in the middle of a shell or V-stitch: its length in
// chains, or false where it has none.
func (s *Stitch) middle() (int32, bool) {
	for _, i := range s.Leaves {
		if i.Kind == Space {
			return i.Chains, true
		}
	}
	return 0, false
}

// groupsAhead is how many of a shell or the like are ahead.
func groupsAhead(k *walk, asked *Stitch) int64 {
	if chains, ok := asked.middle(); ok {
		return k.spacesAhead(chains)
	}
	return k.left / max(asked.Makes, 1)
}

// intoGroups works into shells, V-stitches and the like: into their middle
// space where they have one, else over all their stitches.
func (w *worker) intoGroups(p *grammar.Place, asked, st *Stitch, n, count int64) {
	k := w.source()
	if p.Unit.Chains > 0 {
		if chains, ok := asked.middle(); !ok || chains != p.Unit.Chains {
			w.noPlace(p.Span, w.p.sayNotItsSpace(w, asked, p.Unit.Chains), Spoken{Kind: SpokenSpaces})
			return
		}
	}
	if !k.vague && !k.endless && groupsAhead(k, asked) == 0 {
		w.noPlace(p.Span, w.p.sayNotThatStitch(w, asked, k), Spoken{Kind: SpokenStanding})
		return
	}
	if chains, ok := asked.middle(); ok {
		place := grammar.Place{Kind: grammar.PlaceNext, Unit: grammar.Unit{Kind: grammar.UnitSpace, Chains: chains}, Span: p.Span}
		w.intoSpaces(&place, st, n, count)
		return
	}
	w.take(mul(asked.Makes, count))
	w.make(st, mul(n, count))
}

// each works into every unit up to the end, or to the last few.
func (w *worker) each(s *grammar.Step, p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	k := w.source()
	unit := p.Unit.Kind
	if unit == grammar.UnitLoop && k.spacesAhead(0) > 0 {
		unit = grammar.UnitSpace
	}
	switch unit {
	case grammar.UnitSpace:
		if k.endless || k.vague {
			w.unknown = true
			k.touched, k.inSpace = true, true
			k.left, k.i = 0, len(k.items)
			return
		}
		total := k.spacesAhead(p.Unit.Chains)
		if total == 0 {
			w.noPlace(p.Span, w.p.sayNoSpace(w, p.Unit.Chains), Spoken{Kind: SpokenSpaces})
			return
		}
		w.intoSpaces(p, st, n, max(total-int64(p.Fill.Left().N), 0))
	case grammar.UnitChain:
		k.open()
		if !k.atChains() && !k.vague && !k.endless {
			w.noPlace(p.Span, w.p.sayNoChain(w.name()), Spoken{})
			return
		}
		w.fillWith(st, n, p.Fill, loop, s.Span)
	case grammar.UnitTerm:
		asked := w.find(p.Unit.Ref())
		if asked == nil {
			w.dead = true
			return
		}
		if asked.Leaves != nil {
			w.intoGroups(p, asked, st, n, max(groupsAhead(k, asked)-int64(p.Fill.Left().N), 0))
			return
		}
		w.eachOfKind(p, asked, st, n, loop)
	case grammar.UnitRowEnd:
		w.unknown = true
	default:
		w.fillWith(st, n, p.Fill, loop, s.Span)
	}
}

// eachOfKind works into every stitch of a kind, passing all others by.
func (w *worker) eachOfKind(p *grammar.Place, asked, st *Stitch, n int64, loop grammar.Loop) {
	k := w.source()
	if k.endless {
		w.unknown = true
		return
	}
	count, all := int64(0), int64(0)
	for _, i := range k.remainder() {
		if i.Kind == Space {
			continue
		}
		all += i.N
		if k.vague || i.Kind == Stitches && i.Stitch.answers(asked) {
			count += i.N
		}
	}
	if w.turningLater(k) {
		count, all = count-1, all-1
	}
	if count == 0 {
		w.noPlace(p.Span, w.p.sayNotThatStitch(w, asked, k), Spoken{Kind: SpokenStanding})
		return
	}
	k.stitches(all)
	w.takes += count
	w.stood = false
	w.free(loop, count)
	w.make(st, mul(n, count))
}

// last works into the last so many stitches.
func (w *worker) last(s *grammar.Step, p *grammar.Place, st *Stitch, n, count int64, loop grammar.Loop) {
	k := w.source()
	if k.left == 0 && !k.endless && w.spare && p.Unit.Kind == grammar.UnitChain && count == 1 {
		w.spare = false
		w.make(st, n)
		return
	}
	if k.left == 0 && !k.endless && p.Unit.Kind == grammar.UnitSpace {
		w.intoSpaces(p, st, n, count)
		return
	}
	if st.Takes > 1 {
		w.over2(s, p, st, n, count, loop)
		return
	}
	if count > 1 && n == count {
		n = 1
	}
	w.units(s, p, st, n, count, loop)
}

// inSame works into the place the last stitch went into.
func (w *worker) inSame(p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	k := w.source()
	if p.Unit.Kind == grammar.UnitChain {
		k.open()
	}
	if w.other && p.Unit.Kind == grammar.UnitChain && k.left == 1 {
		w.placed(st, n, 1, loop) // the near end of an oval
		return
	}
	if !k.touched && !w.stood && !k.endless {
		if p.Unit.Kind == grammar.UnitSpace {
			w.intoSpaces(p, st, n, 1)
			return
		}
		w.placed(st, n, 1, loop)
		return
	}
	w.make(st, n)
}

// inTurning works into the chain that began the row below, where it stands for
// a stitch.
func (w *worker) inTurning(p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	k := w.source()
	if !k.turningAhead() && k.left > 0 {
		w.noPlace(p.Span, w.p.sayNoTurning(w), Spoken{})
		return
	}
	w.placed(st, n, 1, loop)
}

// toNth passes stitches up to the one with a number.
func (w *worker) toNth(p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	k := w.source()
	done := w.takes
	if ahead := int64(p.Count.N) - done - 1; ahead > 0 && !k.endless {
		w.take(ahead)
	}
	w.placed(st, n, 1, loop)
}

// intoRing works into a ring, which has room for any number.
func (w *worker) intoRing(p *grammar.Place, st *Stitch, n int64) {
	if p.Kind == grammar.PlaceRing && !w.main.endless && w.onEdge && !w.main.vague && w.st.edge != nil {
		w.noPlace(p.Span, w.p.sayNoRing(w.name()), Spoken{})
		return
	}
	if !w.main.endless {
		w.main = walk{endless: true}
		w.onEdge, w.fresh = false, true
	}
	w.main.touched = true
	w.stood = false
	w.make(st, n)
}
