package grammar

import (
	"slices"

	"github.com/alecthomas/participle/v2/lexer"
)

// PlainSteps reads steps, the total and what stands behind it as the reader
// does, but through the plain grammar; false where they do not parse. It takes
// some hundred times as long: it is there to be read, and to hold the reader to.
func PlainSteps(text string, from, to int) (steps []Step, total *Total, after []Step, ok bool) {
	text = text[:to]
	l := lowering{text: text, toks: lexed(nil, text, from)}
	if l.tooDeep() {
		return nil, nil, nil, false
	}
	lex, err := lexer.Upgrade(&tokens{scanner{text: text, at: from, vocab: vocab()}})
	if err != nil {
		return nil, nil, nil, false
	}
	g, err := roundParser().ParseFromLexer(lex)
	if err != nil {
		return nil, nil, nil, false
	}
	steps = l.steps(g.Steps.Steps)
	if g.Total != nil {
		total = l.total(g.Total)
	}
	after = l.steps(g.After.Steps)
	if l.refused {
		return nil, nil, nil, false
	}
	return steps, total, after, true
}

// lowering makes the tree of what the plain grammar parsed.
type lowering struct {
	text  string
	toks  []Token
	depth int
	// refused is set where the grammar is content and the notation is not.
	refused bool
}

// tooDeep says whether brackets nest deeper than any that could parse.
func (l *lowering) tooDeep() bool {
	open := 0
	for _, t := range l.toks {
		switch t.Kind {
		case Open:
			if open++; open > maxDepth+1 { // the innermost may hold a note
				return true
			}
		case Close:
			open--
		}
	}
	return false
}

func (l *lowering) refuseIf(wrong bool) { l.refused = l.refused || wrong }

// written says whether an optional token was taken.
func written(t lexer.Token) bool { return t.Type != 0 }

// token is our own token for one of participle's.
func (l *lowering) token(t lexer.Token) Token {
	i, _ := slices.BinarySearchFunc(l.toks, int32(t.Pos.Offset), func(t Token, at int32) int { return int(t.Start - at) })
	return l.toks[i]
}

func (l *lowering) span(ts []lexer.Token) Span {
	if len(ts) == 0 {
		return Span{}
	}
	return Span{l.token(ts[0]).Start, l.token(ts[len(ts)-1]).End}
}

func (l *lowering) name(ts []lexer.Token) Name {
	s := l.span(ts)
	return Name{s.In(l.text), s}
}

func (l *lowering) word(t lexer.Token) Name { return l.name([]lexer.Token{t}) }

// count is a number as written, or 1 where none is.
func (l *lowering) count(t lexer.Token) Count {
	if !written(t) {
		return Count{N: 1}
	}
	own := l.token(t)
	return Count{own.Value, own.Span}
}

func (l *lowering) loop(m *loopMark) (Loop, Span) {
	t := l.token(m.Mark)
	return loopOf(t), t.Span
}

// setLoop gives a step its loop, which is said once.
func (l *lowering) setLoop(s *Step, m *loopMark) {
	if m != nil {
		l.refuseIf(s.Loop != LoopUnsaid)
		s.setLoop(l.loop(m))
	}
}

// steps are a list of steps; a note joins the stitches that it stands for.
func (l *lowering) steps(list []*listedStep) []Step {
	var out []Step
	apart, last := true, Step{}
	for _, item := range list {
		s := l.step(&item.Step)
		l.refuseIf(!apart && !l.abuts(&last, &item.Step))
		if n := len(out); n > 0 && s.standsFor(&out[n-1]) {
			out[n-1].detail().Standing, out[n-1].Span = s.Standing(), out[n-1].Span.To(s.Span)
		} else {
			out = append(out, s)
		}
		if item.Ending != nil {
			l.refuseIf(s.Group == nil || s.Group.Times.Kind == TimesNone)
			ends := l.ending(item.Ending)
			if s.Group != nil {
				s.Group.Ending = int32(len(ends))
			}
			out = append(out, ends...)
			if s = (Step{Kind: StepBracket}); item.Ending.Step != nil {
				s = ends[0]
			}
		}
		l.refuseIf(item.Colon && s.Kind != StepLoops)
		apart, last = item.Apart || item.Colon, s
	}
	return out
}

