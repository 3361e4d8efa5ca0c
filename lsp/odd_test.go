package lsp

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
	"weak"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
	"workeven/lint"
)

func (e *editor) close(doc uri.URI) {
	e.t.Helper()
	require.NoError(e.t, e.server.DidClose(e.ctx, &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}}))
}

func (e *editor) save(doc uri.URI, text *string) {
	e.t.Helper()
	require.NoError(e.t, e.server.DidSave(e.ctx, &protocol.DidSaveTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}, Text: text}))
}

// What editors do to documents, in orders that the protocol does not foresee.
// The text is that of the document in the end, or "none".
func TestDocumentsComeAndGo(t *testing.T) {
	doc, other := at("a.crochet"), at("b.crochet")
	const a, b = "Note: a\n", "Note: b\n"
	for _, test := range []struct {
		name string
		do   func(*editor)
		want string
	}{
		{"opened twice", func(e *editor) { e.type_(doc, a); e.type_(doc, b) }, b},
		{"opened, closed and opened", func(e *editor) { e.type_(doc, a); e.close(doc); e.type_(doc, b) }, b},
		{"closed twice", func(e *editor) { e.type_(doc, a); e.close(doc); e.close(doc) }, "none"},
		{"closed and never opened", func(e *editor) { e.close(doc) }, "none"},
		{"changed and never opened", func(e *editor) { e.change(doc, 2, part(0, 0, 0, 0, "x")) }, "none"},
		{"changed behind its closing", func(e *editor) { e.type_(doc, a); e.close(doc); e.change(doc, 2, part(0, 0, 0, 0, "x")) }, "none"},
		{"changed as a whole and never opened", func(e *editor) { e.change(doc, 2, whole(b)) }, b},
		{"versions that go backwards", func(e *editor) {
			e.type_(doc, a)
			e.change(doc, 9, part(0, 6, 0, 7, "x"))
			e.change(doc, 3, part(0, 6, 0, 7, "b"))
		}, b},
		{"a version twice", func(e *editor) {
			e.type_(doc, a)
			e.change(doc, 2, part(0, 6, 0, 7, "x"))
			e.change(doc, 2, part(0, 6, 0, 7, "b"))
		}, b},
		{"saved without its text", func(e *editor) { e.type_(doc, a); e.save(doc, nil) }, a},
		{"saved with its text", func(e *editor) { e.type_(doc, a); e.save(doc, new(a)) }, a},
		{"saved with another text", func(e *editor) { e.type_(doc, a); e.save(doc, new(b)) }, b},
		{"saved and never opened", func(e *editor) { e.save(doc, new(b)) }, "none"},
		{"renamed", func(e *editor) { e.type_(other, b); e.close(other); e.type_(doc, b) }, b},
		{"another one closed", func(e *editor) { e.type_(doc, a); e.type_(other, b); e.close(other) }, a},
		{"deleted on the disk and open still", func(e *editor) {
			e.type_(doc, a)
			require.NoError(e.t, e.server.DidChangeWatchedFiles(e.ctx, &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{{URI: doc, Type: protocol.FileChangeTypeDeleted}}}))
		}, a},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := open(t, pushing(), nil)
			test.do(e)
			docs := e.inside().view.Load().docs
			if test.want == "none" {
				assert.NotContains(t, docs, doc)
			} else {
				require.Contains(t, docs, doc)
				assert.Equal(t, test.want, docs[doc].Text())
			}
			assert.NotContains(t, docs, other)
			e.type_(other, "") // and the server goes on
			e.change(other, 77, whole(shell))
			assert.Len(t, e.published(other, 77), 1)
		})
	}
}

// A file has one document, however its address is written.
func TestOneFileOneDocument(t *testing.T) {
	name := "My Dir/é+@#.crochet"
	e := open(t, pulling(), map[string]string{name: "Terms: US\n"})
	doc := at(name)
	plain := "file://" + filepath.ToSlash(doc.FsPath())
	plain = strings.NewReplacer("#", "%23", "é", "%c3%a9").Replace(plain)
	require.NotEqual(t, string(doc), plain)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + plain + `","languageId":"crochet","version":1,"text":` + string(encoded(protocol.String(shell))) + `}}}`)
	got := e.pullAll(nil)
	require.Len(t, got, 1, "the open text is that of the file")
	assert.Len(t, items(t, got[doc]), 1)
	e.close(doc)
	assert.Empty(t, items(t, e.pullAll(nil)[doc]), "the file's own text again")
}

// Whatever cannot be read of a workspace, the rest is reported.
func TestFilesThatCannotBeRead(t *testing.T) {
	e := open(t, pulling(), map[string]string{"a.crochet": shell, "folder.crochet/b.crochet": shell})
	if e.disk.real {
		require.NoError(t, os.Symlink("gone.crochet", filepath.Join(root, "dangling.crochet")))
		require.NoError(t, os.Symlink("folder.crochet", filepath.Join(root, "c.crochet")))
	} else {
		e.disk.unreadable("dangling.crochet")
	}
	got := e.pullAll(nil)
	assert.Len(t, items(t, got[at("a.crochet")]), 1)
	assert.Len(t, items(t, got[at("folder.crochet/b.crochet")]), 1)
	assert.Empty(t, items(t, got[at("dangling.crochet")]))
	for _, name := range []string{"dangling.crochet", "folder.crochet", "none.crochet"} {
		_, err := e.server.Diagnostic(e.ctx, &protocol.DocumentDiagnosticParams{TextDocument: protocol.TextDocumentIdentifier{URI: at(name)}})
		assert.Error(t, err, name)
	}
	e.alive()
}

