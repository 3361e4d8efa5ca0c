package lsp

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// patience is how long a test waits for what must come; only a failing test
// waits that long.
const patience = 20 * time.Second

// editor is a client that a test types in.
type editor struct {
	t      testing.TB
	ctx    context.Context
	conn   jsonrpc2.Conn
	server protocol.Server
	disk   *disk
	served
	// answers are what the server's own requests get, by method.
	answers map[string]func(params []byte) (any, error)
	result  *protocol.InitializeResult

	mu   sync.Mutex
	came *sync.Cond
	sent []note // by the server, in order
}

// served is a server, as the one who started it has it.
type served struct {
	// raw is the server's input, for what no sound client sends.
	raw io.WriteCloser
	out io.ReadCloser
	// code is given the exit code.
	code chan int
	log  *lockedBuffer
}

// start is how the editors of the tests get a server.
var start = overPipes

// overPipes runs a server in the process of the test.
func overPipes(ctx context.Context, t testing.TB, files *disk) served {
	toServer, fromEditor, err := os.Pipe()
	require.NoError(t, err)
	toEditor, fromServer, err := os.Pipe()
	require.NoError(t, err)
	r := served{raw: fromEditor, out: toEditor, code: make(chan int, 1), log: &lockedBuffer{}}
	go func() {
		r.code <- Serve(ctx, toServer, fromServer, Options{Files: files, Version: "test", Log: r.log, Level: slog.LevelDebug})
		_ = fromServer.Close()
	}()
	return r
}

// note is one message of the server's.
type note struct {
	method string
	params []byte
}

// capabilities that most tests have.
func pushing() protocol.ClientCapabilities {
	return protocol.ClientCapabilities{TextDocument: &protocol.TextDocumentClientCapabilities{PublishDiagnostics: &protocol.PublishDiagnosticsClientCapabilities{
		DiagnosticsCapabilities: allOfDiagnostics(), VersionSupport: new(true),
	}}}
}

func pulling() protocol.ClientCapabilities {
	return protocol.ClientCapabilities{
		TextDocument: &protocol.TextDocumentClientCapabilities{Diagnostic: &protocol.DiagnosticClientCapabilities{DiagnosticsCapabilities: allOfDiagnostics()}},
		Workspace:    &protocol.WorkspaceClientCapabilities{Diagnostics: &protocol.DiagnosticWorkspaceClientCapabilities{RefreshSupport: new(true)}},
	}
}

func allOfDiagnostics() protocol.DiagnosticsCapabilities {
	return protocol.DiagnosticsCapabilities{
		RelatedInformation: new(true), CodeDescriptionSupport: new(true), DataSupport: new(true),
		TagSupport: protocol.ClientDiagnosticsTagOptions{ValueSet: []protocol.DiagnosticTag{protocol.DiagnosticTagUnnecessary}},
	}
}

// connect starts a server and a connection to it, and does not begin a session.
func connect(t *testing.T, files map[string]string) *editor {
	t.Helper()
	return connectWith(t, files, nil)
}

// connectWith shows somebody every message of the server's besides.
func connectWith(t testing.TB, files map[string]string, show func(body []byte)) *editor {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	e := &editor{t: t, ctx: ctx, disk: &disk{}, answers: map[string]func([]byte) (any, error){}}
	e.came = sync.NewCond(&e.mu)
	e.served = start(ctx, t, e.disk)
	for name, text := range files {
		e.disk.put(name, text)
	}
	e.conn = jsonrpc2.NewConn(&wire{in: bufio.NewReader(e.out), out: e.raw, closes: []io.Closer{e.raw, e.out}, tap: tapped(show)}, jsonrpc2.WithCodec(codec{}))
	e.server = protocol.ServerDispatcher(e.conn)
	e.conn.Go(ctx, e.take)
	t.Cleanup(func() {
		_ = e.raw.Close()
		e.exitCode()
		cancel()
	})
	return e
}