func (l *lowering) ending(g *repeatEnds) []Step {
	if g.Group != nil {
		return l.group(g.Group).Steps
	}
	return []Step{l.step(g.Step)}
}

func (l *lowering) placedFirst(g *placedFirst) Step {
	s := Step{Kind: StepBracket, Count: Count{N: 1}}
	switch {
	case g.Slip != nil:
		s = l.slip(g.Slip)
	case g.Stitch != nil:
		s = l.stitches(g.Stitch)
	default:
		s.Group = l.group(g.Group)
	}
	l.refuseIf(s.Kind == StepJoin || len(s.Places) > 0 || s.Fill.Kind != FillNone || s.Evenly)
	s.Places = []Place{l.one(g.Place.Some, g.Place.Each)}
	return s
}

// abuts says whether a step may follow another without a comma: because of what
// the first does, or because of what the second begins with.
func (l *lowering) abuts(first *Step, second *oneStep) bool {
	switch first.Kind {
	case StepYarn, StepLoops, StepStanding:
		return true
	}
	t := l.token(second.Tokens[0])
	if second.Standing != nil || t.Kind != Keyword {
		return second.Standing != nil || first.goesOn() && l.spreads(second.Tokens)
	}
	switch Key(t.Value) {
	case KeyTurn, KeyJoin, KeyWith, KeyChangeTo, KeyRep, KeyFastenOff, KeyPlaceMarker, KeyMoveMarker, KeySk, KeyLeave, KeyDoNot:
		return true
	}
	return false
}

// spreads says whether a step begins as spreadStep does.
func (l *lowering) spreads(tokens []lexer.Token) bool {
	r := reader{text: l.text}
	for _, t := range tokens {
		r.toks = append(r.toks, l.token(t))
	}
	r.toks = append(r.toks, Token{Kind: EOF})
	return r.spreadAhead()
}

func (l *lowering) step(g *oneStep) Step {
	s := Step{}
	switch {
	case g.Slip != nil:
		s = l.slip(g.Slip)
	case g.Looped != nil:
		s = l.looped(g.Looped)
	case g.Stitches != nil:
		s = l.stitches(g.Stitches)
	case g.Counted != nil:
		s = l.countedBracket(g.Counted)
	case g.Standing != nil:
		s = l.standing(g.Standing)
	case g.Bracket != nil:
		s = l.bracket(g.Bracket)
	case g.Star != nil:
		s = l.star(g.Star)
	case g.Skip != nil:
		s = l.skip(g.Skip, g.Tokens)
	case g.Join != nil:
		s = l.join(g.Join)
	case g.Turn:
		s.Kind = StepTurn
	case g.FastenOff != nil:
		s.Kind = StepFastenOff
		if written(g.FastenOff.Yarn) {
			s.detail().Yarn = l.word(g.FastenOff.Yarn)
			l.refuseIf(len(s.Yarn().Text) > maxYarnKey)
		}
	case g.DoNot != nil:
		s.Kind = StepDoNot
	case g.Leave != nil:
		s.Kind = StepLeave
		if written(g.Leave.N) {
			s.Count = l.count(g.Leave.N)
		}
	case g.Marker != nil:
		s.Kind, s.Places = StepMarker, l.anyPlace(g.Marker.Place)
	case g.Yarn != nil:
		s.Kind, s.Places = StepYarn, l.anyPlace(g.Yarn.Place)
		if key := g.Yarn.With; written(key) {
			s.detail().Yarn = l.word(key)
		} else {
			s.detail().Yarn = l.word(g.Yarn.Change)
		}
	case g.Rounds != nil:
		s.Kind, s.detail().Rounds = StepRepeat, l.rounds(g.Rounds)
	case g.Even != nil:
		s.Kind, s.Fill = StepEven, l.fill(g.Even.Fill)
		if g.Even.Stitch != nil {
			s.Stitch = l.stitch(g.Even.Stitch)
		}
	case g.OtherSide != nil:
		s.Kind = StepOtherSide
	case g.Placed != nil:
		s = l.placedFirst(g.Placed)
	case g.Source != nil:
		s.Kind, s.Places = StepLoops, []Place{l.some(&g.Source.Place)}
	case g.Loops != nil:
		s.Kind = StepLoops
		s.setLoop(l.loopFirst(&g.Loops.Loop))
	case g.Work != nil:
		s = l.step(g.Work)
	case g.Make != nil:
		s = l.step(g.Make)
	}
	s.Span = l.span(g.Tokens)
	return s
}

