package lsp

import (
	"context"
	"slices"

	"go.lsp.dev/protocol"

	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.SelectionRangeProvider = protocol.Boolean(true)
})

// SelectionRange gives for each place what grows around it: the word, the name
// or step, the bracket, all steps, the statement, the piece, the whole pattern.
func (s *Server) SelectionRange(ctx context.Context, p *protocol.SelectionRangeParams) ([]protocol.SelectionRange, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	n := doc.named()
	out := make([]protocol.SelectionRange, len(p.Positions))
	for i, pos := range p.Positions {
		offset := doc.Offset(pos)
		var around *protocol.SelectionRange
		spans := growing(n, offset)
		for _, x := range slices.Backward(spans) {
			around = &protocol.SelectionRange{Range: doc.Range(x[0], x[1]), Parent: around}
		}
		out[i] = *around
	}
	return out, nil
}

// growing are the spans of the file around a byte, from the smallest to the
// whole file, each inside the next; never empty.
func growing(n *names, offset int) [][2]int {
	f := n.file
	at := f.LineAt(offset)
	l, start := f.Lines[at], f.Start(at)
	in := min(max(offset-start, 0), len(l.Text))
	spans := smallest(l, in)
	for _, m := range n.of(at) {
		spans = append(spans, m.span)
	}
	spans = append(spans, l.Note, said(l), grammar.Span{End: int32(len(l.Text))})
	switch x := l.Node.(type) {
	case *grammar.Text:
		spans = append(spans, x.Content.Span)
	case *grammar.OwnStitch:
		spans = appendSteps(spans, x.Steps)
	case *grammar.Round:
		spans = append(spans, x.Label)
		spans = appendSteps(spans, x.Steps)
		spans = appendSteps(spans, x.After)
		if x.Total != nil {
			spans = append(spans, x.Total.Span)
		}
	}
	var list [][2]int
	for _, x := range spans {
		if x.Written() && int(x.Start) <= in && in <= int(x.End) {
			list = append(list, [2]int{start + int(x.Start), start + int(x.End)})
		}
	}
	for _, x := range folds(f) {
		if x.from <= at && at <= x.to {
			list = append(list, [2]int{f.Start(x.from), f.Start(x.to) + len(f.Lines[x.to].Text)})
		}
	}
	list = append(list, [2]int{0, f.Rope().Len()})
	return nested(list)
}

// smallest spans what is smallest at a byte of a statement: the word there, or
// else the sign. Between a bracket and a word the word is meant.
func smallest(l *grammar.Line, in int) []grammar.Span {
	var words, signs []grammar.Span
	for _, t := range grammar.Tokens(l.Text) {
		switch {
		case in < int(t.Start) || int(t.End) < in:
		case grammar.Open <= t.Kind && t.Kind <= grammar.Quote && t.Kind != grammar.Hash:
			signs = append(signs, t.Span)
		default:
			words = append(words, t.Span)
		}
	}
	if words != nil {
		return words
	}
	return signs
}

func appendSteps(spans []grammar.Span, steps []grammar.Step) []grammar.Span {
	if len(steps) > 0 {
		spans = append(spans, steps[0].Span.To(steps[len(steps)-1].Span))
	}
	for i := range steps {
		s := &steps[i]
		spans = append(spans, s.Span)
		for j := range s.Places {
			spans = append(spans, s.Places[j].Span)
		}
		if s.Group != nil {
			spans = appendSteps(spans, s.Group.Steps)
		}
	}
	return spans
}

// nested sorts spans by their length and leaves out those that are not inside
// the next larger one.
func nested(list [][2]int) [][2]int {
	slices.SortStableFunc(list, func(a, b [2]int) int { return (a[1] - a[0]) - (b[1] - b[0]) })
	var out [][2]int
	for _, x := range list {
		if k := len(out) - 1; k < 0 || x[0] <= out[k][0] && out[k][1] <= x[1] && x != out[k] {
			out = append(out, x)
		}
	}
	return out
}
