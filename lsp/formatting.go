package lsp

import (
	"context"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DocumentFormattingProvider = protocol.Boolean(true)
	c.DocumentRangeFormattingProvider = &protocol.DocumentRangeFormattingOptions{RangesSupport: new(true)}
	c.DocumentOnTypeFormattingProvider = protocol.DocumentOnTypeFormattingOptions{FirstTriggerCharacter: "\n"}
})

// Formatting writes the pattern in the canonical wording.
func (s *Server) Formatting(ctx context.Context, p *protocol.DocumentFormattingParams) ([]protocol.TextEdit, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	return formatted(doc, [2]int{0, doc.Len()}), nil
}

// RangeFormatting writes the statements that a range touches in the canonical wording.
func (s *Server) RangeFormatting(ctx context.Context, p *protocol.DocumentRangeFormattingParams) ([]protocol.TextEdit, error) {
	return s.RangesFormatting(ctx, &protocol.DocumentRangesFormattingParams{TextDocument: p.TextDocument, Ranges: []protocol.Range{p.Range}, Options: p.Options})
}

// RangesFormatting does the same for several ranges.
func (s *Server) RangesFormatting(ctx context.Context, p *protocol.DocumentRangesFormattingParams) ([]protocol.TextEdit, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	var within [][2]int
	for _, r := range p.Ranges {
		start, end := doc.Bytes(r)
		within = append(within, [2]int{start, end})
	}
	return formatted(doc, within...), nil
}

// formatted are the edits that bring the statements touched by some stretches
// of the text into the canonical wording, one for each statement that changes.
func formatted(doc *Snapshot, within ...[2]int) []protocol.TextEdit {
	edits := []protocol.TextEdit{}
	if len(within) == 0 {
		return edits
	}
	from, to := doc.Len(), 0
	for _, w := range within {
		from, to = min(from, w[0]), max(to, w[1])
	}
	first, last := doc.File.LineAt(from), doc.File.LineAt(to)
	for i, new := range grammar.FormatLines(doc.File, first, last+1) {
		l, start := doc.File.Lines[first+i], doc.File.Start(first+i)
		if end := start + len(l.Text); new != l.Text && touched(within, start, end) {
			edits = append(edits, protocol.TextEdit{Range: doc.Range(start, end), NewText: new})
		}
	}
	return edits
}

// touched says whether a statement shares a byte with some stretch, or holds
// one that is empty. A stretch that ends where the statement begins, as a
// selection of whole lines does, leaves it alone.
func touched(within [][2]int, start, end int) bool {
	for _, w := range within {
		if w[0] < end && start < w[1] || w[0] == w[1] && start <= w[0] && w[0] <= end {
			return true
		}
	}
	return false
}

// OnTypeFormatting writes the label of the next round on the line begun behind
// one. A label that nothing was written behind is taken away again, so that
// Enter once more ends the list of rounds.
func (s *Server) OnTypeFormatting(ctx context.Context, p *protocol.DocumentOnTypeFormattingParams) ([]protocol.TextEdit, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil || p.Ch != "\n" || p.Position.Line == 0 {
		return nil, err
	}
	start := doc.Offset(protocol.Position{Line: p.Position.Line})
	at, l, _ := doc.Statement(start)
	if _, blank := l.Node.(grammar.Blank); at > 0 && doc.File.Start(at) == start {
		if !blank {
			return nil, nil
		}
		at--
	} else if doc.File.Start(at)+len(l.Text) >= start {
		return nil, nil // the middle of a statement
	}
	round, ok := doc.File.Lines[at].Node.(*grammar.Round)
	if !ok || !round.From.Written() {
		return nil, nil
	}
	if len(round.Steps) == 0 && round.Total == nil && len(round.After) == 0 {
		l, label := doc.File.Lines[at], said(doc.File.Lines[at])
		if label.End != round.Label.End+1 || l.Note.Written() {
			return nil, nil
		}
		label.End = int32(len(l.Text)) // the blank behind it goes too
		return []protocol.TextEdit{{Range: doc.Span(at, label)}}, nil
	}
	if isNumbered(doc.File, at, round.To.N+1) {
		return nil, nil
	}
	here := protocol.Range{Start: protocol.Position{Line: p.Position.Line}, End: doc.Position(start + leadingBlanks(doc.Slice(start, doc.Len())))}
	return []protocol.TextEdit{{Range: here, NewText: nextLabel(round)}}, nil
}

// isNumbered says whether the next round behind a statement has a number already.
func isNumbered(f *grammar.File, at int, number int32) bool {
	for _, l := range f.Lines[at+1:] {
		switch n := l.Node.(type) {
		case *grammar.Piece, grammar.Assembly:
			return false
		case *grammar.Round:
			return n.From.N == number
		}
	}
	return false
}

// leadingBlanks is how many leadingBlanks and tabs a text begins with.
func leadingBlanks(text string) int { return len(text) - len(strings.TrimLeft(text, " \t")) }

// nextLabel is the label of the round or row behind one, on the other side
// where sides are given.
func nextLabel(r *grammar.Round) string {
	return fabric.RoundName(r.Row, int64(r.To.N)+1) + sideMark(sideAfter(r, r.To.N-r.From.N+1)) + ": "
}

// sideAfter is the side that shows k rounds or rows behind the first of a
// statement: rows are turned, each shows the other side.
func sideAfter(r *grammar.Round, k int32) grammar.Side {
	switch {
	case r.Side == grammar.SideUnsaid, !r.Row, k%2 == 0:
		return r.Side
	case r.Side == grammar.SideRight:
		return grammar.SideWrong
	}
	return grammar.SideRight
}

// sideMark is how a label gives a side; empty where it gives none.
func sideMark(side grammar.Side) string {
	switch side {
	case grammar.SideRight:
		return " (RS)"
	case grammar.SideWrong:
		return " (WS)"
	}
	return ""
}
