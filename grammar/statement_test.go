package grammar

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStatementsRead holds that statements are read without a fault, and that
// what a designer mistypes is said in her words.
func TestStatementsRead(t *testing.T) {
	for _, c := range []struct{ line, fault, fix string }{
		{"Pattern: Moss the Snail", "", ""},
		{"Terms: uk terms", "", ""},
		{"Terms: French", `found "French"`, ""},
		{"Size: one size, 54 cm around", "", ""},
		{"Gauge: 24 sts x 26 rnds = 10 cm in sc, uses 9.5 m", "", ""},
		{"Gauge: 20 sts and 10 rows = 4 in in dc.", "", ""},
		{"Gauge: 24 sc x 26 rnds over 10 x 10 cm", "", ""},
		{"Gauge: 24 stitches", "ends too early", ""},
		{"Hook: E-4 (3.5 mm)", "", ""},
		{"Hook: US G-6 (4 mm)", "", ""},
		{"Hook: 3,5 mm", "full stop", "3.5 mm"},
		{"Hook: 4.0 mm and 3.5 mm", `found "and"`, ""},
		{"Turning chain: dc counts, hdc does not", "", ""},
		{"Turning chain: does not count", "", ""},
		{"Yarn C: sea blue, medium (4), 3.5 oz / 200 yd", "", ""},
		{"Yarn\u00a0A: fern #7C9A5B, light (3), 50 g / 125 m", "", ""},
		{"Yarn: oat", "needs a letter or word", ""},
		{"Notion: 4 buttons (15 mm)", "", ""},
		{"Stitch: bob (bobble) = 5 dc together in one st", "", ""},
		{"Stitch: spike sc, takes 1, makes 1", "", ""},
		{"Stitch: foo", "not explained", ""},
		{"Piece: Arm (make twice)", "", ""},
		{"Piece: Arm (make 0)", "once at least", ""},
		{"Piece:", "is empty", ""},
		{"Worked: sideways", "in a spiral, in joined rounds or in rows", ""},
		{"With: A, B, hook E-4 (3.5 mm)", "", ""},
		{"Sew: Feeler x 2 to Body, between Rnds 1 and 2, 3 sts apart", "", ""},
		{"Sew: Leg Body", "ends too early", ""},
		{"Sew: Roof to Tower, somewhere nice", `found "somewhere"`, ""},
		{"Embroider: a smile on Head, at Rnd 5, across 4 sts; with black thread", "", ""},
		{"Attach: Handle x 2 to Bag, at Rnd 20, at left, evenly", "", ""},
		{"Fasten off: leave a tail", "", ""},
		{"Insert 2 safety eyes between Rnds 8 and 9, 6 sts apart.", "", ""},
		{"Stuf firmly", `was "Stuff" meant`, "Stuff"},
		{"Rdn 4: sc 3", `was "Rnd 4:" meant`, "Rnd 4"},
		{"Yrn A: x", `was "Yarn A:" meant`, "Yarn A"},
		{"Rnd 4 sc 3", "a colon is missing", "Rnd 4:"},
		{"Rnd. 4: sc 3", "", ""},
		{"Rnd: sc 3", "a number is missing", ""},
		{"Rnd 4-: sc 3", "no second number", ""},
		{"Rnd 4 (inside): sc 3", "only (RS) or (WS)", ""},
		{"Hello there", "a line begins with a label", ""},
		{"Rnd 4: (sc 2, inc x 6", "never closed", ""},
		{"Rnd 4: (sc 2, inc), sc 3", "needs a count or a place", ""},
		{"Rnd 4: sc 2), inc", "closes nothing", ""},
		{"Rnd 4: (sc 2, inc] x 6", "is closed by", ""},
		{"Rnd 4: *sc 2, inc (24)", "never repeated", ""},
		{"Rnd 4: sc 2, rep from * around", "no * to repeat from", ""},
		{"Rnd 4: sc 10 sc 14", "a comma is missing", ", sc"},
		{"Rnd 4: sc arround", `was "around" meant`, "around"},
	} {
		l := ParseLine(c.line, 1)
		if c.fault == "" {
			assert.Empty(t, l.Faults, c.line)
			continue
		}
		if assert.NotEmpty(t, l.Faults, c.line) {
			assert.Contains(t, l.Faults[0].Message, c.fault, c.line)
			assert.Equal(t, c.fix, l.Faults[0].Fix, c.line)
		}
	}
}

// node reads a statement as a node of one type.
func node[N Node](t *testing.T, line string) N {
	l := ParseLine(line, 1)
	require.Empty(t, l.Faults, line)
	n, ok := l.Node.(N)
	require.True(t, ok, "%s is a %T", line, l.Node)
	return n
}

// TestStatementsTyped holds the values that statements are read into.
func TestStatementsTyped(t *testing.T) {
	yarn := node[*Yarn](t, "Yarn MC: oat #D9C7A3, DK (3), 50 g / 125 m, 2 balls")
	assert.Equal(t, []any{"MC", "oat", "#D9C7A3", "DK (3)", int32(3), int32(50), 125000.0, int32(2)},
		[]any{yarn.Key.Text, yarn.Name.Text, yarn.Colour.Text, yarn.Weight.Text, yarn.Number.N, yarn.Grams.N, yarn.Metres.MM, yarn.Balls.N})
	gauge := node[*Gauge](t, "Gauge: 20 sts x 10 rows = 4 in in dc, uses 9.5 m")
	assert.Equal(t, []any{int32(20), int32(10), 101.6, 101.6, "dc", 9500.0},
		[]any{gauge.Sts.N, gauge.Rnds.N, gauge.Over.MM, gauge.Down.MM, gauge.Stitch.Text, gauge.Uses.MM})
	hook := node[*Hook](t, "Hook: 3.5 mm (E-4)")
	assert.Equal(t, []any{"E-4", 3.5}, []any{hook.Letter.Text, hook.Size.MM})
	size := node[*Size](t, "Size: 16 cm tall, 12.5 cm wide")
	assert.Equal(t, []any{160.0, "tall", 125.0, "wide"}, []any{size.Dims[0].MM, size.Dims[0].Way, size.Dims[1].MM, size.Dims[1].Way})
	chain := node[*TurningChain](t, "Turning chain: dc counts, hdc does not")
	assert.Equal(t, []any{"dc", false, "hdc", true}, []any{chain.Rules[0].Stitch.Text, chain.Rules[0].Not, chain.Rules[1].Stitch.Text, chain.Rules[1].Not})
	sew := node[*Sew](t, "Sew: Feeler x 2 to Body, between Rnds 1 and 2, 3 sts apart; pin first")
	assert.Equal(t, []any{"Feeler", int32(2), "Body", WhereBetween, int32(1), int32(2), WhereApart, int32(3), "pin first"},
		[]any{sew.Part.Text, sew.Times.N, sew.To.Text, sew.Where[0].Kind, sew.Where[0].From.N, sew.Where[0].To.N, sew.Where[1].Kind, sew.Where[1].Count.N, sew.Where[2].Text.Text})
	piece := node[*Piece](t, "Piece: Left leg (make two)")
	assert.Equal(t, []any{"Left leg", int32(2)}, []any{piece.Name.Text, piece.Make.N})
	round := node[*Round](t, "Rows 6–9 (WS): sc across (12 dc, 6 ch-2 sps)")
	assert.Equal(t, []any{true, int32(6), int32(9), SideWrong, 2}, []any{round.Row, round.From.N, round.To.N, round.Side, len(round.Total.Parts)})
}