// A file removed between two reports is taken back, and one that is renamed
// is reported under its new name.
func TestFilesThatGo(t *testing.T) {
	e := open(t, pulling(), map[string]string{"a.crochet": shell, "b.crochet": shell})
	known := map[uri.URI]string{}
	for name, r := range e.pullAll(nil) {
		known[name] = *r.(*protocol.WorkspaceFullDocumentDiagnosticReport).ResultID
	}
	require.Len(t, known, 2)
	e.disk.remove("a.crochet")
	e.disk.remove("b.crochet")
	e.disk.put("c.crochet", shell)
	require.NoError(t, e.server.DidChangeWatchedFiles(e.ctx, &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{
		{URI: at("a.crochet"), Type: protocol.FileChangeTypeDeleted}, {URI: at("b.crochet"), Type: protocol.FileChangeTypeDeleted}, {URI: at("c.crochet"), Type: protocol.FileChangeTypeCreated},
	}}))
	await[struct{}](e, protocol.MethodWorkspaceDiagnosticRefresh, nil)
	got := e.pullAll(known)
	assert.Empty(t, items(t, got[at("a.crochet")]))
	assert.Empty(t, items(t, got[at("b.crochet")]))
	assert.Len(t, items(t, got[at("c.crochet")]), 1)
}

// Three documents are edited by turns, and each ends as a cold lint has it.
func TestIncrementalIsColdInSeveralDocuments(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 22))
	e := open(t, pushing(), nil)
	var docs []uri.URI
	texts := map[uri.URI]string{}
	for i := range 3 {
		doc := at(fmt.Sprintf("%d.crochet", i))
		docs, texts[doc] = append(docs, doc), strings.Repeat(strings.ReplaceAll(shell, "Shell", fmt.Sprintf("Part %d", i)), 4)
		e.type_(doc, texts[doc])
	}
	for version := int32(2); version < 120; version++ {
		doc := docs[random.IntN(len(docs))]
		edit, text := randomChange(random, texts[doc], utf16Units)
		texts[doc] = text
		e.change(doc, version, edit)
		if random.IntN(4) > 0 {
			continue // several are on their way at once
		}
		require.Equal(t, coldly(text, utf16Units), told(e.published(doc, version)), "version %d of %q", version, text)
	}
	for i, doc := range docs {
		e.change(doc, int32(200+i))
		require.Equal(t, coldly(texts[doc], utf16Units), told(e.published(doc, int32(200+i))))
	}
}

// A document whose edit fails inside the server is let go, and not gone on with
// as it was before.
func TestEditThatPanics(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("a.crochet")
	e.type_(doc, shell)
	e.published(doc, 1)
	s := e.inside()
	spoilt := *s.view.Load().docs[doc]
	spoilt.lines = nil
	spoilt.checked = func() *lint.Checked { panic("on purpose") }
	s.put(&spoilt)
	assert.Empty(t, e.published(doc, 1), "what was said of it may be wrong now")
	e.change(doc, 2, part(0, 0, 0, 0, "x"))
	await(e, protocol.MethodWindowShowMessage, func(p *protocol.ShowMessageParams) bool { return strings.Contains(p.Message, "a.crochet") })
	e.change(doc, 3, part(0, 0, 0, 0, "y"))
	e.change(doc, 4, whole(shell))
	assert.Len(t, e.published(doc, 4), 1)
	assert.Contains(t, e.log.String(), "a panic in")
}

// Nothing of a document stays in memory once it is closed.
func TestClosingFrees(t *testing.T) {
	e := open(t, pushing(), nil)
	s := e.inside()
	var kept []weak.Pointer[grammar.File]
	for i := range 20 {
		doc := at(fmt.Sprintf("%d.crochet", i))
		e.type_(doc, shell)
		e.change(doc, 2, part(4, 19, 4, 20, "6"))
		e.published(doc, 2)
		id := protocol.TextDocumentIdentifier{URI: doc}
		_, err := e.server.SemanticTokensFull(e.ctx, &protocol.SemanticTokensParams{TextDocument: id})
		require.NoError(t, err)
		_, err = e.server.InlayHint(e.ctx, &protocol.InlayHintParams{TextDocument: id, Range: all(shell)})
		require.NoError(t, err)
		_, err = e.server.CodeAction(e.ctx, &protocol.CodeActionParams{TextDocument: id, Range: all(shell)})
		require.NoError(t, err)
		_, err = e.server.DocumentSymbol(e.ctx, &protocol.DocumentSymbolParams{TextDocument: id})
		require.NoError(t, err)
		kept = append(kept, weak.Make(s.view.Load().docs[doc].File))
	}
	require.NotNil(t, kept[0].Value(), "an open one is kept")
	for i := range kept {
		e.close(at(fmt.Sprintf("%d.crochet", i)))
		e.published(at(fmt.Sprintf("%d.crochet", i)), 0)
	}
	assert.Empty(t, s.view.Load().docs)
	left := 0
	require.Eventually(t, func() bool {
		runtime.GC()
		left = 0
		for _, k := range kept {
			if k.Value() != nil {
				left++
			}
		}
		return left == 0
	}, patience, 10*time.Millisecond, "texts and trees that are kept")
}
