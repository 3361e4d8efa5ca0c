package lsp

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.ColorProvider = protocol.Boolean(true)
})

// DocumentColor lists the colors of the yarns.
func (s *Server) DocumentColor(ctx context.Context, p *protocol.DocumentColorParams) ([]protocol.ColorInformation, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []protocol.ColorInformation{}
	for at, l := range doc.File.Lines {
		if y, ok := l.Node.(*grammar.Yarn); ok {
			if c, ok := colourOf(y.Colour.Text); ok {
				out = append(out, protocol.ColorInformation{Range: doc.Span(at, y.Colour.Span), Color: c})
			}
		}
	}
	return out, nil
}

// colourOf reads #7C9A5B, or its short form of three digits.
func colourOf(text string) (protocol.Color, bool) {
	digits, ok := strings.CutPrefix(text, "#")
	if len(digits) == 3 {
		digits = strings.Join([]string{digits[:1], digits[:1], digits[1:2], digits[1:2], digits[2:], digits[2:]}, "")
	}
	n, err := strconv.ParseUint(digits, 16, 32)
	if !ok || len(digits) != 6 || err != nil {
		return protocol.Color{}, false
	}
	part := func(shift uint) float64 { return float64(n>>shift&0xff) / 0xff }
	return protocol.Color{Red: part(16), Green: part(8), Blue: part(0), Alpha: 1}, true
}

// ColorPresentation writes a color that was picked.
func (s *Server) ColorPresentation(_ context.Context, p *protocol.ColorPresentationParams) ([]protocol.ColorPresentation, error) {
	part := func(x float64) int { return int(math.Round(min(max(x, 0), 1) * 0xff)) }
	text := fmt.Sprintf("#%02X%02X%02X", part(p.Color.Red), part(p.Color.Green), part(p.Color.Blue))
	return []protocol.ColorPresentation{{Label: text, TextEdit: protocol.TextEdit{Range: p.Range, NewText: text}}}, nil
}
