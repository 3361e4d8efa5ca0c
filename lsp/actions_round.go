package lsp

import (
	"slices"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// mostSpeltOut bounds what is written out: steps of a repeat, rounds of a range.
const mostSpeltOut = 100

// rewrite is a new wording for a part of a round, offered where the piece comes
// out with it.
func (o *offered) rewrite(piece *fabric.Piece, r *fabric.Round, span grammar.Span, new, title string) []action {
	if sameWords(span.In(r.Line.Text), new) || !o.Pattern().Mends(piece, r, fabric.Repair{Off: r.Off, Span: span, New: new}) {
		return nil
	}
	return []action{{title: title, kind: protocol.CodeActionKindRefactorRewrite, edits: []lint.Edit{o.edit(o.first, span, new)}}}
}

// gather offers to write steps that come again and again as a repeat: the run
// that the cursor is in, or the longest.
func (o *offered) gather() []action {
	piece, r := o.Pattern().RoundAt(o.first)
	if r == nil || r.Node.Broken || len(r.Node.Steps) > 4*mostSpeltOut {
		return nil
	}
	first, period, times := o.run(r)
	if times < 2 {
		return nil
	}
	steps, text := r.Node.Steps, r.Line.Text
	span := steps[first].Span.To(steps[first+period*times-1].Span)
	body := steps[first].Span.To(steps[first+period-1].Span).In(text)
	body = strings.Join(strings.Fields(body), " ")
	if period == 1 {
		new := body + " x " + strconv.Itoa(times)
		if st := o.Pattern().Find(steps[first].Stitch); st != nil && st.Of != nil && st.Of.Kind == terms.Plain {
			new = several(body, int64(times))
		}
		return o.rewrite(piece, r, span, new, "Write as one step: "+new)
	}
	new := "(" + body + ") x " + strconv.Itoa(times)
	return o.rewrite(piece, r, span, new, "Write as a repeat: "+new)
}

// run is the longest run of like steps among those of a round, one under the
// cursor before all others.
func (o *offered) run(r *fabric.Round) (first, period, times int) {
	steps, text := r.Node.Steps, r.Line.Text
	words := make([]string, len(steps))
	for i := range steps {
		if s := &steps[i]; (s.Kind == grammar.StepWork || s.Kind == grammar.StepSkip || s.Kind == grammar.StepBracket) && s.Standing() == nil && s.Fill.Kind == grammar.FillNone {
			words[i] = strings.Join(strings.Fields(s.Span.In(text)), " ")
		}
	}
	cursor := int32(o.start - o.File.Start(o.first))
	best := 0
	for p := 1; p <= len(steps)/2; p++ {
		for i := 0; i+p < len(steps); {
			n := i
			for n+p < len(steps) && words[n] != "" && words[n] == words[n+p] {
				n++
			}
			if k := (n-i)/p + 1; k >= 2 && allWritten(words[i:i+p]) && (p > 1 || isBare(&steps[i])) {
				worth := k * p
				if span := steps[i].Span.To(steps[i+p*k-1].Span); span.Start <= cursor && cursor <= span.End {
					worth += 2 * len(steps)
				}
				if worth > best {
					best, first, period, times = worth, i, p, k
				}
			}
			i = n + 1
		}
	}
	return first, period, times
}

// isBare says whether a step is a stitch and nothing else.
func isBare(s *grammar.Step) bool { return s.Kind == grammar.StepWork && s.Span == s.Stitch.Span }

func allWritten(words []string) bool { return !slices.Contains(words, "") }

// spellOut offers to write the repeat under the cursor out, the innermost.
func (o *offered) spellOut() []action {
	piece, r := o.Pattern().RoundAt(o.first)
	if r == nil || r.Node.Broken || len(r.Problems) > 0 {
		return nil
	}
	cursor := int32(o.start - o.File.Start(o.first))
	in := innermost(r.Node.Steps, cursor)
	if in == nil {
		return nil
	}
	repeats := explainedSteps(o.Pattern(), piece, r)[in].Repeats
	if repeats < 2 || repeats*int64(len(in.Group.Steps)) > mostSpeltOut {
		return nil
	}
	inner := strings.TrimRight(strings.Join(strings.Fields(in.Group.Inner.In(r.Line.Text)), " "), " ;,")
	new := strings.TrimSuffix(strings.Repeat(inner+", ", int(repeats)), ", ")
	return o.rewrite(piece, r, in.Span, new, "Write the repeat out")
}

// innermost is the smallest repeat around a byte of a statement that can be
// written out; nil where there is none.
func innermost(steps []grammar.Step, cursor int32) *grammar.Step {
	for i := range steps {
		s := &steps[i]
		if s.Group == nil || cursor < s.Span.Start || cursor > s.Span.End {
			continue
		}
		if in := innermost(s.Group.Steps, cursor); in != nil {
			return in
		}
		if len(s.Places) == 0 && s.Loop == grammar.LoopUnsaid && s.Group.Stop < 0 {
			return s
		}
	}
	return nil
}

// split offers to write a range of rounds one by one.
func (o *offered) split() []action {
	_, r := o.Pattern().RoundAt(o.first)
	if r == nil || r.Node.Broken || r.Node.To.N <= r.Node.From.N || r.Node.To.N-r.Node.From.N >= mostSpeltOut {
		return nil
	}
	n, text := r.Node, r.Line.Text
	body, note := text[n.Label.End:], ""
	if r.Line.Note.Written() {
		body, note = text[n.Label.End:r.Line.Note.Start], "  "+r.Line.Note.In(text)
	}
	body = strings.TrimRight(body, " \t")
	var lines []string
	for k := range n.To.N - n.From.N + 1 {
		said, ok := saidOfOne(n, body, k)
		if !ok {
			return nil
		}
		lines = append(lines, fabric.RoundName(n.Row, int64(n.From.N+k))+sideMark(sideAfter(n, k))+said+note)
		note = ""
	}
	span := grammar.Span{Start: n.Label.Start, End: int32(len(text))}
	return o.whole("Write each of "+r.Name()+" on a line of its own", []lint.Edit{o.edit(o.first, span, strings.Join(lines, "\n"))})
}

// saidOfOne is what is said of the k-th round of a range, from 0, given what is
// said of all of them, behind the label: of rounds that repeat several others in
// order each repeats one. False where that cannot be said.
func saidOfOne(n *grammar.Round, body string, k int32) (string, bool) {
	if !pointsBack(n.Steps) {
		return body, true
	}
	s := &n.Steps[0]
	to := s.Rounds()
	switch {
	case len(n.Steps) > 1 || to == nil || to.Last || to.To.N < to.From.N:
		return "", false
	case to.To.N == to.From.N:
		return body, true
	}
	one := to.From.N + k%(to.To.N-to.From.N+1)
	return body[:s.Span.Start-n.Label.End] + "rep " + fabric.RoundName(to.Row, int64(one)) + body[s.Span.End-n.Label.End:], true
}

// pointsBack says whether steps repeat other rounds, which a single one of a
// range would do in another way.
func pointsBack(steps []grammar.Step) bool {
	return slices.ContainsFunc(steps, func(s grammar.Step) bool { return s.Kind == grammar.StepRepeat })
}

// join offers to write rounds that say the same as a range.
func (o *offered) join() []action {
	from := o.first
	if !o.joins(from) {
		return nil
	}
	for from > 0 && o.continues(from-1) {
		from--
	}
	to := from
	for to+1 < len(o.File.Lines) && o.continues(to) {
		to++
	}
	if to == from || o.last > to {
		return nil
	}
	first, last := o.File.Lines[from].Node.(*grammar.Round), o.File.Lines[to].Node.(*grammar.Round)
	word := "Rnds"
	if first.Row {
		word = "Rows"
	}
	label := word + " " + strconv.Itoa(int(first.From.N)) + "-" + strconv.Itoa(int(last.To.N))
	gone := lint.Edit{Start: o.File.Start(from) + len(o.File.Lines[from].Text), End: o.File.Start(to) + len(o.File.Lines[to].Text)}
	return o.whole("Write as one range: "+label, []lint.Edit{o.edit(from, first.Label, label), gone})
}

// joins says whether a statement is a round that can be a part of a range.
func (o *offered) joins(at int) bool {
	n, ok := o.File.Lines[at].Node.(*grammar.Round)
	return ok && !n.Broken && n.From.Written() && n.To.N >= n.From.N && !o.File.Lines[at].Note.Written() && !pointsBack(n.Steps)
}

// continues says whether the statement behind one says the same of the next rounds.
func (o *offered) continues(at int) bool {
	if !o.joins(at) || !o.joins(at+1) {
		return false
	}
	a, b := o.File.Lines[at], o.File.Lines[at+1]
	x, y := a.Node.(*grammar.Round), b.Node.(*grammar.Round)
	return x.Row == y.Row && y.From.N == x.To.N+1 && y.Side == sideAfter(x, x.To.N-x.From.N+1) && sameWords(a.Text[x.Label.End:], b.Text[y.Label.End:])
}

// whole is an action on several statements, offered where no error comes of it.
func (o *offered) whole(title string, edits []lint.Edit) []action {
	if o.tried(edits) == nil {
		return nil
	}
	return []action{{title: title, kind: protocol.CodeActionKindRefactorRewrite, edits: edits}}
}
