package lint

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var testRules = []string{"marker", "total-differs", "total-missing", "two-readings"}

// disk is a file system in memory. Its paths have slashes; abs makes them the system's.
type disk map[string]string

func abs(path string) string {
	p, err := filepath.Abs(filepath.FromSlash(path))
	if err != nil {
		panic(err)
	}
	return p
}

func (d disk) ReadFile(path string) ([]byte, error) {
	for name, text := range d {
		if abs(name) == path {
			return []byte(text), nil
		}
	}
	return nil, fs.ErrNotExist
}

func (d disk) Exists(path string) bool {
	for name := range d {
		if p := abs(name); p == path || strings.HasPrefix(p, path+string(filepath.Separator)) {
			return true
		}
	}
	return false
}

func configsOn(d disk) *Configs {
	c := NewConfigs(d)
	c.rules = testRules
	return c
}

func TestConfigErrorsNameTheirLine(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"unknown key, near one", "# mine\nexclud = []\n", ":2: there is no key exclud in a configuration; did you mean exclude?"},
		{"unknown key, near none", "colour = 1", ":1: there is no key colour in a configuration; known are extends, include, exclude, error-on, rules, per-file"},
		{"unknown table", "\n\n[rule]\nmarker = 'off'\n", ":3: there is no key rule in a configuration; did you mean rules?"},
		{"unknown rule, near one", "[rules]\n\ntotal-difers = 'off'\n", ":3: there is no rule total-difers; did you mean total-differs?"},
		{"unknown rule, near none", "[rules]\nfrogging = 'off'\n", ":2: there is no rule frogging; `workeven rules` lists them"},
		{"the first is told", "[rules]\nmarker = 'off'\nxxxxxxxx = 'off'\nyyyyyyyy = 'off'\n", ":3: there is no rule xxxxxxxx"},
		{"level", "[rules]\nmarker = 'of'\n", ":2: marker is one of off, hint, information, warning, error"},
		{"level of another kind", "[rules]\nmarker = true\n", ":2: marker is one of off"},
		{"dotted key", "rules.marker = 1\n", ":1: marker is one of off"},
		{"inline table", "\nrules = { nope-nope = 'off' }\n", ":2: there is no rule nope-nope"},
		{"rules as a list", "rules = ['marker']\n", ":1: a table of rules, such as [rules], is wanted here"},
		{"error-on", "error-on = 'fatal'\n", ":1: error-on is one of hint, information, warning, error, never"},
		{"exclude of another kind", "\nexclude = 3\n", ":2: a list of file names"},
		{"glob", "exclude = [\n 'a',\n '[',\n]\n", `:1: "[" is no pattern of file names`},
		{"rule of some files", "[per-file.'a/**']\nmarker = 'off'\nmarkr = 'off'\n", ":3: there is no rule markr; did you mean marker?"},
		{"per-file's pattern", "[per-file.'[']\nmarker = 'off'\n", `:1: "[" is no pattern of file names`},
		{"per-file's kind", "\nper-file = 1\n", ":2: a table for each pattern"},
		{"no TOML", "rules = [\n\nx", ":3: "},
		{"a key twice", "error-on = 'never'\nerror-on = 'never'\n", ":2: "},
		{"extended file is missing", "\nextends = 'base.toml'\n", ":2: there is no "},
		{"extends itself", "extends = '.workeven.toml'\n", ":1: extends comes round to .workeven.toml again"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := configsOn(disk{"/p/.workeven.toml": tt.text}).For(abs("/p/hat.crochet"))
			var bad *ConfigError
			require.ErrorAs(t, err, &bad)
			assert.Contains(t, err.Error(), "/p/.workeven.toml"+tt.want)
		})
	}
}

