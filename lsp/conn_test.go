package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Methods that only tests have.
const (
	echo    = "test/echo"    // answers with a document's text
	wait    = "test/wait"    // waits until it is cancelled
	panics  = "test/panic"   // panics
	plainly = "test/plainly" // fails with an error that has no code
)

// waiters is told that a wait has begun.
var waiters atomic.Pointer[chan struct{}]

var (
	_ = raw(echo, func(ctx context.Context, s *Server, params []byte) (any, error) {
		var doc uri.URI
		if err := protocol.Unmarshal(params, &doc); err != nil {
			return nil, err
		}
		snap, err := s.at(ctx, doc)
		if err != nil {
			return nil, err
		}
		return jsonrpc2.RawMessage(encoded(protocol.String(snap.Text()))), nil
	})
	_ = raw(wait, func(ctx context.Context, _ *Server, _ []byte) (any, error) {
		close(*waiters.Load())
		<-ctx.Done()
		return nil, ctx.Err()
	})
	_ = raw(panics, func(context.Context, *Server, []byte) (any, error) { panic("on purpose") })
	_ = raw(plainly, func(context.Context, *Server, []byte) (any, error) { return nil, fmt.Errorf("no code: %w", io.EOF) })
)

func code(err error) jsonrpc2.Code {
	if e, ok := err.(*jsonrpc2.Error); ok {
		return e.Code
	}
	return 0
}

// bare is a client that writes messages as they are and reads the answers, by id.
type bare struct {
	*editor
	mu      sync.Mutex
	came    *sync.Cond
	answers map[string]jsonrpc2.MessageView
}

func openBare(t *testing.T) *bare {
	t.Helper()
	b := &bare{answers: map[string]jsonrpc2.MessageView{}}
	b.came = sync.NewCond(&b.mu)
	e := connectWith(t, nil, func(body []byte) {
		view, err := jsonrpc2.ScanMessageView(body)
		if err != nil || view.Kind != jsonrpc2.MessageViewResponseResult && view.Kind != jsonrpc2.MessageViewResponseError {
			return
		}
		b.mu.Lock()
		defer b.mu.Unlock()
		b.answers[string(view.IDRaw)] = view.Clone()
		b.came.Broadcast()
	})
	b.editor = e
	e.begin(pushing())
	return b
}

// answer waits for the answer to a request.
func (b *bare) answer(id string) jsonrpc2.MessageView {
	b.mu.Lock()
	defer b.mu.Unlock()
	for {
		if a, ok := b.answers[id]; ok {
			return a
		}
		b.came.Wait()
	}
}

// Edits are carried out in the order of the wire, and a request sees exactly
// those that were sent before it.
func TestOrder(t *testing.T) {
	b := openBare(t)
	doc := at("long.crochet")
	b.type_(doc, "")
	var text strings.Builder
	want := map[string]string{}
	for i := range 3000 {
		line := fmt.Sprintf("Note: %d\n", i)
		b.change(doc, int32(i+2), part(uint32(i), 0, uint32(i), 0, line))
		text.WriteString(line)
		if i%3 == 0 {
			id := strconv.Itoa(1_000_000 + i)
			b.write(`{"jsonrpc":"2.0","id":` + id + `,"method":"` + echo + `","params":"` + string(doc) + `"}`)
			want[id] = text.String()
		}
	}
	for id, text := range want {
		var got string
		require.NoError(t, json.Unmarshal(b.answer(id).Result, &got), "%s", b.answer(id).Error.Raw)
		require.Equal(t, len(text), len(got), "request %s", id)
	}
	assert.Equal(t, text.String(), b.text(doc))
}

// text is the text that the server holds of a document.
func (e *editor) text(doc uri.URI) string {
	e.t.Helper()
	var raw jsonrpc2.RawMessage
	_, err := e.conn.Call(e.ctx, echo, protocol.String(doc), &raw)
	require.NoError(e.t, err)
	var got string
	require.NoError(e.t, json.Unmarshal(raw, &got))
	return got
}

