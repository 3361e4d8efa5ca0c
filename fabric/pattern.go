// Package fabric says what a pattern works out to: edges, stitches, totals,
// what was meant where two readings differ, repairs that hold, size and yarn.
//
// It takes trees from grammar and gives values. It must not know rules,
// severities, editors, files or streams.
package fabric

import (
	"sync/atomic"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Pattern is a whole worked pattern.
type Pattern struct {
	File   *grammar.File
	Header Header
	Pieces []*Piece
	// Own are the pattern's own stitches, in order of definition.
	Own []*OwnStitch
	// Making are the statements of the making up.
	Making []Statement
	book   *book
	// byName finds pieces while those are worked that name others.
	byName map[string]*Piece
}

// Statement is a line of the file with its index there.
type Statement struct {
	At   int
	Line *grammar.Line
}

// Header is what stands before the first piece, typed.
type Header struct {
	// System is the terms in force; TermsSaid says whether a Terms line set them.
	System    terms.System
	TermsSaid bool
	Gauges    []*grammar.Gauge
	Hooks     []*grammar.Hook
	Sizes     []*grammar.Size
	Yarns     []*grammar.Yarn
	Notions   []*grammar.Notion
	Chain     *grammar.TurningChain
	Skill     *grammar.Skill
	// Lines are the header's statements in order, for those who need places.
	Lines []Statement
}

// OwnStitch is a stitch that the pattern defines.
type OwnStitch struct {
	Statement
	Node   *grammar.OwnStitch
	Stitch *Stitch
}

// Stitch is a stitch as a pattern uses it: of the glossary or its own.
type Stitch struct {
	// Name is its abbreviation in the file's terms.
	Name string
	// Of is the glossary's row; nil for an own stitch.
	Of *terms.Stitch
	// Takes and Makes count stitches, as in the glossary.
	Takes, Makes int64
	// Leaves is what it leaves on the new edge, for stitches that leave more
	// than one kind: a shell, a V-stitch. Nil means Makes of Plain.
	Leaves []Item
	// Plain is the stitch that stands on the edge afterwards: sc for sc2tog.
	// Nil means the stitch itself.
	Plain *Stitch
	// Own is set for the pattern's own stitches.
	Own bool
	// within are the picots, shells and the like that are worked in it, which
	// totals may count.
	within []StitchCount
	// def is how an own stitch is defined.
	def *grammar.OwnStitch
}

// Mode says how a piece is worked, from its Worked line or its labels.
type Mode = grammar.Mode

// Piece is one worked part.
type Piece struct {
	Name string
	// Node is its Piece statement; nil for rounds that stand before any.
	Node *grammar.Piece
	Make int64
	// At is the index of its first line in the file; Lines are all its
	// statements, the Piece statement first.
	At     int
	Lines  []*grammar.Line
	Mode   Mode
	Main   *Stitch
	Rounds []*Round
	// Broken is set where a round could not be read at all.
	Broken bool

	// onto is set where it is worked into the stitches of another.
	onto bool
	// memo holds what is reckoned from the piece when first asked for; it is
	// shared by the piece in all the places of the file that it moves to.
	memo *memo
	// shelf is where its rounds are put while it is worked; nil before and after.
	shelf *shelf
}

// Onto says whether it is worked into the stitches of another piece, or onto one.
func (p *Piece) Onto() bool { return p.onto }

// memo is safe to use from several goroutines.
type memo struct{ wound atomic.Pointer[wound] }

// Last is the last round worked, or nil.
func (p *Piece) Last() *Round {
	if len(p.Rounds) == 0 {
		return nil
	}
	return p.Rounds[len(p.Rounds)-1]
}

// RoundNumbered finds the round whose label covers a number, the last such if several.
func (p *Piece) RoundNumbered(n int64) *Round {
	if i := lastNumbered(p.Rounds, n); i >= 0 {
		return p.Rounds[i]
	}
	return nil
}

// Round is one statement of rounds or rows, worked out.
type Round struct {
	Node *grammar.Round
	Line *grammar.Line
	// Off is the index of its line among the piece's Lines.
	Off int
	// In and Out are the edges below and above. Out is what the words make.
	In, Out *Edge
	// Meant is the edge that the next round is worked into: Out, or where a
	// slip was found here, what the rest of the piece shows was meant.
	Meant *Edge
	// Takes and Makes are by the words: stitches of the first round's edge used
	// up, stitches on the last round's edge made. For a range, of its first
	// and last round.
	Takes, Makes int64
	// Known is false where the words could not be worked out.
	Known bool
	// Start is set where the round begins a piece, into nothing.
	Start bool
	// Stitches and Spaces count what is made, in order of first appearance.
	Stitches []StitchCount
	Spaces   []SpaceCount
	// Groups counts shells and the like as worked.
	Groups []StitchCount
	// Problems are the slips blamed on this round; at most one of counting.
	Problems []Problem
	// Stands says what a starting chain was taken to stand for.
	Stands StandingChain
	// RoundsWorked is how many rounds the statement covers.
	RoundsWorked int64

	// follows is set where its words are a slip that was said in the round that it
	// repeats.
	follows bool
	// rising is set where it and all rounds below are numbered in order.
	rising bool
	// effort is how many steps were walked to work it.
	effort int
	// entry is the state before the round, to work it again from.
	entry *state
}

// StitchCount is so many of one stitch.
type StitchCount struct {
	Stitch *Stitch
	N      int64
}

// SpaceCount is so many chain spaces of one length.
type SpaceCount struct {
	Chains int32
	N      int64
}

// StandingChain is what was made of the chain that starts a round.
type StandingChain struct {
	// Present is set where the round starts with a chain or skipped chains.
	Present bool
	// Skipped is set for skipped foundation chains.
	Skipped bool
	Chains  int64
	Stitch  *Stitch
	Counted bool
	// Said is set where the pattern says it, here or in its Turning chain line.
	Said bool
	// Space is the chain space it makes besides; 0 without.
	Space int64
	Span  grammar.Span
	// throughout is set where it was said to hold from there on.
	throughout bool
}

// ProblemKind is what is wrong, by the name of the rule that reports it.
type ProblemKind string

// Problems that working a piece brings to light.
const (
	TotalDiffers     ProblemKind = "total-differs"
	TotalPartDiffers ProblemKind = "total-part-differs"
	TooManyWorked    ProblemKind = "too-many-worked"
	StitchesLeft     ProblemKind = "stitches-left"
	RepeatDoesNotFit ProblemKind = "repeat-does-not-fit"
	NoSuchPlace      ProblemKind = "no-such-place"
	TwoReadings      ProblemKind = "two-readings"
	UnknownTerm      ProblemKind = "unknown-term"
)

// Problem is one slip, with the place in its round's line.
type Problem struct {
	Kind    ProblemKind
	Span    grammar.Span
	Message string
	// Repairs that hold, likeliest first. They are found on demand: see Repairs.
	Plain []Repair
	// Words and Total say which is the likelier slip where both could be, by what
	// follows; both false where nothing tells.
	Words, Total bool
	// Of is what else a problem of counting speaks of, and Steps the number of the
	// round whose steps are worked here once more; 0 where they are its own.
	Of    Spoken
	Steps int64
	// open is set where the first reading leaves stitches over.
	open bool
}

// Counting says whether the problem is one of counting, of which a round has one at most.
func (p Problem) Counting() bool { return p.Kind != TwoReadings && p.Kind != UnknownTerm }

// Repair is one small edit to a line that makes the piece come out even.
type Repair struct {
	// Span is replaced by New, in the text of line Off of the piece.
	Off   int
	Span  grammar.Span
	New   string
	Title string
	// Sure is set where the total and the rounds around leave no other choice.
	Sure bool
}
