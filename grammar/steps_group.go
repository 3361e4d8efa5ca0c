package grammar

import (
	"strconv"
)

// bracket reads "(…) x 6", "6 x (…)", "(…) in next st" and "(…) around". The
// token it began with and what was read before it, a count or a loop, are
// handed in.
func (r *reader) bracket(start Token, s Step) Step {
	note, bare := r.standingAhead(), r.bare
	r.bare = false
	open, before := r.take(), s.Count
	s.Kind, s.Count = StepBracket, Count{N: 1}
	if note {
		r.fail(open.Span, "this bracket holds a note on a chain and no stitches, so it cannot be repeated")
		return s
	}
	if r.depth++; r.depth > maxDepth {
		r.fail(open.Span, "brackets are nested more than "+strconv.Itoa(maxDepth)+" deep; no maker can follow that")
		return s
	}
	inner := r.peek().Start
	steps := r.steps(false)
	r.depth--
	if r.failed() {
		return s
	}
	end := r.peek()
	if end.Kind != Close {
		r.notClosed(open, end)
		return s
	}
	r.i++
	if !pairs(r.text[open.Start], r.text[end.Start]) {
		r.fail(end.Span, "the bracket "+strconv.Quote(open.In(r.text))+" is closed by "+strconv.Quote(end.In(r.text))+"; use two of one kind")
		return s
	}
	if len(steps) == 0 {
		r.fail(r.since(open), "this bracket holds no stitches")
		return s
	}
	s.Group = r.in.group()
	*s.Group = Group{Steps: steps, Stop: -1, Inner: Span{inner, end.Start}}
	if before.Written() {
		s.Group.Times = Times{Kind: TimesTotal, Count: before, Span: before.Span}
	} else {
		r.afterBracket(&s, open, bare)
	}
	s.Span = r.since(start)
	return s
}

func (r *reader) notClosed(open, at Token) {
	switch {
	case at.Kind == EOF || r.totalWithin() || at.Kind == Number && r.ahead(1).is(KeyX):
		r.fail(open.Span, "this bracket is opened and never closed")
	case at.is(KeyRep):
		r.fail(at.Span, "there is no * to repeat from; put * where the repeat begins")
	case at.Kind == Stars:
		r.fail(at.Span, "** marks where a last repeat ends, but no * stands before it")
	default:
		r.unexpected("a comma or the closing bracket")
	}
}

func pairs(open, close byte) bool {
	return open == '(' && close == ')' || open == '[' && close == ']' || open == '{' && close == '}'
}

// afterBracket reads what makes a bracket a repeat or a group; a bare one needs nothing.
func (r *reader) afterBracket(s *Step, open Token, bare bool) {
	t := r.peek()
	if r.repeatsBracket(r.i) {
		r.i++
	}
	rep := r.accept(KeyRep)
	if t.Kind == Star && r.ahead(1).Kind == Number { // "(…) * 6", a times sign of sorts
		r.i++
		s.Group.Times.Count, _ = r.count()
		s.Group.Times.Kind = TimesTotal
	} else {
		r.times(&s.Group.Times, false)
	}
	if s.Group.Times.Kind != TimesNone {
		if s.Group.Times.Kind == TimesTotal && (r.at(KeyAround) || r.at(KeyAcross)) {
			r.i++ // "x 6 around" says the same twice
		}
		s.Group.Times.Span = r.since(t)
		if r.at(KeyIn) {
			r.places(s)
		}
		return
	}
	if rep {
		r.unexpected("how often the bracket is repeated")
		return
	}
	r.places(s)
	if len(s.Places) == 0 && !r.failed() && !bare {
		r.fail(r.since(open), "a bracket needs a count or a place after it, such as (sc 2, inc) x 6 or (sc, hdc, sc) in next st")
	}
}

// repeatsBracket says whether token i and those behind it repeat the bracket
// before them: "(sc, inc), rep 6 times".
func (r *reader) repeatsBracket(i int) bool {
	if r.toks[i].Kind != Comma || !r.toks[i+1].is(KeyRep) {
		return false
	}
	n := r.toks[i+2]
	return !n.is(KeyFrom) && !n.is(KeyRnd) && !n.is(KeyRow) && !n.is(KeyLast) && n.Kind != Open
}

