package lsp

import (
	"fmt"

	"workeven/fabric"
	"workeven/grammar"
)

// round explains a place in a round.
func (e *explainer) round(n *grammar.Round) {
	piece, r := e.p.RoundAt(e.at)
	if r == nil {
		return
	}
	switch {
	case e.on(n.Label):
		e.found(n.Label, roundPage(e.p, piece, r))
		return
	case n.Total != nil && e.on(n.Total.Span):
		for _, part := range n.Total.Parts {
			if e.stitch(part.Unit.Ref) {
				return
			}
		}
		e.found(n.Total.Span, totalPage(e.p, piece, r))
		return
	}
	h := stepsAt{r: r, piece: piece}
	if e.steps(n.Steps, &h, nil) {
		return
	}
	e.steps(n.After, &h, nil)
}

// totalPage says what a total is made of.
func totalPage(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) page {
	var out page
	stated := r.Node.Total.Span.In(r.Line.Text)
	switch n, ok := p.StatedStitches(r.Node.Total); {
	case !r.Known:
		return roundPage(p, piece, r)
	case ok && n != r.Makes:
		out.head(stated, fmt.Sprintf(": the total says %d; the words make %s.", n, stitchCount(r.Makes)))
	default:
		out.head(stated, fmt.Sprintf(": %s.", stitchCount(r.Makes)))
	}
	if what := madeOf(r); what != "" {
		out.say("Made of " + what + ".")
	}
	out.add(stepTable(p, piece, r))
	return out
}

// stepsAt is the round that steps stand in, and what they do there, worked out
// once it is asked for.
type stepsAt struct {
	piece *fabric.Piece
	r     *fabric.Round
	by    map[*grammar.Step]fabric.StepResult
}

func (h *stepsAt) result(p *fabric.Pattern, s *grammar.Step) (fabric.StepResult, bool) {
	if h == nil {
		return fabric.StepResult{}, false
	}
	if h.by == nil {
		h.by = explainedSteps(p, h.piece, h.r)
	}
	x, ok := h.by[s]
	return x, ok
}

// steps looks for the place among steps, those in brackets first. h is nil for
// steps outside rounds; in is the bracket that the steps stand in, or nil.
func (e *explainer) steps(steps []grammar.Step, h *stepsAt, in *grammar.Step) bool {
	for i := range steps {
		s := &steps[i]
		if !e.on(s.Span) {
			continue
		}
		if s.Group != nil && e.steps(s.Group.Steps, h, s) {
			return true
		}
		return e.step(s, h, in)
	}
	return false
}

func (e *explainer) step(s *grammar.Step, h *stepsAt, in *grammar.Step) bool {
	x, worked := h.result(e.p, s)
	switch {
	case s.Standing != nil && e.stitch(s.Standing.As):
		return true
	case s.Standing != nil && e.on(s.Standing.Span):
		return e.found(s.Standing.Span, standingPage(s.Standing))
	case e.stitch(s.Stitch):
		if worked {
			e.page.add(doesHere(h.r, x, in != nil))
		}
		return true
	case e.stitch(s.Fill.Unit.Ref), e.yarn(s.Yarn), e.pieceAt(s.Yarn):
		return true
	}
	for i := range s.Places {
		at := &s.Places[i]
		if e.stitch(at.Unit.Ref) || e.stitch(at.Fill.Unit.Ref) || e.pieceAt(at.Of) {
			return true
		}
		if e.on(at.Span) {
			p := placePage(at)
			if worked {
				p.add(doesHere(h.r, x, in != nil))
			}
			return e.found(at.Span, p)
		}
	}
	switch {
	case s.Rounds != nil && e.on(s.Rounds.Span) && h != nil:
		return e.found(s.Rounds.Span, repeatedPage(h, s))
	case s.Group != nil && worked && e.found(s.Span, repeatPage(h.r, x)):
		return true
	case s.LoopSpan.Written() && e.on(s.LoopSpan):
		var p page
		if text := loopWords[s.Loop]; text != "" {
			p.say(sentence(text) + ".")
		}
		return e.found(s.LoopSpan, p)
	case s.Fill.Kind != grammar.FillNone && e.on(s.Fill.Span):
		var p page
		p.say(sentence(fillWords[s.Fill.Kind]) + ".")
		return e.found(s.Fill.Span, p)
	}
	var p page
	text := stepWords[s.Kind]
	switch {
	case s.Kind == grammar.StepJoin && s.Form:
		text = "a slip stitch closes the chain to a ring"
	case s.Kind == grammar.StepJoin && s.Yarn.Written():
		text = "fasten on the yarn with a slip stitch; it is not counted"
	}
	if text != "" {
		p.say(sentence(text) + ".")
	}
	if worked {
		p.add(doesHere(h.r, x, in != nil))
	}
	return e.found(s.Span, p)
}

