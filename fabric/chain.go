package fabric

import (
	"workeven/grammar"
	"workeven/grammar/terms"
)

// chainStep works "ch N": a foundation, a starting chain, the next row's
// turning chain, or a space.
func (w *worker) chainStep(s *grammar.Step, rest []grammar.Step) {
	n := int64(s.Count.N)
	switch {
	case len(s.Places) > 0:
		// chains into places, as in "ch 2 over next 2 sts", are a space
	case !w.hasSource() && len(w.out) == 0 && beforeRing(rest):
		w.ring()
		w.startChain(s, n, rest)
		return
	case !w.hasSource() && len(w.out) == 0:
		w.foundation(n)
		return
	case w.depth == 0 && len(w.out) == 0 && w.makes == 0 && w.local == nil:
		w.startChain(s, n, rest)
		return
	case w.depth == 0 && w.endsWithTurn(rest):
		w.pending = s
		return
	}
	w.put(Item{Kind: Space, N: 1, Chains: s.Count.N})
	w.chainJust = true
	w.chainMark++
}

// beforeRing says whether a chain is written before the magic ring that it
// stands in: "ch 3, 11 dc in magic ring".
func beforeRing(rest []grammar.Step) bool {
	next := firstReal(rest)
	return next != nil && len(next.Places) > 0 && next.Places[0].Kind == grammar.PlaceMagicRing
}

// foundation lays a chain with nothing below it.
func (w *worker) foundation(n int64) {
	w.chain = &foundation{chains: n, label: w.label}
	w.main = walk{items: []Item{{Kind: Chains, N: n}}, left: n}
	w.onEdge, w.fresh = false, true
	w.avail = n
}

// endsWithTurn says whether nothing but turning follows.
func (w *worker) endsWithTurn(rest []grammar.Step) bool {
	turns := false
	for i := range rest {
		switch rest[i].Kind {
		case grammar.StepTurn:
			turns = true
		case grammar.StepMarker, grammar.StepStanding:
		default:
			return false
		}
	}
	return turns
}

// firstReal finds the first step that works a stitch, looking into brackets.
func firstReal(steps []grammar.Step) *grammar.Step {
	for i := range steps {
		s := &steps[i]
		switch s.Kind {
		case grammar.StepBracket, grammar.StepStar:
			if r := firstReal(s.Group.Steps); r != nil {
				if len(s.Places) > 0 && len(r.Places) == 0 {
					placed := *r
					placed.Places = s.Places
					return &placed
				}
				return r
			}
		case grammar.StepWork, grammar.StepEven:
			return s
		}
	}
	return nil
}

// startChain takes the chain that a round begins with for what it stands for.
func (w *worker) startChain(s *grammar.Step, n int64, rest []grammar.Step) {
	next := firstReal(rest)
	if next != nil && fromHook(next) {
		w.local = &walk{items: []Item{{Kind: Chains, N: n}}, left: n}
		w.localLen = n
		return
	}
	w.stands = w.standing(s, n, next)
	w.stands.Span = s.Span
	if !w.stands.Counted {
		if w.stands.Space > 0 {
			w.put(Item{Kind: Space, N: 1, Chains: int32(w.stands.Space)})
		}
		return
	}
	if next != nil && len(next.Places) > 0 && next.Places[0].Unit.Kind == grammar.UnitChain {
		w.main.open()
	}
	if w.held != nil && w.stood { // the chain stands where the slip stitches ended
		w.put(Item{Kind: Stitches, Stitch: w.stands.Stitch, N: 1, Turning: true})
		if w.stands.Space > 0 {
			w.put(Item{Kind: Space, N: 1, Chains: int32(w.stands.Space)})
		}
		return
	}
	if !w.main.endless && !(w.main.touched && w.main.inSpace) {
		if next != nil && sameSpace(next) || w.main.i == 0 && w.main.off == 0 && w.main.atSpace() && next != nil && intoSpace(next) && isSame(next) {
			w.main.space(0)
		} else if w.main.items != nil {
			w.take(1)
			w.stood = true
		}
	}
	w.put(Item{Kind: Stitches, Stitch: w.stands.Stitch, N: 1, Turning: true})
	if w.stands.Space > 0 {
		w.put(Item{Kind: Space, N: 1, Chains: int32(w.stands.Space)})
	}
}

func fromHook(s *grammar.Step) bool { return len(s.Places) > 0 && s.Places[0].FromHook }

func isSame(s *grammar.Step) bool {
	return len(s.Places) > 0 && s.Places[0].Kind == grammar.PlaceSame
}

