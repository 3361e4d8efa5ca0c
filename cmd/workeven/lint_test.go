package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func concise(args ...string) []string {
	return append([]string{"lint", "--format", "concise"}, args...)
}

func TestLintExitCodes(t *testing.T) {
	table{
		{name: "clean", files: map[string]string{"a.crochet": "fine\n"}, args: concise("a.crochet"), code: 0, has: []string{"2>1 file: nothing found."}},
		{name: "hint", files: map[string]string{"a.crochet": "PERHAPS\n"}, args: concise("a.crochet"), code: 0, out: "a.crochet:1:1: hint PERHAPS is found [marker]\n"},
		{name: "information", files: map[string]string{"a.crochet": "ASIDE\n"}, args: concise("a.crochet"), code: 0, has: []string{"information"}},
		{name: "warning", files: map[string]string{"a.crochet": "DOUBTFUL\n"}, args: concise("a.crochet"), code: 1, has: []string{"2>1 warning in 1 file."}},
		{name: "error", files: map[string]string{"a.crochet": "WRONG\n"}, args: []string{"lint", "a.crochet"}, code: 1, has: []string{"2>--fix mends 1 of them"}},
		{name: "error-on hint", files: map[string]string{"a.crochet": "PERHAPS\n"}, args: concise("--error-on", "hint", "a.crochet"), code: 1},
		{name: "error-on error", files: map[string]string{"a.crochet": "DOUBTFUL\n"}, args: concise("--error-on", "error", "a.crochet"), code: 0},
		{name: "error-on never", files: map[string]string{"a.crochet": "WRONG\n"}, args: concise("--error-on", "never", "a.crochet"), code: 0},
		{name: "unknown flag", args: []string{"lint", "--frog"}, code: 2, has: []string{"2>unknown flag: --frog", "2>See `workeven lint --help`."}},
		{name: "unknown command", args: []string{"lnit"}, code: 2, has: []string{"2>unknown command", "2>lint"}},
		{name: "unknown format", args: []string{"lint", "--format", "xml"}, code: 2, has: []string{"2>it is one of text, concise, json, sarif, github"}},
		{name: "flags that exclude each other", args: []string{"lint", "--fix", "--diff"}, code: 2, has: []string{"2>fix diff"}},
		{name: "negative jobs", args: []string{"lint", "-j", "-1"}, code: 2, has: []string{"2>--jobs"}},
		{name: "no such file, and the rest is linted", files: map[string]string{"a.crochet": "WRONG\n"}, args: concise("gone.crochet", "a.crochet"), code: 2,
			has: []string{"2>workeven: gone.crochet: there is no such file or folder", "a.crochet:1:1: error"}},
		{name: "UTF-16", files: map[string]string{"a.crochet": "\xff\xfeP\x00"}, args: concise("a.crochet"), code: 2, has: []string{"2>a.crochet: this file is saved as UTF-16; save it as UTF-8"}},
		{name: "no pattern in the folder", files: map[string]string{"a.txt": "WRONG"}, args: concise(), code: 0, has: []string{"2>there is no pattern (*.crochet) to read in ."}},
		{name: "help", args: []string{"lint", "--help"}, code: 0, has: []string{"workeven lint snail.crochet", "--error-on"}},
	}.run(t)
}