// doesHere is what a step does in its round.
func doesHere(r *fabric.Round, x fabric.StepResult, grouped bool) page {
	var out page
	first := "Here it "
	if grouped {
		first = "In the first repeat it "
	}
	switch {
	case x.Takes == 0 && x.Makes == 0:
	case x.Takes == 0:
		out.say(fmt.Sprintf("%smakes %s.", first, stitchCount(x.Makes)))
	case x.Takes == 1:
		out.say(fmt.Sprintf("%sstands on stitch %d of the %s below and makes %s.", first, x.From, rounds(r, 1), stitchCount(x.Makes)))
	default:
		out.say(fmt.Sprintf("%sstands on stitches %d to %d of the %s below, takes %d and makes %d.", first, x.From, x.To, rounds(r, 1), x.Takes, x.Makes))
	}
	return out
}

// repeatedPage shows the rounds that a round repeats.
func repeatedPage(h *stepsAt, s *grammar.Step) page {
	from, to := int64(s.Rounds.From.N), int64(s.Rounds.To.N)
	if s.Rounds.Last {
		to = int64(h.r.Node.From.N) - 1
		from = to - max(int64(s.Rounds.From.N), 1) + 1
	}
	from, to = min(from, to), max(from, to)
	var out page
	var last *fabric.Round
	for n := from; n <= to && len(out) < mostShown; n++ {
		if r := h.piece.RoundNumbered(n); r != nil && r != last {
			last = r
			out.pattern(r.Line.Text[:saidEnd(r.Line)])
		}
	}
	return out
}

// standingPage says what a chain is said to stand for.
func standingPage(s *grammar.Standing) page {
	var out page
	if s.Not {
		out.say("The chain only lifts the yarn to the height of the row: it is no stitch, and nothing is worked into it.")
	} else {
		out.say("The chain stands in the place of a stitch: it is counted, and the next round or row is worked into its top.")
	}
	return out
}

var stepWords = map[grammar.StepKind]string{
	grammar.StepSkip:      "nothing is worked into these; go on behind them",
	grammar.StepJoin:      "a slip stitch closes the round; it is not counted",
	grammar.StepTurn:      "turn the work, so that its other side faces you",
	grammar.StepLeave:     "the round or row ends before these; nothing is worked into them",
	grammar.StepOtherSide: "go on along the loops on the other side of the chain",
	grammar.StepYarn:      "go on in this yarn; draw it through the last loops of the stitch before",
	grammar.StepMarker:    "put a stitch marker into the last stitch, or move it up there",
	grammar.StepEven:      "one stitch into each, without increases or decreases",
	grammar.StepStanding:  "what the chain stands for",
	grammar.StepDoNot:     "go on without it",
	grammar.StepFastenOff: "cut the yarn and draw its end through the last loop",
}

var fillWords = map[grammar.FillKind]string{
	grammar.FillAround: "goes on to the end of the round",
	grammar.FillAcross: "goes on to the end of the row",
	grammar.FillEnd:    "goes on to the end",
	grammar.FillToLast: "goes on until so many are left",
}

var loopWords = map[grammar.Loop]string{
	grammar.LoopBack:  "the hook goes under the back loop only, the one away from you",
	grammar.LoopFront: "the hook goes under the front loop only, the one nearest to you",
	grammar.LoopBoth:  "the hook goes under both loops at the top of the stitch",
	grammar.LoopBump:  "the hook goes under the bump at the back of the chain",
	grammar.LoopPost:  "the hook goes round the post of the stitch",
}

var placeWords = map[grammar.PlaceKind]string{
	grammar.PlaceNext:      "worked into what comes next",
	grammar.PlaceEach:      "one into each, as far as is said",
	grammar.PlaceEachNext:  "one into each of so many",
	grammar.PlaceSame:      "into the place that was worked into last",
	grammar.PlaceFirst:     "into the first of the round or row",
	grammar.PlaceLast:      "into the last of the round or row",
	grammar.PlaceOne:       "all of it into one place",
	grammar.PlaceAny:       "into any one of them",
	grammar.PlaceNth:       "counted to from where it says; the loop on the hook is never counted",
	grammar.PlaceTop:       "into the top chain of those that the row below began with",
	grammar.PlaceTurning:   "into the chain that the row below began with",
	grammar.PlaceRing:      "into the middle of the ring",
	grammar.PlaceMagicRing: "into a loop of yarn that is drawn shut",
	grammar.PlaceFree:      "into loops that an earlier round left free",
	grammar.PlaceOther:     "into the loops along the other side of the chain",
	grammar.PlaceUnworked:  "into stitches that an earlier round left unworked",
	grammar.PlacePiece:     "into the stitches of another piece",
}

// placePage says which places are meant.
func placePage(at *grammar.Place) page {
	var out page
	if text := placeWords[at.Kind]; text != "" {
		out.say(sentence(text) + ".")
	}
	if text := loopWords[at.Loop]; text != "" {
		out.say(sentence(text) + ".")
	}
	return out
}
