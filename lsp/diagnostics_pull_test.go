package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func (e *editor) pull(doc uri.URI, previous *string) protocol.DocumentDiagnosticReport {
	e.t.Helper()
	r, err := e.server.Diagnostic(e.ctx, &protocol.DocumentDiagnosticParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}, PreviousResultID: previous})
	require.NoError(e.t, err)
	return r
}

func TestPull(t *testing.T) {
	e := open(t, pulling(), map[string]string{"closed.crochet": shell})
	require.NotNil(t, e.result.Capabilities.DiagnosticProvider)
	doc := at("snail.crochet")
	e.type_(doc, shell)
	first, ok := e.pull(doc, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	require.True(t, ok)
	require.Len(t, first.Items, 1)
	assert.Equal(t, protocol.String("stitches-left"), first.Items[0].Code)
	assert.NotEmpty(t, first.Items[0].RelatedInformation)
	assert.NotZero(t, first.Items[0].CodeDescription)

	e.change(doc, 2, part(6, 0, 6, 0, "// aside\n"))
	same, ok := e.pull(doc, first.ResultID).(*protocol.RelatedUnchangedDocumentDiagnosticReport)
	require.True(t, ok, "an edit that changes no diagnostic changes no result")
	assert.Equal(t, *first.ResultID, same.ResultID)

	e.change(doc, 3, part(4, 19, 4, 20, "6"))
	clean, ok := e.pull(doc, first.ResultID).(*protocol.RelatedFullDocumentDiagnosticReport)
	require.True(t, ok)
	assert.NotNil(t, clean.Items)
	assert.Empty(t, clean.Items)

	closed, ok := e.pull(at("closed.crochet"), nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	require.True(t, ok, "a file that is not open")
	assert.Len(t, closed.Items, 1)
	assert.Zero(t, e.sentSoFar(protocol.MethodTextDocumentPublishDiagnostics), "never push and pull both")
}

func (e *editor) pullAll(known map[uri.URI]string, also ...func(*protocol.WorkspaceDiagnosticParams)) map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport {
	e.t.Helper()
	p := &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}
	for doc, id := range known {
		p.PreviousResultIds = append(p.PreviousResultIds, protocol.PreviousResultId{URI: doc, Value: id})
	}
	for _, change := range also {
		change(p)
	}
	r, err := e.server.DiagnosticWorkspace(e.ctx, p)
	require.NoError(e.t, err)
	return byDocument(r.Items)
}

func byDocument(items []protocol.WorkspaceDocumentDiagnosticReport) map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport {
	out := map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport{}
	for _, item := range items {
		switch r := item.(type) {
		case *protocol.WorkspaceFullDocumentDiagnosticReport:
			out[r.URI] = r
		case *protocol.WorkspaceUnchangedDocumentDiagnosticReport:
			out[r.URI] = r
		}
	}
	return out
}

func items(t *testing.T, r protocol.WorkspaceDocumentDiagnosticReport) []protocol.Diagnostic {
	t.Helper()
	full, ok := r.(*protocol.WorkspaceFullDocumentDiagnosticReport)
	require.True(t, ok, "%#v", r)
	return full.Items
}

// A workspace is what the command would check in it, and what is open besides.
func TestPullOfAWorkspace(t *testing.T) {
	e := open(t, pulling(), map[string]string{
		"closed.crochet": shell, "clean.crochet": "Terms: US\n", "below/hat.crochet": shell, "readme.md": "x",
		".hidden/a.crochet": shell, "node_modules/a.crochet": shell, "drafts/a.crochet": shell,
		".workeven.toml":         "exclude = ['drafts/**']\n[per-file.'below/**']\nstitches-left = 'hint'\n",
		"broken/.workeven.toml":  "nonsense = 1\n",
		"broken/pattern.crochet": shell,
	})
	doc := at("open.crochet")
	e.type_(doc, shell)
	got := e.pullAll(nil)
	var names []uri.URI
	for name := range got {
		names = append(names, name)
	}
	assert.ElementsMatch(t, []uri.URI{at("closed.crochet"), at("clean.crochet"), at("below/hat.crochet"), doc, at("broken/pattern.crochet"), at("broken/.workeven.toml")}, names)
	assert.Len(t, items(t, got[at("closed.crochet")]), 1)
	assert.Empty(t, items(t, got[at("clean.crochet")]))
	assert.Equal(t, protocol.DiagnosticSeverityHint, items(t, got[at("below/hat.crochet")])[0].Severity)
	require.Len(t, items(t, got[at("broken/.workeven.toml")]), 1)
	assert.Len(t, items(t, got[at("broken/pattern.crochet")]), 1, "the rules are as they are without a configuration")
	assert.Equal(t, int32(1), *got[doc].(*protocol.WorkspaceFullDocumentDiagnosticReport).Version)

	known := map[uri.URI]string{}
	for name, r := range got {
		known[name] = *r.(*protocol.WorkspaceFullDocumentDiagnosticReport).ResultID
	}
	e.disk.put("closed.crochet", "Terms: US\n")
	e.disk.remove("below/hat.crochet")
	again := e.pullAll(known)
	assert.Len(t, again, len(got))
	for name, r := range again {
		_, unchanged := r.(*protocol.WorkspaceUnchangedDocumentDiagnosticReport)
		assert.Equal(t, name != at("closed.crochet") && name != at("below/hat.crochet"), unchanged, name)
	}
	assert.Empty(t, items(t, again[at("below/hat.crochet")]), "what has gone is taken back")
}

func TestPullInPartsWithProgress(t *testing.T) {
	e := open(t, pulling(), map[string]string{"a.crochet": shell, "b.crochet": shell})
	got := e.pullAll(nil, func(p *protocol.WorkspaceDiagnosticParams) {
		p.PartialResultToken, p.WorkDoneToken = protocol.String("parts"), protocol.Integer(7)
	})
	assert.Empty(t, got, "all of it came before")
	e.mu.Lock()
	defer e.mu.Unlock()
	var parts []protocol.WorkspaceDocumentDiagnosticReport
	var kinds []string
	for _, n := range e.sent {
		if n.method != protocol.MethodProgress {
			continue
		}
		var p protocol.ProgressParams
		require.NoError(t, protocol.Unmarshal(n.params, &p))
		if p.Token == protocol.String("parts") {
			var r protocol.WorkspaceDiagnosticReportPartialResult
			require.NoError(t, protocol.Unmarshal(p.Value, &r))
			parts = append(parts, r.Items...)
			continue
		}
		var k struct {
			Kind string `json:"kind"`
		}
		require.NoError(t, protocol.Unmarshal(p.Value, &k))
		kinds = append(kinds, k.Kind)
	}
	assert.Len(t, byDocument(parts), 2)
	require.NotEmpty(t, kinds)
	assert.Equal(t, "begin", kinds[0])
	assert.Equal(t, "end", kinds[len(kinds)-1])
}
