package lint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "gauge-unlikely",
	Severity: Information,
	Summary:  "Gauge, yarn weight and hook are out of keeping with each other",
	Why: "The yarn weight system gives, for each weight, the stitches in 10 cm and the hooks that go with it. They are guidelines, and toys are worked tighter on purpose; " +
		"but a gauge far from them is more often a slip, such as rounds and stitches changed about, 4 in for 10 cm, or the hook of an earlier yarn.",
	Bad:  "Pattern: The Hat\nTerms: US\nGauge: 8 sts x 9 rnds = 10 cm in sc\nHook: 3.5 mm\nYarn A: oat, light (3), 100 g / 250 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Good: "Pattern: The Hat\nTerms: US\nGauge: 16 sts x 18 rnds = 10 cm in sc\nHook: 4.5 mm\nYarn A: oat, light (3), 100 g / 250 m\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\n",
	Start: func(p *Pass) Visits {
		return Visits{Reads: readsWords, End: func() {
			for _, g := range p.facts().gauges {
				p.gaugeUnlikely(g.at, g.node)
			}
		}}
	},
})

func (p *Pass) gaugeUnlikely(at int, g *grammar.Gauge) {
	s := swatchOf(p.Pattern, g)
	if s.wide == 0 {
		return
	}
	if m := p.misshapen(s); m != "" && p.Pattern.Header.TermsSaid {
		p.Report(at, g.Span, m)
		return
	}
	if s.stitch != nil && !isA(s.stitch, "sc") || !p.Pattern.Header.TermsSaid {
		return // the table of weights speaks of (US) single crochet
	}
	weights := p.weights()
	if len(weights) == 0 || p.hookDiffers() {
		return
	}
	sts := 100 / s.wide
	few, most := math.Inf(1), 0.0
	for _, w := range weights {
		few, most = math.Min(few, w.FewSts), math.Max(most, w.ManySts)
	}
	r := math.Round(sts)
	switch hook := p.hookAgainst(weights); {
	case r < few && hook <= 0:
		p.yarnAndHook(p.Report(at, g.Span, sayLoose(sts, weights, few)))
	case r > most && hook >= 0 && !p.facts().toy():
		p.yarnAndHook(p.Report(at, g.Span, sayTight(sts, weights, most)))
	}
}

// yarnAndHook leads to the first yarn with a weight and the first hook.
func (p *Pass) yarnAndHook(x *Finding) {
	f := p.facts()
	if i := slices.IndexFunc(f.yarns, func(y on[*grammar.Yarn]) bool { return y.node.Weight.Written() }); i >= 0 {
		x.Related = append(x.Related, p.related(f.yarns[i].at, f.yarns[i].node.Weight.Span, sayYarnHere()))
	}
	if len(f.hooks) > 0 {
		x.Related = append(x.Related, p.related(f.hooks[0].at, f.hooks[0].node.Span, sayHookHere()))
	}
}

// hookDiffers says whether a hook's letter and millimetres disagree, which
// hook-size speaks of: how large it is is not known.
func (p *Pass) hookDiffers() bool {
	return slices.ContainsFunc(p.facts().hooks, func(h on[*grammar.Hook]) bool {
		l := p.File.Lines[h.at]
		mark, ok := terms.ParseHook(strings.TrimSpace(hookSpan(l, h.node).In(l.Text)))
		return ok && mark.Verdict() == terms.HookDiffers
	})
}

// gaugeMisshapen says whether a gauge of the pattern is unlikely by itself, so
// that nothing can be reckoned from it.
func (p *Pass) gaugeMisshapen() bool {
	if !p.Pattern.Header.TermsSaid {
		return false
	}
	return slices.ContainsFunc(p.Pattern.Header.Gauges, func(g *grammar.Gauge) bool { return p.misshapen(swatchOf(p.Pattern, g)) != "" })
}

// misshapen says that stitches of a gauge would be much taller or flatter than
// stitches of their kind are.
func (p *Pass) misshapen(s swatch) string {
	if s.tall == 0 || s.stitch == nil || s.stitch.Of == nil || s.stitch.Of.Tall == 0 {
		return ""
	}
	const far = 1.6
	got, usual := s.tall/s.wide, s.stitch.Of.Tall
	if got < usual*far && got > usual/far {
		return ""
	}
	return sayMisshapen(s.stitch.Name, got, usual)
}

// weights are the classes of the pattern's yarns.
func (p *Pass) weights() []terms.Weight {
	var found []terms.Weight
	seen := map[int]bool{}
	add := func(w terms.Weight) {
		if !seen[w.Number] {
			seen[w.Number] = true
			found = append(found, w)
		}
	}
	for _, y := range p.facts().yarns {
		if n := y.node.Number; n.Written() {
			if w, ok := terms.WeightByNumber(int(n.N)); ok {
				add(w)
			}
			continue
		}
		for _, w := range terms.WeightByName(y.node.Weight.Text) {
			add(w)
		}
	}
	return found
}

// hookAgainst says whether the pattern's hooks are smaller (-1) or larger (1)
// than those for all of its weights, or among them or unknown (0).
func (p *Pass) hookAgainst(weights []terms.Weight) int {
	sum := 0
	for _, h := range p.facts().hooks {
		mm := h.node.Size.MM
		if mm == 0 {
			continue
		}
		smaller, larger := true, true
		for _, w := range weights {
			from, to := terms.HookRange(w.Number)
			smaller, larger = smaller && mm < from, larger && mm > to
		}
		switch {
		case smaller:
			sum--
		case larger:
			sum++
		default:
			return 0
		}
	}
	return min(max(sum, -1), 1)
}

func weightNames(weights []terms.Weight) string {
	var names []string
	for _, w := range weights {
		names = append(names, fmt.Sprintf("%s (%d)", w.Name, w.Number))
	}
	return strings.Join(names, " or ")
}

func sayLoose(sts float64, weights []terms.Weight, few float64) string {
	return fmt.Sprintf("%s sts in 10 cm is loose for %s yarn, which gives %s or more, and the hook is none of a larger size; check gauge, yarn and hook", number(math.Round(sts)), weightNames(weights), number(few))
}

func sayTight(sts float64, weights []terms.Weight, most float64) string {
	return fmt.Sprintf("%s sts in 10 cm is tight for %s yarn, which gives %s or fewer, and the hook is none of a smaller size; check gauge, yarn and hook", number(math.Round(sts)), weightNames(weights), number(most))
}

func sayYarnHere() string { return "the weight of yarn" }

func sayHookHere() string { return "the hook" }

func sayMisshapen(name string, got, usual float64) string {
	return fmt.Sprintf("by this gauge %s is %s times as tall as wide; it usually is about %s times; were stitches and rounds changed about?", name, number(math.Round(got*100)/100), number(math.Round(usual*100)/100))
}
