package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DefinitionProvider = protocol.Boolean(true)
})

// Definition answers with where the name at a place is given: the Yarn, Piece
// or Stitch line; and for a round that is pointed to by number with that round.
func (s *Server) Definition(ctx context.Context, p *protocol.DefinitionParams) (protocol.DefinitionResult, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	m := doc.named().under(doc, doc.Offset(p.Position))
	if m == nil {
		at, _, in := doc.Statement(doc.Offset(p.Position))
		if at, r, ok := roundMeantAt(doc.Pattern(), at, int32(in)); ok {
			return protocol.LocationSlice{{URI: doc.URI, Range: doc.Span(at, r.Node.Label)}}, nil
		}
		return nil, nil
	}
	var out protocol.LocationSlice
	for _, x := range m.of.declarations() {
		out = append(out, protocol.Location{URI: doc.URI, Range: doc.Span(x.at, x.span)})
	}
	if out == nil {
		return nil, nil
	}
	return out, nil
}

// declarations are where a thing is given a name, once for each statement.
func (t *named) declarations() []*mention {
	var out []*mention
	for _, m := range t.places {
		if m.declares && (len(out) == 0 || out[len(out)-1].at != m.at) {
			out = append(out, m)
		}
	}
	return out
}
