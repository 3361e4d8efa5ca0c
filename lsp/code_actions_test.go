package lsp

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
	"workeven/lint"
)

// acting is a client that takes actions lazily.
func acting() protocol.ClientCapabilities {
	can := pushing()
	can.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{DataSupport: new(true)}
	can.TextDocument.CodeAction.ResolveSupport.Properties = []string{"edit"}
	return can
}

// cursorIn takes the mark | out of a text, and says where it stood.
func cursorIn(t *testing.T, marked string) (text string, at protocol.Position) {
	t.Helper()
	before, after, ok := strings.Cut(marked, "|")
	require.True(t, ok, "no cursor in %q", marked)
	line := strings.Count(before, "\n")
	return before + after, protocol.Position{Line: uint32(line), Character: uint32(len(before) - strings.LastIndexByte(before, '\n') - 1)}
}

// actionsAt are the actions that are offered at a place.
func (e *editor) actionsAt(doc uri.URI, at protocol.Position, only ...protocol.CodeActionKind) []*protocol.CodeAction {
	e.t.Helper()
	p := &protocol.CodeActionParams{Range: protocol.Range{Start: at, End: at}}
	p.TextDocument.URI, p.Context.Only = doc, only
	p.Context.Diagnostics = []protocol.Diagnostic{}
	list, err := reply[[]protocol.CodeAction](e, protocol.MethodTextDocumentCodeAction, p)
	require.NoError(e.t, err)
	var out []*protocol.CodeAction
	for i := range list {
		out = append(out, &list[i])
	}
	return out
}

// reply asks the server something. The answer is a copy, which stays as it is
// when further messages come: the library's own shares their memory.
func reply[R any](e *editor, method string, params any) (result R, err error) {
	e.t.Helper()
	var raw jsonrpc2.RawMessage
	if _, err := e.conn.Call(e.ctx, method, params, &raw); err != nil {
		return result, err
	}
	require.NoError(e.t, protocol.Unmarshal(raw, &result))
	return result, nil
}

func (e *editor) resolved(a *protocol.CodeAction) (*protocol.CodeAction, error) {
	e.t.Helper()
	return reply[*protocol.CodeAction](e, protocol.MethodCodeActionResolve, a)
}

// applied is a text with the edits of an action carried out.
func afterEdit(t *testing.T, text string, edit *protocol.WorkspaceEdit) string {
	t.Helper()
	require.NotNil(t, edit)
	lines := newIndex(text, utf16Units)
	var edits []lint.Edit
	for _, list := range edit.Changes {
		for _, e := range list {
			edits = append(edits, lint.Edit{Start: lines.offset(e.Range.Start), End: lines.offset(e.Range.End), New: e.NewText})
		}
	}
	for _, c := range edit.DocumentChanges {
		for _, e := range c.(*protocol.TextDocumentEdit).Edits {
			x := e.(*protocol.TextEdit)
			edits = append(edits, lint.Edit{Start: lines.offset(x.Range.Start), End: lines.offset(x.Range.End), New: x.NewText})
		}
	}
	out, ok := lint.Apply(text, edits)
	require.True(t, ok, "edits overlap")
	return out
}

func titledSo(list []*protocol.CodeAction, title string) *protocol.CodeAction {
	for _, a := range list {
		if a.Title == title {
			return a
		}
	}
	return nil
}

func titlesOf(list []*protocol.CodeAction) (out []string) {
	for _, a := range list {
		out = append(out, a.Title)
	}
	return out
}

const twoRounds = "Terms: US\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"

