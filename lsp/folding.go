package lsp

import (
	"context"

	"go.lsp.dev/protocol"

	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.FoldingRangeProvider = protocol.Boolean(true)
})

// FoldingRanges are what can be folded away: the header, each piece, the making
// up, comments of several lines, and statements that go over several lines.
func (s *Server) FoldingRanges(ctx context.Context, p *protocol.FoldingRangeParams) ([]protocol.FoldingRange, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []protocol.FoldingRange{}
	for _, x := range folds(doc.File) {
		r := doc.block(x.from, x.to)
		if r.Start.Line < r.End.Line {
			out = append(out, protocol.FoldingRange{StartLine: r.Start.Line, EndLine: r.End.Line, Kind: x.kind})
		}
	}
	if t := s.client.TextDocument; t != nil && t.FoldingRange != nil && t.FoldingRange.RangeLimit != nil {
		out = out[:min(len(out), int(*t.FoldingRange.RangeLimit))]
	}
	return out, nil
}

type fold struct {
	from, to int
	kind     protocol.FoldingRangeKind
}

// folds lists what can be folded, the larger before the smaller ones in it.
func folds(f *grammar.File) []fold {
	var sections, comments, long []fold
	section := fold{from: -1, kind: protocol.FoldingRangeKindRegion} // the header comes first
	comment := fold{from: -1, kind: protocol.FoldingRangeKindComment}
	for at, l := range f.Lines {
		_, isComment := l.Node.(grammar.Comment)
		switch {
		case isComment && comment.from < 0:
			comment.from, comment.to = at, at
		case isComment:
			comment.to = at
		case comment.from >= 0:
			comments = append(comments, comment)
			comment.from = -1
		}
		switch l.Node.(type) {
		case grammar.Blank, grammar.Comment:
			continue
		case *grammar.Piece, grammar.Assembly:
			if section.from >= 0 {
				sections = append(sections, section)
			}
			section.from = at
		}
		if section.from < 0 {
			section.from = at
		}
		section.to = at
		if l.Rows > 1 {
			long = append(long, fold{from: at, to: at})
		}
	}
	if section.from >= 0 {
		sections = append(sections, section)
	}
	if comment.from >= 0 {
		comments = append(comments, comment)
	}
	return append(append(sections, comments...), long...)
}
