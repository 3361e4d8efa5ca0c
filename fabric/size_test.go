package fabric

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// gaugeOf makes a gauge over 100 mm; rnds may be 0.
func gaugeOf(t *testing.T, sts, rnds int32, stitch string) *grammar.Gauge {
	g := &grammar.Gauge{Over: grammar.Length{MM: 100}, Down: grammar.Length{MM: 100}}
	g.Sts.N, g.Rnds.N = sts, rnds
	if stitch != "" {
		steps, ok := grammar.ReadSteps(stitch)
		require.True(t, ok)
		g.Stitch = steps[0].Stitch
	}
	return g
}

// worked works a piece in US terms under gauges made by hand.
func worked(text string, gauges ...*grammar.Gauge) (*Pattern, *Piece) {
	p := Work(grammar.Parse("Terms: US\n" + text))
	p.Header.Gauges = gauges
	return p, p.Pieces[0]
}

// source is a piece of testdata/sources by its title.
func source(t *testing.T, title string, gauges ...*grammar.Gauge) (*Pattern, *Piece) {
	for _, b := range blocks(t, "../testdata/sources/*.txt") {
		if b.title == title {
			return worked(b.text, gauges...)
		}
	}
	require.Fail(t, "no such source", title)
	return nil, nil
}

func sizeOf(t *testing.T, p *Pattern, piece *Piece) Size {
	s, ok := SizeOf(p, piece)
	require.True(t, ok)
	return s
}

// tsv reads a table of testdata/sources, a map of columns for each line.
func tsv(t *testing.T, name string) []map[string]string {
	data, err := os.ReadFile("../testdata/sources/" + name)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	head := strings.Split(lines[0], "\t")
	var rows []map[string]string
	for _, l := range lines[1:] {
		row := map[string]string{}
		for i, cell := range strings.Split(l, "\t") {
			row[head[i]] = cell
		}
		rows = append(rows, row)
	}
	require.NotEmpty(t, rows)
	return rows
}

func number(t *testing.T, s string) float64 {
	n, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return n
}

// TestGaugeRatios holds the proportions of stitches against gauges published in
// yarn makers' leaflets and one book: testdata/sources/gauge-ratios.tsv.
func TestGaugeRatios(t *testing.T) {
	for _, row := range tsv(t, "gauge-ratios.tsv") {
		sts, rows := int32(number(t, row["sts_per_4in"])), int32(number(t, row["rows_per_4in"]))
		p, piece := worked("Piece: Swatch\nRow 1: f"+row["stitch"]+" 20\n", gaugeOf(t, sts, rows, row["stitch"]))
		g, ok := p.StitchGauge(piece)
		require.True(t, ok)
		assert.InDelta(t, 100/float64(sts), g.Width, 1e-9)
		assert.InDelta(t, number(t, row["height_over_width"]), g.Height/g.Width, 5e-4)
		assert.False(t, g.Scaled || g.Half)

		// the glossary's ratio is the mean of these gauges, so stitches alone
		// give the height to within the spread of the table
		p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, sts, 0, row["stitch"])}
		g, ok = p.StitchGauge(piece)
		require.True(t, ok)
		assert.True(t, g.Half)
		assert.InEpsilon(t, number(t, row["height_over_width"]), g.Height/g.Width, 0.12)
	}
}

// TestGaugeInAnotherStitch takes a gauge of 13 dc by 8 rows over 4 in, from a
// leaflet, for a piece in sc: the height has to be one that published sc gauges
// have, 0.833 to 1 times the width.
func TestGaugeInAnotherStitch(t *testing.T) {
	dc := gaugeOf(t, 13, 8, "dc")
	p, piece := worked("Piece: Swatch\nRow 1: fsc 13\n", dc)
	g, ok := p.StitchGauge(piece)
	require.True(t, ok)
	assert.True(t, g.Scaled)
	assert.Greater(t, g.Height/g.Width, 0.833)
	assert.Less(t, g.Height/g.Width, 1.0)

	sc := gaugeOf(t, 14, 16, "sc")
	for _, order := range [][]*grammar.Gauge{{dc, sc}, {sc, dc}} {
		p.Header.Gauges = order
		g, _ = p.StitchGauge(piece)
		assert.Same(t, sc, g.Gauge, "the gauge in the piece's own stitch")
	}
	p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, 0, 0, "sc"), dc}
	g, ok = p.StitchGauge(piece)
	assert.True(t, ok && g.Gauge == dc, "a gauge without numbers is passed by")
}