// Each case has the cursor as |, the title to take, and the text that comes of it.
var actionCases = []struct {
	name, marked, title, want string
	kind                      protocol.CodeActionKind
}{
	{"a repair of the words", twoRounds + "Rnd 3: (sc, inc) x |5 (18)\n", `Change "x 5" to "x 6"`, twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindQuickFix},
	{"write the total", twoRounds + "Rnd 3: (sc, inc) |x 6\n", `Write "(18)"`, twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindQuickFix},
	{"allow at the end of the line", twoRounds + "Rnd 3: (sc, inc) |x 6\n", "Allow total-missing here with a comment", twoRounds + "Rnd 3: (sc, inc) x 6  // allow: total-missing\n", protocol.CodeActionKindQuickFix},
	{"allow one more", twoRounds + "Rnd 5: (sc, inc) |x 6  // allow: numbering -- on purpose\n", "Allow total-missing here with a comment", twoRounds + "Rnd 5: (sc, inc) x 6  // allow: numbering, total-missing -- on purpose\n", protocol.CodeActionKindQuickFix},
	{"allow above a comment", twoRounds + "Rnd 3: (sc, inc) |x 6  // look at this\n", "Allow total-missing here with a comment", twoRounds + "// allow: total-missing\nRnd 3: (sc, inc) x 6  // look at this\n", protocol.CodeActionKindQuickFix},
	{"gather a repeat", twoRounds + "Rnd 3: sc 2, inc, sc 2, |inc, sc 6 (14)\n", "Write as a repeat: (sc 2, inc) x 2", twoRounds + "Rnd 3: (sc 2, inc) x 2, sc 6 (14)\n", protocol.CodeActionKindRefactorRewrite},
	{"spell a repeat out", twoRounds + "Rnd 3: (sc 2, |inc) x 2, sc 6 (14)\n", "Write the repeat out", twoRounds + "Rnd 3: sc 2, inc, sc 2, inc, sc 6 (14)\n", protocol.CodeActionKindRefactorRewrite},
	{"spell out what fills the edge", twoRounds + "Rnd 3: *sc 3, |inc; rep from * around (15)\n", "Write the repeat out", twoRounds + "Rnd 3: sc 3, inc, sc 3, inc, sc 3, inc (15)\n", protocol.CodeActionKindRefactorRewrite},
	{"split a range", twoRounds + "Rnds 3-5: |sc around (12)  // even\nRnd 6: dec x 6 (6)\n", "Write each of Rnds 3-5 on a line of its own", twoRounds + "Rnd 3: sc around (12)  // even\nRnd 4: sc around (12)\nRnd 5: sc around (12)\nRnd 6: dec x 6 (6)\n", protocol.CodeActionKindRefactorRewrite},
	{"join a range", twoRounds + "Rnd 3: sc around (12)\nRnd 4: |sc around (12)\nRnds 5-6: sc around (12)\nRnd 7: dec x 6 (6)\n", "Write as one range: Rnds 3-6", twoRounds + "Rnds 3-6: sc around (12)\nRnd 7: dec x 6 (6)\n", protocol.CodeActionKindRefactorRewrite},
	{"space increases", twoRounds + "Rnd 3: inc |6, sc 6 (18)\n", "Space 6 increases evenly: (sc, inc) x 6", twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"space what has no equal gaps", twoRounds + "Rnd 3: inc |5, sc 7 (17)\n", "Space 5 increases evenly: sc, inc, sc, inc, sc 2, inc, sc, inc, sc 2, inc", twoRounds + "Rnd 3: sc, inc, sc, inc, sc 2, inc, sc, inc, sc 2, inc (17)\n", protocol.CodeActionKindRefactorRewrite},
	{"stagger increases", twoRounds + "Rnd 3: inc |4, sc 8 (16)\n", "Space 4 increases evenly, staggered: sc, inc, (sc 2, inc) x 3, sc", twoRounds + "Rnd 3: sc, inc, (sc 2, inc) x 3, sc (16)\n", protocol.CodeActionKindRefactorRewrite},
	{"space decreases, between chain and join", twoRounds + "Rnd 3: ch 1, dec |3, sc 6, join (9)\n", "Space 3 decreases evenly: (sc 2, dec) x 3", twoRounds + "Rnd 3: ch 1, (sc 2, dec) x 3, join (9)\n", protocol.CodeActionKindRefactorRewrite},
	{"space what is said with a word", twoRounds + "Rnd 3: inc |6 evenly (18)\n", "Space 6 increases evenly: (sc, inc) x 6", twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"renumber, with what points there", twoRounds + "Rnd 4: |sc around (12)\nRnd 5: as Rnd 4 (12)\nAssembly:\nPlace: 2 eyes on Shell, between Rnds 4 and 5\n", "Renumber the rounds of Shell", twoRounds + "Rnd 3: sc around (12)\nRnd 4: as Rnd 3 (12)\nAssembly:\nPlace: 2 eyes on Shell, between Rnds 3 and 4\n", protocol.CodeActionKindRefactorRewrite},
	{"US to UK", "Terms: |US\nGauge: 20 sts x 20 rnds = 10 cm in sc\nAbbreviation: sc = single crochet\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, hdc, dc) x 2 (2 sc, 2 hdc, 2 dc)\n", "Write the pattern in UK terms", "Terms: UK\nGauge: 20 sts x 20 rnds = 10 cm in dc\nAbbreviation: dc = double crochet\nPiece: A\nRnd 1: 6 dc in magic ring (6)\nRnd 2: (dc, htr, tr) x 2 (2 dc, 2 htr, 2 tr)\n", protocol.CodeActionKindRefactorRewrite},
	{"UK to US", "Terms: UK|\nPiece: A\nRnd 1: 6 dc in magic ring (6)\nRnd 2: dc2tog x 3 (3)\n", "Write the pattern in US terms", "Terms: US\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc2tog x 3 (3)\n", protocol.CodeActionKindRefactorRewrite},
	{"list a yarn", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nPiece: Shell\nWith: |C\nRnd 1: 6 sc in magic ring (6)\n", "List yarn C", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nYarn C: color C, light (3)\nPiece: Shell\nWith: C\nRnd 1: 6 sc in magic ring (6)\n", protocol.CodeActionKindQuickFix},
}

