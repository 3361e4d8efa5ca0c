package grammar

import "workeven/grammar/terms"

func (r *reader) count() (Count, bool) {
	if t := r.peek(); t.Kind == Number {
		r.i++
		return Count{t.Value, t.Span}, true
	}
	return Count{N: 1}, false
}

// ref reads a stitch's name: a term of the glossary, or other words.
func (r *reader) ref() Ref {
	t := r.peek()
	switch t.Kind {
	case Term:
		r.i++
		return Ref{t.Value + 1, Name{t.In(r.text), t.Span}}
	case Word:
		for r.peek().Kind == Word {
			r.i++
		}
		if r.peek().Kind == Term {
			r.i++
		}
		s := r.since(t)
		return Ref{0, Name{s.In(r.text), s}}
	}
	r.unexpected("a stitch")
	return Ref{}
}

// work reads stitches: a count, a name, a count, loops, places, a fill.
func (r *reader) work(start Token, loop Loop, loopSpan Span) Step {
	s := Step{Kind: StepWork, Count: Count{N: 1}}
	s.setLoop(loop, loopSpan)
	if c, ok := r.count(); ok {
		s.Count, s.Before = c, true
		if r.at(KeyX) && (r.ahead(1).Kind == Term || r.ahead(1).Kind == Word) {
			r.i++
		}
		if r.at(KeySt) {
			r.unexpected("the name of a stitch")
			return s
		}
		r.postLoop(&s)
	}
	s.Stitch = r.ref()
	if r.failed() {
		return s
	}
	if !s.Before {
		r.countAfter(&s)
	}
	r.postLoop(&s)
	if !s.Before && !s.Count.Written() { // "sc BLO 12"
		r.countAfter(&s)
	}
	s.Tog = r.accept(KeyTog)
	r.evenly(&s)
	r.places(&s)
	if !r.failed() && !r.slipsToJoin(&s) {
		if r.accept(KeyTog) {
			s.Tog = true
		}
		r.postLoop(&s)
		r.evenly(&s)
		if !endsFilled(s.Places) {
			r.fillPiece(&s)
		}
		r.evenly(&s)
		if r.at(KeyIn) && isLoop(r.ahead(1)) && !r.ahead(2).is(KeyOf) && s.Loop == LoopUnsaid {
			r.i++
			r.postLoop(&s)
		}
	}
	s.Span = r.since(start)
	return s
}

func endsFilled(ps []Place) bool { return len(ps) > 0 && ps[len(ps)-1].Fill.Kind != FillNone }

// countAfter reads "sc 3", "inc x 2", "dec 3 times", "inc twice".
func (r *reader) countAfter(s *Step) {
	t := r.peek()
	switch {
	case t.Kind == Number:
		r.i++
		s.Count = Count{t.Value, t.Span}
		if !r.accept(KeyX) && r.at(KeySt) {
			r.i++
		}
	case t.is(KeyX) && r.ahead(1).Kind == Number:
		r.i++
		s.Count, _ = r.count()
	case t.Kind == TimesWord:
		r.i++
		s.Count = Count{t.Value, t.Span}
	}
}

// postLoop reads a loop that stands behind its stitch: "sc BLO 3".
func (r *reader) postLoop(s *Step) {
	if t := r.peek(); isLoop(t) && s.Loop == LoopUnsaid {
		r.i++
		s.setLoop(loopOf(t), t.Span)
	}
}

func (r *reader) evenly(s *Step) {
	if r.accept(KeyEvenly) {
		s.Evenly = true
	}
}

// fillPiece reads "around", "to last 3 sts", or the piece that is gone around.
func (r *reader) fillPiece(s *Step) {
	s.Fill = r.fill()
	if s.Fill.Kind == FillAround || s.Fill.Kind == FillAcross {
		t, n := r.peek(), r.ahead(1)
		nth := (t.is(KeyFirst) || t.is(KeyBoth) || t.Kind == Ordinal) && (n.Kind == Word || n.Kind == Term)
		if t.Kind == Word || t.Kind == Term && !r.spreadAhead() || nth {
			p := Place{Kind: PlaceEach, Unit: Unit{Kind: UnitSt}}
			p.Source = &Source{}
			if nth {
				r.i++
				switch p.Source.Nth = 1; {
				case t.is(KeyBoth):
					p.Source.Nth = BothCopies
				case t.Kind == Ordinal:
					p.Source.Nth = t.Value
				}
			}
			p.Source.Of = r.pieceName()
			p.Span = r.since(t)
			p.Fill, s.Fill = s.Fill, Fill{}
			s.Places = append(s.Places, p)
		}
	}
}

// spreadAhead says whether the next step says how many to increase or decrease
// on the way, which needs no comma before it: "sc around increasing 6 sts evenly".
func (r *reader) spreadAhead() bool {
	t := r.peek()
	if t.Kind != Term || !shapes(t) || r.ahead(1).Kind != Number {
		return false
	}
	return r.ahead(2).is(KeyEvenly) || r.ahead(2).is(KeySt) && r.ahead(3).is(KeyEvenly)
}

// shapes says whether a term is an increase or a decrease.
func shapes(t Token) bool { return isKind(t.Value, terms.Increase) || isKind(t.Value, terms.Decrease) }

// goesOn says whether a step of stitches goes all along the edge.
func (s *Step) goesOn() bool {
	return s.Kind == StepWork && (s.Fill.Kind != FillNone || endsFilled(s.Places))
}

// fill reads how far a step goes, or nothing.
func (r *reader) fill() Fill {
	t := r.peek()
	f := Fill{}
	switch {
	case t.is(KeyAround):
		r.i++
		f.Kind = FillAround
	case t.is(KeyAcross):
		r.i++
		f.Kind = FillAcross
	case t.is(KeyTo) && r.ahead(1).is(KeyEnd):
		r.i += 2
		f.Kind = FillEnd
		if r.accept(KeyOf) && !r.accept(KeyRnd) {
			r.accept(KeyRow)
		}
	case r.toLast(&f):
	default:
		return f
	}
	if f.Kind == FillAround || f.Kind == FillAcross {
		if !r.toLast(&f) && r.at(KeyTo) && r.ahead(1).is(KeyEnd) {
			r.i += 2
		}
	}
	f.Span = r.since(t)
	return f
}

// toLast reads "to last 3 sts", "to turning ch" or "until 3 sts remain".
func (r *reader) toLast(f *Fill) bool {
	switch {
	case r.at(KeyTo) && r.ahead(1).is(KeyLast):
		r.i += 2
		f.Last = &Last{}
		f.Last.Count, _ = r.count()
		f.Last.Unit = r.unit()
	case r.at(KeyTo) && r.ahead(1).is(KeyTurningCh):
		r.i += 2
		f.Last = &Last{Count{N: 1}, Unit{Kind: UnitSt}}
	case r.at(KeyUntil) && r.ahead(1).Kind == Number:
		r.i++
		f.Last = &Last{}
		f.Last.Count, _ = r.count()
		f.Last.Unit = r.unit()
		if !r.accept(KeyRemaining) && r.peek().Kind == Word {
			r.i++
		}
	default:
		return false
	}
	f.Kind = FillToLast
	return true
}