func intoSpace(s *grammar.Step) bool {
	return len(s.Places) > 0 && s.Places[0].Unit.Kind == grammar.UnitSpace
}

func sameSpace(s *grammar.Step) bool { return isSame(s) && intoSpace(s) }

// standing decides what a starting chain of n stands for: by what the step
// says, then by the pattern's Turning chain line, then by custom.
func (w *worker) standing(s *grammar.Step, n int64, next *grammar.Step) StandingChain {
	x := StandingChain{Present: true, Chains: n}
	var first *Stitch
	if next != nil {
		if next.Kind == grammar.StepEven && !next.Stitch.Written() {
			first = w.mainStitch
		} else if st := w.p.book.find(next.Stitch); st != nil {
			first = st.on(w.mainStitch)
			if first == nil {
				first = st
			}
			first = first.base(w.p.book)
			if len(st.Leaves) > 0 && st.Leaves[0].Stitch != nil {
				first = st.Leaves[0].Stitch.base(w.p.book)
			}
		}
	}
	x.Stitch = first
	height := int64(0)
	if first != nil && first.Of != nil {
		height = int64(first.Of.Height)
	}
	if said := s.Standing(); said != nil {
		x.Said, x.Counted, x.throughout = true, !said.Not, said.Throughout
		if said.As.Written() {
			if st := w.find(said.As); st != nil {
				x.Stitch = st
			}
		}
		x.Space = int64(said.Chains.N)
		if x.Stitch == nil {
			x.Stitch = w.byHeight(n)
		}
		return x
	}
	was, met := w.st.standing(first)
	if met && was.throughout {
		x.Said, x.Counted = true, was.counted
		if x.Counted && height > 0 && n > height {
			x.Space = n - height
		}
		return x
	}
	if as, counted, ok := w.p.chainRule(first, n); ok {
		x.Said, x.Counted, x.Stitch = true, counted, as
		if as != nil && as.Of != nil {
			height = int64(as.Of.Height)
		}
		if counted && height > 0 && n > height {
			x.Space = n - height
		}
		return x
	}
	custom := terms.NotCounted
	if first != nil && first.Of != nil {
		custom = first.Of.Counts
	}
	switch {
	case custom == terms.Counted:
		x.Counted = true
		if height > 0 && n > height {
			x.Space = n - height
		}
	case custom == terms.Asked && n == height && met: // it was asked, or said, before
		x.Counted, w.doubted = was.counted != w.alt, true
	case custom == terms.Asked && n == height:
		x.Counted = w.alt
		w.askStanding(s, first, x.Counted)
	case custom == terms.Asked && n > height:
		x.Counted, x.Space = true, n-height
	case height <= 1 && n > 1 && first != nil:
		x.Space = n - height
	}
	return x
}

// byHeight is the plain stitch as tall as a chain of n.
func (w *worker) byHeight(n int64) *Stitch {
	for _, id := range []string{"sc", "hdc", "dc", "tr", "dtr", "trtr"} {
		if s := w.p.book.byID(id); s != nil && int64(s.Of.Height) >= n {
			return s
		}
	}
	return w.mainStitch
}

// askStanding says that makers read a chain both ways; the fix says it plainly.
func (w *worker) askStanding(s *grammar.Step, first *Stitch, counted bool) {
	note := " (does not count as a st)"
	if counted {
		note = " (counts as " + first.Name + ")"
	}
	w.problem(Problem{Kind: TwoReadings, Span: s.Span, Message: w.p.sayStandingUnsaid(s.Count.N, first),
		Plain: []Repair{{Span: grammar.Span{Start: s.Span.End, End: s.Span.End}, New: note, Title: w.p.sayWriteStanding(note)}}})
}

// skippedChains decides what chains skipped before the first stitch stand for.
func (w *worker) skippedChains(s *grammar.Step, skipped int64, st *Stitch) {
	base := st.on(w.mainStitch)
	if base == nil {
		base = st
	}
	base = base.base(w.p.book)
	x := StandingChain{Present: true, Skipped: true, Chains: skipped, Stitch: base, Span: s.Span}
	height, custom := int64(0), terms.NotCounted
	if base.Of != nil {
		height, custom = int64(base.Of.Height), base.Of.Counts
	}
	switch _, counted, ruled := w.p.chainRule(base, skipped); {
	case s.Standing() != nil:
		x.Said, x.Counted, x.Space = true, !s.Standing().Not, int64(s.Standing().Chains.N)
		if s.Standing().As.Written() {
			if as := w.find(s.Standing().As); as != nil {
				x.Stitch = as
			}
		}
	case ruled:
		x.Said, x.Counted = true, counted && skipped >= height
		if skipped > height {
			x.Space = (skipped - height) / 2
		}
	case custom == terms.Counted:
		x.Counted = skipped >= height
		if skipped > height {
			x.Space = (skipped - height) / 2
		}
	case custom == terms.Asked && skipped == height:
		x.Counted = w.alt
		w.askSkipped(s, base, x.Counted)
	case custom == terms.Asked:
		x.Counted = skipped > height
		x.Space = max(skipped-height, 0) / 2
	case height >= 1 && skipped > height:
		x.Space = (skipped - height) / 2
	}
	w.stands = x
	if x.Counted {
		w.put(Item{Kind: Stitches, Stitch: x.Stitch, N: 1, Turning: true})
	}
	if x.Space > 0 {
		w.put(Item{Kind: Space, N: 1, Chains: int32(x.Space)})
	}
}