func TestGaugeInRoundsOnly(t *testing.T) {
	p, piece := worked("Piece: Swatch\nRow 1: fdc 10\n", gaugeOf(t, 0, 8, "dc"))
	g, ok := p.StitchGauge(piece)
	require.True(t, ok)
	assert.True(t, g.Half)
	assert.InDelta(t, 12.5, g.Height, 1e-9)
	assert.InDelta(t, 12.5/terms.ByID("dc").Tall, g.Width, 1e-9)
}

// TestRows: rows and stitches by the gauge, which is what a gauge is for
// (common practice).
func TestRows(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		sts, rnds   int32
		stitch      string
		width, high float64
	}{
		{"a swatch has the size of its gauge", "Row 1: ch 23, sc in 2nd ch from hook, sc in each ch across (22)\nRows 2-24: ch 1, turn, sc across (22)\n", 22, 24, "sc", 100, 100},
		{"dc", "Row 1: ch 15, dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across (13)\nRows 2-8: ch 3 (counts as dc), turn, dc in each st across (13)\n", 13, 8, "dc", 100, 100},
		{"the widest row", "Row 1: fsc 10 (10)\nRow 2: ch 1, turn, 2 sc in each st across (20)\n", 20, 20, "sc", 100, 10},
		{"chain spaces are as long as their chains", "Row 1: fdc 21 (21)\nRow 2: ch 4 (counts as dc and ch 1), turn, sk 2, dc in next st, (ch 1, sk 1, dc in next st) x 9 (11 dc, 10 ch-1 sps)\n", 20, 10, "dc", 105, 20},
		{"a chain by itself has no height", "Row 1: ch 20\n", 20, 20, "sc", 100, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, piece := worked("Piece: Flat\nWorked: in rows\n"+c.text, gaugeOf(t, c.sts, c.rnds, c.stitch))
			s := sizeOf(t, p, piece)
			assert.True(t, s.Rows)
			assert.InDelta(t, c.width, s.Width, 1e-6)
			assert.InDelta(t, c.high, s.Height, 1e-6)
			assert.Zero(t, s.Diameter)
		})
	}
}

// TestRowsOfSeveralHeights: rounds that are repeated keep their own stitches.
func TestRowsOfSeveralHeights(t *testing.T) {
	dc := terms.ByID("dc").Tall / terms.ByID("sc").Tall
	for _, text := range []string{
		"Row 1: fsc 20 (20)\nRow 2: ch 3 (counts as dc), turn, dc in each st across (20)\nRow 3: ch 1, turn, sc across (20)\nRows 4-9: rep Rows 2-3\n",
		"Row 1: fsc 20 (20)\nRow 2: ch 3 (counts as dc), turn, dc in each st across (20)\nRow 3: ch 1, turn, sc across (20)\nRows 4-8: rep Rows 2-3\nRow 9: as Row 3\n",
	} {
		p, piece := worked("Piece: Striped\nWorked: in rows\n"+text, gaugeOf(t, 20, 20, "sc"))
		require.Empty(t, found(p))
		assert.InDelta(t, 5*5+4*5*dc, sizeOf(t, p, piece).Height, 1e-6)
	}
}

// TestSphereSizes holds the way around and the diameter of balls against
// testdata/sources/sphere-sizes.tsv: circumference = stitches times width,
// diameter = circumference / pi.
func TestSphereSizes(t *testing.T) {
	for _, row := range tsv(t, "sphere-sizes.tsv") {
		equator, sts := int(number(t, row["equator_sts"])), int32(number(t, row["sts_per_10cm"]))
		step := 6
		if equator%6 != 0 {
			step = 5
		}
		text := fmt.Sprintf("Piece: Ball\nWorked: in a spiral\nRnd 1: %d sc in magic ring\n", step)
		n := 1
		for ; n*step < equator; n++ {
			text += fmt.Sprintf("Rnd %d: inc %d evenly\n", n+1, step)
		}
		text += fmt.Sprintf("Rnds %d-%d: sc around (%d)\n", n+1, n+5, equator)
		p, piece := worked(text, gaugeOf(t, sts, 0, "sc"))
		require.Empty(t, found(p))
		s := sizeOf(t, p, piece)
		assert.InDelta(t, number(t, row["around_cm"]), s.Around/10, 0.006, "%v", row)
		assert.InDelta(t, number(t, row["diameter_cm"]), s.Diameter/10, 0.006, "%v", row)
		assert.Equal(t, row["under_4.44_cm"] == "yes", s.Diameter < 44.4, "the 44.4 mm hole of 16 CFR 1500.19(a)(2)")
	}
}

