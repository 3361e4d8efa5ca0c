package lsp

import (
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// watching is a client that tells of changed files and is asked for settings.
func watching() protocol.ClientCapabilities {
	c := pushing()
	c.Workspace = &protocol.WorkspaceClientCapabilities{
		Configuration:          new(true),
		DidChangeWatchedFiles:  &protocol.DidChangeWatchedFilesClientCapabilities{DynamicRegistration: new(true)},
		DidChangeConfiguration: &protocol.DidChangeConfigurationClientCapabilities{DynamicRegistration: new(true)},
	}
	return c
}

func (e *editor) fileChanged(name string) {
	e.t.Helper()
	require.NoError(e.t, e.server.DidChangeWatchedFiles(e.ctx, &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{{URI: at(name), Type: protocol.FileChangeTypeChanged}}}))
}

// severities of the diagnostics that a client is told of a document next.
func (e *editor) severities(doc uri.URI) []protocol.DiagnosticSeverity {
	e.t.Helper()
	var out []protocol.DiagnosticSeverity
	for _, d := range e.published(doc, 1) {
		out = append(out, d.Severity)
	}
	return out
}

// The configuration is that of the command: the nearest one to the file, and
// it is followed as it changes.
func TestConfigurationIsWatched(t *testing.T) {
	e := open(t, watching(), map[string]string{"below/.workeven.toml": "[rules]\nstitches-left = 'off'\n"})
	r := await[protocol.RegistrationParams](e, protocol.MethodClientRegisterCapability, nil)
	assert.Len(t, r.Registrations, 2)
	a, b := at("a.crochet"), at("below/b.crochet")
	e.type_(a, shell)
	e.type_(b, shell)
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityError}, e.severities(a))
	assert.Empty(t, e.severities(b))

	e.disk.put("below/.workeven.toml", "[rules]\nstitches-left = 'hint'\n")
	e.fileChanged("below/.workeven.toml")
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityHint}, e.severities(b))

	e.disk.put(".workeven.toml", "[per-file.'*.crochet']\nstitches-left = 'information'\n")
	e.disk.remove("below/.workeven.toml")
	e.fileChanged(".workeven.toml")
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityInformation}, e.severities(b))
}

// A client that does not tell of files has the configuration read again when
// it saves or opens one.
func TestConfigurationUnwatched(t *testing.T) {
	e := open(t, pushing(), nil)
	doc := at("a.crochet")
	e.type_(doc, shell)
	assert.Len(t, e.severities(doc), 1)
	e.disk.put(".workeven.toml", "[rules]\nstitches-left = 'off'\n")
	require.NoError(t, e.server.DidSave(e.ctx, &protocol.DidSaveTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}}))
	assert.Empty(t, e.severities(doc))
}

// A configuration that does not hold is told once, on its line, and taken back
// when it is mended; until then the rules are as they are without it.
func TestConfigurationThatDoesNotHold(t *testing.T) {
	e := open(t, watching(), map[string]string{".workeven.toml": "# mine\nexclud = []\n"})
	e.type_(at("a.crochet"), shell)
	m := await[protocol.ShowMessageParams](e, protocol.MethodWindowShowMessage, nil)
	assert.Contains(t, m.Message, "there is no key exclud in a configuration; did you mean exclude?")
	config := at(".workeven.toml")
	e.type_(at("b.crochet"), shell)
	e.change(at("b.crochet"), 2, whole(shell+"\n"))
	assert.Len(t, e.published(at("b.crochet"), 2), 1)

	e = open(t, watching(), map[string]string{".workeven.toml": "# mine\nexclud = []\n"})
	e.type_(at("a.crochet"), shell)
	d := e.published(config, 0)
	require.Len(t, d, 1)
	assert.Equal(t, uint32(1), d[0].Range.Start.Line)
	e.disk.put(".workeven.toml", "exclude = []\n")
	e.fileChanged(".workeven.toml")
	assert.Empty(t, e.published(config, 0))
	e.alive()
	assert.LessOrEqual(t, e.sentSoFar(protocol.MethodWindowShowMessage), 1)
}

