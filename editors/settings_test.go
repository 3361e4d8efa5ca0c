package editors

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, into), path)
}

func TestKateStartsTheServerForTheGeneratedLanguage(t *testing.T) {
	var s struct {
		Servers map[string]struct {
			Command               []string
			HighlightingModeRegex string
		}
	}
	readJSON(t, "kate/lspclient/settings.json", &s)
	var language struct {
		Name string `xml:"name,attr"`
	}
	require.NoError(t, xml.Unmarshal(kateSyntax(), &language))
	assert.Equal(t, []string{"workeven", "lsp"}, s.Servers["crochet"].Command)
	assert.Regexp(t, regexp.MustCompile(s.Servers["crochet"].HighlightingModeRegex), language.Name)
}

func TestSublimeStartsTheServerForTheGeneratedScope(t *testing.T) {
	var s struct {
		Clients map[string]struct {
			Command  []string
			Selector string
		}
	}
	readJSON(t, "sublime/LSP.sublime-settings", &s)
	assert.Equal(t, []string{"workeven", "lsp"}, s.Clients["workeven"].Command)
	assert.Equal(t, textMate().ScopeName, s.Clients["workeven"].Selector)
	// Indented lines go on with a statement, by two columns as the formatter has it.
	var page map[string]any
	readJSON(t, "sublime/crochet.sublime-settings", &page)
	assert.Equal(t, 2.0, page["tab_size"])
	data, err := os.ReadFile("sublime/Comments.tmPreferences")
	require.NoError(t, err)
	var comments struct {
		Scope string `xml:"dict>string"`
	}
	require.NoError(t, xml.Unmarshal(data, &comments))
	assert.Equal(t, textMate().ScopeName, comments.Scope)
}

func TestZedsKeysSpawnTasksThatAreThere(t *testing.T) {
	var tasks []struct {
		Label, Command string
		Args           []string
	}
	readJSON(t, "zed/tasks.json", &tasks)
	labels := map[string]bool{}
	for _, task := range tasks {
		assert.Equal(t, "workeven", task.Command)
		assert.NotEmpty(t, task.Args)
		labels[task.Label] = true
	}
	var keys []struct{ Bindings map[string][]any }
	readJSON(t, "zed/keymap.json", &keys)
	require.NotEmpty(t, keys)
	for _, k := range keys {
		for _, action := range k.Bindings {
			assert.True(t, labels[action[1].(map[string]any)["task_name"].(string)])
		}
	}
}