// TestBallOf300 sizes the common ball of 300 stitches (amigurumisfaciles.com/ball2,
// facts only) at the gauge of 22 sc by 24 rows over 4 in, of a leaflet.
func TestBallOf300(t *testing.T) {
	p, piece := source(t, "ball of 300 stitches", gaugeOf(t, 22, 24, "sc"))
	g, _ := p.StitchGauge(piece)
	sts := int64(0)
	for _, c := range g.by.courses(piece) {
		sts += c.sts * c.times
	}
	assert.EqualValues(t, 300, sts)

	empty := sizeOf(t, p, piece)
	around := 30 * 100.0 / 22
	assert.InDelta(t, around, empty.Around, 1e-9)
	assert.InDelta(t, around/math.Pi, empty.Diameter, 1e-9)
	assert.InDelta(t, 5*100/24.0, empty.Height, 0.5, "unstuffed, only the even rounds rise")

	piece.Lines = append(piece.Lines, &grammar.Line{Node: &grammar.Action{Verb: grammar.VerbStuff}})
	stuffed := sizeOf(t, p, piece)
	assert.True(t, stuffed.Stuffed)
	assert.InDelta(t, around/math.Pi, stuffed.Diameter, 1e-9)
	assert.Greater(t, stuffed.Height, 0.6*stuffed.Diameter, "stuffing rounds it")
	assert.LessOrEqual(t, stuffed.Height, 14*100/24.0, "no higher than its rounds are long")
}

// TestIdealSphere: stitches at the equator are twice the number of rounds where
// a stitch is square (tacomagic.wordpress.com 2011; the polar-angle argument of
// mspremiseconclusion.wordpress.com 2010), so that such a ball is as high as wide.
func TestIdealSphere(t *testing.T) {
	p, piece := source(t, "ideal sphere of ten rounds", gaugeOf(t, 20, 20, "sc"))
	piece.Lines = append(piece.Lines, &grammar.Line{Node: &grammar.Action{Verb: grammar.VerbStuff}})
	s := sizeOf(t, p, piece)
	assert.InDelta(t, 20*5/math.Pi, s.Diameter, 1e-6)
	assert.InEpsilon(t, s.Diameter, s.Height, 0.15, "ten rounds are coarse")

	const n = 60
	p, piece = byHand(t, n, func(i int) int64 { return int64(math.Round(2 * n * math.Sin((2*float64(i)-1)*math.Pi/(2*n)))) })
	piece.Rounds[0].Node.Steps, _ = grammar.ReadSteps("3 sc in magic ring")
	piece.Lines = append(piece.Lines, &grammar.Line{Node: &grammar.Action{Verb: grammar.VerbStuff}})
	s = sizeOf(t, p, piece)
	assert.InEpsilon(t, 2*n*5/math.Pi, s.Diameter, 0.01)
	assert.InEpsilon(t, s.Diameter, s.Height, 0.03)
	for _, l := range s.Profile {
		assert.InDelta(t, s.Diameter/2, math.Hypot(l.Radius, l.Height-s.Height/2), 0.05*s.Diameter, "every level lies on the sphere")
	}
}

// byHand makes a piece of n rounds in the round that no parser saw.
func byHand(t *testing.T, n int, sts func(i int) int64) (*Pattern, *Piece) {
	sc := &Stitch{Name: "sc", Of: terms.ByID("sc"), Takes: 1, Makes: 1}
	piece := &Piece{Name: "By hand", Mode: grammar.ModeSpiral, Main: sc}
	var below *Edge
	for i := 1; i <= n; i++ {
		out := &Edge{Items: []Item{{Kind: Stitches, Stitch: sc, N: sts(i)}}}
		piece.Rounds = append(piece.Rounds, &Round{Node: &grammar.Round{}, In: below, Out: out, Makes: sts(i), Known: true, RoundsWorked: 1})
		below = out
	}
	p := &Pattern{Pieces: []*Piece{piece}}
	p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, 20, 20, "sc")}
	return p, piece
}

