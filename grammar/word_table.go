package grammar

import (
	"slices"
	"strings"
	"sync"

	"workeven/grammar/terms"
)

// entry is one way to spell a keyword or a term, from its second word on.
type entry struct {
	rest  []string
	kind  Kind
	value int32
}

// vocabulary is every spelling that the lexer knows.
type vocabulary struct {
	phrases []Phrase
	starts  wordTable
}

var vocab = sync.OnceValue(func() *vocabulary {
	v := &vocabulary{}
	starts := map[string][]entry{}
	add := func(spelling string, kind Kind, value int32) {
		words := strings.Fields(spelling)
		list := starts[words[0]]
		for _, e := range list {
			if slices.Equal(e.rest, words[1:]) {
				return
			}
		}
		starts[words[0]] = append(list, entry{words[1:], kind, value})
	}
	for k, spellings := range keywords {
		for _, s := range spellings {
			add(terms.Key(s), Keyword, int32(k))
		}
	}
	known := terms.Phrases()
	for s := range known {
		v.phrases = append(v.phrases, Phrase{s, known[s]})
	}
	slices.SortFunc(v.phrases, func(a, b Phrase) int { return strings.Compare(a.Spelling, b.Spelling) })
	for i, p := range v.phrases {
		add(p.Spelling, Term, int32(i))
	}
	for w, n := range numberWords {
		add(w, Number, n)
	}
	for w, n := range ordinalWords {
		add(w, Ordinal, n)
	}
	for w, n := range timesWords {
		add(w, TimesWord, n)
	}
	for _, list := range starts {
		slices.SortStableFunc(list, func(a, b entry) int { return len(b.rest) - len(a.rest) })
	}
	v.starts = newWordTable(starts)
	return v
})

// PhraseAt is the glossary spelling that a Term token's Value stands for.
func PhraseAt(value int32) Phrase { return vocab().phrases[value] }

// wordTable finds the entries of a first word, longest first. Every word of
// every pattern is looked up in it, most of them two to five letters long, which
// is why it is no map: a map's hash is made for longer ones.
type wordTable []tableSlot

type tableSlot struct {
	word    string
	entries []entry
}

// newWordTable makes a table of a power of two, at most a quarter full.
func newWordTable(words map[string][]entry) wordTable {
	size := 1
	for size < 4*len(words) {
		size *= 2
	}
	t := make(wordTable, size)
	for w, entries := range words {
		i := t.slot([]byte(w))
		t[i] = tableSlot{w, entries}
	}
	return t
}

// slot is where a word stands, or would.
func (t wordTable) slot(word []byte) int {
	h := uint32(2166136261) // FNV-1a
	for _, c := range word {
		h = (h ^ uint32(c)) * 16777619
	}
	mask := len(t) - 1
	i := int(h^h>>15) & mask
	for t[i].word != "" && t[i].word != string(word) {
		i = (i + 1) & mask
	}
	return i
}

func (t wordTable) entries(word []byte) []entry {
	if len(word) == 0 {
		return nil
	}
	return t[t.slot(word)].entries
}
