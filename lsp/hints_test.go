package lsp

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

// The parts of a hint lead to what they speak of: a yarn to its line, a size to
// the gauge, stitches that are left to the round that has them.
func TestHintsLeadToPlaces(t *testing.T) {
	text := "Terms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nYarn A: fern, light (3), 50 g / 125 m\nPiece: Cap (make 2)\nWith: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 5\n"
	e := open(t, reading(), nil)
	e.type_(at("shown.crochet"), text)
	lines := strings.Split(text, "\n")
	leads := map[string]string{}
	for _, h := range e.hintsIn(all(text)) {
		parts, _ := h.Label.(protocol.InlayHintLabelPartSlice)
		for _, p := range parts {
			assert.NotEmpty(t, p.Value)
			if p.Location.URI != "" {
				assert.Equal(t, at("shown.crochet"), p.Location.URI)
				r := p.Location.Range
				leads[p.Value] = lines[r.Start.Line][r.Start.Character:r.End.Character]
			}
		}
	}
	assert.Equal(t, map[string]string{
		"A":           lines[2],
		"10 of 12":    lines[6],
		sizeIn(leads): lines[1],
	}, leads)
	assert.NotEmpty(t, sizeIn(leads))
}

func sizeIn(leads map[string]string) string {
	for words := range leads {
		if strings.Contains(words, " cm ") {
			return words
		}
	}
	return ""
}

// A hint behind a round without a total can be taken over as its total, and is
// then read as one.
func TestHintsWriteTotals(t *testing.T) {
	for _, line := range []string{"Rnd 2: inc x 6", "Rnd 2: inc in each st around.", "Rnd 2: (inc) x 6 // typed just now", "Rnds 2-3: sc around", "Rnd 2: ch 1, sc around, join"} {
		text := "Terms: US\nPiece: Cap\nRnd 1: 6 sc in magic ring (6)\n" + line + "\n"
		e := open(t, reading(), nil)
		e.type_(at("shown.crochet"), text)
		var edits []protocol.TextEdit
		for _, h := range e.hintsIn(all(text)) {
			edits = append(edits, h.TextEdits...)
		}
		if !assert.Len(t, edits, 1, line) {
			continue
		}
		x := newIndex(text, utf16Units)
		after, ok := lint.Apply(text, []lint.Edit{{Start: x.offset(edits[0].Range.Start), End: x.offset(edits[0].Range.End), New: edits[0].NewText}})
		require.True(t, ok)
		_, r := fabric.Work(grammar.Parse(after)).RoundAt(3)
		require.NotNil(t, r, after)
		n, said := r.Node.Total.Bare()
		assert.True(t, said, after)
		assert.EqualValues(t, r.Makes, n.N, after)
		assert.Empty(t, r.Problems, after)
	}
	for _, line := range []string{"Rnd 2: inc x 6 (12)", "Rnd 2: inc x 5", "Rnd 2: "} {
		text := "Terms: US\nPiece: Cap\nRnd 1: 6 sc in magic ring (6)\n" + line + "\n"
		e := open(t, reading(), nil)
		e.type_(at("shown.crochet"), text)
		for _, h := range e.hintsIn(all(text)) {
			assert.Empty(t, h.TextEdits, line)
		}
	}
}

// However many rounds cannot be read, only a few are worked anew for one request.
func TestHintsOfManyUnfinishedRounds(t *testing.T) {
	text := "Terms: US\nPiece: Cap\nRnd 1: 6 sc in magic ring (6)\n" + strings.Repeat("Rnd 2: sc 3, in (6)\n", 50)
	doc := newSnapshot(at("a.crochet"), 1, "", text, utf8Bytes)
	x := hintsIn{doc: doc, set: hints{Totals: true}}
	shown := 0
	for i := range doc.File.Lines {
		shown += len(x.statement(i))
	}
	assert.Equal(t, mostTried, x.tried)
	assert.Equal(t, mostTried+1, shown, "those and the first round")
}

// A text typed half is counted as far as it can be, in a long file as in a
// short one.
func TestCountedAsFarAsItGoes(t *testing.T) {
	for _, c := range []struct {
		steps string
		takes int64
	}{
		{"sc 4, in", 4}, {"(sc, inc", 2}, {"(sc, inc) x", 2}, {"(sc, inc) x 3, (sc", 7}, {"(sc, inc) x 6 (1", 12}, {"*sc 2, inc; rep fr", 3}, {"sc 2, (sc, inc) x ", 4}, {"sc 3, zzz, sc 2", 3},
	} {
		for _, long := range []bool{false, true} {
			text := "Terms: US\nStitch: bob = 5 dc together in one st\nPiece: Cap\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: " + c.steps + "\n"
			if long {
				text += "\nPiece: Other\n" + strings.Repeat("Note: this is a long file.\n", 2000)
				require.Greater(t, len(text), shortText)
			}
			doc := newSnapshot(at("a.crochet"), 1, "", text, utf8Bytes)
			r, _ := doc.countable(5, len("Rnd 3:"), len("Rnd 3: "+c.steps))
			if assert.NotNil(t, r, c.steps) {
				assert.Equal(t, c.takes, r.Takes, "%s, long: %v", c.steps, long)
			}
		}
	}
}