// TestFlatCircles: the diameter of a flat circle is twice its rounds times their
// height, for the increases that craftymaria 2009, mkcarroll.com 2009 and
// ana-rosa give (facts only).
func TestFlatCircles(t *testing.T) {
	for title, c := range map[string]struct {
		stitch string
		rounds float64
	}{
		"flat circle, sc, 6 a round":                 {"sc", 12},
		"flat circle, sc, increases staggered":       {"sc", 6},
		"flat circle, hdc, 8 a round":                {"hdc", 8},
		"flat circle, dc, 12 a round, chain counted": {"dc", 6},
		"flat circle, dc, 12 a round, in a spiral":   {"dc", 6},
		"square, sc from 4":                          {"sc", 6},
		"square, dc with sides of 3, 7, 11, 15":      {"dc", 4},
		"granny square":                              {"dc", 5},
	} {
		t.Run(title, func(t *testing.T) {
			p, piece := source(t, title, gaugeOf(t, 20, 0, c.stitch))
			s := sizeOf(t, p, piece)
			g := s.Gauge
			assert.InDelta(t, 2*c.rounds*g.Height, s.Diameter, 1e-6)
			assert.True(t, s.Disc)
			assert.Zero(t, s.Height)
			assert.Len(t, s.Profile, int(c.rounds)+1)
		})
	}
}

// TestOvals: round 1 round a chain of N has 2N stitches, three at each end, so
// that its straight sides are N - 3 (esbelotta 2012, krazykabbage.com,
// offthehookcrochetdesign.com; facts only).
func TestOvals(t *testing.T) {
	for n, title := range map[int]string{5: "oval on ch 5", 6: "oval on ch 6", 7: "oval on ch 7", 12: "oval on ch 12"} {
		p, piece := source(t, title, gaugeOf(t, 20, 0, "sc"))
		s := sizeOf(t, p, piece)
		assert.InDelta(t, float64(n-3)*5, s.Straight, 1e-9, title)
		assert.InDelta(t, s.Straight, s.Width-s.Diameter, 1e-9, title)
		rounds := float64(len(piece.Rounds))
		assert.InDelta(t, 2*rounds*s.Gauge.Height, s.Diameter, 1e-6, title)
		assert.True(t, s.Disc, title)
	}
}

// TestInTheRound sizes shapes whose sizes follow from plain geometry.
func TestInTheRound(t *testing.T) {
	const w = 5.0 // 20 stitches by 20 rounds over 100 mm
	for _, c := range []struct {
		name, text             string
		diameter, high, around float64
	}{
		{"a tube on a ring of chains", "Rnd 1: ch 40, join with sl st to form ring; sc in each ch around (40)\nRnds 2-20: sc around (40)\n", 40 * w / math.Pi, 100, 200},
		{"a tube on a chain of its own line", "Rnd 1: ch 40, join with sl st to form ring\nRnd 2: sc in each ch around (40)\nRnds 3-21: sc around (40)\n", 40 * w / math.Pi, 100, 200},
		{"a tube on foundation stitches", "Rnd 1: fsc 40, join (40)\nRnds 2-20: sc around (40)\n", 40 * w / math.Pi, 100, 200},
		{"a cone: 3 more each round", "Rnd 1: 3 sc in magic ring (3)\nRnds 2-20: inc 3 evenly (60)\n",
			60 * w / math.Pi, 20 * math.Sqrt(w*w-math.Pow(3*w/(2*math.Pi), 2)), 300},
		{"a long range costs no more than a short one", "Rnd 1: fsc 40, join (40)\nRnds 2-2000001: sc around (40)\n", 40 * w / math.Pi, 5 * 2000001, 200},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, piece := worked("Piece: Round\nWorked: in a spiral\n"+c.text, gaugeOf(t, 20, 20, "sc"))
			require.Empty(t, found(p))
			s := sizeOf(t, p, piece)
			assert.False(t, s.Rows || s.Disc)
			assert.InDelta(t, c.diameter, s.Diameter, 1e-6)
			assert.InDelta(t, c.high, s.Height, 1e-6*c.high)
			assert.InDelta(t, c.around, s.Around, 1e-6)
			assert.Less(t, len(s.Profile), 100)
		})
	}
}

