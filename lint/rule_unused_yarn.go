package lint

import (
	"strings"

	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "unused-yarn",
	Severity: Warning,
	Summary:  "A yarn is listed that nothing is worked with",
	Why:      "Makers pay for every yarn on the list. One that no part, no change and no embroidery names is either left over from an earlier version, or its change was forgotten in the text.",
	Bad:      "Yarn B: oat, light (3), 50 g / 125 m\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n",
	Good:     "Yarn B: oat, light (3), 50 g / 125 m\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: with B, inc x 6 (12)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.unusedYarn, Reads: readsShapes}
	},
})

// unusedYarn takes the first yarn for that of every part that names none, and
// a yarn for used where free words speak of it.
func (p *Pass) unusedYarn() {
	f := p.facts()
	if !f.worked() {
		return
	}
	unsaid := false
	for _, part := range f.parts {
		unsaid = unsaid || !part.with && len(part.piece.Rounds) > 0
	}
	var spoken map[string]bool
	var unused []on[*grammar.Yarn]
	for i, y := range f.yarns {
		key, name := grammar.YarnKey(y.node.Key.Text), grammar.YarnKey(y.node.Name.Text)
		if key == "" || f.used[key] || name != "" && f.used[name] || i == 0 && unsaid {
			continue
		}
		if spoken == nil {
			spoken = f.spokenYarns()
		}
		if !spoken[key] && (name == "" || !spoken[name]) {
			unused = append(unused, y)
		}
	}
	if len(unused) <= f.undeclared() {
		return // a key that is not listed may stand for each; undeclared-yarn speaks of it
	}
	for _, y := range unused {
		p.Report(y.at, y.node.Key.Span, sayUnusedYarn(y.node)).Unused = true
	}
}

// undeclared is how many yarns are worked with that are not listed.
func (f *facts) undeclared() int {
	known, n := f.knownYarns(), 0
	for _, u := range f.usedList {
		if !known[grammar.YarnKey(u.node.Text)] {
			n++
		}
	}
	return n
}

// spokenYarns are the words in free text that may name a yarn: a short one
// where a word such as "in", "with" or "yarn" stands before it or it stands
// in a list, a longer one anywhere, also two words together.
func (f *facts) spokenYarns() map[string]bool {
	spoken := map[string]bool{}
	for _, at := range f.texts {
		before := ""
		for _, raw := range strings.FieldsFunc(f.said(at), func(r rune) bool { return strings.ContainsRune(" \t\n\r.,;:()", r) }) {
			w := strings.ToLower(raw)
			switch {
			case len(w) > 1, leadsYarn[before], spoken[before] && w != "a":
				spoken[w] = true
			}
			spoken[before+" "+w] = true
			before = w
		}
	}
	return spoken
}

var leadsYarn = map[string]bool{"in": true, "with": true, "yarn": true, "using": true, "of": true, "to": true, "color": true, "colour": true, "and": true, "or": true}

func sayUnusedYarn(y *grammar.Yarn) string {
	return "yarn " + y.Key.Text + " is listed and nothing is worked with it"
}
