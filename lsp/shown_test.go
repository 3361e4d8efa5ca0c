package lsp

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
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
// "hovers" are the first lines of what is told of every word, and the words that
// they are about; what is told twice in a row is shown once.
//
// "type 20 "Rnd 7: (sc 4, inc"" is line 20 with nothing but that on it, typed up
// to its end: the hints of the line, the first proposals and the signature.
//
// A hover names a line, from 1, and the words it is asked on; "sc"2 asks on the
// second of them.
type shownFile struct {
	path  string
	parts []shownPart
}

type shownPart struct{ head, body string }

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
	require.Equal(t, "pattern", x.parts[0].head, path)
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
	if name, ok := strings.CutPrefix(strings.TrimSpace(x.parts[0].body), "@"); ok {
		data, err := os.ReadFile(filepath.Join("..", "testdata", "patterns", name))
		require.NoError(t, err)
		return string(data)
	}
	return x.parts[0].body
}

func reading(formats ...protocol.MarkupKind) protocol.ClientCapabilities {
	can := acting()
	can.TextDocument.Hover = &protocol.HoverClientCapabilities{ContentFormat: formats}
	can.TextDocument.InlayHint = &protocol.InlayHintClientCapabilities{ResolveSupport: protocol.ClientInlayHintResolveOptions{Properties: []string{"tooltip"}}}
	return can
}