func (l *lowering) loopFirst(g *loopFirst) (Loop, Span) {
	loop, _ := l.loop(&g.Loop)
	return loop, l.span(g.Tokens)
}

func (l *lowering) looped(g *loopedStep) Step {
	var s Step
	switch {
	case g.Slip != nil:
		s = l.slip(g.Slip)
	case g.Stitches != nil:
		s = l.stitches(g.Stitches)
	default:
		s = l.bracket(g.Bracket)
	}
	l.refuseIf(s.Loop != LoopUnsaid)
	s.setLoop(l.loopFirst(&g.Loop))
	return s
}

func (l *lowering) stitch(g *stitchName) Ref {
	r := Ref{Name: l.name(g.Tokens)}
	if t := l.token(g.Tokens[0]); t.Kind == Term {
		r.Phrase = t.Value + 1
	}
	return r
}

func (l *lowering) counted(s *Step, g *countedStitch) {
	s.Count, s.Tog, s.Evenly = Count{N: 1}, g.Tog, g.Evenly
	if g.Counted != nil {
		s.Count, s.Before, s.Stitch = l.count(g.Before), true, l.stitch(g.Counted)
	} else {
		s.Stitch = l.stitch(g.Stitch)
	}
	for _, n := range []*countBehind{g.Count, g.Times} {
		if n != nil {
			s.Count = l.count(n.N)
		}
	}
	for _, m := range []*loopMark{g.Front, g.Loop, g.Behind, g.Then} {
		l.setLoop(s, m)
	}
}

func (l *lowering) stitches(g *stitchStep) Step {
	s := Step{Kind: StepWork}
	l.counted(&s, &g.Stitch)
	l.places(&s, g.Places)
	l.tail(&s, &g.Tail)
	return s
}

func (l *lowering) slip(g *slipStep) Step {
	s := Step{Kind: StepWork}
	l.counted(&s, &g.Stitch)
	if g.Places != nil {
		if g.Places.To != nil {
			l.placed(&s, g.Places.To, nil)
		} else {
			l.firstPlace(&s, g.Places.First)
		}
		l.morePlaces(&s, g.Places.More)
	}
	if g.Join != nil {
		l.refuseIf(len(g.Tail.Tokens) > 0)
		s.Kind, s.Form = StepJoin, g.Join.Ring || g.Join.Both
		return s
	}
	l.tail(&s, &g.Tail)
	return s
}

// tail is what follows the places of stitches; the last place may have said
// already how far to go.
func (l *lowering) tail(s *Step, g *stitchTail) {
	s.Tog = s.Tog || g.Tog
	l.setLoop(s, g.Loop)
	s.Evenly = s.Evenly || g.Evenly || g.Spaced
	l.setLoop(s, g.In)
	if g.Fill == nil {
		return
	}
	l.refuseIf(endsFilled(s.Places))
	s.Fill = l.fill(g.Fill)
	if g.Piece != nil {
		l.refuseIf(s.Fill.Kind != FillAround && s.Fill.Kind != FillAcross)
		p := Place{Kind: PlaceEach, Unit: Unit{Kind: UnitSt}, Span: l.span(g.Piece.Tokens), Fill: s.Fill}
		p.Source = &Source{Of: l.piece(&g.Piece.Name), Nth: l.copyOf(g.Piece.First, g.Piece.Nth)}
		if g.Piece.Both {
			p.Source.Nth = BothCopies
		}
		s.Places, s.Fill = append(s.Places, p), Fill{}
	}
}

