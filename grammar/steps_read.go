package grammar

import (
	"strconv"
	"strings"
	"sync"

	"workeven/grammar/terms"
)

// The reader of steps is written by hand because a round is what patterns are
// made of: through the participle grammar of plain.go the same trees take some
// hundred times as long. FuzzPlainEqualsRead holds the two equal.

// maxDepth bounds how deep brackets may nest; no maker follows more.
const maxDepth = 40

// maxYarnKey bounds a yarn's key where a longer word is likelier a slip.
const maxYarnKey = 3

type reader struct {
	cursor
	text   string
	depth  int
	faults []Fault
	// stack holds the steps of the brackets that are open, placed the places of
	// the step in hand and parts those of a total, so that each list is cut to
	// its length once.
	stack  []Step
	placed []Place
	parts  []Part
	// in is what is read into; nil allocates each value by itself.
	in *store
	// bare is set where the bracket that comes next needs neither a count nor a
	// place behind it: its place stands before it, or it is what a repeat ends with.
	bare bool
}

var readers = sync.Pool{New: func() any { return new(reader) }}

// stepsIn reads the steps, the total and what stands behind it, from a part of
// a statement's text. On a fault the steps before it are returned.
func stepsIn(text string, from, to int) (steps []Step, total *Total, after []Step, faults []Fault) {
	return stepsInto(nil, text, from, to)
}

// stepsInto is stepsIn with the trees put into a store; nil for one text alone.
func stepsInto(in *store, text string, from, to int) (steps []Step, total *Total, after []Step, faults []Fault) {
	r := readers.Get().(*reader)
	*r = reader{cursor: cursor{toks: lexed(r.toks[:0], text[:to], from)}, text: text, stack: r.stack[:0], placed: r.placed[:0], parts: r.parts[:0], in: in}
	steps, total, after = r.body()
	if r.failed() && total == nil {
		total = r.lastTotal()
	}
	faults = r.faults
	r.in, r.text, r.faults = nil, "", nil
	readers.Put(r)
	return steps, total, after, faults
}

// lastTotal finds the total that ends a round whose steps did not parse: what
// comes after can still be counted from it.
func (r *reader) lastTotal() *Total {
	r.depth = 0
	for i := len(r.toks) - 2; i >= 0; i-- {
		if k := r.toks[i].Kind; k != Open && k != Equals && k != Dash {
			continue
		}
		r.i = i
		if end, ok := r.totalEnd(); ok && (r.toks[end].Kind == EOF || r.toks[end].Kind == Stop && r.toks[end+1].Kind == EOF) {
			return r.total()
		}
	}
	return nil
}

// before is the end of the last token taken.
func (r *reader) before() int32 {
	if r.i == 0 {
		return r.toks[0].Start
	}
	return r.toks[r.i-1].End
}

func (r *reader) since(start Token) Span { return Span{start.Start, r.before()} }

func (r *reader) failed() bool { return len(r.faults) > 0 }

// fail records the first fault; what follows it is not read.
func (r *reader) fail(s Span, message string) {
	if !r.failed() {
		r.faults = append(r.faults, Fault{Span: s, Message: message})
	}
}

// unexpected says what was found and what could stand there.
func (r *reader) unexpected(could string) {
	if r.failed() {
		return
	}
	t := r.peek()
	if t.Kind == EOF {
		r.fail(Span{r.before(), r.before()}.wide(r.text), "the round ends where "+could+" should stand")
		return
	}
	word := t.In(r.text)
	f := Fault{Span: t.Span, Message: "found " + strconv.Quote(word) + " where " + could + " should stand"}
	if t.Kind == Word {
		f.Unknown = true
		f.Message = strconv.Quote(word) + " is not a word of the notation, nor a stitch that is known here; " + could + " could stand there"
		if near, ok := nearestWord(strings.ToLower(word)); ok {
			f.Message = strconv.Quote(word) + " is not known; was " + strconv.Quote(near) + " meant?"
			f.Fix, f.FixTitle = near, "write "+strconv.Quote(near)
		}
	}
	r.faults = append(r.faults, f)
}

