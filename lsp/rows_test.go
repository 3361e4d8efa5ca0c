package lsp

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Each row is a way in which the library's own server, protocol.NewServer of
// go.lsp.dev/protocol v1.0.1, was seen to go wrong when it was measured, or an
// oddity of it that ours has to live with.
func TestWhatTheLibraryGetsWrong(t *testing.T) {
	for _, row := range []struct {
		name string
		run  func(*testing.T)
	}{
		// of order
		{"5,000 changes without a pause are carried out in their order", changesInOrder},
		{"a hover right behind a change is never answered from the older text", hoversAreFresh},
		{"a request in work can be canceled", cancelEndsARequest},
		{"a cancel right behind its request is not missed", cancelRightBehind},
		{"asking the client from a request does not stop the server", asksInARequest},
		{"asking the client from a notification does not stop the server", asksInANotification},
		// of errors
		{"an unknown notification, even $/foo", goesOn(`{"jsonrpc":"2.0","method":"$/foo"}`, `{"jsonrpc":"2.0","method":"foo/bar","params":{}}`)},
		{"a notification that fails", goesOn(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///nowhere","version":1},"contentChanges":[{"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":0}},"text":"x"}]}}`, `{"jsonrpc":"2.0","method":"`+plainly+`"}`)},
		{"malformed parameters of a notification", goesOn(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":7}}`, `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///a","version":null},"contentChanges":null}}`)},
		{"a cancel with an id beyond 32 bits, or a malformed one", goesOn(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":99999999999}}`, `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":{"a":1}}}`)},
		{"a request that panics", errsWith(panics, jsonrpc2.InternalError, "on purpose")},
		{"a notification that panics", notificationPanics},
		{"an error without a code", errsWith(plainly, jsonrpc2.InternalError, "no code")},
		{"an error with a code inside another", errsWith(wrapped, jsonrpc2.Code(protocol.LSPErrorCodesContentModified), "around it")},
		{"the error of a canceled context", cancelOfTheClientLibrary},
		{"exit while the input stays open", exitsWithOpenInput},
		{"exit does not wait for the requests in work", exitsAtWork},
		{"work goes on behind the answer of its request", goesOnBehindTheAnswer},
		{"the log of messages outlives an error as an answer", logOutlivesErrors},
		{"what is kept of a message is not overwritten by the next", keepsItsOwn},
		// of strictness
		{"a whole number with a point, an old flag and a null version", forgivesOlderClients},
	} {
		t.Run(row.name, row.run)
	}
}

// round is the last line of a pattern whose first round has n stitches.
func round(n int) string { return fmt.Sprintf("Rnd 1: %d sc in magic ring (%d)", n, n) }

func changesInOrder(t *testing.T) {
	b := openBare(t)
	doc := at("long.crochet")
	b.type_(doc, "")
	var text strings.Builder
	want := map[string]string{}
	for i := range 5000 {
		line := fmt.Sprintf("Note: %d\n", i)
		b.change(doc, int32(i+2), part(uint32(i), 0, uint32(i), 0, line))
		text.WriteString(line)
		if i%25 == 0 {
			id := strconv.Itoa(1_000_000 + i)
			b.write(`{"jsonrpc":"2.0","id":` + id + `,"method":"` + echo + `","params":"` + string(doc) + `"}`)
			want[id] = text.String()
		}
	}
	for id, text := range want {
		var got string
		require.NoError(t, json.Unmarshal(b.answer(id).Result, &got), "%s", b.answer(id).Error.Raw)
		require.True(t, text == got, "request %s saw %d bytes of text and not exactly the %d sent before it", id, len(got), len(text))
	}
	assert.Equal(t, text.String(), b.text(doc))
}