func (w *worker) askSkipped(s *grammar.Step, base *Stitch, counted bool) {
	note := " (skipped ch do not count)"
	if counted {
		note = " (skipped ch count as " + base.Name + ")"
	}
	at := s.Span.End
	if n := len(s.Places); n > 0 {
		at = s.Places[n-1].Span.End
	}
	w.problem(Problem{Kind: TwoReadings, Span: s.Span, Message: w.p.saySkippedUnsaid(base),
		Plain: []Repair{{Span: grammar.Span{Start: at, End: at}, New: note, Title: w.p.sayWriteStanding(note)}}})
}

// fromHook works into the Nth chain from the hook.
func (w *worker) fromHook(s *grammar.Step, p *grammar.Place, st *Stitch, n int64) {
	nth := int64(p.Count.N)
	var k *walk
	first := false
	switch {
	case w.local != nil && w.local.left == w.localLen:
		k = w.local
	case w.chainJust && len(w.out) > 0:
		last := w.out[len(w.out)-1]
		chains := int64(last.Chains)
		if last.N == 1 {
			w.out = w.out[:len(w.out)-1]
		} else {
			w.out[len(w.out)-1].N--
		}
		if st.kind() == terms.Slip && nth >= chains {
			w.group(w.p.book.picot(), 1)
			return
		}
		w.local = &walk{items: []Item{{Kind: Chains, N: chains}}, left: chains}
		w.localLen = chains
		k = w.local
	case w.main.i == 0 && w.main.off == 0 && w.main.atChains():
		k, first = &w.main, true
	default:
		if w.main.vague || w.main.endless {
			w.placed(st, n, 1, p.Loop)
			return
		}
		w.noPlace(p.Span, w.p.sayNoChain(w.name()), Spoken{})
		return
	}
	if nth > k.left {
		w.noPlace(p.Span, w.p.sayChainShort(nth, k.left), Spoken{})
		return
	}
	k.stitches(nth - 1)
	if w.chain == nil && first && w.st.found != nil {
		w.chain = &foundation{chains: w.st.found.chains, label: w.label}
	}
	if first {
		w.chain.near = n > 1
		w.chain.skipped = nth - 1
		w.avail = k.left
		w.skippedChains(s, nth-1, st)
	}
	w.placed(st, n, 1, p.Loop)
}

// otherSide opens the loops along the other side of the foundation chain.
func (w *worker) otherSide(s *grammar.Step) {
	f := w.chain
	same := f != nil
	if f == nil {
		f = w.st.found
	}
	if f == nil {
		if w.main.vague {
			return
		}
		w.noPlace(s.Span, w.p.sayNoFoundation(w.name()), w.beginning())
		return
	}
	if f.otherUsed {
		w.noPlace(s.Span, w.p.sayOtherUsed(w.name()), w.spoken(SpokenWorked, f.otherBy))
		return
	}
	left := int64(0)
	if same && !w.onEdge {
		left = w.main.left
	}
	w.leftEarly += left
	n := f.chains - f.skipped
	if w.far = len(s.Places) > 0; same && !w.far {
		n-- // the chain at the far end was gone round
		if f.near {
			n-- // and so was the one at the near end
		}
	}
	w.main = walk{items: []Item{{Kind: Chains, N: max(n, 0)}}, left: max(n, 0)}
	w.spare = f.skipped > 0 || f.near
	w.onEdge, w.other, w.fresh = false, true, true
	w.avail += max(n, 0)
	used := *f
	used.otherUsed, used.otherBy = true, w.label
	w.chain = &used
}

