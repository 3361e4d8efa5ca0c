//go:build editors

package editors

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// These tests color the patterns by the real programs and compare with the rows.
// They need node and npm (VS Code's tokenizer is installed by its lock file), and
// of Debian vim, emacs-nox and libkf5syntaxhighlighting-tools. What is missing fails.

// colours is what an editor calls each rune of each line of a pattern.
type colours [][]string

func (c colours) of(r row) []string { return c[r.line-1][r.from:r.to] }

// holdRows compares what an editor shows with the rows; called says what the
// editor calls a class.
func holdRows(t *testing.T, shown map[string]colours, called func(class) string) {
	t.Helper()
	for _, r := range rows(t) {
		want := called(r.class)
		for _, got := range shown[r.pattern].of(r) {
			if !assert.Equal(t, want, got, "%s:%d: %s is %s", r.pattern, r.line, r.text, r.class) {
				break
			}
		}
	}
}

// uncoloured makes room for a pattern's colors.
func uncoloured(t *testing.T, name, nothing string) colours {
	t.Helper()
	var out colours
	for _, l := range patternLines(t, name) {
		line := make([]string, utf8.RuneCountInString(l))
		for i := range line {
			line[i] = nothing
		}
		out = append(out, line)
	}
	return out
}

func program(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	require.NoError(t, err, "%s is needed", name)
	return path
}

func output(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	require.NoError(t, err, "%s\n%s", errs.String(), out.String())
	require.Empty(t, errs.String())
	return out.String()
}

func absolute(t *testing.T, path string) string {
	t.Helper()
	out, err := filepath.Abs(path)
	require.NoError(t, err)
	return out
}

// tokenizer is the folder of VS Code's tokenizer, installed.
func tokenizer(t *testing.T) string {
	t.Helper()
	dir := absolute(t, "../.ci/colouring")
	if _, err := os.Stat(filepath.Join(dir, "node_modules", ".package-lock.json")); err != nil {
		npm := exec.Command(program(t, "npm"), "ci", "--ignore-scripts", "--loglevel=error")
		npm.Dir = dir
		out, err := npm.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	return dir
}

// textMateColours colors all patterns by a grammar. That no line leaves a rule
// open is checked by the script, which exits with 1 where one does.
func textMateColours(t *testing.T, grammar string) map[string]colours {
	t.Helper()
	args := []string{"colour.mjs", absolute(t, grammar)}
	shown := map[string]colours{}
	named := map[string]string{}
	for _, name := range patternNames(t) {
		args = append(args, absolute(t, patternPath(name)))
		named[absolute(t, patternPath(name))] = name
		shown[name] = uncoloured(t, name, "source.crochet")
	}
	cmd := exec.Command(program(t, "node"), args...)
	cmd.Dir = tokenizer(t)
	for line := range strings.Lines(output(t, cmd)) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		var n, from, to int
		_, err := fmt.Sscan(strings.Join(f[1:4], " "), &n, &from, &to)
		require.NoError(t, err, line)
		scopes := strings.Fields(f[4])
		for i := from; i < to; i++ { // the patterns hold nothing beyond the basic plane
			shown[named[f[0]]][n-1][i] = scopes[len(scopes)-1]
		}
	}
	return shown
}

func scopeOf(c class) string {
	if c == plain {
		return "source.crochet"
	}
	return lookOf(c).scope
}

func TestColouringByVSCodesTokenizer(t *testing.T) {
	holdRows(t, textMateColours(t, "vscode/syntaxes/crochet.tmLanguage.json"), scopeOf)
}

func TestColouringByThePropertyListIsTheSame(t *testing.T) {
	want := textMateColours(t, "vscode/syntaxes/crochet.tmLanguage.json")
	require.NotEmpty(t, want)
	assert.Equal(t, want, textMateColours(t, "sublime/crochet.tmLanguage"))
}

