package lsp

import (
	"fmt"
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
	key := terms.Key(strings.TrimSpace(n.Text))
	for _, y := range e.p.Header.Yarns {
		if k := terms.Key(y.Key.Text); k == key && k != "" || terms.Key(y.Name.Text) == key {
			return e.found(n.Span, yarnPage(e.p, y))
		}
	}
	return false
}

// yarnLine explains the parts of a Yarn line: its weight, or the yarn itself.
func (e *explainer) yarnLine(y *grammar.Yarn) {
	if e.on(y.Weight.Span) {
		if w := weightsOf(y); len(w) > 0 {
			var p page
			for _, x := range w {
				p.explain(lint.ExplainWeight(x))
			}
			e.found(y.Weight.Span, p)
			return
		}
	}
	if e.in < saidEnd(e.line) {
		e.found(grammar.Span{End: saidEnd(e.line)}, yarnPage(e.p, y))
	}
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
		rows := [][]string{{"piece", "yarn"}}
		for _, x := range u.Pieces {
			rows = append(rows, []string{x.Piece.Name, m.yarn(x.Metres)})
		}
		out.table(rows)
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
		p.say(fmt.Sprintf("%s and %g mm are not the same hook; go by the millimetres.", text.Mark, text.MM))
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

// size says a stated size in the other units, and what the pieces come to.
func (e *explainer) size(n *grammar.Size) {
	for _, d := range n.Dims {
		if !e.on(d.Span) {
			continue
		}
		var p page
		other := measures{inches: d.Unit != "in" && d.Unit != "yd"}
		p.say(fmt.Sprintf("%s is %s.", d.Length.Span.In(e.line.Text), other.length(d.MM)))
		if least, most, ok := fabric.Bounds(e.p); ok {
			m := measuresOf(e.p)
			p.say(fmt.Sprintf("By the gauge the largest piece is %s long, and all pieces end to end are %s.", m.length(least), m.length(most)))
		}
		e.found(d.Span, p)
	}
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

// wheres explains placements on a piece; the piece is nil where it is not known.
func (e *explainer) wheres(list []grammar.Where, piece *fabric.Piece) bool {
	for i := range list {
		w := &list[i]
		if e.pieceAt(w.Part) {
			return true
		}
		if e.on(w.Span) && piece != nil {
			return e.found(w.Span, wherePage(e.p, piece, w))
		}
	}
	return false
}

// wherePage says what stands where something is put.
func wherePage(p *fabric.Pattern, piece *fabric.Piece, w *grammar.Where) page {
	var out page
	name := piece.Name
	if name == "" {
		name = "this part"
	}
	switch w.Kind {
	case grammar.WhereBetween, grammar.WhereAt, grammar.WhereOver:
		from, to := int64(w.From.N), max(int64(w.To.N), int64(w.From.N))
		rows := [][]string{{"of " + name, "stitches"}}
		for n := from; n <= to && len(rows) <= mostShown; n++ {
			sts := "?"
			r := piece.RoundNumbered(n)
			switch {
			case r == nil:
				sts = "there is none"
			case r.Known && r.RoundsWorked == 1, r.Known && n == int64(r.Node.To.N):
				sts = number(r.Makes)
			case r.Known && r.In != nil && r.In.Stitches() == r.Makes:
				sts = number(r.Makes)
			}
			rows = append(rows, []string{fabric.RoundName(w.Row, n), sts})
		}
		out.table(rows)
	case grammar.WhereApart, grammar.WhereAcross:
		g, ok := p.StitchGauge(piece)
		if !ok {
			return nil
		}
		out.say(fmt.Sprintf("%s of %s are about %s.", stitchCount(int64(w.Count.N)), name, measuresOf(p).length(float64(w.Count.N)*g.Width)))
	}
	return out
}
