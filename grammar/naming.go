package grammar

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"workeven/grammar/terms"
)

// NameKey folds the name of a piece for comparison.
func NameKey(s string) string {
	if strings.ContainsAny(s, "\n\r") { // it goes on on the next line
		s = strings.Join(strings.Fields(s), " ")
	}
	return terms.Key(strings.TrimSpace(s))
}

// YarnKey folds the letter or word that a yarn goes by.
func YarnKey(s string) string {
	k := NameKey(s)
	for _, lead := range []string{"yarn ", "color ", "colour "} {
		k = strings.TrimPrefix(k, lead)
	}
	return k
}

// Meant is what words that mean a piece say.
type Meant struct {
	// Key is the piece's name, folded, and Span the part of the words that is the
	// name, without "both" and without the ending of a plural.
	Key string
	Span
	// All is set where every copy is meant: "Legs", "both Legs", "each Leg".
	All bool
	// Changed is set for a plural that changes the word itself: leaves of a leaf.
	Changed bool
}

// plurals are the ends of words for several, and those of the words for one:
// legs, boxes, leaves, knives, bodies.
var plurals = []struct{ many, one string }{{"", ""}, {"s", ""}, {"es", ""}, {"ves", "f"}, {"ves", "fe"}, {"ies", "y"}}

// nameLeads are the words before a name that say how many are meant.
var nameLeads = []string{"both", "all", "each", "every", "the"}

// MeantBy finds the piece that words mean; known says whether a folded name is one's.
func MeantBy(words string, known func(key string) bool) (Meant, bool) {
	all := false
	for from := 0; ; {
		rest := words[from:]
		k := NameKey(rest)
		for _, p := range plurals {
			stem, ok := strings.CutSuffix(k, p.many)
			if !ok || !known(stem+p.one) {
				continue
			}
			to, changed := len(words), p.one != ""
			if !changed {
				to -= len(p.many)
			}
			return Meant{stem + p.one, Span{int32(from), int32(to)}, all || p.many != "", changed}, true
		}
		lead := rest[:len(rest)-len(strings.TrimLeftFunc(rest, func(r rune) bool { return r != ' ' && r != '\t' && r != '\n' }))]
		name := strings.TrimLeft(rest[len(lead):], " \t\n")
		i := slices.IndexFunc(nameLeads, func(l string) bool { return strings.EqualFold(l, lead) })
		if i < 0 || name == "" {
			return Meant{}, false
		}
		all = all || nameLeads[i] != "the"
		from = len(words) - len(name)
	}
}

var betweenNames = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)\s*[,&+]\s*(?:and\s+)?|\s+and\s+`) })

// NamesIn cuts "Left Arm, Right Arm and Tail" into names.
func NamesIn(words string) []Span {
	var names []Span
	from := 0
	for _, cut := range append(betweenNames().FindAllStringIndex(words, -1), []int{len(words), len(words)}) {
		if s := (Span{int32(from), int32(cut[0])}); s.Written() {
			names = append(names, s)
		}
		from = cut[1]
	}
	return names
}
