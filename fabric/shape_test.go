package fabric

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// TestHyperbolicRadius holds the radius against the table of
// testdata/sources/hyperbolic-radius.tsv, R = h / ln((N + 1) / N), and against
// two figures beside it: about (N + ½) h, and 4.2 cm for one increase every 12
// with rows of a third of a centimetre, where a class page on Henderson and
// Taimina's crochet shows about 4.
func TestHyperbolicRadius(t *testing.T) {
	for _, row := range tsv(t, "hyperbolic-radius.tsv") {
		n := number(t, row["every"])
		assert.InDelta(t, number(t, row["radius_over_row_height"]), HyperbolicRadius(n, 1), 5e-5)
		assert.InDelta(t, n+0.5, HyperbolicRadius(n, 1), 0.06)
	}
	assert.InDelta(t, 42, HyperbolicRadius(12, 10.0/3), 0.5)
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Zero(t, HyperbolicRadius(x, 5))
		assert.Zero(t, HyperbolicRadius(5, x))
	}
}

// TestFlatIncreases: which numbers of stitches, begun with and added in each
// round, makers say lie flat, by the glossary's proportions. From craftymaria
// 2009, mkcarroll.com 2009 (8 sc ruffles) and ana-rosa, facts only; 16 for tr
// is from memory.
func TestFlatIncreases(t *testing.T) {
	for _, c := range []struct {
		stitch string
		every  int
		want   Curve
	}{
		{"sc", 4, Cups},
		{"sc", 6, Flat}, {"sc", 7, Flat},
		{"sc", 8, Ruffles}, {"sc", 12, Ruffles},
		{"hdc", 6, Cups},
		{"hdc", 8, Flat}, {"hdc", 10, Flat},
		{"hdc", 12, Ruffles},
		{"dc", 6, Cups},
		{"dc", 10, Flat}, {"dc", 12, Flat},
		{"dc", 16, Ruffles},
		{"tr", 8, Cups},
		{"tr", 12, Flat}, {"tr", 14, Flat}, {"tr", 16, Flat},
	} {
		text := fmt.Sprintf("Piece: Circle\nWorked: in a spiral\nRnd 1: %d %s in magic ring\nRnds 2-6: %s inc %d evenly\n", c.every, c.stitch, c.stitch, c.every)
		p, piece := worked(text)
		require.Empty(t, found(p))
		for _, r := range piece.Rounds {
			got, ratio := Verdict(p, piece, r)
			assert.Equal(t, c.want, got, "%d %s, %s: %.2f", c.every, c.stitch, r.Name(), ratio)
			want := float64(c.every) / (2 * math.Pi * terms.ByID(c.stitch).Tall)
			assert.InDelta(t, want, ratio, 1e-9)
		}
		assert.Equal(t, c.want == Ruffles, len(Ruffled(p, piece)) == 1)
	}
}

// TestMeasuredFlatness: with a gauge the bounds are 0.8 and 1.2 of what lies
// flat at it: 2 pi times the height of a stitch over its width.
func TestMeasuredFlatness(t *testing.T) {
	for _, c := range []struct {
		sts, rnds int32
		every     int
		want      Curve
	}{
		{20, 20, 5, Cups}, // 5 / 6.28 = 0.796
		{20, 20, 6, Flat},
		{20, 20, 7, Flat},    // 1.114
		{20, 20, 8, Ruffles}, // 1.273
		{22, 24, 6, Flat},    // a leaflet's gauge: 6 / 5.76 = 1.04
		{20, 26, 6, Ruffles}, // 1.24
		{20, 12, 8, Cups},    // 0.764
	} {
		p, piece := worked(fmt.Sprintf("Piece: Circle\nWorked: in a spiral\nRnd 1: %d sc in magic ring\nRnds 2-6: inc %d evenly\n", c.every, c.every), gaugeOf(t, c.sts, c.rnds, "sc"))
		got, ratio := Verdict(p, piece, piece.Last())
		assert.Equal(t, c.want, got, "%+v: %.3f", c, ratio)
	}
}

// TestPublishedShapes: what the sources call flat is nowhere found to ruffle,
// and their hyperbolic surfaces are. So is the button of 1918, which is drawn
// over a mould: it grows by 8 sc, which mkcarroll.com 2009 says ruffles.
func TestPublishedShapes(t *testing.T) {
	ruffled := map[string]bool{
		"doubling surface":                        true,
		"doubling surface, as published":          true,
		"hyperbolic, one increase every 4":        true,
		"hyperbolic, one increase every 2":        true,
		"hyperbolic, an increase in every stitch": true,
		"1918 button":                             true,
		"pseudosphere, one increase every 3":      true,
	}
	seen := 0
	for _, b := range blocks(t, "../testdata/sources/*.txt") {
		switch b.file {
		case "circles-ovals-squares.txt", "ball-and-sphere.txt", "hyperbolic.txt", "handbook-1918.txt":
		default:
			continue
		}
		p, piece := worked(b.text)
		got := Ruffled(p, piece)
		if ruffled[b.title] {
			seen++
			assert.NotEmpty(t, got, b.title)
		} else {
			assert.Empty(t, got, b.title)
		}
	}
	assert.Equal(t, len(ruffled), seen)
}

