package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/lint"
)

var update = flag.Bool("update", false, "write what the commands print into README.md")

// transcript runs a command line as the README shows it and gives what it prints.
func transcript(t *testing.T, line string) string {
	words := strings.Fields(line)
	require.Equal(t, "workeven", words[0])
	var out bytes.Buffer
	code := run(words[1:], strings.NewReader(""), &out, &bytes.Buffer{}, func(string) string { return "" })
	require.Equal(t, 1, code, "the pattern shown has slips")
	return out.String()
}

func rulesTable() string {
	var b strings.Builder
	for _, r := range lint.Rules() {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", r.Name, r.Severity, r.Summary)
	}
	return b.String()
}

// between replaces what stands between two marks.
func between(t *testing.T, text, from, to, with string) string {
	head, rest, ok := strings.Cut(text, from)
	require.True(t, ok, from)
	_, tail, ok := strings.Cut(rest, to)
	require.True(t, ok, to)
	return head + from + with + to + tail
}

// TestReadme holds the README to what the command prints; -update writes it.
func TestReadme(t *testing.T) {
	t.Chdir("../..")
	data, err := os.ReadFile("README.md")
	require.NoError(t, err)
	text := string(data)
	const command = "workeven lint testdata/patterns/broken/snail.crochet"
	want := between(t, text, "$ "+command+"\n", "```\n", transcript(t, command))
	want = between(t, want, "| rule | | what it finds |\n|---|---|---|\n", "\n## Where", rulesTable())
	if *update {
		require.NoError(t, os.WriteFile("README.md", []byte(want), 0o644))
		return
	}
	assert.Equal(t, want, text, "run go test ./cmd/workeven -run Readme -update")
	setup, _, _ := strings.Cut(text[strings.Index(text, "```sh setup\n")+len("```sh setup\n"):], "```")
	assert.Equal(t, "go run ./cmd/"+command+"\ngo test ./...\n", setup)
}