// times reads how often a repeat is worked; star is set behind "rep from *".
func (r *reader) times(x *Times, star bool) bool {
	t := r.peek()
	plain := TimesTotal
	if star {
		plain = TimesUnclear
	}
	switch {
	case t.is(KeyX) && r.ahead(1).Kind == Number:
		r.i++
		x.Count, _ = r.count()
		x.Kind = plain
	case t.Kind == Number && r.ahead(1).is(KeyMore):
		x.Count, _ = r.count()
		r.i++
		r.accept(KeyX)
		x.Kind = TimesMore
	case t.Kind == Number && r.ahead(1).is(KeyX):
		x.Count, _ = r.count()
		r.i++
		x.Kind = plain
	case t.Kind == TimesWord:
		r.i++
		x.Count, x.Kind = Count{t.Value, t.Span}, plain
	default:
		x.Fill = r.fill()
		if x.Fill.Kind != FillNone {
			x.Kind, x.Span = TimesFill, x.Fill.Span
		}
		return x.Fill.Kind != FillNone
	}
	switch {
	case x.Kind == TimesMore:
	case r.accept(KeyMore):
		x.Kind = TimesMore
	case r.accept(KeyTotal):
		x.Kind = TimesTotal
	case r.at(KeyIn) && r.ahead(1).is(KeyEach) && r.endsTimes(2):
		r.i += 2 // "6 times in all"
		x.Kind = TimesTotal
	}
	if !star && x.Kind == TimesMore {
		x.Kind = TimesTotal
	}
	x.Span = r.since(t)
	return true
}

// endsTimes says whether nothing that could be a place stands n ahead.
func (r *reader) endsTimes(n int) bool {
	switch t := r.ahead(n); t.Kind {
	case EOF, Comma, Semicolon, Stop, Open, Close:
		return true
	}
	return false
}

// star reads "*…; rep from * …", with ** inside where there is one.
func (r *reader) star() Step {
	start := r.take()
	s := Step{Kind: StepStar, Count: Count{N: 1}, Group: r.in.group()}
	s.Group.Stop = -1
	if r.depth++; r.depth > maxDepth {
		r.fail(start.Span, "repeats are nested more than "+strconv.Itoa(maxDepth)+" deep; no maker can follow that")
		return s
	}
	g := s.Group
	inner := r.peek().Start
	g.Steps = r.steps(true)
	if r.peek().Kind == Stars && !r.failed() {
		r.i++
		g.Stop = len(g.Steps)
		g.Steps = append(g.Steps, r.steps(true)...)
	}
	r.depth--
	if r.failed() {
		return s
	}
	g.Inner = Span{inner, r.before()}
	closed := r.peek().Kind == Star
	if closed {
		r.i++
		if k := r.peek().Kind; (k == Comma || k == Semicolon) && r.ahead(1).is(KeyRep) {
			r.i++
		}
	}
	from := false
	switch {
	case r.at(KeyRep):
		r.i++
		if from = r.accept(KeyFrom); from {
			if k := r.peek().Kind; k != Star && k != Stars {
				r.unexpected("the * that the repeat begins at")
				return s
			}
			r.i++
			if r.at(KeyTo) && (r.ahead(1).Kind == Star || r.ahead(1).Kind == Stars) {
				r.i += 2
			}
		}
	case !closed:
		r.fail(start.Span, "this * begins a repeat that is never repeated: \"rep from *\" is missing")
		return s
	}
	if len(g.Steps) == 0 {
		r.fail(start.Span, "this * begins a repeat that holds no stitches")
		return s
	}
	if r.peek().Kind == Comma && r.timesAhead() {
		r.i++
	}
	if !r.times(&g.Times, from || !closed) {
		if closed && !from {
			r.fail(r.since(start), "this repeat does not say how often: write rep from * around, or how many times")
			return s
		}
		g.Times = Times{Kind: TimesFill, Fill: Fill{Kind: FillAround}}
	}
	if n := r.i; r.endingAt() {
		g.EndAt = true
		if g.Stop < 0 {
			r.fail(r.since(r.toks[n]), "the last repeat is to end at **, but there is no ** in the repeat")
		}
	}
	s.Span = r.since(start)
	return s
}

