package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"
)

// session is a server's process with one document, as an editor has it.
type session struct {
	server *server
	doc    document
	cmd    *exec.Cmd
	mark   string
	dir    string
	wire   *wire
	full   bool // the server takes whole texts only

	version int
	slipped bool // whether the document has its slip at present
	nextID  int

	mu        sync.Mutex
	answers   map[string]chan message
	published chan state
	dead      chan struct{}
}

// state is what diagnostics said of the document at one moment: whether there
// is something wrong where the slip is.
type state struct {
	at      time.Time
	slipped bool
	version *int
}

// start begins a session in a fresh process and a folder of its own. limit is
// how long any answer is waited for.
func start(s *server, doc document, base string, limit time.Duration) (*session, error) {
	dir, err := os.MkdirTemp(base, s.name)
	if err != nil {
		return nil, err
	}
	for name, text := range doc.beside {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return nil, err
		}
	}
	if err := os.WriteFile(filepath.Join(dir, doc.file), []byte(doc.text(true)), 0o644); err != nil {
		return nil, err
	}
	x := &session{server: s, doc: doc, dir: dir, mark: newMark(), answers: map[string]chan message{}, published: make(chan state, 10000), dead: make(chan struct{})}
	x.cmd = exec.Command(s.command[0], s.command[1:]...)
	x.cmd.Dir = dir
	x.cmd.Env = append(os.Environ(), x.mark)
	if s.apart {
		own := filepath.Join(dir, ".cache")
		x.cmd.Env = append(x.cmd.Env, "TMPDIR="+dir, "XDG_CACHE_HOME="+own, "XDG_RUNTIME_DIR="+dir)
	}
	in, err := x.cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := x.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if os.Getenv("BENCH_DEBUG") != "" {
		x.cmd.Stderr = os.Stderr
	}
	if err := x.cmd.Start(); err != nil {
		return nil, err
	}
	x.wire = newWire(out, in)
	go x.listen()
	if err := x.initialize(limit); err != nil {
		x.end()
		return nil, err
	}
	return x, nil
}

func (x *session) path() string { return filepath.Join(x.dir, x.doc.file) }
func (x *session) uri() string  { return "file://" + x.path() }

func (x *session) initialize(limit time.Duration) error {
	root := "file://" + x.dir
	text := map[string]any{
		"synchronization":    map[string]any{"didSave": true},
		"publishDiagnostics": map[string]any{"versionSupport": true, "relatedInformation": true, "codeDescriptionSupport": true},
		"hover":              map[string]any{"contentFormat": []string{"markdown", "plaintext"}},
		"completion":         map[string]any{"contextSupport": true, "completionItem": map[string]any{"snippetSupport": true, "documentationFormat": []string{"markdown"}, "resolveSupport": map[string]any{"properties": []string{"documentation", "detail"}}}},
		"inlayHint":          map[string]any{"resolveSupport": map[string]any{"properties": []string{"tooltip"}}},
	}
	if x.server.pull {
		text["diagnostic"] = map[string]any{"dynamicRegistration": false, "relatedDocumentSupport": false}
	}
	m, _, err := x.ask(limit, "initialize", map[string]any{
		"processId": os.Getpid(), "rootUri": root, "rootPath": x.dir,
		"workspaceFolders":      []any{map[string]any{"uri": root, "name": "bench"}},
		"initializationOptions": x.server.options(root),
		"capabilities": map[string]any{
			"textDocument": text,
			"workspace":    map[string]any{"configuration": true, "workspaceFolders": true, "didChangeConfiguration": map[string]any{"dynamicRegistration": true}},
			"general":      map[string]any{"positionEncodings": []string{"utf-8", "utf-16"}},
		},
	})
	if err != nil {
		return err
	}
	var r struct {
		Capabilities struct{ TextDocumentSync json.RawMessage }
	}
	if err := json.Unmarshal(m.Result, &r); err != nil {
		return err
	}
	kind := 0
	if json.Unmarshal(r.Capabilities.TextDocumentSync, &kind) != nil {
		var o struct{ Change int }
		if err := json.Unmarshal(r.Capabilities.TextDocumentSync, &o); err != nil {
			return err
		}
		kind = o.Change
	}
	x.full = kind == 1
	_, err = x.wire.write(note("initialized", map[string]any{}), note("workspace/didChangeConfiguration", map[string]any{"settings": x.server.settings(root)}))
	return err
}

