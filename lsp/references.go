package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.ReferencesProvider = protocol.Boolean(true)
})

// References answers with every place that names what the name at a place stands for.
func (s *Server) References(ctx context.Context, p *protocol.ReferenceParams) ([]protocol.Location, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	m := doc.named().under(doc, doc.Offset(p.Position))
	if m == nil {
		return nil, nil
	}
	out := []protocol.Location{}
	for _, x := range m.of.places {
		if !x.declares || p.Context.IncludeDeclaration {
			out = append(out, protocol.Location{URI: doc.URI, Range: doc.Span(x.at, x.span)})
		}
	}
	return out, nil
}
