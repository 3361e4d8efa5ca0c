package lsp

import (
	"fmt"
	"slices"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
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
			if e.stitch(part.Unit.Ref()) {
				e.page.say(partMade(e.p, r, part))
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
	if x := slip(r); x != nil && x.Kind == fabric.TotalPartDiffers {
		out.say(x.Message + ".")
	}
	out.add(stepTable(p, piece, r))
	return out
}

// partMade says how many a round makes of what one part of its total counts.
func partMade(p *fabric.Pattern, r *fabric.Round, part grammar.Part) string {
	if !r.Known {
		return "The total says " + number(int64(part.Count.N)) + " of them."
	}
	made := int64(0)
	want := p.Find(part.Unit.Ref())
	for _, list := range [][]fabric.StitchCount{r.Stitches, r.Groups} {
		for _, s := range list {
			if s.Stitch == want {
				made += s.N
			}
		}
	}
	return fmt.Sprintf("The total says %d; the words make %d of them.", part.Count.N, made)
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
	case s.Standing() != nil && e.stitch(s.Standing().As):
		return true
	case s.Standing() != nil && e.on(s.Standing().Span):
		return e.found(s.Standing().Span, standingPage(s.Standing()))
	case e.stitch(s.Stitch):
		here := chainHere(h, s)
		if s.Kind == grammar.StepJoin {
			here.say(sentence(joinWords(s)) + ".")
		}
		if worked {
			here.add(doesHere(h.r, x, in != nil))
		}
		e.page = slices.Insert(e.page, min(1, len(e.page)), here...)
		return true
	case e.stitch(s.Fill.Unit().Ref()), e.yarn(s.Yarn()), e.pieceAt(s.Yarn()):
		return true
	}
	for i := range s.Places {
		at := &s.Places[i]
		if e.stitch(at.Unit.Ref()) || e.stitch(at.Fill.Unit().Ref()) || e.pieceAt(at.Of()) {
			return true
		}
		if e.on(at.Span) {
			p := e.placePage(at, s)
			if worked {
				p = slices.Insert(p, min(1, len(p)), doesHere(h.r, x, in != nil)...)
			}
			return e.found(at.Span, p)
		}
	}
	switch {
	case s.Rounds() != nil && h != nil && s.Kind == grammar.StepRepeat:
		return e.found(s.Span, repeatedPage(h, s))
	case s.Group != nil && worked && e.found(s.Span, repeatPage(h.r, x)):
		return true
	case s.LoopSpan().Written() && e.on(s.LoopSpan()):
		var p page
		if text := loopWords[s.Loop]; text != "" {
			p.say(sentence(text) + ".")
		}
		return e.found(s.LoopSpan(), p)
	case s.Fill.Kind != grammar.FillNone && e.on(s.Fill.Span):
		var p page
		p.say("Goes on " + endWords[s.Fill.Kind] + ".")
		return e.found(s.Fill.Span, p)
	}
	does := page(nil)
	if worked {
		does = doesHere(h.r, x, in != nil)
	}
	p := e.stepPage(s, h, len(does) > 0)
	p.add(does)
	return e.found(s.Span, p)
}

// stepPage says what a step is; of one whose sums follow no more than its words.
func (e *explainer) stepPage(s *grammar.Step, h *stepsAt, summed bool) page {
	var p page
	text := stepWords[s.Kind]
	switch {
	case s.Kind == grammar.StepJoin:
		text = joinWords(s)
	case s.Group != nil && len(s.Places) > 0:
		text = "all of it is worked into one place"
	}
	if written := oneLine(s.Span.In(e.line.Text)); text != "" {
		p.head(written, ": "+text+".")
	} else if st := e.p.Find(s.Stitch); st != nil {
		switch {
		case summed:
			p.head(written, "")
		case h != nil && st.Of != nil && st.Of.Kind == terms.Slip:
			p.head(written, ": "+joinWords(s)+".")
		default:
			p.head(written, ": "+worksOf(s, st)+".")
		}
		p.add(chainHere(h, s))
	} else if s.Kind == grammar.StepWork && s.Stitch.Written() {
		p = e.strangePage(s.Stitch.Text)
	} else if s.Group != nil {
		p.head(written, ": what it comes to cannot be worked out.")
	}
	return p
}

