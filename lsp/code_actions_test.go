package lsp

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

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
func afterEdit(t testing.TB, text string, edit *protocol.WorkspaceEdit) string {
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

const threeRounds = twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n"

const twoRows = "Terms: US\nPiece: Strip\nRow 1 (RS): ch 7, sc in 2nd ch from hook, sc in each ch across (6)\n"

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
	{"stagger increases", threeRounds + "Rnd 4: inc |6, sc 12 (24)\n", "Space 6 increases evenly, staggered from Rnd 3: (inc, sc 2) x 6", threeRounds + "Rnd 4: (inc, sc 2) x 6 (24)\n", protocol.CodeActionKindRefactorRewrite},
	{"stagger over a plain round", threeRounds + "Rnd 4: sc around (18)\nRnd 5: inc |6, sc 12 (24)\n", "Space 6 increases evenly, staggered from Rnd 3: (inc, sc 2) x 6", threeRounds + "Rnd 4: sc around (18)\nRnd 5: (inc, sc 2) x 6 (24)\n", protocol.CodeActionKindRefactorRewrite},
	{"stagger from what is staggered", threeRounds + "Rnd 4: sc, inc, (sc 2, inc) x 5, sc (24)\nRnd 5: dec |6, sc 12 (18)\n", "Space 6 decreases evenly: (sc 2, dec) x 6", threeRounds + "Rnd 4: sc, inc, (sc 2, inc) x 5, sc (24)\nRnd 5: (sc 2, dec) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"allow in the whole file", twoRounds + "Rnd 3: (sc, inc) |x 6\n", "Allow total-missing in the whole file with a comment", "// allow file: total-missing\n" + twoRounds + "Rnd 3: (sc, inc) x 6\n", protocol.CodeActionKindQuickFix},
	{"allow one more in the file", "// allow file: numbering -- why\n" + twoRounds + "Rnd 5: (sc, inc) |x 6\n", "Allow total-missing in the whole file with a comment", "// allow file: numbering, total-missing -- why\n" + twoRounds + "Rnd 5: (sc, inc) x 6\n", protocol.CodeActionKindQuickFix},
	{"a total although none is asked for", "// allow file: total-missing\n" + twoRounds + "Rnd 3: (sc, inc) |x 6\nRnd 4: sc around\n", "Write the total: (18)", "// allow file: total-missing\n" + twoRounds + "Rnd 3: (sc, inc) x 6 (18)\nRnd 4: sc around\n", protocol.CodeActionKindRefactorRewrite},
	{"say it in the usual words", twoRounds + "Rnd 3: [single crochet|, inc] six times [18 sts]\n", "Say it plainly: Rnd 3: (sc, inc) x 6 (18)", twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"say a round that is pointed to", threeRounds + "Rnd 4: sc around (18)\nRnd 5: rep |Rnd 4 (18)\n", "Say it plainly: sc around", threeRounds + "Rnd 4: sc around (18)\nRnd 5: sc around (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"say what even is", threeRounds + "Rnd 4: work |even (18)\n", "Say it plainly: sc in each st around", threeRounds + "Rnd 4: sc in each st around (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"say what has two readings", "Terms: US\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in |next 6 sts (12)\n", `Write "each of"`, "Terms: US\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each of next 6 sts (12)\n", protocol.CodeActionKindQuickFix},
	{"add to the materials", "Pattern: Ball\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\n\nPiece: Ball\nRnd 1: 6 sc in magic ring (6)\nStuff |firmly.\n", `Add the line "Notion: toy stuffing"`, "Pattern: Ball\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nNotion: toy stuffing\n\nPiece: Ball\nRnd 1: 6 sc in magic ring (6)\nStuff firmly.\n", protocol.CodeActionKindQuickFix},
	{"space decreases, between chain and join", twoRounds + "Rnd 3: ch 1, dec |3, sc 6, join (9)\n", "Space 3 decreases evenly: (sc 2, dec) x 3", twoRounds + "Rnd 3: ch 1, (sc 2, dec) x 3, join (9)\n", protocol.CodeActionKindRefactorRewrite},
	{"space what is said with a word", twoRounds + "Rnd 3: inc |6 evenly (18)\n", "Space 6 increases evenly: (sc, inc) x 6", twoRounds + "Rnd 3: (sc, inc) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"renumber, with what points there", twoRounds + "Rnd 4: |sc around (12)\nRnd 5: as Rnd 4 (12)\nAssembly:\nPlace: 2 eyes on Shell, between Rnds 4 and 5\n", "Renumber the rounds of Shell", twoRounds + "Rnd 3: sc around (12)\nRnd 4: as Rnd 3 (12)\nAssembly:\nPlace: 2 eyes on Shell, between Rnds 3 and 4\n", protocol.CodeActionKindQuickFix},
	{"US to UK", "Terms: |US\nGauge: 20 sts x 20 rnds = 10 cm in sc\nAbbreviation: sc = single crochet\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, hdc, dc) x 2 (2 sc, 2 hdc, 2 dc)\n", "Write the pattern in UK terms", "Terms: UK\nGauge: 20 sts x 20 rnds = 10 cm in dc\nAbbreviation: dc = double crochet\nPiece: A\nRnd 1: 6 dc in magic ring (6)\nRnd 2: (dc, htr, tr) x 2 (2 dc, 2 htr, 2 tr)\n", protocol.CodeActionKindRefactorRewrite},
	{"UK to US", "Terms: UK|\nPiece: A\nRnd 1: 6 dc in magic ring (6)\nRnd 2: dc2tog x 3 (3)\n", "Write the pattern in US terms", "Terms: US\nPiece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc2tog x 3 (3)\n", protocol.CodeActionKindRefactorRewrite},
	{"list a yarn", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nPiece: Shell\nWith: |C\nRnd 1: 6 sc in magic ring (6)\n", "List yarn C", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nYarn C: color C, light (3)\nPiece: Shell\nWith: C\nRnd 1: 6 sc in magic ring (6)\n", protocol.CodeActionKindQuickFix},
	{"a join in other words stays", twoRounds + "Rnd 3: ch 1, inc |6, sc 6, sl st in first st (18)\n", "Space 6 increases evenly: (sc, inc) x 6", twoRounds + "Rnd 3: ch 1, (sc, inc) x 6, sl st in first st (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"a chain behind a yarn stays", twoRounds + "Rnd 3: with A, ch 1, dec |3, sc 6, join (9)\n", "Space 3 decreases evenly: (sc 2, dec) x 3", twoRounds + "Rnd 3: with A, ch 1, (sc 2, dec) x 3, join (9)\n", protocol.CodeActionKindRefactorRewrite},
	{"a round of another stitch stays in it", twoRounds + "Rnd 3: dc inc |6, dc 6 (18)\n", "Space 6 increases evenly: (dc, dc inc) x 6", twoRounds + "Rnd 3: (dc, dc inc) x 6 (18)\n", protocol.CodeActionKindRefactorRewrite},
	{"decreases keep their word", twoRounds + "Rnd 3: inv dec |3, sc 6 (9)\n", "Space 3 decreases evenly: (sc 2, inv dec) x 3", twoRounds + "Rnd 3: (sc 2, inv dec) x 3 (9)\n", protocol.CodeActionKindRefactorRewrite},
	{"decreases have the word of the rounds below", twoRounds + "Rnd 3: (sc 2, sc2tog) x 3 (9)\nRnd 4: dec 3 |evenly around (6)\n", "Space 3 decreases evenly: (sc, sc2tog) x 3", twoRounds + "Rnd 3: (sc 2, sc2tog) x 3 (9)\nRnd 4: (sc, sc2tog) x 3 (6)\n", protocol.CodeActionKindRefactorRewrite},
	{"the chain that counts is the first stitch", "Terms: US\nTurning chain: dc counts\nPiece: Disc\nWorked: in joined rounds\nRnd 1: 12 dc in magic ring, join (12)\nRnd 2: ch 3, dc 2, inc |3, dc 6, join (15)\n", "Space 3 increases evenly: dc 2, inc, (dc 3, inc) x 2", "Terms: US\nTurning chain: dc counts\nPiece: Disc\nWorked: in joined rounds\nRnd 1: 12 dc in magic ring, join (12)\nRnd 2: ch 3, dc 2, inc, (dc 3, inc) x 2, join (15)\n", protocol.CodeActionKindRefactorRewrite},
	{"gather a step", twoRounds + "Rnd 3: inc, |inc, sc 10 (14)\n", "Write as one step: inc x 2", twoRounds + "Rnd 3: inc x 2, sc 10 (14)\n", protocol.CodeActionKindRefactorRewrite},
	{"gather plain stitches", twoRounds + "Rnd 3: sc, |sc, inc 10 (22)\n", "Write as one step: sc 2", twoRounds + "Rnd 3: sc 2, inc 10 (22)\n", protocol.CodeActionKindRefactorRewrite},
	{"gather decreases", twoRounds + "Rnd 3: sc2tog, |sc2tog, sc 8 (10)\n", "Write as one step: sc2tog x 2", twoRounds + "Rnd 3: sc2tog x 2, sc 8 (10)\n", protocol.CodeActionKindRefactorRewrite},
	{"split a range that repeats a round", twoRounds + "Rnd 3: sc around (12)\nRnds 4-5: rep |Rnd 3 (12)\n", "Write each of Rnds 4-5 on a line of its own", twoRounds + "Rnd 3: sc around (12)\nRnd 4: rep Rnd 3 (12)\nRnd 5: rep Rnd 3 (12)\n", protocol.CodeActionKindRefactorRewrite},
	{"split a range that repeats several in order", twoRounds + "Rnd 3: sc around (12)\nRnd 4: BLO sc around (12)\nRnds 5-7: rep |Rnds 3-4 (12)\n", "Write each of Rnds 5-7 on a line of its own", twoRounds + "Rnd 3: sc around (12)\nRnd 4: BLO sc around (12)\nRnd 5: rep Rnd 3 (12)\nRnd 6: rep Rnd 4 (12)\nRnd 7: rep Rnd 3 (12)\n", protocol.CodeActionKindRefactorRewrite},
	{"split rows that have sides", twoRows + "Rows 2-3 (WS): ch 1, |turn, sc across (6)\n", "Write each of Rows 2-3 on a line of its own", twoRows + "Row 2 (WS): ch 1, turn, sc across (6)\nRow 3 (RS): ch 1, turn, sc across (6)\n", protocol.CodeActionKindRefactorRewrite},
	{"join rows that have sides", twoRows + "Row 2 (WS): ch 1, turn, sc across (6)\nRow 3 (RS): ch 1, |turn, sc across (6)\n", "Write as one range: Rows 2-3", twoRows + "Rows 2-3: ch 1, turn, sc across (6)\n", protocol.CodeActionKindRefactorRewrite},
	{"say what the last round was", twoRounds + "Rnd 3: work even (12)\nRnd 4: rep |last rnd (12)\n", "Say it plainly: sc in each st around", twoRounds + "Rnd 3: work even (12)\nRnd 4: sc in each st around (12)\n", protocol.CodeActionKindRefactorRewrite},
	{"renumber where things are put in", twoRounds + "Rnd 4: |sc around (12)\nInsert 2 eyes between Rnds 2 and 4.\nRnd 5: sc 12 in free loops of Rnd 4 (12)\n", "Renumber the rounds of Shell", twoRounds + "Rnd 3: sc around (12)\nInsert 2 eyes between Rnds 2 and 3.\nRnd 4: sc 12 in free loops of Rnd 3 (12)\n", protocol.CodeActionKindQuickFix},
	{"renumber from another line", twoRounds + "Rnd 4: sc around (12)\nRnd 5: |sc around (12)\n", "Renumber the rounds of Shell", twoRounds + "Rnd 3: sc around (12)\nRnd 4: sc around (12)\n", protocol.CodeActionKindRefactorRewrite},
	{"list what is placed, all of it", "Pattern: Ball\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\n\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nAssembly:\nPlace: 2 glass |beads on Shell, at Rnd 1\nPlace: 1 glass bead on Shell, at Rnd 2\n", `Add the line "Notion: 3 glass beads"`, "Pattern: Ball\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nNotion: 3 glass beads\n\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nAssembly:\nPlace: 2 glass beads on Shell, at Rnd 1\nPlace: 1 glass bead on Shell, at Rnd 2\n", protocol.CodeActionKindQuickFix},
	{"take a yarn away", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nYarn |B: fern, light (3)\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n", "Take the line away", "Pattern: Hat\nTerms: US\nYarn A: oat, light (3)\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n", protocol.CodeActionKindQuickFix},
	{"take a thing away", "Pattern: Hat\nTerms: US\nNotion: 3 pearl |buttons, 8 mm\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\n", "Take the line away", "Pattern: Hat\nTerms: US\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\n", protocol.CodeActionKindQuickFix},
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
		{"what is spaced evenly is not spaced again", twoRounds + "Rnd 3: (sc in next st, |inc) x 6 (18)\n", "Space"},
		{"nor where every stitch is an increase", twoRounds + "Rnd 3: inc in each st |around (24)\n", "Space"},
		{"a round of several stitches is not put into one", twoRounds + "Rnd 3: (sc, inc, hdc |2) x 3 (15)\n", "Space"},
		{"one increase stands where it is put", twoRounds + "Rnd 3: sc, |inc, sc 10 (13)\n", "Space"},
		{"rows that show one side are not joined", twoRows + "Row 2 (WS): ch 1, turn, sc across (6)\nRow 3 (WS): ch 1, |turn, sc across (6)\n", "Write as one range"},
		{"a yarn that is used stays", "Pattern: Hat\nTerms: US\nYarn |A: oat, light (3)\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n", "Take the line away"},
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
			for _, a := range newOffered(t.Context(), snap, protocol.Range{Start: pos, End: pos}, nil).actions() {
				_, ok := lint.Apply(text, a.edits)
				assert.True(t, ok, "%q at %d of %q", a.title, i, text)
				assert.NotNil(t, snap.tried(a.edits), "%q at %d of %q", a.title, i, text)
			}
			c := newCompleting(snap, snap.Offset(pos))
			c.propose()
			for _, item := range c.items {
				edit := item.TextEdit.(*protocol.TextEdit)
				assert.Equal(t, pos.Line, edit.Range.Start.Line)
				assert.True(t, within(edit.Range, protocol.Range{Start: pos, End: pos}), "it replaces the word that the cursor is in")
			}
		}
	}
}

func TestFixAll(t *testing.T) {
	e := open(t, acting(), nil)
	doc := at("a.crochet")
	text := strings.ReplaceAll(twoRounds+"Rnd 3: sc, inc, sc, inc, sc, inc, sc 6\nRnd 4: sc around\n", "\n", "\r\n")
	e.type_(doc, text)
	for _, only := range []protocol.CodeActionKind{protocol.CodeActionKindSource, protocol.CodeActionKindSourceFixAll, "source.fixAll.workeven"} {
		list := e.actionsAt(doc, protocol.Position{}, only)
		require.NotEmpty(t, list, only)
		assert.Equal(t, protocol.CodeActionKind("source.fixAll.workeven"), *list[0].Kind)
	}
	list := e.actionsAt(doc, protocol.Position{}, protocol.CodeActionKindSourceFixAll)
	require.Len(t, list, 1)
	a, err := e.resolved(list[0])
	require.NoError(t, err)
	want := strings.ReplaceAll(twoRounds+"Rnd 3: (sc, inc) x 3, sc 6 (15)\nRnd 4: sc around (15)\n", "\n", "\r\n")
	assert.Equal(t, want, afterEdit(t, text, a.Edit))

	e.change(doc, 2, whole(want))
	_, err = e.resolved(list[0])
	var wire *jsonrpc2.Error
	require.ErrorAs(t, err, &wire, "the text is another by now")
	assert.Equal(t, jsonrpc2.Code(protocol.LSPErrorCodesContentModified), wire.Code)
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
	uneven := spacing{below: 18, above: 22, main: "sc"}
	for lead, want := range []string{
		"(sc 3, inc, sc 4, inc) x 2",
		"sc 2, inc, sc 4, inc, sc 3, inc, sc 4, inc, sc",
		"sc, inc, sc 4, inc, sc 3, inc, sc 4, inc, sc 2",
		"inc, sc 4, inc, sc 3, inc, sc 4, inc, sc 3",
		"",
	} {
		assert.Equal(t, want, uneven.words(int64(lead)))
	}
}

// The staggered round begins so that its increases stand the farthest from
// those below, wherever these are; shares of the round, worked out by hand.
func TestApartFrom(t *testing.T) {
	six := spacing{below: 18, above: 24, main: "sc"} // increases at 2.5, 5.5 … of 18
	sixths := func(first float64) (out []float64) {
		for i := range 6 {
			out = append(out, (first+3*float64(i))/18)
		}
		return out
	}
	for first, want := range map[float64]int64{0.5: 0, 1: 0, 1.5: 0, 2: 2, 2.5: 1} {
		assert.Equal(t, want, six.apartFrom(sixths(first)), "increases at %g of each 3", first)
	}
	assert.Equal(t, int64(1), six.apartFrom(nil), "half a gap where nothing is below")
	assert.Zero(t, (&spacing{below: 6, above: 12, main: "sc"}).apartFrom(nil), "there is no gap to shift by")
}
