package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
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
	wrapped = "test/wrapped" // fails with one that has a code, inside another
	asks    = "test/asks"    // asks the client for settings, and answers then
	later   = "test/later"   // answers, and logs a line after that
	self    = "test/self"    // hands the server itself to the test that waits for it
)

// waiters is told that a wait has begun.
var waiters atomic.Pointer[chan struct{}]

// selves are the tests that wait for their server, by what they asked with.
var selves sync.Map

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
	_ = raw(wrapped, func(context.Context, *Server, []byte) (any, error) {
		return nil, fmt.Errorf("around it: %w", protocol.ErrContentModified)
	})
	_ = raw(asks, func(ctx context.Context, s *Server, _ []byte) (any, error) {
		got, err := s.remote.Configuration(ctx, &protocol.ConfigurationParams{Items: []protocol.ConfigurationItem{{}}})
		if err != nil {
			return nil, err
		}
		return jsonrpc2.RawMessage(got[0]), nil
	})
	_ = raw(later, func(ctx context.Context, s *Server, _ []byte) (any, error) {
		s.background("what comes later", func(life context.Context) {
			<-ctx.Done() // the request's own is over when it is answered
			if life.Err() == nil {
				s.log.Info("said later")
			}
		})
		return nil, nil
	})
	_ = raw(self, func(_ context.Context, s *Server, params []byte) (any, error) {
		if to, ok := selves.LoadAndDelete(string(params)); ok {
			to.(chan *Server) <- s
		}
		return nil, nil
	})
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

// inside is the server itself.
func (e *editor) inside() *Server {
	e.t.Helper()
	to := make(chan *Server, 1)
	name := `"` + e.t.Name() + `"`
	selves.Store(name, to)
	_, err := e.conn.Call(e.ctx, self, jsonrpc2.RawMessage(name), nil)
	require.NoError(e.t, err)
	return <-to
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
