package lsp

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/lint"
)

// bad is a rule's own bad example as a pattern, which some rules look at only as
// a whole.
func bad(rule string) string {
	text := lint.RuleNamed(rule).Bad
	if strings.HasPrefix(text, "Pattern:") {
		return text
	}
	return "Pattern: Example\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nCaution: Not for a child under three.\n" + text
}

// ofRule are the diagnostics of such an example.
func (e *editor) ofRule(r *lint.Rule) (all, own []protocol.Diagnostic) {
	e.t.Helper()
	doc := at(r.Name + ".crochet")
	e.type_(doc, bad(r.Name))
	all = e.published(doc, 1)
	for _, d := range all {
		if d.Code == protocol.String(r.Name) {
			own = append(own, d)
		}
	}
	require.NotEmpty(e.t, own, r.Name)
	return all, own
}

// Every diagnostic of every rule says what it is, how severe, where its page
// is, and carries what it is found again by.
func TestEveryDiagnosticIsWhole(t *testing.T) {
	e := open(t, pushing(), nil)
	for _, r := range lint.Rules() {
		all, _ := e.ofRule(r)
		for _, d := range all {
			name := string(d.Code.(protocol.String))
			rule := lint.RuleNamed(name)
			require.NotNil(t, rule, name)
			assert.Equal(t, severities[rule.Severity], d.Severity, name)
			assert.NotEmpty(t, string(d.Message.(protocol.String)))
			source, _ := d.Source.Get()
			assert.Equal(t, "workeven", source)
			assert.Equal(t, rulePage(name), d.CodeDescription.Href)
			page, err := e.server.TextDocumentContent(e.ctx, &protocol.TextDocumentContentParams{URI: d.CodeDescription.Href})
			require.NoError(t, err, name)
			assert.Contains(t, page.Text, "# "+name)
			var data map[string]string
			require.NoError(t, json.Unmarshal(d.Data, &data))
			assert.Equal(t, map[string]string{"rule": name, "page": string(rulePage(name))}, data)
			for _, x := range d.RelatedInformation {
				assert.Equal(t, at(r.Name+".crochet"), x.Location.URI)
				assert.NotEmpty(t, x.Message)
				assert.NotEqual(t, d.Range, x.Location.Range)
			}
		}
	}
}

// The place that a diagnostic speaks of besides is pointed at: the round below,
// or the line that declares what it is about.
func TestRelatedPlaces(t *testing.T) {
	e := open(t, pushing(), nil)
	for rule, want := range map[string]string{
		"stitches-left":       "Rnd 2:",
		"too-many-worked":     "",
		"repeat-does-not-fit": "",
		"total-differs":       "",
		"make-and-sew":        "Piece:",
	} {
		r := lint.RuleNamed(rule)
		_, own := e.ofRule(r)
		i := slices.IndexFunc(own, func(d protocol.Diagnostic) bool { return len(d.RelatedInformation) > 0 })
		require.GreaterOrEqual(t, i, 0, "%s has no related place", rule)
		related := own[i].RelatedInformation[0]
		line := strings.Split(bad(rule), "\n")[related.Location.Range.Start.Line]
		assert.True(t, strings.HasPrefix(line, want), "%s is about %q", rule, line)
		assert.Less(t, related.Location.Range.Start.Line, own[i].Range.Start.Line)
	}
}

// What does nothing is shown faded.
func TestUnusedIsTagged(t *testing.T) {
	e := open(t, pushing(), nil)
	for _, c := range []struct{ text, rule string }{
		{bad("unused-yarn"), "unused-yarn"},
		{bad("suppression"), "suppression"},
		{"Terms: US\nStitch: bud = (dc, ch 1, dc) in one st\nPiece: A\nRnd 1: 6 sc in magic ring (6)\n", "definition"},
		{"Terms: US\nNotion: 4 pearl buttons\nPiece: A\nRnd 1: 6 sc in magic ring (6)\n", "materials"},
	} {
		doc := at("unused-" + c.rule + ".crochet")
		e.type_(doc, c.text)
		found := false
		for _, d := range e.published(doc, 1) {
			if d.Code == protocol.String(c.rule) {
				found = true
				assert.Equal(t, protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary), d.Tags, c.rule)
			} else {
				assert.Zero(t, d.Tags)
			}
		}
		assert.True(t, found, c.rule)
	}
}

