package lint

import "workeven/grammar"

var _ = declare(Rule{
	Name:     "undeclared-yarn",
	Severity: Error,
	Summary:  "A yarn is worked with that the pattern does not list",
	Why:      "A maker buys what the list says. A yarn that turns up in the middle of the pattern is one that she has not got, and whose weight and length she cannot know.",
	Repair:   "The letter or word of the listed yarn that is most like it.",
	Bad:      "Piece: Shell\nWith: C\nRnd 1: 6 sc in magic ring (6)\n",
	Good:     "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.undeclaredYarn, Reads: readsWords}
	},
})

// undeclaredYarn reports each name once, where it is used first. A fragment
// without a title and without yarns is left alone.
func (p *Pass) undeclaredYarn() {
	f := p.facts()
	if len(f.yarns) == 0 && f.title < 0 {
		return
	}
	known := f.knownYarns()
	var keys []string
	seen := map[string]bool{}
	for _, y := range f.yarns {
		if k := grammar.YarnKey(y.node.Key.Text); k != "" && !seen[k] {
			seen[k] = true
			keys = append(keys, y.node.Key.Text)
		}
	}
	for _, u := range f.usedList {
		if known[grammar.YarnKey(u.node.Text)] {
			continue
		}
		x := p.Report(u.at, u.node.Span, sayUndeclaredYarn(u.node.Text, keys))
		if n := len(f.yarns); n > 0 {
			last := f.yarns[n-1]
			x.Related = append(x.Related, p.related(last.at, last.node.Key.Span, sayListedHere()))
		}
		if near := nearestName(u.node.Text, keys); near != "" && len(u.node.Text) > 1 {
			x.Fixes = append(x.Fixes, fix(sayWrite(near), false, p.edit(u.at, u.node.Span, near)))
		}
	}
}

// knownYarns are the letters and names that the listed yarns go by.
func (f *facts) knownYarns() map[string]bool {
	known := map[string]bool{}
	for _, y := range f.yarns {
		known[grammar.YarnKey(y.node.Key.Text)] = true
		if y.node.Name.Written() {
			known[grammar.YarnKey(y.node.Name.Text)] = true
		}
	}
	return known
}

func sayListedHere() string { return "yarns are listed here" }

func sayUndeclaredYarn(name string, known []string) string {
	m := "yarn " + name + " is not listed"
	switch n := len(known); {
	case n == 0:
		return m + "; the pattern has no Yarn line"
	case n > 12:
		return m
	}
	return m + "; listed " + isAre(int64(len(known))) + " " + listed(known)
}
