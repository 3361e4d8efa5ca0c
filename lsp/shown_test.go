package lsp

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// update writes what the server shows into the tests' data; look at the
// difference before it is kept.
var update = flag.Bool("update", false, "write what is shown into the test data")

// A test's data is a pattern, and behind each mark what is shown for it:
//
//	-- pattern --
//	Terms: US
//	...
//	-- hints --
//	4: Rnd 1: 6 sc in magic ring (6)« → 6»
//	-- hover 4 "sc" --
//	...
//
// "@snail.crochet" is that demo pattern. "pattern CRLF" ends its lines as other
// systems do, and "pattern BOM" begins with a byte-order mark. "file NAME" puts
// a second pattern into the folder beside it.
//
// A mark begins with what is shown, a word of shows. Most name a place: a line,
// from 1, and words that begin there; "sc"2 is the second of them on the line.
var shows = map[string]func(e *editor, text, head string) string{
	"actions":     (*editor).offers,
	"colours":     (*editor).colours,
	"definition":  (*editor).declared,
	"diagnostics": (*editor).complaints,
	"enter":       (*editor).entered,
	"file":        nil, // given, not shown
	"folds":       (*editor).folds,
	"format":      (*editor).tidied,
	"highlights":  (*editor).highlights,
	"hints":       (*editor).hints,
	"hover":       (*editor).hover,
	"hovers":      func(_ *editor, text, _ string) string { return hovers(text) },
	"lenses":      (*editor).lenses,
	"links":       (*editor).links,
	"names":       (*editor).mentions,
	"outline":     (*editor).outlined,
	"pick":        (*editor).picked,
	"rename":      (*editor).renamed,
	"selection":   (*editor).selected,
	"symbols":     (*editor).found,
	"tokens":      (*editor).tokens,
	"tooltips":    (*editor).tooltips,
	"type":        (*editor).typed,
}

type shownFile struct {
	path  string
	parts []shownPart
}

type shownPart struct{ head, body string }

func (p *shownPart) kind() string {
	kind, _, _ := strings.Cut(p.head, " ")
	return kind
}

func readShown(t *testing.T, path string) *shownFile {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	x := &shownFile{path: path}
	for line := range strings.Lines(string(data)) {
		if head, ok := strings.CutPrefix(strings.TrimSuffix(line, " --\n"), "-- "); ok && strings.HasSuffix(line, " --\n") {
			x.parts = append(x.parts, shownPart{head: head})
			continue
		}
		require.NotEmpty(t, x.parts, "%s begins with a mark", path)
		x.parts[len(x.parts)-1].body += line
	}
	require.Equal(t, "pattern", x.parts[0].kind(), path)
	require.Greater(t, len(x.parts), 1, "%s shows nothing", path)
	return x
}

func (x *shownFile) write(t *testing.T) {
	t.Helper()
	var b strings.Builder
	for _, p := range x.parts {
		b.WriteString("-- " + p.head + " --\n" + p.body)
	}
	require.NoError(t, os.WriteFile(x.path, []byte(b.String()), 0o666))
}

// pattern is the text of a test: in the file, or in one of the demo patterns.
func (x *shownFile) pattern(t *testing.T) string {
	t.Helper()
	text := x.parts[0].body
	if name, ok := strings.CutPrefix(strings.TrimSpace(text), "@"); ok {
		data, err := os.ReadFile(filepath.Join("..", "testdata", "patterns", name))
		require.NoError(t, err)
		text = string(data)
	}
	for _, how := range strings.Fields(x.parts[0].head)[1:] {
		switch how {
		case "CRLF":
			text = strings.ReplaceAll(text, "\n", "\r\n")
		case "BOM":
			text = "\ufeff" + text
		default:
			require.Fail(t, "what is "+how+"?", x.path)
		}
	}
	return text
}

// files are the patterns that lie in the folder besides.
func (x *shownFile) files() map[string]string {
	files := map[string]string{}
	for _, p := range x.parts {
		if name, ok := strings.CutPrefix(p.head, "file "); ok {
			files[name] = p.body
		}
	}
	return files
}

