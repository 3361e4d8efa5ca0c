package lsp

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/grammar"
)

// hat is a pattern that names things in every way there is.
const hat = `Pattern: Harbor Hat
Terms: US
Yarn A: navy #203050, light (3)
Yarn B: foam #EEEEEE, light (3)
Stitch: knot (sea knot) = ch 3, sl st in same st
Gauge: 20 sts x 22 rnds = 10 cm in sc

Piece: Crown (make 1)
Worked: in a spiral
With: A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: with B, inc in each st around (12)
Rnd 3: (sc, knot) x 6, change to navy (12)
Rnd 4: *knots 2; rep from * around (12)
Change to B.
Rnd 5: join B with sl st to first sc, sc around (12)
Fasten off.

Piece: Leaf (make 2)
With: B
Rnd 1: 6 sc in magic ring (6)
Rnd 2: sc in each st of Crown (12)
Fasten off.

Assembly:
Sew: Leaf x 2 to Crown, in line with Leaf
Place: 2 buttons on Crown, at Rnd 3
Embroider: a wave on both Leaves; toward the Crown
Attach: each Leaf to Crown
Stuff Crown lightly.
`

// spot is where some words stand for the nth time, from 1, as a position in
// their second letter.
func spot(t *testing.T, text, words string, nth int) protocol.Position {
	t.Helper()
	at := -1
	for range nth {
		i := strings.Index(text[at+1:], words)
		require.GreaterOrEqual(t, i, 0, "%q stands there %d times", words, nth)
		at += 1 + i
	}
	at += len(words) - 1
	return newIndex(text, utf16Units).position(at)
}

func spotParams(t *testing.T, text, words string, nth int) protocol.TextDocumentPositionParams {
	return protocol.TextDocumentPositionParams{TextDocument: protocol.TextDocumentIdentifier{URI: at("hat.crochet")}, Position: spot(t, text, words, nth)}
}

// shown writes a range as its line, from 1, and its text.
func shown(text string, r protocol.Range) string {
	x := newIndex(text, utf16Units)
	return fmt.Sprintf("%d %s", r.Start.Line+1, text[x.offset(r.Start):x.offset(r.End)])
}

func opened(t *testing.T, text string) *editor {
	e := open(t, protocol.ClientCapabilities{}, nil)
	e.type_(at("hat.crochet"), text)
	return e
}

func TestNames(t *testing.T) {
	e := opened(t, hat)
	yarnB := []string{"4 B", "4 foam", "12 B", "15 B", "16 B", "20 B"}
	crown := []string{"8 Crown", "22 Crown", "26 Crown", "27 Crown", "28 Crown", "29 Crown", "30 Crown"}
	leaf := []string{"19 Leaf", "26 Leaf", "26 Leaf", "28 Leaves", "29 Leaf"}
	for _, c := range []struct {
		words string
		nth   int
		given []string
		all   []string
	}{
		{"Yarn B", 1, yarnB[:1], yarnB},
		{"with B", 1, yarnB[:1], yarnB},
		{"Change to B", 1, yarnB[:1], yarnB},
		{"join B", 1, yarnB[:1], yarnB},
		{"to navy", 1, []string{"3 A"}, []string{"3 A", "3 navy", "10 A", "13 navy"}},
		{"knot", 3, []string{"5 knot"}, []string{"5 knot", "5 sea knot", "13 knot", "14 knot"}},
		{"knot", 4, []string{"5 knot"}, []string{"5 knot", "5 sea knot", "13 knot", "14 knot"}},
		{"of Crown", 1, crown[:1], crown},
		{"Stuff Crown", 1, crown[:1], crown},
		{"in line with Leaf", 1, leaf[:1], leaf},
		{"both Leaves", 1, leaf[:1], leaf},
		{"magic", 1, nil, nil},
		{"Fasten", 1, nil, nil},
	} {
		t.Run(c.words, func(t *testing.T) {
			p := spotParams(t, hat, c.words, c.nth)
			given, err := e.server.Definition(e.ctx, &protocol.DefinitionParams{TextDocumentPositionParams: p})
			require.NoError(t, err)
			var got []string
			if list, ok := given.(protocol.LocationSlice); ok {
				for _, x := range list {
					got = append(got, shown(hat, x.Range))
				}
			}
			assert.Equal(t, c.given, got, "definition")

			got = nil
			marks, err := e.server.DocumentHighlight(e.ctx, &protocol.DocumentHighlightParams{TextDocumentPositionParams: p})
			require.NoError(t, err)
			written := 0
			for _, x := range marks {
				got = append(got, shown(hat, x.Range))
				if x.Kind == protocol.DocumentHighlightKindWrite {
					written++
				}
			}
			assert.Equal(t, c.all, got, "highlight")

			for _, also := range []bool{true, false} {
				refs, err := e.server.References(e.ctx, &protocol.ReferenceParams{TextDocumentPositionParams: p, Context: protocol.ReferenceContext{IncludeDeclaration: also}})
				require.NoError(t, err)
				want := len(c.all)
				if !also {
					want -= written
				}
				assert.Len(t, refs, want, "references, with declarations: %v", also)
			}
		})
	}
}

