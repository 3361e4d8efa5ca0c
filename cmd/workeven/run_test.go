package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"workeven/lint"
)

// result is what a run of the command leaves.
type result struct {
	code     int
	out, err string
}

// bench is a folder to run the command in, with rules whose findings a test can rely on.
type bench struct {
	t     *testing.T
	stdin string
	env   map[string]string
}

// newBench makes the folder the working folder. Files are given by their
// names; a name that ends in a slash is a folder.
func newBench(t *testing.T, files map[string]string) *bench {
	t.Helper()
	t.Chdir(t.TempDir())
	b := &bench{t: t, env: map[string]string{}}
	b.put(".git/HEAD", "ref: refs/heads/main\n") // no configuration above counts
	for name, text := range files {
		b.put(name, text)
	}
	return b
}

func (b *bench) put(name, text string) {
	b.t.Helper()
	if strings.HasSuffix(name, "/") {
		require.NoError(b.t, os.MkdirAll(name, 0o755))
		return
	}
	require.NoError(b.t, os.MkdirAll(filepath.Dir(name), 0o755))
	require.NoError(b.t, os.WriteFile(name, []byte(text), 0o644))
}

func (b *bench) text(name string) string {
	b.t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(b.t, err)
	return string(data)
}

// run runs a command line on the test's own rules.
func (b *bench) run(args ...string) result {
	b.t.Helper()
	var out, err bytes.Buffer
	a := &app{in: strings.NewReader(b.stdin), out: &out, err: &err, env: func(key string) string { return b.env[key] }, check: wordRules}
	code := a.run(args)
	return result{code, out.String(), err.String()}
}

// wordRules finds the words WRONG (an error that can be mended), DOUBTFUL (a
// warning), ASIDE (information) and PERHAPS (a hint), under the names of rules
// that are registered.
func wordRules(text string, opts lint.Options) []lint.Finding {
	words := []struct {
		word, rule, instead string
		severity            lint.Severity
	}{
		{"WRONG", "total-differs", "RIGHT", lint.Error},
		{"DOUBTFUL", "total-missing", "", lint.Warning},
		{"ASIDE", "gauge-unlikely", "", lint.Information},
		{"PERHAPS", "marker", "", lint.Hint},
	}
	var out []lint.Finding
	for _, w := range words {
		if opts.Off[w.rule] {
			continue
		}
		severity := w.severity
		if s, ok := opts.Severity[w.rule]; ok {
			severity = s
		}
		for at := 0; ; {
			i := strings.Index(text[at:], w.word)
			if i < 0 {
				break
			}
			start, end := at+i, at+i+len(w.word)
			f := lint.Finding{Rule: w.rule, Severity: severity, Start: start, End: end, Message: w.word + " is found"}
			if w.instead != "" && !opts.NoFixes {
				f.Fixes = []lint.Fix{{Title: "write " + w.instead, Safe: true, Edits: []lint.Edit{{Start: start, End: end, New: w.instead}}}}
			}
			out = append(out, f)
			at = end
		}
	}
	lint.Sort(out)
	return out
}

// table runs command lines in folders of their own.
type table []struct {
	name  string
	files map[string]string
	stdin string
	env   map[string]string
	args  []string
	code  int
	// out is the whole standard output; has and lacks are parts of it, or of
	// the standard error output where they begin with "2>".
	out        string
	has, lacks []string
	// after are files as they must be afterwards.
	after map[string]string
}

func (tests table) run(t *testing.T) {
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t, tt.files)
			b.stdin = tt.stdin
			b.env = tt.env
			r := b.run(tt.args...)
			require.Equal(t, tt.code, r.code, "exit code; output:\n%s%s", r.out, r.err)
			if tt.out != "" {
				require.Equal(t, tt.out, r.out)
			}
			for _, part := range tt.has {
				in, part := r.stream(part)
				require.Contains(t, in, part)
			}
			for _, part := range tt.lacks {
				in, part := r.stream(part)
				require.NotContains(t, in, part)
			}
			for name, text := range tt.after {
				require.Equal(t, text, b.text(name), name)
			}
		})
	}
}

func (r result) stream(part string) (in, what string) {
	if what, ok := strings.CutPrefix(part, "2>"); ok {
		return r.err, what
	}
	return r.out, part
}
