package grammar

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// The places and the repeats of the plain grammar, made into the tree.

func (l *lowering) places(s *Step, g *placeList) {
	if g != nil {
		l.firstPlace(s, &g.First)
		l.morePlaces(s, g.More)
	}
}

func (l *lowering) firstPlace(s *Step, g *firstPlace) {
	switch {
	case g.Loop != nil:
		l.setLoop(s, &g.Loop.Loop)
	case g.In != nil:
		l.placed(s, g.In, nil)
	case g.Bare != nil:
		l.placed(s, g.Bare, nil)
	default:
		l.placed(s, g.Post, g.Tokens)
	}
}

func (l *lowering) morePlaces(s *Step, list []*morePlace) {
	for _, g := range list {
		switch {
		case g.Loop != nil:
			l.setLoop(s, &g.Loop.Loop)
		case g.In != nil:
			l.placed(s, g.In, nil)
		case g.And != nil:
			l.placed(s, g.And, nil)
		default:
			l.placed(s, g.Post, g.Tokens)
		}
	}
}

// placed adds a place and what is worked into besides. The tokens of a place
// that is gone around are handed in: its stitches go around the post.
func (l *lowering) placed(s *Step, g *placed, around []lexer.Token) {
	p := l.one(g.Some, g.Each)
	if around != nil {
		p.Loop, p.Span.Start = LoopPost, l.token(around[0]).Start
	}
	s.Places = append(s.Places, p)
	if g.Also != nil {
		q := Place{Kind: PlaceEach, Unit: l.unit(&g.Also.Unit), Fill: l.fill(g.Also.Fill)}
		q.Span = q.Unit.Span.To(q.Fill.Span)
		s.Places = append(s.Places, q)
	}
}

func (l *lowering) one(some *somePlace, each *eachPlace) Place {
	if some != nil {
		return l.some(some)
	}
	return l.each(each)
}

func (l *lowering) anyPlace(g *anyPlace) []Place {
	if g == nil {
		return nil
	}
	return []Place{l.one(g.Some, g.Each)}
}

func (l *lowering) some(g *somePlace) Place {
	p := Place{Count: Count{N: 1}, Span: l.span(g.Tokens)}
	if g.OfRound != nil {
		p.Kind, p.Unit, p.Source = PlaceFree, Unit{Kind: UnitLoop}, &Source{Rnd: l.count(g.OfRound.Round)}
		p.Loop, _ = l.loop(&g.OfRound.Loop)
		p.Each = !l.endsIn(g.OfRound.Loop.Mark, "loop")
		return p
	}
	l.lead(&p, g.Loop, g.Post)
	switch {
	case g.Next != nil:
		l.units(&p, g.Next, PlaceNext)
	case g.First != nil:
		l.units(&p, g.First, PlaceFirst)
	case g.Last != nil:
		l.units(&p, g.Last, PlaceLast)
	case g.Any != nil:
		l.units(&p, g.Any, PlaceAny)
	case g.Each != nil:
		l.eachCounted(&p, g.Each)
	case g.Same != nil:
		p.Kind, p.Unit = PlaceSame, l.unitOr(g.Same.Unit, UnitSt)
	case g.Base != nil:
		p.Kind, p.Unit = PlaceSame, Unit{Kind: UnitSt}
	case g.Nth != nil:
		p.Kind, p.Count, p.Unit, p.FromHook = PlaceNth, l.count(g.Nth.Nth), l.unit(&g.Nth.Unit), g.Nth.Hook
		if g.Nth.Top != nil {
			p.Kind = PlaceTop
		}
	case g.Top != nil:
		p.Kind = PlaceTop
		if g.Top.Chain == nil {
			p.Unit = l.unitOr(g.Top.Unit, UnitSt)
		}
	case g.Turning:
		p.Kind = PlaceTurning
	case g.Ring:
		p.Kind = PlaceRing
	case g.Magic:
		p.Kind = PlaceMagicRing
	case g.Left != nil:
		free := written(g.Left.Free)
		l.left(&p, free, g.Left.Unit)
		p.Each = !free || l.endsIn(g.Left.Free, "s")
	case g.Rest != nil:
		l.rest(&p, g.Rest, g.Of)
	case g.Other != nil:
		p.Kind, p.Count, p.Unit = PlaceOther, l.count(g.Other.N), l.unit(&g.Other.Unit)
		p.Each = !g.Other.Some && !p.Count.Written()
	case g.Counted != nil:
		l.units(&p, g.Counted, PlaceNext)
		if p.Kind == PlaceNext && p.Count.N == 1 {
			p.Kind = PlaceOne
		}
	case g.Within != nil:
		l.refuseIf(g.Of != nil || g.Below != nil)
		q := l.one(g.Within.Some, g.Within.Each)
		q.Unit.Chains, q.Loop, q.Span = l.unit(&g.Within.Space).Chains, p.Loop, p.Span
		return q
	default:
		p.Unit = l.unit(g.Unit)
	}
	l.of(&p, g.Of)
	l.below(&p, g.Below)
	return p
}