func TestCodeActions(t *testing.T) {
	for _, can := range []protocol.ClientCapabilities{acting(), pushing()} {
		e := open(t, can, nil)
		for _, c := range actionCases {
			text, at_ := cursorIn(t, c.marked)
			doc := at(c.name + ".crochet")
			e.type_(doc, text)
			list := e.actionsAt(doc, at_)
			a := titledSo(list, c.title)
			if !assert.NotNil(t, a, "%s: offered are %q", c.name, titlesOf(list)) {
				continue
			}
			assert.Equal(t, c.kind, *a.Kind, c.name)
			if c.kind == protocol.CodeActionKindQuickFix {
				assert.Len(t, a.Diagnostics, 1, c.name)
			}
			if can.TextDocument.CodeAction != nil {
				assert.Nil(t, a.Edit, "edits come when they are asked for")
				var err error
				a, err = e.resolved(a)
				require.NoError(t, err)
			}
			assert.Equal(t, c.want, afterEdit(t, text, a.Edit), c.name)
		}
	}
}

// What would not hold is not offered.
func TestCodeActionsNotOffered(t *testing.T) {
	for _, c := range []struct{ name, marked, part string }{
		{"a round with a slip is not gathered", twoRounds + "Rnd 3: sc, inc, |sc, inc (18)\n", "Write as a repeat"},
		{"a range that repeats others is not split", twoRounds + "Rnds 3-4: rep |Rnds 1-2 (12)\n", "on a line of its own"},
		{"rounds that differ are not joined", twoRounds + "Rnd 3: |sc around (12)\nRnd 4: dec x 6 (6)\n", "Write as one range"},
		{"numbers in order stay", twoRounds + "Rnd 3: |sc around (12)\n", "Renumber"},
		{"no room for the increases", twoRounds + "Rnd 3: 3 sc |in each st around (36)\n", "Space"},
		{"an even round has nothing to space", twoRounds + "Rnd 3: sc |around (12)\n", "Space"},
		{"fix all is not looked for unasked", twoRounds + "Rnd 3: |inc around\n", "Carry out"},
	} {
		text, pos := cursorIn(t, c.marked)
		e := open(t, pushing(), nil)
		e.type_(at("a.crochet"), text)
		for _, title := range titlesOf(e.actionsAt(at("a.crochet"), pos)) {
			assert.NotContains(t, title, c.part, c.name)
		}
	}
}