// wide gives an empty span one byte to be seen by, where the text has one.
func (s Span) wide(text string) Span {
	if !s.Written() && s.Start > 0 {
		s.Start--
	}
	return s
}

// body reads a whole right-hand side.
func (r *reader) body() (steps []Step, total *Total, after []Step) {
	steps = r.steps(false)
	if !r.failed() {
		total = r.total()
	}
	if total != nil {
		after = r.steps(false)
	}
	if !r.failed() && r.peek().Kind != EOF {
		switch t := r.peek(); {
		case t.Kind == Close:
			r.fail(t.Span, "this bracket closes nothing: no bracket is open here")
		case t.is(KeyRep):
			r.fail(t.Span, "there is no * to repeat from; put * where the repeat begins")
		case t.Kind == Stars:
			r.fail(t.Span, "** marks where a last repeat ends, but no * stands before it")
		default:
			r.unexpected("a comma, a total or the end of the line")
		}
	}
	return steps, total, after
}

// separators passes commas, semicolons, full stops, "then" and "and".
func (r *reader) separators() bool {
	start := r.i
	for {
		switch t := r.peek(); {
		case t.Kind == Comma, t.Kind == Semicolon, t.Kind == Stop, t.is(KeyThen), t.is(KeyAnd):
			r.i++
		default:
			return r.i > start
		}
	}
}

// steps reads steps up to the end, a closing bracket, a total, or the end of a
// star's body.
func (r *reader) steps(inStar bool) []Step {
	base := len(r.stack)
	r.stepsOnto(inStar)
	var out []Step
	if len(r.stack) > base {
		out = r.in.keepSteps(r.stack[base:])
		clear(r.stack[base:])
		r.stack = r.stack[:base]
	}
	return out
}

// stepsOnto reads steps onto the stack.
func (r *reader) stepsOnto(inStar bool) {
	base := len(r.stack)
	r.separators()
	for !r.failed() {
		t := r.peek()
		if t.Kind == EOF || t.Kind == Close || t.Kind == Stars || r.atTotal() {
			return
		}
		if t.is(KeyRep) && !r.repeatsRounds() && r.ahead(1).Kind != Open || t.Kind == Star && inStar {
			return // a star ends here; without one, body says so
		}
		s := r.step()
		if r.failed() {
			return
		}
		if n := len(r.stack); n > base && s.standsFor(&r.stack[n-1]) {
			prev := &r.stack[n-1]
			prev.detail().Standing, prev.Span = s.Standing(), prev.Span.To(s.Span)
		} else {
			r.stack = append(r.stack, s)
		}
		if g := s.Group; g != nil && g.Times.Kind != TimesNone && r.endingWith() {
			if s, g.Ending = r.ending(); r.failed() {
				return
			}
		}
		if r.separators() {
			continue
		}
		switch t := r.peek(); {
		case t.Kind == EOF, t.Kind == Close, t.Kind == Stars, r.atTotal():
		case t.Kind == Star && inStar:
		case t.Kind == Colon && s.Kind == StepLoops:
			r.i++
		case t.is(KeyTurn), t.is(KeyJoin), t.is(KeyWith), t.is(KeyChangeTo), t.is(KeyRep), t.is(KeyFastenOff),
			t.is(KeyPlaceMarker), t.is(KeyMoveMarker), t.is(KeySk), t.is(KeyLeave), t.is(KeyDoNot),
			t.is(KeyCounts), t.is(KeyNotCounts), t.is(KeySkipped):
		case s.Kind == StepYarn, s.Kind == StepLoops, s.Kind == StepStanding, s.goesOn() && r.spreadAhead():
		case t.Kind == Open && r.standingAhead():
		case r.depth > 0 && (r.totalWithin() || t.Kind == Number && r.ahead(1).is(KeyX) && r.ahead(2).Kind != Open):
			return // star or bracket says what is missing
		case t.Kind == Term || t.Kind == Number || t.Kind == Open || t.Kind == Star:
			word := t.In(r.text)
			r.faults = append(r.faults, Fault{Span: Span{s.Span.End, t.End}, Message: "a comma is missing between " + strconv.Quote(s.Span.In(r.text)) + " and " + strconv.Quote(word),
				Fix: ", " + word, FixTitle: "add a comma"})
		default:
			r.unexpected("a comma, a total or the end of the line")
		}
	}
}