func TestLintFormats(t *testing.T) {
	files := map[string]string{"b/é.crochet": "\ufeffé WRONG\n", "a.crochet": "fine\n"}
	table{
		{name: "text", files: files, args: []string{"lint"}, code: 1, out: "" +
			"b/é.crochet:1:3: error WRONG is found [total-differs]\n    1 | é WRONG\n      |   ^^^^^\nhelp: write RIGHT\n\n"},
		{name: "json", files: files, args: []string{"lint", "--format", "json"}, code: 1, out: `{"files":[{"file":"a.crochet","findings":[]},{"file":"b/é.crochet","findings":[` +
			`{"rule":"total-differs","severity":"error","line":1,"column":3,"endLine":1,"endColumn":8,"message":"WRONG is found",` +
			`"fixes":[{"title":"write RIGHT","safe":true,"edits":[{"line":1,"column":3,"endLine":1,"endColumn":8,"newText":"RIGHT"}]}]}]}]}` + "\n"},
		{name: "json of nothing", args: []string{"lint", "--format", "json"}, code: 0, out: `{"files":[]}` + "\n"},
		{name: "sarif", files: files, args: []string{"lint", "--format", "sarif"}, code: 1, has: []string{`"version": "2.1.0"`, `"uri": "b/%C3%A9.crochet"`}},
		{name: "github", files: files, args: []string{"lint", "--format", "github"}, code: 1, out: "" +
			"::error file=b/é.crochet,line=1,endLine=1,col=3,endColumn=8,title=total-differs::WRONG is found\n1 error in 1 file\n"},
	}.run(t)
}

func TestLintColour(t *testing.T) {
	files := map[string]string{"a.crochet": "WRONG\n"}
	const red = "\x1b[31;1m"
	table{
		{name: "not off a terminal", files: files, args: []string{"lint"}, code: 1, lacks: []string{"\x1b"}},
		{name: "always", files: files, args: []string{"lint", "--color", "always"}, code: 1, has: []string{red}},
		{name: "never", files: files, args: []string{"lint", "--color=never"}, env: map[string]string{"FORCE_COLOR": "1"}, code: 1, lacks: []string{"\x1b"}},
		{name: "FORCE_COLOR", files: files, args: []string{"lint"}, env: map[string]string{"FORCE_COLOR": "1"}, code: 1, has: []string{red}},
		{name: "NO_COLOR wins", files: files, args: []string{"lint"}, env: map[string]string{"FORCE_COLOR": "1", "NO_COLOR": "1"}, code: 1, lacks: []string{"\x1b"}},
		{name: "but not over the flag", files: files, args: []string{"lint", "--color=always"}, env: map[string]string{"NO_COLOR": "1"}, code: 1, has: []string{red}},
		{name: "concise has none", files: files, args: concise("--color=always"), code: 1, lacks: []string{"\x1b"}},
	}.run(t)
}

func TestLintFindsFiles(t *testing.T) {
	files := map[string]string{
		"z.crochet": "WRONG", "a/b.crochet": "WRONG", "a/notes.txt": "WRONG", "a/.hidden/c.crochet": "WRONG",
		"node_modules/x/d.crochet": "WRONG", "a.crochet": "WRONG", "drafts/e.crochet": "WRONG", ".f.crochet": "WRONG",
	}
	names := func(list ...string) string {
		var b strings.Builder
		for _, name := range list {
			fmt.Fprintf(&b, "%s:1:1: error WRONG is found [total-differs]\n", name)
		}
		return b.String()
	}
	dir := func() string { d, _ := os.Getwd(); return d }
	table{
		{name: "this folder", files: files, args: concise(), code: 1, out: names(".f.crochet", "a.crochet", "a/b.crochet", "drafts/e.crochet", "z.crochet")},
		{name: "each once, in order", files: files, args: concise("z.crochet", ".", "a", "./z.crochet", "a/../z.crochet"), code: 1, out: names(".f.crochet", "a.crochet", "a/b.crochet", "drafts/e.crochet", "z.crochet")},
		{name: "a hidden folder when named", files: files, args: concise("a/.hidden"), code: 1, out: names("a/.hidden/c.crochet")},
		{name: "any file when named", files: files, args: concise("a/notes.txt"), code: 1, out: names("a/notes.txt")},
		{name: "excluded", files: files, args: concise("--exclude", "drafts", "--exclude", "*.crochet", "a/notes.txt", "."), code: 1, out: names("a/notes.txt")},
		{name: "excluded but named", files: files, args: concise("--exclude", "drafts", "drafts/e.crochet"), code: 1, out: names("drafts/e.crochet")},
		{name: "excluded by force", files: files, args: concise("--force-exclude", "--exclude", "drafts", "drafts/e.crochet", "z.crochet"), code: 1, out: names("z.crochet")},
		{name: "a pattern that is none", files: files, args: concise("--exclude", "["), code: 2, has: []string{`2>"[" is no pattern of file names`}},
		{name: "one at a time", files: files, args: concise("-j", "1", "a", "z.crochet"), code: 1, out: names("a/b.crochet", "z.crochet")},
	}.run(t)

	b := newBench(t, files)
	assert.Equal(t, names("z.crochet"), b.run(concise(dir()+"/z.crochet")...).out, "an absolute path below the working folder is shown from there")
	t.Chdir("a")
	assert.Equal(t, names(dir()[:len(dir())-2]+"/z.crochet"), b.run(concise("../z.crochet")...).out, "one outside is shown whole")
}

