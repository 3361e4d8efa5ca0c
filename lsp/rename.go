package lsp

import (
	"context"
	"reflect"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

var _ = offer(func(s *Server, c *protocol.ServerCapabilities) {
	if t := s.client.TextDocument; t != nil && t.Rename != nil && is(t.Rename.PrepareSupport) {
		c.RenameProvider = &protocol.RenameOptions{PrepareProvider: new(true)}
		return
	}
	c.RenameProvider = protocol.Boolean(true)
})

// PrepareRename says which name a place is in; null where there is none to change.
func (s *Server) PrepareRename(ctx context.Context, p *protocol.PrepareRenameParams) (protocol.PrepareRenameResult, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	n := doc.named()
	m := n.under(doc, doc.Offset(p.Position))
	if m == nil {
		return nil, nil
	}
	now := m
	for _, x := range m.of.places {
		if m.changed && x.key == m.key && !x.changed {
			now = x // "Leaf" is what is renamed, where "Leaves" is pointed at
			break
		}
	}
	return &protocol.PrepareRenamePlaceholder{Range: doc.Span(m.at, m.span), Placeholder: now.span.In(doc.File.Lines[now.at].Text)}, nil
}

// Rename gives a yarn, a piece or an own stitch another name everywhere. It is
// refused where the pattern would then mean something else, or could not be read.
func (s *Server) Rename(ctx context.Context, p *protocol.RenameParams) (*protocol.WorkspaceEdit, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	before := doc.named()
	m := before.under(doc, doc.Offset(p.Position))
	if m == nil {
		return nil, refused("there is no yarn, piece or stitch of the pattern's own here to rename")
	}
	name := strings.Join(strings.Fields(p.NewName), " ")
	if err := before.vacant(m, name); err != nil {
		return nil, err
	}
	edits := before.renamed(m, name)
	after, ok := lint.Apply(doc.Text(), edits)
	if !ok {
		return nil, refused("this name cannot be changed here")
	}
	if err := before.holds(namesOf(grammar.Reparse(doc.File, after)), name); err != nil {
		return nil, err
	}
	return s.workspaceEdit(doc, edits), nil
}

func refused(format string, args ...any) error {
	return jsonrpc2.Errorf(jsonrpc2.Code(protocol.LSPErrorCodesRequestFailed), format, args...)
}

// vacant says why a name is not free to be given to what a mention names.
func (n *names) vacant(m *mention, name string) error {
	kind := m.of.kind
	k := foldName(kind, name)
	if k == "" {
		return refused("a %s needs a name", nameKinds[kind])
	}
	if other := n.byKey[kind][k]; other != nil && other != m.of {
		return refused("there is a %s %s already, in line %d", nameKinds[kind], name, n.row(other.places[0].at)+1)
	}
	if kind == stitchName {
		for _, sys := range []terms.System{terms.US, terms.UK} {
			if terms.Find(sys, k) != nil {
				return refused("%s is a stitch of its own already; a stitch of the pattern's own needs another name", name)
			}
		}
	}
	return nil
}

// row is the line of the file, from 0, that a statement begins on.
func (n *names) row(at int) int { return strings.Count(n.file.Text()[:n.file.Start(at)], "\n") }

// renamed are the edits that write another name for the one that a mention has.
func (n *names) renamed(m *mention, name string) []lint.Edit {
	var edits []lint.Edit
	for _, x := range m.of.places {
		if x.key != m.key {
			continue
		}
		new := name
		if x.changed {
			new += "s"
		}
		start := n.file.Start(x.at)
		edits = append(edits, lint.Edit{Start: start + int(x.span.Start), End: start + int(x.span.End), New: new})
	}
	return edits
}

// holds compares the names of a file before and after a renaming: every
// statement must still be of its kind, with no slip that it had not, and every
// name must stand for what it stood for.
func (n *names) holds(after *names, name string) error {
	cannot := func(at int) error {
		return refused("%q cannot be read as a name in line %d", name, n.row(at)+1)
	}
	for at, l := range n.file.Lines {
		if at >= len(after.file.Lines) {
			return cannot(at)
		}
		x := after.file.Lines[at]
		if reflect.TypeOf(l.Node) != reflect.TypeOf(x.Node) || len(x.Faults) > len(l.Faults) {
			return cannot(at)
		}
	}
	if len(n.file.Lines) != len(after.file.Lines) {
		return refused("%q cannot be read as a name", name)
	}
	same := map[*named]*named{}
	for i, m := range n.all {
		if i >= len(after.all) || after.all[i].at != m.at || after.all[i].declares != m.declares || after.all[i].of.kind != m.of.kind {
			return cannot(m.at)
		}
		if was := same[m.of]; was != nil && was != after.all[i].of {
			return cannot(m.at)
		}
		same[m.of] = after.all[i].of
	}
	if len(after.all) > len(n.all) {
		return refused("%q has another meaning already in line %d", name, after.row(after.all[len(n.all)].at)+1)
	}
	return nil
}
