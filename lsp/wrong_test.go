package lsp

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// No message of the editor's, however wrong, keeps the server from the next one.
func TestNoMessageEndsTheSession(t *testing.T) {
	change := func(position, rest string) string {
		return `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(at("a.crochet")) + `","version":2},"contentChanges":[{"range":{"start":` + position + `,"end":` + position + `},"text":"x"` + rest + `}]}}`
	}
	deep := strings.Repeat("[", 20000) + strings.Repeat("]", 20000)
	for _, test := range []struct{ name, body string }{
		{"bad parameters", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":7}}`},
		{"parameters of another kind", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":[1,2]}`},
		{"parameters that are no structure", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":"x"}`},
		{"no parameters", `{"jsonrpc":"2.0","method":"textDocument/didClose"}`},
		{"null parameters", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":null}`},
		{"no changes", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(at("a.crochet")) + `","version":2}}}`},
		{"changes that are none", `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"` + string(at("a.crochet")) + `","version":2},"contentChanges":{"a":1}}}`},
		{"an address that is none", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"::: %zz","languageId":"crochet","version":1,"text":""}}}`},
		{"an empty address", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"","languageId":"crochet","version":1,"text":""}}}`},
		{"a position before the text", change(`{"line":-1,"character":-5}`, "")},
		{"a position behind all text", change(`{"line":4294967295,"character":4294967295}`, "")},
		{"a position beyond all numbers", change(`{"line":1e400,"character":99999999999999999999}`, "")},
		{"a position with a point", change(`{"line":0.5,"character":0}`, "")},
		{"no position", change(`null`, "")},
		{"members twice", change(`{"line":0,"character":0}`, `,"text":"y"`)},
		{"members that nobody knows", change(`{"line":0,"character":0,"depth":{"a":[1]}}`, `,"rangeLength":"much"`)},
		{"half of a pair", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + string(at("b.crochet")) + `","languageId":"crochet","version":1,"text":"Note: \ud83d"}}}`},
		{"bytes that are no UTF-8", "{\"jsonrpc\":\"2.0\",\"method\":\"textDocument/didOpen\",\"params\":{\"textDocument\":{\"uri\":\"" + string(at("b.crochet")) + "\",\"languageId\":\"crochet\",\"version\":1,\"text\":\"Note: \xff\xc3\"}}}"},
		{"a NUL", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + string(at("b.crochet")) + `","languageId":"crochet","version":1,"text":"Rnd 1: 6\u0000 sc"}}}`},
		{"deep brackets in a text", `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + string(at("b.crochet")) + `","languageId":"crochet","version":1,"text":"Rnd 1: ` + strings.Repeat("(", 20000) + `"}}}`},
		{"deep parameters", `{"jsonrpc":"2.0","method":"workspace/didChangeConfiguration","params":{"settings":` + deep + `}}`},
		{"a cancel of nothing", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{}}`},
		{"a cancel without parameters", `{"jsonrpc":"2.0","method":"$/cancelRequest"}`},
		{"a cancel of null", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":null}}`},
		{"a cancel of a list", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":[7]}`},
		{"a cancel with a point", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":1.5}}`},
		{"a cancel of what is over", `{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":1}}`},
		{"a cancel as a request", `{"jsonrpc":"2.0","id":1000000,"method":"$/cancelRequest","params":{"id":1}}`},
		{"no JSON", `{"jsonrpc":"2.0",`},
		{"no JSON at all", "\x00\x01\x02"},
		{"nothing but white space", "  \r\n "},
		{"deep JSON", deep},
		{"an empty object", `{}`},
		{"a number", `7`},
		{"null", `null`},
		{"no method", `{"jsonrpc":"2.0","id":1000000}`},
		{"an empty method", `{"jsonrpc":"2.0","method":""}`},
		{"a method that is a number", `{"jsonrpc":"2.0","id":1000000,"method":7}`},
		{"a method with escapes", `{"jsonrpc":"2.0","method":"textDocument\/did\u004fpen","params":{}}`},
		{"a request with no id", `{"jsonrpc":"2.0","id":null,"method":"textDocument/hover","params":{}}`},
		{"an id with a point", `{"jsonrpc":"2.0","id":1.5,"method":"textDocument/hover","params":{}}`},
		{"an id that is an object", `{"jsonrpc":"2.0","id":{},"method":"textDocument/hover","params":{}}`},
		{"an id of many digits", `{"jsonrpc":"2.0","id":123456789012345678901234567890,"method":"textDocument/hover","params":{}}`},
		{"an answer to no question", `{"jsonrpc":"2.0","id":77,"result":null}`},
		{"an error to no question", `{"jsonrpc":"2.0","id":"x","error":{"code":1,"message":"no"}}`},
		{"an answer that is an error too", `{"jsonrpc":"2.0","id":77,"result":1,"error":{"code":1,"message":"no"}}`},
		{"an error that is none", `{"jsonrpc":"2.0","id":77,"error":7}`},
		{"an empty batch", `[]`},
		{"a batch", `[{"jsonrpc":"2.0","method":"$/foo"},{"jsonrpc":"2.0","method":"foo"}]`},
		{"a batch with requests", `[{"jsonrpc":"2.0","id":1000000,"method":"foo"},{"jsonrpc":"2.0","id":1000001,"method":"textDocument/hover","params":{}}]`},
		{"a batch of batches", `[[{"jsonrpc":"2.0","method":"$/foo"}],7]`},
		{"another version of JSON-RPC", `{"jsonrpc":"1.0","method":"foo"}`},
		{"a second beginning", `{"jsonrpc":"2.0","method":"initialized","params":{}}`},
		{"settings of another kind", `{"jsonrpc":"2.0","method":"workspace/didChangeConfiguration","params":{"settings":[{"workeven":7}]}}`},
		{"files that changed and are none", `{"jsonrpc":"2.0","method":"workspace/didChangeWatchedFiles","params":{"changes":[{"uri":"untitled:x.toml","type":9}]}}`},
		{"folders that are none", `{"jsonrpc":"2.0","method":"workspace/didChangeWorkspaceFolders","params":{"event":{"added":[{"uri":"http://a/b","name":""}],"removed":[{"uri":"file:///none","name":""}]}}}`},
		{"a trace of no such kind", `{"jsonrpc":"2.0","method":"$/setTrace","params":{"value":"loud"}}`},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := open(t, pushing(), nil)
			e.type_(at("a.crochet"), shell)
			e.write(test.body)
			e.alive()
			e.write(test.body)
			e.alive()
			assert.NotContains(t, e.log.String(), "a panic in")
			e.change(at("a.crochet"), 9, whole(shell))
			assert.Len(t, e.published(at("a.crochet"), 9), 1)
		})
	}
}

// What stands between messages, or counts them wrongly, costs one message at most.
func TestNoHeaderEndsTheSession(t *testing.T) {
	const aside = `{"jsonrpc":"2.0","method":"$/aside"}`
	headed := func(header string) string { return header + "\r\n\r\n" + aside }
	n := len(aside)
	for _, test := range []struct{ name, bytes string }{
		{"a lower case name", headed(fmt.Sprintf("content-length: %d", n))},
		{"an upper case name and no space", headed(fmt.Sprintf("CONTENT-LENGTH:%d", n))},
		{"a type before the length", headed(fmt.Sprintf("Content-Type: application/vscode-jsonrpc; charset=utf-8\r\nContent-Length: %d", n))},
		{"a type behind the length", headed(fmt.Sprintf("Content-Length: %d\r\nContent-Type: application/vscode-jsonrpc; charset=utf8", n))},
		{"headers that nobody knows", headed(fmt.Sprintf("X-Content-Length: 3\r\nContent-Length: %d\r\nContent-Length-Of-Old: 7", n))},
		{"bare line feeds", strings.ReplaceAll(headed(fmt.Sprintf("Content-Length: %d", n)), "\r", "")},
		{"a length that is no number", headed("Content-Length: many")},
		{"a negative length", headed("Content-Length: -5")},
		{"a length of nothing", headed("Content-Length: 0")},
		{"a length that is too short", headed(fmt.Sprintf("Content-Length: %d", n-20))},
		{"a length that is too long", headed(fmt.Sprintf("Content-Length: %d", n+10))},
		{"no length", headed("Content-Type: x")},
		{"a line of a start script", "loading settings\n"},
		{"a line of a start script without an end", "loading settings"},
		{"a line without an end that is very long", strings.Repeat("x", 200_000)},
		{"blank lines", "\r\n\r\n\n\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := open(t, pushing(), nil)
			_, err := io.WriteString(e.raw, test.bytes)
			require.NoError(t, err)
			e.write(aside) // the one that may be lost
			e.write(aside)
			e.alive()
			e.alive()
		})
	}
}

