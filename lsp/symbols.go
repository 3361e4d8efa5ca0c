package lsp

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.DocumentSymbolProvider = protocol.Boolean(true)
	c.WorkspaceSymbolProvider = protocol.Boolean(true)
})

// symbol is one entry of a document's outline.
type symbol struct {
	name, detail string
	kind         protocol.SymbolKind
	// from and to are the statements that it covers, both included; label is
	// its name's place in the first.
	from, to int
	label    grammar.Span
	children []*symbol
}

// outline is what a pattern is made up of: its title over all, in it yarns and
// own stitches, pieces with their rounds, and the making up. Without a title
// these stand for themselves.
func outline(f *grammar.File) []*symbol {
	var title *symbol
	var list []*symbol
	var open *symbol // the piece or making up that the statements belong to
	for at, l := range f.Lines {
		x := symbolOf(at, l)
		switch n := l.Node.(type) {
		case grammar.Blank:
			continue
		case *grammar.Text:
			if n.Label == grammar.LabelPattern && title == nil && x != nil {
				title = x
				continue
			}
			x = nil
		case *grammar.Piece, grammar.Assembly:
			open = x
			list = append(list, x)
			continue
		}
		if open != nil {
			if _, comment := l.Node.(grammar.Comment); !comment {
				open.to = at
			}
			if x != nil {
				open.children = append(open.children, x)
			}
		} else if x != nil {
			list = append(list, x)
		}
	}
	if title == nil {
		return list
	}
	title.from, title.to = 0, len(f.Lines)-1
	title.children = list
	return []*symbol{title}
}

// symbolOf is a statement's entry of its own; nil for those that have none.
func symbolOf(at int, l *grammar.Line) *symbol {
	x := &symbol{from: at, to: at}
	switch n := l.Node.(type) {
	case *grammar.Text:
		x.name, x.kind, x.label = n.Content.Text, protocol.SymbolKindModule, n.Content.Span
	case *grammar.Yarn:
		x.name, x.detail, x.kind, x.label = n.Key.Text, n.Name.Text, protocol.SymbolKindVariable, n.Key.Span
		if x.name == "" {
			x.name, x.detail, x.label = n.Name.Text, "", n.Name.Span
		}
	case *grammar.OwnStitch:
		x.name, x.detail, x.kind, x.label = n.Abbr.Text, n.Full.Text, protocol.SymbolKindFunction, n.Abbr.Span
	case *grammar.Piece:
		x.name, x.kind, x.label = n.Name.Text, protocol.SymbolKindClass, n.Name.Span
		x.detail = fmt.Sprintf("make %d", n.Make.N)
	case *grammar.Round:
		x.name, x.kind, x.label = n.Label.In(l.Text), protocol.SymbolKindMethod, n.Label
		if n.Total != nil {
			x.detail = n.Total.Span.In(l.Text)
		}
	case grammar.Assembly:
		x.name, x.kind, x.label = "Making up", protocol.SymbolKindNamespace, said(l)
	case *grammar.Sew, *grammar.PlaceThing, *grammar.Embroider:
		x.label = said(l)
		x.name, x.kind = inOneLine(x.label.In(l.Text)), protocol.SymbolKindEvent
	default:
		return nil
	}
	if strings.TrimSpace(x.name) == "" { // the protocol wants a name
		if x.label = said(l); !x.label.Written() {
			return nil
		}
		x.name = inOneLine(x.label.In(l.Text))
	}
	return x
}

// said spans what a statement says, without blanks around it and its comment.
func said(l *grammar.Line) grammar.Span {
	text := l.Text
	if l.Note.Written() {
		text = text[:l.Note.Start]
	}
	end := len(strings.TrimRight(text, " \t\r\n"))
	start := len(text) - len(strings.TrimLeft(text, " \t\r\n"))
	return grammar.Span{Start: int32(min(start, end)), End: int32(end)}
}

func inOneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// block is where the statements from one to another stand, both included.
func (s *Snapshot) block(from, to int) protocol.Range {
	return s.Range(s.File.Start(from), s.File.Start(to)+len(s.File.Lines[to].Text))
}

