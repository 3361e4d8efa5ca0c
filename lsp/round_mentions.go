package lsp

import (
	"slices"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// roundMention is a number that points to a round: the 5 of "rep Rnd 5", of
// "free loops of Rnd 5", of "between Rnds 5 and 6".
type roundMention struct {
	number grammar.Count
	row    bool
	// of is the piece that the round is one of; nil where none is known.
	of *fabric.Piece
	// around are the words that the number stands in.
	around grammar.Span
}

// roundsSpoken are the rounds that a statement points to, in no certain order.
func roundsSpoken(p *fabric.Pattern, at int) []roundMention {
	x := roundReader{pattern: p, named: p.Named}
	return x.read(at)
}

func (x *roundReader) read(at int) []roundMention {
	p := x.pattern
	x.text, x.found = p.File.Lines[at].Text, nil
	switch n := p.File.Lines[at].Node.(type) {
	case *grammar.Round:
		here := p.PieceAt(at)
		x.steps(n.Row, here, n.Steps)
		x.steps(n.Row, here, n.After)
	case *grammar.Sew:
		x.where(x.piece(n.To), n.Where)
	case *grammar.PlaceThing:
		x.where(x.piece(n.On), n.Where)
	case *grammar.Embroider:
		x.where(x.piece(n.On), n.Where)
	case *grammar.Action:
		x.where(p.PieceAt(at), n.Where)
	}
	return x.found
}

// roundReader gathers the mentions of one statement.
type roundReader struct {
	pattern *fabric.Pattern
	// named finds a piece by its name.
	named func(string) *fabric.Piece
	text  string
	found []roundMention
}

func (x *roundReader) piece(name grammar.Name) *fabric.Piece {
	if !name.Written() {
		return nil
	}
	return x.named(name.Text)
}

func (x *roundReader) add(c grammar.Count, row bool, of *fabric.Piece, around grammar.Span) {
	if c.Written() {
		x.found = append(x.found, roundMention{c, row, of, around})
	}
}

func (x *roundReader) steps(row bool, here *fabric.Piece, steps []grammar.Step) {
	for i := range steps {
		s := &steps[i]
		of := here
		for k := range s.Places {
			p := &s.Places[k]
			if p.Of().Written() {
				of = x.piece(p.Of())
			}
			x.add(p.Rnd(), rowWord(p.Span.In(x.text), row), of, p.Span)
		}
		if r := s.Rounds(); r != nil && !r.Last {
			x.add(r.From, r.Row, of, s.Span)
			if r.To.Span != r.From.Span {
				x.add(r.To, r.Row, of, s.Span)
			}
		}
		if s.Group != nil {
			x.steps(row, here, s.Group.Steps)
		}
	}
}

func (x *roundReader) where(of *fabric.Piece, where []grammar.Where) {
	for i := range where {
		w := &where[i]
		x.add(w.From, w.Row, of, w.Span)
		if w.To.Span != w.From.Span {
			x.add(w.To, w.Row, of, w.Span)
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

// roundMeantAt is the statement of the round that a byte of another points to,
// by its number or the words around it; false where it points to none.
func roundMeantAt(p *fabric.Pattern, at int, in int32) (int, *fabric.Round, bool) {
	var best *roundMention
	found := roundsSpoken(p, at)
	for i := range found {
		m := &found[i]
		if m.of == nil || in < m.around.Start || in > m.around.End {
			continue
		}
		exact := m.number.Start <= in && in <= m.number.End
		if best == nil || exact || m.around.End-m.around.Start < best.around.End-best.around.Start {
			best = m
		}
		if exact {
			break
		}
	}
	if best == nil {
		return 0, nil, false
	}
	meant := best.round(at)
	if meant == nil {
		return 0, nil, false
	}
	return best.of.At + meant.Off, meant, true
}

// round is the one that a mention in a statement points to: of several with its
// number the last one before the statement, or the first; nil where none has it.
func (m *roundMention) round(at int) *fabric.Round {
	var meant *fabric.Round
	for _, r := range m.of.Rounds {
		if r.Node.Row == m.row && r.Node.From.N <= m.number.N && m.number.N <= r.Node.To.N && (meant == nil || m.of.At+r.Off < at) {
			meant = r
		}
	}
	return meant
}

// roundUnder is the round that a byte of a statement stands for: that of the
// label that it is in, or the one that it points to; and the round's statement.
func roundUnder(p *fabric.Pattern, at int, in int32) (int, *fabric.Round, bool) {
	if n, ok := p.File.Lines[at].Node.(*grammar.Round); ok && n.Label.Start <= in && in <= n.Label.End {
		_, r := p.RoundAt(at)
		return at, r, r != nil
	}
	return roundMeantAt(p, at, in)
}

// roundMentions are the places that point to a round, in order of the file; the
// round is given by its statement.
func roundMentions(p *fabric.Pattern, of int, r *fabric.Round) []roundPlace {
	home := p.PieceAt(of)
	x := roundReader{pattern: p, named: namedOnce(p)}
	var out []roundPlace
	for at, l := range p.File.Lines {
		if n, ok := l.Node.(*grammar.Round); ok && (at < home.At || at >= home.At+len(home.Lines)) && !speaksOfOthers(n) {
			continue
		}
		list := x.read(at)
		slices.SortFunc(list, func(a, b roundMention) int { return int(a.number.Start - b.number.Start) })
		for i := range list {
			if m := &list[i]; m.of == home && m.round(at) == r {
				out = append(out, roundPlace{at, m.number.Span})
			}
		}
	}
	return out
}

// roundPlace is where a number that points to a round stands.
type roundPlace struct {
	at   int
	span grammar.Span
}

// speaksOfOthers says whether a round is worked into another piece.
func speaksOfOthers(n *grammar.Round) bool {
	return slices.ContainsFunc(n.Steps, func(s grammar.Step) bool {
		return s.Group != nil || s.Rounds() != nil || slices.ContainsFunc(s.Places, func(p grammar.Place) bool { return p.Of().Written() })
	})
}

// namedOnce is Named for many names, each piece's looked at once.
func namedOnce(p *fabric.Pattern) func(string) *fabric.Piece {
	by := make(map[string]*fabric.Piece, len(p.Pieces))
	for _, piece := range slices.Backward(p.Pieces) {
		if piece.Node != nil {
			by[grammar.NameKey(piece.Name)] = piece
		}
	}
	return func(name string) *fabric.Piece { return by[grammar.NameKey(name)] }
}
