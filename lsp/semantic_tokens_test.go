package lsp

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// unmarked writes tokens as words with their types, a line of text a line.
func unmarked(t *testing.T, text string, data []uint32) []string {
	t.Helper()
	require.Zero(t, len(data)%5)
	x := newIndex(text, utf16Units)
	lines := make([]string, len(x.starts))
	var at protocol.Position
	for i := 0; i < len(data); i += 5 {
		if data[i] > 0 {
			at = protocol.Position{Line: at.Line + data[i]}
		}
		at.Character += data[i+1]
		end := protocol.Position{Line: at.Line, Character: at.Character + data[i+2]}
		word := text[x.offset(at):x.offset(end)] + ":" + markTypes[data[i+3]]
		for m, name := range markModifiers {
			if data[i+4]&(1<<m) != 0 {
				word += "." + name
			}
		}
		lines[at.Line] = strings.TrimSpace(lines[at.Line] + " " + word)
	}
	return lines
}

func TestSemanticTokens(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Rnd 2: with B, sc 3 (3)", "Rnd:property 2:number with:keyword B:variable sc:function.defaultLibrary 3:number 3:number"},
		{"Rnds 6-9: *ch-2 sp; rep from *", "Rnds:property 6:number 9:number *:operator ch-2 sp:function.defaultLibrary rep:keyword from:keyword *:operator"},
		{"Yarn A: fern #7C9A5B", "Yarn:property A:variable.declaration fern:variable.declaration #7C9A5B:number"},
		{"Piece: Shell (make 2)", "Piece:property Shell:class.declaration make:keyword 2:number"},
		{"Stitch: knot = ch 3", "Stitch:property knot:function.declaration =:operator ch:function.defaultLibrary 3:number"},
		{"Note: Pin é first // 🧶 mine", "Note:property Pin é first:string // 🧶 mine:comment"},
		{"Fasten off, leaving a tail", "Fasten off:keyword leaving:keyword"},
		{"Sew: Shell to Body", "Sew:property Shell:class to:keyword Body:class"},
		{"// 3 sc", "// 3 sc:comment"},
		{"", ""},
	} {
		e := opened(t, c.text)
		got, err := e.server.SemanticTokensFull(e.ctx, &protocol.SemanticTokensParams{TextDocument: here()})
		require.NoError(t, err)
		assert.Equal(t, c.want, unmarked(t, c.text, got.Data)[0], c.text)
	}
}

func TestSemanticTokensOverLines(t *testing.T) {
	const text = "Note: one\n  two\nRnd 1: sc\n  in ring\n"
	e := opened(t, text)
	got, err := e.server.SemanticTokensFull(e.ctx, &protocol.SemanticTokensParams{TextDocument: here()})
	require.NoError(t, err)
	assert.Equal(t, []string{"Note:property one:string", "two:string", "Rnd:property 1:number sc:function.defaultLibrary", "in:keyword ring:keyword", ""}, unmarked(t, text, got.Data))

	some, err := e.server.SemanticTokensRange(e.ctx, &protocol.SemanticTokensRangeParams{TextDocument: here(), Range: protocol.Range{Start: protocol.Position{Line: 3}, End: protocol.Position{Line: 3, Character: 4}}})
	require.NoError(t, err)
	assert.Equal(t, []string{"", "", "Rnd:property 1:number sc:function.defaultLibrary", "in:keyword ring:keyword", ""}, unmarked(t, text, some.Data))
}

// A range of whole lines ends before the line that it ends at the start of.
func TestSemanticTokensOfWholeLines(t *testing.T) {
	text := "Terms: US\nPiece: Head\nInsert 2 safety eyes.\nFasten off.\n"
	e := opened(t, text)
	some, err := e.server.SemanticTokensRange(e.ctx, &protocol.SemanticTokensRangeParams{TextDocument: here(), Range: protocol.Range{Start: protocol.Position{Line: 2}, End: protocol.Position{Line: 3}}})
	require.NoError(t, err)
	assert.Equal(t, []string{"", "", "Insert:keyword 2:number safety eyes:string", "", ""}, unmarked(t, text, some.Data))
}

func TestSemanticTokensDelta(t *testing.T) {
	e := opened(t, hat)
	full, err := e.server.SemanticTokensFull(e.ctx, &protocol.SemanticTokensParams{TextDocument: here()})
	require.NoError(t, err)
	now, id := full.Data, *full.ResultID
	for i, text := range []string{
		strings.Replace(hat, "Fasten off.", "Rnd 6: sc around (12)\nFasten off.", 1),
		hat,
		hat,
		"",
		hat + "// end",
	} {
		e.change(at("hat.crochet"), int32(i+2), whole(text))
		got, err := e.server.SemanticTokensFullDelta(e.ctx, &protocol.SemanticTokensDeltaParams{TextDocument: here(), PreviousResultID: id})
		require.NoError(t, err)
		delta, ok := got.(*protocol.SemanticTokensDelta)
		require.True(t, ok)
		for _, x := range delta.Edits {
			now = append(append(append([]uint32{}, now[:x.Start]...), x.Data...), now[x.Start+x.DeleteCount:]...)
		}
		if i == 2 {
			assert.Empty(t, delta.Edits, "nothing has changed")
		}
		id = *delta.ResultID
		full, err := e.server.SemanticTokensFull(e.ctx, &protocol.SemanticTokensParams{TextDocument: here()})
		require.NoError(t, err)
		assert.ElementsMatch(t, full.Data, now)
		assert.Equal(t, unmarked(t, text, full.Data), unmarked(t, text, now))
	}
	got, err := e.server.SemanticTokensFullDelta(e.ctx, &protocol.SemanticTokensDeltaParams{TextDocument: here(), PreviousResultID: "unknown"})
	require.NoError(t, err)
	_, all := got.(*protocol.SemanticTokens)
	assert.True(t, all, "all of them where what the client has is not known")
}
