package lsp

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"log/slog"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
	"workeven/lint"
)

// Files are the files of the workspace. Paths are absolute, in the system's own
// form; the methods may be called from several goroutines.
type Files interface {
	lint.ConfigFiles
	// ReadDir lists a folder, sorted by name.
	ReadDir(path string) ([]fs.DirEntry, error)
}

// Options are what a server is given by the one who starts it.
type Options struct {
	Files Files
	// Version is what the client is told.
	Version string
	// Log takes lines of text; nothing else is written there.
	Log io.Writer
	// Level is from which level on lines are logged.
	Level slog.Level
	// Idle, where set, is called when an edit has been dealt with and nothing
	// waits. It must return at once.
	Idle func()
}

// Server is one session with one client. Its methods are the protocol's: one
// file a feature adds its own to those here.
type Server struct {
	protocol.UnimplementedServer
	opts Options
	log  *slog.Logger
	logs logging

	wire   *wire
	conn   jsonrpc2.Conn
	remote protocol.Client
	client client
	enc    encoding
	phase  phase
	ended  chan int

	// view is the state that requests see; changing holds those who replace it apart.
	view     atomic.Pointer[view]
	changing sync.Mutex
	pusher   *pusher
	closed   closedFiles
	// asked counts how often settings were asked for, heard is the latest of
	// those whose answer was taken; setting holds it.
	asked   atomic.Int64
	setting sync.Mutex
	heard   int64

	// life ends with the session, and what is asked in it. What runs in the
	// background goes on while working does, which ends with shutdown.
	// Requests may take until reading ends, which no one can cancel them after.
	life, working, reading context.Context
	rest                   context.CancelFunc
}

// view is the state of a session at one moment. It is a value: a change makes a
// new one, so that a request goes on seeing what it arrived at.
type view struct {
	docs     map[uri.URI]*Snapshot
	folders  []folder
	settings *settings
	configs  *lint.Configs
	// wrong are the configurations that do not hold.
	wrong map[uri.URI]fault
}

type viewKey struct{}

// Serve talks to a client until the session ends, and returns the exit code of
// the process: 0 after shutdown, 1 where the client went away without it. A
// read of in may still be waiting then.
func Serve(ctx context.Context, in io.Reader, out io.Writer, opts Options) int {
	s := &Server{opts: opts, ended: make(chan int, 1), wire: newWire(in, out)}
	ctx, die := context.WithCancel(ctx)
	defer die()
	s.life = ctx
	s.working, s.rest = context.WithCancel(ctx)
	defer s.rest()
	s.reading, s.wire.ended = context.WithCancel(ctx)
	defer s.wire.ended()
	s.view.Store(&view{settings: &settings{}, configs: s.newConfigs()})
	s.conn = jsonrpc2.NewConn(s.wire, jsonrpc2.WithCodec(codec{}))
	s.remote = protocol.ClientDispatcher(s.conn)
	s.startLog()
	s.pusher = newPusher(s)
	s.background("warming up", func(context.Context) { warmUp() })
	s.conn.Go(ctx, s.handler())
	select {
	case code := <-s.ended:
		return code
	case <-s.conn.Done():
		if err := s.conn.Err(); err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
			s.log.Error("the connection broke", "why", err)
		}
	case <-ctx.Done():
	}
	select {
	case code := <-s.ended:
		return code
	default:
		return s.exitCode()
	}
}

// warmUp builds parsers and tables, which takes some ten milliseconds, while the
// client is still about its own beginning.
func warmUp() {
	lint.Check(grammar.Parse(lint.RuleNamed("caution-missing").Good), lint.Options{NoFixes: true})
}

// offers is the table of capabilities: each feature's file adds what it offers.
var offers []func(*Server, *protocol.ServerCapabilities)

// offer adds a feature's capability, which may depend on what the client can
// do. A feature's file calls it once, at package level.
func offer(add func(*Server, *protocol.ServerCapabilities)) struct{} {
	offers = append(offers, add)
	return struct{}{}
}

func (s *Server) capabilities() protocol.ServerCapabilities {
	c := protocol.ServerCapabilities{PositionEncoding: s.enc.kind()}
	c.Workspace = &protocol.WorkspaceOptions{}
	for _, add := range offers {
		add(s, &c)
	}
	return c
}

// Request answers methods that the protocol does not have.
func (s *Server) Request(_ context.Context, method string, _ any) (any, error) {
	return nil, jsonrpc2.Errorf(jsonrpc2.MethodNotFound, "there is no method %q", method)
}

// seen is the state that a request arrived at; outside a request, the present one.
func (s *Server) seen(ctx context.Context) *view {
	if v, ok := ctx.Value(viewKey{}).(*view); ok {
		return v
	}
	return s.view.Load()
}

// at is an open document as it was when a request arrived.
func (s *Server) at(ctx context.Context, doc uri.URI) (*Snapshot, error) {
	if snap := s.seen(ctx).docs[doc]; snap != nil {
		return snap, nil
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is not open", doc)
}

// change replaces the state. What is changed must be replaced, not written to.
func (s *Server) change(edit func(*view)) {
	s.changing.Lock()
	defer s.changing.Unlock()
	before := s.view.Load()
	v := *before
	edit(&v)
	s.view.Store(&v)
	s.toldOf(before, &v)
}

// background runs what may ask the client something and wait for its answer,
// which a notification may not, until the session ends.
func (s *Server) background(what string, do func(context.Context)) {
	go func() {
		defer s.survive(what)
		do(s.working)
	}()
}

// idle says that there is nothing more to do for now.
func (s *Server) idle() {
	if s.opts.Idle != nil {
		s.opts.Idle()
	}
}

// survive logs a panic, deferred: one piece of work fails, the server goes on.
func (s *Server) survive(what string) {
	if r := recover(); r != nil {
		s.log.Error("a panic in "+what, "panic", r, "stack", string(debug.Stack()))
	}
}
