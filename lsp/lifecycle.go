package lsp

import (
	"context"
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// phase is how far a session has come.
type phase struct{ at atomic.Int32 }

const (
	waiting int32 = iota // for initialize
	running
	ending // shutdown was asked for
)

var (
	errTooEarly = jsonrpc2.NewError(jsonrpc2.Code(protocol.ErrorCodesServerNotInitialized), "the session has not begun: initialize comes first")
	errTwice    = jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the session has begun already")
	errEnding   = jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the session is ending: only exit may follow shutdown")
)

// admits says why a message may not come now; nil where it may.
func (p *phase) admits(method string, call bool) error {
	switch at := p.at.Load(); {
	case method == protocol.MethodExit:
		return nil
	case at == waiting && method != protocol.MethodInitialize:
		return errTooEarly
	case at == running && method == protocol.MethodInitialize:
		return errTwice
	case at == ending:
		return errEnding
	}
	return nil
}

// Initialize settles with the client what each side can do.
func (s *Server) Initialize(_ context.Context, p *protocol.InitializeParams) (*protocol.InitializeResult, error) {
	s.client.learn(p)
	s.enc = chooseEncoding(s.client.encodings)
	v := &view{folders: foldersOf(p), settings: s.readSettings(p.InitializationOptions), configs: s.newConfigs()}
	s.view.Store(v)
	s.follow(v.settings)
	s.setTrace(p.Trace)
	s.phase.at.Store(running)
	s.log.Info("session begun", "client", p.ClientInfo.Name, "positions", s.enc.kind(), "folders", len(v.folders))
	result := &protocol.InitializeResult{
		Capabilities: s.capabilities(),
		ServerInfo:   protocol.ServerInfo{Name: "workeven", Version: protocol.NewOptional(s.opts.Version)},
	}
	return result, nil
}

// Initialized asks for what can only be asked for once the session stands.
func (s *Server) Initialized(context.Context, *protocol.InitializedParams) error {
	s.background("asking for settings", func(ctx context.Context) {
		s.register(ctx)
		s.pullSettings(ctx)
	})
	return nil
}

// Shutdown makes the server ready to exit.
func (s *Server) Shutdown(context.Context) error {
	s.phase.at.Store(ending)
	s.rest()
	return nil
}

// Exit ends the session, and Serve with it.
func (s *Server) Exit(context.Context) error {
	s.end(s.exitCode())
	return nil
}

// exitCode is 0 where shutdown was asked for first, as the protocol has it.
func (s *Server) exitCode() int {
	if s.phase.at.Load() == ending {
		return 0
	}
	return 1
}

// end gives Serve its exit code; the first one holds.
func (s *Server) end(code int) {
	select {
	case s.ended <- code:
	default:
	}
}
