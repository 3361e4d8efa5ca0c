package lsp

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

func (e *editor) settle(settings string) {
	e.t.Helper()
	require.NoError(e.t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte(settings)}))
}

// bye ends the session, after which the log is whole.
func (e *editor) bye() string {
	e.t.Helper()
	require.NoError(e.t, e.server.Shutdown(e.ctx))
	require.NoError(e.t, e.server.Exit(e.ctx))
	assert.Equal(e.t, 0, e.exitCode())
	return e.log.String()
}

// The level is that of the command, until a setting names another one.
func TestLogLevel(t *testing.T) {
	const mark = "workspace/textDocumentContent"
	for level, want := range map[string]int{"trace": 3, "debug": 1, "info": 0, "warn": 0, "error": 0} {
		e := open(t, pushing(), nil, func(p *protocol.InitializeParams) { p.InitializationOptions = []byte(`{"logLevel":"error"}`) })
		e.settle(`{"logLevel":"` + level + `"}`)
		e.alive()
		e.settle(`{"logLevel":"error"}`)
		e.alive()
		said := 0
		for line := range strings.Lines(e.bye()) {
			if strings.Contains(line, "window/logMessage") {
				continue // the client's own log
			}
			if strings.Contains(line, mark) || strings.Contains(line, "msg=->") && strings.Contains(line, "stitches-left") {
				said++
			}
		}
		assert.Equal(t, want, said, level)
	}
}

// Lines of the log go to the client too, with their kind; messages do not.
func TestLogOfTheClient(t *testing.T) {
	e := open(t, pushing(), nil)
	begun := await(e, protocol.MethodWindowLogMessage, func(p *protocol.LogMessageParams) bool { return strings.Contains(p.Message, "session begun") })
	assert.Equal(t, protocol.MessageTypeInfo, begun.Type)
	e.settle(`{"logLevel":"trace"}`)
	e.write(`{"jsonrpc":"2.0","method":"foo/bar"}`)
	warned := await(e, protocol.MethodWindowLogMessage, func(p *protocol.LogMessageParams) bool {
		return strings.Contains(p.Message, "foo/bar") && strings.Contains(p.Message, "passed over")
	})
	assert.Equal(t, protocol.MessageTypeWarning, warned.Type)
	e.alive()
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, n := range e.sent {
		assert.NotContains(t, string(n.params), "<- message", "to log a message must not make another")
	}
}

// What the client asked to be told of every message comes in their order, and
// stops when it is asked to.
func TestTrace(t *testing.T) {
	e := open(t, pushing(), nil, func(p *protocol.InitializeParams) { p.Trace = protocol.TraceValueMessages })
	for i := range 20 {
		e.write(fmt.Sprintf(`{"jsonrpc":"2.0","method":"$/%d"}`, i))
	}
	for i := range 20 {
		await(e, protocol.MethodLogTrace, func(p *protocol.LogTraceParams) bool {
			return strings.HasPrefix(p.Message, fmt.Sprintf("$/%d took", i))
		})
	}
	require.NoError(t, e.server.SetTrace(e.ctx, &protocol.SetTraceParams{Value: protocol.TraceValueOff}))
	e.write(`{"jsonrpc":"2.0","method":"$/unheard"}`)
	require.NoError(t, e.server.SetTrace(e.ctx, &protocol.SetTraceParams{Value: protocol.TraceValueVerbose}))
	e.write(`{"jsonrpc":"2.0","method":"$/heard"}`)
	await(e, protocol.MethodLogTrace, func(p *protocol.LogTraceParams) bool {
		assert.NotContains(t, p.Message, "$/unheard")
		return strings.HasPrefix(p.Message, "$/heard took")
	})
}
