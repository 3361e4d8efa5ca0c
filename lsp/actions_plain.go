package lsp

import (
	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

// total offers to write what a round makes where no total stands, and to
// correct a total that says something else: also where no rule is in force that
// would.
func (o *offered) total() []action {
	piece, r := o.Pattern().RoundAt(o.first)
	if r == nil || r.Node.Broken || !r.Known || r.Makes == 0 || len(r.Node.Steps) == 0 || r.Node.RepeatsSeveral() {
		return nil
	}
	if t := r.Node.Total; t != nil {
		n, stated := o.Pattern().StatedStitches(t)
		bare, ok := t.Bare()
		if !stated || !ok || n == r.Makes {
			return nil
		}
		return o.rewrite(piece, r, bare.Span, number(r.Makes), "Correct the total: "+number(r.Makes))
	}
	end := r.Node.Steps[len(r.Node.Steps)-1].Span.End
	total := "(" + r.RightTotal() + ")"
	return o.rewrite(piece, r, grammar.Span{Start: end, End: end}, " "+total, "Write the total: "+total)
}

// plainly offers to say a round as a maker meets it nowhere shortened: in the
// canonical wording, with the words of the round that it points to, or with its
// stitch named.
func (o *offered) plainly() []action {
	piece, r := o.Pattern().RoundAt(o.first)
	if r == nil || r.Node.Broken || len(r.Problems) > 0 {
		return nil
	}
	var out []action
	text := r.Line.Text
	if said := grammar.FormatLines(o.File, o.first, o.first+1)[0]; !sameWords(said, text) {
		out = append(out, o.whole("Say it plainly: "+oneLine(said), []lint.Edit{o.edit(o.first, grammar.Span{End: int32(len(text))}, said)})...)
	}
	for i := range r.Node.Steps {
		s := &r.Node.Steps[i]
		switch {
		case s.Kind == grammar.StepRepeat && s.Rounds() != nil && r.RoundsWorked == 1:
			if words := o.roundMeant(piece, r, s); words != "" {
				out = append(out, o.rewrite(piece, r, s.Span, words, "Say it plainly: "+words)...)
			}
		case s.Kind == grammar.StepEven && s.Fill.Kind != grammar.FillToLast:
			words := o.evenly(piece, r, s)
			out = append(out, o.rewrite(piece, r, s.Span, words, "Say it plainly: "+words)...)
		}
	}
	return out
}

// evenly says what working even is.
func (o *offered) evenly(piece *fabric.Piece, r *fabric.Round, s *grammar.Step) string {
	main, how := mainStitch(o.Pattern(), piece), "around"
	if s.Stitch.Written() {
		main = s.Stitch.Text
	}
	if r.Node.Row {
		how = "across"
	}
	return main + " in each st " + how
}

// roundMeant are the steps of the one round that a step repeats; empty where
// they point to others in their turn.
func (o *offered) roundMeant(piece *fabric.Piece, r *fabric.Round, s *grammar.Step) string {
	n := int64(s.Rounds().From.N)
	if s.Rounds().Last {
		n = int64(r.Node.From.N) - 1
		if s.Rounds().From.N > 1 {
			return ""
		}
	} else if s.Rounds().To.N > s.Rounds().From.N {
		return ""
	}
	var meant *fabric.Round
	for _, x := range piece.Rounds {
		if x == r {
			break
		}
		if int64(x.Node.From.N) <= n && n <= int64(x.Node.To.N) {
			meant = x
		}
	}
	if meant == nil || len(meant.Node.Steps) == 0 || pointsBack(meant.Node.Steps) {
		return ""
	}
	steps := meant.Node.Steps
	if len(steps) == 1 && steps[0].Kind == grammar.StepEven && steps[0].Fill.Kind != grammar.FillToLast {
		return o.evenly(piece, r, &steps[0])
	}
	return inOneLine(steps[0].Span.To(steps[len(steps)-1].Span).In(meant.Line.Text))
}
