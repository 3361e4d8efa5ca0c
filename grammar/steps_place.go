package grammar

import (
	"strings"

	"workeven/grammar/terms"
)

// startsTarget says whether a place can begin with a token.
func startsTarget(t Token) bool {
	switch {
	case t.Kind == Ordinal:
		return true
	case t.Kind == Keyword:
		switch Key(t.Value) {
		case KeyNext, KeyEach, KeySame, KeyFirst, KeyLast, KeyAny, KeyTop, KeyTurningCh, KeyBase:
			return true
		}
	}
	return false
}

// places reads where a stitch goes: "in next st and in each ch across".
func (r *reader) places(s *Step) {
	r.gather(s)
	if len(r.placed) > 0 {
		s.Places = r.in.keepPlaces(r.placed)
		clear(r.placed)
		r.placed = r.placed[:0]
	}
}

// gather gathers the places of a step.
func (r *reader) gather(s *Step) {
	for first := true; !r.failed(); first = false {
		t, n := r.peek(), r.ahead(1)
		post := false
		switch {
		case t.is(KeyIn) && isLoop(n) && r.loopAlone(2):
			if s.Loop != LoopUnsaid {
				return
			}
			r.i++
			r.postLoop(s)
			continue
		case t.is(KeyIn), t.is(KeyOver), t.is(KeyOn) && first:
			r.i++
		case t.is(KeyAnd) && !first && n.is(KeyIn) && !(isLoop(r.ahead(2)) && r.loopAlone(3)):
			r.i += 2
		case t.is(KeyAnd) && !first && startsTarget(n):
			r.i++
		case t.is(KeyTo) && first && r.slips(s) && !n.is(KeyJoin) && !n.is(KeyFormRing) && !n.is(KeyEnd):
			r.i++
		case t.is(KeyAround) && (startsTarget(n) || n.is(KeyPost)) && !r.copyAhead():
			r.i++
			post = true
		case first && startsTarget(t) && !t.is(KeyTop) && !t.is(KeyTurningCh):
		default:
			return
		}
		p, ok := r.target()
		if !ok {
			return
		}
		if post {
			p.Loop, p.Span = LoopPost, r.since(t)
		}
		r.placed = append(r.placed, p)
		if p.Kind == PlaceEach && r.at(KeyAnd) && r.unitAhead(1) {
			r.i++
			q := Place{Kind: PlaceEach, Unit: r.unit()}
			q.Fill = r.fill()
			q.Span = q.Unit.Span.To(q.Fill.Span)
			r.placed = append(r.placed, q)
		}
	}
}

// copyAhead says whether a copy of a piece is gone around: "around first Leg".
func (r *reader) copyAhead() bool {
	return (r.ahead(1).is(KeyFirst) || r.ahead(1).Kind == Ordinal) && r.ahead(2).Kind == Word
}

// loopAlone says whether the token n ahead shows that the loop before it names
// no place of its own: "sc in BLO around".
func (r *reader) loopAlone(n int) bool {
	t := r.ahead(n)
	return !t.is(KeyOf) && !startsTarget(t) && !t.is(KeySt)
}

// unitAhead says whether a space or chain, and no count, stands n ahead.
func (r *reader) unitAhead(n int) bool {
	t := r.ahead(n)
	switch {
	case t.is(KeySp), t.Kind == ChSpace, t.is(KeySt):
		return true
	case t.Kind == Term:
		return isChain(t) && r.ahead(n+1).Kind != Number
	}
	return false
}

func isChain(t Token) bool {
	return t.Kind == Term && isKind(t.Value, terms.Chain)
}

func isKind(phrase int32, k terms.Kind) bool {
	s := PhraseAt(phrase).US
	return s != nil && s.Kind == k
}

func (r *reader) slips(s *Step) bool {
	return s.Stitch.Phrase > 0 && isKind(s.Stitch.Phrase-1, terms.Slip)
}

// slipsToJoin reads what makes a slip stitch a join: "to join", "to form ring".
func (r *reader) slipsToJoin(s *Step) bool {
	if !r.slips(s) || !r.at(KeyTo) {
		return false
	}
	switch n := r.ahead(1); {
	case n.is(KeyFormRing):
		r.i += 2
		s.Form = true
	case n.is(KeyJoin):
		r.i += 2
		if r.at(KeyTo) && r.ahead(1).is(KeyFormRing) {
			r.i++
		}
		s.Form = r.accept(KeyFormRing)
	default:
		return false
	}
	s.Kind = StepJoin
	return true
}