// lead is the loop or the post that a place begins with.
func (l *lowering) lead(p *Place, loop *loopMark, post bool) {
	if loop != nil {
		p.Loop, _ = l.loop(loop)
	}
	if post {
		p.Loop = LoopPost
	}
}

func (l *lowering) units(p *Place, g *countedUnits, k PlaceKind) {
	p.Kind, p.Count = k, l.count(g.N)
	switch {
	case g.Free, g.Left:
		l.left(p, g.Free, g.Those)
	default:
		p.Unit = l.unitOr(g.Unit, UnitSt)
	}
}

// left is loops or stitches that earlier rounds left.
func (l *lowering) left(p *Place, free bool, unit *unitName) {
	if free {
		p.Kind, p.Unit = PlaceFree, Unit{Kind: UnitLoop}
		return
	}
	p.Kind, p.Unit = PlaceUnworked, l.unitOr(unit, UnitSt)
}

// rest is what remains: of an earlier round, or so many of this edge.
func (l *lowering) rest(p *Place, g *restPlaces, of *placeOf) {
	p.Count, p.Unit = l.count(g.N), l.unitOr(g.Unit, UnitSt)
	if g.Sts != nil {
		p.Unit = l.unit(g.Sts)
	}
	p.Kind = PlaceEachNext
	if of != nil && written(of.Round) {
		p.Kind, p.Each = PlaceUnworked, !p.Count.Written()
	}
}

// endsIn says how a word is written: "free loops" are all of them, a "free
// loop" is one.
func (l *lowering) endsIn(t lexer.Token, letters string) bool {
	return strings.HasSuffix(strings.ToLower(l.word(t).Text), letters)
}

func (l *lowering) eachCounted(p *Place, g *eachCounted) {
	switch {
	case g.Next != nil:
		l.units(p, g.Next, PlaceEachNext)
	case g.Last != nil:
		l.units(p, g.Last, PlaceLast)
	case g.Counted != nil:
		l.units(p, g.Counted, PlaceEachNext)
	case g.Loop != nil:
		l.left(p, true, nil)
		p.Loop, _ = l.loop(g.Loop)
	default:
		l.left(p, g.Free, g.Those)
	}
	if p.Kind == PlaceFree || p.Kind == PlaceUnworked {
		p.Each = !p.Count.Written()
	}
}

func (l *lowering) each(g *eachPlace) Place {
	p := Place{Kind: PlaceEach, Count: Count{N: 1}, Unit: l.unitOr(g.Unit, UnitSt), Span: l.span(g.Tokens)}
	l.lead(&p, g.Loop, g.Post)
	if g.Fill != nil {
		p.Fill = l.fill(g.Fill)
		l.of(&p, g.Of)
	} else {
		l.of(&p, g.From)
		p.Fill = l.fill(g.Then)
	}
	l.below(&p, g.Below)
	return p
}

func (l *lowering) of(p *Place, g *placeOf) {
	switch {
	case g == nil || g.Chain != nil:
	case g.Piece != nil:
		p.Source = &Source{Of: l.piece(&g.Piece.Name), Nth: l.copyOf(g.Piece.First, g.Piece.Nth)}
	default:
		p.Source = &Source{Rnd: l.count(g.Round)}
	}
}

// copyOf is which copy of a piece is meant; 0 where that is not said.
func (l *lowering) copyOf(first bool, nth lexer.Token) int32 {
	switch {
	case first:
		return 1
	case written(nth):
		return l.token(nth).Value
	}
	return 0
}

func (l *lowering) below(p *Place, g *roundsBelow) {
	if g != nil {
		p.source().Below = l.count(g.N)
	}
}

// piece is a piece's name, its words one blank apart.
func (l *lowering) piece(g *pieceName) Name {
	n := l.name(g.Tokens)
	n.Text = strings.Join(strings.Fields(n.Text), " ")
	return n
}

func (l *lowering) unitOr(g *unitName, k UnitKind) Unit {
	if g == nil {
		return Unit{Kind: k}
	}
	return l.unit(g)
}

func (l *lowering) unit(g *unitName) Unit {
	u := l.unitOf(l.token(g.Tokens[0]))
	u.Span = l.span(g.Tokens)
	return u
}

// unitOf is what the first token of a unit counts.
func (l *lowering) unitOf(t Token) Unit {
	switch {
	case t.Kind == ChSpace:
		return Unit{Kind: UnitSpace, Chains: t.Value}
	case t.is(KeySp):
		return Unit{Kind: UnitSpace}
	case t.is(KeyLoop):
		return Unit{Kind: UnitLoop}
	case t.is(KeyRowEnd):
		return Unit{Kind: UnitRowEnd}
	case t.is(KeyBump), isChain(t):
		return Unit{Kind: UnitChain}
	case t.Kind == Term:
		return Unit{Kind: UnitTerm, Term: &Ref{t.Value + 1, Name{t.In(l.text), t.Span}}}
	case t.Kind == Word:
		return Unit{Kind: UnitTerm, Term: &Ref{0, Name{t.In(l.text), t.Span}}}
	}
	return Unit{Kind: UnitSt}
}

