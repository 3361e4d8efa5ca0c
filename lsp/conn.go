package lsp

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// codec encodes with the protocol's own functions, which know its unions.
// Results that are encoded already pass through.
type codec struct{}

func (codec) Marshal(v any) ([]byte, error) {
	if raw, ok := v.(jsonrpc2.RawMessage); ok {
		if raw == nil {
			return []byte("null"), nil
		}
		return raw, nil
	}
	return protocol.Marshal(v)
}

func (codec) Unmarshal(data []byte, v any) error {
	if raw, ok := v.(*jsonrpc2.RawMessage); ok {
		*raw = bytes.Clone(data)
		return nil
	}
	return protocol.Unmarshal(data, v)
}

// handler is what the connection calls for every message:
// guard(cancelling(admit(dispatch))).
//
// The library's own server releases every message at once, so that edits pass
// one another, and ends the connection over an unknown notification, a bad
// parameter or a panic. Here notifications run where they are read, in the order
// of the wire; only requests are released, each with the state that it arrived
// at; and whatever goes wrong is answered or logged, and no more.
func (s *Server) handler() jsonrpc2.Handler {
	dispatch := protocol.ServerHandler(s, jsonrpc2.MethodNotFoundHandler)
	admit := func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		method := req.Method()
		if err := s.phase.admits(method, req.IsCall()); err != nil {
			return nil, err
		}
		if req.IsCall() && method != protocol.MethodInitialize && method != protocol.MethodShutdown {
			ctx = context.WithValue(ctx, viewKey{}, s.view.Load())
			jsonrpc2.Async(ctx)
		}
		// What was read of the request before Async is no longer its own.
		if answer := rawMethods[req.Method()]; answer != nil {
			return answer(ctx, s, req.Params())
		}
		result, err := dispatch(ctx, req)
		if errors.Is(err, jsonrpc2.ErrParse) {
			return s.retry(ctx, req, err)
		}
		return result, err
	}
	return s.guard(s.settled(cancelling(admit)))
}

// settled gives requests a context that stays sound when they are answered. The
// library's own is used again for another request then, while a goroutine that
// context.WithCancel left waiting on it may not even have begun to. The end of
// the input cancels it; CancelHandler adds the client's wish.
func (s *Server) settled(next jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		return next(requestContext{s.reading, ctx}, req)
	}
}

// requestContext lives as long as there is input and knows what a request's own
// context knows.
type requestContext struct {
	context.Context
	own context.Context
}

func (c requestContext) Value(key any) any {
	if v := c.Context.Value(key); v != nil {
		return v
	}
	return c.own.Value(key)
}

// rawMethods are requests that are decoded and encoded by their feature, since
// the protocol's own types would be slow for thousands of elements. A feature's
// file adds its own with raw.
var rawMethods = map[string]func(ctx context.Context, s *Server, params []byte) (any, error){}

func raw(method string, answer func(ctx context.Context, s *Server, params []byte) (any, error)) struct{} {
	rawMethods[method] = answer
	return struct{}{}
}

// guard keeps the connection alive: an error of a notification is logged, and
// an error or a panic of a request is its answer.
func (s *Server) guard(next jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (result any, err error) {
		call, method, began := req.IsCall(), strings.Clone(req.Method()), time.Now()
		defer func() {
			if r := recover(); r != nil {
				s.log.Error("a panic in "+method, "panic", r, "stack", string(debug.Stack()))
				result, err = nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "%s failed: %v", method, r)
			}
			s.traced(method, began, err)
			switch {
			case err == nil:
			case call:
				result, err = nil, answer(ctx, err)
			default:
				s.unheard(method, err)
				result, err = nil, nil
			}
		}()
		return next(ctx, req)
	}
}

// answer is an error as the client is told it, with a code of the protocol's.
func answer(ctx context.Context, err error) error {
	var coded *jsonrpc2.Error
	switch {
	case errors.Is(err, jsonrpc2.ErrParse):
		return jsonrpc2.NewError(jsonrpc2.InvalidParams, err.Error())
	case errors.As(err, &coded):
		return err
	case ctx.Err() != nil || errors.Is(err, context.Canceled):
		return protocol.ErrRequestCancelled
	}
	return jsonrpc2.NewError(jsonrpc2.InternalError, err.Error())
}

