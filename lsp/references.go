package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.ReferencesProvider = protocol.Boolean(true)
})

// References answers with every place that names what the name at a place stands
// for, or that points to the round at a place by its number.
func (s *Server) References(ctx context.Context, p *protocol.ReferenceParams) ([]protocol.Location, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	m := doc.named().under(doc, doc.Offset(p.Position))
	if m == nil {
		return doc.roundReferences(doc.Offset(p.Position), p.Context.IncludeDeclaration), nil
	}
	out := []protocol.Location{}
	for _, x := range m.of.places {
		if !x.declares || p.Context.IncludeDeclaration {
			out = append(out, protocol.Location{URI: doc.URI, Range: doc.Span(x.at, x.span)})
		}
	}
	return out, nil
}

// roundReferences are the places that point to the round at a byte, with its own
// label where that is asked for; nil where no round is meant there.
func (s *Snapshot) roundReferences(offset int, label bool) []protocol.Location {
	at, _, in := s.Statement(offset)
	of, r, ok := roundUnder(s.Pattern(), at, int32(in))
	if !ok {
		return nil
	}
	out := []protocol.Location{}
	places := roundMentions(s.Pattern(), of, r)
	if label {
		places = append([]roundPlace{{of, r.Node.Label}}, places...)
	}
	for _, x := range places {
		out = append(out, protocol.Location{URI: s.URI, Range: s.Span(x.at, x.span)})
	}
	return out
}