// Yarns and pieces are named in free words too; "a" is no yarn A.
func TestNamesInFreeWords(t *testing.T) {
	text := "Terms: US\nYarn A: oat, light (3)\nYarn B: deep sea, light (3)\nPiece: Head\nWith: A\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nEmbroider: a smile in a curve in B and A on Head, at Rnd 1\nEmbroider: 2 lashes with deep sea on Head; knots in B\n"
	e := opened(t, text)
	for _, c := range []struct {
		words string
		all   []string
		name  string
		now   string
	}{
		{"Yarn B", []string{"3 B", "3 deep sea", "8 B", "9 deep sea", "9 B"}, "MC", "Terms: US\nYarn A: oat, light (3)\nYarn MC: deep sea, light (3)\nPiece: Head\nWith: A\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nEmbroider: a smile in a curve in MC and A on Head, at Rnd 1\nEmbroider: 2 lashes with deep sea on Head; knots in MC\n"},
		{"and A", []string{"2 A", "2 oat", "5 A", "8 A"}, "C", "Terms: US\nYarn C: oat, light (3)\nYarn B: deep sea, light (3)\nPiece: Head\nWith: C\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nEmbroider: a smile in a curve in B and C on Head, at Rnd 1\nEmbroider: 2 lashes with deep sea on Head; knots in B\n"},
	} {
		t.Run(c.words, func(t *testing.T) {
			p := spotParams(t, text, c.words, 1)
			marks, err := e.server.DocumentHighlight(e.ctx, &protocol.DocumentHighlightParams{TextDocumentPositionParams: p})
			require.NoError(t, err)
			var got []string
			for _, x := range marks {
				got = append(got, shown(text, x.Range))
			}
			assert.Equal(t, c.all, got)
			edit, err := e.server.Rename(e.ctx, &protocol.RenameParams{TextDocumentPositionParams: p, NewName: c.name})
			require.NoError(t, err)
			assert.Equal(t, c.now, edited(t, text, edit.Changes[at("hat.crochet")]))
		})
	}
	noted := "Terms: US\nYarn B: oat, light (3)\nCaution: The Ear comes off; ears are small.\nPiece: Ear (make 2)\nNote: Work every Ear in B.\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nNote: Pin the Ears first.\n"
	notes := opened(t, noted)
	for _, c := range []struct{ words, name, now string }{
		{"Piece: Ear", "Horn", "Terms: US\nYarn B: oat, light (3)\nCaution: The Horn comes off; ears are small.\nPiece: Horn (make 2)\nNote: Work every Horn in B.\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nNote: Pin the Horns first.\n"},
		{"Yarn B", "MC", "Terms: US\nYarn MC: oat, light (3)\nCaution: The Ear comes off; ears are small.\nPiece: Ear (make 2)\nNote: Work every Ear in MC.\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nNote: Pin the Ears first.\n"},
	} {
		edit, err := notes.server.Rename(notes.ctx, &protocol.RenameParams{TextDocumentPositionParams: spotParams(t, noted, c.words, 1), NewName: c.name})
		require.NoError(t, err)
		assert.Equal(t, c.now, edited(t, noted, edit.Changes[at("hat.crochet")]))
	}
	hover, err := e.server.Hover(e.ctx, &protocol.HoverParams{TextDocumentPositionParams: spotParams(t, text, "in a", 1)})
	require.NoError(t, err)
	assert.NotContains(t, fmt.Sprint(hover), "oat", "a curve is no yarn")
}