func TestLintManyFilesInOrder(t *testing.T) {
	files := map[string]string{}
	var want strings.Builder
	for i := range 300 {
		name := fmt.Sprintf("p%03d.crochet", i)
		files[name] = strings.Repeat("fine\n", (i*37)%200) + "WRONG"
		fmt.Fprintf(&want, "%s:%d:1: error WRONG is found [total-differs]\n", name, (i*37)%200+1)
	}
	b := newBench(t, files)
	for _, jobs := range []string{"1", "2", "7", "1000"} {
		r := b.run(concise("-j", jobs)...)
		require.Equal(t, 1, r.code)
		require.Equal(t, want.String(), r.out, "-j %s", jobs)
	}
}

func TestLintStdin(t *testing.T) {
	config := map[string]string{"p/.workeven.toml": "exclude = ['drafts']\n[rules]\ntotal-differs = 'hint'\n"}
	table{
		{name: "without a name", stdin: "WRONG", args: concise("-"), code: 1, out: "<stdin>:1:1: error WRONG is found [total-differs]\n"},
		{name: "the name decides the configuration", files: config, stdin: "WRONG", args: concise("--stdin-filename", "p/new.crochet", "-"), code: 0,
			out: "p/new.crochet:1:1: hint WRONG is found [total-differs]\n"},
		{name: "excluded only by force", files: config, stdin: "WRONG", args: concise("--stdin-filename", "p/drafts/new.crochet", "-"), code: 0, has: []string{"p/drafts/new.crochet:1:1"}},
		{name: "excluded by force", files: config, stdin: "WRONG", args: concise("--force-exclude", "--stdin-filename", "p/drafts/new.crochet", "-"), code: 0, lacks: []string{"WRONG"}},
		{name: "with files, and only once", files: map[string]string{"a.crochet": "WRONG"}, stdin: "WRONG", args: concise("-", "a.crochet", "-"), code: 1,
			out: "<stdin>:1:1: error WRONG is found [total-differs]\na.crochet:1:1: error WRONG is found [total-differs]\n"},
		{name: "fix", stdin: "\ufeffWRONG\r\nDOUBTFUL\r\n", args: concise("--fix", "-"), code: 1, out: "\ufeffRIGHT\r\nDOUBTFUL\r\n", has: []string{"2><stdin>:2:1: warning DOUBTFUL is found"}},
		{name: "diff", stdin: "WRONG\n", args: concise("--diff", "-"), code: 1, has: []string{"-WRONG\n+RIGHT\n"}},
	}.run(t)
}

