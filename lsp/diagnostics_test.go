package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// shell is the start of a part, with a slip in its third round.
const shell = "Terms: US\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 5 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n"

func TestPush(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("snail.crochet")
	e.type_(doc, shell)
	got := e.published(doc, 1)
	require.Len(t, got, 1)
	d := got[0]
	assert.Equal(t, protocol.Range{Start: protocol.Position{Line: 4, Character: 7}, End: protocol.Position{Line: 4, Character: 20}}, d.Range)
	assert.Equal(t, protocol.String("stitches-left"), d.Code)
	assert.Equal(t, protocol.DiagnosticSeverityError, d.Severity)
	assert.Equal(t, rulePage("stitches-left"), d.CodeDescription.Href)
	source, _ := d.Source.Get()
	assert.Equal(t, "workeven", source)
	require.Len(t, d.RelatedInformation, 2, "the round below, and the one that works from what was meant")
	assert.Equal(t, uint32(3), d.RelatedInformation[0].Location.Range.Start.Line)

	e.change(doc, 2, part(4, 19, 4, 20, "6"))
	assert.Empty(t, e.published(doc, 2), "an empty list when it is clean")
	e.change(doc, 3, whole(shell))
	assert.Len(t, e.published(doc, 3), 1)
	require.NoError(t, e.server.DidClose(e.ctx, &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}}))
	assert.Empty(t, e.published(doc, 0), "an empty list when it is closed")
}