func TestShown(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "shown", "*.txt"))
	require.NoError(t, err)
	shown := map[string]bool{}
	for _, path := range paths {
		x := readShown(t, path)
		for _, part := range x.parts {
			shown[part.kind()] = true
		}
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			text := x.pattern(t)
			e := open(t, showing(), x.files())
			e.type_(at("shown.crochet"), text)
			for i := 1; i < len(x.parts); i++ {
				part := &x.parts[i]
				show, known := shows[part.kind()]
				require.True(t, known, "%s: %q is not shown", path, part.head)
				if show == nil {
					continue
				}
				got := show(e, text, part.head)
				if *update {
					part.body = got
					continue
				}
				assert.Equal(t, part.body, got, "%s", part.head)
			}
			if *update {
				x.write(t)
			}
		})
	}
	for kind := range shows {
		assert.True(t, shown[kind], "no file shows %s", kind)
	}
}

// showing is a client that takes all that is shown in a form to be read.
func showing() protocol.ClientCapabilities {
	can := reading(protocol.MarkupKindPlainText)
	can.TextDocument.DocumentSymbol = &protocol.DocumentSymbolClientCapabilities{HierarchicalDocumentSymbolSupport: new(true)}
	can.TextDocument.Rename = &protocol.RenameClientCapabilities{PrepareSupport: new(true)}
	return can
}

func shownDocument() protocol.TextDocumentIdentifier {
	return protocol.TextDocumentIdentifier{URI: at("shown.crochet")}
}

var placeOfHead = regexp.MustCompile(`^[a-z]+ (\d+) ("(?:[^"\\]|\\.)*")(\d*) ?(.*)$`)

// placed is the place that a part's head marks, and what else it says.
func (e *editor) placed(text, head string) (where protocol.TextDocumentPositionParams, more string) {
	e.t.Helper()
	m := placeOfHead.FindStringSubmatch(head)
	require.NotNil(e.t, m, "%s names no place", head)
	line, err := strconv.Atoi(m[1])
	require.NoError(e.t, err, head)
	words, err := strconv.Unquote(m[2])
	require.NoError(e.t, err, head)
	nth := 1
	if m[3] != "" {
		nth, err = strconv.Atoi(m[3])
		require.NoError(e.t, err, head)
	}
	x := newIndex(text, utf16Units)
	require.LessOrEqual(e.t, line, len(x.starts), head)
	start, end := x.bounds(line - 1)
	column := -1
	for range nth {
		next := strings.Index(text[start+column+1:end], words)
		require.GreaterOrEqual(e.t, next, 0, "%s: %q", head, text[start:end])
		column += 1 + next
	}
	return protocol.TextDocumentPositionParams{TextDocument: shownDocument(), Position: x.position(start + column)}, m[4]
}

// linesOf are the lines of a text without their ends and a byte-order mark.
func linesOf(text string) []string {
	x := newIndex(text, utf16Units)
	out := make([]string, len(x.starts))
	for i := range out {
		start, end := x.bounds(i)
		out[i] = strings.TrimPrefix(text[start:end], "\ufeff")
	}
	return out
}

// textIn is what stands in a range.
func textIn(text string, r protocol.Range) string {
	x := newIndex(text, utf16Units)
	return text[x.offset(r.Start):x.offset(r.End)]
}

// withMarks are the lines of a range with marks where it begins and ends.
func withMarks(text string, r protocol.Range) string {
	x := newIndex(text, utf16Units)
	from, _ := x.bounds(int(r.Start.Line))
	_, to := x.bounds(int(r.End.Line))
	start, end := x.offset(r.Start), x.offset(r.End)
	var b strings.Builder
	for i, line := range linesOf(text[from:start] + "«" + text[start:end] + "»" + text[end:to]) {
		fmt.Fprintf(&b, "%d: %s\n", int(r.Start.Line)+i+1, line)
	}
	return b.String()
}

// changedLines are the lines of a text that another, of as many, has otherwise.
func changedLines(t testing.TB, before, after string) string {
	t.Helper()
	was, now := linesOf(before), linesOf(after)
	require.Len(t, now, len(was))
	var b strings.Builder
	for i, line := range now {
		if line != was[i] {
			fmt.Fprintf(&b, "%d: %s\n", i+1, line)
		}
	}
	return b.String()
}

// orNothing says so where there is nothing to show.
func orNothing(shown string) string {
	if shown == "" {
		return "nothing\n"
	}
	return shown
}