// A message of many megabytes is one like any other.
func TestGreatMessages(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("great.crochet")
	const lines = 200
	aside := strings.Repeat("// "+strings.Repeat("x", greatBytes/lines)+"\n", lines)
	e.type_(doc, aside+shell)
	require.Len(t, e.published(doc, 1), 1)
	e.change(doc, 2, part(lines+4, 19, lines+4, 20, "6"))
	require.Empty(t, e.published(doc, 2))
	e.change(doc, 3, whole(aside+shell))
	require.Len(t, e.published(doc, 3), 1)
}

// Requests that go wrong are answered with an error, and its code is the protocol's.
func TestRequestsThatGoWrong(t *testing.T) {
	e := open(t, pushing(), nil)
	e.type_(at("a.crochet"), shell)
	document := `{"textDocument":{"uri":"` + string(at("none.crochet")) + `"},"position":{"line":0,"character":0}}`
	for _, test := range []struct {
		name, method, params string
		code                 jsonrpc2.Code
	}{
		{"an unknown method", "foo/bar", "{}", jsonrpc2.MethodNotFound},
		{"an unknown method of no one's", "$/foo", "{}", jsonrpc2.MethodNotFound},
		{"one of the protocol that is not offered", protocol.MethodTextDocumentMoniker, document, jsonrpc2.MethodNotFound},
		{"bad parameters", protocol.MethodTextDocumentHover, `{"textDocument":7}`, jsonrpc2.InvalidParams},
		{"no document", protocol.MethodTextDocumentHover, `{}`, jsonrpc2.InvalidParams},
		{"a list of parameters", protocol.MethodTextDocumentHover, `[1]`, jsonrpc2.InvalidParams},
		{"a document that is not open", protocol.MethodTextDocumentHover, document, jsonrpc2.InvalidParams},
		{"hints of a document that is not open", protocol.MethodTextDocumentInlayHint, `{"textDocument":{"uri":"file:///none.crochet"},"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":0}}}`, jsonrpc2.InvalidParams},
		{"diagnostics of what is neither open nor a file", protocol.MethodTextDocumentDiagnostic, document, jsonrpc2.InvalidParams},
		{"a second beginning", protocol.MethodInitialize, `{"processId":null,"rootUri":null,"capabilities":{}}`, jsonrpc2.InvalidRequest},
		{"a command that there is none of", protocol.MethodWorkspaceExecuteCommand, `{"command":"none"}`, jsonrpc2.InvalidParams},
		{"a page that there is none of", protocol.MethodWorkspaceTextDocumentContent, `{"uri":"workeven:/rules/none.md"}`, jsonrpc2.InvalidParams},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := e.conn.Call(e.ctx, test.method, jsonrpc2.RawMessage(test.params), nil)
			assert.Equal(t, test.code, code(err), "%v", err)
			e.alive()
		})
	}
	require.NoError(t, e.server.Shutdown(e.ctx))
	_, err := e.conn.Call(e.ctx, protocol.MethodTextDocumentHover, jsonrpc2.RawMessage(document), nil)
	assert.Equal(t, jsonrpc2.InvalidRequest, code(err), "behind shutdown: %v", err)
}
