package lsp

import (
	"context"
	"fmt"
	"path"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/lint"
)

// pageScheme is that of the pages that the server writes itself; the protocol
// calls them text document contents. They need no network and no file.
const pageScheme = "workeven"

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.Workspace.TextDocumentContent = &protocol.TextDocumentContentOptions{Schemes: []string{pageScheme}}
})

// pages are the writers of pages, by the folder that they stand in: given a
// page's name, its Markdown, or "" where there is no such page.
var pages = map[string]func(s *Server, name string) string{"rules": rulePageText}

// pageURI is where a page is to be found.
func pageURI(folder, name string) uri.URI {
	return uri.URI(pageScheme + ":/" + folder + "/" + name + ".md")
}

// rulePage is where a rule is explained.
func rulePage(rule string) uri.URI { return pageURI("rules", rule) }

// TextDocumentContent writes a page.
func (s *Server) TextDocumentContent(_ context.Context, p *protocol.TextDocumentContentParams) (*protocol.TextDocumentContentResult, error) {
	text := s.page(p.URI)
	if text == "" {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no page %s", p.URI)
	}
	return &protocol.TextDocumentContentResult{Text: text}, nil
}

func (s *Server) page(at uri.URI) string {
	folder, file := path.Split(strings.Trim(at.Path(), "/"))
	write := pages[strings.Trim(folder, "/")]
	if at.Scheme() != pageScheme || write == nil {
		return ""
	}
	return write(s, strings.TrimSuffix(file, ".md"))
}

var _ = command("workeven.showPage", func(ctx context.Context, s *Server, args []protocol.LSPAny) (any, error) {
	var at uri.URI
	if len(args) != 1 || protocol.Unmarshal(args[0], &at) != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "workeven.showPage takes the address of a page")
	}
	text := s.page(at)
	if text == "" {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no page %s", at)
	}
	if s.client.reads && s.client.showsDocuments {
		_, err := s.remote.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: at, TakeFocus: new(true)})
		return nil, err
	}
	return text, nil // the client may show it as it can
})

// rulePageText is a rule's page: all that its declaration says.
func rulePageText(_ *Server, name string) string {
	r := lint.RuleNamed(name)
	if r == nil {
		return ""
	}
	repair := r.Repair
	if repair == "" {
		repair = "None: how to mend it is for you to say."
	}
	return fmt.Sprintf("# %s\n\n%s (%s)\n\n%s\n\n## Found\n\n```crochet\n%s```\n\n## Right\n\n```crochet\n%s```\n\n## Repair\n\n%s\n\nAllow it on one line with `// allow: %s -- why`.\n",
		r.Name, r.Summary, r.Severity, r.Why, r.Bad, r.Good, repair, r.Name)
}