// open begins a session.
func open(t *testing.T, can protocol.ClientCapabilities, files map[string]string, also ...func(*protocol.InitializeParams)) *editor {
	t.Helper()
	e := connect(t, files)
	e.begin(can, also...)
	return e
}

func (e *editor) begin(can protocol.ClientCapabilities, also ...func(*protocol.InitializeParams)) {
	e.t.Helper()
	p := &protocol.InitializeParams{Capabilities: can}
	p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: at(""), Name: "work"}})
	for _, change := range also {
		change(p)
	}
	var err error
	e.result, err = e.server.Initialize(e.ctx, p)
	require.NoError(e.t, err)
	require.NoError(e.t, e.server.Initialized(e.ctx, &protocol.InitializedParams{}))
}

// take is called for what the server sends, in order.
func (e *editor) take(ctx context.Context, req *jsonrpc2.Request) (any, error) {
	n := note{strings.Clone(req.Method()), bytes.Clone(req.Params())}
	e.mu.Lock()
	e.sent = append(e.sent, n)
	e.came.Broadcast()
	e.mu.Unlock()
	if !req.IsCall() {
		return nil, nil
	}
	if answer := e.answers[n.method]; answer != nil {
		jsonrpc2.Async(ctx) // it may take its time
		return answer(n.params)
	}
	return nil, nil
}

// await waits for a message of the server's that answers a question; those up
// to it are forgotten.
func await[P any](e *editor, method string, fits func(*P) bool) *P {
	e.t.Helper()
	timer := time.AfterFunc(patience, func() {
		e.mu.Lock()
		e.came.Broadcast()
		e.mu.Unlock()
	})
	defer timer.Stop()
	deadline := time.Now().Add(patience)
	e.mu.Lock()
	defer e.mu.Unlock()
	for seen := 0; ; {
		for i := seen; i < len(e.sent); i++ {
			if e.sent[i].method != method {
				continue
			}
			p := new(P)
			if params := e.sent[i].params; len(params) > 0 {
				require.NoError(e.t, protocol.Unmarshal(params, p))
			}
			if fits == nil || fits(p) {
				e.sent = e.sent[i+1:]
				return p
			}
		}
		if time.Now().After(deadline) {
			var came strings.Builder
			for _, n := range e.sent {
				came.WriteString(n.method + " " + string(n.params) + "\n")
			}
			require.FailNow(e.t, "the server never sent "+method, "it sent:\n%s\nlog:\n%s", came.String(), e.log)
		}
		seen = len(e.sent)
		e.came.Wait()
	}
}

// sentSoFar counts the messages of one kind that the server sent and no test took.
func (e *editor) sentSoFar(method string) int {
	e.mu.Lock()
	defer e.mu.Unlock()
	n := 0
	for _, s := range e.sent {
		if s.method == method {
			n++
		}
	}
	return n
}

// published waits for the diagnostics of a version of a document.
func (e *editor) published(doc uri.URI, version int32) []protocol.Diagnostic {
	e.t.Helper()
	p := await(e, protocol.MethodTextDocumentPublishDiagnostics, func(p *protocol.PublishDiagnosticsParams) bool {
		v, _ := p.Version.Get()
		return p.URI == doc && v == version
	})
	return p.Diagnostics
}

// type opens a document.
func (e *editor) type_(doc uri.URI, text string) {
	e.t.Helper()
	require.NoError(e.t, e.server.DidOpen(e.ctx, &protocol.DidOpenTextDocumentParams{TextDocument: protocol.TextDocumentItem{URI: doc, LanguageID: "crochet", Version: 1, Text: text}}))
}

// change sends edits of one version.
func (e *editor) change(doc uri.URI, version int32, edits ...protocol.TextDocumentContentChangeEvent) {
	e.t.Helper()
	p := &protocol.DidChangeTextDocumentParams{ContentChanges: edits}
	p.TextDocument.URI, p.TextDocument.Version = doc, version
	require.NoError(e.t, e.server.DidChange(e.ctx, p))
}