func TestConfigIsTheNearest(t *testing.T) {
	c := configsOn(disk{
		"/p/.workeven.toml":           "error-on = 'never'",
		"/p/hats/.workeven.toml":      "error-on = 'error'",
		"/p/repo/.git/HEAD":           "",
		"/p/tree/.git":                "gitdir: elsewhere",
		"/p/rooted/.git/HEAD":         "",
		"/p/rooted/.workeven.toml":    "error-on = 'hint'",
		"/p/broken/.workeven.toml":    "no",
		"/p/broken/in/.workeven.toml": "error-on = 'information'",
	})
	tests := []struct {
		file string
		want Threshold
	}{
		{"/p/a.crochet", Never},
		{"/p/x/y/a.crochet", Never},
		{"/p/hats/a.crochet", Threshold(Error)},
		{"/p/hats/deep/er/a.crochet", Threshold(Error)},
		{"/p/repo/a.crochet", Threshold(Warning)},
		{"/p/repo/deep/a.crochet", Threshold(Warning)},
		{"/p/tree/deep/a.crochet", Threshold(Warning)},
		{"/p/rooted/deep/a.crochet", Threshold(Hint)},
		{"/p/broken/in/a.crochet", Threshold(Information)},
		{"/other/a.crochet", Threshold(Warning)},
	}
	for _, tt := range tests {
		config, err := c.For(abs(tt.file))
		require.NoError(t, err, tt.file)
		assert.Equal(t, tt.want, config.ErrorOn(), tt.file)
	}
	_, err := c.For(abs("/p/broken/a.crochet"))
	assert.Error(t, err)
}

func TestConfigExtends(t *testing.T) {
	c := configsOn(disk{
		"/p/.workeven.toml":    "extends = ['shared/base.toml', 'other.toml']\nexclude = ['mine']\n[rules]\nmarker = 'warning'\n",
		"/p/shared/base.toml":  "extends = '../shared/root.toml'\nerror-on = 'error'\nexclude = ['drafts/**']\n[rules]\nmarker = 'off'\ntotal-missing = 'off'\n",
		"/p/shared/root.toml":  "error-on = 'hint'\ninclude = ['*.txt']\n[rules]\ntwo-readings = 'error'\n",
		"/p/other.toml":        "[per-file.'old/**']\nmarker = 'off'\n[rules]\ntotal-missing = 'hint'\n",
		"/q/.workeven.toml":    "extends = 'a.toml'",
		"/q/a.toml":            "extends = 'b.toml'",
		"/q/b.toml":            "\nextends = 'a.toml'",
		"/q/in/.workeven.toml": "extends = '../b.toml'",
	})
	config, err := c.For(abs("/p/hat.crochet"))
	require.NoError(t, err)
	off, severity := config.Levels(abs("/p/old/hat.crochet"))
	assert.Equal(t, map[string]bool{}, off, "what extends wins over what is extended")
	assert.Equal(t, map[string]Severity{"marker": Warning, "total-missing": Hint, "two-readings": Error}, severity)
	assert.Equal(t, Threshold(Error), config.ErrorOn())
	assert.True(t, config.Excludes(abs("/p/mine/hat.crochet")))
	assert.True(t, config.Excludes(abs("/p/shared/drafts/hat.crochet")), "patterns count from the file that states them")
	assert.False(t, config.Excludes(abs("/p/drafts/hat.crochet")))
	assert.True(t, config.Includes(abs("/p/shared/hat.txt")))
	assert.False(t, config.Includes(abs("/p/shared/hat.crochet")))

	for _, file := range []string{"/q/x.crochet", "/q/in/x.crochet"} {
		_, err = c.For(abs(file))
		assert.ErrorContains(t, err, "again")
	}
}

func TestConfigLevels(t *testing.T) {
	c := configsOn(disk{"/p/.workeven.toml": `
[rules]
marker = "off"
total-missing = "error"

[per-file."drafts/**"]
total-missing = "off"
marker = "hint"

[per-file."drafts/old/*"]
total-missing = "information"
`})
	tests := []struct {
		file     string
		off      map[string]bool
		severity map[string]Severity
	}{
		{"/p/hat.crochet", map[string]bool{"marker": true}, map[string]Severity{"total-missing": Error}},
		{"/p/drafts/hat.crochet", map[string]bool{"total-missing": true}, map[string]Severity{"marker": Hint}},
		{"/p/drafts/old/hat.crochet", map[string]bool{}, map[string]Severity{"marker": Hint, "total-missing": Information}},
	}
	for _, tt := range tests {
		config, err := c.For(abs(tt.file))
		require.NoError(t, err)
		off, severity := config.Levels(abs(tt.file))
		assert.Equal(t, tt.off, off, tt.file)
		assert.Equal(t, tt.severity, severity, tt.file)
	}
}