func note(method string, params any) []byte {
	return frame(map[string]any{"method": method, "params": params})
}

// request is one ready to be sent, and where its answer will come in.
func (x *session) request(method string, params any) ([]byte, <-chan message) {
	x.nextID++
	id, answer := x.nextID, make(chan message, 1)
	x.mu.Lock()
	x.answers[strconv.Itoa(id)] = answer
	x.mu.Unlock()
	return frame(map[string]any{"id": id, "method": method, "params": params}), answer
}

// ask sends a request and waits for its answer; before are frames that go out
// at the same go. It gives how long it took from sending to the answer.
func (x *session) ask(limit time.Duration, method string, params any, before ...[]byte) (message, time.Duration, error) {
	f, answer := x.request(method, params)
	began, err := x.wire.write(append(before, f)...)
	if err != nil {
		return message{}, 0, err
	}
	select {
	case m := <-answer:
		if len(m.Error) > 0 && string(m.Error) != "null" {
			return m, 0, fmt.Errorf("%s: %s", method, m.Error)
		}
		return m, m.at.Sub(began), nil
	case <-x.dead:
		return message{}, 0, errors.New("the server has ended")
	case <-time.After(limit):
		return message{}, 0, fmt.Errorf("%s: no answer in %v", method, limit)
	}
}

// listen takes in what the server sends until it ends.
func (x *session) listen() {
	defer close(x.dead)
	for {
		m, err := x.wire.read()
		if err != nil {
			return
		}
		switch {
		case m.Method == "textDocument/publishDiagnostics":
			x.take(m)
		case m.Method != "" && m.ID != nil:
			_, _ = x.wire.write(frame(map[string]any{"id": m.ID, "result": x.reply(m)}))
		case m.Method == "":
			x.mu.Lock()
			answer := x.answers[string(m.ID)]
			delete(x.answers, string(m.ID))
			x.mu.Unlock()
			if answer != nil {
				answer <- m
			}
		}
	}
}

// reply is what the client answers: its settings, and nothing else.
func (x *session) reply(m message) any {
	if m.Method != "workspace/configuration" {
		return nil
	}
	var p struct{ Items []struct{ Section string } }
	if json.Unmarshal(m.Params, &p) != nil {
		return nil
	}
	all := x.server.settings("file://" + x.dir)
	out := make([]any, len(p.Items))
	for i, item := range p.Items {
		out[i] = all[item.Section]
	}
	return out
}

type diagnostic struct {
	Range struct{ Start, End struct{ Line int } }
}

func (x *session) take(m message) {
	var p struct {
		URI         string
		Version     *int
		Diagnostics []diagnostic
	}
	if json.Unmarshal(m.Params, &p) == nil && strings.HasSuffix(p.URI, x.doc.file) {
		x.published <- state{m.at, x.shows(p.Diagnostics), p.Version}
	}
}

// shows is whether diagnostics have one on the line of the slip.
func (x *session) shows(found []diagnostic) bool {
	for _, d := range found {
		if d.Range.Start.Line == x.doc.slip.line {
			return true
		}
	}
	return false
}

// end stops every process of the session, waits until they are gone and takes
// its folder away.
func (x *session) end() {
	_ = x.cmd.Process.Kill()
	for _, p := range marked(x.mark) {
		if process, err := os.FindProcess(p); err == nil {
			_ = process.Kill()
		}
	}
	_ = x.cmd.Wait()
	for tries := 0; len(marked(x.mark)) > 0 && tries < 500; tries++ {
		time.Sleep(10 * time.Millisecond)
	}
	_ = os.RemoveAll(x.dir)
}
