package lint

import "workeven/grammar"

var _ = declare(Rule{
	Name:     "gauge-missing",
	Severity: Warning,
	Summary:  "The pattern gives no gauge",
	Why: "Without a gauge nobody can tell how large the piece will be, whether a yarn will do instead of another, or how much of it is needed. " +
		"For toys it says how dense the fabric must be to hold the stuffing.",
	Bad:  "Pattern: The Hat\nTerms: US\nHook: 5 mm\nYarn A: oat, medium (4), 100 g / 180 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Good: "Pattern: The Hat\nTerms: US\nGauge: 16 sts x 18 rnds = 10 cm in sc\nHook: 5 mm\nYarn A: oat, medium (4), 100 g / 180 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Start: func(p *Pass) Visits {
		return Visits{Reads: readsShapes, End: func() {
			f := p.facts()
			if f.title >= 0 && len(f.gauges) == 0 && f.worked() {
				p.Report(f.title, grammar.Span{}, sayGaugeMissing())
			}
		}}
	},
})

func sayGaugeMissing() string {
	return "the pattern gives no gauge; write one such as \"Gauge: 24 sts x 26 rnds = 10 cm in sc\""
}