// The configuration itself is no pattern, even where an editor takes it for one.
func TestConfigurationIsNoPattern(t *testing.T) {
	e := open(t, pushing(), nil)
	e.type_(at(".workeven.toml"), "[rules]\n")
	e.change(at(".workeven.toml"), 2, part(0, 0, 0, 0, "#"))
	e.type_(at("a.crochet"), shell)
	e.published(at("a.crochet"), 1)
	assert.Zero(t, e.sentSoFar(protocol.MethodTextDocumentPublishDiagnostics))
	assert.NotContains(t, e.log.String(), "passed over")
}

func TestSettings(t *testing.T) {
	named := map[string]string{".workeven.toml": "[rules]\nstitches-left = 'hint'\n", "other/mild.toml": "[rules]\nstitches-left = 'information'\n"}
	tests := []struct {
		name, settings string
		want           protocol.DiagnosticSeverity
	}{
		{"none", `null`, protocol.DiagnosticSeverityHint},
		{"another configuration", `{"config":"other/mild.toml"}`, protocol.DiagnosticSeverityInformation},
		{"under the server's name", `{"workeven":{"config":"other/mild.toml"}}`, protocol.DiagnosticSeverityInformation},
		{"no configuration", `{"isolated":true}`, protocol.DiagnosticSeverityError},
		{"of another kind", `{"isolated":"yes","config":7}`, protocol.DiagnosticSeverityHint},
		{"no settings at all", `[1]`, protocol.DiagnosticSeverityHint},
	}
	for _, test := range tests {
		t.Run(test.name+", at the start", func(t *testing.T) {
			e := open(t, pushing(), named, func(p *protocol.InitializeParams) { p.InitializationOptions = []byte(test.settings) })
			e.type_(at("a.crochet"), shell)
			assert.Equal(t, []protocol.DiagnosticSeverity{test.want}, e.severities(at("a.crochet")))
		})
		t.Run(test.name+", told", func(t *testing.T) {
			e := open(t, pushing(), named)
			e.type_(at("a.crochet"), shell)
			e.severities(at("a.crochet"))
			require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte(test.settings)}))
			e.type_(at("b.crochet"), shell)
			assert.Equal(t, []protocol.DiagnosticSeverity{test.want}, e.severities(at("b.crochet")))
		})
		t.Run(test.name+", asked for", func(t *testing.T) {
			e := connect(t, named)
			e.answers[protocol.MethodWorkspaceConfiguration] = func(params []byte) (any, error) {
				assert.Contains(t, string(params), `"workeven"`)
				return []protocol.LSPAny{[]byte(test.settings)}, nil
			}
			e.begin(watching())
			e.type_(at("a.crochet"), shell)
			await(e, protocol.MethodTextDocumentPublishDiagnostics, func(p *protocol.PublishDiagnosticsParams) bool {
				return len(p.Diagnostics) == 1 && p.Diagnostics[0].Severity == test.want
			})
		})
	}
}

// What is shown in the text is asked for again when settings change.
func TestSettingsRefreshWhatIsShown(t *testing.T) {
	can := pulling()
	can.Workspace.InlayHint = &protocol.InlayHintWorkspaceClientCapabilities{RefreshSupport: new(true)}
	can.Workspace.CodeLens = &protocol.CodeLensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	can.Workspace.SemanticTokens = &protocol.SemanticTokensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	e := open(t, can, nil)
	require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte(`{"isolated":true}`)}))
	want := []string{protocol.MethodWorkspaceInlayHintRefresh, protocol.MethodWorkspaceCodeLensRefresh, protocol.MethodWorkspaceSemanticTokensRefresh, protocol.MethodWorkspaceDiagnosticRefresh}
	require.Eventually(t, func() bool {
		for _, method := range want {
			if e.sentSoFar(method) != 1 {
				return false
			}
		}
		return true
	}, patience, time.Millisecond)
}