// TestPieceWorkedOnOthers: a body worked round two legs begins as wide as they are.
func TestPieceWorkedOnOthers(t *testing.T) {
	p := Work(grammar.Parse("Terms: US\nPiece: Leg (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnds 3-8: sc around (12)\n" +
		"Piece: Body\nRnd 1: sc around Leg, sc around Leg (24)\nRnds 2-5: sc around (24)\n"))
	p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, 20, 20, "sc")}
	require.Empty(t, found(p))
	s := sizeOf(t, p, p.Pieces[1])
	assert.InDelta(t, 24*5/math.Pi, s.Diameter, 1e-9)
	assert.InDelta(t, 25, s.Height, 1e-9)
}

// TestMixed: a piece is measured as what most of it is.
func TestMixed(t *testing.T) {
	for _, c := range []struct {
		name, text                 string
		width, high, around, along float64
	}{
		{"a flap on a tube", "Worked: in joined rounds\nRnd 1: fsc 40, join (40)\nRnds 2-20: sc around, join (40)\nRow 21: sc in next 10 sts, leave remaining 30 sts unworked (10)\nRows 22-30: ch 1, turn, sc across (10)\n",
			200 / math.Pi, 100, 200, 100},
		{"an edging on a square", "Row 1: fsc 18 (18)\nRows 2-18: ch 1, turn, sc across (18)\nRnd 19: ch 1, sc across, 18 sc in row ends, 18 sc in free loops of Row 1, 18 sc in row ends\n",
			100, 100, 0, 0},
		{"rounds that are labelled rows", "Worked: in joined rounds\nRow 1: fsc 40, join (40)\nRows 2-20: sc around, join (40)\n", 200 / math.Pi, 100, 200, 100},
		{"rows that are labelled rounds", "Worked: in rows\nR1: fsc 20 (20)\nR2-20: ch 1, turn, sc across (20)\n", 100, 100, 0, 0},
		{"two straps stand side by side", "Row 1: fsc 20 (20)\nRows 2-10: ch 1, turn, sc across (20)\nRow 11: ch 1, turn, sc 5, leave remaining 15 sts unworked (5)\nRows 12-20: ch 1, turn, sc across (5)\n" +
			"Row 21: sc in next 5 unworked sts of Row 10 (5)\n", 100, 100, 0, 0},
		{"a frill on the free loops of a tube", "Worked: in a spiral\nRnd 1: fsc 40, join (40)\nRnds 2-19: sc around (40)\nRnd 20: BLO sc around (40)\nRnd 21: 2 sc in each free loop of Rnd 19 (80)\n",
			200/math.Pi + 10, 100, 400, 100},
		{"a hat, whose crown lies flat", "Worked: in a spiral\nRnd 1: fsc 48, join (48)\nRnds 2-10: sc around (48)\nRnd 11: (sc 4, dec) x 8 (40)\nRnd 12: (sc 3, dec) x 8 (32)\nRnd 13: (sc 2, dec) x 8 (24)\nRnd 14: (sc, dec) x 8 (16)\nRnd 15: dec x 8 (8)\n",
			240 / math.Pi, 50, 240, 75},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, piece := worked("Piece: Mixed\n"+c.text, gaugeOf(t, 20, 20, "sc"))
			s := sizeOf(t, p, piece)
			assert.InDelta(t, c.width, s.Width, 1e-6, "width")
			assert.InDelta(t, c.high, s.Height, 1e-6, "height")
			assert.InDelta(t, c.around, s.Around, 1e-6, "around")
			assert.InDelta(t, c.along, s.Along, 1e-6, "along")
		})
	}
}

// TestArches: a loop of chains stands up as a half circle of its length.
func TestArches(t *testing.T) {
	p, piece := worked("Piece: Lace\nWorked: in rows\nRow 1: fsc 21 (21)\nRow 2: ch 1, turn, sc in next st, (ch 8, sk 4, sc in next st) x 4 (5 sc, 4 ch-8 sps)\n", gaugeOf(t, 20, 20, "sc"))
	s := sizeOf(t, p, piece)
	loops := 4 * 8 * 2 / math.Pi
	high := 5 + 8/math.Pi*5*loops/(loops+5)
	assert.InDelta(t, 5+high, s.Height, 1e-6)
	assert.InDelta(t, (loops+5)*5, s.Width, 1e-6)
}