// slipJoins works slip stitches that are no stitches of the round: joins, a
// picot's, and those that travel to where the round begins.
func (w *worker) slipJoins(s *grammar.Step) bool {
	if len(s.Places) == 0 {
		return false
	}
	p := &s.Places[0]
	if w.closesPicot(p) {
		w.out = w.out[:len(w.out)-1]
		w.group(w.p.book.picot(), 1)
		return true
	}
	switch p.Kind {
	case grammar.PlaceFirst, grammar.PlaceTop, grammar.PlaceTurning:
		if w.ringOfChain() {
			return true
		}
		if w.makes == 0 && w.depth == 0 && len(w.out) == 0 {
			return false // nothing is there to join to yet
		}
		w.joined = true
		return true
	case grammar.PlaceNth:
		return p.Kind == grammar.PlaceNth && !p.FromHook && w.makes > 0 && w.main.left == 0
	}
	return false
}

// closesPicot says whether a slip stitch closes the chain right before it into
// a picot: into the stitch it came from, its first chain, or the top of the
// stitch below it.
func (w *worker) closesPicot(p *grammar.Place) bool {
	if !w.chainJust || len(w.out) == 0 || w.out[len(w.out)-1].Kind != Space {
		return false
	}
	within := w.depth > 0 || len(w.rest) > 0
	switch p.Kind {
	case grammar.PlaceSame:
		return true
	case grammar.PlaceFirst:
		return p.Unit.Kind == grammar.UnitChain && within
	case grammar.PlaceTop, grammar.PlaceLast:
		return p.Unit.Kind == grammar.UnitTerm && within
	}
	return false
}

// travels says whether slip stitches only go to where the round begins: a
// starting chain follows them.
func travels(rest []grammar.Step) bool {
	for i := range rest {
		s := &rest[i]
		switch {
		case s.Kind == grammar.StepYarn, s.Kind == grammar.StepMarker, s.Kind == grammar.StepTurn:
		case s.Kind != grammar.StepWork:
			return false
		case isChainRef(s.Stitch):
			return len(s.Places) == 0
		case s.Stitch.Known(terms.US) == nil || s.Stitch.Known(terms.US).Kind != terms.Slip:
			return false
		}
	}
	return false
}

// ringOfChain joins a foundation that nothing was worked into yet.
func (w *worker) ringOfChain() bool {
	if w.chain == nil || w.makes > 0 || w.main.touched || w.chain.ring {
		return false
	}
	w.chain.ring = true
	w.main = walk{endless: true, ringOf: w.chain.chains}
	return true
}

// join joins a round, a ring, a yarn, or this piece onto another.
func (w *worker) join(s *grammar.Step) {
	if s.Form || len(s.Places) == 0 {
		if w.ringOfChain() {
			return
		}
	}
	if len(s.Places) == 0 {
		w.joined = true
		return
	}
	p := &s.Places[0]
	begins := w.makes == 0 && len(w.out) == 0
	switch {
	case p.Kind == grammar.PlacePiece:
		w.main = walk{endless: true}
		w.onEdge, w.fresh = false, true
	case p.Kind == grammar.PlaceFirst && w.ringOfChain():
	case !begins:
		w.joined = true
	case p.Of().Written():
		uses := w.uses
		w.goTo(p, s.Span) // joining there uses no stitch up
		w.uses = uses
	case p.Kind == grammar.PlaceFree, p.Kind == grammar.PlaceUnworked, p.Kind == grammar.PlaceOther, p.Unit.Kind == grammar.UnitRowEnd:
		w.goTo(p, s.Span)
	case p.Unit.Kind == grammar.UnitSpace && p.Kind != grammar.PlaceSame:
		w.rotate(p)
	}
	if begins && s.Stitch.Written() {
		if st := w.find(s.Stitch); st != nil && st.kind() != terms.Slip {
			if p.Unit.Kind == grammar.UnitSpace {
				w.main.space(p.Unit.Chains)
				w.make(st, 1)
			} else {
				w.work(st, 1, s.Loop)
			}
		}
	}
}

// rotate begins a round at the first space that fits.
func (w *worker) rotate(p *grammar.Place) {
	if w.main.vague || w.main.endless {
		return
	}
	probe := w.main
	if !probe.space(p.Unit.Chains) {
		w.noPlace(p.Span, w.p.sayNoSpace(w, p.Unit.Chains), Spoken{Kind: SpokenSpaces})
		return
	}
	for w.main.i < len(w.main.items) && !(w.main.atSpace() && (p.Unit.Chains == 0 || w.main.items[w.main.i].Chains == p.Unit.Chains)) {
		w.main.items = append(w.main.items[1:len(w.main.items):len(w.main.items)], w.main.items[0])
	}
}
