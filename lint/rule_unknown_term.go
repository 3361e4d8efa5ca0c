package lint

import (
	"slices"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     string(fabric.UnknownTerm),
	Severity: Error,
	Summary:  "A stitch or word that no glossary knows and the pattern does not define",
	Why: "A maker cannot work a stitch that she cannot look up, and what it takes and makes cannot be counted. Either it is misspelled, or the pattern has to say how it is worked, " +
		"such as `Stitch: bob (bobble) = 5 dc together in one st`.",
	Repair: "The known word that is most like it, where the round comes out with it.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inx x 6 (12)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n",
	Start: func(p *Pass) Visits {
		u := unknownTerm{Pass: p}
		return Visits{Line: u.line, Round: u.round}
	},
})

type unknownTerm struct{ *Pass }

// line reports words that the parse stumbled over, and those in statements
// that are not worked.
func (u unknownTerm) line(l *grammar.Line) {
	for i := range l.Faults {
		if x := &l.Faults[i]; x.Unknown && !u.otherSystem(x.In(l.Text)) {
			u.fault(l, x)
		}
	}
	if len(l.Faults) > 0 {
		return
	}
	switch n := l.Node.(type) {
	case *grammar.Gauge:
		u.ref(n.Stitch)
	case *grammar.TurningChain:
		for _, r := range n.Rules {
			u.ref(r.Stitch)
		}
	case *grammar.OwnStitch:
		u.steps(n.Steps)
	}
}

func (u unknownTerm) steps(steps []grammar.Step) {
	for i := range steps {
		u.ref(steps[i].Stitch)
		if g := steps[i].Group; g != nil {
			u.steps(g.Steps)
		}
	}
}

// ref reports a stitch that nobody knows, outside the rounds.
func (u unknownTerm) ref(r grammar.Ref) {
	if !r.Written() || u.Pattern.Find(r) != nil || u.otherSystem(r.Text) {
		return
	}
	near := ""
	if len(u.Pattern.Own) <= mostNames {
		near, _ = u.Pattern.Nearest(r.Text)
	}
	f := u.Report(u.At(), r.Span, sayUnknownStitch(r.Text, near))
	if near != "" {
		f.Fixes = append(f.Fixes, fix(sayWrite(near), false, u.edit(u.At(), r.Span, near)))
	}
}

func (u unknownTerm) round(piece *fabric.Piece, r *fabric.Round) {
	for _, x := range r.Problems {
		if x.Kind == fabric.UnknownTerm && !u.otherSystem(x.Span.In(r.Line.Text)) {
			u.problem(piece, r, x)
		}
	}
	if t := r.Node.Total; t != nil && !slices.ContainsFunc(r.Problems, func(x fabric.Problem) bool { return x.Kind == fabric.UnknownTerm }) {
		for _, part := range t.Parts {
			u.ref(part.Unit.Ref())
		}
	}
}

// otherSystem says whether a word is one that only the other system of terms
// has, which mixed-terms and terms-missing speak of.
func (u unknownTerm) otherSystem(word string) bool {
	sys := u.System()
	if terms.Find(sys, word) != nil {
		return false
	}
	return terms.Find(sys.Other(), word) != nil || terms.Find(sys.Other(), strings.TrimSuffix(word, "s")) != nil
}

func sayUnknownStitch(name, near string) string {
	m := quoted(name) + " is no stitch of the glossary and is not defined in this pattern"
	if near != "" {
		m += sayDidYouMean(near)
	}
	return m
}