// TestMeant: where words and total differ, the size goes by what was meant.
func TestMeant(t *testing.T) {
	p, piece := worked("Piece: Round\nWorked: in a spiral\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\n"+
		"Rnd 5: (sc 2, inc) x 6 (30)\nRnd 6: (sc 4, inc) x 6 (36)\n", gaugeOf(t, 20, 20, "sc"))
	require.NotEmpty(t, found(p))
	assert.InDelta(t, 36*5, sizeOf(t, p, piece).Around, 1e-9)
}

// TestUnknownRounds: a round that nobody can count is like the one below; one
// that states its total is as long as that.
func TestUnknownRounds(t *testing.T) {
	p, piece := worked("Piece: Round\nWorked: in a spiral\nRnd 1: 24 sc in magic ring (24)\nRnd 2: frobnicate around\nRnd 3: frobnicate around (30)\n", gaugeOf(t, 20, 20, "sc"))
	s := sizeOf(t, p, piece)
	assert.EqualValues(t, 1, s.Unsure)
	assert.InDelta(t, 150, s.Around, 1e-9)
}

// TestMadeByHand sizes rounds that no parser saw: of a range only the edge
// below and the last edge are known, and the rounds between are drawn evenly.
func TestMadeByHand(t *testing.T) {
	p, piece := byHand(t, 2, func(i int) int64 { return []int64{10, 40}[i-1] })
	piece.Rounds[1].RoundsWorked = 10
	s := sizeOf(t, p, piece)
	assert.InDelta(t, 200, s.Around, 1e-9)
	rise := math.Sqrt(25 - math.Pow(3*5/(2*math.Pi), 2))
	assert.InDelta(t, 5+10*rise, s.Height, 1e-6)
	least, most, ok := Bounds(p)
	assert.True(t, ok)
	assert.Equal(t, least, most, "one piece is all there is")
}

// absurd are headers and rounds that no maker writes; every number that comes
// of them has to be one.
var absurd = []struct {
	gauge grammar.Gauge
	text  string
}{
	{grammar.Gauge{}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: -4}, Rnds: grammar.Count{N: -4}, Over: grammar.Length{MM: 100}, Down: grammar.Length{MM: 100}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: 20}, Over: grammar.Length{MM: math.Inf(1)}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: 20}, Over: grammar.Length{MM: math.NaN()}, Rnds: grammar.Count{N: 20}, Down: grammar.Length{MM: 100}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: 20}, Over: grammar.Length{MM: -100}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: math.MaxInt32}, Over: grammar.Length{MM: 1e300}, Uses: grammar.Length{MM: 1e300}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{grammar.Gauge{Sts: grammar.Count{N: 1}, Rnds: grammar.Count{N: math.MaxInt32}, Over: grammar.Length{MM: 1e5}, Down: grammar.Length{MM: 1e-30}, Uses: grammar.Length{MM: 1e8}}, "Rnd 1: 6 sc in magic ring (6)\n"},
	{fine, "Rnd 1: 0 sc in magic ring (0)\nRnd 2: sc around (0)\n"},
	{fine, "Rnd 1: sc around\n"},
	{fine, "Rnd 1: 6 sc in magic ring (6)\nRnds 2-999999999: sc around (6)\n"},
	{fine, "Rnd 1: 6 sc in magic ring (6)\nRnds 2-999999: inc in each st around\n"},
	{fine, "Rnd 1: 6 sc in magic ring (6)\nRnds 2-40: inc in each st around\n"},
	{fine, "Rnd 1: 999999999 sc in magic ring\nRnd 2: dec x 499999999\n"},
	{fine, "Rnd 1: ch 999999999, join with sl st to form ring\nRnd 2: 3 sc in ring\n"},
	{fine, "Rnd 1: ch 0\nRnd 2: sc in 2nd ch from hook\n"},
	{fine, "Rnd 1: (((sc, inc) x 999999999) x 999999999) x 999999999\n"},
	{fine, "Rnds 9-2: sc around\nRnds 3-900: rep Rnds 1-2\n"},
	{fine, "Rnd 1: ch 3, sc in 99th ch from hook; working along other side of ch, sc in next 7 ch\n"},
	{fine, "Row 1: ch 1000000000\nRow 2: leave remaining sts unworked\n"},
	{fine, "Rnd 1:\nRnd 2: )(\n"},
	{fine, ""},
}

var fine = grammar.Gauge{Sts: grammar.Count{N: 20}, Rnds: grammar.Count{N: 20}, Over: grammar.Length{MM: 100}, Down: grammar.Length{MM: 100}}

