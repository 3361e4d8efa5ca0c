package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/lint"
)

const snailHead = "Pattern: Snail\nTerms: US\nYarn A: fern, light (3)\nYarn B: oat, light (3)\nNotion: 2 safety eyes, 6 mm\nStitch: bob (bobble) = 5 dc together in one st\n"

const snailBody = "Piece: Body\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"

func TestCompletion(t *testing.T) {
	for _, c := range []struct {
		name, marked string
		// take is the proposal to take, and after the line that it leaves; not
		// is one that must not be there.
		take, after, not string
	}{
		{"a label", "Pat|", "Pattern: ", "Pattern: ", "Rnd 1: "},
		{"the next round", snailHead + snailBody + "R|", "Rnd 3: ", "Rnd 3: ", "Rnd 2: "},
		{"the first round", snailHead + "Piece: Body\n|", "Rnd 1: 6 sc in magic ring (6)", "Rnd 1: 6 sc in magic ring (6)", ""},
		{"an even round", snailHead + snailBody + "|", "Rnd 3: sc around (12)", "Rnd 3: sc around (12)", ""},
		{"a round that grows as the last one did", snailHead + snailBody + "Rnd 3: |", "(sc, inc) x 6 (18)", "Rnd 3: (sc, inc) x 6 (18)", ""},
		{"a round that shrinks", snailHead + snailBody + "Rnd 3: |", "dec 6 (6)", "Rnd 3: dec 6 (6)", ""},
		{"in UK terms", "Terms: UK\nPiece: A\nRnd 1: 8 dc in magic ring (8)\nRnd 2: inc x 8 (16)\nRnd 3: |", "(dc, inc) x 8 (24)", "Rnd 3: (dc, inc) x 8 (24)", ""},
		{"joined rounds keep their frame", "Terms: US\nPiece: A\nRnd 1: 6 sc in magic ring, join (6)\nRnd 2: ch 1, inc x 6, join (12)\nRnd 3: |", "ch 1, (sc, inc) x 6, join (18)", "Rnd 3: ch 1, (sc, inc) x 6, join (18)", ""},
		{"rows", "Terms: US\nPiece: A\nRow 1: ch 11, sc in 2nd ch from hook, sc in each ch across (10)\nRow 2: ch 1, turn, sc across (10)\n|", "Row 3: ch 1, turn, sc across (10)", "Row 3: ch 1, turn, sc across (10)", "Rnd 3: sc around (10)"},
		{"no round in the making up", snailHead + snailBody + "Assembly:\n|", "Sew: ", "Sew: ", "Rnd 3: "},
		{"a stitch", snailHead + snailBody + "Rnd 3: (sc 2, hd|", "hdc", "Rnd 3: (sc 2, hdc", "htr"},
		{"one of its own", snailHead + snailBody + "Rnd 3: sc 2, b|", "bob", "Rnd 3: sc 2, bob", ""},
		{"a stitch of UK terms", "Terms: UK\nPiece: A\nRnd 1: 6 dc in magic ring, ht|", "htr", "Rnd 1: 6 dc in magic ring, htr", "hdc"},
		{"a yarn for a piece", snailHead + "Piece: Body\nWith: |", "B", "With: B", "hdc"},
		{"a yarn in a round", snailHead + snailBody + "Rnd 3: sc 3, change to |", "B", "Rnd 3: sc 3, change to B", "hdc"},
		{"a piece whose stitches are worked", snailHead + snailBody + "Piece: Head\nRnd 1: sc in next 6 sts of B|", "Body", "Rnd 1: sc in next 6 sts of Body", "hdc"},
		{"a piece to sew", snailHead + snailBody + "Assembly:\nSew: |", "Body", "Sew: Body", "centred"},
		{"what it is sewn to", snailHead + snailBody + "Piece: Head\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nSew: Head to B|", "Body", "Sew: Head to Body", "Head"},
		{"where it is sewn", snailHead + snailBody + "Assembly:\nSew: Body to Body, be|", "between Rnds 1 and 2", "Sew: Body to Body, between Rnds 1 and 2", "Body"},
		{"what is placed", snailHead + snailBody + "Assembly:\nPlace: |", "2 safety eyes", "Place: 2 safety eyes", ""},
		{"a material", snailHead + "Notion: to|", "toy stuffing", "Notion: toy stuffing", ""},
		{"terms", "Terms: |", "UK", "Terms: UK", ""},
		{"how it is worked", "Piece: A\nWorked: in |", "in rows", "Worked: in rows", ""},
		{"a rule to allow", snailHead + snailBody + "Rnd 3: sc around // allow: tot|", "total-missing", "Rnd 3: sc around // allow: total-missing", "sc"},
	} {
		text, pos := cursorIn(t, c.marked)
		e := open(t, pushing(), nil)
		e.type_(at("a.crochet"), text)
		p := &protocol.CompletionParams{}
		p.TextDocument.URI, p.Position = at("a.crochet"), pos
		got, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, p)
		require.NoError(t, err)
		var labels []string
		var taken *protocol.CompletionItem
		items := got.Items
		for i := range items {
			labels = append(labels, items[i].Label)
			if items[i].Label == c.take && taken == nil {
				taken = &items[i]
			}
		}
		if c.not != "" {
			assert.NotContains(t, labels, c.not, c.name)
		}
		if !assert.NotNil(t, taken, "%s: proposed are %q", c.name, labels) {
			continue
		}
		edit := taken.TextEdit.(*protocol.TextEdit)
		lines := newIndex(text, utf16Units)
		after, ok := lint.Apply(text, []lint.Edit{{Start: lines.offset(edit.Range.Start), End: lines.offset(edit.Range.End), New: edit.NewText}})
		require.True(t, ok)
		last := newIndex(after, utf16Units)
		assert.Equal(t, c.after, after[last.offset(protocol.Position{Line: pos.Line}):], c.name)
	}
}

func TestCompletionResolve(t *testing.T) {
	for _, c := range []struct{ terms, stitch, says, other string }{
		{"US", "hdc", "hdc, half double crochet (US terms); in UK terms htr, half treble crochet", "Takes 1 stitch of the round below and makes 1 stitch."},
		{"UK", "htr", "htr, half treble crochet (UK terms); in US terms hdc, half double crochet", "Takes 1 stitch of the round below and makes 1 stitch."},
	} {
		e := open(t, pushing(), nil)
		text, pos := cursorIn(t, "Terms: "+c.terms+"\nPiece: A\nRnd 1: 6 |")
		e.type_(at("a.crochet"), text)
		p := &protocol.CompletionParams{}
		p.TextDocument.URI, p.Position = at("a.crochet"), pos
		got, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, p)
		require.NoError(t, err)
		told := ""
		for _, item := range got.Items {
			if item.Label == c.stitch {
				whole, err := reply[*protocol.CompletionItem](e, protocol.MethodCompletionItemResolve, &item)
				require.NoError(t, err)
				told = whole.Documentation.(*protocol.MarkupContent).Value
			}
		}
		assert.Contains(t, told, c.says)
		assert.Contains(t, told, c.other)
	}
}
