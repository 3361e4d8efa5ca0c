// Package lint says what is wrong with a pattern: one file a rule, each rule
// one declaration, with the registry, suppressions, repairs and reports.
//
// It knows the tree (grammar) and what it works out to (fabric). It must not
// know files, streams or editors: text comes in, findings and bytes go out.
package lint

import (
	"slices"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// Rule is all that is known of one rule. Its examples are run as its tests:
// Bad must be found by this rule, Good must be clean under every rule.
type Rule struct {
	// Name says what is wrong, in words of the trade: "stitches-left".
	Name     string
	Severity Severity
	// Summary is one line; Why says in a few sentences why a maker cares.
	Summary string
	Why     string
	// Repair says what the rule's repairs do and whether `--fix` applies them; empty where it has none.
	Repair string
	// Bad and Good are statements in the notation. A header that satisfies the
	// other rules is put before them where they do not bring a `Pattern:` of their own.
	Bad, Good string
	// Start begins the rule on one file, with state of its own, and returns what it wants to be shown.
	Start func(*Pass) Visits
}

// Visits are the places of the shared walk that a rule wants to see; nil ones are skipped.
//
// What a rule finds in a piece is kept for as long as the piece stays as it is.
// So within a piece Line, Piece and Round may only look at that piece, at what
// holds for all of them (terms, own stitches, turning chain, gauge) and at
// facts().cur, start anew with each Piece, and speak of places in the piece
// only. Whatever hangs on other parts of the file waits for End, which may look
// at no more of the rounds than Reads says.
type Visits struct {
	// Line is called for every statement of the file, in order.
	Line func(*grammar.Line)
	// Piece is called for every piece, before its rounds.
	Piece func(*fabric.Piece)
	// Round is called for every round and row of a piece, in order.
	Round func(*fabric.Piece, *fabric.Round)
	// End is called after all else.
	End   func()
	Reads reads
}

// reads says what the End of a rule takes from the rounds of the parts, besides
// what facts hold of the words in them: on a key that changes none of that, what
// was found before still holds.
type reads uint8

const (
	// readsRounds is anything: what the parts measure, what yarn they take.
	readsRounds reads = iota
	// readsShapes are partShape and, of each round, its label and how many stitches it has.
	readsShapes
	// readsWords is nothing.
	readsWords
)

var registry []*Rule

// declare adds a rule to the registry; each rule's file calls it once, at
// package level.
func declare(r Rule) *Rule {
	registry = append(registry, &r)
	return &r
}

// Rules is the registry, sorted by name.
func Rules() []*Rule {
	return slices.SortedFunc(slices.Values(registry), func(a, b *Rule) int { return strings.Compare(a.Name, b.Name) })
}

// RuleNamed finds a rule, or nil.
func RuleNamed(name string) *Rule {
	for _, r := range registry {
		if r.Name == name {
			return r
		}
	}
	return nil
}
