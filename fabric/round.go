package fabric

import (
	"slices"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// outcome is one round worked once.
type outcome struct {
	w     *worker
	out   *Edge
	known bool
	next  state
	// meant is what the round is taken to have made where its words are a slip
	// that was said in the round it repeats; nil otherwise.
	meant *Edge
}

// statement works a statement of rounds from a state and gives the round with
// the state behind it; below are the piece's rounds before it.
func (p *Pattern) statement(piece *Piece, below lower, st *state, line *grammar.Line, off int) (*Round, state) {
	n := line.Node.(*grammar.Round)
	in := piece.shelf
	if in == nil {
		in = &shelf{}
	}
	r := in.round()
	*r = Round{Node: n, Line: line, Off: off, In: st.edge, Known: true, entry: st}
	top := below.last()
	r.rising = n.To.N >= n.From.N && (top == nil || top.rising && n.From.N > top.Node.To.N)
	if n.Broken {
		r.Known = false
		r.RoundsWorked = max(int64(n.To.N)-int64(n.From.N)+1, 1)
		next := *st
		next.label, next.row, next.pending = int64(n.To.N), n.Row, nil
		r.Out = p.statedEdge(n.Total)
		r.Meant = r.Out
		next.edge = r.Out
		return r, next
	}
	cur := *st
	from, to := int64(n.From.N), max(int64(n.To.N), int64(n.From.N))
	// Rounds that come back to the edge they began with only go on as before.
	period, cycle, steady := repeatPeriod(n), cur.edge, true
	var meant *Edge
	for label := from; label <= to; label++ {
		o := p.once(piece, below, &cur, n, line, label, false)
		first := label == from
		if first {
			r.Takes, r.Start, r.Stands = o.w.takes, o.w.fresh && (st.edge == nil || o.w.takes == 0), o.w.stands
			if o.w.chain != nil && st.edge == nil || o.w.main.endless && o.w.fresh {
				r.Start = true
			}
			if r.Start && st.edge == nil && o.w.uses == st.uses {
				r.Takes = 0
			}
		}
		r.RoundsWorked++
		r.effort += maxSteps - o.w.budget
		r.Makes, r.Out = o.w.makes, o.out
		r.Known = r.Known && o.known
		meant = o.meant
		r.take(o.w)
		cur = o.next
		steady = steady && o.steady()
		o.w.release()
		if len(r.Problems) > 0 && counting(r.Problems) || !o.known {
			r.RoundsWorked = to - from + 1
			cur.label = to
			break
		}
		rest := to - label
		if (label-from+1)%period == 0 && rest > 0 {
			skip := int64(0)
			switch {
			case label-from > maxRounds:
				skip = rest
			case steady && cur.edge.same(cycle):
				skip = rest - rest%period
			}
			r.RoundsWorked += skip
			label += skip
			cur.label = label
			cycle, steady = cur.edge, true
		}
	}
	r.Meant = r.Out
	if meant != nil {
		r.Meant, r.follows = meant, true
	}
	r.count(in)
	return r, cur
}

// repeatPeriod is after how many rounds a statement does the same again: one,
// or as many as the rounds that it repeats.
func repeatPeriod(n *grammar.Round) int64 {
	for i := range n.Steps {
		if s := &n.Steps[i]; s.Kind == grammar.StepRepeat {
			from, to := int64(s.Rounds().From.N), int64(s.Rounds().To.N)
			if s.Rounds().Last {
				return max(from, 1)
			}
			return max(to-from, from-to) + 1
		}
	}
	return 1
}

// repeatsOthers says whether a statement repeats other rounds.
func repeatsOthers(n *grammar.Round) bool {
	return slices.ContainsFunc(n.Steps, func(s grammar.Step) bool { return s.Kind == grammar.StepRepeat })
}

// steady says whether a round does no more than give its edge on.
func (o *outcome) steady() bool { return o.w.freed == 0 && o.w.uses == nil }

func counting(ps []Problem) bool { return slices.ContainsFunc(ps, Problem.Counting) }

// take collects problems, each once, and one of counting at most.
func (r *Round) take(w *worker) {
	for _, x := range w.problems {
		if x.Counting() && counting(r.Problems) {
			continue
		}
		if !slices.ContainsFunc(r.Problems, func(y Problem) bool { return x.Kind == y.Kind && x.Span == y.Span }) {
			r.Problems = append(r.Problems, x)
		}
	}
	if r.Groups = nil; len(w.groups) > 0 {
		r.Groups = slices.Clone(w.groups)
	}
}

// count counts what is on the edge that a round made.
func (r *Round) count(in *shelf) {
	if r.Out == nil {
		return
	}
	chainOnly := int64(0)
	var few [4]StitchCount
	stitches := few[:0]
	for _, i := range r.Out.Items {
		switch i.Kind {
		case Space:
			j := slices.IndexFunc(r.Spaces, func(s SpaceCount) bool { return s.Chains == i.Chains })
			if j < 0 {
				r.Spaces = append(r.Spaces, SpaceCount{i.Chains, i.N})
			} else {
				r.Spaces[j].N += i.N
			}
		case Chains:
			chainOnly += i.N
		case Stitches:
			if i.Stitch == nil {
				continue
			}
			j := slices.IndexFunc(stitches, func(s StitchCount) bool { return s.Stitch == i.Stitch })
			if j < 0 {
				stitches = append(stitches, StitchCount{i.Stitch, i.N})
			} else {
				stitches[j].N += i.N
			}
		}
	}
	r.Stitches = in.keepCounts(stitches)
	if chainOnly > 0 && r.Makes == 0 {
		r.Makes = chainOnly
	}
}

// stepsFor finds the steps that a label of a range works, following "rep Rnds
// 8-9" and "as Rnd 5". foreign is set where they stand in another statement.
func (p *Pattern) stepsFor(below lower, n *grammar.Round, line *grammar.Line, label int64, depth int) (steps []grammar.Step, text string, rep *grammar.Step, ok bool) {
	for i := range n.Steps {
		s := &n.Steps[i]
		if s.Kind != grammar.StepRepeat {
			continue
		}
		target := repeated(n, s, label)
		if target >= label || depth > 20 {
			return nil, "", s, false
		}
		j := below.numbered(target)
		if j < 0 {
			return nil, "", s, false
		}
		r := below.at(j)
		if r.Node.Broken {
			return nil, "", s, true
		}
		steps, text, _, ok := p.stepsFor(below.to(j), r.Node, r.Line, target, depth+1)
		return steps, text, s, ok
	}
	return n.Steps, line.Said(), nil, true
}

// repeated is the number of the round that a step of a statement repeats on one
// of its rounds.
func repeated(n *grammar.Round, s *grammar.Step, label int64) int64 {
	from, to := int64(s.Rounds().From.N), int64(s.Rounds().To.N)
	if s.Rounds().Last {
		to = int64(n.From.N) - 1
		from = to - max(from, 1) + 1
	}
	if to < from {
		from, to = to, from
	}
	return from + (label-int64(n.From.N))%(to-from+1)
}

// stepsFrom is the number of the round whose steps a round works that repeats others.
func stepsFrom(below lower, n *grammar.Round, label int64) int64 {
	for range 20 {
		i := slices.IndexFunc(n.Steps, func(s grammar.Step) bool { return s.Kind == grammar.StepRepeat })
		if i < 0 {
			return label
		}
		label = repeated(n, &n.Steps[i], label)
		j := below.numbered(label)
		if j < 0 {
			return 0
		}
		n, below = below.at(j).Node, below.to(j)
	}
	return 0
}

// slipOf is the round whose steps a round works that repeats others, where its
// words are a slip; nil where they are none.
func (p *Pattern) slipOf(below lower, n *grammar.Round, label int64) *Round {
	i := below.numbered(stepsFrom(below, n, label))
	if i < 0 {
		return nil
	}
	r := below.at(i)
	if !slices.ContainsFunc(r.Problems, func(x Problem) bool { return x.Counting() && !x.Total }) {
		return nil
	}
	return r
}

// once works one round of a statement; alt takes the second of two readings.
func (p *Pattern) once(piece *Piece, below lower, st *state, n *grammar.Round, line *grammar.Line, label int64, alt bool) outcome {
	return p.onceTraced(piece, below, st, n, line, label, alt, nil)
}

// onceTraced is once with somebody watching each step, or nil.
func (p *Pattern) onceTraced(piece *Piece, below lower, st *state, n *grammar.Round, line *grammar.Line, label int64, alt bool, trace func(*grammar.Step, *worker, bool)) outcome {
	steps, text, rep, ok := p.stepsFor(below, n, line, label, 0)
	edge := st.edge
	if edge != nil && !piece.flat(n.Row) && turnsFirst(steps) {
		edge = edge.reversed()
	}
	w := newWorker()
	w.p, w.piece, w.below, w.st, w.label, w.row = p, piece, below, *st, label, n.Row
	if piece.shelf != nil {
		w.shelf = piece.shelf
	}
	w.mainStitch, w.text, w.steps, w.uses, w.alt, w.trace = piece.Main, text, n.Steps, st.uses, alt, trace
	if edge != nil {
		w.main = walkOf(edge)
		w.avail = w.main.left
		w.onEdge = true
	}
	switch {
	case !ok:
		w.problem(Problem{Kind: NoSuchPlace, Span: rep.Span, Message: p.sayNoRoundToRepeat(rep), Of: Spoken{Kind: SpokenNothing}})
		w.dead, w.unknown = true, true
	case steps == nil:
		w.unknown = true
	default:
		w.all(st, steps)
	}
	if rep != nil {
		w.slipped = p.slipOf(below, n, label)
	}
	o := w.finish(st, n, label)
	if rep != nil {
		w.blameRepeat(rep, stepsFrom(below, n, label))
	}
	if !alt && w.unsure() && (counting(w.problems) || !p.agrees(o, n.Total)) {
		if other := p.once(piece, below, st, n, line, label, true); !counting(other.w.problems) && p.agrees(other, n.Total) {
			w.release()
			return other
		} else {
			other.w.release()
		}
	}
	return o
}

// unsure says whether the round can be read in two ways.
func (w *worker) unsure() bool {
	return w.doubted || slices.ContainsFunc(w.problems, func(x Problem) bool { return x.Kind == TwoReadings })
}

func (p *Pattern) agrees(o outcome, t *grammar.Total) bool {
	n, ok := p.StatedStitches(t)
	return !ok || n == o.w.makes
}

// blameRepeat moves problems of steps that stand elsewhere, in a round with a
// number, to where they are repeated.
func (w *worker) blameRepeat(rep *grammar.Step, from int64) {
	keep := w.problems[:0]
	for _, x := range w.problems {
		if x.Counting() {
			x.Span, x.Plain, x.Steps = rep.Span, nil, from
			keep = append(keep, x)
		}
	}
	w.problems = keep
}

// all works a round's steps, with the chain that the row below ended in.
func (w *worker) all(st *state, steps []grammar.Step) {
	if st.pending != nil && !startsWithChain(steps) {
		w.startChain(st.pending, int64(st.pending.Count.N), steps)
	}
	w.run(steps)
	w.lastInc(steps)
}

func startsWithChain(steps []grammar.Step) bool {
	for i := range steps {
		switch steps[i].Kind {
		case grammar.StepTurn, grammar.StepYarn, grammar.StepMarker, grammar.StepLoops:
		case grammar.StepWork:
			return isChainRef(steps[i].Stitch)
		default:
			return false
		}
	}
	return false
}

// lastInc asks about "inc 6" at the end of a round with more stitches left: six
// increases one after another, or spaced out?
func (w *worker) lastInc(steps []grammar.Step) {
	for i := len(steps) - 1; i >= 0; i-- {
		s := &steps[i]
		switch s.Kind {
		case grammar.StepJoin, grammar.StepMarker, grammar.StepTurn:
			continue
		case grammar.StepWork:
			if len(s.Places) > 0 || s.Evenly || s.Fill.Kind != grammar.FillNone || s.Count.N < 2 {
				return
			}
			st := w.p.book.find(s.Stitch)
			if st == nil || st.kind() != terms.Increase || w.dead || !w.onEdge || w.main.endless || w.main.left == 0 || len(steps) > 1 && i > 0 && w.makes == 0 {
				return
			}
			n, left := int64(s.Count.N), w.main.left
			if w.alt {
				w.make(st.on(w.mainStitch), w.main.left)
				w.take(w.main.left)
			}
			plain := s.Stitch.Text + " " + digits(n) + " evenly"
			w.problem(Problem{Kind: TwoReadings, open: true, Span: s.Span, Message: w.p.sayIncEnd(n, left),
				Plain: []Repair{{Span: s.Span, New: plain, Title: w.p.sayWrite(plain)}}})
			w.askedInc = true
			return
		default:
			return
		}
	}
}

// finish ends a round: what is left over, what was free, and the edge it made.
func (w *worker) finish(st *state, n *grammar.Round, label int64) outcome {
	if !w.dead && !w.unknown {
		w.balance(n)
	}
	if w.slipped != nil && (counting(w.problems) || !w.p.agrees(outcome{w: w}, n.Total)) {
		w.problems = slices.DeleteFunc(w.problems, Problem.Counting) // said where it was made
	} else {
		w.slipped = nil
	}
	if w.midTurn {
		w.takes = w.midTakes
	}
	next := *st
	next.label, next.row, next.pending = label, n.Row, w.pending
	next.uses = w.uses
	if x := w.stands; x.Present && !x.Skipped && x.Stitch != nil {
		if x.throughout || x.Stitch.Of != nil && x.Stitch.Of.Counts == terms.Asked {
			next.stands(stood{x.Stitch, x.Counted, x.throughout})
		}
	}
	if w.chain != nil {
		next.found = w.chain
	}
	out := w.shelf.edge()
	out.Items = w.shelf.keepItems(w.out)
	if len(w.out) == 0 && w.chain != nil && !w.chain.ring {
		out.Items = []Item{{Kind: Chains, N: w.chain.chains}}
	}
	if len(w.out) == 0 && w.chain != nil && w.chain.ring {
		*out = Edge{Items: []Item{{Kind: Chains, N: w.chain.chains}}}
	}
	if w.leaves && w.onEdge && !w.main.endless {
		if rest := w.main.remainder(); len(rest) > 0 {
			out.Beyond = rest
			next.loose = next.loose.and(st.label, rest, 0)
		}
	}
	if w.onEdge && st.edge != nil {
		if len(out.Beyond) == 0 {
			out.Beyond = w.main.beyond
		}
		out.Before = st.edge.Before
	}
	if w.freed > 0 {
		next.frees(st.label, w.freed, 0, label)
	}
	for _, u := range w.freeUsed {
		next.frees(u.label, 0, u.n, label)
	}
	known := !w.unknown && !w.dead
	if !known {
		out = w.p.statedEdge(n.Total)
	}
	o := outcome{w: w, out: out, known: known, next: next}
	o.next.edge = out
	if known && w.slipped != nil && w.slipped.Meant != nil {
		o.meant = w.slipped.Meant
		if was := w.slipped.In; was != nil && st.edge != nil && was.Stitches() != st.edge.Stitches() {
			o.meant = vague(max(st.edge.Stitches()+o.meant.Stitches()-was.Stitches(), 0))
		}
		o.next.edge = o.meant
	}
	if w.flips(n) {
		o.next.edge = o.next.edge.reversed()
	}
	return o
}

// flips says whether the next round is worked back along this one.
func (w *worker) flips(n *grammar.Round) bool {
	if w.piece.flat(n.Row) {
		return !w.noTurn
	}
	return w.endTurn
}

// flat says whether a piece's rounds are rows, turned after each.
func (p *Piece) flat(row bool) bool {
	return p.Mode == grammar.ModeRows || p.Mode == grammar.ModeUnsaid && row
}

// turnsFirst says whether a round is turned before its first stitch.
func turnsFirst(steps []grammar.Step) bool {
	for i := range steps {
		switch s := &steps[i]; s.Kind {
		case grammar.StepTurn:
			return true
		case grammar.StepYarn, grammar.StepJoin, grammar.StepMarker, grammar.StepLoops, grammar.StepDoNot, grammar.StepStanding:
		case grammar.StepWork:
			if !isChainRef(s.Stitch) {
				return false
			}
		default:
			return false
		}
	}
	return false
}

// statedEdge is what a total alone tells of an edge.
func (p *Pattern) statedEdge(t *grammar.Total) *Edge {
	if n, ok := p.StatedStitches(t); ok {
		return vague(n)
	}
	return &Edge{Unknown: true, Vague: true}
}

// balance holds what a round took against what was there.
func (w *worker) balance(n *grammar.Round) {
	span := w.spanOfSteps()
	switch {
	case w.misfit, w.askedInc && w.over == 0:
	case w.overWhat != "":
		w.problem(Problem{Kind: TooManyWorked, Span: w.overSpan, Message: w.overWhat, Of: w.overOf})
	case w.over > 0:
		w.problem(Problem{Kind: TooManyWorked, Span: span, Message: w.p.sayTooMany(w)})
	case w.leaves && w.leftSaid.Written() && !w.midTurn && w.onEdge && int64(w.leftSaid.N) != w.main.left && !w.main.endless:
		if int64(w.leftSaid.N) > w.main.left {
			w.problem(Problem{Kind: TooManyWorked, Span: span, Message: w.p.sayLeavesFewer(w)})
		} else {
			w.problem(Problem{Kind: StitchesLeft, Span: span, Message: w.p.sayLeavesMore(w)})
		}
	case w.leaves:
	case w.leftEarly > 0:
		w.problem(Problem{Kind: StitchesLeft, Span: span, Message: w.p.sayChainLeft(w, w.leftEarly), Of: Spoken{Kind: SpokenNothing}})
	case w.fresh && w.onEdge, w.main.endless, w.freeMain > 0:
	case w.far, !w.onEdge && w.chain == nil && w.freeMain == 0 && !w.other:
	case w.onEdge && !w.main.touched && w.makes == 0 && w.takes == 0:
	default:
		w.leftOver(span)
	}
}

// leftOver reports stitches or spaces that nothing was worked into. Stitches
// beside a space that was worked into are passed by, as between spaces.
func (w *worker) leftOver(span grammar.Span) {
	k := &w.main
	if len(w.out) == 0 && w.chain != nil {
		return // a chain by itself
	}
	if k.inSpace {
		if n := k.spacesAhead(w.askedSpace); n > 0 {
			w.problem(Problem{Kind: StitchesLeft, Span: span, Message: w.p.saySpacesLeft(w, n), Of: Spoken{Kind: SpokenSpaces}})
			return
		}
		if k.left <= max(k.passed, 0) || k.vague {
			return
		}
	}
	if k.left > 0 {
		w.problem(Problem{Kind: StitchesLeft, Span: span, Message: w.p.sayLeft(w)})
	}
}
