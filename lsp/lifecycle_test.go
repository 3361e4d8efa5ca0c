package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

func TestExit(t *testing.T) {
	t.Run("after shutdown", func(t *testing.T) {
		e := open(t, pushing(), nil)
		require.NoError(t, e.server.Shutdown(e.ctx))
		_, err := e.conn.Call(e.ctx, protocol.MethodTextDocumentHover, jsonrpc2.RawMessage(`{}`), nil)
		assert.Equal(t, jsonrpc2.InvalidRequest, code(err), "%v", err)
		require.NoError(t, e.server.Exit(e.ctx))
		assert.Equal(t, 0, e.exitCode(), "though its input stays open")
	})
	t.Run("without shutdown", func(t *testing.T) {
		e := open(t, pushing(), nil)
		require.NoError(t, e.server.Exit(e.ctx))
		assert.Equal(t, 1, e.exitCode())
	})
	t.Run("before initialize", func(t *testing.T) {
		e := connect(t, nil)
		require.NoError(t, e.server.Exit(e.ctx))
		assert.Equal(t, 1, e.exitCode())
	})
	t.Run("end of input", func(t *testing.T) {
		e := open(t, pushing(), nil)
		require.NoError(t, e.raw.Close())
		assert.Equal(t, 1, e.exitCode())
	})
	t.Run("end of input after shutdown", func(t *testing.T) {
		e := open(t, pushing(), nil)
		require.NoError(t, e.server.Shutdown(e.ctx))
		require.NoError(t, e.raw.Close())
		assert.Equal(t, 0, e.exitCode())
	})
	t.Run("end of input inside a message", func(t *testing.T) {
		e := open(t, pushing(), nil)
		_, err := e.raw.Write([]byte("Content-Length: 100\r\n\r\n{"))
		require.NoError(t, err)
		require.NoError(t, e.raw.Close())
		assert.Equal(t, 1, e.exitCode())
	})
}

func TestInitializeSaysWhatIsOffered(t *testing.T) {
	e := open(t, pushing(), nil, func(p *protocol.InitializeParams) {
		p.Capabilities.General = &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{protocol.PositionEncodingKindUTF16, protocol.PositionEncodingKindUTF8}}
	})
	c := e.result.Capabilities
	assert.Equal(t, protocol.PositionEncodingKindUTF8, c.PositionEncoding)
	assert.Equal(t, protocol.TextDocumentSyncKindIncremental, *c.TextDocumentSync.(*protocol.TextDocumentSyncOptions).Change)
	assert.True(t, *c.Workspace.WorkspaceFolders.Supported)
	assert.Contains(t, c.ExecuteCommandProvider.Commands, "workeven.showPage")
	assert.Equal(t, "workeven", e.result.ServerInfo.Name)
	assert.Nil(t, c.DiagnosticProvider, "never push and pull both")
}
