package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DocumentHighlightProvider = protocol.Boolean(true)
})

// DocumentHighlight marks every place that names what the name at a place
// stands for; where the name is given counts as written, all else as read.
func (s *Server) DocumentHighlight(ctx context.Context, p *protocol.DocumentHighlightParams) ([]protocol.DocumentHighlight, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	m := doc.named().under(doc, doc.Offset(p.Position))
	if m == nil {
		return nil, nil
	}
	var out []protocol.DocumentHighlight
	for _, x := range m.of.places {
		kind := protocol.DocumentHighlightKindRead
		if x.declares {
			kind = protocol.DocumentHighlightKindWrite
		}
		out = append(out, protocol.DocumentHighlight{Range: doc.Span(x.at, x.span), Kind: kind})
	}
	return out, nil
}
