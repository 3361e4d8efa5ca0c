package lint

import (
	"strings"
	"sync"
	"unicode"

	"workeven/grammar"
)

// thing is something besides yarn and hook that patterns use, under all the
// words that makers have for it.
type thing struct {
	// name is what messages call several of it, one a single one.
	name, one string
	// words are its spellings in the singular, in lower case.
	words []string
	// small is set for what a small child can choke on or be hurt by, as the
	// usual cautions list it (trade practice; 16 CFR 1501 excludes yarn and fabric).
	small bool
	// counted things are placed one by one; a tool is needed without being
	// spoken of; a cord can wind round a neck.
	counted, tool, cord bool
	// line is how a pattern lists it.
	line string
}

var things = []thing{
	{name: "eyes", one: "eye", words: []string{"safety eye", "toy eye", "plastic eye", "glass eye", "button eye", "doll eye", "craft eye", "eye"}, small: true, counted: true, line: "safety eyes"},
	{name: "noses", one: "nose", words: []string{"safety nose", "plastic nose", "toy nose", "nose"}, small: true, counted: true, line: "safety nose"},
	{name: "buttons", one: "button", words: []string{"button", "toggle"}, small: true, counted: true},
	{name: "beads", one: "bead", words: []string{"bead", "wooden bead", "glass bead"}, small: true, counted: true},
	{name: "bells", one: "bell", words: []string{"bell", "jingle bell", "rattle", "squeaker"}, small: true, counted: true},
	{name: "magnets", one: "magnet", words: []string{"magnet"}, small: true, counted: true},
	{name: "snaps", one: "snap", words: []string{"snap", "snap fastener", "press stud", "popper"}, small: true, counted: true},
	{name: "pipe cleaners", one: "pipe cleaner", words: []string{"pipe cleaner", "chenille stem", "chenille stick"}, small: true},
	{name: "wire", one: "wire", words: []string{"wire", "craft wire", "floral wire", "jewelry wire", "jewellery wire"}, small: true},
	{name: "pellets", one: "pellet", words: []string{"pellet", "plastic pellet", "glass pellet", "weighting bead"}, small: true},
	{name: "toy stuffing", one: "toy stuffing", words: []string{"stuffing", "toy stuffing", "fiberfill", "fibrefill", "fiber fill", "fibre fill", "polyfill", "toy filling", "filling", "wadding", "kapok"}, line: "toy stuffing"},
	{name: "thread", one: "thread", words: []string{"thread", "embroidery thread", "sewing thread", "floss", "embroidery floss"}, line: "embroidery thread"},
	{name: "a brush", one: "brush", words: []string{"brush", "wire brush", "pet brush", "slicker brush"}, line: "brush"},
	{name: "a stitch marker", one: "marker", words: []string{"marker", "stitch marker", "locking marker"}, line: "stitch marker"},
	{name: "a yarn needle", one: "needle", words: []string{"needle", "yarn needle", "tapestry needle", "darning needle", "sewing needle", "wool needle", "embroidery needle"}, tool: true, line: "yarn needle"},
	{name: "cords", one: "cord", words: []string{"cord", "drawstring", "string", "ribbon", "elastic", "leather strap"}, cord: true},
	{name: "tools", one: "tool", words: []string{"scissors", "pin", "tape measure", "ruler", "row counter", "counter", "crochet hook", "hook", "iron", "pliers", "glue"}, tool: true},
}

// thingNamed finds a row of the table by the name of a single one, or by its name.
func thingNamed(name string) *thing {
	for i := range things {
		if t := &things[i]; t.one == name || t.words[0] == name {
			return t
		}
	}
	return nil
}

// thingWords holds the spellings of all things by their first word.
var thingWords = sync.OnceValue(func() map[string][]spelledThing {
	m := map[string][]spelledThing{}
	for i := range things {
		for _, w := range things[i].words {
			f := strings.Fields(w)
			m[f[0]] = append(m[f[0]], spelledThing{f[1:], &things[i]})
		}
	}
	return m
})