// timesAhead says whether a repeat's number stands behind a comma.
func (r *reader) timesAhead() bool {
	t, n := r.ahead(1), r.ahead(2)
	return t.is(KeyAround) || t.is(KeyAcross) || t.Kind == Number && (n.is(KeyX) || n.is(KeyMore)) || t.Kind == TimesWord
}

// endingAt reads ", ending last rep at **".
func (r *reader) endingAt() bool {
	n := r.i
	if r.peek().Kind == Comma || r.peek().Kind == Semicolon {
		r.i++
	}
	if r.accept(KeyEndingAt) && r.peek().Kind == Stars {
		r.i++
		return true
	}
	r.i = n
	return false
}

// standingAhead says whether a bracket holds what a chain stands for.
func (r *reader) standingAhead() bool {
	n := r.ahead(1)
	return n.is(KeyCounts) || n.is(KeyNotCounts) || n.is(KeySkipped)
}

// standing reads "(counts as dc and ch 1)", "(skipped 3 ch count as dc)" and
// "(does not count as a st)", in brackets or bare.
func (r *reader) standing() Step {
	start := r.peek()
	bracket := start.Kind == Open
	if bracket {
		r.i++
	}
	st := &Standing{}
	if r.accept(KeySkipped) {
		st.Skipped = true
		r.count()
		if isChain(r.peek()) {
			r.i++
		}
		if r.at(KeySt) {
			r.i++
		}
	}
	switch {
	case r.accept(KeyNotCounts):
		st.Not = true
	case r.accept(KeyCounts):
	default:
		r.unexpected("\"counts\" or \"do not count\"")
		return Step{}
	}
	st.Throughout = r.accept(KeyThroughout)
	if r.accept(KeyAs) {
		r.standsAs(st)
	}
	if r.at(KeyAs) {
		r.unexpected("a comma or the end of the note")
	}
	st.Throughout = r.accept(KeyThroughout) || st.Throughout
	if bracket {
		if r.peek().Kind == Comma && r.ahead(1).is(KeyThroughout) {
			r.i += 2
			st.Throughout = true
		}
		if r.peek().Kind != Close {
			r.unexpected("the closing bracket")
			return Step{}
		}
		r.i++
	}
	st.Span = r.since(start)
	return Step{Kind: StepStanding, Detail: &Detail{Standing: st}, Span: st.Span}
}

// standsAs reads what follows "counts as".
func (r *reader) standsAs(st *Standing) {
	r.accept(KeyFirst)
	r.count()
	r.accept(KeyFirst)
	switch t := r.peek(); {
	case t.Kind == Term && !isChain(t), t.Kind == Word:
		st.As = r.ref()
		r.accept(KeySt)
	case t.is(KeySt):
		r.i++
	case isChain(t), t.Kind == ChSpace:
	default:
		r.unexpected("the stitch that it counts as")
		return
	}
	n := r.i
	if r.peek().Kind == Comma {
		r.i++
	}
	if r.at(KeyAnd) || r.at(KeyWith) {
		r.i++
	}
	if t := r.peek(); t.Kind == Number && isChain(r.ahead(1)) {
		st.Chains, _ = r.count()
		r.i++
	} else if t.Kind == ChSpace {
		r.i++
		st.Chains = Count{t.Value, t.Span}
	} else if isChain(t) {
		r.i++
		if c, ok := r.count(); ok {
			st.Chains = c
		} else {
			st.Chains = Count{1, t.Span}
		}
		r.accept(KeySp)
	} else {
		r.i = n
	}
}

// atTotal says whether a stated total stands here.
func (r *reader) atTotal() bool {
	_, ok := r.totalEnd()
	return ok
}

