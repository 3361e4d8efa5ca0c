package lint

import (
	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "terms-missing",
	Severity: Warning,
	Summary:  "The pattern does not say whether its stitches are in US or UK terms",
	Why: "dc is one stitch in the US and another in the UK. A maker who takes a pattern for the other kind works every round with the wrong stitch, and the counts still come out, " +
		"so that nothing tells her.",
	Repair: "A Terms line. `--fix` writes it where the pattern uses a word that only one of the systems has; otherwise both are offered.",
	Bad:    "Pattern: The Hat\nGauge: 16 sts x 18 rnds = 10 cm in sc\nHook: 5 mm\nYarn A: oat, medium (4), 100 g / 180 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Good:   "Pattern: The Hat\nTerms: US\nGauge: 16 sts x 18 rnds = 10 cm in sc\nHook: 5 mm\nYarn A: oat, medium (4), 100 g / 180 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.termsMissing, Reads: readsWords}
	},
})

// termsMissing reports once: on the pattern's title, or on the first statement
// of a file without one.
func (p *Pass) termsMissing() {
	f := p.facts()
	if p.Pattern.Header.TermsSaid || f.terms >= 0 || len(p.Pattern.Pieces) == 0 && f.title < 0 {
		return
	}
	at := f.title
	if at < 0 {
		at = f.firstOf()
	}
	if at < 0 {
		return
	}
	x := p.Report(at, grammar.Span{}, sayTermsMissing(f))
	write := func(sys terms.System, safe bool) {
		line := "Terms: " + sys.String()
		e := p.before(at, line)
		if f.title >= 0 {
			e = p.after(at, line)
		}
		x.Fixes = append(x.Fixes, fix(sayAddLine(line), safe, e))
	}
	switch {
	case f.native && len(f.foreign) == 0:
		write(terms.US, true)
	case !f.native && len(f.foreign) > 0:
		first := f.foreign[0]
		x.Related = append(x.Related, p.related(first.at, first.node.Span, sayWordHere()))
		write(terms.UK, true)
	default:
		write(terms.US, false)
		write(terms.UK, false)
	}
}

// firstOf is the first statement of the first part.
func (f *facts) firstOf() int {
	if len(f.pattern.Pieces) == 0 {
		return f.first
	}
	return f.pattern.Pieces[0].At
}

func sayWordHere() string { return "it stands here first" }

func sayTermsMissing(f *facts) string {
	m := "the pattern does not say whether it is in US or UK terms"
	switch {
	case f.native && len(f.foreign) == 0:
		m += "; its words are US ones"
	case !f.native && len(f.foreign) > 0:
		m += "; " + quoted(f.foreign[0].node.Text) + " is a UK word"
	}
	return m
}