// At every byte of broken and of sound patterns something sound is answered.
func TestOffersEverywhere(t *testing.T) {
	for _, text := range []string{"", "\r\n", "Rnd", "Rnd 3:", "Rnd 3: (sc, inc x", twoRounds + "Rnds 5-3: sc around (12)\nRnd 4: \u00d7 (((\n  sc é*",
		"Terms: UK\nPiece: A\nRow 1: ch 11, dc in 2nd ch from hook, dc across (10)\nAssembly:\nSew: A to , ,\nPlace: x on A, between Rnds 1 and"} {
		snap := newSnapshot(at("a.crochet"), 1, "", text, utf16Units)
		for i := range len(text) + 1 {
			pos := snap.Position(i)
			for _, a := range newOffered(snap, protocol.Range{Start: pos, End: pos}, nil).actions() {
				_, ok := lint.Apply(text, a.edits)
				assert.True(t, ok, "%q at %d of %q", a.title, i, text)
				assert.NotNil(t, snap.tried(a.edits), "%q at %d of %q", a.title, i, text)
			}
			c := newCompleting(snap, snap.Offset(pos))
			c.propose()
			for _, item := range c.items {
				edit := item.TextEdit.(*protocol.TextEdit)
				assert.Equal(t, pos, edit.Range.End)
				assert.Equal(t, pos.Line, edit.Range.Start.Line)
			}
		}
	}
}

func TestFixAll(t *testing.T) {
	e := open(t, acting(), nil)
	doc := at("a.crochet")
	text := strings.ReplaceAll(twoRounds+"Rnd 3: sc, inc, sc, inc, sc, inc, sc 6\nRnd 4: sc around\n", "\n", "\r\n")
	e.type_(doc, text)
	list := e.actionsAt(doc, protocol.Position{}, protocol.CodeActionKindSource)
	require.Len(t, list, 1)
	assert.Equal(t, protocol.CodeActionKindSourceFixAll, *list[0].Kind)
	a, err := e.resolved(list[0])
	require.NoError(t, err)
	want := strings.ReplaceAll(twoRounds+"Rnd 3: (sc, inc) x 3, sc 6 (15)\nRnd 4: sc around (15)\n", "\n", "\r\n")
	assert.Equal(t, want, afterEdit(t, text, a.Edit))

	e.change(doc, 2, whole(want))
	_, err = e.resolved(list[0])
	assert.Error(t, err, "the text is another by now")
	assert.Empty(t, e.actionsAt(doc, protocol.Position{}, protocol.CodeActionKindSourceFixAll))
}

// Each way to space comes out at the number asked for; worked examples by hand.
func TestSpaced(t *testing.T) {
	for _, c := range []struct {
		below, above int64
		staggered    bool
		want         string
	}{
		{12, 18, false, "(sc, inc) x 6"},
		{6, 12, false, "inc 6"},
		{24, 18, false, "(sc 2, dec) x 6"},
		{12, 6, false, "dec 6"},
		{20, 24, false, "(sc 4, inc) x 4"},
		{22, 26, false, "(sc 4, inc, sc 5, inc) x 2"},
		{10, 11, false, "sc 9, inc"},
		{24, 30, true, "sc 2, inc, (sc 3, inc) x 5, sc"},
		{10, 21, false, ""},
		{10, 10, false, ""},
		{10, 4, false, ""},
	} {
		assert.Equal(t, c.want, spaced(c.below, c.above, "sc", c.staggered), "%d to %d", c.below, c.above)
	}
}

// A demo pattern written in the other system and back says what it said, but
// that names with several full forms come back in the canonical one.
func TestTermsOfDemos(t *testing.T) {
	for _, name := range []string{"snail", "lighthouse", "bag", "lace", "hat"} {
		data, err := os.ReadFile(filepath.Join("..", "testdata", "patterns", name+".crochet"))
		require.NoError(t, err)
		text := string(data)
		before := lint.Check(grammar.Parse(text), lint.Options{})
		for range 2 {
			snap := newSnapshot(at(name), 1, "", text, utf16Units)
			o := &offered{Snapshot: snap, last: len(snap.File.Lines) - 1}
			list := o.otherTerms()
			require.Len(t, list, 1, name)
			assert.Equal(t, "Write the pattern in "+snap.Pattern().Header.System.Other().String()+" terms", list[0].title)
			var ok bool
			text, ok = lint.Apply(text, list[0].edits)
			require.True(t, ok)
			assert.Len(t, lint.Check(grammar.Parse(text), lint.Options{}), len(before), name)
		}
		assert.Equal(t, withoutAbbreviations(string(data)), withoutAbbreviations(text), name)
	}
}

func withoutAbbreviations(text string) string {
	return strings.Join(slices.DeleteFunc(strings.Split(text, "\n"), func(l string) bool { return strings.HasPrefix(l, "Abbreviation:") }), "\n")
}