func TestUnknownSettingsAreTold(t *testing.T) {
	e := open(t, pushing(), nil, func(p *protocol.InitializeParams) {
		p.InitializationOptions = []byte(`{"isolatd":true,"logLevel":"loud"}`)
	})
	e.alive()
	assert.Contains(t, e.log.String(), "did you mean isolated?")
	assert.Contains(t, e.log.String(), "a level is one of trace, debug, info, warn, error")
}

// What is wrong with a setting is told in the words of the settings.
func TestWrongSettingsAreToldPlainly(t *testing.T) {
	for given, told := range map[string]string{
		`{"hints":{"totals":"yes"}}`:               "totals is true or false",
		`{"hints":{"totls":false,"pieces":false}}`: "there is no totls in it; did you mean totals?",
		`{"hints":3}`:     "it is a group of settings in braces",
		`{"config":true}`: "it is a text in quotes",
		`{"isolated":1}`:  "it is true or false",
	} {
		e := open(t, pushing(), nil, func(p *protocol.InitializeParams) { p.InitializationOptions = []byte(given) })
		e.alive()
		assert.Contains(t, e.log.String(), told, given)
		assert.NotContains(t, e.log.String(), "json", given)
	}
}

func TestSectionsAreSettingsOfAFeature(t *testing.T) {
	type dishes struct {
		Soup  bool `json:"soup"`
		Bread int  `json:"bread"`
	}
	of := section("testDishes", dishes{Soup: true, Bread: 2})
	t.Cleanup(func() { delete(sectionReaders, "testDishes") })
	s := &Server{opts: Options{Log: &lockedBuffer{}}, wire: &wire{}}
	s.life, s.rest = t.Context(), func() {}
	s.working = s.life
	s.startLog()
	assert.Equal(t, dishes{true, 2}, of(&view{settings: s.readSettings(nil)}))
	assert.Equal(t, dishes{true, 3}, of(&view{settings: s.readSettings([]byte(`{"testDishes":{"bread":3}}`))}))
	assert.Equal(t, dishes{true, 2}, of(&view{settings: s.readSettings([]byte(`{"testDishes":{"bread":"much"}}`))}))
	assert.Equal(t, dishes{true, 3}, of(&view{settings: s.readSettings([]byte(`{"testDishes":{"bread":3,"wine":1}}`))}), "what is known of it holds")
}

func TestSeveralFolders(t *testing.T) {
	e := open(t, pushing(), map[string]string{"one/.workeven.toml": "[rules]\nstitches-left = 'hint'\n", "two/.workeven.toml": "[rules]\nstitches-left = 'off'\n"}, func(p *protocol.InitializeParams) {
		p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: at("one"), Name: "one"}, {URI: at("two"), Name: "two"}})
	})
	a, b := at("one/a.crochet"), at("two/b.crochet")
	e.type_(a, shell)
	e.type_(b, shell)
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityHint}, e.severities(a))
	assert.Empty(t, e.severities(b))

	draft := uri.URI("untitled:Untitled-1")
	e.type_(draft, shell)
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityHint}, e.severities(draft), "that of the first folder")
	require.NoError(t, e.server.DidChangeWorkspaceFolders(e.ctx, &protocol.DidChangeWorkspaceFoldersParams{Event: protocol.WorkspaceFoldersChangeEvent{
		Removed: []protocol.WorkspaceFolder{{URI: at("one"), Name: "one"}}, Added: []protocol.WorkspaceFolder{{URI: at("three"), Name: "three"}},
	}}))
	assert.Empty(t, e.severities(draft), "that of the folder which is first now")
	second := uri.URI("untitled:Untitled-2")
	e.type_(second, shell)
	assert.Empty(t, e.severities(second))
	e.disk.put("three/.workeven.toml", "[rules]\nstitches-left = 'information'\n")
	c := at("three/c.crochet")
	e.type_(c, shell)
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityInformation}, e.severities(c))
}

