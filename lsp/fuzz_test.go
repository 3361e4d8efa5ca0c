package lsp

import (
	"bytes"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"workeven/grammar"
	"workeven/lint"
)

// fuzzCapabilities are some clients.
var fuzzCapabilities = []string{
	`{}`,
	`{"general":{"positionEncodings":["utf-8"]},"textDocument":{"publishDiagnostics":{"relatedInformation":true,"codeDescriptionSupport":true,"dataSupport":true,"versionSupport":true},"hover":{"contentFormat":["markdown"]}}}`,
	`{"general":{"positionEncodings":["utf-32"]},"workspace":{"diagnostics":{"refreshSupport":true},"configuration":true,"workspaceEdit":{"documentChanges":true}},"textDocument":{"diagnostic":{},"codeAction":{"dataSupport":true,"resolveSupport":{"properties":["edit"]}}},"window":{"workDoneProgress":true,"showDocument":{"support":true}}}`,
}

// fuzzRequests are requests on a document, without their textDocument/.
var fuzzRequests = []string{
	"hover", "completion", "signatureHelp", "definition", "references", "documentHighlight", "documentSymbol", "codeAction", "codeLens",
	"documentLink", "formatting", "rangeFormatting", "onTypeFormatting", "rename", "prepareRename", "foldingRange", "selectionRange",
	"semanticTokens/full", "semanticTokens/full/delta", "semanticTokens/range", "inlayHint", "documentColor", "diagnostic",
}

// fuzzOthers are messages that are of no document.
var fuzzOthers = []string{
	`"method":"workspace/didChangeConfiguration","params":{"settings":{"workeven":{"isolated":true,"logLevel":"warn","hints":{"totals":false}}}}`,
	`"method":"workspace/didChangeConfiguration","params":{"settings":{"config":"other.toml"}}`,
	`"method":"workspace/didChangeWatchedFiles","params":{"changes":[{"uri":"` + string(at(".workeven.toml")) + `","type":2}]}`,
	`"method":"workspace/didChangeWorkspaceFolders","params":{"event":{"added":[{"uri":"file:///else","name":"x"}],"removed":[]}}`,
	`"method":"$/setTrace","params":{"value":"verbose"}`,
	`"method":"$/cancelRequest","params":{"id":3}`,
	`"id":7000,"method":"workspace/diagnostic","params":{"previousResultIds":[],"partialResultToken":"p","workDoneToken":1}`,
	`"id":7001,"method":"workspace/symbol","params":{"query":"a"}`,
	`"id":7002,"method":"workspace/executeCommand","params":{"command":"workeven.showPage","arguments":["workeven:/rules/shape.md"]}`,
	`"id":7003,"method":"workspace/textDocumentContent","params":{"uri":"workeven:/rules/order.md"}`,
}

// script makes messages of arbitrary bytes: mostly such as a client sends, in
// no sensible order.
type script struct {
	bytes []byte
	out   bytes.Buffer
	// next is the last request's id; raw is set where arbitrary messages were
	// sent, which may have any.
	next int
	raw  bool
}

func (s *script) byte() int {
	if len(s.bytes) == 0 {
		return 0
	}
	b := s.bytes[0]
	s.bytes = s.bytes[1:]
	return int(b)
}

func (s *script) take(n int) string {
	n = min(n, len(s.bytes))
	b := s.bytes[:n]
	s.bytes = s.bytes[n:]
	return string(b)
}

func (s *script) send(body string) { s.out.WriteString(frame(`{"jsonrpc":"2.0",` + body + `}`)) }

func (s *script) doc() string { return string(at(fmt.Sprintf("%d.crochet", s.byte()%3))) }

// text is a piece of a pattern, or of arbitrary bytes.
func (s *script) text() string {
	var text string
	switch n := s.byte(); {
	case n < 8:
		text = strings.Repeat(shell, n)
	case n < 16:
		text = hat
	case n < 128:
		text = typed[n%len(typed)]
	default:
		text = s.take(n - 128)
	}
	return string(encoded(protocol.String(text)))
}

func (s *script) position() string {
	line, character := s.byte(), s.byte()
	if line == 255 {
		line = 1 << 31
	}
	return fmt.Sprintf(`{"line":%d,"character":%d}`, line, character)
}