func hoversAreFresh(t *testing.T) {
	b := openBare(t)
	doc := at("hat.crochet")
	before := "Terms: US\nPiece: A\n"
	b.type_(doc, before+round(1))
	const many = 2000
	for i := range many {
		b.change(doc, int32(i+2), part(2, 0, 2, 200, round(1000+i)))
		b.write(fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"textDocument/hover","params":{"textDocument":{"uri":"%s"},"position":{"line":2,"character":7}}}`, 1_000_000+i, doc))
	}
	for i := range many {
		var got protocol.Hover
		require.NoError(t, protocol.Unmarshal(b.answer(strconv.Itoa(1_000_000+i)).Result, &got))
		n := 1000 + i
		text := got.Contents.(*protocol.MarkupContent).Value
		require.Contains(t, text, strconv.Itoa(n))
		require.NotContains(t, text, strconv.Itoa(n-1), "the text before")
		require.NotContains(t, text, strconv.Itoa(n+1), "the text behind")
	}
}

func cancelEndsARequest(t *testing.T) {
	for _, id := range []string{"7000000", `"seven"`, "9007199254740993", "-5", `""`} {
		b := openBare(t)
		began := make(chan struct{})
		waiters.Store(&began)
		b.write(`{"jsonrpc":"2.0","id":` + id + `,"method":"` + wait + `"}`)
		<-began
		b.write(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":` + id + `}}`)
		assert.Equal(t, jsonrpc2.Code(protocol.LSPErrorCodesRequestCancelled), b.answer(id).Error.Code, id)
		b.alive()
	}
}

func cancelRightBehind(t *testing.T) {
	b := openBare(t)
	for i := range 200 {
		began := make(chan struct{})
		waiters.Store(&began)
		id := strconv.Itoa(1_000_000 + i)
		b.write(`{"jsonrpc":"2.0","id":` + id + `,"method":"` + wait + `"}`)
		b.write(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":` + id + `}}`)
		require.Equal(t, jsonrpc2.Code(protocol.LSPErrorCodesRequestCancelled), b.answer(id).Error.Code)
		<-began
	}
}

func cancelOfTheClientLibrary(t *testing.T) {
	b := openBare(t)
	began := make(chan struct{})
	waiters.Store(&began)
	b.write(`{"jsonrpc":"2.0","id":1000000,"method":"` + wait + `"}`)
	<-began
	b.write(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":1000000}}`)
	assert.Equal(t, protocol.ErrRequestCancelled.Code, b.answer("1000000").Error.Code, "and not 0")
}

func asksInARequest(t *testing.T) {
	e := connect(t, nil)
	asked, release := make(chan struct{}), make(chan struct{})
	e.answers[protocol.MethodWorkspaceConfiguration] = func([]byte) (any, error) {
		close(asked)
		<-release
		return []protocol.LSPAny{[]byte(`"told"`)}, nil
	}
	e.begin(pushing())
	answered := make(chan error, 1)
	var got jsonrpc2.RawMessage
	go func() {
		_, err := e.conn.Call(e.ctx, asks, nil, &got)
		answered <- err
	}()
	<-asked
	e.goesOnMeanwhile()
	close(release)
	require.NoError(t, <-answered)
	assert.Equal(t, `"told"`, string(got))
}

func asksInANotification(t *testing.T) {
	e := connect(t, nil)
	asked, release := make(chan struct{}), make(chan struct{})
	e.answers[protocol.MethodClientRegisterCapability] = func([]byte) (any, error) {
		close(asked)
		<-release
		return nil, nil
	}
	e.begin(watching())
	<-asked
	e.goesOnMeanwhile()
	close(release)
	await[protocol.ConfigurationParams](e, protocol.MethodWorkspaceConfiguration, nil)
	for range 50 { // each asks for the settings anew
		require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte("null")}))
	}
	e.alive()
}

// goesOnMeanwhile sees that edits and requests are dealt with while the server
// waits for the client.
func (e *editor) goesOnMeanwhile() {
	e.t.Helper()
	e.alive()
	doc := at("meanwhile.crochet")
	e.type_(doc, shell)
	assert.Len(e.t, e.published(doc, 1), 1)
}

func goesOn(bodies ...string) func(*testing.T) {
	return func(t *testing.T) {
		for _, body := range bodies {
			e := open(t, pushing(), nil)
			e.write(body)
			e.alive()
		}
	}
}

func errsWith(method string, want jsonrpc2.Code, says string) func(*testing.T) {
	return func(t *testing.T) {
		e := open(t, pushing(), nil)
		_, err := e.conn.Call(e.ctx, method, jsonrpc2.RawMessage("{}"), nil)
		require.Error(t, err)
		assert.Equal(t, want, code(err), "%v", err)
		assert.Contains(t, err.Error(), says)
		e.alive()
	}
}