// DocumentSymbol is the outline: a tree, or a list for clients that take no tree.
func (s *Server) DocumentSymbol(ctx context.Context, p *protocol.DocumentSymbolParams) (protocol.DocumentSymbolResult, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	tree := outline(doc.File)
	if t := s.client.TextDocument; t != nil && t.DocumentSymbol != nil && is(t.DocumentSymbol.HierarchicalDocumentSymbolSupport) {
		return protocol.DocumentSymbolSlice(treeOf(doc, tree)), nil
	}
	return flattened(doc, protocol.SymbolInformationSlice{}, tree, nil), nil
}

func treeOf(doc *Snapshot, list []*symbol) []protocol.DocumentSymbol {
	out := make([]protocol.DocumentSymbol, len(list))
	for i, x := range list {
		at := x.from
		if x.kind == protocol.SymbolKindModule { // the title, over all
			at = titleAt(doc.File)
		}
		out[i] = protocol.DocumentSymbol{Name: x.name, Kind: x.kind, Range: doc.block(x.from, x.to), SelectionRange: doc.Span(at, x.label)}
		if x.detail != "" {
			out[i].Detail = &x.detail
		}
		if len(x.children) > 0 {
			out[i].Children = treeOf(doc, x.children)
		}
	}
	return out
}

// titleAt is the statement with the pattern's title.
func titleAt(f *grammar.File) int {
	return slices.IndexFunc(f.Lines, func(l *grammar.Line) bool {
		t, ok := l.Node.(*grammar.Text)
		return ok && t.Label == grammar.LabelPattern
	})
}

func flattened(doc *Snapshot, out protocol.SymbolInformationSlice, list []*symbol, in *string) protocol.SymbolInformationSlice {
	for _, x := range list {
		out = append(out, protocol.SymbolInformation{
			BaseSymbolInformation: protocol.BaseSymbolInformation{Name: x.name, Kind: x.kind, ContainerName: in},
			Location:              protocol.Location{URI: doc.URI, Range: doc.block(x.from, x.to)},
		})
		out = flattened(doc, out, x.children, &x.name)
	}
	return out
}

// Symbols finds titles, pieces, yarns and own stitches in all patterns of the
// workspace, open or not, whose names hold the letters asked for in their order.
func (s *Server) Symbols(ctx context.Context, p *protocol.WorkspaceSymbolParams) (protocol.WorkspaceSymbolResult, error) {
	v := s.seen(ctx)
	docs := maps.Clone(v.docs)
	if docs == nil {
		docs = map[uri.URI]*Snapshot{}
	}
	for _, path := range s.patterns(ctx, v) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if doc := uri.File(path); docs[doc] == nil {
			if snap := s.closed.read(s, v, path); snap != nil {
				docs[doc] = snap
			}
		}
	}
	out := protocol.WorkspaceSymbolSlice{}
	for _, doc := range slices.Sorted(maps.Keys(docs)) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		out = symbolsLike(docs[doc], out, outline(docs[doc].File), nil, p.Query)
	}
	return out, nil
}

func symbolsLike(doc *Snapshot, out protocol.WorkspaceSymbolSlice, list []*symbol, in *string, query string) protocol.WorkspaceSymbolSlice {
	for _, x := range list {
		switch x.kind {
		case protocol.SymbolKindModule, protocol.SymbolKindClass, protocol.SymbolKindVariable, protocol.SymbolKindFunction:
			if name := x.inFull(); inOrder(query, name) {
				at := x.from
				if x.kind == protocol.SymbolKindModule {
					at = titleAt(doc.File)
				}
				out = append(out, protocol.WorkspaceSymbol{
					BaseSymbolInformation: protocol.BaseSymbolInformation{Name: name, Kind: x.kind, ContainerName: in},
					Location:              &protocol.Location{URI: doc.URI, Range: doc.Span(at, x.label)},
				})
			}
		}
		out = symbolsLike(doc, out, x.children, &x.name, query)
	}
	return out
}

// inFull is a name with the longer one that a yarn or a stitch has besides:
// clients look for what is asked for in the name alone.
func (x *symbol) inFull() string {
	if x.detail != "" && (x.kind == protocol.SymbolKindVariable || x.kind == protocol.SymbolKindFunction) {
		return x.name + " (" + x.detail + ")"
	}
	return x.name
}

// inOrder says whether a text has the letters of a query in their order,
// whatever the case.
func inOrder(query, text string) bool {
	rest := []rune(strings.ToLower(text))
	for _, q := range strings.ToLower(query) {
		i := slices.Index(rest, q)
		if i < 0 {
			return false
		}
		rest = rest[i+1:]
	}
	return true
}