// A round that is pointed to by its number leads to that round.
func TestDefinitionOfRounds(t *testing.T) {
	text := `Terms: US
Piece: Head
Worked: in joined rounds
Rnd 1: 6 sc in magic ring, join (6)
Rnd 2: ch 1, BLO sc around, join (6)
Rnds 3-4: rep Rnd 2 (6)
Insert 2 eyes between Rnds 2 and 3.
Rnd 5: ch 1, sc 6 in free loops of Rnd 1, join (6)
Row 6: ch 1, turn, sc 6 (6)
Rows 7-8: rep Row 6 (6)

Piece: Ear (make 2)
Rnd 1: 4 sc in magic ring (4)
Rnd 2: rep Rnd 9 (4)
Row 3: join A to Head between Rnds 3 and 4, sc 4 (4)
Assembly:
Sew: Ear x 2 to Head, over Rnds 4-5
Place: 1 nose on Ear, at Rnd 2
`
	e := opened(t, text)
	for _, c := range []struct {
		words string
		want  string
	}{
		{"rep Rnd 2", "5 Rnd 2"}, {"rep R", "5 Rnd 2"}, {"between Rnds 2", "5 Rnd 2"}, {"2 and 3", "6 Rnds 3-4"}, {"loops of Rnd 1", "4 Rnd 1"},
		{"rep Row 6", "9 Row 6"}, {"Head between Rnds 3", "6 Rnds 3-4"}, {"over Rnds 4", "6 Rnds 3-4"}, {"over Rnds 4-5", "8 Rnd 5"}, {"at Rnd 2", "14 Rnd 2"}, {"rep Rnd 9", ""}, {"make 2", ""},
	} {
		given, err := e.server.Definition(e.ctx, &protocol.DefinitionParams{TextDocumentPositionParams: spotParams(t, text, c.words, 1)})
		require.NoError(t, err)
		got := ""
		if list, ok := given.(protocol.LocationSlice); ok && len(list) > 0 {
			got = shown(text, list[0].Range)
		}
		assert.Equal(t, c.want, got, c.words)
	}
}

