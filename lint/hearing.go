package lint

import (
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// hearing is what has been made of names and free words. A pattern of many
// parts has thousands of them, and every check asks for all of them again; what
// they say hangs on nothing but their letters and the names of the parts. A
// hearing belongs to one check at a time, which passes it on to the next.
type hearing struct {
	// names are those of the parts, in order; byName finds the first part of a
	// folded name and is made when it is needed.
	names  []string
	byName map[string]int32
	// cords says of each part whether its name is that of a cord; see dangers.
	cords []bool
	heard map[string]*heard
}

// mostHeard bounds how many texts are remembered while a pattern is edited.
const mostHeard = 1 << 16

// heard is what one text says, as far as it was asked for.
type heard struct {
	asked question
	all   bool
	// means is the part that the text means as a name; -1 for none.
	means int32
	words []string
	parts []int32
	thing []*thing
	// hazards are what it says of what hurts; see dangers.
	hazards hazardsSaid
}

type question uint8

const (
	askedWords question = 1 << iota
	askedMeans
	askedParts
	askedThings
	askedHazards
)

// hearingOf takes an earlier hearing on where the parts have the same names.
func hearingOf(old *hearing, pattern *fabric.Pattern) *hearing {
	if old != nil && len(old.heard) < mostHeard && old.fits(pattern) {
		return old
	}
	h := &hearing{names: make([]string, len(pattern.Pieces)), heard: map[string]*heard{}}
	for i, piece := range pattern.Pieces {
		h.names[i] = nameOf(piece)
	}
	return h
}

func (h *hearing) fits(pattern *fabric.Pattern) bool {
	if len(h.names) != len(pattern.Pieces) {
		return false
	}
	for i, piece := range pattern.Pieces {
		if h.names[i] != nameOf(piece) {
			return false
		}
	}
	return true
}

// nameOf is the name that a piece's own line gives it; empty without one.
func nameOf(piece *fabric.Piece) string {
	if piece.Node == nil {
		return ""
	}
	return piece.Name
}

// of is what is known of a text. New says whether a question is asked for the
// first time; the one who asks answers it.
func (h *hearing) of(text string, q question) (x *heard, new bool) {
	x = h.heard[text]
	if x == nil {
		x = &heard{}
		h.heard[strings.Clone(text)] = x // not a part of the whole pattern's text
	}
	new = x.asked&q == 0
	x.asked |= q
	return x, new
}

// words are those of a text, in lower case.
func (h *hearing) words(text string) []string {
	x, new := h.of(text, askedWords)
	if new {
		x.words = wordsOf(strings.Clone(text))
	}
	return x.words
}

// things are those that a text names.
func (h *hearing) things(text string) []*thing {
	x, new := h.of(text, askedThings)
	if new {
		x.thing = thingsIn(text)
	}
	return x.thing
}

// called is the first part of a folded name; -1 for none.
func (h *hearing) called(key string) int32 {
	if h.byName == nil {
		h.byName = make(map[string]int32, len(h.names))
		for i, name := range h.names {
			if k := grammar.NameKey(name); k != "" {
				if _, several := h.byName[k]; !several {
					h.byName[k] = int32(i)
				}
			}
		}
	}
	if i, ok := h.byName[key]; ok {
		return i
	}
	return -1
}

// means finds the part that a name means, -1 for none; all is set where the
// name speaks of every one of them: "Legs", "both Legs", "each Leg".
func (h *hearing) means(name string) (part int32, all bool) {
	x, new := h.of(name, askedMeans)
	if new {
		x.means, x.all = h.resolve(name)
	}
	return x.means, x.all
}

func (h *hearing) resolve(name string) (part int32, all bool) {
	m, ok := grammar.MeantBy(name, func(key string) bool { return h.called(key) >= 0 })
	if !ok {
		return -1, false
	}
	return h.called(m.Key), m.All
}

// spokenOf are the parts that free words speak of.
func (h *hearing) spokenOf(text string) []int32 {
	x, new := h.of(text, askedParts)
	if !new {
		return x.parts
	}
	words := h.words(text)
	for i := range words {
		for n := min(4, len(words)-i); n > 0; n-- {
			if p, _ := h.resolve(strings.Join(words[i:i+n], " ")); p >= 0 {
				x.parts = append(x.parts, p)
				break
			}
		}
	}
	return x.parts
}
