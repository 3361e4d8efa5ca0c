package terms

import (
	"iter"
	"sync"
)

// Phrase is one spelling and what it names in each system; nil where that
// system does not use it.
type Phrase struct {
	US, UK *Stitch
}

// In is the stitch that the phrase names in a system, or nil.
func (p Phrase) In(sys System) *Stitch {
	if sys == UK {
		return p.UK
	}
	return p.US
}

type index struct {
	stitches []*Stitch
	byID     map[string]*Stitch
	phrases  map[string]Phrase
}

var load = sync.OnceValue(build)

func build() *index {
	rows := table()
	x := &index{stitches: rows, byID: make(map[string]*Stitch, len(rows)), phrases: make(map[string]Phrase, 8*len(rows))}
	for _, s := range rows {
		x.byID[s.ID] = s
		for _, sys := range []System{US, UK} {
			for spelling := range s.In(sys).spellings() {
				k := Key(spelling)
				p := x.phrases[k]
				if sys == UK {
					p.UK = s
				} else {
					p.US = s
				}
				x.phrases[k] = p
			}
		}
	}
	return x
}

// spellings are all the ways to write a name, the abbreviation first.
func (n Name) spellings() iter.Seq[string] {
	return func(yield func(string) bool) {
		if !yield(n.Abbr) || !yield(n.Full) {
			return
		}
		for _, s := range n.Also {
			if !yield(s) {
				return
			}
		}
	}
}

// Stitches is the whole glossary, in the order of the table.
func Stitches() []*Stitch { return load().stitches }

// ByID finds a stitch by its canonical US abbreviation, or nil.
func ByID(id string) *Stitch { return load().byID[id] }

// Phrases maps every folded spelling (see Key) to what it names.
func Phrases() map[string]Phrase { return load().phrases }

// Find looks a spelling up in one system; nil where that system has no such stitch.
func Find(sys System, spelling string) *Stitch {
	return load().phrases[Key(spelling)].In(sys)
}

// Of is the form of a stitch in a piece whose main stitch has the given ID: a
// bare inc or dec follows it ("dec" of "hdc" is hdc2tog); any other stitch, or
// one whose main stitch has no such form, is itself.
func (s *Stitch) Of(main string) *Stitch {
	var form *Stitch
	switch {
	case s.Base != "":
		return s
	case s.Kind == Increase:
		form = ByID(main + " inc")
	case s.Kind == Decrease:
		form = ByID(main + "2tog")
	}
	if form == nil {
		return s
	}
	return form
}
