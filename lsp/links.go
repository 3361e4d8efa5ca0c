package lsp

import (
	"context"
	"net/url"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DocumentLinkProvider = &protocol.DocumentLinkOptions{}
})

var address = lazily(`(?i)\bhttps?://[^\s<>"“”]+`)

// DocumentLink lists the addresses that stand in the text.
func (s *Server) DocumentLink(ctx context.Context, p *protocol.DocumentLinkParams) ([]protocol.DocumentLink, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []protocol.DocumentLink{}
	for _, x := range address().FindAllStringIndex(doc.Text(), -1) {
		text := bareAddress(doc.Text()[x[0]:x[1]])
		if u, err := url.Parse(text); err != nil || u.Host == "" {
			continue
		}
		to := uri.URI(text)
		out = append(out, protocol.DocumentLink{Range: doc.Range(x[0], x[0]+len(text)), Target: &to})
	}
	return out, nil
}

// bareAddress leaves out the signs at the end that belong to the sentence: a
// full stop, and a bracket that does not begin in the address.
func bareAddress(text string) string {
	for text != "" {
		last := text[len(text)-1]
		switch {
		case strings.IndexByte(".,;:!?'*", last) >= 0:
		case last == ')' && strings.Count(text, ")") > strings.Count(text, "("):
		case last == ']' && strings.Count(text, "]") > strings.Count(text, "["):
		default:
			return text
		}
		text = text[:len(text)-1]
	}
	return text
}