// A client is sent nothing that it did not say it takes.
func TestDiagnosticsOfAPlainClient(t *testing.T) {
	e := open(t, protocol.ClientCapabilities{}, nil)
	for _, rule := range []string{"stitches-left", "unused-yarn"} {
		doc := at(rule + ".crochet")
		e.type_(doc, bad(rule))
		p := await(e, protocol.MethodTextDocumentPublishDiagnostics, func(p *protocol.PublishDiagnosticsParams) bool { return p.URI == doc })
		_, versioned := p.Version.Get()
		assert.False(t, versioned)
		require.NotEmpty(t, p.Diagnostics)
		for _, d := range p.Diagnostics {
			assert.Zero(t, d.CodeDescription)
			assert.Empty(t, d.Data)
			assert.Empty(t, d.RelatedInformation)
			assert.Zero(t, d.Tags)
		}
	}
}

// Diagnostics are pushed or pulled, as the client can, and never both.
func TestPushOrPull(t *testing.T) {
	both := pulling()
	both.TextDocument.PublishDiagnostics = pushing().TextDocument.PublishDiagnostics
	for name, c := range map[string]struct {
		can   protocol.ClientCapabilities
		pulls bool
	}{"neither told": {protocol.ClientCapabilities{}, false}, "push": {pushing(), false}, "pull": {pulling(), true}, "both": {both, true}} {
		t.Run(name, func(t *testing.T) {
			e := open(t, c.can, map[string]string{".workeven.toml": "nonsense = 1\n"})
			assert.Equal(t, c.pulls, e.result.Capabilities.DiagnosticProvider != nil)
			doc := at("a.crochet")
			e.type_(doc, shell)
			e.change(doc, 2, part(4, 19, 4, 20, "6"))
			e.close(doc)
			if c.pulls {
				e.pullAll(nil)
				assert.Zero(t, e.sentSoFar(protocol.MethodTextDocumentPublishDiagnostics))
				return
			}
			await(e, protocol.MethodTextDocumentPublishDiagnostics, func(p *protocol.PublishDiagnosticsParams) bool {
				return p.URI == doc && len(p.Diagnostics) == 0
			})
		})
	}
}

// A report that is asked for with the identity of the last one is "unchanged"
// until a diagnostic changes, whether the document is open or not, and across
// its closing.
func TestResultIDs(t *testing.T) {
	e := open(t, pulling(), map[string]string{"a.crochet": shell})
	doc := at("a.crochet")
	closed, ok := e.pull(doc, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	require.True(t, ok)
	same := func(id *string, why string) {
		t.Helper()
		r, ok := e.pull(doc, id).(*protocol.RelatedUnchangedDocumentDiagnosticReport)
		require.True(t, ok, why)
		assert.Equal(t, *id, r.ResultID)
		all := e.pullAll(map[uri.URI]string{doc: *id})
		assert.IsType(t, &protocol.WorkspaceUnchangedDocumentDiagnosticReport{}, all[doc], why)
	}
	same(closed.ResultID, "a file that is as it was")
	e.type_(doc, shell)
	same(closed.ResultID, "opened, and nothing changed")
	e.change(doc, 2, part(2, 0, 2, 0, "// aside\n"))
	moved, ok := e.pull(doc, closed.ResultID).(*protocol.RelatedFullDocumentDiagnosticReport)
	require.True(t, ok, "it has moved")
	assert.Equal(t, uint32(5), moved.Items[0].Range.Start.Line)
	assert.NotEqual(t, *closed.ResultID, *moved.ResultID)
	same(moved.ResultID, "as it was")
	_, ok = e.pull(doc, new("of another session")).(*protocol.RelatedFullDocumentDiagnosticReport)
	assert.True(t, ok)
	e.close(doc)
	same(closed.ResultID, "the file's own text again")
}

// A report on a workspace stops when it is canceled.
func TestReportIsCanceled(t *testing.T) {
	e := open(t, pulling(), map[string]string{"a.crochet": shell, "b.crochet": shell})
	reading, release := make(chan struct{}), make(chan struct{})
	e.disk.slow(func(name string) {
		if name == "a.crochet" {
			close(reading)
			<-release
		}
	})
	canceled := make(chan error, 1)
	e.write(`{"jsonrpc":"2.0","id":"report","method":"workspace/diagnostic","params":{"previousResultIds":[],"workDoneToken":"bar"}}`)
	go func() {
		<-reading
		e.write(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":"report"}}`)
		_, err := e.server.TextDocumentContent(e.ctx, &protocol.TextDocumentContentParams{URI: rulePage("shape")})
		close(release)
		canceled <- err
	}()
	require.NoError(t, <-canceled)
	var kinds []string
	for len(kinds) == 0 || kinds[len(kinds)-1] != "end" {
		p := await[protocol.ProgressParams](e, protocol.MethodProgress, nil)
		var k struct {
			Kind string `json:"kind"`
		}
		require.NoError(t, json.Unmarshal(p.Value, &k))
		kinds = append(kinds, k.Kind)
	}
	assert.Equal(t, "begin", kinds[0])
	e.alive()
}
