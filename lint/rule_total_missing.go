package lint

import (
	"fmt"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "total-missing",
	Severity: Warning,
	Summary:  "A round does not say how many stitches it has in the end",
	Why: "The total is the only thing that a maker can check herself by. Without it she finds a slip many rounds later; a total on every round is what makers ask designers for most. " +
		"A starting chain by itself needs none.",
	Repair: "Writes the total that the words make. `--fix` does so on rounds that come out even.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n",
	Start: func(p *Pass) Visits {
		return Visits{Round: func(piece *fabric.Piece, r *fabric.Round) { p.totalMissing(piece, r) }}
	},
})

func (p *Pass) totalMissing(piece *fabric.Piece, r *fabric.Round) {
	n := r.Node
	if n.Total != nil || n.Broken || len(r.Line.Faults) > 0 || chainOnly(r) || n.RepeatsSeveral() {
		return
	}
	for _, x := range r.Problems {
		if x.Kind != fabric.TwoReadings {
			return // what it makes is not known for sure, and one finding is enough
		}
	}
	if r.Known && r.Makes == 0 && len(r.Spaces) == 0 {
		return // a join, or the end of a yarn: nothing to count
	}
	f := p.Report(lineOf(piece, r), n.Label, sayTotalMissing(r))
	at := stepsEnd(n)
	if total := r.RightTotal(); total != "" && at > 0 {
		total = "(" + total + ")"
		f.Fixes = append(f.Fixes, fix(sayWrite(total), len(r.Problems) == 0, p.edit(lineOf(piece, r), grammar.Span{Start: at, End: at}, " "+total)))
	}
}

// chainOnly says whether a round is no more than a chain.
func chainOnly(r *fabric.Round) bool {
	if r.Out == nil || len(r.Out.Items) == 0 {
		return false
	}
	for _, i := range r.Out.Items {
		if i.Kind != fabric.Chains {
			return false
		}
	}
	return true
}

// stepsEnd is where a total belongs: behind the last step.
func stepsEnd(n *grammar.Round) int32 {
	if len(n.Steps) == 0 {
		return 0
	}
	return n.Steps[len(n.Steps)-1].Span.End
}

func sayTotalMissing(r *fabric.Round) string {
	m, its := r.Name()+" has no total", "its"
	if several(r) {
		m, its = r.Name()+" have no total", "their"
	}
	switch total := r.RightTotal(); {
	case total == "":
		return m
	case len(r.Spaces) == 0:
		return fmt.Sprintf("%s; %s words make %s", m, its, stitches(r.Makes))
	default:
		return fmt.Sprintf("%s; %s words make %s", m, its, total)
	}
}
