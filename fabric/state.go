package fabric

import "workeven/grammar"

// state is all that a round needs to know of what was worked before it. It is
// a value: what is added to a list in it makes a new one.
type state struct {
	edge *Edge
	// label is the number of the round below, row whether it was a row.
	label int64
	row   bool
	found *foundation
	// free are loops left free, by the round they belong to.
	free *ledger[looseLoops]
	// loose are stitches left unworked, by the round they belong to.
	loose *ledger[[]Item]
	// pending is a chain that ended the row below and begins this one.
	pending *grammar.Step
	// uses are of other pieces, by the statement that they begin at.
	uses *ledger[use]
	// stood is what starting chains were taken for, by the stitch that follows.
	stood *stoodList
}

// stood is what a starting chain was taken for where that is not plain: because
// it was said for what follows, or because makers differ.
type stood struct {
	stitch  *Stitch
	counted bool
	// throughout is set where it was said to hold from there on.
	throughout bool
}

// stoodList is one of them, and those before it.
type stoodList struct {
	stood
	before *stoodList
}

// stands is the state with one more; what was said of a stitch to hold from there
// on holds until it is said anew.
func (st *state) stands(x stood) {
	was, met := st.standing(x.stitch)
	if met && (was == x || was.throughout && !x.throughout) {
		return
	}
	st.stood = &stoodList{x, st.stood}
}

// standing is what a starting chain before a stitch was taken for last.
func (st *state) standing(s *Stitch) (stood, bool) {
	for l := st.stood; l != nil; l = l.before {
		if l.stitch == s {
			return l.stood, true
		}
	}
	return stood{}, false
}

// looseLoops are loops of a round left free by working into the other ones, and
// such loops worked into, by the round that did either. All counts those of
// every round known by then.
type looseLoops struct {
	free, used, by   int64
	allFree, allUsed int64
}

// frees is the state with more loops of a round left free, or worked into, by
// another.
func (st *state) frees(label, free, used, by int64) {
	x := looseLoops{free: free, used: used, by: by, allFree: free, allUsed: used}
	if st.free != nil {
		x.allFree += st.free.last.allFree
		x.allUsed += st.free.last.allUsed
	}
	st.free = st.free.and(label, x, free-used)
}

// freeUse is so many free loops of a round worked into.
type freeUse struct{ label, n int64 }

// use is what was worked into of the copies of a piece: up to which copy, and
// how much of the first of them that has stitches left.
type use struct {
	upTo  int64
	open  bool
	taken int64
}

// foundation is the chain a piece begins with.
type foundation struct {
	chains, skipped int64
	// ring is set where it was joined into one.
	ring bool
	// label is the round that was worked into it; pivot says that it went round
	// the end, so that the last chain is shared by both sides.
	label int64
	// otherUsed is set once its other side was worked, by the round otherBy.
	otherUsed bool
	otherBy   int64
	// near is set where the chain at the hook's end was gone round at the start.
	near bool
}