// joinWords say what a join does.
func joinWords(s *grammar.Step) string {
	switch {
	case s.Form:
		return "a slip stitch closes the chain to a ring"
	case s.Yarn().Written() && s.Rounds() != nil:
		return "fasten on the yarn; the stitches that follow are worked into the fabric between these"
	case s.Yarn().Written():
		return "fasten on the yarn with a slip stitch; it is not counted"
	}
	return stepWords[grammar.StepJoin]
}

// worksOf says how often a step works its stitch, as far as it says a number.
func worksOf(s *grammar.Step, st *fabric.Stitch) string {
	name := st.Name
	if st.Of != nil && st.Of.Kind == terms.Chain {
		return count(int64(s.Count.N), "chain", "chains")
	}
	switch {
	case s.Fill.Kind != grammar.FillNone:
		return name + " " + endWords[s.Fill.Kind]
	case s.Tog:
		return number(int64(s.Count.N)) + " " + name + " worked together into one"
	case s.Count.N > 1:
		return number(int64(s.Count.N)) + " " + name
	}
	return "1 " + name
}

// chainHere says what a chain stands for where it begins a round, and else what
// it leaves.
func chainHere(h *stepsAt, s *grammar.Step) page {
	var out page
	if h == nil || s.Group != nil {
		return nil
	}
	switch r := h.r; {
	case r.Stands.Present && !r.Stands.Skipped && r.Stands.Span.Start < s.Span.End && s.Span.Start < r.Stands.Span.End:
		text := "It begins the " + rounds(r, 1) + " and is no stitch."
		if r.Stands.Counted {
			text = "It begins the " + rounds(r, 1) + " and counts as a stitch"
			if r.Stands.Stitch != nil {
				text = "It begins the " + rounds(r, 1) + " and counts as 1 " + r.Stands.Stitch.Name
			}
			if r.Stands.Space > 0 {
				text += fmt.Sprintf(" and a ch-%d space", r.Stands.Space)
			}
			text += "."
		}
		out.say(text)
	case s.Kind == grammar.StepWork && !r.Start:
		for _, sp := range r.Spaces {
			if st := int64(s.Count.N); int64(sp.Chains) == st && s.Stitch.Written() && isChain(s) {
				out.say(fmt.Sprintf("It leaves a ch-%d space, and no stitch.", st))
			}
		}
	}
	return out
}

// isChain says whether a step works chains.
func isChain(s *grammar.Step) bool {
	t := s.Stitch.Known(terms.US) // both systems call it ch
	return t != nil && t.Kind == terms.Chain
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
	case r.Start:
		out.say(fmt.Sprintf("%sis worked into %s of the foundation and makes %s.", first, count(x.Takes, "chain", "chains"), stitchCount(x.Makes)))
	case elsewhere(x.Step):
		out.say(fmt.Sprintf("%stakes %s there and makes %s.", first, stitchCount(x.Takes), stitchCount(x.Makes)))
	case x.Makes == 0:
		out.say(fmt.Sprintf("%stakes %s of the %s below and makes none.", first, stitchesFrom(x.From, x.To), rounds(r, 1)))
	case x.Takes == 1:
		out.say(fmt.Sprintf("%sstands on stitch %d of the %s below and makes %s.", first, x.From, rounds(r, 1), stitchCount(x.Makes)))
	default:
		out.say(fmt.Sprintf("%sstands on %s of the %s below, takes %d and makes %d.", first, stitchesFrom(x.From, x.To), rounds(r, 1), x.Takes, x.Makes))
	}
	return out
}

// stitchesFrom names stitches by their numbers.
func stitchesFrom(from, to int64) string {
	switch to {
	case from:
		return "stitch " + number(from)
	case from + 1:
		return fmt.Sprintf("stitches %d and %d", from, to)
	}
	return fmt.Sprintf("stitches %d to %d", from, to)
}

// goesElsewhere says whether some step, in brackets or not, goes into something
// other than the round below.
func goesElsewhere(steps []grammar.Step) bool {
	for i := range steps {
		if elsewhere(&steps[i]) || steps[i].Group != nil && goesElsewhere(steps[i].Group.Steps) {
			return true
		}
	}
	return false
}

