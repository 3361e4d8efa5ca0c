package lsp

import (
	"errors"
	"fmt"
	"strings"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// mentions shows the lines where what is named at a place is mentioned.
func (e *editor) mentions(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	p := &protocol.ReferenceParams{TextDocumentPositionParams: where}
	p.Context.IncludeDeclaration = true
	list, err := reply[[]protocol.Location](e, protocol.MethodTextDocumentReferences, p)
	require.NoError(e.t, err)
	return e.locations(text, list)
}

// declared shows the lines that a name leads to.
func (e *editor) declared(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	list, err := reply[[]protocol.Location](e, protocol.MethodTextDocumentDefinition, &protocol.DefinitionParams{TextDocumentPositionParams: where})
	require.NoError(e.t, err)
	return e.locations(text, list)
}

func (e *editor) locations(text string, list []protocol.Location) string {
	e.t.Helper()
	var b strings.Builder
	for _, l := range list {
		require.Equal(e.t, at("shown.crochet"), l.URI)
		b.WriteString(withMarks(text, l.Range))
	}
	return orNothing(b.String())
}

// highlights shows the lines that light up with a name: where it is written,
// and where read.
func (e *editor) highlights(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	list, err := reply[[]protocol.DocumentHighlight](e, protocol.MethodTextDocumentDocumentHighlight, &protocol.DocumentHighlightParams{TextDocumentPositionParams: where})
	require.NoError(e.t, err)
	kinds := map[protocol.DocumentHighlightKind]string{protocol.DocumentHighlightKindRead: "read", protocol.DocumentHighlightKindWrite: "write"}
	var b strings.Builder
	for _, h := range list {
		require.Contains(e.t, kinds, h.Kind)
		b.WriteString(kinds[h.Kind] + " " + withMarks(text, h.Range))
	}
	return orNothing(b.String())
}

// renamed shows which name a client is given to change, and the lines as they
// become: "rename 7 "A" MC" calls it MC. Or why it cannot be called so.
func (e *editor) renamed(text, head string) string {
	e.t.Helper()
	where, name := e.placed(text, head)
	ready, err := reply[*protocol.PrepareRenamePlaceholder](e, protocol.MethodTextDocumentPrepareRename, &protocol.PrepareRenameParams{TextDocumentPositionParams: where})
	require.NoError(e.t, err)
	shown := "no name\n"
	if ready != nil {
		shown = withMarks(text, ready.Range) + "  " + ready.Placeholder + " becomes\n"
	}
	edit, err := reply[*protocol.WorkspaceEdit](e, protocol.MethodTextDocumentRename, &protocol.RenameParams{TextDocumentPositionParams: where, NewName: name})
	var refusal *jsonrpc2.Error
	if errors.As(err, &refusal) {
		require.EqualValues(e.t, protocol.LSPErrorCodesRequestFailed, refusal.Code)
		return shown + "refused: " + refusal.Message + "\n"
	}
	require.NoError(e.t, err)
	require.NotNil(e.t, ready, "what cannot be prepared cannot be renamed")
	return shown + changedLines(e.t, text, afterEdit(e.t, text, edit))
}

// found shows what of the folder's patterns a query finds, by file and line.
func (e *editor) found(_, head string) string {
	e.t.Helper()
	var query string
	_, err := fmt.Sscanf(head, "symbols %q", &query)
	require.NoError(e.t, err, head)
	list, err := reply[[]protocol.WorkspaceSymbol](e, protocol.MethodWorkspaceSymbol, &protocol.WorkspaceSymbolParams{Query: query})
	require.NoError(e.t, err)
	var b strings.Builder
	for _, x := range list {
		place := x.Location.(*protocol.Location)
		fmt.Fprintf(&b, "%s:%d: %s %s", below(place.URI.FsPath()), place.Range.Start.Line+1, symbolKinds[x.Kind], x.Name)
		if x.ContainerName != nil {
			b.WriteString(", in " + *x.ContainerName)
		}
		b.WriteString("\n")
	}
	return orNothing(b.String())
}