func notificationPanics(t *testing.T) {
	e := open(t, pushing(), nil)
	e.write(`{"jsonrpc":"2.0","method":"` + panics + `"}`)
	e.alive()
	assert.Contains(t, e.log.String(), "on purpose")
}

func exitsWithOpenInput(t *testing.T) {
	for _, asked := range []bool{true, false} {
		e := open(t, pushing(), nil)
		if asked {
			require.NoError(t, e.server.Shutdown(e.ctx))
		}
		require.NoError(t, e.server.Exit(e.ctx))
		assert.Equal(t, map[bool]int{true: 0, false: 1}[asked], e.exitCode())
	}
}

func exitsAtWork(t *testing.T) {
	for name, end := range map[string]func(*bare){
		"exit":         func(b *bare) { b.write(`{"jsonrpc":"2.0","method":"exit"}`) },
		"end of input": func(b *bare) { require.NoError(t, b.raw.Close()) },
	} {
		b := openBare(t)
		began := make(chan struct{})
		waiters.Store(&began)
		b.write(`{"jsonrpc":"2.0","id":1000000,"method":"` + wait + `"}`)
		<-began
		end(b)
		assert.Equal(t, 1, b.exitCode(), name)
	}
}

func goesOnBehindTheAnswer(t *testing.T) {
	e := open(t, pushing(), nil)
	_, err := e.conn.Call(e.ctx, later, nil, nil)
	require.NoError(t, err)
	await(e, protocol.MethodWindowLogMessage, func(p *protocol.LogMessageParams) bool { return p.Message == "said later" })
}

func logOutlivesErrors(t *testing.T) {
	e := connect(t, nil)
	e.answers[protocol.MethodWorkspaceConfiguration] = func([]byte) (any, error) { return nil, jsonrpc2.Errorf(-32000, "not today") }
	e.begin(watching(), func(p *protocol.InitializeParams) { p.InitializationOptions = []byte(`{"logLevel":"trace"}`) })
	require.Eventually(t, func() bool {
		return strings.Contains(e.log.String(), "the client gave no settings")
	}, patience, time.Millisecond)
	e.alive()
	for _, way := range []string{`msg=<- message=`, `msg=-> message=`, "not today", "workspace/configuration"} {
		assert.Contains(t, e.log.String(), way)
	}
}

// The buffer of a message is used again for the next one, and what the library
// decodes shares one piece of memory with the whole message.
func keepsItsOwn(t *testing.T) {
	e := open(t, pushing(), nil, func(p *protocol.InitializeParams) { p.InitializationOptions = []byte(`{"config":"none/such.toml"}`) })
	doc := at("own.crochet")
	e.type_(doc, "a")
	e.change(doc, 2, part(0, 0, 0, 1, shell)) // a text that is nothing but what came
	for i := range 20 {
		e.type_(at(fmt.Sprintf("%d.crochet", i)), strings.Repeat("#", len(shell)))
	}
	assert.Equal(t, shell, e.text(doc))
	v := e.inside().view.Load()
	assert.Equal(t, "none/such.toml", v.settings.Config)
	assert.Len(t, v.docs, 21)
	for name, snap := range v.docs {
		assert.Equal(t, name, snap.URI)
	}
	assert.Equal(t, at(""), v.folders[0].uri)
}

func forgivesOlderClients(t *testing.T) {
	e := connect(t, nil)
	_, err := e.conn.Call(e.ctx, protocol.MethodInitialize, jsonrpc2.RawMessage(`{"processId":1.0,"rootUri":null,"capabilities":{"textDocument":{"publishDiagnostics":{"tagSupport":true,"versionSupport":true}}}}`), nil)
	require.NoError(t, err)
	doc := at("a.crochet")
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + string(doc) + `","languageId":"crochet","version":null,"text":"Note: a\n"}}}`)
	e.write(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(doc) + `","version":null},"contentChanges":[{"range":{"start":{"line":0.0,"character":6},"end":{"line":0,"character":7}},"rangeLength":1,"text":"b"}]}}`)
	assert.Equal(t, "Note: b\n", e.text(doc))
}
