package grammar

import (
	"slices"
	"strings"
	"sync"

	"workeven/grammar/terms"
)

// notationWords are the words of the notation, for suggestions.
var notationWords = sync.OnceValue(func() []string {
	var out []string
	for _, spellings := range keywords {
		for _, s := range spellings {
			out = append(out, terms.Key(s))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
})

// NearWord is the word of the notation most like another, as the formatter
// writes it.
func NearWord(word string) (string, bool) {
	near, ok := terms.Among(strings.ToLower(word), notationWords())
	if !ok {
		return "", false
	}
	for k, spellings := range keywords {
		if slices.ContainsFunc(spellings, func(s string) bool { return terms.Key(s) == near }) {
			near = Key(k).String()
			if Key(k) == KeyBLO || Key(k) == KeyFLO {
				near = strings.ToUpper(near)
			}
		}
	}
	return near, true
}

// nearestWord is the word of the notation or the glossary most like another.
func nearestWord(word string) (string, bool) {
	if near, ok := terms.Nearest(terms.US, word, notationWords()); ok {
		return near, true
	}
	return terms.Nearest(terms.UK, word, notationWords())
}