// target reads one place, from behind its "in".
func (r *reader) target() (Place, bool) {
	start := r.peek()
	p := Place{Count: Count{N: 1}}
	if isLoop(start) {
		r.i++
		p.Loop = loopOf(start)
		r.accept(KeyOf)
		if r.at(KeyRnd) || r.at(KeyRow) {
			p.Kind, p.Unit = PlaceFree, Unit{Kind: UnitLoop}
			p.Each = !strings.HasSuffix(strings.ToLower(start.In(r.text)), "loop")
			r.roundRef(&p)
			p.Span = r.since(start)
			return p, !r.failed()
		}
	}
	if r.accept(KeyPost) {
		p.Loop = LoopPost
		r.accept(KeyOf)
	}
	t := r.peek()
	switch {
	case t.is(KeyNext):
		r.i++
		r.counted(&p, PlaceNext)
	case t.is(KeyEach):
		r.i++
		r.each(&p)
	case t.is(KeySame):
		r.i++
		p.Kind, p.Unit = PlaceSame, r.unitOr(UnitSt)
		if r.accept(KeyAs) {
			for r.at(KeyJoin) || r.at(KeyLast) || r.at(KeyFirst) || r.at(KeySt) || r.at(KeyTurningCh) || r.peek().Kind == Term {
				if !r.chainName() {
					r.i++
				}
			}
		}
	case t.is(KeyBase):
		r.i++
		p.Kind, p.Unit = PlaceSame, Unit{Kind: UnitSt}
		r.chainName()
	case t.is(KeyFirst):
		r.i++
		r.counted(&p, PlaceFirst)
	case t.is(KeyLast):
		r.i++
		r.counted(&p, PlaceLast)
	case t.is(KeyAny):
		r.i++
		r.counted(&p, PlaceAny)
	case t.Kind == Ordinal:
		r.i++
		p.Kind, p.Count = PlaceNth, Count{t.Value, t.Span}
		p.Unit = r.unit()
		if r.at(KeyFrom) && r.ahead(1).is(KeyHook) {
			r.i += 2
			p.FromHook = true
		} else if r.at(KeyOf) && (r.ahead(1).is(KeyTurningCh) || isChain(r.ahead(1))) {
			r.i++
			p.Kind = PlaceTop
			r.chainName()
		}
	case t.is(KeyTop):
		r.i++
		p.Kind = PlaceTop
		r.accept(KeyOf)
		if r.at(KeyFirst) || r.at(KeyLast) || r.at(KeySame) || r.at(KeyNext) {
			r.i++
		}
		if !r.chainName() {
			p.Unit = r.unitOr(UnitSt)
		}
	case t.is(KeyTurningCh):
		r.i++
		p.Kind = PlaceTurning
	case t.is(KeyRing):
		r.i++
		p.Kind = PlaceRing
	case t.Kind == Term && isKind(t.Value, terms.Ring):
		r.i++
		p.Kind = PlaceMagicRing
	case t.is(KeyFreeLoops):
		r.i++
		p.Kind, p.Unit = PlaceFree, Unit{Kind: UnitLoop}
		p.Each = strings.HasSuffix(strings.ToLower(t.In(r.text)), "s")
	case t.is(KeyUnworked), t.is(KeySkipped):
		r.counted(&p, PlaceNext)
		p.Each = !p.Count.Written()
	case t.is(KeyRemaining):
		r.remaining(&p)
	case t.is(KeyOtherSide):
		r.i++
		r.accept(KeyOf)
		p.Kind, p.Each = PlaceOther, true
		if r.accept(KeyEach) {
			r.accept(KeyOf)
		}
		if r.at(KeyNext) || r.at(KeyFirst) || r.at(KeyLast) {
			r.i++
			p.Each = false
		}
		if c, ok := r.count(); ok {
			p.Count, p.Each = c, false
		}
		p.Unit = r.unit()
	case t.Kind == Number:
		r.counted(&p, PlaceNext)
		if p.Kind == PlaceNext && p.Count.N == 1 {
			p.Kind = PlaceOne
		}
	default:
		p.Unit = r.unit()
		if p.Unit.Kind == UnitSpace && r.groupAhead() {
			r.i++
			q, _ := r.target()
			q.Unit.Chains, q.Loop, q.Span = p.Unit.Chains, p.Loop, r.since(start)
			return q, !r.failed()
		}
	}
	r.of(&p)
	p.Span = r.since(start)
	return p, !r.failed()
}

