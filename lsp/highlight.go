package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DocumentHighlightProvider = protocol.Boolean(true)
})

// DocumentHighlight marks every place that names what the name at a place
// stands for; where the name is given counts as written, all else as read. So
// with a round and what points to it by number.
func (s *Server) DocumentHighlight(ctx context.Context, p *protocol.DocumentHighlightParams) ([]protocol.DocumentHighlight, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	m := doc.named().under(doc, doc.Offset(p.Position))
	if m == nil {
		return doc.roundHighlights(doc.Offset(p.Position)), nil
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

func (s *Snapshot) roundHighlights(offset int) []protocol.DocumentHighlight {
	at, _, in := s.Statement(offset)
	of, r, ok := roundUnder(s.Pattern(), at, int32(in))
	if !ok {
		return nil
	}
	out := []protocol.DocumentHighlight{{Range: s.Span(of, r.Node.Label), Kind: protocol.DocumentHighlightKindWrite}}
	for _, x := range roundMentions(s.Pattern(), of, r) {
		out = append(out, protocol.DocumentHighlight{Range: s.Span(x.at, x.span), Kind: protocol.DocumentHighlightKindRead})
	}
	return out
}