func (s *script) span() string { return `{"start":` + s.position() + `,"end":` + s.position() + `}` }

func (s *script) step() {
	document := func() string { return `"textDocument":{"uri":"` + s.doc() + `","version":` + strconv.Itoa(s.byte()) }
	switch n := s.byte(); {
	case n < 30:
		s.send(`"method":"textDocument/didOpen","params":{` + document() + `,"languageId":"crochet","text":` + s.text() + `}}`)
	case n < 100:
		s.send(`"method":"textDocument/didChange","params":{` + document() + `},"contentChanges":[{"range":` + s.span() + `,"text":` + s.text() + `},{"range":` + s.span() + `,"text":` + s.text() + `}]}`)
	case n < 110:
		s.send(`"method":"textDocument/didChange","params":{` + document() + `},"contentChanges":[{"text":` + s.text() + `}]}`)
	case n < 120:
		s.send(`"method":"textDocument/didClose","params":{` + document() + `}}`)
	case n < 125:
		s.send(`"method":"textDocument/didSave","params":{` + document() + `},"text":` + s.text() + `}`)
	case n < 210:
		method := fuzzRequests[s.byte()%len(fuzzRequests)]
		s.next++
		s.send(fmt.Sprintf(`"id":%d,"method":"textDocument/%s","params":{%s},"position":%s,"range":%s,"positions":[%s],"context":{"includeDeclaration":true,"diagnostics":[],"triggerKind":1},"options":{"tabSize":2,"insertSpaces":true},"newName":%s,"ch":"\n","previousResultId":"1"}`,
			s.next, method, document(), s.position(), s.span(), s.position(), s.text()))
	case n < 230:
		s.send(fuzzOthers[s.byte()%len(fuzzOthers)])
	default:
		s.raw = true
		s.out.WriteString(frame(s.take(s.byte())))
	}
}

// answered is the server's output, and knows which requests were answered.
type answered struct {
	mu   sync.Mutex
	came *sync.Cond
	ids  map[string]int
	bad  string
}

func (a *answered) Write(p []byte) (int, error) { // one whole message
	a.mu.Lock()
	defer a.mu.Unlock()
	_, body, _ := bytes.Cut(p, []byte("\r\n\r\n"))
	view, err := jsonrpc2.ScanMessageView(body)
	switch {
	case len(body) > 0 && body[0] == '[': // the answer to a batch
	case err != nil:
		a.bad = fmt.Sprintf("%q: %v", p, err)
	case view.Kind == jsonrpc2.MessageViewResponseResult || view.Kind == jsonrpc2.MessageViewResponseError:
		a.ids[string(view.IDRaw)]++
	}
	a.came.Broadcast()
	return len(p), nil
}

// wait is until so many requests are answered, or the server has gone.
func (a *answered) wait(n int, gone <-chan int) bool {
	stop := make(chan struct{})
	defer close(stop)
	over := false
	go func() {
		select {
		case <-gone:
		case <-time.After(patience):
		case <-stop:
		}
		a.mu.Lock()
		defer a.mu.Unlock()
		over = true
		a.came.Broadcast()
	}()
	a.mu.Lock()
	defer a.mu.Unlock()
	for {
		missing := 0
		for id := 1; id <= n; id++ {
			if a.ids[strconv.Itoa(id)] == 0 {
				missing++
			}
		}
		if missing == 0 || over {
			return missing == 0
		}
		a.came.Wait()
	}
}