// chainName passes the name of a chain: "turning ch", "beg ch-3", "ch 3".
func (r *reader) chainName() bool {
	if r.accept(KeyTurningCh) {
		if r.peek().Kind == Number {
			r.i++
		}
		return true
	}
	if isChain(r.peek()) {
		r.i++
		if r.peek().Kind == Number {
			r.i++
		}
		return true
	}
	return false
}

// counted reads "[3] sts", which may turn out to be free loops or unworked stitches.
func (r *reader) counted(p *Place, k PlaceKind) {
	p.Kind = k
	p.Count, _ = r.count()
	switch {
	case r.accept(KeyFreeLoops):
		p.Kind, p.Unit = PlaceFree, Unit{Kind: UnitLoop}
	case r.at(KeyUnworked), r.at(KeyRemaining), r.at(KeySkipped):
		r.i++
		p.Kind = PlaceUnworked
		p.Unit = r.unitOr(UnitSt)
	default:
		p.Unit = r.unitOr(UnitSt)
	}
}

// remaining reads "remaining [7] sts": what is left of this edge, or with "of
// Row 3" what an earlier row left.
func (r *reader) remaining(p *Place) {
	r.i++
	if r.slipForFill() {
		r.unexpected("a stitch")
		return
	}
	p.Count, _ = r.count()
	p.Unit = r.unitOr(UnitSt)
	switch n := r.ahead(1); {
	case r.at(KeyOf) && (n.is(KeyRnd) || n.is(KeyRow)):
		p.Kind, p.Each = PlaceUnworked, !p.Count.Written()
	case p.Count.Written():
		p.Kind = PlaceEachNext
	default:
		p.Kind = PlaceEach
		p.Fill = r.fill()
	}
}

// all reads "[sts] [around]", which stand for all that are left.
func (r *reader) all(p *Place) {
	if r.slipForFill() {
		r.unexpected("a stitch")
		return
	}
	p.Unit = r.unitOr(UnitSt)
	p.Fill = r.fill()
}

// each reads what stands behind "each".
func (r *reader) each(p *Place) {
	p.Kind = PlaceEach
	of := r.accept(KeyOf)
	switch {
	case r.at(KeyNext), r.at(KeyFirst), r.at(KeyRemaining) && r.ahead(1).Kind == Number:
		r.i++
		r.counted(p, PlaceEachNext)
	case r.at(KeyLast):
		r.i++
		r.counted(p, PlaceLast)
	case r.accept(KeyFreeLoops):
		p.Kind, p.Each, p.Unit = PlaceFree, true, Unit{Kind: UnitLoop}
	case isLoop(r.peek()) && r.ahead(1).is(KeyOf) && (r.ahead(2).is(KeyRnd) || r.ahead(2).is(KeyRow)):
		p.Loop = loopOf(r.take())
		p.Kind, p.Unit = PlaceFree, Unit{Kind: UnitLoop}
	case r.at(KeyUnworked), r.at(KeySkipped):
		r.counted(p, PlaceUnworked)
		p.Each = true
	case r.peek().Kind == Number:
		r.counted(p, PlaceEachNext)
	case of && (r.peek().Kind == Word || r.peek().Kind == EOF):
		r.unexpected("the stitches meant, such as next 3 sts,")
	default:
		if r.at(KeyRemaining) && !r.ahead(1).is(KeyLoop) {
			r.i++
		}
		r.all(p)
	}
	if p.Kind == PlaceFree || p.Kind == PlaceUnworked {
		p.Each = !p.Count.Written()
	}
}

// of reads the piece or round a place belongs to, and how far below it lies.
func (r *reader) of(p *Place) {
	if r.failed() {
		return
	}
	if r.at(KeyOf) {
		n := r.ahead(1)
		switch {
		case n.is(KeyRnd), n.is(KeyRow):
			r.i++
			r.roundRef(p)
		case n.is(KeyFirst), n.is(KeySame), n.is(KeyNext), n.Kind == Ordinal, n.Kind == Word, n.Kind == Term && !isChain(n):
			r.i++
			of := p.source()
			switch {
			case r.accept(KeyFirst):
				of.Nth = 1
			case r.accept(KeySame), r.accept(KeyNext):
			case n.Kind == Ordinal:
				r.i++
				of.Nth = n.Value
			}
			of.Of = r.pieceName()
		case n.is(KeyTurningCh), isChain(n):
			r.i++
			r.chainName()
		}
		if p.Kind == PlaceEach && p.Fill.Kind == FillNone {
			p.Fill = r.fill()
		}
	}
	switch {
	case r.accept(KeyBelow):
		p.source().Below = Count{N: 1}
	case r.peek().Kind == Number && (r.ahead(1).is(KeyRnd) || r.ahead(1).is(KeyRow)) && r.ahead(2).is(KeyBelow):
		p.source().Below, _ = r.count()
		r.i += 2
	case (r.at(KeyRnd) || r.at(KeyRow)) && r.ahead(1).is(KeyBelow):
		p.source().Below = Count{N: 1}
		r.i += 2
	}
}

