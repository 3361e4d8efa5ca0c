package lsp

import (
	"context"
	"errors"
	"log/slog"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/protocol"
)

// LevelTrace logs every message of the wire, to the log only.
const LevelTrace = slog.LevelDebug - 4

// ParseLevel reads the name of a level of the log.
func ParseLevel(name string) (slog.Level, error) {
	if strings.EqualFold(name, "trace") {
		return LevelTrace, nil
	}
	var l slog.Level
	if err := l.UnmarshalText([]byte(name)); err != nil {
		return 0, errors.New("a level is one of trace, debug, info, warn, error")
	}
	return l, nil
}

// logging is where log lines go: to the writer that the server was given, and
// to the client's own log.
type logging struct {
	level slog.LevelVar
	// lines are sent to the client one after another, from a queue that drops
	// rather than blocks: who logs may be holding the wire that the client must
	// read from first.
	lines chan func(context.Context) error
	// trace is set where the client asked to be told of every message.
	trace atomic.Bool
}

const mostLines = 256

func (s *Server) startLog() {
	s.logs.level.Set(s.opts.Level)
	s.logs.lines = make(chan func(context.Context) error, mostLines)
	s.log = slog.New(&logHandler{s: s, out: slog.NewTextHandler(s.opts.Log, &slog.HandlerOptions{Level: &s.logs.level})})
	s.wire.tap = func(way string, message []byte) {
		if s.log.Enabled(context.Background(), LevelTrace) {
			s.log.Log(context.Background(), LevelTrace, way, "message", string(message))
		}
	}
	s.background("the log", func(ctx context.Context) {
		for {
			select {
			case send := <-s.logs.lines:
				_ = send(ctx)
			case <-ctx.Done():
				return
			}
		}
	})
}

// logHandler writes each line twice.
type logHandler struct {
	s   *Server
	out slog.Handler
	mu  sync.Mutex
}

func (h *logHandler) Enabled(_ context.Context, l slog.Level) bool {
	return l >= h.s.logs.level.Level()
}

func (h *logHandler) Handle(ctx context.Context, r slog.Record) error {
	h.mu.Lock()
	err := h.out.Handle(ctx, r)
	h.mu.Unlock()
	if r.Level <= LevelTrace {
		return err // logging a message must not make another
	}
	var b strings.Builder
	b.WriteString(r.Message)
	r.Attrs(func(a slog.Attr) bool {
		b.WriteString(" " + a.Key + "=" + a.Value.String())
		return true
	})
	line := &protocol.LogMessageParams{Type: messageType(r.Level), Message: b.String()}
	h.s.logs.queue(func(ctx context.Context) error { return h.s.remote.LogMessage(ctx, line) })
	return err
}

func (l *logging) queue(send func(context.Context) error) {
	select {
	case l.lines <- send:
	default:
	}
}

// WithAttrs and WithGroup are part of slog's interface; nothing here groups.
func (h *logHandler) WithAttrs([]slog.Attr) slog.Handler { return h }
func (h *logHandler) WithGroup(string) slog.Handler      { return h }

func messageType(l slog.Level) protocol.MessageType {
	switch {
	case l >= slog.LevelError:
		return protocol.MessageTypeError
	case l >= slog.LevelWarn:
		return protocol.MessageTypeWarning
	case l >= slog.LevelInfo:
		return protocol.MessageTypeInfo
	}
	return protocol.MessageTypeLog
}

// SetTrace turns the client's trace of the messages on or off.
func (s *Server) SetTrace(_ context.Context, p *protocol.SetTraceParams) error {
	s.setTrace(p.Value)
	return nil
}

func (s *Server) setTrace(v protocol.TraceValue) {
	s.logs.trace.Store(v == protocol.TraceValueMessages || v == protocol.TraceValueVerbose)
}

// traced tells of a message that was dealt with, and how long that took.
func (s *Server) traced(method string, began time.Time, err error) {
	took := time.Since(began)
	if err != nil {
		s.log.Debug(method, "took", took, "error", err)
	} else {
		s.log.Debug(method, "took", took)
	}
	if !s.logs.trace.Load() {
		return
	}
	message := method + " took " + took.Round(time.Microsecond).String()
	if err != nil {
		message += ": " + err.Error()
	}
	s.logs.queue(func(ctx context.Context) error {
		return s.remote.LogTrace(ctx, &protocol.LogTraceParams{Message: message})
	})
}

// tell shows the user a message that needs to be seen, and logs it.
func (s *Server) tell(message string) {
	s.log.Warn(message)
	s.background("a message", func(ctx context.Context) {
		_ = s.remote.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeWarning, Message: message})
	})
}