func TestRename(t *testing.T) {
	e := opened(t, hat)
	for _, c := range []struct {
		words string
		nth   int
		name  string
		// now are the lines that differ afterwards; no line means refused.
		now     []string
		refused string
	}{
		{"with B", 1, "C", []string{"Yarn C: foam #EEEEEE, light (3)", "Rnd 2: with C, inc in each st around (12)", "Change to C.", "Rnd 5: join C with sl st to first sc, sc around (12)", "With: C"}, ""},
		{"to navy", 1, "ink", []string{"Yarn A: ink #203050, light (3)", "Rnd 3: (sc, knot) x 6, change to ink (12)"}, ""},
		{"knot", 3, "bud", []string{"Stitch: bud (sea knot) = ch 3, sl st in same st", "Rnd 3: (sc, bud) x 6, change to navy (12)", "Rnd 4: *buds 2; rep from * around (12)"}, ""},
		{"Piece: Leaf", 1, "Fin", []string{"Piece: Fin (make 2)", "Sew: Fin x 2 to Crown, in line with Fin", "Embroider: a wave on both Fins; toward the Crown", "Attach: each Fin to Crown"}, ""},
		{"of Crown", 1, "Upper Half", []string{"Piece: Upper Half (make 1)", "Rnd 2: sc in each st of Upper Half (12)", "Sew: Leaf x 2 to Upper Half, in line with Leaf", "Place: 2 buttons on Upper Half, at Rnd 3", "Embroider: a wave on both Leaves; toward the Upper Half", "Attach: each Leaf to Upper Half", "Stuff Upper Half lightly."}, ""},
		{"with B", 1, "A", nil, "there is a yarn A already, in line 3"},
		{"with B", 1, "navy", nil, "there is a yarn navy already, in line 3"},
		{"with B", 1, "two words", nil, "cannot be read as a name"},
		{"with B", 1, " ", nil, "needs a name"},
		{"of Crown", 1, "leaf", nil, "there is a piece leaf already, in line 19"},
		{"of Crown", 1, "Top Half", nil, "cannot be read as a name in line 22"},
		{"of Crown", 1, "Cap x 2", nil, "cannot be read as a name"},
		{"of Crown", 1, "Cap // hidden", nil, "cannot be read as a name"},
		{"knot", 3, "dc", nil, "dc is a stitch of its own already"},
		{"knot", 3, "turn", nil, "cannot be read as a name"},
		{"magic", 1, "spell", nil, "nothing"},
	} {
		t.Run(c.words+" to "+c.name, func(t *testing.T) {
			p := spotParams(t, hat, c.words, c.nth)
			ready, err := e.server.PrepareRename(e.ctx, &protocol.PrepareRenameParams{TextDocumentPositionParams: p})
			require.NoError(t, err)
			assert.Equal(t, c.refused == "nothing", ready == nil, "prepared: %v", ready)
			edit, err := e.server.Rename(e.ctx, &protocol.RenameParams{TextDocumentPositionParams: p, NewName: c.name})
			if c.refused != "" {
				require.Error(t, err)
				if c.refused != "nothing" {
					assert.ErrorContains(t, err, c.refused)
				}
				return
			}
			require.NoError(t, err)
			after := edited(t, hat, edit.Changes[at("hat.crochet")])
			before := strings.Split(hat, "\n")
			var now []string
			for i, line := range strings.Split(after, "\n") {
				if line != before[i] {
					now = append(now, line)
				}
			}
			assert.Equal(t, c.now, now)
			assert.Len(t, grammar.Parse(after).Faults(), len(grammar.Parse(hat).Faults()), "it parses as before")
		})
	}
}

// edited carries edits out that do not overlap and are in order.
func edited(t *testing.T, text string, edits []protocol.TextEdit) string {
	t.Helper()
	x := newIndex(text, utf16Units)
	for i := len(edits) - 1; i >= 0; i-- {
		from, to := x.offset(edits[i].Range.Start), x.offset(edits[i].Range.End)
		require.True(t, from <= to && to <= len(text))
		text = text[:from] + edits[i].NewText + text[to:]
	}
	return text
}

func TestRenameWithVersion(t *testing.T) {
	can := protocol.ClientCapabilities{Workspace: &protocol.WorkspaceClientCapabilities{WorkspaceEdit: &protocol.WorkspaceEditClientCapabilities{DocumentChanges: new(true)}}}
	e := open(t, can, nil)
	e.type_(at("hat.crochet"), hat)
	edit, err := e.server.Rename(e.ctx, &protocol.RenameParams{TextDocumentPositionParams: spotParams(t, hat, "with B", 1), NewName: "C"})
	require.NoError(t, err)
	require.Len(t, edit.DocumentChanges, 1)
	change, ok := edit.DocumentChanges[0].(*protocol.TextDocumentEdit)
	require.True(t, ok)
	assert.Equal(t, int32(1), *change.TextDocument.Version)
	assert.Len(t, change.Edits, 5)
	assert.Empty(t, edit.Changes)
}