func (l *lowering) skip(g *skipStep, tokens []lexer.Token) Step {
	s := Step{Kind: StepSkip, Count: l.count(g.N)}
	p := Place{Count: s.Count, Span: l.span(tokens[1:])}
	switch {
	case g.Place != nil:
		p = l.some(g.Place)
		s.Count = p.Count
	case g.Turning:
		p.Kind = PlaceTurning
	case g.Unit != nil:
		p.Unit = l.unit(g.Unit)
	case g.Counted != nil:
		p.Unit = l.unit(g.Counted)
	default:
		return s
	}
	s.Places = []Place{p}
	return s
}

func (l *lowering) rounds(g *roundsStep) *Rounds {
	if g.Last {
		return &Rounds{Last: true, Row: g.Row, From: l.count(g.N)}
	}
	return l.roundRange(g.Rounds)
}

func (l *lowering) roundRange(g *roundRange) *Rounds {
	x := &Rounds{Row: g.Row, From: l.count(g.From), Span: l.span(g.Tokens)}
	x.To = Count{N: x.From.N}
	if written(g.To) {
		x.To = l.count(g.To)
	}
	return x
}

func (l *lowering) join(g *joinStep) Step {
	s := Step{Kind: StepJoin, Form: g.Ring || g.To || g.ToRing || g.Last}
	if written(g.Yarn) {
		s.detail().Yarn = l.word(g.Yarn)
	}
	for _, w := range []*joinWith{g.With, g.Again} {
		switch {
		case w == nil:
		case written(w.Stitch):
			s.Stitch = Ref{l.token(w.Stitch).Value + 1, l.word(w.Stitch)}
		default:
			l.refuseIf(s.Yarn().Written())
			s.detail().Yarn = l.word(w.Yarn)
		}
	}
	if g.Piece != nil {
		of := l.piece(&g.Piece.Name)
		s.Places = []Place{{Kind: PlacePiece, Count: Count{N: 1}, Source: &Source{Of: of}, Span: of.Span}}
	} else {
		s.Places = l.anyPlace(g.Place)
	}
	if g.Between != nil {
		s.detail().Rounds = l.roundRange(g.Between)
	}
	return s
}

func (l *lowering) standing(g *standingNote) Step {
	n := g.Bare
	if g.Note != nil {
		n = g.Note
	}
	st := &Standing{Skipped: n.Skipped, Not: n.Not, Throughout: n.Early || n.Late || g.Later, Span: l.span(g.Tokens)}
	if as := n.As; as != nil {
		if as.Stitch != nil {
			st.As = l.stitch(as.Stitch)
		}
		space := as.Space
		if as.Beside != nil {
			st.Chains, space = l.count(as.Beside.N), as.Beside.Space
		}
		if space != nil {
			st.Chains = l.chains(space)
		}
	}
	return Step{Kind: StepStanding, Detail: &Detail{Standing: st}}
}

func (l *lowering) chains(g *chainSpace) Count {
	switch {
	case written(g.Space):
		return l.count(g.Space)
	case written(g.N):
		return l.count(g.N)
	}
	return Count{1, l.token(g.Chain).Span}
}

func (l *lowering) total(g *roundTotal) *Total {
	parts := g.Signed
	switch {
	case g.Bare != nil:
		parts = g.Bare
	case g.Braced != nil:
		parts = g.Braced
	}
	t := &Total{Parts: []Part{l.part(parts.First)}, Span: l.span(g.Tokens)}
	for _, p := range parts.More {
		t.Parts = append(t.Parts, l.part(p))
	}
	return t
}

func (l *lowering) part(g totalPart) Part {
	p := Part{Count: l.count(g.N)}
	if g.Unit == nil {
		return p
	}
	words := g.Unit.Tokens
	first := l.token(words[0])
	p.Unit = l.unitOf(first)
	p.Unit.Span = l.span(words)
	if p.Unit.Kind == UnitTerm {
		for len(words) > 1 && l.token(words[len(words)-1]).Kind == Keyword {
			words = words[:len(words)-1]
		}
		p.Unit.Term.Name = l.name(words)
	}
	return p
}