// vimDump prints the group of every byte, as lines of a byte's line, column and
// the group that its own is linked to last but one: crochetStitch, say.
const vimDump = `set nocompatible encoding=utf-8 nomodeline
let &runtimepath = $COLOURING_RUNTIME . ',' . &runtimepath
filetype plugin on
syntax on
let s:out = []
for s:file in split($COLOURING_FILES, "\n")
  execute 'edit ' . fnameescape(s:file)
  call assert_equal('crochet', b:current_syntax)
  for s:line in range(1, line('$'))
    let s:names = []
    for s:col in range(1, len(getline(s:line)))
      call add(s:names, synIDattr(synID(s:line, s:col, 1), 'name'))
    endfor
    call add(s:out, {'file': s:file, 'line': s:line, 'names': s:names})
  endfor
endfor
call writefile([json_encode({'errors': v:errors, 'lines': s:out})], $COLOURING_OUT)
qall!
`

func TestColouringByVim(t *testing.T) {
	dir := t.TempDir()
	script, out := filepath.Join(dir, "dump.vim"), filepath.Join(dir, "out.json")
	require.NoError(t, os.WriteFile(script, []byte(vimDump), 0o644))
	named, shown := map[string]string{}, map[string]colours{}
	var files []string
	for _, name := range patternNames(t) {
		path := absolute(t, patternPath(name))
		files, named[path], shown[name] = append(files, path), name, uncoloured(t, name, "")
	}
	cmd := exec.Command(program(t, "vim"), "-u", script, "-i", "NONE", "-n", "-N", "-es", "-V1")
	cmd.Env = append(os.Environ(), "COLOURING_RUNTIME="+absolute(t, "vim"), "COLOURING_FILES="+strings.Join(files, "\n"), "COLOURING_OUT="+out)
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, string(said))
	assert.NotContains(t, string(said), "E", "Vim complains") // every error has a number such as E475
	data, err := os.ReadFile(out)
	require.NoError(t, err, string(said))
	var dump struct {
		Errors []string
		Lines  []struct {
			File  string
			Line  int
			Names []string
		}
	}
	require.NoError(t, json.Unmarshal(data, &dump))
	require.Empty(t, dump.Errors)
	classes := vimClasses()
	for _, l := range dump.Lines {
		text := patternLines(t, named[l.File])[l.Line-1]
		column := 0
		for at := range text {
			shown[named[l.File]][l.Line-1][column] = string(classes[l.Names[at]])
			column++
		}
	}
	holdRows(t, shown, func(c class) string { return string(c) })
}

// vimClasses is the class of every group in the syntax file, by its links.
func vimClasses() map[string]class {
	out := map[string]class{}
	for _, l := range looks {
		out[vimGroup(l.class)] = l.class
	}
	for _, m := range regexp.MustCompile(`(?m)^highlight default link (\S+) (\S+)$`).FindAllStringSubmatch(string(vimSyntax()), -1) {
		if c, ok := out[m[2]]; ok {
			out[m[1]] = c
		}
	}
	return out
}

func TestColouringByKate(t *testing.T) {
	dir := t.TempDir()
	data, err := os.ReadFile("kate/crochet.xml")
	require.NoError(t, err)
	// A color for each class tells them apart in what the program prints.
	painted := string(data)
	classes := map[string]string{}
	for i, l := range looks {
		paint := fmt.Sprintf("#01%02x01", i+1)
		classes[paint] = string(l.class)
		item := fmt.Sprintf(`<itemData name="%s" `, l.class)
		require.Contains(t, painted, item)
		painted = strings.Replace(painted, item, item+`color="`+paint+`" `, 1)
	}
	folder := filepath.Join(dir, "org.kde.syntax-highlighting", "syntax")
	require.NoError(t, os.MkdirAll(folder, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "crochet.xml"), []byte(painted), 0o644))
	shown := map[string]colours{}
	for _, name := range patternNames(t) {
		cmd := exec.Command(program(t, "kate-syntax-highlighter"), "--theme", "Breeze Light", "--output-format", "html", patternPath(name))
		cmd.Env = append(os.Environ(), "XDG_DATA_HOME="+dir, "QT_QPA_PLATFORM=offscreen", "LC_ALL=C.UTF-8", "HOME="+dir)
		shown[name] = kateColours(t, name, output(t, cmd), classes)
	}
	holdRows(t, shown, func(c class) string { return string(c) })
}