func TestShown(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "shown", "*.txt"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			x := readShown(t, path)
			text := x.pattern(t)
			e := open(t, reading(protocol.MarkupKindPlainText), nil)
			e.type_(at("shown.crochet"), text)
			for i := 1; i < len(x.parts); i++ {
				part := &x.parts[i]
				var got string
				switch {
				case part.head == "hints":
					got = e.hints(text)
				case part.head == "hovers":
					got = hovers(text)
				case part.head == "tooltips":
					got = e.tooltips(text)
				case strings.HasPrefix(part.head, "actions "):
					got = e.offers(text, part.head)
				case strings.HasPrefix(part.head, "names "):
					got = e.mentions(text, part.head)
				case part.head == "folds":
					got = e.folds()
				case strings.HasPrefix(part.head, "type "):
					got = e.typed(text, part.head)
				default:
					got = e.hover(text, part.head)
				}
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
}

// all is a range over a whole text.
func all(text string) protocol.Range {
	return protocol.Range{End: protocol.Position{Line: uint32(strings.Count(text, "\n") + 1)}}
}

func (e *editor) hintsIn(r protocol.Range) []protocol.InlayHint {
	e.t.Helper()
	p := &protocol.InlayHintParams{Range: r}
	p.TextDocument.URI = at("shown.crochet")
	got, err := e.server.InlayHint(e.ctx, p)
	require.NoError(e.t, err)
	return got
}

// labelOfHint is the text of a hint, whether or not its parts lead somewhere.
func labelOfHint(h protocol.InlayHint) string {
	if parts, ok := h.Label.(protocol.InlayHintLabelPartSlice); ok {
		text := ""
		for _, p := range parts {
			text += p.Value
		}
		return text
	}
	return string(h.Label.(protocol.String))
}

// hints shows the lines that have any, with the hints in them.
func (e *editor) hints(text string) string {
	e.t.Helper()
	lines := strings.Split(text, "\n")
	by := map[int]string{}
	var order []int
	ends := map[int]int{}
	for _, h := range e.hintsIn(all(text)) {
		n := int(h.Position.Line)
		if _, met := by[n]; !met {
			order = append(order, n)
		}
		units := int(h.Position.Character)
		require.GreaterOrEqual(e.t, units, ends[n], "hints stand in order")
		by[n] += lines[n][ends[n]:units] + "«" + labelOfHint(h) + "»"
		ends[n] = units
	}
	var b strings.Builder
	for _, n := range order {
		fmt.Fprintf(&b, "%d: %s\n", n+1, by[n]+lines[n][ends[n]:])
	}
	return b.String()
}

// tooltips explains every hint.
func (e *editor) tooltips(text string) string {
	e.t.Helper()
	var b strings.Builder
	for _, h := range e.hintsIn(all(text)) {
		require.Nil(e.t, h.Tooltip, "it is written when asked for")
		full, err := e.server.InlayHintResolve(e.ctx, &h)
		require.NoError(e.t, err)
		require.NotNil(e.t, full.Tooltip, "%v", h.Label)
		fmt.Fprintf(&b, "%d «%s»\n%s\n", h.Position.Line+1, labelOfHint(h), full.Tooltip.(*protocol.MarkupContent).Value)
	}
	return b.String()
}

func (e *editor) hover(text, head string) string {
	e.t.Helper()
	var line, nth int
	var words string
	n, err := fmt.Sscanf(head, "hover %d %q%d", &line, &words, &nth)
	require.GreaterOrEqual(e.t, n, 2, "%s: %v", head, err)
	got := e.hoverOn(text, line, words, max(nth, 1))
	if got == nil {
		return "nothing\n"
	}
	lines := strings.Split(text, "\n")
	about := lines[got.Range.Start.Line][got.Range.Start.Character:]
	if got.Range.End.Line == got.Range.Start.Line {
		about = lines[got.Range.Start.Line][got.Range.Start.Character:got.Range.End.Character]
	}
	return "[" + about + "]\n" + got.Contents.(*protocol.MarkupContent).Value + "\n"
}

// offers shows the actions offered at words of a line, and what each makes of
// the lines that it changes.
func (e *editor) offers(text, head string) string {
	e.t.Helper()
	before := strings.Split(text, "\n")
	var b strings.Builder
	for _, a := range e.actionsAt(at("shown.crochet"), e.markedBy(text, head, "actions")) {
		full, err := e.resolved(a)
		require.NoError(e.t, err, a.Title)
		fmt.Fprintf(&b, "%s\n", a.Title)
		after := strings.Split(afterEdit(e.t, text, full.Edit), "\n")
		first, same := 0, 0
		for first < min(len(before), len(after)) && before[first] == after[first] {
			first++
		}
		for same < min(len(before), len(after))-first && before[len(before)-1-same] == after[len(after)-1-same] {
			same++
		}
		for i := first; i < len(after)-same; i++ {
			fmt.Fprintf(&b, "  %d: %s\n", i+1, after[i])
		}
	}
	return b.String()
}

// markedBy is the place that a part's head marks: a line, from 1, and words on it.
func (e *editor) markedBy(text, head, what string) protocol.Position {
	e.t.Helper()
	var line int
	var words string
	_, err := fmt.Sscanf(head, what+" %d %q", &line, &words)
	require.NoError(e.t, err, head)
	column := strings.Index(strings.Split(text, "\n")[line-1], words)
	require.GreaterOrEqual(e.t, column, 0, head)
	return protocol.Position{Line: uint32(line - 1), Character: uint32(column)}
}

// mentions shows the lines where what is named at words of a line is mentioned.
func (e *editor) mentions(text, head string) string {
	e.t.Helper()
	p := &protocol.ReferenceParams{}
	p.TextDocument.URI, p.Position, p.Context.IncludeDeclaration = at("shown.crochet"), e.markedBy(text, head, "names"), true
	list, err := reply[[]protocol.Location](e, protocol.MethodTextDocumentReferences, p)
	require.NoError(e.t, err)
	lines := strings.Split(text, "\n")
	var b strings.Builder
	for _, l := range list {
		said, r := lines[l.Range.Start.Line], l.Range
		fmt.Fprintf(&b, "%d: %s«%s»%s\n", r.Start.Line+1, said[:r.Start.Character], said[r.Start.Character:r.End.Character], said[r.End.Character:])
	}
	return b.String()
}

// folds shows the ranges that fold, by their first and last lines.
func (e *editor) folds() string {
	e.t.Helper()
	p := &protocol.FoldingRangeParams{}
	p.TextDocument.URI = at("shown.crochet")
	list, err := reply[[]protocol.FoldingRange](e, protocol.MethodTextDocumentFoldingRange, p)
	require.NoError(e.t, err)
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintf(&b, "%d-%d\n", f.StartLine+1, f.EndLine+1)
	}
	return b.String()
}