// Whatever messages come, and whatever bytes behind them: nothing panics, each
// request is answered once, every document is in the end as a cold lint has it,
// and the server ends with its input.
func FuzzServer(f *testing.F) {
	f.Add([]byte{1, 0, 0, 1, 3, 40, 0, 2, 4, 7, 4, 20, 40, 0, 0, 0, 0, 20, 150, 0, 0, 2, 4, 8, 4, 8, 4, 9, 4, 9, 20, 215, 6}, []byte("Content-Length: 9\r\n\r\n{"))
	f.Add([]byte{2, 0, 1, 1, 12, 150, 22, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 20, 150, 7, 1, 1, 2, 2, 2, 2, 2, 9, 2, 9, 20, 212, 0, 115, 1, 1}, []byte("\r\n\r\n"))
	f.Add([]byte{0, 240, 20, '{', '"', 'j', 's', 'o', 'n', '"', ':', '[', ']', '}'}, []byte(frame(`{"jsonrpc":"2.0","method":"exit"}`)))
	f.Add([]byte{0, 250, 60, '[', '{', '}', ']'}, []byte{})
	for i := range fuzzRequests {
		f.Add([]byte{byte(i), 5, 0, 1, 9, 5, 1, 1, 3, 150, byte(i), 0, 2, 3, 5, 3, 1, 3, 40, 3, 6, 20, 60, 0, 3, 1, 0, 3, 0, 21, 1, 2, 1, 9, 22, 150, byte(i), 1, 2, 4, 5, 0, 0, 30, 0, 4, 6, 20}, []byte{})
	}
	f.Fuzz(drive)
}

// drive runs a session whose client sends such a script, and bytes behind it.
func drive(t *testing.T, steps, tail []byte) {
	s := &script{bytes: steps}
	s.send(`"id":0,"method":"initialize","params":{"processId":null,"rootUri":"` + string(at("")) + `","capabilities":` + fuzzCapabilities[s.byte()%len(fuzzCapabilities)] + `}`)
	s.send(`"method":"initialized","params":{}`)
	s.send(`"method":"` + self + `","params":"fuzz"`)
	for range 40 {
		if len(s.bytes) == 0 {
			break
		}
		s.step()
	}
	to := make(chan *Server, 1)
	selves.Store(`"fuzz"`, to)
	in, feed := io.Pipe()
	out := &answered{ids: map[string]int{}}
	out.came = sync.NewCond(&out.mu)
	log := &lockedBuffer{}
	files := &disk{}
	files.put("closed.crochet", shell)
	files.put(".workeven.toml", "[rules]\nshape = 'off'\n")
	code, gone := make(chan int, 1), make(chan int, 1)
	go func() {
		c := Serve(t.Context(), in, out, Options{Files: files, Version: "test", Log: log, Level: slog.LevelWarn})
		_ = in.Close()
		code <- c
		gone <- c
	}()
	_, _ = feed.Write(s.out.Bytes()) // which fails where a message says exit
	if !out.wait(s.next, gone) && len(code) == 0 {
		t.Fatalf("%d requests were made, and answered %v\n%s", s.next, out.ids, log)
	}
	if server := <-to; len(code) == 0 {
		server.areCold(t)
	}
	_, _ = feed.Write(tail)
	_ = feed.Close()
	select {
	case <-code:
	case <-time.After(patience):
		t.Fatalf("the server does not end\n%s", log)
	}
	out.mu.Lock()
	defer out.mu.Unlock()
	if out.bad != "" {
		t.Fatal(out.bad)
	}
	for id := 1; id <= s.next; id++ {
		if n := out.ids[strconv.Itoa(id)]; n > 1 && !s.raw {
			t.Fatalf("request %d was answered %d times", id, n)
		}
	}
	if strings.Contains(log.String(), "a panic in") {
		t.Fatal(log.String())
	}
}

// Scripts at random, since the fuzzer gets through few: what runs side by side
// in a server looks like something new to it every time.
func TestServerOnRandomScripts(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	for range 100 {
		steps := make([]byte, 50+random.IntN(400))
		for i := range steps {
			steps[i] = byte(random.IntN(256))
			if random.IntN(3) == 0 {
				steps[i] %= 24 // small numbers are lines that there are
			}
		}
		drive(t, steps, steps[:random.IntN(20)])
	}
}

// areCold holds the documents of a server against a cold lint of their texts.
func (s *Server) areCold(t *testing.T) {
	v := s.view.Load()
	for doc, snap := range v.docs {
		if snap.URI != doc {
			t.Fatalf("%s is %s", doc, snap.URI)
		}
		found := lint.Check(grammar.Parse(snap.Text()), snap.Rules)
		if got, want := says(snap.Findings()), says(found); got != want {
			t.Fatalf("%s is\n%s\n%q\ncold\n%s", doc, got, snap.Text(), want)
		}
	}
}

func says(findings []lint.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		fmt.Fprintln(&b, f.Start, f.End, f.Rule, f.Message)
	}
	return b.String()
}