var kateSpan = regexp.MustCompile(`<span style="([^"]*)">|</span>|[^<]+`)

// kateColours reads the page that KSyntaxHighlighting's program prints.
func kateColours(t *testing.T, name, page string, classes map[string]string) colours {
	t.Helper()
	_, body, ok := strings.Cut(page, "<pre>")
	require.True(t, ok, page)
	body, _, _ = strings.Cut(body, "</pre>")
	out := uncoloured(t, name, "")
	for n, line := range strings.Split(strings.TrimPrefix(body, "\n"), "\n") {
		column, now := 0, ""
		for _, m := range kateSpan.FindAllStringSubmatch(line, -1) {
			switch {
			case m[0] == "</span>":
				now = ""
			case strings.HasPrefix(m[0], "<span"):
				for paint, c := range classes {
					if strings.Contains(m[1], "color:"+paint) {
						now = c
					}
				}
			default:
				for range html.UnescapeString(m[0]) {
					require.Less(t, column, len(out[n]), "line %d of %s", n+1, name)
					out[n][column] = now
					column++
				}
			}
		}
	}
	return out
}

// emacsDump prints the face of every character, one line for each line of a file.
const emacsDump = `(progn
  (add-to-list 'load-path (getenv "COLOURING_RUNTIME"))
  (require 'crochet-keywords)
  (setq coding-system-for-read 'utf-8 coding-system-for-write 'utf-8)
  (dolist (file (split-string (getenv "COLOURING_FILES") "\n"))
    (with-temp-buffer
      (insert-file-contents file)
      (crochet-keywords-setup)
      (font-lock-mode 1)
      (font-lock-ensure)
      (goto-char (point-min))
      (while (not (eobp))
        (princ (format "%s\t%d" file (line-number-at-pos)))
        (while (not (eolp))
          (princ (format "\t%s" (or (get-text-property (point) 'face) 'default)))
          (forward-char 1))
        (princ "\n")
        (forward-char 1)))))`

func TestColouringByEmacs(t *testing.T) {
	named, shown := map[string]string{}, map[string]colours{}
	var files []string
	for _, name := range patternNames(t) {
		path := absolute(t, patternPath(name))
		files, named[path], shown[name] = append(files, path), name, uncoloured(t, name, "default")
	}
	cmd := exec.Command(program(t, "emacs"), "--batch", "-Q", "--eval", emacsDump)
	cmd.Env = append(os.Environ(), "COLOURING_RUNTIME="+absolute(t, "emacs"), "COLOURING_FILES="+strings.Join(files, "\n"), "LC_ALL=C.UTF-8")
	for line := range strings.Lines(output(t, cmd)) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		var n int
		_, err := fmt.Sscan(f[1], &n)
		require.NoError(t, err)
		copy(shown[named[f[0]]][n-1], f[2:])
	}
	holdRows(t, shown, func(c class) string {
		if face := lookOf(c).face; face != "" {
			return face
		}
		return "default"
	})
}

func TestEmacsFileCompilesWithoutWarning(t *testing.T) {
	dir := t.TempDir()
	data, err := os.ReadFile("emacs/crochet-keywords.el")
	require.NoError(t, err)
	path := filepath.Join(dir, "crochet-keywords.el")
	require.NoError(t, os.WriteFile(path, data, 0o644))
	cmd := exec.Command(program(t, "emacs"), "--batch", "-Q", "--eval", "(setq byte-compile-error-on-warn t)", "-f", "batch-byte-compile", path)
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, string(said))
}

// patternNames are the patterns that the rows stand in.
func patternNames(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, r := range rows(t) {
		if len(out) == 0 || out[len(out)-1] != r.pattern {
			out = append(out, r.pattern)
		}
	}
	return out
}