func whole(text string) protocol.TextDocumentContentChangeEvent {
	return &protocol.TextDocumentContentChangeWholeDocument{Text: text}
}

// part replaces what stands between two positions.
func part(fromLine, from, toLine, to uint32, text string) protocol.TextDocumentContentChangeEvent {
	return &protocol.TextDocumentContentChangePartial{Range: protocol.Range{Start: protocol.Position{Line: fromLine, Character: from}, End: protocol.Position{Line: toLine, Character: to}}, Text: text}
}

// write sends bytes as they are, with a header.
func (e *editor) write(body string) {
	e.t.Helper()
	_, err := io.WriteString(e.raw, frame(body))
	require.NoError(e.t, err)
}

// exitCode waits for the server to end.
func (e *editor) exitCode() int {
	e.t.Helper()
	select {
	case code := <-e.code:
		e.code <- code
		return code
	case <-time.After(patience):
		require.FailNow(e.t, "the server does not end", "log:\n%s", e.log)
		return -1
	}
}

// alive asks the server something simple, to see that it goes on.
func (e *editor) alive() {
	e.t.Helper()
	r, err := e.server.TextDocumentContent(e.ctx, &protocol.TextDocumentContentParams{URI: rulePage("stitches-left")})
	require.NoError(e.t, err)
	assert.Contains(e.t, r.Text, "stitches-left")
}

func tapped(show func([]byte)) func(string, []byte) {
	return func(way string, body []byte) {
		if show != nil && way == "<-" {
			show(body)
		}
	}
}

// root is the folder that tests work in; it is on no disk, but where the real
// binary is tested.
var root = func() string {
	dir, err := filepath.Abs(filepath.FromSlash("/work-of-tests"))
	if err != nil {
		panic(err)
	}
	return dir
}()

// at is the address of a file in the folder.
func at(name string) uri.URI { return uri.File(filepath.Join(root, filepath.FromSlash(name))) }

// disk holds files in memory, by their names in the folder; and where it is
// real, they are in the folder too.
type disk struct {
	mu    sync.Mutex
	files fstest.MapFS
	real  bool
	// reads is told the name of a file before it is read; nil for nobody.
	reads func(name string)
}

func (d *disk) slow(reads func(name string)) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.reads = reads
}

func (d *disk) put(name, text string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.files == nil {
		d.files = fstest.MapFS{}
	}
	d.files[name] = &fstest.MapFile{Data: []byte(text)}
	if d.real {
		path := filepath.Join(root, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(text), 0o666)); err != nil {
			panic(err)
		}
	}
}

// unreadable puts a link that leads nowhere there.
func (d *disk) unreadable(name string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.files[name] = &fstest.MapFile{Data: []byte("gone"), Mode: fs.ModeSymlink}
}

func (d *disk) remove(name string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.files, name)
	if d.real {
		if err := os.Remove(filepath.Join(root, filepath.FromSlash(name))); err != nil {
			panic(err)
		}
	}
}

// below is a path's name in the folder.
func below(path string) string {
	rel, err := filepath.Rel(root, path)
	if err != nil || !filepath.IsLocal(rel) {
		return "-"
	}
	return filepath.ToSlash(rel)
}

func (d *disk) ReadFile(path string) ([]byte, error) {
	d.mu.Lock()
	reads := d.reads
	d.mu.Unlock()
	if reads != nil {
		reads(below(path))
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.files.ReadFile(below(path))
}

func (d *disk) Exists(path string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	_, err := d.files.Stat(below(path))
	return err == nil
}

func (d *disk) ReadDir(path string) ([]fs.DirEntry, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.files.ReadDir(below(path))
}

// lockedBuffer is a log that may be read while it is written.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}
