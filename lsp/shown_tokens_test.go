package lsp

import (
	"fmt"
	"strings"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// tokens shows lines with what their words are: "tokens", or "tokens 3-5" for
// some lines only. A range of each line must say the same of it.
func (e *editor) tokens(text, head string) string {
	e.t.Helper()
	full, err := reply[*protocol.SemanticTokens](e, protocol.MethodTextDocumentSemanticTokensFull, &protocol.SemanticTokensParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	lines := e.coloured(text, full.Data)
	from, to := 1, len(lines)
	if head != "tokens" {
		_, err := fmt.Sscanf(head, "tokens %d-%d", &from, &to)
		require.NoError(e.t, err, head)
	}
	var b strings.Builder
	for i := from - 1; i < to; i++ {
		line := protocol.Range{Start: protocol.Position{Line: uint32(i)}, End: protocol.Position{Line: uint32(i), Character: 1}}
		part, err := reply[*protocol.SemanticTokens](e, protocol.MethodTextDocumentSemanticTokensRange, &protocol.SemanticTokensRangeParams{TextDocument: shownDocument(), Range: line})
		require.NoError(e.t, err)
		assert.Equal(e.t, lines[i], e.coloured(text, part.Data)[i], "the range of line %d", i+1)
		if lines[i] != "" {
			fmt.Fprintf(&b, "%d: %s\n", i+1, lines[i])
		}
	}
	return orNothing(b.String())
}

// coloured are the lines of a text with their tokens marked: «number 6».
func (e *editor) coloured(text string, data []uint32) []string {
	e.t.Helper()
	require.Zero(e.t, len(data)%5)
	legend := e.result.Capabilities.SemanticTokensProvider.(*protocol.SemanticTokensOptions).Legend
	x := newIndex(text, utf16Units)
	lines := make([]string, len(x.starts))
	line, char, done := -1, uint32(0), 0
	endLine := func() {
		if line >= 0 {
			_, end := x.bounds(line)
			lines[line] = strings.TrimPrefix(lines[line]+text[done:end], "\ufeff")
		}
	}
	for ; len(data) > 0; data = data[5:] {
		if line < 0 || data[0] > 0 {
			endLine()
			line, char = max(line, 0)+int(data[0]), 0
			require.Less(e.t, line, len(lines))
			done, _ = x.bounds(line)
		}
		char += data[1]
		start, end := x.offset(protocol.Position{Line: uint32(line), Character: char}), x.offset(protocol.Position{Line: uint32(line), Character: char + data[2]})
		require.GreaterOrEqual(e.t, start, done, "tokens stand in order, and none in another")
		require.Greater(e.t, end, start, "a token has letters")
		kind := legend.TokenTypes[data[3]]
		for i, m := range legend.TokenModifiers {
			if data[4]&(1<<i) != 0 {
				kind += "." + m
			}
		}
		lines[line] += text[done:start] + "«" + kind + " " + text[start:end] + "»"
		done = end
	}
	endLine()
	return lines
}