// totalEnd finds the token behind a total that stands here.
func (r *reader) totalEnd() (int, bool) {
	if r.depth > 0 {
		return 0, false
	}
	i := r.i
	switch t := r.toks[i]; {
	case t.Kind == Equals, t.Kind == Dash:
		if r.ahead(1).Kind != Number && !r.ahead(1).is(KeyTotal) {
			return 0, false
		}
		return r.partsEnd(i + 1)
	case t.Kind == Number:
		if !r.ahead(1).is(KeySt) {
			return 0, false
		}
		end, ok := r.partsEnd(i)
		if ok && r.toks[end].Kind == Stop {
			return end, r.toks[end+1].Kind == EOF
		}
		return end, ok && r.toks[end].Kind == EOF
	case t.Kind == Open:
		end, ok := r.partsEnd(i + 1)
		if !ok || r.toks[end].Kind != Close {
			return 0, false
		}
		switch n := r.toks[end+1]; {
		case n.Kind == EOF, n.Kind == Stop, n.Kind == Semicolon:
			return end + 1, true
		case n.Kind == Comma:
			return end + 1, !r.repeatsBracket(end + 1)
		case n.is(KeyTurn), n.is(KeyJoin), n.is(KeyFastenOff), n.is(KeyChangeTo), n.is(KeyDoNot), n.is(KeyPlaceMarker):
			return end + 1, true
		}
	}
	return 0, false
}

// partsEnd passes the parts of a total, from token i on.
func (r *reader) partsEnd(i int) (int, bool) {
	for {
		for r.toks[i].is(KeyTotal) || r.toks[i].Kind == Equals || r.toks[i].Kind == Colon {
			i++
		}
		if r.toks[i].Kind != Number {
			return i, false
		}
		i++
		if n, ok := r.partUnit(i); ok {
			i = n
		}
		for r.toks[i].is(KeyTotal) {
			i++
		}
		sep := i
		for r.toks[i].Kind == Comma || r.toks[i].Kind == Semicolon || r.toks[i].is(KeyAnd) {
			i++
		}
		if i == sep || r.toks[i].Kind != Number && !r.toks[i].is(KeyTotal) {
			return sep, true
		}
	}
}

// partUnit passes the unit of one part of a total.
func (r *reader) partUnit(i int) (int, bool) {
	switch t := r.toks[i]; {
	case t.is(KeySt), t.is(KeySp), t.is(KeyLoop), t.Kind == ChSpace:
		return i + 1, true
	case t.Kind == Term, t.Kind == Word:
		i++
		for t.Kind == Word && r.toks[i].Kind == Word {
			i++
		}
		if t.Kind == Word && r.toks[i].Kind == Term {
			i++
		}
		if r.toks[i].is(KeySt) || r.toks[i].is(KeyLoop) && isChain(t) {
			i++
		}
		return i, true
	}
	return i, false
}

// total reads the total that stands here, or nothing.
func (r *reader) total() *Total {
	end, ok := r.totalEnd()
	if !ok {
		return nil
	}
	start := r.peek()
	t := r.in.total()
	for r.i < end {
		n := r.take()
		if n.Kind != Number {
			continue
		}
		p := Part{Count: Count{n.Value, n.Span}}
		if to, ok := r.partUnit(r.i); ok {
			p.Unit = r.partOf(to)
			r.i = to
		}
		r.parts = append(r.parts, p)
	}
	t.Parts = r.in.keepParts(r.parts)
	r.parts = r.parts[:0]
	t.Span = r.since(start)
	return t
}

// partOf is the unit that the tokens up to one make.
func (r *reader) partOf(to int) Unit {
	t := r.peek()
	span := Span{t.Start, r.toks[to-1].End}
	u := Unit{Span: span}
	switch {
	case t.is(KeySt):
		u.Kind = UnitSt
	case t.Kind == ChSpace:
		u.Kind, u.Chains = UnitSpace, t.Value
	case t.is(KeySp):
		u.Kind = UnitSpace
	case t.is(KeyLoop):
		u.Kind = UnitLoop
	case isChain(t):
		u.Kind = UnitChain
	default:
		end := to - 1
		for end > r.i && r.toks[end].Kind == Keyword {
			end--
		}
		named := Span{t.Start, r.toks[end].End}
		u.Kind, u.Term = UnitTerm, r.in.ref(Ref{0, Name{named.In(r.text), named}})
		if t.Kind == Term {
			u.Term.Phrase = t.Value + 1
		}
	}
	return u
}