// unheard logs a notification that came to nothing. Those that begin with $/
// may be left unheard by the protocol.
func (s *Server) unheard(method string, err error) {
	switch {
	case errors.Is(err, errTooEarly), strings.HasPrefix(method, "$/") && errors.Is(err, jsonrpc2.ErrMethodNotFound):
		s.log.Debug("passed over "+method, "why", err)
	default:
		s.log.Warn("passed over "+method, "why", err)
	}
}

// cancelling lets $/cancelRequest end the context of a request in work. It
// stands outside admit, so that a request is known before the next message is read.
func cancelling(next jsonrpc2.Handler) jsonrpc2.Handler {
	next, cancel := jsonrpc2.CancelHandler(next)
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		if req.Method() != protocol.MethodCancelRequest {
			return next(ctx, req)
		}
		id, err := cancelled(req.Params())
		if err != nil {
			return nil, err
		}
		cancel(id)
		return nil, nil
	}
}

// cancelled reads the id of the request to cancel: any integer, or a string.
func cancelled(params []byte) (jsonrpc2.ID, error) {
	var p struct {
		ID json.RawMessage `json:"id"`
	}
	if err := json.Unmarshal(params, &p); err != nil {
		return jsonrpc2.ID{}, fmt.Errorf("%w: %w", jsonrpc2.ErrInvalidParams, err)
	}
	var name string
	if json.Unmarshal(p.ID, &name) == nil && len(p.ID) > 0 && p.ID[0] == '"' {
		return jsonrpc2.NewStringID(name), nil
	}
	var n int64
	if len(p.ID) == 0 || json.Unmarshal(p.ID, &n) != nil {
		return jsonrpc2.ID{}, fmt.Errorf("%w: no id to cancel", jsonrpc2.ErrInvalidParams)
	}
	return jsonrpc2.NewNumberID(n), nil
}

// retry reads parameters once more in a way that forgives what clients of
// earlier versions of the protocol send. It does so for the messages that
// nothing works without; others stay refused.
func (s *Server) retry(ctx context.Context, req *jsonrpc2.Request, refused error) (any, error) {
	params, ok := forgive(req.Params())
	if !ok {
		return nil, refused
	}
	switch req.Method() {
	case protocol.MethodInitialize:
		var p protocol.InitializeParams
		if protocol.Unmarshal(params, &p) != nil {
			return nil, refused
		}
		return s.Initialize(ctx, &p)
	case protocol.MethodTextDocumentDidOpen:
		return nil, retried(ctx, params, refused, s.DidOpen)
	case protocol.MethodTextDocumentDidChange:
		err := retried(ctx, params, refused, s.DidChange)
		if errors.Is(err, refused) {
			s.lostEdit(params)
		}
		return nil, err
	case protocol.MethodTextDocumentDidClose:
		return nil, retried(ctx, params, refused, s.DidClose)
	case protocol.MethodTextDocumentDidSave:
		return nil, retried(ctx, params, refused, s.DidSave)
	}
	return nil, refused
}

func retried[P any](ctx context.Context, params []byte, refused error, do func(context.Context, *P) error) error {
	var p P
	if protocol.Unmarshal(params, &p) != nil {
		return refused
	}
	return do(ctx, &p)
}

// forgive rewrites parameters: a null version is 0, a number with nothing but
// zeros behind its point is whole, and a `true` where there now is an object is
// left out.
func forgive(params []byte) ([]byte, bool) {
	dec := json.NewDecoder(bytes.NewReader(params))
	dec.UseNumber()
	var tree any
	if dec.Decode(&tree) != nil {
		return nil, false
	}
	out, err := json.Marshal(forgiven(tree))
	return out, err == nil
}

func forgiven(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			switch _, flag := x.(bool); {
			case k == "version" && x == nil:
				v[k] = 0
			case k == "tagSupport" && flag:
				delete(v, k)
			default:
				v[k] = forgiven(x)
			}
		}
	case []any:
		for i := range v {
			v[i] = forgiven(v[i])
		}
	case json.Number:
		if whole, zeros, ok := strings.Cut(v.String(), "."); ok && strings.Trim(zeros, "0") == "" {
			return json.Number(whole)
		}
	}
	return v
}
