package lsp

import (
	"strconv"
	"strings"

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

// references renumbers what points to a round of the piece: from the piece
// itself without its name, from elsewhere with it.
func (x *renumbering) references() {
	for at, l := range x.File.Lines {
		inside := at >= x.piece.At && at < x.piece.At+len(x.piece.Lines)
		switch n := l.Node.(type) {
		case *grammar.Round:
			x.steps(at, n.Row, inside, n.Steps)
			x.steps(at, n.Row, inside, n.After)
		case *grammar.Sew:
			x.where(at, n.To, n.Where)
		case *grammar.PlaceThing:
			x.where(at, n.On, n.Where)
		case *grammar.Embroider:
			x.where(at, n.On, n.Where)
		}
	}
}

func (x *renumbering) steps(at int, row, inside bool, steps []grammar.Step) {
	for i := range steps {
		s := &steps[i]
		own := inside
		for k := range s.Places {
			p := &s.Places[k]
			if p.Of().Written() {
				own = x.means(p.Of())
			}
			if own && p.Rnd().Written() {
				x.renumber(at, p.Rnd(), x.now(at, p.Rnd(), rowWord(p.Span.In(x.File.Lines[at].Text), row)))
			}
		}
		if r := s.Rounds(); r != nil && own && !r.Last {
			x.renumber(at, r.From, x.now(at, r.From, r.Row))
			if r.To.Span != r.From.Span {
				x.renumber(at, r.To, x.now(at, r.To, r.Row))
			}
		}
		if s.Group != nil {
			x.steps(at, row, inside, s.Group.Steps)
		}
	}
}

// rowWord says whether a place speaks of rows; one that says neither is of the
// kind of its round.
func rowWord(text string, row bool) bool {
	text = strings.ToLower(text)
	switch {
	case strings.Contains(text, "row"):
		return true
	case strings.Contains(text, "rnd"), strings.Contains(text, "round"):
		return false
	}
	return row
}

func (x *renumbering) where(at int, on grammar.Name, where []grammar.Where) {
	if !x.means(on) {
		return
	}
	for _, w := range where {
		x.renumber(at, w.From, x.now(at, w.From, w.Row))
		if w.To.Span != w.From.Span {
			x.renumber(at, w.To, x.now(at, w.To, w.Row))
		}
	}
}

func (x *renumbering) means(name grammar.Name) bool {
	return name.Written() && x.Pattern().Named(name.Text) == x.piece
}