// endingWith passes ", ending with".
func (r *reader) endingWith() bool {
	n := r.i
	if k := r.peek().Kind; k == Comma || k == Semicolon {
		r.i++
	}
	if r.accept(KeyEndingWith) {
		return true
	}
	r.i = n
	return false
}

// ending reads what a repeat ends with onto the stack: a step, or those of a
// bracket. It gives the last of them and how many they are.
func (r *reader) ending() (Step, int32) {
	r.bare = r.peek().Kind == Open && !r.standingAhead()
	s := r.step()
	if r.failed() {
		return s, 0
	}
	list := []Step{s}
	if s.Kind == StepBracket && s.Group != nil && s.Group.Times.Kind == TimesNone && len(s.Places) == 0 {
		list = s.Group.Steps
	}
	r.stack = append(r.stack, list...)
	return s, int32(len(list))
}

// standsFor says whether a step is the note of the stitches before it: "ch 3
// (counts as dc)".
func (s *Step) standsFor(prev *Step) bool {
	return s.Kind == StepStanding && prev.Kind == StepWork && prev.Standing() == nil
}

// totalWithin says whether a total stands here, in a repeat that was never closed.
func (r *reader) totalWithin() bool {
	depth := r.depth
	r.depth = 0
	ok := r.atTotal()
	r.depth = depth
	return ok
}

// repeatsRounds says whether "rep" here points to rounds rather than to a star.
func (r *reader) repeatsRounds() bool {
	n := r.ahead(1)
	if n.is(KeyLast) {
		n = r.ahead(2)
		if n.Kind == Number {
			n = r.ahead(3)
		}
	}
	return n.is(KeyRnd) || n.is(KeyRow)
}

func (r *reader) step() Step {
	t := r.peek()
	switch t.Kind {
	case Star:
		return r.star()
	case Open:
		if r.standingAhead() {
			return r.standing()
		}
		return r.bracket(t, Step{})
	case Number:
		if r.ahead(1).is(KeyX) && r.ahead(2).Kind == Open {
			r.i += 2
			return r.bracket(t, Step{Count: Count{t.Value, t.Span}})
		}
		return r.work(t, LoopUnsaid, Span{})
	case Term, Word:
		return r.work(t, LoopUnsaid, Span{})
	case Keyword:
		return r.keyword(t)
	case Close:
		r.fail(t.Span, "this bracket closes nothing: no bracket is open here")
	case Dash, Equals:
		r.fail(t.Span, "a total is expected after "+strconv.Quote(t.In(r.text))+", at the end of the line")
	default:
		r.unexpected("a stitch, a bracket or a total")
	}
	return Step{}
}

