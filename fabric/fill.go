package fabric

import (
	"slices"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// evenly spreads increases or decreases among stitches of a kind, or a number of
// stitches, over all that is left.
func (w *worker) evenly(s *grammar.Step, st *Stitch, n int64, among *Stitch) {
	k := w.source()
	left := k.left
	if k.endless {
		w.unknown = w.unknown || st.kind() == terms.Increase || st.kind() == terms.Decrease
		w.make(st, n)
		return
	}
	switch st.kind() {
	case terms.Increase, terms.Decrease:
		need := n * st.Takes
		if need > left {
			w.takes += need
			w.over += need - left
			w.demand = short
			w.make(st, n)
			return
		}
		w.take(left)
		on := st.on(among)
		w.put(Item{Kind: Stitches, Stitch: on, N: left - need + n*st.Makes})
	default:
		w.take(left)
		w.make(st, n)
	}
	w.free(s.Loop, left)
}

// fillWith works n of a stitch into each place up to the end of the edge, or
// up to the stitches that are to be left.
func (w *worker) fillWith(st *Stitch, n int64, fill grammar.Fill, loop grammar.Loop, span grammar.Span) {
	if !w.hasSource() {
		w.nothingBelow(span)
		return
	}
	k := w.source()
	if k.endless {
		w.unknown = true
		w.make(st, n)
		return
	}
	keep := int64(fill.Left().N)
	if keep == 0 && w.turningLater(k) {
		keep = 1
	}
	left := max(k.left-keep, 0)
	if keep > k.left {
		w.over += keep - k.left
		w.demand = short
	}
	if st.Takes <= 1 || n > 1 {
		w.free(st.loop(loop), left)
		w.take(left)
		w.make(st, mul(left, n))
		return
	}
	w.work(st, left/st.Takes, loop)
	if rem := left % st.Takes; rem > 0 {
		w.doesNotFit(repeatFit{span: span, avail: left, takes: st.Takes, makes: st.Makes})
		if fill.Kind != grammar.FillToLast {
			w.takes += rem
			w.source().stitches(rem)
			w.makePartly(st, rem)
		}
	}
}

// turningLater says whether the turning chain is named by a later step, so that
// "each st across" stops before it.
func (w *worker) turningLater(k *walk) bool {
	if w.depth > 0 || k.left == 0 || k.vague || len(k.items) == 0 || !k.items[len(k.items)-1].Turning {
		return false
	}
	for i := range w.rest {
		s := &w.rest[i]
		if s.Kind == grammar.StepWork && len(s.Places) > 0 && (s.Places[0].Kind == grammar.PlaceTop || s.Places[0].Kind == grammar.PlaceTurning) {
			t := s.Stitch.Known(w.p.book.sys)
			return t == nil || t.Kind != terms.Slip
		}
	}
	return false
}

// turn turns the work in the middle of a row: what was made so far is what the
// rest of the steps is worked into.
func (w *worker) turn(rest []grammar.Step) {
	worked := w.makes
	if w.stands.Counted {
		worked--
	}
	switch {
	case worked <= 0:
		return // the edge was turned before the round began
	case !hasWork(rest):
		w.endTurn = !w.endTurn
		return
	}
	if !w.midTurn {
		w.midTakes = w.takes
	}
	w.midTurn = true
	w.turns++
	edge := (&Edge{Items: slices.Clone(w.out), Beyond: w.main.remainder()}).reversed()
	w.main = walkOf(edge)
	w.onEdge, w.leaves = true, true
	w.out, w.makes = nil, 0
}
