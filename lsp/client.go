package lsp

import (
	"slices"

	"go.lsp.dev/protocol"
)

// client is what the other side can do, as it said when the session began.
type client struct {
	protocol.ClientCapabilities
	encodings []protocol.PositionEncodingKind

	// pulls is set where diagnostics are asked for; otherwise they are pushed.
	pulls, refreshesDiagnostics bool
	// What it asks for again where it is told that answers have changed.
	refreshesHints, refreshesLenses, refreshesTokens bool
	// What a pushed or pulled diagnostic may carry.
	describes, relates, tags, keeps, versions bool
	// What the server may ask for.
	configures, watches, tellsOfSettings, showsDocuments bool
	// reads is set where the client shows texts that the server makes.
	reads bool
}

// learn reads the capabilities.
func (c *client) learn(p *protocol.InitializeParams) {
	c.ClientCapabilities = p.Capabilities
	if g := p.Capabilities.General; g != nil {
		c.encodings = g.PositionEncodings
	}
	if t := p.Capabilities.TextDocument; t != nil {
		if d := t.PublishDiagnostics; d != nil {
			c.may(&d.DiagnosticsCapabilities)
			c.versions = is(d.VersionSupport)
		}
		if d := t.Diagnostic; d != nil {
			c.pulls = true
			c.may(&d.DiagnosticsCapabilities)
		}
	}
	if w := p.Capabilities.Workspace; w != nil {
		c.configures = is(w.Configuration)
		c.watches = w.DidChangeWatchedFiles != nil && is(w.DidChangeWatchedFiles.DynamicRegistration)
		c.tellsOfSettings = w.DidChangeConfiguration != nil && is(w.DidChangeConfiguration.DynamicRegistration)
		c.refreshesDiagnostics = w.Diagnostics != nil && is(w.Diagnostics.RefreshSupport)
		c.refreshesHints = w.InlayHint != nil && is(w.InlayHint.RefreshSupport)
		c.refreshesLenses = w.CodeLens != nil && is(w.CodeLens.RefreshSupport)
		c.refreshesTokens = w.SemanticTokens != nil && is(w.SemanticTokens.RefreshSupport)
		c.reads = w.TextDocumentContent != nil
	}
	if w := p.Capabilities.Window; w != nil {
		c.showsDocuments = w.ShowDocument != nil && w.ShowDocument.Support
	}
}

func (c *client) may(d *protocol.DiagnosticsCapabilities) {
	c.describes = c.describes || is(d.CodeDescriptionSupport)
	c.keeps = c.keeps || is(d.DataSupport)
	c.relates = c.relates || is(d.RelatedInformation)
	c.tags = c.tags || slices.Contains(d.TagSupport.ValueSet, protocol.DiagnosticTagUnnecessary)
}

func is(b *bool) bool { return b != nil && *b }
