package terms

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
	"sync"
)

// word is a spelling as the glossary prints it and as it is compared.
type word struct {
	shown, key string
	letters    []rune
	// set has a bit for each letter in it; different letters may share one.
	set uint64
	// rank puts abbreviations first, then the caller's words, then full names,
	// then the rest.
	rank int
}

const (
	rankAbbr = iota
	rankExtra
	rankFull
	rankAlso
)

func newWord(spelling string, rank int) word {
	key := Key(spelling)
	letters := []rune(key)
	return word{spelling, key, letters, setOf(letters), rank}
}

func setOf(letters []rune) uint64 {
	var set uint64
	for _, r := range letters {
		set |= 1 << (uint32(r) % 64)
	}
	return set
}

var usWords = sync.OnceValue(func() []word { return wordsOf(US) })
var ukWords = sync.OnceValue(func() []word { return wordsOf(UK) })

func words(sys System) []word {
	if sys == UK {
		return ukWords()
	}
	return usWords()
}

func wordsOf(sys System) []word {
	var list []word
	for _, s := range Stitches() {
		n := s.In(sys)
		list = append(list, newWord(n.Abbr, rankAbbr), newWord(n.Full, rankFull))
		for _, also := range n.Also {
			list = append(list, newWord(also, rankAlso))
		}
	}
	slices.SortFunc(list, func(a, b word) int {
		return cmp.Or(strings.Compare(a.key, b.key), a.rank-b.rank, strings.Compare(a.shown, b.shown))
	})
	return slices.CompactFunc(list, func(a, b word) bool { return a.key == b.key })
}

// Words is every spelling of a system's stitches, sorted, each once.
func Words(sys System) []string {
	list := make([]string, 0, len(words(sys)))
	for _, w := range words(sys) {
		list = append(list, w.shown)
	}
	return list
}

// Nearest finds the spelling that a mistyped word most likely stands for, among
// the stitches of a system and extra words. It allows one slip (a letter more,
// less or other, or two changed about) in a word of up to five letters, two in
// a longer one, and only a change-about in a word of two; nothing for a single
// letter. Of equally near ones it takes one with the same first letter, then an
// abbreviation, then an extra word, then the first by the alphabet. A word that
// is spelled right is its own nearest.
func Nearest(sys System, spelling string, extra []string) (string, bool) {
	s := newSearch(spelling)
	for _, e := range extra {
		s.try(newWord(e, rankExtra))
	}
	for _, w := range words(sys) {
		s.try(w)
	}
	return s.best.shown, s.found
}

// Among is Nearest among given words alone.
func Among(spelling string, list []string) (string, bool) {
	s := newSearch(spelling)
	for _, e := range list {
		s.try(newWord(e, rankExtra))
	}
	return s.best.shown, s.found
}

// search looks for the word nearest to one.
type search struct {
	key   []rune
	set   uint64
	limit int
	best  candidate
	found bool
}

func newSearch(spelling string) *search {
	s := &search{key: []rune(Key(spelling)), limit: 2}
	switch {
	case len(s.key) < 2:
		s.limit = -1
	case len(s.key) <= 5:
		s.limit = 1
	}
	s.set = setOf(s.key)
	return s
}

func (s *search) try(w word) {
	// Each letter that the other has not is a slip: most words go here.
	if bits.OnesCount64(s.set&^w.set) > s.limit || bits.OnesCount64(w.set&^s.set) > s.limit {
		return
	}
	n := slips(s.key, w.letters, s.limit)
	if n > s.limit || len(w.letters) == 0 {
		return
	}
	if len(s.key) == 2 && n > 0 && (len(w.letters) != 2 || s.key[0] != w.letters[1] || s.key[1] != w.letters[0]) {
		return
	}
	c := candidate{n, w.letters[0] != s.key[0], w}
	if !s.found || c.before(s.best) {
		s.best, s.found = c, true
	}
}

type candidate struct {
	slips int
	// strange ones begin with another letter.
	strange bool
	word
}

func (c candidate) before(d candidate) bool {
	if c.slips != d.slips {
		return c.slips < d.slips
	}
	if c.strange != d.strange {
		return d.strange
	}
	return cmp.Or(c.rank-d.rank, strings.Compare(c.key, d.key), strings.Compare(c.shown, d.shown)) < 0
}

// slips is the Damerau-Levenshtein distance (optimal string alignment: no part
// is changed twice), or more than limit where it is more.
func slips(a, b []rune, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	two, one, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range one {
		one[j] = j
	}
	for i := range a {
		row[0] = i + 1
		least := row[0]
		for j := range b {
			n := one[j]
			if a[i] != b[j] {
				n++
			}
			n = min(n, one[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				n = min(n, two[j-1]+1)
			}
			row[j+1] = n
			least = min(least, n)
		}
		if least > limit {
			return limit + 1
		}
		two, one, row = one, row, two
	}
	return one[len(b)]
}
