package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/grammar"
)

const untidy = "Terms: US\r\nPiece: Shell\r\nRnd 1: six single crochet in the magic ring (6)\r\nRnd 2: inc in every st around (12)\r\nRnd 3:   (sc,inc) x6 (18)\r\n"

func TestFormatting(t *testing.T) {
	e := opened(t, untidy)
	want := grammar.Format(grammar.Parse(untidy))
	require.NotEqual(t, untidy, want)
	edits, err := e.server.Formatting(e.ctx, &protocol.DocumentFormattingParams{TextDocument: here()})
	require.NoError(t, err)
	assert.Equal(t, want, edited(t, untidy, edits))
	assert.Len(t, edits, 3, "one for each statement that changes")

	line := func(from, to uint32) protocol.Range {
		return protocol.Range{Start: protocol.Position{Line: from}, End: protocol.Position{Line: to}}
	}
	for _, c := range []struct {
		name   string
		ranges []protocol.Range
		lines  []uint32
	}{
		{"a whole line", []protocol.Range{line(3, 4)}, []uint32{3}},
		{"a place", []protocol.Range{line(4, 4)}, []uint32{4}},
		{"two ranges", []protocol.Range{line(2, 3), line(4, 5)}, []uint32{2, 4}},
		{"nothing to do", []protocol.Range{line(0, 2)}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			edits, err := e.server.RangesFormatting(e.ctx, &protocol.DocumentRangesFormattingParams{TextDocument: here(), Ranges: c.ranges})
			require.NoError(t, err)
			var lines []uint32
			for _, x := range edits {
				lines = append(lines, x.Range.Start.Line)
			}
			assert.Equal(t, c.lines, lines)
		})
	}
	one, err := e.server.RangeFormatting(e.ctx, &protocol.DocumentRangeFormattingParams{TextDocument: here(), Range: line(3, 4)})
	require.NoError(t, err)
	assert.Len(t, one, 1)
}

func TestEnter(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       uint32
		want       string
	}{
		{"a round", "Rnd 1: 6 sc in magic ring (6)\n", 1, "Rnd 1: 6 sc in magic ring (6)\nRnd 2: "},
		{"a range", "Rnds 2-5: sc around (6)\n  \nFasten off.\n", 1, "Rnds 2-5: sc around (6)\nRnd 6: \nFasten off.\n"},
		{"a row and its side", "Row 1 (RS): ch 5, sc across (4)\n", 1, "Row 1 (RS): ch 5, sc across (4)\nRow 2 (WS): "},
		{"two rows", "Rows 2-3 (WS): sc across (4)\n", 1, "Rows 2-3 (WS): sc across (4)\nRow 4 (WS): "},
		{"a line end of two", "Rnd 1: 6 sc in magic ring (6)\r\n", 1, "Rnd 1: 6 sc in magic ring (6)\r\nRnd 2: "},
		{"a continued round", "Rnd 1: 6 sc\n  in magic ring (6)\n", 2, "Rnd 1: 6 sc\n  in magic ring (6)\nRnd 2: "},
		{"an empty label", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: \n", 2, "Rnd 1: 6 sc in magic ring (6)\n\n"},
		{"it stands there", "Rnd 1: 6 sc in magic ring (6)\n\nRnd 2: inc around (12)\n", 1, ""},
		{"the middle of a round", "Rnd 1: 6 sc\nin magic ring (6)\n", 1, ""},
		{"not a round", "Fasten off.\n", 1, ""},
		{"a blank line", "Rnd 1: 6 sc in magic ring (6)\n\n\n", 2, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := opened(t, c.text)
			edits, err := e.server.OnTypeFormatting(e.ctx, &protocol.DocumentOnTypeFormattingParams{TextDocument: here(), Position: protocol.Position{Line: c.line}, Ch: "\n"})
			require.NoError(t, err)
			if c.want == "" {
				assert.Empty(t, edits)
				return
			}
			assert.Equal(t, c.want, edited(t, c.text, edits))
		})
	}
}
