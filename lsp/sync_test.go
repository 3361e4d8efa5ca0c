package lsp

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
	"workeven/lint"
)

// speaking has positions counted in one encoding.
func speaking(enc encoding) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.Capabilities.General = &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{enc.kind()}}
	}
}

// coldly is what a cold lint of a text finds, as the client would be told it.
func coldly(text string, enc encoding) []string {
	var out []string
	x := newIndex(text, enc)
	for _, f := range lint.Check(grammar.Parse(text), lint.Options{NoFixes: true}) {
		out = append(out, fmt.Sprint(x.position(f.Start), x.position(f.End), f.Rule, f.Message))
	}
	return out
}

func told(list []protocol.Diagnostic) []string {
	var out []string
	for _, d := range list {
		out = append(out, fmt.Sprint(d.Range.Start, d.Range.End, string(d.Code.(protocol.String)), string(d.Message.(protocol.String))))
	}
	return out
}

// typed are what random edits put in.
var typed = []string{"\n", "\r\n", "(12)", "7", "x 5", "Rnd 3: sc around (12)\n", "Piece: Bud\n", "// allow: shape\n", "Terms: UK\n", "bob", "Note: é𝔹😀\n", " ", "Fasten off.\n", "\ufeff", "Gauge: 10 sts x 10 rnds = 10 cm\n", "é", "😀"}

// Whatever edits come, in whatever encoding, what the client is told in the end
// is what a cold lint of its own text says.
func TestIncrementalIsCold(t *testing.T) {
	for _, enc := range allEncodings {
		t.Run(string(enc.kind()), func(t *testing.T) {
			random := rand.New(rand.NewPCG(11, uint64(enc)))
			e := open(t, pushing(), nil, speaking(enc))
			doc := at("parts.crochet")
			text := strings.ReplaceAll(strings.Repeat(shell+"Stuff firmly.\nRnds 5-6: sc around (24) // é𝔹\n", 8), "Shell", "Shéll 𝔹")
			e.type_(doc, text)
			require.Equal(t, coldly(text, enc), told(e.published(doc, 1)))
			for version := int32(2); version < 60; version++ {
				var edits []protocol.TextDocumentContentChangeEvent
				for range 1 + random.IntN(3) {
					var edit protocol.TextDocumentContentChangeEvent
					edit, text = randomChange(random, text, enc)
					edits = append(edits, edit)
				}
				e.change(doc, version, edits...)
				require.Equal(t, coldly(text, enc), told(e.published(doc, version)), "version %d of %q", version, text)
				require.Equal(t, text, e.text(doc))
			}
		})
	}
}

// randomChange is an edit as a client sends it, and the client's own text after it.
func randomChange(random *rand.Rand, text string, enc encoding) (protocol.TextDocumentContentChangeEvent, string) {
	if random.IntN(20) == 0 {
		return whole(text), text
	}
	start := boundary(text, random.IntN(len(text)+1))
	end := boundary(text, min(start+random.IntN(60)*random.IntN(2), len(text)))
	for _, at := range []*int{&start, &end} { // a position cannot stand inside a line end
		if *at > 0 && *at < len(text) && text[*at] == '\n' && text[*at-1] == '\r' {
			*at++
		}
	}
	new := ""
	for range random.IntN(3) {
		new += typed[random.IntN(len(typed))]
	}
	x := newIndex(text, enc)
	r := protocol.Range{Start: x.position(start), End: x.position(end)}
	return &protocol.TextDocumentContentChangePartial{Range: r, Text: new}, text[:start] + new + text[end:]
}

// Two hundred edits without a pause end with the diagnostics of the last text.
func TestEditsWithoutPause(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("parts.crochet")
	text := strings.Repeat(strings.ReplaceAll(shell, "Shell", "Part"), 50)
	e.type_(doc, text)
	random := rand.New(rand.NewPCG(13, 14))
	for version := int32(2); version < 202; version++ {
		var edit protocol.TextDocumentContentChangeEvent
		edit, text = randomChange(random, text, utf16Units)
		e.change(doc, version, edit)
	}
	assert.Equal(t, coldly(text, utf16Units), told(e.published(doc, 201)))
	e.alive()
	assert.Zero(t, e.sentSoFar(protocol.MethodTextDocumentPublishDiagnostics), "the last version is told once, and last")
}

func TestChangesOfOneMessageFollowOneAnother(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("a.crochet")
	e.type_(doc, "ab\ncd\n")
	e.change(doc, 2, part(0, 1, 1, 1, "\n\n"), part(2, 0, 2, 1, "x"), part(9, 9, 9, 9, "end"))
	assert.Equal(t, "a\n\nx\nend", e.text(doc))
	e.change(doc, 3, part(0, 1, 0, 0, ">"))
	assert.True(t, strings.HasPrefix(e.text(doc), ">"), "a range that runs backwards: %q", e.text(doc))
	e.change(doc, 4)
	e.published(doc, 4)
}

func TestOpenedAgain(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("a.crochet")
	e.type_(doc, shell)
	assert.Len(t, e.published(doc, 1), 1)
	require.NoError(t, e.server.DidOpen(e.ctx, &protocol.DidOpenTextDocumentParams{TextDocument: protocol.TextDocumentItem{URI: doc, Version: 5, Text: "Note: a\n"}}))
	assert.Len(t, e.published(doc, 5), len(coldly("Note: a\n", utf16Units)))
	text := shell
	require.NoError(t, e.server.DidSave(e.ctx, &protocol.DidSaveTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}, Text: &text}))
	assert.Equal(t, shell, e.text(doc), "a text that comes with a save holds")
}

// Addresses that mean one file are one document, however they are written.
func TestSpellingsOfAnAddress(t *testing.T) {
	e := open(t, pushing(), nil)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///c%3A/My%20Dir/a.crochet","languageId":"crochet","version":1,"text":"Note: a\n"}}}`)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///c:/My Dir/a.crochet","version":2},"contentChanges":[{"text":"Note: b\n"}]}}`)
	doc, err := uri.Parse("file:///c%3A/My%20Dir/a.crochet")
	require.NoError(t, err)
	assert.Equal(t, "Note: b\n", e.text(doc))
}

// What a snapshot keeps of a message does not pin the message.
func TestSnapshotsShareWhatHasNotChanged(t *testing.T) {
	a := newSnapshot(at("a.crochet"), 1, "", strings.Repeat(shell, 20), utf16Units)
	at := strings.Index(a.Text(), "x 5")
	b := a.replaced(2, at+2, at+3, "6")
	changed := 0
	for i, l := range b.File.Lines {
		if l != a.File.Lines[i] {
			changed++
		}
	}
	assert.Equal(t, 1, changed, "lines with a tree of their own")
	before, after := a.Pattern(), b.Pattern()
	kept := 0
	for i := range after.Pieces {
		if after.Pieces[i].Same(before.Pieces[i]) {
			kept++
		}
	}
	assert.Equal(t, len(after.Pieces)-1, kept, "pieces that were not worked again")
	assert.Len(t, b.Findings(), len(a.Findings())-1)
}
