package lint

import (
	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "syntax",
	Severity: Error,
	Summary:  "A line that cannot be read",
	Why: "Every sentence of the notation has one meaning, so a sentence that it does not know has none: nothing can be counted on that line, and a maker would have to guess at it too. " +
		"The message says what was found and what could stand there.",
	Repair: "The word that was probably meant, where one is close and the line can be read with it.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRdn 2: inc x 6 (12)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n",
	Start: func(p *Pass) Visits {
		return Visits{Line: func(l *grammar.Line) {
			for i := range l.Faults {
				if !l.Faults[i].Unknown {
					p.fault(l, &l.Faults[i])
				}
			}
		}}
	},
})

// fault reports what a line's parse found. Its repair is offered where the
// line has that fault no more with it and, on a round, the piece comes out.
func (p *Pass) fault(l *grammar.Line, x *grammar.Fault) {
	f := p.Report(p.At(), x.Span, x.Message)
	if x.Fix == "" || p.walk.noFixes || !x.Written() {
		return
	}
	mended := grammar.ParseLine(l.Text[:x.Start]+x.Fix+l.Text[x.End:], l.Rows)
	piece, round := p.Pattern.RoundAt(p.At())
	holds := round == nil || p.Pattern.Mends(piece, round, fabric.Repair{Span: x.Span, New: x.Fix})
	if len(mended.Faults) < len(l.Faults) && holds {
		f.Fixes = append(f.Fixes, fix(x.FixTitle, false, p.edit(p.At(), x.Span, x.Fix)))
	}
}
