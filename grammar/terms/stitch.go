// Package terms is the glossary of the trade: every stitch with its US and UK
// names, what it takes from the round below and makes on the new one, how tall
// it is and how it is worked; hook sizes, yarn weights and levels of skill.
//
// It is data and look-ups. It must not know how a pattern is written (that is
// grammar) nor what a round works out to (that is fabric).
package terms

import "strings"

// System is one of the two sets of stitch names in use in English.
type System uint8

// The two systems. Modern UK names stand one step above the US ones: a US
// single crochet is a UK double crochet.
const (
	US System = iota
	UK
)

func (s System) String() string {
	if s == UK {
		return "UK"
	}
	return "US"
}

// Kind says how a stitch behaves towards the edge it is worked into.
type Kind uint8

// The kinds of stitch.
const (
	Chain      Kind = iota // ch: takes nothing; a space inside a round
	Slip                   // sl st
	Plain                  // sc, hdc, dc …: one into one
	Increase               // inc: two or more of one stitch into one
	Decrease               // dec, sc2tog: one over two or more
	Cluster                // bobble, puff, popcorn, cluster: several legs in one place, one top
	Group                  // shell, fan, V-stitch: several stitches in one place, see Body
	Picot                  // a loop of chains on top of a stitch
	Crossed                // two over two, worked in the other order
	Foundation             // fsc: chain and stitch in one, into nothing
	Ring                   // magic ring
)

// Standing says whether the turning chain of a stitch counts as a stitch.
type Standing uint8

// Standings, as most makers take them when a pattern does not say.
const (
	NotCounted Standing = iota
	Counted
	Asked // makers differ; a pattern has to say
)

// Loop is the part of a stitch's top that the hook goes under.
type Loop uint8

// Loops.
const (
	BothLoops Loop = iota
	BackLoop
	FrontLoop
)

// Post says whether a stitch is worked round the post of the one below, and from which side.
type Post uint8

// Posts.
const (
	NoPost Post = iota
	FrontPost
	BackPost
)

// Name is what one system calls a stitch. Abbr and Full are the canonical
// forms; Also are other spellings in use. All are matched without regard to
// case, and a hyphen matches a space.
type Name struct {
	Abbr string
	Full string
	Also []string
}

// Motion is one movement of the hook, and the loops on the hook after it.
type Motion struct {
	Do    string
	Loops int
}

// Stitch is one row of the glossary.
type Stitch struct {
	// ID is the canonical US abbreviation; unique.
	ID   string
	Kind Kind
	US   Name
	UK   Name
	// Takes and Makes count stitches of the round below used up, and stitches
	// made that the next round can be worked into.
	Takes, Makes int
	// Height is in chains: the length of the turning chain that suits it; 0
	// where it needs none or follows the piece's main stitch.
	Height int
	// Counts says whether that turning chain stands for a stitch.
	Counts Standing
	// Base is the ID of the plain stitch that this one is made of; empty where
	// it follows the piece's main stitch (inc, dec) or is itself plain.
	Base string
	// Legs is how many base stitches are worked: 2 for inc, 3 for sc3tog, 5 for a bobble.
	Legs int
	Loop Loop
	Post Post
	// Body spells a Group out in US abbreviations, as the notation writes it: "dc, ch 1, dc".
	Body string
	// Yarn is the yarn one stitch uses, as a multiple of a single crochet's.
	// See bases for where the figures come from.
	Yarn float64
	// Tall is the height of a stitch divided by its width, in fabric; 0 for
	// what has no height of its own (ch, picot, magic ring) or follows the
	// piece's main stitch.
	Tall float64
	work recipe
	// Source is a document, "common practice" or "from memory".
	Source string
}

// In is the stitch's name in a system.
func (s *Stitch) In(sys System) Name {
	if sys == UK {
		return s.UK
	}
	return s.US
}

// Abbr is the canonical abbreviation in a system.
func (s *Stitch) Abbr(sys System) string { return s.In(sys).Abbr }

// Key folds a spelling for look-up: lower case, hyphens and runs of blanks to
// one space.
func Key(s string) string {
	if folded(s) {
		return s
	}
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return r == ' ' || r == '-' || r == '\u00a0' || r == '\t' || r == '\u2011'
	}), " ")
}

// folded says whether a spelling is folded already, as most of the glossary is.
func folded(s string) bool {
	blank := true
	for i := range len(s) {
		c := s[i]
		if c == ' ' && !blank {
			blank = true
			continue
		}
		if c <= ' ' || c == '-' || c >= 'A' && c <= 'Z' || c >= 0x80 {
			return false
		}
		blank = false
	}
	return !blank || s == ""
}
