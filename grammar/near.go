package grammar

import (
	"slices"
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

// nearestWord is the word of the notation or the glossary most like another.
func nearestWord(word string) (string, bool) {
	if near, ok := terms.Nearest(terms.US, word, notationWords()); ok {
		return near, true
	}
	return terms.Nearest(terms.UK, word, notationWords())
}
