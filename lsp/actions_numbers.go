package lsp

import (
	"strconv"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

// renumbering numbers the rounds of a piece from the first on, and moves what
// points to one of them along.
type renumbering struct {
	*offered
	piece *fabric.Piece
	// moved are the labels in order: which numbers they had, and which they get.
	moved []movedLabel
	edits []lint.Edit
}

type movedLabel struct {
	row      bool
	from, to int32 // as written
	now      int32 // what from becomes
	at       int   // its statement
}

// labels numbers the labels. Rows behind rounds may begin anew, and a set-up
// round may be number 0.
func (x *renumbering) labels() {
	due := int32(1)
	for i, r := range x.piece.Rounds {
		n := r.Node
		if !n.From.Written() || n.To.N < n.From.N {
			continue
		}
		if n.From.N == 0 && i == 0 || n.From.N == 1 && i > 0 && x.piece.Rounds[i-1].Node.Row != n.Row {
			due = n.From.N
		}
		at := x.piece.At + r.Off
		x.moved = append(x.moved, movedLabel{n.Row, n.From.N, n.To.N, due, at})
		x.renumber(at, n.From, due)
		due += n.To.N - n.From.N
		if n.To.Written() {
			x.renumber(at, n.To, due)
		}
		due++
	}
}

func (x *renumbering) renumber(at int, c grammar.Count, now int32) {
	if c.Written() && c.N != now {
		x.edits = append(x.edits, x.edit(at, c.Span, strconv.Itoa(int(now))))
	}
}

// now is what a number that a statement points to becomes: that of the last
// label before the statement which carries it, as a maker reads it.
func (x *renumbering) now(at int, c grammar.Count, row bool) int32 {
	now, found := c.N, false
	for _, m := range x.moved {
		if m.row == row && m.from <= c.N && c.N <= m.to && (m.at < at || !found) {
			now, found = m.now+c.N-m.from, true
		}
	}
	return now
}

// references renumbers what points to a round of the piece.
func (x *renumbering) references() {
	for at := range x.File.Lines {
		for _, m := range roundsSpoken(x.Pattern(), at) {
			if m.of == x.piece {
				x.renumber(at, m.number, x.now(at, m.number, m.row))
			}
		}
	}
}
