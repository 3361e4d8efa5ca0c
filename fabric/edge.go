package fabric

import (
	"slices"
)

// ItemKind is what can be worked into.
type ItemKind uint8

// Items of an edge.
const (
	Stitches ItemKind = iota
	Space             // a chain space
	Chains            // chains of a foundation, each a place of its own
)

// Item is a run of like places on an edge: N stitches of one kind, N chains,
// or N chain spaces side by side.
type Item struct {
	Kind   ItemKind
	Stitch *Stitch // of Stitches; nil where unknown
	N      int64
	Chains int32 // of Space: its length in chains
	// Turning marks a chain that stands for the stitch.
	Turning bool
}

func (i Item) like(j Item) bool {
	return i.Kind == j.Kind && i.Stitch == j.Stitch && i.Chains == j.Chains && i.Turning == j.Turning
}

// Edge is what the next round can be worked into, in the order it is met.
// Edges are values: nothing changes one once made.
type Edge struct {
	Items []Item
	// Vague is set where only the number of stitches is known, as when it was
	// taken from a stated total; Items then is one run, of N stitches.
	Vague bool
	// Unknown is set where not even the number is known.
	Unknown bool
	// Before and Beyond are stitches left unworked at either end.
	Before, Beyond []Item
}

// Stitches is how many stitches and single chains the edge has; spaces are not counted.
func (e *Edge) Stitches() int64 { return countStitches(e.Items) }

func countStitches(items []Item) int64 {
	n := int64(0)
	for _, i := range items {
		if i.Kind != Space {
			n += i.N
		}
	}
	return n
}

// SpacesOf is how many chain spaces of a length the edge has; 0 means of any length.
func (e *Edge) SpacesOf(chains int32) int64 {
	n := int64(0)
	for _, i := range e.Items {
		if i.Kind == Space && (chains == 0 || i.Chains == chains) {
			n += i.N
		}
	}
	return n
}

// reversed is the edge met from the other end.
func (e *Edge) reversed() *Edge {
	if len(e.Items) < 2 && len(e.Before) == 0 && len(e.Beyond) == 0 {
		return e
	}
	r := *e
	r.Items = slices.Clone(e.Items)
	slices.Reverse(r.Items)
	r.Before, r.Beyond = slices.Clone(e.Beyond), slices.Clone(e.Before)
	slices.Reverse(r.Before)
	slices.Reverse(r.Beyond)
	return &r
}

// same says whether two edges offer the same places.
func (e *Edge) same(o *Edge) bool {
	return e == o || e != nil && o != nil && e.Vague == o.Vague && e.Unknown == o.Unknown &&
		slices.Equal(e.Items, o.Items) && slices.Equal(e.Before, o.Before) && slices.Equal(e.Beyond, o.Beyond)
}

// vague is an edge of which only the number of stitches is known.
func vague(n int64) *Edge {
	return &Edge{Items: []Item{{Kind: Stitches, N: n}}, Vague: true}
}

// appendItem adds places to the end of a run-length coded list.
func appendItem(items []Item, i Item) []Item {
	if i.N <= 0 {
		return items
	}
	if n := len(items); n > 0 && items[n-1].like(i) {
		items[n-1].N += i.N
		return items
	}
	return append(items, i)
}
