package lsp

import (
	"context"
	"maps"
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// runCommand carries a command out; its result is encoded for the client.
type runCommand func(ctx context.Context, s *Server, args []protocol.LSPAny) (any, error)

var commands = map[string]runCommand{}

// command adds one that the client may have carried out. A feature's file calls
// it once for each, at package level.
func command(name string, run runCommand) struct{} {
	commands[name] = run
	return struct{}{}
}

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.ExecuteCommandProvider = protocol.ExecuteCommandOptions{Commands: slices.Sorted(maps.Keys(commands))}
})

// ExecuteCommand carries a command out.
func (s *Server) ExecuteCommand(ctx context.Context, p *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	run := commands[p.Command]
	if run == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no command %q", p.Command)
	}
	result, err := run(ctx, s, p.Arguments)
	if err != nil || result == nil {
		return nil, err
	}
	return protocol.Marshal(result)
}