func (r *reader) keyword(t Token) Step {
	switch Key(t.Value) {
	case KeySk:
		return r.skip()
	case KeyLeave:
		return r.leave()
	case KeyJoin, KeyFormRing:
		return r.join()
	case KeyTurn:
		return r.simple(StepTurn)
	case KeyFastenOff:
		s := r.simple(StepFastenOff)
		if n := r.peek(); n.Kind == Word && len(n.In(r.text)) <= maxYarnKey { // "fasten off A"
			r.i++
			s.detail().Yarn, s.Span = Name{n.In(r.text), n.Span}, r.since(t)
		}
		return s
	case KeyPlaceMarker, KeyMoveMarker:
		s := r.simple(StepMarker)
		if r.accept(KeyIn) || r.accept(KeyOn) {
			p, _ := r.target()
			s.Places = []Place{p}
		}
		s.Span = r.since(t)
		return s
	case KeyDoNot:
		s := r.simple(StepDoNot)
		for r.at(KeyTurn) || r.at(KeyJoin) || r.at(KeyFastenOff) || r.peek().Kind == Word {
			r.i++
		}
		s.Span = r.since(t)
		return s
	case KeyRep, KeyAs:
		if t.is(KeyRep) && r.ahead(1).Kind == Open { // "repeat (sc, inc) 6 times"
			r.i++
			return r.bracket(t, Step{})
		}
		return r.repeatRounds()
	case KeySame:
		if r.ahead(1).is(KeyAs) {
			return r.repeatRounds()
		}
	case KeyWith, KeyChangeTo:
		return r.yarn()
	case KeyBLO, KeyFLO, KeyBothLoops, KeyBump:
		r.i++
		return r.looped(t, loopOf(t))
	case KeyIn, KeyOn, KeyAlong, KeyWork:
		return r.working()
	case KeyOtherSide:
		return r.otherSide(t)
	case KeyMake:
		r.i++
		if r.ahead(1).Kind != Word {
			r.accept(KeyWith)
		}
		s := r.step()
		s.Span.Start = t.Start
		return s
	case KeyCounts, KeyNotCounts, KeySkipped:
		return r.standing()
	case KeyEndingWith:
		r.fail(t.Span, "\"ending with\" says what follows a repeat, right behind \"rep from *\" or a bracket with a number of times; steps that follow others are written behind a comma")
		return Step{}
	}
	r.unexpected("a stitch, a bracket or a total")
	return Step{}
}

func (r *reader) simple(k StepKind) Step {
	t := r.take()
	return Step{Kind: k, Span: t.Span}
}

func loopOf(t Token) Loop {
	switch Key(t.Value) {
	case KeyBLO:
		return LoopBack
	case KeyFLO:
		return LoopFront
	case KeyBump:
		return LoopBump
	}
	return LoopBoth
}

func isLoop(t Token) bool {
	return t.is(KeyBLO) || t.is(KeyFLO) || t.is(KeyBothLoops) || t.is(KeyBump)
}

// looped reads what follows a loop that stands first: "BLO sc 12", or "in BLO,"
// for all that comes.
func (r *reader) looped(start Token, loop Loop) Step {
	span := r.since(start)
	switch t := r.peek(); {
	case t.Kind == Term, t.Kind == Word, t.Kind == Number && !(r.ahead(1).is(KeyX) && r.ahead(2).Kind == Open):
		s := r.work(start, loop, span)
		return s
	case t.Kind == Open && !r.standingAhead():
		s := Step{}
		s.setLoop(loop, span)
		return r.bracket(start, s)
	}
	s := Step{Kind: StepLoops, Span: span}
	s.setLoop(loop, span)
	return s
}