func (l *lowering) fill(g *fillWords) Fill {
	if g == nil {
		return Fill{}
	}
	f := Fill{Span: l.span(g.Tokens)}
	to := g.Last
	switch {
	case g.Around:
		f.Kind, to = FillAround, g.ToLast
	case g.Across:
		f.Kind, to = FillAcross, g.ToLast
	case g.End:
		f.Kind = FillEnd
	}
	if to == nil {
		return f
	}
	f.Kind = FillToLast
	switch {
	case to.Turning:
		f.Last = &Last{Count{N: 1}, Unit{Kind: UnitSt}}
	case to.Rest != nil:
		f.Last = &Last{l.count(to.Until), l.unit(to.Rest)}
	default:
		f.Last = &Last{l.count(to.N), l.unit(to.Unit)}
	}
	return f
}

func (l *lowering) countedBracket(g *countedBracket) Step {
	s := Step{Kind: StepBracket, Count: Count{N: 1}, Group: l.group(&g.Group)}
	n := l.count(g.N)
	s.Group.Times = Times{Kind: TimesTotal, Count: n, Span: n.Span}
	return s
}

func (l *lowering) bracket(g *bracketStep) Step {
	s := Step{Kind: StepBracket, Count: Count{N: 1}, Group: l.group(&g.Group)}
	if g.Times == nil {
		l.places(&s, g.Places)
		l.refuseIf(len(s.Places) == 0)
		return s
	}
	t := &s.Group.Times
	switch {
	case g.Times.Count != nil:
		*t = l.times(g.Times.Count, TimesTotal)
		if t.Kind == TimesMore {
			t.Kind = TimesTotal
		}
	case g.Times.Fill != nil:
		*t = Times{Kind: TimesFill, Fill: l.fill(g.Times.Fill)}
	default:
		*t = Times{Kind: TimesTotal, Count: l.count(g.Times.Sign)}
	}
	t.Span = l.span(g.Times.Tokens)
	l.places(&s, g.Inside)
	return s
}

// group is the steps in a bracket. Its signs are of one kind, it holds a step,
// and it stands in no more than maxDepth others.
func (l *lowering) group(g *bracketed) *Group {
	open, end := l.token(g.Tokens[0]), l.token(g.Tokens[len(g.Tokens)-1])
	l.refuseIf(!pairs(l.text[open.Start], l.text[end.Start]))
	l.depth++
	l.refuseIf(l.depth > maxDepth)
	steps := l.steps(g.Steps.Steps)
	l.depth--
	l.refuseIf(len(steps) == 0)
	return &Group{Steps: steps, Stop: -1, Inner: Span{l.token(g.Tokens[1]).Start, end.Start}}
}

// times is a number of times; a bare one is of the kind handed in.
func (l *lowering) times(g *countTimes, bare TimesKind) Times {
	x := Times{Kind: bare, Count: l.count(g.N), Span: l.span(g.Tokens)}
	switch {
	case written(g.Extra):
		x.Kind, x.Count = TimesMore, l.count(g.Extra)
	case g.More:
		x.Kind = TimesMore
	case g.Total:
		x.Kind = TimesTotal
	}
	return x
}

func (l *lowering) star(g *starStep) Step {
	l.depth++
	l.refuseIf(l.depth > maxDepth)
	x := &Group{Steps: l.steps(g.Body.First.Steps), Stop: -1, Inner: l.span(g.Body.Tokens), EndAt: g.EndAt}
	if g.Body.Stop {
		x.Stop = len(x.Steps)
		x.Steps = append(x.Steps, l.steps(g.Body.Second.Steps)...)
	}
	l.depth--
	l.refuseIf(len(x.Steps) == 0)
	l.refuseIf(x.EndAt && x.Stop < 0)
	again := g.Again != nil || g.Rep // "rep from *", or a bare "rep" that closes the star
	switch {
	case g.Count != nil && again:
		x.Times = l.times(g.Count, TimesUnclear)
	case g.Count != nil:
		x.Times = l.times(g.Count, TimesTotal)
		if x.Times.Kind == TimesMore {
			x.Times.Kind = TimesTotal
		}
	case g.Fill != nil:
		f := l.fill(g.Fill)
		x.Times = Times{Kind: TimesFill, Fill: f, Span: f.Span}
	default:
		l.refuseIf(!again)
		x.Times = Times{Kind: TimesFill, Fill: Fill{Kind: FillAround}}
	}
	return Step{Kind: StepStar, Count: Count{N: 1}, Group: x}
}