// groupAhead says whether "of" is followed by a shell or the like that a space
// lies in: "ch-1 sp of next V-st".
func (r *reader) groupAhead() bool {
	n := 2
	if t := r.ahead(1); !r.at(KeyOf) || !t.is(KeyNext) && !t.is(KeyEach) && !t.is(KeyFirst) && !t.is(KeyLast) {
		return false
	}
	if r.ahead(n).Kind == Number {
		n++
	}
	return r.ahead(n).Kind == Term && isKind(r.ahead(n).Value, terms.Group)
}

// roundRef reads "Rnd 5".
func (r *reader) roundRef(p *Place) {
	r.i++
	c, ok := r.count()
	if !ok {
		r.unexpected("the number of a round")
		return
	}
	p.source().Rnd = c
}

// pieceName reads a piece's name: words up to a sign or a word of the notation.
func (r *reader) pieceName() Name {
	t := r.peek()
	for {
		switch n := r.peek(); {
		case n.Kind == Word, n.Kind == Term, n.Kind == Number && r.i > 0 && !r.ahead(1).is(KeyX):
			r.i++
			continue
		case n.is(KeyOf) && r.i > 0 && (r.ahead(1).Kind == Word || r.ahead(1).Kind == Term):
			r.i++
			continue
		}
		break
	}
	if r.peek() == t {
		r.unexpected("the name of a piece")
		return Name{}
	}
	s := r.since(t)
	return Name{strings.Join(strings.Fields(s.In(r.text)), " "), s}
}

func (r *reader) unitOr(k UnitKind) Unit {
	t := r.peek()
	switch {
	case t.Kind == ChSpace, t.Kind == Term, t.Kind == Word, t.is(KeySt), t.is(KeySp), t.is(KeyLoop), t.is(KeyPost), t.is(KeyRowEnd), t.is(KeyBump), t.is(KeyTurningCh):
		return r.unit()
	}
	return Unit{Kind: k}
}

// slipForFill says whether a word that ends its place is a slip of the pen for
// "around" or "across" rather than a stitch.
func (r *reader) slipForFill() bool {
	t, n := r.peek(), r.ahead(1)
	if t.Kind != Word || n.is(KeyAround) || n.is(KeyAcross) || n.is(KeyTo) || n.is(KeyUntil) || n.is(KeyOf) {
		return false
	}
	return nearFill(t.In(r.text))
}

// nearFill says whether a word is nearly "around" or "across".
func nearFill(word string) bool {
	near, ok := nearestWord(strings.ToLower(word))
	return ok && (near == KeyAround.String() || near == KeyAcross.String())
}

// unit reads what is counted: sts, ch, ch-2 sp, dc.
func (r *reader) unit() Unit {
	t := r.peek()
	u := Unit{}
	switch {
	case t.Kind == ChSpace:
		u.Kind, u.Chains = UnitSpace, t.Value
	case t.is(KeySt), t.is(KeyPost), t.is(KeyTurningCh):
		u.Kind = UnitSt
	case t.is(KeySp):
		u.Kind = UnitSpace
	case t.is(KeyLoop):
		u.Kind = UnitLoop
	case t.is(KeyBump):
		u.Kind = UnitChain
	case t.is(KeyRowEnd):
		u.Kind = UnitRowEnd
	case isChain(t):
		u.Kind = UnitChain
	case t.Kind == Term:
		u.Kind, u.Term = UnitTerm, r.in.ref(Ref{t.Value + 1, Name{t.In(r.text), t.Span}})
	case t.Kind == Word:
		u.Kind, u.Term = UnitTerm, r.in.ref(Ref{0, Name{t.In(r.text), t.Span}})
	default:
		r.unexpected("a stitch or a space to work into")
		return u
	}
	r.i++
	if u.Kind == UnitTerm || u.Kind == UnitChain {
		r.accept(KeySt)
	}
	u.Span = r.since(t)
	return u
}
