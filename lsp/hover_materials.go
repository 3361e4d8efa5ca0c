package lsp

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// yarn explains a yarn by the letter or word that names it.
func (e *explainer) yarn(n grammar.Name) bool {
	if !e.on(n.Span) {
		return false
	}
	if y := e.yarnCalled(n.Text); y != nil {
		return e.found(n.Span, yarnPage(e.p, y))
	}
	return false
}

// yarnCalled finds a yarn by its letter or word, or by its name; nil without one.
func (e *explainer) yarnCalled(text string) *grammar.Yarn {
	key := terms.Key(strings.TrimSpace(text))
	for _, y := range e.p.Header.Yarns {
		if k := terms.Key(y.Key.Text); k == key && k != "" || key != "" && terms.Key(y.Name.Text) == key {
			return y
		}
	}
	return nil
}

// with explains the yarns and the hook of a piece.
func (e *explainer) with(n *grammar.With) {
	for _, y := range n.Yarns {
		if e.yarn(y) {
			return
		}
		if e.on(y.Span) {
			var p page
			p.head(y.Text, ": no Yarn line gives a yarn of that name.")
			e.found(y.Span, p)
			return
		}
	}
	if n.Hook != nil && e.hook(n.Hook) {
		return
	}
	if said := (grammar.Span{End: saidEnd(e.line)}); e.on(said) {
		e.found(said, labelPage(e.p.Header.System, "With"))
	}
}

// yarnLine explains the parts of a Yarn line: its weight, what a ball is, or the
// yarn itself.
func (e *explainer) yarnLine(y *grammar.Yarn) {
	if e.on(y.Weight.Span) {
		if w := weightsOf(y); len(w) > 0 {
			var p page
			for _, x := range w {
				p.explain(lint.ExplainWeight(x, e.p.Header.System))
			}
			e.found(y.Weight.Span, p)
			return
		}
	}
	if ball := y.Grams.Span.To(y.Metres.Span); y.Grams.Written() && y.Metres.Written() && (e.on(ball) || e.on(y.Balls.Span)) {
		if y.Balls.Written() {
			ball = ball.To(y.Balls.Span)
			ball.End = e.wordEnd(ball.End)
		}
		e.found(ball, ballPage(e.p, y, ball.In(e.line.Text)))
		return
	}
	if e.on(y.Span) {
		e.found(y.Span, yarnPage(e.p, y))
	}
}

// wordEnd is where the word behind a number ends, "balls" behind 4.
func (e *explainer) wordEnd(at int32) int32 {
	for _, tok := range grammar.Tokens(e.line.Text) {
		if tok.Start >= at && tok.Kind != grammar.Comma {
			return tok.End
		}
	}
	return at
}

// ballPage says what a ball comes to in other units, and how many are taken.
func ballPage(p *fabric.Pattern, y *grammar.Yarn, written string) page {
	var out page
	n := max(int64(y.Balls.N), 1)
	metres, grams := y.Metres.MM/1000, float64(y.Grams.N)
	other := measures{inches: y.Metres.Unit != "yd" && y.Metres.Unit != "in"}
	out.head(oneLine(written), fmt.Sprintf(": %s and %.2f oz a ball; %s m to 100 g.", other.yarn(metres), grams/28.35, short(metres*100/grams)))
	m := measuresOf(p)
	for _, u := range fabric.YarnFor(p) {
		if u.Yarn != y {
			continue
		}
		balls := int64(math.Ceil(u.Mean / metres))
		out.say(fmt.Sprintf("The pattern takes about %s, which is %s; %d %s listed.", m.yarn(u.Mean), count(balls, "ball", "balls"), n, isOrAre(n)))
	}
	return out
}

// weightsOf are the classes that a yarn's weight may be: the number's where it
// is written, else those of its name.
func weightsOf(y *grammar.Yarn) []terms.Weight {
	all := terms.Weights()
	if n := int(y.Number.N); y.Number.Written() && n >= 0 && n < len(all) {
		return all[n : n+1]
	}
	name, _, _ := strings.Cut(y.Weight.Text, "(")
	return terms.WeightByName(strings.TrimSpace(name))
}

