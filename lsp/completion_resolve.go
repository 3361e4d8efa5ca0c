package lsp

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar/terms"
	"workeven/lint"
)

// proposalData is what a proposal is told about by, once it is looked at: one of
// a stitch by its ID, a label, a rule, a piece or yarn of the document by its
// name, or a line that would stand there.
type proposalData struct {
	Stitch string `json:"stitch,omitzero"`
	Label  string `json:"label,omitzero"`
	Rule   string `json:"rule,omitzero"`
	Piece  string `json:"piece,omitzero"`
	Yarn   string `json:"yarn,omitzero"`
	UK     bool   `json:"uk,omitzero"`
	// Line is put in place of the bytes from Start to End.
	Line  string `json:"line,omitzero"`
	Start int    `json:"start,omitzero"`
	End   int    `json:"end,omitzero"`
	// Doc and Version are the document's, where it is looked into.
	Doc     uri.URI `json:"doc,omitzero"`
	Version int32   `json:"version,omitzero"`
}

// told has a proposal be told about later.
func (c *completing) told(item *protocol.CompletionItem, d proposalData) {
	d.UK = c.system() == terms.UK
	if d.Piece != "" || d.Yarn != "" || d.Line != "" {
		d.Doc, d.Version = c.URI, c.Version
	}
	if data, err := protocol.Marshal(&d); err == nil {
		item.Data = data
	}
}

func (c *completing) system() terms.System { return c.Pattern().Header.System }

// CompletionResolve tells of a proposal what it is.
func (s *Server) CompletionResolve(ctx context.Context, item *protocol.CompletionItem) (*protocol.CompletionItem, error) {
	var d proposalData
	if len(item.Data) == 0 || protocol.Unmarshal(item.Data, &d) != nil {
		return item, nil
	}
	var snap *Snapshot
	if d.Doc != "" {
		if snap = s.seen(ctx).docs[d.Doc]; snap == nil || snap.Version != d.Version {
			return item, nil // it would tell of another text
		}
	}
	if p := d.page(snap); len(p) > 0 {
		item.Documentation = s.client.documentation(p)
	}
	return item, nil
}

// page tells of a proposal; snap is its document where it is looked into.
func (d *proposalData) page(snap *Snapshot) page {
	sys := terms.US
	if d.UK {
		sys = terms.UK
	}
	switch {
	case d.Label != "":
		return labelPage(sys, d.Label)
	case d.Stitch != "":
		if st := terms.ByID(d.Stitch); st != nil {
			return explained(lint.ExplainStitch(st, sys))
		}
	case d.Rule != "":
		if r := lint.RuleNamed(d.Rule); r != nil {
			return rulePageShort(r)
		}
	case snap == nil:
	case d.Piece != "":
		if x := snap.Pattern().Named(d.Piece); x != nil {
			return piecePage(snap.Pattern(), x)
		}
	case d.Yarn != "":
		for _, y := range snap.Pattern().Header.Yarns {
			if y.Key.Text == d.Yarn {
				return yarnPage(snap.Pattern(), y)
			}
		}
	case d.Start <= d.End && d.End <= snap.Len():
		p, piece, r := snap.with(d.Start, d.End, d.Line)
		if r != nil {
			return roundPage(p, piece, r)
		}
	}
	return nil
}

// documentation is a page as the client takes it beside a proposal.
func (c *client) documentation(p page) *protocol.MarkupContent {
	if t := c.TextDocument; t != nil && t.Completion != nil && t.Completion.CompletionItem != nil {
		return p.as(t.Completion.CompletionItem.DocumentationFormat)
	}
	return p.as(nil)
}
