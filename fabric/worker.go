package fabric

import (
	"slices"
	"sync"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Bounds that keep hostile input cheap: no round that a maker works comes near.
const (
	maxItems  = 1 << 14 // items of one edge
	maxSteps  = 1 << 16 // steps walked one by one in one round
	maxRounds = 1 << 12 // rounds of one range worked one by one
	// manyStitches bounds every number of stitches, so that none overflows.
	manyStitches = int64(1) << 50
)

// worker works one round.
type worker struct {
	p     *Pattern
	piece *Piece
	// shelf is the piece's where it has one, else alone, which stays empty.
	shelf *shelf
	alone shelf
	// below are the piece's rounds before this one.
	below lower
	st    state
	// label is the number of the round that is worked.
	label int64
	row   bool

	main walk // what is worked into
	// onEdge is set while main is the edge below; fresh once the round went
	// elsewhere, so that the edge is set aside.
	onEdge, fresh bool
	// local is a chain made in this round that is worked back along.
	local    *walk
	localLen int64

	out          []Item
	takes, makes int64
	avail, over  int64
	// gained counts places that were there, so that a repeat knows whether it got any.
	gained int64
	// freed counts stitches worked so that a loop of theirs is left free.
	freed  int64
	groups []StitchCount

	// loop is what "in BLO," set for all that follows.
	loop       grammar.Loop
	mainStitch *Stitch
	// depth is how deep in brackets the work is; quiet while a repeat is tried;
	// bound while a last repeat is worked in part.
	depth, quiet, bound int
	// stood is set while a starting chain stands on the first stitch and
	// nothing else was worked.
	stood  bool
	stands StandingChain
	// alt takes the second reading of wordings that have two.
	alt bool
	// askedInc is set where increases at the end may be meant to be spaced out.
	askedInc bool
	// doubted is set where a starting chain was taken as one before it was, which
	// nobody said.
	doubted bool
	// chainJust is set right behind a chain that made a space; chainMark counts those.
	chainJust bool
	chainMark int

	leftSaid  grammar.Count
	leftEarly int64
	joined    bool
	turned
	// noTurn is set by "do not turn".
	noTurn  bool
	pending *grammar.Step
	chain   *foundation
	// spare is set while the skipped chain at the hook's end can still be worked.
	spare bool
	// askedSpace is the length of the chain space last worked into, 0 for any.
	askedSpace int32
	// skipped counts stitches skipped in this round that may still be worked.
	skipped int64
	// held is the place that travelling slip stitches ended in.
	held []Item
	// joint is set for a step that was worked together with the one before it.
	joint *grammar.Step
	// far is set where single chains of the other side are worked, not all of it.
	far bool
	// ownUsed counts chains of this round that it worked back along.
	ownUsed  int64
	freeMain int64
	freeUsed []freeUse
	uses     *ledger[use]

	// slipped is the round that this one repeats, where that is a slip itself.
	slipped *Round
	// other is set once the round works along the other side of the chain.
	other                 bool
	dead, unknown, misfit bool
	demand                demandKind
	budget                int
	problems              []Problem
	overWhat              string
	overSpan              grammar.Span
	overOf                Spoken
	text                  string
	// steps are the round's, rest those behind the one in work.
	steps, rest []grammar.Step
	bodies      []body
	trace       func(*grammar.Step, *worker, bool)
}

// turned is what turns have made of a round.
type turned struct {
	// midTurn is set by a turn within a row, endTurn by one at its end.
	midTurn, endTurn bool
	// turns counts those within the row: each begins another edge.
	turns int
	// midTakes is what was taken before a turn within the row.
	midTakes int64
	// leaves is set where stitches may be left unworked.
	leaves bool
}

var workers = sync.Pool{New: func() any { return new(worker) }}

func newWorker() *worker {
	w := workers.Get().(*worker)
	*w = worker{out: w.out[:0], budget: maxSteps}
	w.shelf = &w.alone
	return w
}

// release hands a worker back; nothing of it may be used any more.
func (w *worker) release() { workers.Put(w) }

type demandKind uint8

const (
	met demandKind = iota
	short
	noSpace
)

// snapshot is what has to be put back when a repeat is found not to fit.
type snapshot struct {
	main, localCopy walk
	local           *walk
	out             []Item
	turned
	lastN              int64
	takes, makes, over int64
	freed, gained      int64
	groups             []StitchCount
	problems           int
	demand             demandKind
	stood              bool
	loop               grammar.Loop
	uses               *ledger[use]
}

func (w *worker) save() snapshot {
	s := snapshot{main: w.main, local: w.local, out: w.out, turned: w.turned, takes: w.takes, makes: w.makes, over: w.over, freed: w.freed,
		gained: w.gained, groups: slices.Clone(w.groups), problems: len(w.problems), demand: w.demand, stood: w.stood, loop: w.loop,
		uses: w.uses}
	if w.local != nil {
		s.localCopy = *w.local
	}
	if n := len(w.out); n > 0 {
		s.lastN = w.out[n-1].N
	}
	return s
}

func (w *worker) restore(s snapshot) {
	w.main, w.local = s.main, s.local
	if s.local != nil {
		*w.local = s.localCopy
	}
	if w.turns != s.turns {
		w.out = s.out // a turn began another
	}
	w.turned = s.turned
	w.out = w.out[:len(s.out)]
	if n := len(s.out); n > 0 {
		w.out[n-1].N = s.lastN
	}
	w.takes, w.makes, w.over, w.freed, w.gained = s.takes, s.makes, s.over, s.freed, s.gained
	w.groups, w.problems, w.demand = s.groups, w.problems[:s.problems], s.demand
	w.stood, w.loop, w.uses = s.stood, s.loop, s.uses
}

// put adds places to the new edge.
func (w *worker) put(i Item) {
	if i.N <= 0 {
		return
	}
	if i.Kind == Stitches {
		w.makes += i.N
	}
	if w.makes > manyStitches || i.N > manyStitches {
		w.tooLong()
		return
	}
	if len(w.out) >= maxItems && !w.out[len(w.out)-1].like(i) {
		w.tooLong()
		return
	}
	w.out = appendItem(w.out, i)
}

// mul multiplies two counts, stopping at more than any round may have.
func mul(a, b int64) int64 {
	if a > 0 && b > 2*manyStitches/a {
		return 2 * manyStitches
	}
	return a * b
}

// tooLong gives a round up that no maker could work.
func (w *worker) tooLong() {
	if !w.dead {
		w.dead, w.unknown = true, true
		w.problem(Problem{Kind: TooManyWorked, Span: w.spanOfSteps(), Message: w.p.sayTooLong(w.name()), Of: Spoken{Kind: SpokenNothing}})
	}
}

func (w *worker) problem(p Problem) {
	p.Of = w.speaksOf(p.Of)
	w.problems = append(w.problems, p)
}

// make puts n times what a stitch leaves on the new edge.
func (w *worker) make(s *Stitch, n int64) {
	if n <= 0 {
		return
	}
	if n > manyStitches/max(s.Makes, 1) {
		w.tooLong()
		return
	}
	if s.Leaves != nil {
		w.group(s, n)
		if len(s.Leaves) == 1 {
			i := s.Leaves[0]
			i.N *= n
			w.put(i)
			return
		}
		if n > maxItems {
			w.tooLong()
			return
		}
		for range n {
			for _, i := range s.Leaves {
				w.put(i)
			}
		}
		return
	}
	if s.Makes == 0 {
		w.group(s, n)
	}
	w.put(Item{Kind: Stitches, Stitch: s.on(w.mainStitch), N: n * s.Makes})
}

// group counts stitches that leave none or several on the edge, such as shells
// and picots, since a total may count them.
func (w *worker) group(s *Stitch, n int64) {
	for _, x := range s.within {
		w.group(x.Stitch, mul(x.N, n))
	}
	for i := range w.groups {
		if w.groups[i].Stitch == s {
			w.groups[i].N += n
			return
		}
	}
	w.groups = append(w.groups, StitchCount{s, n})
}

// source is what a plain step is worked into now.
func (w *worker) source() *walk {
	if w.local != nil && (w.local.left > 0 || w.local.endless) {
		return w.local
	}
	w.local = nil
	return &w.main
}

// take takes n stitches for a step and says how many were there.
func (w *worker) take(n int64) int64 { return w.taken(n, w.source().stitches(n)) }

// taken books n stitches asked for, of which got were there.
func (w *worker) taken(n, got int64) int64 {
	w.gained += got
	w.stood = false
	if got < n && w.demand == met {
		w.demand = short
	}
	if w.bound > 0 {
		w.takes += got
		return got
	}
	w.takes += n
	w.over += n - got
	return got
}

// work works n of a stitch into the next stitches.
func (w *worker) work(s *Stitch, n int64, loop grammar.Loop) {
	if n <= 0 {
		return
	}
	if s.kind() == terms.Foundation {
		w.make(s, n)
		return
	}
	if s.Takes == 0 {
		w.make(s, n)
		return
	}
	want := mul(n, s.Takes)
	got := w.take(want)
	w.free(s.loop(loop), got)
	if w.bound > 0 && got < want { // the last, partial repeat
		w.makePartly(s, got)
		return
	}
	w.make(s, n)
}

// makePartly makes what a repeat that is cut short can still make: whole
// stitches as far as the edge goes, then of the one that is cut all but what
// is missing.
func (w *worker) makePartly(s *Stitch, got int64) {
	whole := got / s.Takes
	w.make(s, whole)
	part := got % s.Takes
	missing := s.Takes - part
	if n := max(s.Makes-missing, min(part, 1)); n > 0 && s.Leaves == nil {
		w.put(Item{Kind: Stitches, Stitch: s.on(w.mainStitch), N: n})
	}
}

// free remembers loops that working into the other ones leaves free.
func (w *worker) free(loop grammar.Loop, n int64) {
	if loop == grammar.LoopUnsaid {
		loop = w.loop
	}
	if (loop == grammar.LoopBack || loop == grammar.LoopFront) && w.onEdge && w.local == nil {
		w.freed += n
	}
}

// run works steps one after another.
func (w *worker) run(steps []grammar.Step) {
	for i := range steps {
		if w.dead || w.bound > 0 && w.demand != met {
			return
		}
		w.step(&steps[i], steps[i+1:])
	}
}

func (w *worker) step(s *grammar.Step, rest []grammar.Step) {
	if w.budget--; w.budget < 0 {
		w.tooLong()
		return
	}
	if w.trace != nil {
		w.trace(s, w, false)
		defer w.trace(s, w, true)
	}
	mark := w.chainMark
	w.rest = rest
	switch s.Kind {
	case grammar.StepWork:
		w.stitch(s, rest)
	case grammar.StepBracket, grammar.StepStar:
		w.groupStep(s)
	case grammar.StepSkip:
		w.skip(s)
	case grammar.StepJoin:
		w.join(s)
	case grammar.StepTurn:
		w.turn(rest)
	case grammar.StepLeave:
		w.leaves, w.leftSaid = true, s.Count
	case grammar.StepOtherSide:
		w.otherSide(s)
	case grammar.StepEven:
		st := w.mainStitch
		if s.Stitch.Written() {
			st = w.find(s.Stitch)
		}
		if st != nil {
			w.fillWith(st, 1, s.Fill, s.Loop, s.Span)
		}
	case grammar.StepLoops:
		w.loop = s.Loop
		if len(s.Places) > 0 {
			switch p := &s.Places[0]; p.Kind {
			case grammar.PlaceRing, grammar.PlaceMagicRing:
				w.ring()
			default:
				w.goTo(p, s.Span)
			}
		}
	case grammar.StepDoNot:
		w.noTurn = w.noTurn || hasWord(s.Span.In(w.text), "turn") || hasWord(s.Span.In(w.text), "turning")
	case grammar.StepStanding:
		return // read together with the chain that it speaks of
	case grammar.StepMarker:
		return
	}
	if w.chainMark == mark {
		w.chainJust = false
	}
}

// find resolves a stitch, and gives the round up where nobody knows it.
func (w *worker) find(r grammar.Ref) *Stitch {
	s := w.p.book.find(r)
	if s == nil {
		w.unknown = true
		w.problem(Problem{Kind: UnknownTerm, Span: r.Span, Message: w.p.sayUnknown(r)})
	}
	return s
}

// stitch works one step of stitches.
func (w *worker) stitch(s *grammar.Step, rest []grammar.Step) {
	if s == w.joint {
		return
	}
	st := w.find(s.Stitch)
	if st == nil {
		return
	}
	switch st.kind() {
	case terms.Chain:
		w.chainStep(s, rest)
		return
	case terms.Ring:
		w.ring()
		return
	case terms.Slip:
		if w.slipJoins(s) {
			return
		}
		if w.depth == 0 && len(w.out) == 0 && w.makes == 0 && travels(rest) {
			defer w.travelled(w.main)
		}
	}
	n := int64(s.Count.N)
	switch {
	case s.Evenly && s.Count.Written():
		w.evenly(s, st, n, w.mainStitch)
	case len(rest) > 0 && st.kind() == terms.Plain && w.hasSource() && w.spreads(s, &rest[0]):
		w.joint = &rest[0]
		w.evenly(w.joint, w.find(w.joint.Stitch), int64(w.joint.Count.N), st)
	case len(s.Places) == 0 && s.Fill.Kind != grammar.FillNone:
		w.fillWith(st, n, s.Fill, s.Loop, s.Span)
	case len(s.Places) == 0:
		if !w.hasSource() && st.Takes > 0 {
			w.nothingBelow(s.Span)
			return
		}
		w.work(st, n, s.Loop)
	case len(rest) > 0 && eachTwice(s, &rest[0]):
		next := &rest[0]
		if other := w.find(next.Stitch); other != nil {
			w.joint = next
			w.bothEach([]goes{{&s.Places[0], st, n}, {&next.Places[0], other, int64(next.Count.N)}})
		}
	default:
		w.inPlaces(s, st, n)
	}
}

// spreads says whether a step goes all along the edge and the next says how many
// to increase or decrease on the way: "sc around, inc 6 evenly".
func (w *worker) spreads(s, next *grammar.Step) bool {
	if next.Kind != grammar.StepWork || !next.Evenly || !next.Count.Written() || s.Count.N != 1 {
		return false
	}
	switch st := w.p.book.find(next.Stitch); {
	case st == nil, st.kind() != terms.Increase && st.kind() != terms.Decrease:
		return false
	case len(s.Places) == 0:
		return s.Fill.Kind != grammar.FillNone && s.Fill.Kind != grammar.FillToLast
	}
	p := &s.Places[0]
	return len(s.Places) == 1 && p.Kind == grammar.PlaceEach && p.Unit.Kind == grammar.UnitSt && p.Fill.Kind != grammar.FillToLast && !p.Of().Written()
}

// travelled ends a slip stitch that only went to where the round begins. What
// it went over comes last in a round; in a row it is left behind.
func (w *worker) travelled(before walk) {
	w.out, w.makes = w.out[:0], 0
	k := &w.main
	if k.endless || k.vague || len(k.items) != len(before.items) {
		return
	}
	if w.piece.flat(w.row) {
		w.stood = !k.inSpace
		return
	}
	over := append(w.held, k.since(&before)...)
	if n := len(over); n > 0 { // the place it ends in is where the round begins
		last := over[n-1]
		last.N = 1
		if over[n-1].N--; over[n-1].N == 0 {
			over = over[:n-1]
		}
		w.held = []Item{last}
	}
	items := k.remainder()
	for _, i := range over {
		items = appendItem(items, i)
	}
	moved := countStitches(over)
	*k = walk{items: items, left: k.left + moved, touched: true, inSpace: k.inSpace, passed: k.passed, beyond: k.beyond}
	w.takes = countStitches(w.held)
	w.stood = !k.inSpace
}

// hasSource says whether there is anything to work into.
func (w *worker) hasSource() bool {
	return w.local != nil || w.main.endless || w.main.items != nil || w.st.edge != nil
}

func (w *worker) nothingBelow(s grammar.Span) {
	if !w.dead {
		w.dead, w.unknown = true, true
		w.problem(Problem{Kind: NoSuchPlace, Span: s, Message: w.p.sayNothingBelow(w.name()), Of: Spoken{Kind: SpokenNothing}})
	}
}

// ring starts into a magic ring, or a ring of chains.
func (w *worker) ring() {
	if w.onEdge && w.main.touched {
		return
	}
	w.main = walk{endless: true}
	w.onEdge, w.fresh = false, true
}

// hasWork says whether any step works a stitch.
func hasWork(steps []grammar.Step) bool {
	for i := range steps {
		switch steps[i].Kind {
		case grammar.StepBracket, grammar.StepStar, grammar.StepEven:
			return true
		case grammar.StepWork:
			if !isChainRef(steps[i].Stitch) {
				return true
			}
		}
	}
	return false
}

func isChainRef(r grammar.Ref) bool {
	t := r.Known(terms.US)
	return t != nil && t.Kind == terms.Chain
}

// spanOfSteps spans all that the round's steps say.
func (w *worker) spanOfSteps() grammar.Span {
	if len(w.steps) == 0 {
		return grammar.Span{}
	}
	return w.steps[0].Span.To(w.steps[len(w.steps)-1].Span)
}