func TestGlob(t *testing.T) {
	tests := []struct {
		pattern, file string
		want          bool
	}{
		{"drafts", "/p/drafts/hat.crochet", true},
		{"drafts", "/p/a/drafts/b/hat.crochet", true},
		{"drafts/", "/p/a/drafts/hat.crochet", true},
		{"/drafts", "/p/drafts/hat.crochet", true},
		{"/drafts", "/p/a/drafts/hat.crochet", false},
		{"./drafts", "/p/a/drafts/hat.crochet", false},
		{"drafts/**", "/p/drafts/a/hat.crochet", true},
		{"*.txt.crochet", "/p/a/hat.txt.crochet", true},
		{"a/*.crochet", "/p/a/hat.crochet", true},
		{"a/*.crochet", "/p/b/a/hat.crochet", false},
		{"{a,b}/hat.crochet", "/p/b/hat.crochet", true},
		{"**", "/other/hat.crochet", false},
		{"hat.crochet", "/p/hat.crochet/in.crochet", true},
	}
	for _, tt := range tests {
		g, err := NewGlob(abs("/p"), tt.pattern)
		require.NoError(t, err)
		assert.Equal(t, tt.want, g.Matches(abs(tt.file)), "%s on %s", tt.pattern, tt.file)
	}
	for _, bad := range []string{"", "[", "{a"} {
		_, err := NewGlob(abs("/p"), bad)
		assert.Error(t, err, bad)
	}
}

func TestConfigIncludes(t *testing.T) {
	c := configsOn(disk{"/p/.workeven.toml": "include = ['patterns', 'notes/*.txt']", "/q/x": ""})
	for file, want := range map[string]bool{
		"/p/patterns/hat.crochet": true, "/p/patterns/readme.md": false, "/p/notes/hat.txt": true, "/p/hat.crochet": false,
		"/q/hat.crochet": true, "/q/hat.txt": false,
	} {
		config, err := c.For(abs(file))
		require.NoError(t, err)
		assert.Equal(t, want, config.Includes(abs(file)), file)
	}
}

// The schema, which is made from the registry, and the reader agree on what a configuration may say.
func TestConfigSchemaAgreesWithTheReader(t *testing.T) {
	rules := make([]*Rule, len(testRules))
	for i, name := range testRules {
		rules[i] = &Rule{Name: name, Severity: Warning, Summary: "says what"}
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(configSchema(rules)))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("config.json", doc))
	s, err := compiler.Compile("config.json")
	require.NoError(t, err)
	for text, want := range map[string]bool{
		"": true,
		"extends = 'a.toml'\ninclude = ['*.txt']\nexclude = 'x'\nerror-on = 'never'\n[rules]\nmarker = 'off'\n[per-file.'a/**']\ntwo-readings = 'hint'\n": true,
		"error-on = 'off'": false, "[rules]\nnope = 'off'": false, "[rules]\nmarker = 'never'": false, "nope = 1": false,
		"exclude = ['']": false, "[per-file.a]\nnope = 'off'": false, "rules = 'off'": false,
	} {
		var tree map[string]any
		require.NoError(t, toml.Unmarshal([]byte(text), &tree))
		data, err := json.Marshal(tree)
		require.NoError(t, err)
		_, err = readConfig(abs("/p/.workeven.toml"), []byte(text), testRules)
		assert.Equal(t, want, err == nil, "reader on %q: %v", text, err)
		bySchema := validate(t, s, data)
		assert.Equal(t, want, bySchema == nil, "schema on %q: %v", text, bySchema)
	}
}

func TestConfigToleratesByteOrderMark(t *testing.T) {
	r, err := readConfig(abs("/p/.workeven.toml"), []byte("\ufefferror-on = 'hint'"), testRules)
	require.NoError(t, err)
	assert.Equal(t, Threshold(Hint), *r.layer.errorOn)
}

func TestUnreadableConfigIsTold(t *testing.T) {
	refuses := errors.New("permission denied")
	c := NewConfigs(refusing{disk{"/p/.workeven.toml": ""}, refuses})
	_, err := c.For(abs("/p/hat.crochet"))
	assert.ErrorIs(t, err, refuses)
}

type refusing struct {
	disk
	err error
}

func (r refusing) ReadFile(string) ([]byte, error) { return nil, r.err }

func TestNearest(t *testing.T) {
	for word, want := range map[string]string{"totl-differs": "total-differs", "MARKER": "marker", "zzz": "", "": ""} {
		assert.Equal(t, want, Nearest(word, testRules), word)
	}
}