// hoverOn asks on the first byte of the nth such words of a line, from 1.
func (e *editor) hoverOn(text string, line int, words string, nth int) *protocol.Hover {
	e.t.Helper()
	said := strings.Split(text, "\n")[line-1]
	column := -1
	for range nth {
		next := strings.Index(said[column+1:], words)
		require.GreaterOrEqual(e.t, next, 0, "%q in %q", words, said)
		column += 1 + next
	}
	p := &protocol.HoverParams{}
	p.TextDocument.URI = at("shown.crochet")
	p.Position = protocol.Position{Line: uint32(line - 1), Character: uint32(column)}
	got, err := e.server.Hover(e.ctx, p)
	require.NoError(e.t, err)
	return got
}

func TestHoverFormats(t *testing.T) {
	text := "Terms: US\nPiece: A_B *x*\nRnd 1: 6 sc in magic ring (6)\n"
	for _, c := range []struct {
		formats []protocol.MarkupKind
		kind    protocol.MarkupKind
		has     string
	}{
		{[]protocol.MarkupKind{protocol.MarkupKindMarkdown, protocol.MarkupKindPlainText}, protocol.MarkupKindMarkdown, `**A\_B \*x\***`},
		{[]protocol.MarkupKind{protocol.MarkupKindPlainText, protocol.MarkupKindMarkdown}, protocol.MarkupKindPlainText, "A_B *x*: make 1."},
		{nil, protocol.MarkupKindPlainText, "A_B *x*: make 1."},
	} {
		e := open(t, reading(c.formats...), nil)
		e.type_(at("shown.crochet"), text)
		got := e.hoverOn(text, 2, "A_B", 1).Contents.(*protocol.MarkupContent)
		assert.Equal(t, c.kind, got.Kind)
		assert.Contains(t, got.Value, c.has)
		if c.kind == protocol.MarkupKindMarkdown {
			assert.Contains(t, got.Value, "| round | takes | makes | of |\n| --- | --- | --- | --- |\n")
		}
	}
}

func TestHintsOfARangeOnly(t *testing.T) {
	e := open(t, reading(), nil)
	e.type_(at("shown.crochet"), shell)
	from := func(line uint32) protocol.Range {
		return protocol.Range{Start: protocol.Position{Line: line}, End: protocol.Position{Line: line, Character: 200}}
	}
	got := e.hintsIn(from(3))
	require.Len(t, got, 1)
	assert.Equal(t, protocol.String("→ 12 (+6)"), got[0].Label)
	assert.Empty(t, e.hintsIn(from(0)))
	stale := got[0]
	e.change(at("shown.crochet"), 2, part(3, 7, 3, 14, "sc around"))
	full, err := e.server.InlayHintResolve(e.ctx, &stale)
	require.NoError(t, err)
	assert.Nil(t, full.Tooltip, "it would explain another text")
}

func TestHintsBySettings(t *testing.T) {
	text := "Terms: US\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (inc) x 6 (12)\nRnds 3-4: sc around (12)\n"
	labels := func(e *editor) (out []string) {
		for _, h := range e.hintsIn(all(text)) {
			out = append(out, labelOfHint(h))
		}
		return out
	}
	for key, want := range map[string][]string{
		"totals":  {"→ 6", "→ 12 (+6)", "→ 12 (even)"},
		"repeats": {"1 → 2"},
		"ranges":  {"2 rounds, 24 stitches in all"},
		"pieces":  {"4 rounds, 42 stitches"},
	} {
		off := map[string]bool{"totals": false, "repeats": false, "ranges": false, "pieces": false}
		off[key] = true
		raw, err := protocol.Marshal(map[string]any{"workeven": map[string]any{"hints": off}})
		require.NoError(t, err)
		e := open(t, reading(), nil)
		e.type_(at("shown.crochet"), text)
		require.NoError(t, e.server.DidChangeConfiguration(e.ctx, &protocol.DidChangeConfigurationParams{Settings: raw}))
		assert.Equal(t, want, labels(e), key)
	}
}

func TestTooltipsAtOnceForClientsThatCannotAsk(t *testing.T) {
	can := reading(protocol.MarkupKindPlainText)
	can.TextDocument.InlayHint = nil
	e := open(t, can, nil)
	e.type_(at("shown.crochet"), shell)
	got := e.hintsIn(all(shell))
	require.NotEmpty(t, got)
	for _, h := range got {
		require.NotNil(t, h.Tooltip, "%v", h.Label)
		assert.NotEmpty(t, h.Tooltip.(*protocol.MarkupContent).Value)
	}
}
