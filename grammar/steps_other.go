package grammar

import (
	"strconv"

	"workeven/grammar/terms"
)

// skip reads "sk 2", "skip next 2 sts", "sk first st", "sk next ch-2 sp".
func (r *reader) skip() Step {
	start := r.take()
	s := Step{Kind: StepSkip, Count: Count{N: 1}}
	t := r.peek()
	switch {
	case t.Kind == Number:
		s.Count, _ = r.count()
		if u := r.unitOr(UnitNone); u.Kind != UnitNone {
			s.Places = []Place{{Kind: PlaceNext, Count: s.Count, Unit: u, Span: r.since(t)}}
		}
	case t.is(KeyNext), t.is(KeyFirst), t.is(KeyLast), t.is(KeySame), t.is(KeyBase):
		p, ok := r.target()
		if ok {
			s.Count, s.Places = p.Count, []Place{p}
		}
	case t.is(KeyTurningCh):
		r.i++
		s.Places = []Place{{Kind: PlaceTurning, Count: s.Count, Span: t.Span}}
	default:
		u := r.unitOr(UnitNone)
		if u.Kind == UnitNone {
			r.unexpected("how many stitches are skipped")
			return s
		}
		s.Places = []Place{{Kind: PlaceNext, Count: s.Count, Unit: u, Span: r.since(t)}}
	}
	s.Span = r.since(start)
	return s
}

// leave reads "leave remaining 4 sts unworked".
func (r *reader) leave() Step {
	start := r.take()
	s := Step{Kind: StepLeave}
	for r.at(KeyRemaining) || r.at(KeyNext) || r.at(KeyLast) {
		r.i++
	}
	s.Count.N = 0
	if c, ok := r.count(); ok {
		s.Count = c
	}
	for r.at(KeyRemaining) {
		r.i++
	}
	r.unitOr(UnitSt)
	r.accept(KeyUnworked)
	s.Span = r.since(start)
	return s
}

// yarn reads "with B" and "change to B".
func (r *reader) yarn() Step {
	start := r.take()
	s := Step{Kind: StepYarn}
	r.accept(KeyYarn)
	s.detail().Yarn = r.yarnKey()
	if start.is(KeyChangeTo) && r.at(KeyIn) && startsTarget(r.ahead(1)) {
		r.i++
		p, _ := r.target()
		s.Places = []Place{p}
	}
	s.Span = r.since(start)
	return s
}

// yarnKey reads one word: the letter or word a yarn is declared by.
func (r *reader) yarnKey() Name {
	t := r.peek()
	if t.Kind != Word && t.Kind != Term && t.Kind != Keyword {
		r.unexpected("a yarn, such as B")
		return Name{}
	}
	r.i++
	return Name{t.In(r.text), t.Span}
}

// repeatRounds reads "rep Rnds 8-9", "rep last 2 rnds", "as Rnd 5".
func (r *reader) repeatRounds() Step {
	start := r.peek()
	r.accept(KeySame)
	if !r.accept(KeyRep) {
		r.accept(KeyAs)
	}
	x := &Rounds{}
	s := Step{Kind: StepRepeat, Detail: &Detail{Rounds: x}}
	if r.accept(KeyLast) {
		x.Last = true
		x.From, _ = r.count()
		if x.Row = r.at(KeyRow); !r.accept(KeyRnd) && !r.accept(KeyRow) {
			r.unexpected("rnds or rows")
		}
	} else {
		r.roundRange(x)
	}
	s.Span = r.since(start)
	return s
}

// roundRange reads "Rnds 8-9", "Rnd 5", "Rnds 2 and 3".
func (r *reader) roundRange(x *Rounds) {
	start := r.peek()
	if x.Row = r.at(KeyRow); !r.accept(KeyRnd) && !r.accept(KeyRow) {
		r.unexpected("a round, such as Rnd 5")
		return
	}
	from, ok := r.count()
	if !ok {
		r.unexpected("the number of a round")
		return
	}
	x.From, x.To = from, Count{N: from.N}
	t := r.peek()
	if (t.Kind == Dash || t.is(KeyTo) || t.is(KeyAnd)) && r.ahead(1).Kind == Number {
		r.i++
		x.To, _ = r.count()
	}
	x.Span = r.since(start)
}

// join reads the many ways to join: a round, a ring, a yarn, a piece onto another.
func (r *reader) join() Step {
	start := r.take()
	s := Step{Kind: StepJoin, Form: start.is(KeyFormRing)}
	r.accept(KeyYarn)
	if t := r.peek(); t.Kind == Word {
		r.i++
		s.detail().Yarn = Name{t.In(r.text), t.Span}
	}
	r.accept(KeyRnd)
	r.joinWith(&s)
	t := r.peek()
	switch {
	case t.is(KeyTo) && r.ahead(1).is(KeyFormRing):
		r.i += 2
		s.Form = true
	case t.is(KeyIn), t.is(KeyTo), t.is(KeyOn), t.is(KeyOver), t.is(KeyAround):
		r.i++
		r.joinTo(&s)
	}
	if r.at(KeyBetween) {
		r.i++
		s.detail().Rounds = &Rounds{}
		r.roundRange(s.Rounds())
	}
	r.joinWith(&s)
	if r.at(KeyTo) && r.ahead(1).is(KeyFormRing) {
		r.i += 2
		s.Form = true
	}
	s.Form = r.accept(KeyFormRing) || s.Form
	s.Span = r.since(start)
	return s
}

// joinWith reads "with sl st" or "with B".
func (r *reader) joinWith(s *Step) {
	if !r.at(KeyWith) {
		return
	}
	switch n := r.ahead(1); {
	case n.Kind == Term:
		r.i++
		s.Stitch = r.ref()
	case n.Kind == Word && s.Yarn().Written():
		r.fail(n.Span, "this join names two yarns, "+strconv.Quote(s.Yarn().Text)+" and "+strconv.Quote(n.In(r.text))+"; join one of them")
	case n.Kind == Word:
		r.i++
		s.detail().Yarn = r.yarnKey()
	}
}

// joinTo reads a place, or the piece that is worked onto.
func (r *reader) joinTo(s *Step) {
	t := r.peek()
	isPiece := t.Kind == Word || t.Kind == Term && !isChain(t) && !isKind(t.Value, terms.Ring) && (r.ahead(1).is(KeyBetween) || r.ahead(1).Kind == Word)
	if isPiece {
		p := Place{Kind: PlacePiece, Count: Count{N: 1}}
		p.Source = &Source{Of: r.pieceName()}
		p.Span = r.since(t)
		s.Places = append(s.Places, p)
		return
	}
	if p, ok := r.target(); ok {
		s.Places = append(s.Places, p)
	}
}
