package fabric

import (
	"slices"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// goTo makes another place than the edge what the round is worked into.
func (w *worker) goTo(p *grammar.Place, span grammar.Span) {
	switch {
	case p.Of().Written():
		if e, ok := w.copyOf(p, true); ok {
			w.main = walkOf(e)
			w.onEdge, w.fresh = false, true
			w.avail = e.Stitches()
		}
	case p.Kind == grammar.PlaceFree:
		if n, ok := w.freeLoops(p); ok {
			w.main = walk{items: []Item{{Kind: Stitches, N: n}}, left: n, vague: true}
			w.freeUsed = append(w.freeUsed, freeUse{int64(p.Rnd().N), n})
			w.onEdge, w.fresh = false, true
			w.avail = n
			w.freeMain = int64(p.Rnd().N)
		}
	case p.Kind == grammar.PlaceUnworked:
		if items, ok := w.unworked(p); ok {
			w.main = walkOf(&Edge{Items: items})
			w.onEdge, w.fresh = false, true
			w.avail = countStitches(items)
		}
	case p.Kind == grammar.PlaceOther:
		step := grammar.Step{Span: span}
		if p.Count.Written() {
			step.Places = []grammar.Place{*p}
		}
		w.otherSide(&step)
	case p.Unit.Kind == grammar.UnitRowEnd:
		w.main = walk{endless: true}
		w.onEdge, w.fresh = false, true
	}
}

// elsewhere works into loops or stitches that are not next on the edge.
func (w *worker) elsewhere(s *grammar.Step, p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	if p.Kind == grammar.PlaceUnworked && p.Rnd().N == 0 && !p.Each && w.skipped >= int64(p.Count.N) || p.Kind == grammar.PlaceUnworked && p.Rnd().N == 0 && !p.Count.Written() && w.skipped > 0 {
		w.skipped -= int64(p.Count.N) // a stitch that this round skipped
		w.make(st, mul(n, int64(p.Count.N)))
		return
	}
	if p.Kind == grammar.PlaceOther && w.alongHere(p, st, n) {
		return
	}
	already := p.Kind == grammar.PlaceFree && w.freeMain > 0 && w.freeMain == int64(p.Rnd().N)
	if already || w.takes == 0 && w.makes == 0 || p.Kind == grammar.PlaceOther {
		if !already {
			w.goTo(p, s.Span)
		}
		if w.dead {
			return
		}
		w.allOr(s, p, st, n, loop)
		return
	}
	saved, onEdge, fresh, avail := w.main, w.onEdge, w.fresh, w.avail
	used, takes := len(w.freeUsed), w.takes
	w.goTo(p, s.Span)
	if !w.dead {
		w.allOr(s, p, st, n, loop)
	}
	if len(w.freeUsed) > used { // only what was worked is used up
		w.freeUsed[used].n = w.takes - takes
	}
	w.main, w.onEdge, w.fresh, w.avail = saved, onEdge, fresh, avail+w.avail
	w.freeMain = 0
}

// allOr works n stitches one after another into where the round now is, or
// into as many places as the step names, or into all.
func (w *worker) allOr(s *grammar.Step, p *grammar.Place, st *Stitch, n int64, loop grammar.Loop) {
	switch {
	case p.Kind == grammar.PlaceFree && !p.Each && !p.Count.Written() && !s.Count.Written():
		w.placed(st, n, 1, loop)
	case p.Count.Written():
		if n == int64(p.Count.N) {
			n = 1
		}
		w.placed(st, n, int64(p.Count.N), loop)
	case s.Count.Written() && !p.Each:
		w.work(st, n, loop)
	case s.Count.Written() && p.Kind == grammar.PlaceFree && !eachWritten(w.text, p):
		w.work(st, n, loop)
	default:
		w.fillWith(st, n, p.Fill, loop, s.Span)
	}
}

// eachWritten says whether a place says "each" in so many words.
func eachWritten(text string, p *grammar.Place) bool {
	said := p.Span.In(text)
	return p.Each && (hasWord(said, "each") || hasWord(said, "every") || hasWord(said, "all"))
}

// alongHere works along the other side of a chain that is on the edge itself.
func (w *worker) alongHere(p *grammar.Place, st *Stitch, n int64) bool {
	k := w.source()
	if k.vague && !k.endless && w.onEdge {
		w.placed(st, n, int64(p.Count.N), p.Loop)
		return true
	}
	if !k.atSpace() {
		return false
	}
	count := int64(p.Count.N)
	if p.Each {
		count = int64(k.items[k.i].Chains)
	}
	return w.alongSpace(k, st, n, count)
}

// freeLoops finds the loops of a round that were left free.
func (w *worker) freeLoops(p *grammar.Place) (int64, bool) {
	label := int64(p.Rnd().N)
	free, used := int64(0), int64(0)
	if label > 0 {
		w.st.free.of(label, func(x looseLoops) { free, used = free+x.free, used+x.used })
	} else if w.st.free != nil {
		free, used = w.st.free.last.allFree, w.st.free.last.allUsed
	}
	for _, f := range w.freeUsed {
		if label == 0 || f.label == label {
			used += f.n
		}
	}
	if w.main.vague && w.onEdge && free == 0 {
		// an edge known by its total only may hide how it was worked
		if w.hidden(label) {
			return w.main.left, true
		}
	}
	switch {
	case free == 0:
		w.noPlace(p.Span, w.p.sayNoFreeLoops(w, label), w.spoken(SpokenLoops, label))
	case used >= free:
		w.noPlace(p.Span, w.p.sayFreeLoopsUsed(w, label), w.spoken(SpokenWorked, w.loopsUsedBy(label)))
	default:
		return free - used, true
	}
	return 0, false
}

// hidden says whether the round above a label could not be worked out, so that
// nobody knows which loops it left.
func (w *worker) hidden(label int64) bool {
	for n := label; n <= label+1; n++ {
		if i := w.below.numbered(n); i >= 0 && !w.below.at(i).Known && int64(w.below.at(i).Node.From.N) == n {
			return true
		}
	}
	return false
}

// unworked finds stitches that an earlier round left on purpose.
func (w *worker) unworked(p *grammar.Place) ([]Item, bool) {
	items, ok := w.st.loose.latest(int64(p.Rnd().N))
	if p.Rnd().N == 0 && w.st.loose != nil {
		items, ok = w.st.loose.last, true
	}
	if !ok {
		w.noPlace(p.Span, w.p.sayNoUnworked(w, int64(p.Rnd().N)), w.spoken(SpokenRound, int64(p.Rnd().N)))
		return nil, false
	}
	return items, true
}

// copyOf finds the edge of a piece that is worked into, the next copy of it.
func (w *worker) copyOf(p *grammar.Place, all bool) (*Edge, bool) {
	piece := w.p.pieceNamed(p.Of().Text)
	if piece == nil {
		w.noPlace(p.Of().Span, w.p.sayNoPiece(p.Of().Text), Spoken{Kind: SpokenMake, Piece: p.Of().Text})
		return nil, false
	}
	last := piece.Last()
	if last == nil || last.Meant == nil || last.Meant.Unknown {
		return &Edge{Unknown: true}, true
	}
	n := last.Meant.Stitches()
	copies := max(piece.Make, 1)
	was, _ := w.uses.latest(int64(piece.At))
	if p.OfNth() == grammar.BothCopies {
		if copies != 2 {
			w.noPlace(p.Of().Span, w.p.sayNotBoth(piece), Spoken{Kind: SpokenMake, Piece: piece.Name})
			return nil, false
		}
		if was.upTo > 0 {
			w.noPlace(p.Of().Span, w.p.sayPieceUsed(piece), Spoken{Kind: SpokenMake, Piece: piece.Name})
			return nil, false
		}
		w.uses = w.uses.and(int64(piece.At), use{upTo: copies}, copies*n)
		both := &Edge{Items: slices.Concat(last.Meant.Items, last.Meant.Items), Vague: last.Meant.Vague}
		return both, true
	}
	next := was.upTo + 1
	if p.OfNth() > 0 {
		next = int64(p.OfNth())
	}
	if next > copies {
		// every copy was begun: go on with the first that has stitches left
		if was.open {
			return w.partOf(last.Meant, was.taken), true
		}
		w.noPlace(p.Of().Span, w.p.sayPieceUsed(piece), Spoken{Kind: SpokenMake, Piece: piece.Name})
		return nil, false
	}
	taken := n
	if !all {
		taken = min(int64(p.Count.N), n)
	}
	now := use{upTo: max(was.upTo, next), open: was.open, taken: was.taken}
	if !was.open && taken < n {
		now.open, now.taken = true, taken
	}
	w.uses = w.uses.and(int64(piece.At), now, taken)
	return last.Meant, true
}

// partOf is an edge without its first stitches.
func (w *worker) partOf(e *Edge, taken int64) *Edge {
	k := walkOf(e)
	k.stitches(taken)
	return &Edge{Items: k.remainder(), Vague: e.Vague}
}

// intoPiece works into the last round of another piece.
func (w *worker) intoPiece(s *grammar.Step, p *grammar.Place, st *Stitch, n int64) {
	all := p.Kind == grammar.PlaceEach
	e, ok := w.copyOf(p, all)
	if !ok {
		return
	}
	if w.onEdge && !w.main.touched {
		w.onEdge = false
	}
	if !w.hasSource() {
		w.main.items = []Item{}
	}
	w.fresh = w.fresh || !w.onEdge
	has := e.Stitches()
	count := int64(p.Count.N)
	switch {
	case e.Unknown && all:
		w.unknown = true
		return
	case e.Unknown:
		has = count
	case all:
		count = max(has-int64(p.Fill.Left().N), 0)
	}
	if s.Count.Written() && !s.Before && p.Kind == grammar.PlaceNext && !p.Count.Written() {
		count, n = n, 1
	}
	if n == count && count > 1 {
		n = 1
	}
	if count > has {
		w.over += count - has
		w.overWhat = w.p.sayPieceShort(w.name(), count, has, p.Of().Text)
		w.overSpan = s.Span
		w.overOf = Spoken{Kind: SpokenPiece, Piece: p.Of().Text}
		w.demand = short
	}
	w.takes += count
	w.avail += has
	if st.kind() == terms.Decrease {
		w.make(st, count/max(st.Takes, 1))
		return
	}
	w.make(st, mul(n, count))
}