// A folder that is added is reported on, one that is removed is not; a file in
// two folders is reported once.
func TestFoldersOfAReport(t *testing.T) {
	e := open(t, pulling(), map[string]string{"one/a.crochet": shell, "one/below/b.crochet": shell, "two/c.crochet": shell}, func(p *protocol.InitializeParams) {
		p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: at("one")}, {URI: at("one/below")}})
	})
	assert.Len(t, e.pullAll(nil), 2)
	folders := func(added, removed []protocol.WorkspaceFolder) {
		require.NoError(t, e.server.DidChangeWorkspaceFolders(e.ctx, &protocol.DidChangeWorkspaceFoldersParams{Event: protocol.WorkspaceFoldersChangeEvent{Added: added, Removed: removed}}))
		await[struct{}](e, protocol.MethodWorkspaceDiagnosticRefresh, nil)
	}
	folders([]protocol.WorkspaceFolder{{URI: at("two")}, {URI: at("two")}, {URI: "untitled:x"}}, nil)
	assert.Len(t, e.pullAll(nil), 3)
	folders(nil, []protocol.WorkspaceFolder{{URI: at("one")}, {URI: at("nowhere")}})
	got := e.pullAll(nil)
	assert.Len(t, got, 2)
	assert.Contains(t, got, at("one/below/b.crochet"))
}

// Of several answers the one that was asked for last holds, in whatever order
// they come.
func TestSettingsAskedForTwice(t *testing.T) {
	e := connect(t, nil)
	first, release := make(chan struct{}), make(chan struct{})
	var asked atomic.Int32
	e.answers[protocol.MethodWorkspaceConfiguration] = func([]byte) (any, error) {
		if asked.Add(1) == 1 {
			close(first)
			<-release
			return []protocol.LSPAny{[]byte(`{"config":"old.toml"}`)}, nil
		}
		return []protocol.LSPAny{[]byte(`{"isolated":true}`)}, nil
	}
	e.begin(watching())
	<-first
	require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte("null")}))
	s := e.inside()
	require.Eventually(t, func() bool { return s.view.Load().settings.Isolated }, patience, time.Millisecond)
	close(release)
	e.type_(at("a.crochet"), shell)
	e.published(at("a.crochet"), 1)
	require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: []byte("null")}))
	await[protocol.ConfigurationParams](e, protocol.MethodWorkspaceConfiguration, nil)
	e.alive()
	assert.True(t, s.view.Load().settings.Isolated)
	assert.Empty(t, s.view.Load().settings.Config)
}

// The server asks to be told of what the client offers to tell, and of no more.
func TestWhatIsRegistered(t *testing.T) {
	e := open(t, watching(), nil)
	r := await[protocol.RegistrationParams](e, protocol.MethodClientRegisterCapability, nil)
	require.Len(t, r.Registrations, 2)
	assert.Equal(t, protocol.MethodWorkspaceDidChangeWatchedFiles, r.Registrations[0].Method)
	var files protocol.DidChangeWatchedFilesRegistrationOptions
	require.NoError(t, protocol.Unmarshal(r.Registrations[0].RegisterOptions, &files))
	var globs []protocol.GlobPattern
	for _, w := range files.Watchers {
		globs = append(globs, w.GlobPattern)
	}
	assert.Equal(t, []protocol.GlobPattern{protocol.Pattern("**/*.toml"), protocol.Pattern("**/*.crochet")}, globs)
	assert.Equal(t, protocol.MethodWorkspaceDidChangeConfiguration, r.Registrations[1].Method)
	assert.JSONEq(t, `{"section":"workeven"}`, string(r.Registrations[1].RegisterOptions))

	none := open(t, pushing(), nil)
	none.alive()
	assert.Zero(t, none.sentSoFar(protocol.MethodClientRegisterCapability))
	assert.Zero(t, none.sentSoFar(protocol.MethodWorkspaceConfiguration))
}

