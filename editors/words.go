package editors

import (
	"maps"
	"slices"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// What stands between two words of a phrase: a blank, or a hyphen or one of its
// longer sisters; behind a digit, nothing need stand.
const (
	between    = `(?:[ \t\x{a0}]+|[-‐‑‒–—−])`
	afterDigit = between + `?`
)

// phrases is a pattern that matches the longest of the given phrases, which are
// in lower case; it is case-blind only as far as the engine that runs it is.
func phrases(list []string) string {
	root := &node{}
	for _, p := range list {
		at := root
		for _, r := range strings.ReplaceAll(p, "’", "'") {
			at = at.child(r)
		}
		at.ends = true
	}
	return root.pattern(0)
}

// node is a place in a tree of phrases: what may come next, and whether one ends here.
type node struct {
	next map[rune]*node
	ends bool
}

func (n *node) child(r rune) *node {
	if n.next == nil {
		n.next = map[rune]*node{}
	}
	if n.next[r] == nil {
		n.next[r] = &node{}
	}
	return n.next[r]
}

// pattern is what may follow a rune. Since it would rather go on than end, the
// longest phrase is found. Runes that the same may follow share a branch.
func (n *node) pattern(before rune) string {
	var tails []string
	heads := map[string]string{}
	for _, r := range slices.Sorted(maps.Keys(n.next)) {
		tail := n.next[r].pattern(r)
		if r == ' ' || r == '\'' { // these are no single characters in the pattern
			tails = append(tails, spelled(r, before)+tail)
			continue
		}
		if heads[tail] == "" {
			tails = append(tails, tail)
		}
		heads[tail] += spelled(r, before)
	}
	var branches []string
	for _, tail := range tails {
		switch head := heads[tail]; len(head) {
		case 0, 1:
			branches = append(branches, head+tail)
		default:
			branches = append(branches, "["+head+"]"+tail)
		}
	}
	if len(branches) == 0 {
		return ""
	}
	joined := strings.Join(branches, "|")
	switch {
	case n.ends:
		return "(?:" + joined + ")?"
	case len(branches) > 1:
		return "(?:" + joined + ")"
	}
	return joined
}

func spelled(r, before rune) string {
	switch {
	case r == ' ' && before >= '0' && before <= '9':
		return afterDigit
	case r == ' ':
		return between
	case r == '\'':
		return "['’]"
	}
	return string(r)
}

// eitherCase makes a pattern of plain words match whatever their case, for rules
// in which the case of something else matters.
func eitherCase(words []string) string {
	var out []string
	for _, w := range words {
		var b strings.Builder
		for _, r := range w {
			switch {
			case r >= 'a' && r <= 'z':
				b.WriteString("[" + string(r-'a'+'A') + string(r) + "]")
			default:
				b.WriteString(spelled(r, 0))
			}
		}
		out = append(out, b.String())
	}
	return "(?:" + strings.Join(out, "|") + ")"
}

// spellings are all spellings of some words of the notation.
func spellings(keys ...grammar.Key) []string {
	var out []string
	for _, k := range keys {
		for _, s := range k.Spellings() {
			if s == "&" || s == "+" {
				continue // signs, not words
			}
			out = append(out, terms.Key(s))
			if strings.Contains(s, " ") { // the lexer takes plurals of a phrase's last word
				out = append(out, terms.Key(s)+"s", terms.Key(s)+"es")
			}
		}
	}
	return out
}

// repeatKeys say how often something is worked, actionKeys what is done besides
// stitches. All others are words of places and of counting.
var (
	repeatKeys = []grammar.Key{grammar.KeyRep, grammar.KeyMore, grammar.KeyX, grammar.KeyAround, grammar.KeyAcross, grammar.KeyUntil,
		grammar.KeyEvenly, grammar.KeyEndingAt, grammar.KeyThroughout}
	actionKeys = []grammar.Key{grammar.KeyFastenOff, grammar.KeyJoin, grammar.KeyTurn, grammar.KeyChangeTo, grammar.KeyPlaceMarker, grammar.KeyMoveMarker}
)

func otherKeys() []grammar.Key {
	return slices.DeleteFunc(grammar.Keys(), func(k grammar.Key) bool { return slices.Contains(repeatKeys, k) || slices.Contains(actionKeys, k) })
}

// wordClass is a class of words, with all their spellings.
type wordClass struct {
	class class
	words []string
}

func classed() []wordClass {
	return []wordClass{{repeat, spellings(repeatKeys...)}, {action, spellings(actionKeys...)}, {word, spellings(otherKeys()...)}}
}

// glossary is every spelling of a stitch, in either system of terms.
func glossary() []string {
	return slices.Sorted(maps.Keys(terms.Phrases()))
}

// longerWords are the words of the notation that go on where a stitch could end,
// and so must be tried before the stitches.
func longerWords(words []string) []string {
	known := terms.Phrases()
	var out []string
	for _, w := range words {
		for i, r := range w {
			if _, ok := known[w[:i]]; ok && r == ' ' {
				out = append(out, w)
				break
			}
		}
	}
	return out
}