// working reads the steps that begin with "work", "working" or "in".
func (r *reader) working() Step {
	t := r.take()
	n := r.peek()
	switch {
	case t.is(KeyWork) && n.is(KeyEven):
		r.i++
		s := Step{Kind: StepEven}
		if r.accept(KeyIn) {
			s.Stitch = r.ref()
		}
		s.Fill = r.fill()
		s.Span = r.since(t)
		return s
	case t.is(KeyWork) && (n.is(KeyIn) || n.is(KeyOn) || n.is(KeyAlong)):
		if r.sourceAhead(1) {
			r.i++
			return r.workingFrom(t)
		}
		if m := r.ahead(1); isLoop(m) || m.is(KeyOtherSide) {
			r.i++
			return r.workingIn(t, m)
		}
		if n.is(KeyIn) && startsTarget(r.ahead(1)) {
			r.fail(t.Span.To(n.Span), "write the stitch before its place, such as \"3 dc in next st\", or the place first, such as \"in next st, work 3 dc\"")
			return Step{}
		}
	case t.is(KeyWork) && n.is(KeyAs):
		s := r.repeatRounds()
		s.Span.Start = t.Start
		return s
	case t.is(KeyWork) && (n.Kind == Term || n.Kind == Number || n.Kind == Open || n.Kind == Star || isLoop(n)):
		s := r.step()
		s.Span.Start = t.Start
		return s
	case !t.is(KeyWork) && r.sourceAhead(0):
		return r.workingFrom(t)
	case !t.is(KeyWork) && (isLoop(n) || n.is(KeyOtherSide)):
		return r.workingIn(t, n)
	case t.is(KeyIn) && (startsTarget(n) || r.unitAhead(0)):
		return r.placeFirst(t)
	}
	r.unexpected("a stitch, loops (in BLO) or the other side of the chain")
	return Step{}
}

// placeFirst reads stitches whose place stands before them: "in next ch-2 sp,
// work (2 dc, ch 2, 2 dc)".
func (r *reader) placeFirst(start Token) Step {
	p, ok := r.target()
	if k := r.peek().Kind; ok && (k == Comma || k == Colon) {
		r.i++
	}
	if ok && !r.accept(KeyWork) {
		r.unexpected("\"work\" and what is worked there")
	}
	if r.failed() {
		return Step{}
	}
	var s Step
	switch t := r.peek(); {
	case t.Kind == Open && !r.standingAhead():
		r.bare = true
		s = r.bracket(t, Step{})
	case t.Kind == Term, t.Kind == Word, t.Kind == Number:
		s = r.work(t, LoopUnsaid, Span{})
	default:
		r.unexpected("a stitch or a bracket")
	}
	if !r.failed() && (s.Kind == StepJoin || len(s.Places) > 0 || s.Fill.Kind != FillNone || s.Evenly || s.Group != nil && s.Group.Times.Kind != TimesNone) {
		r.fail(s.Span, "these stitches have a place before them and another behind; say one of them")
	}
	s.Places, s.Span = []Place{p}, r.since(start)
	return s
}

// sourceAhead says whether loops of a round, or a ring, stand n ahead: what a
// whole round can be worked into.
func (r *reader) sourceAhead(n int) bool {
	t := r.ahead(n)
	of := r.ahead(n + 2)
	return t.is(KeyFreeLoops) || t.is(KeyRing) || t.Kind == Term && isKind(t.Value, terms.Ring) ||
		isLoop(t) && r.ahead(n+1).is(KeyOf) && (of.is(KeyRnd) || of.is(KeyRow))
}

// workingFrom reads "in free loops of Rnd 5," for all that follows.
func (r *reader) workingFrom(start Token) Step {
	p, _ := r.target()
	return Step{Kind: StepLoops, Places: []Place{p}, Span: r.since(start)}
}

func (r *reader) workingIn(start, n Token) Step {
	if n.is(KeyOtherSide) {
		return r.otherSide(start)
	}
	r.i++
	return r.looped(start, loopOf(n))
}

// otherSide reads "other side of ch" and what chain it is.
func (r *reader) otherSide(start Token) Step {
	r.i++
	if r.accept(KeyOf) {
		for r.peek().Kind == Word || r.peek().Kind == Term || r.at(KeyTurningCh) || r.at(KeyFirst) {
			r.i++
		}
	}
	return Step{Kind: StepOtherSide, Span: r.since(start)}
}

// ReadSteps reads steps that stand alone, such as what a stitch of the
// glossary is made of; false where they do not parse.
func ReadSteps(text string) ([]Step, bool) {
	steps, _, _, faults := stepsIn(text, 0, len(text))
	return steps, len(faults) == 0
}
