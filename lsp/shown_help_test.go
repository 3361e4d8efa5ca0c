package lsp

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// reading is a client that reads what it is told in some formats, and asks for
// the tooltips of hints.
func reading(formats ...protocol.MarkupKind) protocol.ClientCapabilities {
	can := acting()
	can.TextDocument.Hover = &protocol.HoverClientCapabilities{ContentFormat: formats}
	can.TextDocument.InlayHint = &protocol.InlayHintClientCapabilities{ResolveSupport: protocol.ClientInlayHintResolveOptions{Properties: []string{"tooltip"}}}
	return can
}

// all is a range over a whole text.
func all(text string) protocol.Range {
	return protocol.Range{End: protocol.Position{Line: uint32(strings.Count(text, "\n") + 1)}}
}

func (e *editor) hintsIn(r protocol.Range) []protocol.InlayHint {
	e.t.Helper()
	got, err := e.server.InlayHint(e.ctx, &protocol.InlayHintParams{TextDocument: shownDocument(), Range: r})
	require.NoError(e.t, err)
	return got
}

// labelOfHint is the text of a hint, whether or not its parts lead somewhere.
func labelOfHint(h protocol.InlayHint) string {
	if parts, ok := h.Label.(protocol.InlayHintLabelPartSlice); ok {
		text := ""
		for _, p := range parts {
			text += p.Value
		}
		return text
	}
	return string(h.Label.(protocol.String))
}

// hints shows the lines that have any, with the hints in them.
func (e *editor) hints(text, _ string) string {
	e.t.Helper()
	x := newIndex(text, utf16Units)
	var b strings.Builder
	line, done := -1, 0
	endLine := func() {
		if line >= 0 {
			_, end := x.bounds(line)
			b.WriteString(text[done:end] + "\n")
		}
	}
	for _, h := range e.hintsIn(all(text)) {
		if n := int(h.Position.Line); n != line {
			endLine()
			line = n
			done, _ = x.bounds(n)
			fmt.Fprintf(&b, "%d: ", n+1)
		}
		here := x.offset(h.Position)
		require.GreaterOrEqual(e.t, here, done, "hints stand in order")
		b.WriteString(text[done:here] + "«" + labelOfHint(h) + "»")
		done = here
	}
	endLine()
	return orNothing(b.String())
}

// tooltips explains every hint.
func (e *editor) tooltips(text, _ string) string {
	e.t.Helper()
	var b strings.Builder
	for _, h := range e.hintsIn(all(text)) {
		require.Nil(e.t, h.Tooltip, "it is written when asked for")
		full, err := e.server.InlayHintResolve(e.ctx, &h)
		require.NoError(e.t, err)
		require.NotNil(e.t, full.Tooltip, "%v", h.Label)
		fmt.Fprintf(&b, "%d «%s»\n%s\n", h.Position.Line+1, labelOfHint(h), full.Tooltip.(*protocol.MarkupContent).Value)
	}
	return orNothing(b.String())
}

// hover is what is told at a place, behind the words that it is about.
func (e *editor) hover(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	got, err := e.server.Hover(e.ctx, &protocol.HoverParams{TextDocumentPositionParams: where})
	require.NoError(e.t, err)
	if got == nil {
		return "nothing\n"
	}
	about, _, _ := strings.Cut(textIn(text, *got.Range), "\n")
	return "[" + strings.TrimSuffix(about, "\r") + "]\n" + got.Contents.(*protocol.MarkupContent).Value + "\n"
}

func TestHoverFormats(t *testing.T) {
	text := "Terms: US\nPiece: A_B *x*\nRnd 1: 6 sc in magic ring (6)\n"
	for _, c := range []struct {
		formats []protocol.MarkupKind
		kind    protocol.MarkupKind
		has     string
	}{
		{[]protocol.MarkupKind{protocol.MarkupKindMarkdown, protocol.MarkupKindPlainText}, protocol.MarkupKindMarkdown, `**A\_B \*x\***`},
		{[]protocol.MarkupKind{protocol.MarkupKindPlainText, protocol.MarkupKindMarkdown}, protocol.MarkupKindPlainText, "A_B *x*: make 1."},
		{nil, protocol.MarkupKindPlainText, "A_B *x*: make 1."},
	} {
		e := open(t, reading(c.formats...), nil)
		e.type_(at("shown.crochet"), text)
		where, _ := e.placed(text, `hover 2 "A_B"`)
		told, err := e.server.Hover(e.ctx, &protocol.HoverParams{TextDocumentPositionParams: where})
		require.NoError(t, err)
		got := told.Contents.(*protocol.MarkupContent)
		assert.Equal(t, c.kind, got.Kind)
		assert.Contains(t, got.Value, c.has)
		if c.kind == protocol.MarkupKindMarkdown {
			assert.Contains(t, got.Value, "| round | takes | makes | of |\n| --- | --- | --- | --- |\n")
		}
	}
}

func TestHintsOfARangeOnly(t *testing.T) {
	e := open(t, reading(), nil)
	e.type_(at("shown.crochet"), shell)
	from := func(line uint32) protocol.Range {
		return protocol.Range{Start: protocol.Position{Line: line}, End: protocol.Position{Line: line, Character: 200}}
	}
	got := e.hintsIn(from(3))
	require.Len(t, got, 1)
	assert.Equal(t, protocol.String("→ 12 (+6)"), got[0].Label)
	assert.Empty(t, e.hintsIn(from(0)))
	stale := got[0]
	e.change(at("shown.crochet"), 2, part(3, 7, 3, 14, "sc around"))
	full, err := e.server.InlayHintResolve(e.ctx, &stale)
	require.NoError(t, err)
	assert.Nil(t, full.Tooltip, "it would explain another text")
}

func TestHintsBySettings(t *testing.T) {
	text := "Terms: US\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (inc) x 6 (12)\nRnds 3-4: sc around (12)\n"
	labels := func(e *editor) (out []string) {
		for _, h := range e.hintsIn(all(text)) {
			out = append(out, labelOfHint(h))
		}
		return out
	}
	for key, want := range map[string][]string{
		"totals":  {"→ 6", "→ 12 (+6)", "→ 12 (even)"},
		"repeats": {"1 → 2"},
		"ranges":  {"2 rounds, 24 stitches in all"},
		"pieces":  {"4 rounds, 42 stitches"},
	} {
		off := map[string]bool{"totals": false, "repeats": false, "ranges": false, "pieces": false}
		off[key] = true
		raw, err := protocol.Marshal(map[string]any{"workeven": map[string]any{"hints": off}})
		require.NoError(t, err)
		e := open(t, reading(), nil)
		e.type_(at("shown.crochet"), text)
		require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: raw}))
		assert.Equal(t, want, labels(e), key)
	}
}

func TestTooltipsAtOnceForClientsThatCannotAsk(t *testing.T) {
	can := reading(protocol.MarkupKindPlainText)
	can.TextDocument.InlayHint = nil
	e := open(t, can, nil)
	e.type_(at("shown.crochet"), shell)
	got := e.hintsIn(all(shell))
	require.NotEmpty(t, got)
	for _, h := range got {
		require.NotNil(t, h.Tooltip, "%v", h.Label)
		assert.NotEmpty(t, h.Tooltip.(*protocol.MarkupContent).Value)
	}
}