// yarnPage says what a yarn is, and how much of it the pattern takes.
func yarnPage(p *fabric.Pattern, y *grammar.Yarn) page {
	var out page
	var parts []string
	for _, part := range []string{y.Name.Text, y.Colour.Text, y.Weight.Text} {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	out.head(strings.TrimSpace("Yarn "+y.Key.Text), ": "+strings.Join(parts, ", ")+".")
	m := measuresOf(p)
	for _, u := range fabric.YarnFor(p) {
		if u.Yarn != y {
			continue
		}
		uses := fmt.Sprintf("The pattern takes about %s (%s to %s)", m.yarn(u.Mean), m.yarn(u.Low), m.yarn(u.High))
		if g, ok := u.Grams(u.Mean); ok {
			uses += fmt.Sprintf(", or %s g", short(g))
		}
		if listed, ok := u.Listed(); ok {
			uses += fmt.Sprintf("; %s are listed", m.yarn(listed))
		}
		out.say(uses + ".")
		if u.Shared {
			out.say("The pattern does not tell which yarn is used where; an even share is taken.")
		}
		if !u.Measured {
			out.say("Reckoned from the gauge; say in it what the swatch uses, and it is surer.")
		}
		rows := [][]string{{"part", "yarn"}}
		for _, x := range u.Pieces[:min(len(u.Pieces), mostShown)] {
			rows = append(rows, []string{x.Piece.Name, m.yarn(x.Metres)})
		}
		out.table(rows)
		if more := len(u.Pieces) - mostShown; more > 0 {
			out.say(fmt.Sprintf("And %s more.", count(int64(more), "part", "parts")))
		}
	}
	return out
}

// hook explains a hook in the three systems of sizes.
func (e *explainer) hook(h *grammar.Hook) bool {
	if !e.on(h.Span) {
		return false
	}
	text, ok := terms.ParseHook(h.Span.In(e.line.Text))
	if !ok {
		return false
	}
	fits := text.Fits
	if same := slices.DeleteFunc(slices.Clone(fits), func(x terms.Hook) bool { return x.MM != text.MM }); len(same) > 0 {
		fits = same // and not the others of the same mark
	}
	var p page
	for _, x := range fits {
		p.explain(lint.ExplainHook(x))
	}
	if text.Verdict() == terms.HookDiffers {
		p.say(fmt.Sprintf(spelled(e.p.Header.System, "%s and %g mm are not the same hook; go by the millimeters."), text.Mark, text.MM))
	}
	return e.found(h.Span, p)
}

// gauge explains the size of one stitch.
func (e *explainer) gauge(g *grammar.Gauge) {
	if e.stitch(g.Stitch) || !e.on(g.Span) {
		return
	}
	var p page
	if g.Sts.N > 0 && g.Over.MM > 0 {
		p.say(fmt.Sprintf("%s over %s: a stitch is %s mm wide.", stitchCount(int64(g.Sts.N)), measuresOf(e.p).length(g.Over.MM), short(g.Over.MM/float64(g.Sts.N))))
	}
	if g.Rnds.N > 0 && g.Down.MM > 0 {
		p.say(fmt.Sprintf("%s over %s: one is %s mm high.", count(int64(g.Rnds.N), "round or row", "rounds or rows"), measuresOf(e.p).length(g.Down.MM), short(g.Down.MM/float64(g.Rnds.N))))
	}
	e.found(g.Span, p)
}

// size says the stated sizes in the other units, and what the pieces come to.
func (e *explainer) size(n *grammar.Size) {
	if !e.on(n.Content.Span) || len(n.Dims) == 0 {
		return
	}
	var says []string
	for _, d := range n.Dims {
		other := measures{inches: d.Unit != "in" && d.Unit != "yd"}
		written := fmt.Sprintf("%s %s", short(d.Value), d.Unit)
		says = append(says, fmt.Sprintf("%s is %s", written, other.length(d.MM)))
	}
	var p page
	p.head(n.Content.Text, ": "+strings.Join(says, ", ")+".")
	if least, most, ok := fabric.Bounds(e.p); ok {
		m := measuresOf(e.p)
		if len(e.p.Pieces) == 1 {
			p.say(fmt.Sprintf("By the gauge the longest way across the work is %s.", m.length(least)))
		} else {
			p.say(fmt.Sprintf("By the gauge the largest part is %s long, and all parts end to end are %s.", m.length(least), m.length(most)))
		}
	}
	e.found(n.Content.Span, p)
}

var modeWords = map[grammar.Mode]string{
	grammar.ModeSpiral: "each round goes on into the next without a join; mark the first stitch of a round.",
	grammar.ModeJoined: "each round is closed with a slip stitch into its first stitch, and the next begins with a chain.",
	grammar.ModeRows:   "the work is turned after each row, and the next is worked back over it.",
}

// worked explains how a piece is worked.
func (e *explainer) worked(n *grammar.Worked) {
	if text := modeWords[n.Mode]; text != "" && e.on(n.Value.Span) {
		var p page
		p.head(sentence(n.Value.Text), ": "+text)
		e.found(n.Value.Span, p)
	}
}