func TestLintConfig(t *testing.T) {
	files := map[string]string{
		".workeven.toml":      "exclude = ['old/**']\n[rules]\ntotal-missing = 'off'\n[per-file.'sub/x.*']\ntotal-differs = 'information'\n",
		"sub/.workeven.toml":  "extends = '../.workeven.toml'\nerror-on = 'error'\n[rules]\ntotal-missing = 'warning'\n",
		"lone/.workeven.toml": "error-on = 'never'\n",
		"a.crochet":           "DOUBTFUL", "sub/x.crochet": "WRONG DOUBTFUL", "old/y.crochet": "WRONG", "lone/z.crochet": "WRONG",
	}
	bad := map[string]string{".workeven.toml": "\n[rules]\ntotal-difers = 'off'\n", "a.crochet": "WRONG", "b.crochet": "WRONG", "ok/.workeven.toml": "", "ok/c.crochet": "WRONG"}
	table{
		{name: "nearest to each file", files: files, args: concise(), code: 0, out: "" +
			"lone/z.crochet:1:1: error WRONG is found [total-differs]\n" +
			"sub/x.crochet:1:1: information WRONG is found [total-differs]\n" +
			"sub/x.crochet:1:7: warning DOUBTFUL is found [total-missing]\n"},
		{name: "the flag beats error-on", files: files, args: concise("--error-on", "warning", "sub"), code: 1},
		{name: "isolated", files: files, args: concise("--isolated", "a.crochet", "old"), code: 1, out: "" +
			"a.crochet:1:1: warning DOUBTFUL is found [total-missing]\nold/y.crochet:1:1: error WRONG is found [total-differs]\n"},
		{name: "one for all", files: files, args: concise("--config", "lone/.workeven.toml", "a.crochet"), code: 0, has: []string{"warning DOUBTFUL"}},
		{name: "one that is not there", files: files, args: concise("--config", "gone.toml"), code: 2, has: []string{"2>gone.toml: there is no such file"}},
		{name: "told once, and the rest is linted", files: bad, args: concise(), code: 2, out: "ok/c.crochet:1:1: error WRONG is found [total-differs]\n",
			has: []string{"2>workeven: .workeven.toml:3: there is no rule total-difers; did you mean total-differs?\n"}},
		{name: "named and wrong", files: bad, args: concise("--config", ".workeven.toml", "ok"), code: 2, has: []string{"2>.workeven.toml:3: "}},
		{name: "other files count where included", files: map[string]string{".workeven.toml": "include = ['*.txt']", "a.txt": "WRONG", "b.crochet": "WRONG"}, args: concise(), code: 1,
			out: "a.txt:1:1: error WRONG is found [total-differs]\n"},
	}.run(t)
	r := newBench(t, bad).run(concise()...)
	assert.Equal(t, 1, strings.Count(r.err, "total-difers"), "two files, one complaint")
}

func TestLintFix(t *testing.T) {
	table{
		{name: "mends and reports the rest", files: map[string]string{"a.crochet": "WRONG DOUBTFUL WRONG\n", "b.crochet": "fine\n"}, args: concise("--fix"), code: 1,
			out: "a.crochet:1:7: warning DOUBTFUL is found [total-missing]\n", has: []string{"2>2 repairs made."}, after: map[string]string{"a.crochet": "RIGHT DOUBTFUL RIGHT\n"}},
		{name: "clean afterwards", files: map[string]string{"a.crochet": "WRONG", "b.crochet": "WRONG"}, args: concise("--fix"), code: 0,
			has: []string{"2>2 repairs in 2 files made.", "2>nothing found"}, after: map[string]string{"a.crochet": "RIGHT", "b.crochet": "RIGHT"}},
		{name: "line ends and mark stay", files: map[string]string{"a.crochet": "\ufeffone\r\nWRONG\r\nlast"}, args: concise("--fix"), code: 0, after: map[string]string{"a.crochet": "\ufeffone\r\nRIGHT\r\nlast"}},
		{name: "bytes that are no UTF-8 stay", files: map[string]string{"a.crochet": "\xff WRONG"}, args: concise("--fix"), code: 0, after: map[string]string{"a.crochet": "\xff RIGHT"}},
		{name: "diff changes nothing", files: map[string]string{"a.crochet": "one\nWRONG\nDOUBTFUL"}, args: []string{"lint", "--diff"}, code: 1,
			out:   "--- a.crochet\n+++ a.crochet\n@@ -1,3 +1,3 @@\n one\n-WRONG\n+RIGHT\n DOUBTFUL\n\\ No newline at end of file\n",
			has:   []string{"2>1 error, 1 warning in 1 file; --fix would make 1 repair."},
			after: map[string]string{"a.crochet": "one\nWRONG\nDOUBTFUL"}},
		{name: "diff of nothing", files: map[string]string{"a.crochet": "DOUBTFUL"}, args: []string{"lint", "--diff", "--error-on", "error"}, code: 0, lacks: []string{"DOUBTFUL"}},
	}.run(t)
}