// TestRuffleRadius: a surface that grows by a constant part is a hyperbolic
// plane of the radius that the table gives for it.
func TestRuffleRadius(t *testing.T) {
	for every, title := range map[float64]string{1: "hyperbolic, an increase in every stitch", 2: "hyperbolic, one increase every 2"} {
		p, piece := source(t, title, gaugeOf(t, 20, 20, "sc"))
		r := Ruffled(p, piece)
		require.Len(t, r, 1, title)
		assert.InEpsilon(t, HyperbolicRadius(every, 5), r[0].Radius, 0.01, title)
		assert.False(t, r[0].Doubles, "to double is not to more than double")
		assert.Same(t, piece.Last(), r[0].To)
	}
}

func TestCurves(t *testing.T) {
	const head = "Worked: in a spiral\nRnd 1: 6 sc in magic ring\nRnd 2: inc in each st around\n"
	for _, c := range []struct {
		name, text string
		want       []Curve
		ruffles    int
	}{
		{"ball", head + "Rnds 3-6: sc around\nRnd 7: dec x 6\n", []Curve{Flat, Flat, Tube, Cups}, 0},
		{"one wide round is no ruffle", head + "Rnd 3: sc around\nRnd 4: inc in each st around\nRnd 5: sc around\n", []Curve{Flat, Flat, Tube, Ruffles, Tube}, 0},
		{"a round that more than doubles", head + "Rnd 3: 3 sc in each st around\nRnd 4: sc around\n", []Curve{Flat, Flat, Ruffles, Tube}, 1},
		{"two wide rounds", head + "Rnd 3: inc in each st around\nRnd 4: inc in each st around\n", []Curve{Flat, Flat, Ruffles, Ruffles}, 1},
		{"lace is not judged", "Worked: in a spiral\nRnd 1: 6 sc in magic ring\nRnd 2: (sc, ch 7) x 6\nRnd 3: 20 sc in each ch-7 sp around\n", []Curve{Flat, Unjudged, Unjudged}, 0},
		{"a round nobody can count", head + "Rnd 3: frobnicate around\nRnd 4: sc around (60)\n", []Curve{Flat, Flat, Unjudged, Unjudged}, 0},
		{"rows may widen at their ends", "Worked: in rows\nRow 1: fsc 3 (3)\nRow 2: ch 1, turn, inc, sc, inc (5)\nRow 3: ch 1, turn, inc, sc 3, inc (7)\n", []Curve{Unjudged, Flat, Flat}, 0},
		{"a frill along free loops is judged by them", head + "Rnd 3: BLO sc around (12)\nRnd 4: 3 sc in each free loop of Rnd 2 (36)\n", []Curve{Flat, Flat, Tube, Ruffles}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, piece := worked("Piece: P\n" + c.text)
			var got []Curve
			for _, x := range Curvatures(p, piece) {
				got = append(got, x.Curve)
				curve, ratio := Verdict(p, piece, x.Round)
				assert.Equal(t, x.Curve, curve)
				assert.Equal(t, x.Ratio, ratio)
			}
			assert.Equal(t, c.want, got)
			assert.Len(t, Ruffled(p, piece), c.ruffles)
		})
	}
	p, piece := worked("Piece: P\nRnd 1: 6 sc in magic ring\n")
	curve, _ := Verdict(p, piece, &Round{Node: &grammar.Round{}})
	assert.Equal(t, Unjudged, curve, "a round of another piece")
}

// TestBulge: a quarter circle is as high as it is wide, and what is longer goes
// on as a tube; a quarter ellipse is held against its length by Simpson's rule.
func TestBulge(t *testing.T) {
	assert.InDelta(t, 10, bulge(10*math.Pi/2, 10), 1e-9)
	assert.InDelta(t, 15, bulge(10*math.Pi/2+5, 10), 1e-9)
	assert.Zero(t, bulge(10, 10), "no longer than it is wide, it lies flat")
	assert.InDelta(t, 7, bulge(7, 0), 1e-9)
	for _, b := range []float64{1, 3, 6, 9} {
		length, n := 0.0, 1000
		f := func(k int) float64 {
			a := float64(k) * math.Pi / 2 / float64(n)
			return math.Hypot(10*math.Cos(a), b*math.Sin(a))
		}
		for k := 0; k < n; k += 2 {
			length += (f(k) + 4*f(k+1) + f(k+2)) * math.Pi / 6 / float64(n)
		}
		assert.InDelta(t, b, bulge(length, 10), 0.15)
		q := quarter{length, 10, b}
		r, z := q.at(length)
		assert.InDelta(t, 10, r, 1e-6)
		assert.InDelta(t, b, z, 1e-6)
	}
}
