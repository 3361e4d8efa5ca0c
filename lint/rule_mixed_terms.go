package lint

import (
	"fmt"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "mixed-terms",
	Severity: Error,
	Summary:  "A word that only US patterns use in one in UK terms, or the other way round",
	Why: "The two systems use the same words for different stitches: a US dc is a UK tr. A pattern that mixes them leaves a maker to guess which of the two every other word is meant in, " +
		"and the piece comes out half as tall or twice.",
	Repair: "The word of the pattern's own system, everywhere at once, or the other heading where every word is of the other system.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 htr in each st around (12)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 hdc in each st around (12)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.mixedTerms, Reads: readsWords}
	},
})

// mixedTerms reports each foreign word once, where it stands first.
func (p *Pass) mixedTerms() {
	f := p.facts()
	if f.terms < 0 && !f.native {
		return // all one system, which terms-missing names
	}
	byWord := map[string][]on[grammar.Ref]{}
	var order []string
	for _, u := range f.foreign {
		k := terms.Key(u.node.Text)
		if byWord[k] == nil {
			order = append(order, k)
		}
		byWord[k] = append(byWord[k], u)
	}
	for _, k := range order {
		uses := byWord[k]
		first := uses[0]
		own := first.node.Known(p.System().Other()).Abbr(p.System())
		x := p.Report(first.at, first.node.Span, sayForeign(first.node.Text, own, p.System(), len(uses)-1))
		if f.terms >= 0 {
			x.Related = append(x.Related, p.related(f.terms, grammar.Span{}, saySystemHere(p.System())))
		}
		if f.terms >= 0 && !f.native {
			if n, ok := p.File.Lines[f.terms].Node.(*grammar.Terms); ok && n.Value.Written() {
				other := p.System().Other().String()
				x.Fixes = append(x.Fixes, fix(sayWrite("Terms: "+other), false, p.edit(f.terms, n.Value.Span, other)))
			}
		}
		var edits []Edit
		for _, u := range uses {
			edits = append(edits, p.edit(u.at, u.node.Span, own))
		}
		x.Fixes = append(x.Fixes, fix(sayWrite(own), false, edits...))
	}
}

func saySystemHere(sys terms.System) string {
	return "the pattern says here that it is in " + sys.String() + " terms"
}

func sayForeign(word, own string, sys terms.System, more int) string {
	m := fmt.Sprintf("%s is a %s word in a pattern in %s terms", quoted(word), sys.Other(), sys)
	if own != "" && !strings.EqualFold(own, word) {
		m += ", which calls it " + own
	}
	if more > 0 {
		m += fmt.Sprintf(" (and %s)", Number(more, "more place", "more places"))
	}
	return m
}