func TestLintBaseline(t *testing.T) {
	b := newBench(t, map[string]string{"p/a.crochet": "WRONG\nWRONG\nDOUBTFUL\n", "p/b.crochet": "DOUBTFUL\n", "etc/": ""})
	r := b.run(concise("--write-baseline", "etc/base.json")...)
	require.Equal(t, result{0, "", "etc/base.json holds 4 findings.\n2 files: nothing found.\n"}, r)
	require.Contains(t, b.text("etc/base.json"), `"../p/a.crochet"`, "paths count from the baseline, so that it holds from anywhere")

	require.Equal(t, 0, b.run(concise("--baseline", "etc/base.json")...).code)
	b.put("p/a.crochet", "\n\nDOUBTFUL\nWRONG\nWRONG PERHAPS\n")
	r = b.run(concise("--baseline", "etc/base.json")...)
	require.Equal(t, "p/a.crochet:5:7: hint PERHAPS is found [marker]\n", r.out, "lines may move, new rules are told")
	b.put("p/a.crochet", "WRONG WRONG WRONG DOUBTFUL")
	r = b.run(concise("--baseline", "etc/base.json")...)
	require.Equal(t, 1, r.code)
	require.Equal(t, 3, strings.Count(r.out, "total-differs"), "one too many, and all of the rule are told")

	b.put("p/a.crochet", "WRONG DOUBTFUL DOUBTFUL")
	r = b.run(concise("--baseline", "etc/base.json", "p/a.crochet")...)
	require.Contains(t, r.err, "etc/base.json holds 1 finding that is no longer found")
	r = b.run(concise("--write-baseline", "etc/base.json", "p/a.crochet")...)
	require.Equal(t, 1, r.code, "a baseline only shrinks, and what it does not hold is told")
	require.Equal(t, 2, strings.Count(r.out, "total-missing"))
	require.Contains(t, r.err, "etc/base.json holds 3 findings, 1 fewer than before.")
	require.NoError(t, os.Remove("p/b.crochet"))
	b.run(concise("--write-baseline", "etc/base.json", "p/a.crochet")...)
	require.NotContains(t, b.text("etc/base.json"), "b.crochet", "a file that is gone is taken out")

	b.put("etc/base.json", "{")
	require.Equal(t, 2, b.run(concise("--baseline", "etc/base.json")...).code)
	r = b.run(concise("--baseline", "gone.json")...)
	require.Equal(t, 2, r.code)
	require.Contains(t, r.err, "gone.json: there is no such file")
}

func TestLintBaselineInSARIF(t *testing.T) {
	b := newBench(t, map[string]string{"a.crochet": "WRONG\n"})
	b.run("lint", "--write-baseline", "base.json")
	r := b.run("lint", "--baseline", "base.json", "--format", "sarif")
	require.Equal(t, 0, r.code)
	var log struct {
		Runs []struct {
			Results []struct{ Suppressions []struct{ Kind string } }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &log))
	require.Equal(t, "external", log.Runs[0].Results[0].Suppressions[0].Kind)
}

func TestLintReportsWhatCannotBeWritten(t *testing.T) {
	newBench(t, map[string]string{"a.crochet": "WRONG\n"})
	a := &app{in: strings.NewReader(""), out: full{}, err: &strings.Builder{}, env: func(string) string { return "" }, check: wordRules}
	assert.Equal(t, exitFailed, a.run([]string{"lint", "--error-on", "never"}))
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, fmt.Errorf("no space left on device") }