type spelledThing struct {
	rest  []string
	thing *thing
}

// thingsIn finds the things that a text names, in order; a longer name before
// a shorter one at the same place. What it is chiefly about stands first:
// "yarn needle with a large eye" is a needle.
func thingsIn(text string) []*thing {
	var found []*thing
	words := wordsOf(text)
	for i := 0; i < len(words); i++ {
		best, length := (*thing)(nil), 0
		for _, one := range []string{words[i], singular(words[i])} {
			for _, s := range thingWords()[one] {
				if n := 1 + len(s.rest); n > length && i+n <= len(words) && sameWords(words[i+1:i+n], s.rest) {
					best, length = s.thing, n
				}
			}
		}
		if best != nil {
			found = append(found, best)
			i += length - 1
		}
	}
	return found
}

func sameWords(words, want []string) bool {
	for i := range words {
		if words[i] != want[i] && singular(words[i]) != want[i] {
			return false
		}
	}
	return true
}

// wordsOf cuts a text into words in lower case.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' })
}

// singular takes the plural's s off a word.
func singular(w string) string {
	switch {
	case len(w) < 4 || strings.HasSuffix(w, "ss"):
		return w
	case strings.HasSuffix(w, "shes"), strings.HasSuffix(w, "ches"), strings.HasSuffix(w, "xes"):
		return w[:len(w)-2]
	}
	return strings.TrimSuffix(w, "s")
}

// thingUse is one place where a thing is used.
type thingUse struct {
	at    int
	span  grammar.Span
	thing *thing // nil for one that is not in the table
	text  string
	// count is how many in all, for every copy of the part; 0 where not said.
	count int64
	part  *part
	// insert is set for an action among the rounds, not a line of the making up.
	insert bool
}

type thingUses struct{ uses []thingUse }

// use notes that an action uses a thing.
func (u *thingUses) use(at int, n *grammar.Action, t *thing) {
	u.uses = append(u.uses, thingUse{at: at, thing: t, text: n.Rest.Text, insert: true})
}

// insert takes in "Insert 2 safety eyes between Rnds 7 and 8".
func (f *facts) insert(at int, n *grammar.Action) {
	if !n.Thing.Written() {
		return
	}
	into := f.cur
	if into == nil {
		if named := f.nameParts(n.Rest.Text); len(named) > 0 {
			into = named[0]
		}
	}
	f.uses = append(f.uses, f.thingUse(at, n.Count, n.Thing, into, true))
}

// place takes in "Place: 2 safety eyes on Body, …". A part that is placed is sewn on.
func (f *facts) place(at int, n *grammar.PlaceThing) {
	to := f.named(n.On.Text)
	if p, all := f.resolve(n.Thing.Text); p != nil {
		f.joined(join{at: at, part: p, to: to, all: all, node: &grammar.Sew{Part: n.Thing, Times: n.Count, To: n.On, Where: n.Where}})
		return
	}
	f.uses = append(f.uses, f.thingUse(at, n.Count, n.Thing, to, false))
}

func (f *facts) thingUse(at int, count grammar.Count, name grammar.Name, on *part, insert bool) thingUse {
	u := thingUse{at: at, span: name.Span, text: name.Text, part: on, insert: insert}
	if list := f.things(name.Text); len(list) > 0 {
		u.thing = list[0]
	}
	n := int64(count.N)
	switch {
	case count.Written():
	case u.thing != nil && singular(lastWord(name.Text)) == lastWord(name.Text):
		n = 1
	default:
		n = 0
	}
	if strings.Contains(strings.ToLower(name.Text), "pair") {
		n *= 2
	}
	if on != nil {
		n *= max(on.piece.Make, 1)
	}
	u.count = n
	return u
}

func lastWord(s string) string {
	w := wordsOf(s)
	if len(w) == 0 {
		return ""
	}
	return w[len(w)-1]
}