// elsewhere says whether a step goes into something other than the round below.
func elsewhere(s *grammar.Step) bool {
	for i := range s.Places {
		switch at := &s.Places[i]; {
		case at.Of().Written(), at.Rnd().Written():
			return true
		case at.Kind == grammar.PlaceFree, at.Kind == grammar.PlaceUnworked, at.Kind == grammar.PlaceOther, at.Kind == grammar.PlacePiece:
			return true
		}
	}
	return false
}

// repeatedPage shows the rounds that a round repeats.
func repeatedPage(h *stepsAt, s *grammar.Step) page {
	from, to := int64(s.Rounds().From.N), int64(s.Rounds().To.N)
	if s.Rounds().Last {
		to = int64(h.r.Node.From.N) - 1
		from = to - max(int64(s.Rounds().From.N), 1) + 1
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
	out.say(sentence(standingWords(s.Not)))
	return out
}

// standingWords say what it means that a chain counts as a stitch, or does not.
func standingWords(not bool) string {
	if not {
		return "the chain only lifts the yarn to the height of the row: it is no stitch, and nothing is worked into it."
	}
	return "the chain stands in the place of a stitch: it is counted, and the next round or row is worked into its top."
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

// endWords say how far a fill goes.
var endWords = map[grammar.FillKind]string{
	grammar.FillAround: "to the end of the round",
	grammar.FillAcross: "to the end of the row",
	grammar.FillEnd:    "to the end",
	grammar.FillToLast: "until so many are left",
}

var loopWords = map[grammar.Loop]string{
	grammar.LoopBack:  "the hook goes under the back loop only, the one away from you",
	grammar.LoopFront: "the hook goes under the front loop only, the one nearest to you",
	grammar.LoopBoth:  "the hook goes under both loops at the top of the stitch",
	grammar.LoopBump:  "the hook goes under the bump at the back of the chain",
	grammar.LoopPost:  "the hook goes round the post of the stitch",
}

var placeWords = map[grammar.PlaceKind]string{
	grammar.PlaceNext:     "into the next one",
	grammar.PlaceEach:     "one into each, as far as is said",
	grammar.PlaceEachNext: "one into each of these",
	grammar.PlaceSame:     "into the place that was worked into last",
	grammar.PlaceFirst:    "into the first of the round or row",
	grammar.PlaceLast:     "into the last of the round or row",
	grammar.PlaceOne:      "all of it into one place",
	grammar.PlaceAny:      "into any one of them",
	grammar.PlaceNth:      "counted to from where it says; the loop on the hook is never counted",
	grammar.PlaceTop:      "into the top chain of those that the row below began with",
	grammar.PlaceTurning:  "into the chain that the row below began with",
	grammar.PlaceRing:     "into the middle of the ring",
	grammar.PlaceFree:     "into loops that an earlier round left free",
	grammar.PlaceOther:    "into the loops along the other side of the chain",
	grammar.PlaceUnworked: "into stitches that an earlier round left unworked",
	grammar.PlacePiece:    "into the stitches of another piece",
}

// placePage says which places are meant.
func (e *explainer) placePage(at *grammar.Place, s *grammar.Step) page {
	var out page
	if ring := terms.ByID("magic ring"); at.Kind == grammar.PlaceMagicRing {
		out.explain(lint.ExplainStitch(ring, e.p.Header.System))
		return out
	}
	if at.Unit.Kind == grammar.UnitSpace {
		out.add(spacePage(at.Unit.Chains))
	}
	switch text := placeWords[at.Kind]; {
	case s.Kind == grammar.StepSkip:
		out.say(sentence(stepWords[s.Kind]) + ".")
	case s.Kind == grammar.StepJoin:
		out.say("Where the slip stitch goes.")
	case at.Kind == grammar.PlaceNext && at.Count.N > 1:
		out.say(fmt.Sprintf("Into the next %d, one after the other.", at.Count.N))
	case at.Kind == grammar.PlaceEach && endWords[at.Fill.Kind] != "":
		out.say("One into each, " + endWords[at.Fill.Kind] + ".")
	case text != "":
		out.say(sentence(text) + ".")
	}
	if text := loopWords[at.Loop]; text != "" {
		out.say(sentence(text) + ".")
	}
	return out
}
