package lint

import (
	"fmt"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "definition",
	Severity: Warning,
	Summary:  "An own stitch that is never used, used before it is defined, defined twice, or named like another with other counts",
	Why: "A stitch of the pattern's own is looked up where it first stands. One that is explained only further down stops the maker; one that is named like a stitch that everybody knows, " +
		"but takes or makes another number, is worked from habit and comes out wrong.",
	Bad:  "Stitch: bob (bobble) = 5 dc together in one st\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\n",
	Good: "Stitch: bob (bobble) = 5 dc together in one st\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, bob) x 3 (6)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.definitions, Reads: readsWords}
	},
})

func (p *Pass) definitions() {
	f := p.facts()
	seen := map[string]*fabric.OwnStitch{}
	for _, o := range p.Pattern.Own {
		abbr := o.Node.Abbr
		k := terms.Key(abbr.Text)
		if first := seen[k]; first != nil {
			p.Report(o.At, abbr.Span, sayDefinedTwice(abbr.Text)).Related = []Related{p.related(first.At, first.Node.Abbr.Span, sayDefinedFirst())}
			continue
		}
		seen[k] = o
		if s := p.standardOf(o); s != nil {
			p.Report(o.At, abbr.Span, sayLikeStandard(abbr.Text, s, o.Stitch, p.System()))
		}
		first, used := f.firstUse(o)
		switch {
		case !used:
			p.Report(o.At, abbr.Span, sayNeverUsed(abbr.Text)).Unused = true
		case first.at < o.At:
			p.Report(first.at, first.node.Span, sayUsedBefore(first.node.Text)).Related = []Related{p.related(o.At, abbr.Span, sayDefinedHere())}
		}
	}
}

// firstUse is where an own stitch is first used, by its abbreviation or its full name.
func (f *facts) firstUse(o *fabric.OwnStitch) (on[grammar.Ref], bool) {
	best, found := on[grammar.Ref]{}, false
	for _, n := range []grammar.Name{o.Node.Abbr, o.Node.Full} {
		k := terms.Key(n.Text)
		for _, key := range []string{k, strings.TrimSuffix(k, "s")} {
			if u, ok := f.own[key]; ok && k != "" && (!found || u.at < best.at) {
				best, found = u, true
			}
		}
	}
	return best, found
}

// standardOf is the stitch of the glossary that an own one shares its name
// with and differs from in what it takes or makes. Shells, fans, picots and the
// like are left out: makers differ on them, and a pattern has to say what its are.
func (p *Pass) standardOf(o *fabric.OwnStitch) *terms.Stitch {
	for _, n := range []grammar.Name{o.Node.Abbr, o.Node.Full} {
		s := terms.Find(p.System(), n.Text)
		if s == nil || n.Text == "" {
			continue
		}
		switch s.Kind {
		case terms.Group, terms.Picot, terms.Ring:
			continue
		}
		if int64(s.Takes) != o.Stitch.Takes || int64(s.Makes) != o.Stitch.Makes {
			return s
		}
	}
	return nil
}

func sayDefinedTwice(name string) string { return name + " is defined twice; the first holds" }

func sayDefinedFirst() string { return "it is defined here first" }

func sayDefinedHere() string { return "it is defined here" }

func sayNeverUsed(name string) string { return name + " is defined and never used" }

func sayUsedBefore(name string) string { return name + " is used here and defined further down" }

func sayLikeStandard(name string, s *terms.Stitch, own *fabric.Stitch, sys terms.System) string {
	return fmt.Sprintf("%s is also the name of a usual stitch (%s), which takes %d and makes %d; this one takes %d and makes %d: give it a name of its own",
		name, s.In(sys).Full, s.Takes, s.Makes, own.Takes, own.Makes)
}