func TestAbsurd(t *testing.T) {
	for i, c := range absurd {
		for _, mode := range []string{"in a spiral", "in rows"} {
			for _, verb := range []grammar.Verb{grammar.VerbStuff, grammar.VerbClose} {
				p := Work(grammar.Parse("Terms: US\nPiece: Odd\nWorked: " + mode + "\n" + c.text))
				gauge := c.gauge
				p.Header.Gauges = []*grammar.Gauge{&gauge}
				piece := p.Pieces[0]
				piece.Make = math.MaxInt32
				piece.Lines = append(piece.Lines, &grammar.Line{Node: &grammar.Action{Verb: verb}})
				assert.Empty(t, notNumbers(p), "case %d %s", i, mode)
			}
		}
	}
}

// notNumbers lists what of size, yarn and shape is no number that can be measured.
func notNumbers(p *Pattern) []string {
	var out []string
	is := func(what string, n float64) {
		if math.IsNaN(n) || math.IsInf(n, 0) || n < 0 {
			out = append(out, fmt.Sprint(what, " ", n))
		}
	}
	for _, piece := range p.Pieces {
		s, _ := SizeOf(p, piece)
		for _, n := range []float64{s.Width, s.Height, s.Diameter, s.Around, s.Along, s.Straight} {
			is("size of "+piece.Name, n)
		}
		for _, l := range s.Profile {
			is("radius", l.Radius)
			is("level", l.Height)
		}
		for _, c := range Curvatures(p, piece) {
			is("ratio", math.Abs(c.Ratio))
			is("room", c.Room)
		}
		for _, r := range Ruffled(p, piece) {
			is("radius", r.Radius)
		}
	}
	for _, u := range YarnFor(p) {
		is("yarn", u.Low)
		is("yarn", u.High-u.Low)
	}
	least, most, _ := Bounds(p)
	is("bounds", most-least)
	return out
}

// everyText is each demo and each source under a header with a gauge.
func everyText(t testing.TB) []string {
	var out []string
	for _, pattern := range []string{"../testdata/patterns/*.crochet", "../testdata/sources/*.txt", "../testdata/cases/pieces.txt"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, part := range strings.Split(string(data), "\n== ") {
				if !strings.Contains(part, "Gauge:") {
					part = "Terms: US\nGauge: 20 sts x 22 rnds = 10 cm in sc\n" + part
				}
				out = append(out, part)
			}
		}
	}
	return out
}

// TestEveryText: whatever is published has a size and takes yarn.
func TestEveryText(t *testing.T) {
	for _, text := range everyText(t) {
		p := Work(grammar.Parse(text))
		assert.Empty(t, notNumbers(p), text)
		for _, piece := range p.Pieces {
			if r := piece.Last(); r != nil && r.Known {
				assert.Greater(t, sizeOf(t, p, piece).Longest(), 5.0, text)
				require.NotEmpty(t, YarnOf(p, piece), text)
			}
		}
	}
}

func FuzzSize(f *testing.F) {
	for _, text := range everyText(f) {
		f.Add(text)
	}
	for _, c := range absurd {
		f.Add("Gauge: 20 sts x 20 rnds = 10 cm in sc, uses 9 m\nPiece: Odd\n" + c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if wrong := notNumbers(Work(grammar.Parse(text))); len(wrong) > 0 {
			t.Error(wrong)
		}
	})
}

// TestDemos: the demos are our own, so that only their own words can be held
// against the reckoning: what their Size lines state, which was reckoned apart
// from this code.
func TestDemos(t *testing.T) {
	for file, c := range map[string]struct {
		piece string
		of    func(Size) float64
	}{
		"bag":  {"Bag", func(s Size) float64 { return s.Around / 2 }},
		"hat":  {"Hat", func(s Size) float64 { return s.Around }},
		"lace": {"Motif", func(s Size) float64 { return s.Diameter }},
	} {
		data, err := os.ReadFile("../testdata/patterns/" + file + ".crochet")
		require.NoError(t, err)
		p := Work(grammar.Parse(string(data)))
		s := sizeOf(t, p, p.Named(c.piece))
		assert.InEpsilon(t, p.Header.Sizes[0].Dims[0].MM, c.of(s), 0.05, file)
		assert.False(t, s.Gauge.Scaled, "%s has a gauge in its own stitch", file)
	}
}