// A draft that is in no folder has the rules as they are by themselves.
func TestUnsavedWithoutAFolder(t *testing.T) {
	e := open(t, pushing(), map[string]string{".workeven.toml": "[rules]\nstitches-left = 'off'\n"}, func(p *protocol.InitializeParams) {
		p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder(nil))
	})
	draft := uri.URI("untitled:Untitled-1")
	e.type_(draft, shell)
	assert.Equal(t, []protocol.DiagnosticSeverity{protocol.DiagnosticSeverityError}, e.severities(draft))
	e.change(draft, 2, part(4, 19, 4, 20, "6"))
	assert.Empty(t, e.published(draft, 2))
	e.close(draft)
	assert.Empty(t, e.published(draft, 0))
}

func TestFoldersOfOlderClients(t *testing.T) {
	for name, set := range map[string]func(*protocol.InitializeParams){
		"rootUri":  func(p *protocol.InitializeParams) { p.RootURI = new(at("")) },
		"rootPath": func(p *protocol.InitializeParams) { p.RootPath = protocol.NewNullable(root) },
	} {
		t.Run(name, func(t *testing.T) {
			p := &protocol.InitializeParams{}
			set(p)
			list := foldersOf(p)
			require.Len(t, list, 1)
			assert.Equal(t, root, list[0].path)
		})
	}
	assert.Empty(t, foldersOf(&protocol.InitializeParams{}))
	v := &view{}
	assert.Empty(t, v.pathOf("untitled:Untitled-1"))
	assert.Equal(t, filepath.Join(root, "a.crochet"), v.pathOf(at("a.crochet")))
}

func TestPages(t *testing.T) {
	e := open(t, pushing(), nil)
	r, err := e.server.TextDocumentContent(e.ctx, &protocol.TextDocumentContentParams{URI: rulePage("make-and-sew")})
	require.NoError(t, err)
	assert.Contains(t, r.Text, "# make-and-sew")
	for _, page := range []uri.URI{"workeven:/rules/none.md", "workeven:/none/shape.md", "file:///rules/shape.md", "workeven:/"} {
		_, err := e.server.TextDocumentContent(e.ctx, &protocol.TextDocumentContentParams{URI: page})
		assert.Error(t, err, page)
	}
	show := &protocol.ExecuteCommandParams{Command: "workeven.showPage", Arguments: []protocol.LSPAny{encoded(protocol.String(rulePage("shape")))}}
	text, err := e.server.ExecuteCommand(e.ctx, show)
	require.NoError(t, err)
	assert.Contains(t, string(text), "# shape", "a client that cannot show it gets its text")
	_, err = e.server.ExecuteCommand(e.ctx, &protocol.ExecuteCommandParams{Command: "none"})
	assert.Error(t, err)

	can := pushing()
	can.Window = &protocol.WindowClientCapabilities{ShowDocument: &protocol.ShowDocumentClientCapabilities{Support: true}}
	can.Workspace = &protocol.WorkspaceClientCapabilities{TextDocumentContent: &protocol.TextDocumentContentClientCapabilities{}}
	e = open(t, can, nil)
	e.answers[protocol.MethodWindowShowDocument] = func([]byte) (any, error) { return &protocol.ShowDocumentResult{Success: true}, nil }
	_, err = e.server.ExecuteCommand(e.ctx, show)
	require.NoError(t, err)
	assert.Equal(t, rulePage("shape"), await[protocol.ShowDocumentParams](e, protocol.MethodWindowShowDocument, nil).URI)
}

func TestParseLevel(t *testing.T) {
	l, err := ParseLevel("TRACE")
	require.NoError(t, err)
	assert.Equal(t, LevelTrace, l)
	_, err = ParseLevel("loud")
	assert.Error(t, err)
}
