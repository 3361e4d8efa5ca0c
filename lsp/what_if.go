package lsp

import (
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// with works the pattern with a line put in place of some bytes, and finds the
// round that stands on it: nil where none does. The pattern may be no more than
// the piece in hand, under what holds for all of them: a long file is not copied
// for each thing that is tried.
func (s *Snapshot) with(start, end int, line string) (*fabric.Pattern, *fabric.Piece, *fabric.Round) {
	if s.Len() > shortText && !strings.Contains(line, " of ") && !strings.Contains(line, "between") { // these name other pieces
		if p, piece, r := s.alone(start, end, line); r != nil && (r.Start || r.In != nil && !r.In.Unknown) {
			return p, piece, r
		}
	}
	p := fabric.Rework(s.Pattern(), grammar.Splice(s.File, start, end, line))
	piece, r := p.RoundAt(p.File.LineAt(start))
	return p, piece, r
}

// shortText is up to how many bytes a text is worked as a whole.
const shortText = 1 << 15

// alone works the piece at a place by itself.
func (s *Snapshot) alone(start, end int, line string) (*fabric.Pattern, *fabric.Piece, *fabric.Round) {
	old, at := s.Pattern(), s.File.LineAt(start)
	var here *fabric.Piece
	for _, x := range old.Pieces {
		if x.At > at {
			break
		}
		here = x
	}
	if here == nil || len(here.Lines) == 0 {
		return nil, nil, nil
	}
	last := here.At + len(here.Lines) - 1
	from, to := s.File.Start(here.At), s.File.Start(last)+len(s.File.Lines[last].Text)
	if start < from || at > last+1 {
		return nil, nil, nil
	}
	var b strings.Builder
	b.WriteString("Terms: " + old.Header.System.String() + "\n")
	for _, x := range old.Header.Lines {
		switch x.Line.Node.(type) {
		case *grammar.TurningChain, *grammar.Gauge:
			b.WriteString(x.Line.Text + "\n")
		}
	}
	for _, own := range old.Own {
		if own.At < here.At || own.At > last {
			b.WriteString(own.Line.Text + "\n")
		}
	}
	head := b.Len()
	b.WriteString(s.Slice(from, start) + line)
	if end < to {
		b.WriteString(s.Slice(end, to))
	}
	p := fabric.Work(grammar.Parse(b.String()))
	piece, r := p.RoundAt(p.File.LineAt(head + start - from))
	return p, piece, r
}
