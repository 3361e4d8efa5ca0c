package editors

import (
	"slices"
	"strings"
	"sync"

	"workeven/grammar"
)

// A kind of statement: the labels it begins with, and what its content is made of.
type kind struct {
	name string
	// labels are the spellings that begin it, in lower case; for actions, the verbs.
	labels []string
	// key is set where a yarn's key stands before the colon, ranged where numbers do.
	key, ranged bool
	// action is set for lines that begin with a verb, and have no colon.
	action bool
	// lead are rules for what stands right behind the colon; the first that fits holds.
	lead []rule
	// rules are for the rest; an earlier one goes before a later one.
	rules []rule
	// content is what everything is that no rule colors.
	content class
}

// A rule colors one thing in a statement. Its parts stand one behind the other,
// each with a class of its own; none may be empty.
type rule struct {
	// name tells rules apart: two of one name are the same.
	name  string
	parts []part
	// starts is set for a rule that begins with a word: no letter stands before it.
	starts bool
	ends   ending
	// ahead is what must follow behind the parts.
	ahead string
	// exact rules tell capitals from small letters.
	exact bool
}

// part is a stretch of one class. Patterns are written as Go's regexp has them,
// without groups that capture; see dialect.
type part struct {
	class   class
	pattern string
}

// ending is how a rule's last word ends.
type ending int

const (
	anyEnd   ending = iota
	wordEnd         // no letter or digit follows
	countEnd        // or a count is written against it: sc3, x6
)

// kinds are all kinds of statement, actions last: "Join:" and the like would
// otherwise be taken for a verb.
var kinds = sync.OnceValue(func() []kind {
	var all []kind
	for _, f := range grammar.LabelForms() {
		k, spelled := contents[f.Name](), append([]string{strings.ToLower(f.Name)}, f.Others...)
		if i := slices.IndexFunc(all, func(x kind) bool { return x.name == k.name }); i >= 0 {
			all[i].labels = append(all[i].labels, spelled...)
			continue
		}
		k.labels, k.key, k.ranged = spelled, f.TakesKey, f.TakesRange
		all = append(all, k)
	}
	return append(all, actions())
})

// contents says of every label what stands behind it. Labels of one kind share a
// name; the test of this package holds the table complete.
var contents = map[string]func() kind{
	"Pattern":  func() kind { return kind{name: "Title", content: title} },
	"Designer": freely, "Version": freely, "Abbreviation": freely, "Note": freely, "Caution": freely,
	"Terms": chosen, "Skill": chosen, "Worked": chosen,
	"Size": measures, "Gauge": measures, "Hook": measures, "Turning chain": measures,
	"Yarn": yarnLine,
	"Notion": func() kind {
		return kind{name: "Notion", lead: things("notion", gap+`(?:[,(]|$|//)`), rules: slices.Concat(measured(), counts())}
	},
	"Stitch": func() kind {
		name := rule{name: "ownStitch", parts: []part{{ownStitch, `[^=(,/\n \t][^=(,/\n]*?`}}, ahead: gap + `(?:[=(,]|$|//)`}
		return kind{name: "Stitch", lead: []rule{name}, rules: worked()}
	},
	"Piece": func() kind {
		name := rule{name: "pieceName", parts: []part{{piece, `[^(/\n \t][^(/\n]*?`}}, ahead: gap + `(?:\(|$|//)`}
		return kind{name: "Piece", lead: []rule{name}, rules: slices.Concat(quotes(), words(), counts())}
	},
	"With": func() kind {
		key := rule{name: "withYarn", parts: []part{{yarn, `[\pL][\pL\pM0-9'’]*`}}, starts: true}
		return kind{name: "With", rules: slices.Concat(quotes(), words(), measured(), []rule{key}, counts())}
	},
	"Rnd": rounds, "Rnds": rounds, "Row": rounds, "Rows": rounds,
	"Assembly": func() kind { return kind{name: "Assembly"} },
	"Sew":      sewn, "Attach": sewn,
	"Place": placed, "Embroider": placed,
}

// actions are lines that begin with a verb: "Change to B."
func actions() kind {
	named := rule{name: "actionYarn", parts: []part{{yarn, key}}, ends: wordEnd, exact: true}
	return kind{name: "Action", labels: grammar.Verbs(), action: true, lead: []rule{named}, rules: slices.Concat(whereWords(), yarns(), inches(), worked())}
}

func freely() kind   { return kind{name: "Text", content: text} }
func chosen() kind   { return kind{name: "Setting", content: setting} }
func measures() kind { return kind{name: "Measure", rules: slices.Concat(inches(), worked())} }
func rounds() kind {
	return kind{name: "Round", rules: slices.Concat(yarns(), quotes(), stitches(), totals(), said())}
}

func yarnLine() kind {
	name := rule{name: "yarnName", parts: []part{{text, `[^#,/\n \t][^#,/\n]*?`}}, ahead: gap + `(?:[#,]|$|//)`}
	hex := rule{name: "hex", parts: []part{{colour, `#[0-9A-Za-z]+`}}}
	weight := rule{name: "weight", parts: []part{{text, `[\pL][^,;(/#\n]*?`}}, starts: true, ahead: gap + `(?:[,;(#]|$|//)`}
	return kind{name: "Yarn", lead: []rule{name}, rules: slices.Concat([]rule{hex}, quotes(), measured(), []rule{weight}, counts())}
}

func sewn() kind {
	name := rule{name: "sewnPiece", parts: []part{{piece, `[^,;/\n \t][^,;/\n]*?`}}, ahead: blank + `(?:[x×]` + gap + `[0-9]|(?:to|on)` + blank + `)`}
	return kind{name: "Sewn", lead: []rule{name}, rules: slices.Concat(where(), yarns(), worked())}
}

func placed() kind {
	onto := blank + `(?:in` + blank + key + blank + `)?on` + blank
	return kind{name: "Placed", lead: things("placed", onto), rules: slices.Concat(where(), yarns(), worked())}
}

// things are what is named freely, with or without a number before it, up to
// what is ahead.
func things(name, ahead string) []rule {
	thing := `[^,;/\n( \t][^,;/\n(]*?`
	return []rule{
		{name: name + "Counted", parts: []part{{number, amount}, {plain, blank}, {text, thing}}, ahead: ahead},
		{name: name, parts: []part{{text, thing}}, ahead: ahead},
	}
}