func TestCancel(t *testing.T) {
	for _, id := range []string{"7000000", `"seven"`, "9007199254740993"} {
		t.Run(id, func(t *testing.T) {
			b := openBare(t)
			began := make(chan struct{})
			waiters.Store(&began)
			b.write(`{"jsonrpc":"2.0","id":` + id + `,"method":"` + wait + `"}`)
			<-began
			b.write(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":` + id + `}}`)
			assert.Equal(t, jsonrpc2.Code(protocol.LSPErrorCodesRequestCancelled), b.answer(id).Error.Code)
			b.alive()
		})
	}
}

func TestCancelOfTheClientLibrary(t *testing.T) {
	e := open(t, pushing(), nil)
	began := make(chan struct{})
	waiters.Store(&began)
	ctx, cancel := context.WithCancel(e.ctx)
	go func() { <-began; cancel() }()
	assert.ErrorIs(t, protocol.Call(ctx, e.conn, wait, nil, nil), context.Canceled)
	e.alive()
}

// What would end the connection with the library's own server is answered or
// passed over, and the server goes on.
func TestNothingEndsTheConnection(t *testing.T) {
	notifications := []struct{ name, body string }{
		{"an unknown notification", `{"jsonrpc":"2.0","method":"$/foo"}`},
		{"an unknown notification that should be heard", `{"jsonrpc":"2.0","method":"foo/bar","params":{}}`},
		{"a notification that fails", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///nowhere","version":1},"contentChanges":[{"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":0}},"text":"x"}]}}`},
		{"bad parameters", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":7}}`},
		{"parameters of another kind", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":[1,2]}`},
		{"no parameters", `{"jsonrpc":"2.0","method":"textDocument/didClose"}`},
		{"a cancel of nothing", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{}}`},
		{"a malformed cancel", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":{"a":1}}}`},
		{"a cancel beyond 32 bits", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":99999999999}}`},
		{"no JSON", `{"jsonrpc":"2.0",`},
		{"an answer to no question", `{"jsonrpc":"2.0","id":77,"result":null}`},
		{"an error to no question", `{"jsonrpc":"2.0","id":"x","error":{"code":1,"message":"no"}}`},
		{"a batch", `[{"jsonrpc":"2.0","method":"$/foo"},{"jsonrpc":"2.0","method":"foo"}]`},
		{"another version of JSON-RPC", `{"jsonrpc":"1.0","method":"foo"}`},
		{"a position before the text", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(at("a.crochet")) + `","version":2},"contentChanges":[{"range":{"start":{"line":-1,"character":-5},"end":{"line":0,"character":0}},"text":"x"}]}}`},
	}
	for _, test := range notifications {
		t.Run(test.name, func(t *testing.T) {
			e := open(t, pushing(), nil)
			e.write(test.body)
			e.alive()
		})
	}
	e := open(t, pushing(), nil)
	requests := []struct {
		name, method string
		params       string
		code         jsonrpc2.Code
	}{
		{"an unknown method", "foo/bar", "{}", jsonrpc2.MethodNotFound},
		{"one of the protocol that is not offered", protocol.MethodTextDocumentMoniker, `{"textDocument":{"uri":"file:///a"},"position":{"line":0,"character":0}}`, jsonrpc2.MethodNotFound},
		{"bad parameters", protocol.MethodTextDocumentDiagnostic, `{"textDocument":7}`, jsonrpc2.InvalidParams},
		{"a panic", panics, "{}", jsonrpc2.InternalError},
		{"an error without a code", plainly, "{}", jsonrpc2.InternalError},
		{"a document that is not open", protocol.MethodTextDocumentDiagnostic, `{"textDocument":{"uri":"file:///work-of-tests/none.crochet"}}`, jsonrpc2.InvalidParams},
		{"a second beginning", protocol.MethodInitialize, `{"processId":null,"rootUri":null,"capabilities":{}}`, jsonrpc2.InvalidRequest},
	}
	for _, test := range requests {
		t.Run(test.name, func(t *testing.T) {
			_, err := e.conn.Call(e.ctx, test.method, jsonrpc2.RawMessage(test.params), nil)
			assert.Equal(t, test.code, code(err), "%v", err)
			e.alive()
		})
	}
}

// A notification may panic too.
func TestPanicOfANotification(t *testing.T) {
	e := open(t, pushing(), nil)
	e.write(`{"jsonrpc":"2.0","method":"` + panics + `"}`)
	e.alive()
	assert.Contains(t, e.log.String(), "on purpose")
}

// What clients of earlier versions of the protocol send is understood where
// nothing works without it.
func TestForgives(t *testing.T) {
	e := connect(t, nil)
	var r jsonrpc2.RawMessage
	_, err := e.conn.Call(e.ctx, protocol.MethodInitialize, jsonrpc2.RawMessage(`{"processId":1.0,"rootUri":null,"capabilities":{"textDocument":{"publishDiagnostics":{"tagSupport":true,"versionSupport":true}}}}`), &r)
	require.NoError(t, err)
	doc := at("a.crochet")
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + string(doc) + `","languageId":"crochet","version":null,"text":"Note: a\n"}}}`)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(doc) + `","version":null},"contentChanges":[{"range":{"start":{"line":0.0,"character":6},"end":{"line":0,"character":7}},"rangeLength":1,"text":"b"}]}}`)
	assert.Equal(t, "Note: b\n", e.text(doc))
}

// A document whose edit could not be read is let go until its text is known again.
func TestLostEdit(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("a.crochet")
	e.type_(doc, shell)
	assert.Len(t, e.published(doc, 1), 1)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(doc) + `","version":2},"contentChanges":[{"text":7}]}}`)
	assert.Empty(t, e.published(doc, 0))
	e.change(doc, 3, part(0, 0, 0, 0, "x"))
	e.change(doc, 4, whole(shell))
	assert.Len(t, e.published(doc, 4), 1)
	assert.Equal(t, shell, e.text(doc))
}

func TestNothingBeforeInitialize(t *testing.T) {
	e := connect(t, nil)
	_, err := e.conn.Call(e.ctx, protocol.MethodTextDocumentHover, jsonrpc2.RawMessage(`{}`), nil)
	assert.Equal(t, jsonrpc2.Code(protocol.ErrorCodesServerNotInitialized), code(err), "%v", err)
	e.type_(at("a.crochet"), shell)
	e.begin(pushing())
	e.alive()
	assert.Zero(t, e.sentSoFar(protocol.MethodTextDocumentPublishDiagnostics))
}
