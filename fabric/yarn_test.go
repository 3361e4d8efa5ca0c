package fabric

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// used is the mean metres without tails of each yarn, by key.
func used(p *Pattern) map[string]float64 {
	out := map[string]float64{}
	for _, u := range YarnFor(p) {
		out[u.Key] = u.Mean / (1 + tails)
	}
	return out
}

const inch = 25.4

// TestStrips holds the yarn of a strip of one row against what one maker
// measured (windchilde.com, 5 mm hook, worsted): 10.6, 15.7 and 20.4 in of yarn
// for each inch in sc, hdc and dc, without the foundation.
func TestStrips(t *testing.T) {
	for stitch, inches := range map[string]float64{"sc": 10.6, "hdc": 15.7, "dc": 20.4} {
		p, _ := worked("Piece: Strip\nWorked: in a spiral\nRnd 1: 100 "+stitch+" in ring\n", gaugeOf(t, 14, 0, stitch))
		long := 100 * 100.0 / 14 / inch
		assert.InEpsilon(t, inches, used(p)[""]*1000/inch/long, 0.005, stitch)
	}
}

// TestPerArea: the same maker's fabrics took 31.42, 32.08 and 31.60 in of yarn a
// square inch, within 2 in the hundred of each other, and thesnugglery.net found
// tall stitches to take a sixth less. Ratios from two other sources cannot come
// out so close, but the yarn of an area must not follow the height.
func TestPerArea(t *testing.T) {
	sc := terms.ByID("sc")
	for _, id := range []string{"hdc", "dc", "tr"} {
		s := terms.ByID(id)
		assert.InDelta(t, 1, s.Yarn/s.Tall/(sc.Yarn/sc.Tall), 0.2, id)
	}
}

// TestSwatch: a piece that is the swatch takes the swatch's yarn, and one of
// twice the area twice as much, whatever the stitch.
func TestSwatch(t *testing.T) {
	for _, stitch := range []string{"sc", "hdc", "dc"} {
		g := gaugeOf(t, 20, 10, stitch)
		g.Uses.MM = 9500
		for copies, want := range map[string]float64{"": 9.5, " (make 2)": 19} {
			p, piece := worked("Piece: Swatch"+copies+"\nWorked: in a spiral\nRnd 1: 20 "+stitch+" in ring (20)\nRnds 2-10: "+stitch+" around (20)\n", g)
			require.Empty(t, found(p))
			u := YarnFor(p)
			require.Len(t, u, 1)
			assert.True(t, u[0].Measured)
			assert.InDelta(t, want, u[0].Mean/(1+tails), 1e-9)
			assert.InDelta(t, u[0].Mean*0.9, u[0].Low, 1e-9, "10 in the hundred for a measured swatch")
			assert.InDelta(t, u[0].Mean*1.1, u[0].High, 1e-9)
			require.Len(t, u[0].Pieces, 1)
			assert.Same(t, piece, u[0].Pieces[0].Piece)
			assert.InDelta(t, u[0].Mean, u[0].Pieces[0].Metres, 1e-9)
			assert.Equal(t, u, YarnOf(p, piece))
		}
		// rows unsaid: as many as the glossary's height gives
		half := gaugeOf(t, 20, 0, stitch)
		half.Uses.MM = 9500
		p, _ := worked("Piece: Round\nRnd 1: 20 "+stitch+" in ring (20)\n", half)
		assert.InDelta(t, 9.5*terms.ByID(stitch).Tall*5/100, used(p)[""], 1e-9, stitch)
	}
}

// TestBall300Yarn: 300 sc at the strips' 10.6 widths each. (Six rounds of
// decreases take a little more than their stitches: by the glossary, 1.6 of a
// single crochet for two together.)
func TestBall300Yarn(t *testing.T) {
	p, _ := source(t, "ball of 300 stitches", gaugeOf(t, 22, 24, "sc"))
	u := YarnFor(p)
	require.Len(t, u, 1)
	assert.InDelta(t, 0.15, u[0].Spread, 1e-9)
	units := 300 + 24*0.6 + terms.ByID("magic ring").Yarn
	assert.InEpsilon(t, units*10.6*100/22/1000, u[0].Mean/(1+tails), 1e-9)
}

func TestNoGauge(t *testing.T) {
	p, piece := worked("Piece: Round\nRnd 1: 6 sc in magic ring (6)\n")
	assert.Empty(t, YarnFor(p))
	_, ok := SizeOf(p, piece)
	assert.False(t, ok)
	_, _, ok = Bounds(p)
	assert.False(t, ok)
}

// TestStitchYarn: what a step takes, in single crochets, by the glossary.
func TestStitchYarn(t *testing.T) {
	yarn := func(id string) float64 { return terms.ByID(id).Yarn }
	for _, c := range []struct {
		steps string
		made  int64
		want  float64
	}{
		{"sc 10", 10, 10},
		{"2 sc in each of next 5 sts", 10, 10},
		{"sc around", 10, 10},
		{"sc in each st around", 10, 10},
		{"work even", 10, 10},
		{"inc 5", 10, 10},
		{"hdc inc 5", 10, 10 * yarn("hdc")},
		{"sc2tog 10", 10, 10 * yarn("sc2tog")},
		{"dec x 10", 10, 10 * yarn("sc2tog")},
		{"dc3tog x 4", 4, 4 * yarn("dc3tog")},
		{"dc7tog x 2", 2, 2 * 7 * yarn("dc") * 0.8},
		{"inc 4 evenly", 24, 24},
		{"dec 4 evenly", 20, 16 + 4*yarn("sc2tog")},
		{"ch 3, dc 9", 10, 3*yarn("ch") + 10*yarn("dc")},
		{"(dc, ch 1, sk 1) x 10", 10, 10 * (yarn("dc") + yarn("ch"))},
		{"*dc, ch 1, sk 1; rep from * around", 10, 10 * (yarn("dc") + yarn("ch"))},
		{"*dc, ch 1, sk 1; rep from * 9 more times", 10, 10 * (yarn("dc") + yarn("ch"))},
		{"sc 4, (dc, ch 1, sk 1) around", 10, 4 + 6*(yarn("dc")+yarn("ch"))},
		{"(2 dc, ch 2, 2 dc) in each ch-2 sp around", 16, 4 * (4*yarn("dc") + 2*yarn("ch"))},
		{"(bob, sc) x 5", 10, 5 * (yarn("bob") + 1)},
		{"5 dc tog in next st", 1, yarn("bob")},
		{"shell x 2", 10, 10 * yarn("dc")},
		{"V-st x 5", 10, 5 * yarn("V-st")},
		{"6 sc in magic ring", 6, 6 + yarn("magic ring")},
		{"sc around, join with sl st to first sc", 10, 10 + yarn("sl st")},
		{"(sc 3, picot) x 2", 6, 6 + 2*yarn("picot")},
		{"frobnicate", 10, 10},
	} {
		steps, _ := grammar.ReadSteps(c.steps)
		p := Work(grammar.Parse("Terms: US\n"))
		k := p.reckoner(&Piece{})
		got := k.spin(course{steps: steps, sts: c.made}, nil, nil)
		if c.steps == "ch 3, dc 9" { // the chain counts, so that nine dc make ten
			c.want = (3*yarn("ch") + 9*yarn("dc")) * 10 / 9
		}
		assert.InEpsilon(t, c.want, got.units(), 1e-9, c.steps)
	}
}

// TestOwnStitch: a bobble that the pattern defines is what the glossary has.
func TestOwnStitch(t *testing.T) {
	p, piece := worked("Stitch: knob = 5 dc tog in one st\nPiece: Round\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (knob, sc) x 3 (6)\n", gaugeOf(t, 20, 20, "sc"))
	require.Empty(t, found(p))
	k := p.reckoner(piece)
	knob := p.Own[0].Stitch
	assert.InDelta(t, terms.ByID("bob").Yarn, k.yarn(knob), 1e-9)
	assert.InDelta(t, terms.ByID("dc").Tall, k.tall(knob), 1e-9)
	p, piece = worked("Stitch: loopy = 2 loopy in one st\nPiece: Round\nRnd 1: 6 sc in magic ring (6)\nRnd 2: loopy x 6\n", gaugeOf(t, 20, 20, "sc"))
	assert.Positive(t, p.reckoner(piece).yarn(p.Own[0].Stitch), "a stitch of itself does not go round for ever")
}

const twoYarns = "Yarn A: fern, light (3), 50 g / 125 m\nYarn B: oat, light (3), 50 g / 125 m, 2 balls\n"

// TestYarns: which yarn is used where. Widths are 5 mm, so a single crochet
// takes 53 mm; counts are in single crochets.
func TestYarns(t *testing.T) {
	ring := terms.ByID("magic ring").Yarn
	for _, c := range []struct {
		name, text string
		want       map[string]float64
		shared     bool
	}{
		{"with", "Piece: P\nWith: B\nRnd 1: 6 sc in magic ring (6)\n", map[string]float64{"B": 6 + ring}, false},
		{"two pieces", "Piece: P\nWith: B\nRnd 1: 6 sc in magic ring (6)\nPiece: Q (make 3)\nWith: A\nRnd 1: 5 sc in magic ring (5)\n", map[string]float64{"A": 3 * (5 + ring), "B": 6 + ring}, false},
		{"change in a round", "Piece: P\nWith: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc 2, with B, inc 4 (12)\nRnd 3: sc around (12)\n", map[string]float64{"A": 6 + ring + 4, "B": 8 + 12}, false},
		{"change between rounds", "Piece: P\nWith: A\nRnd 1: 6 sc in magic ring (6)\nChange to B.\nRnd 2: inc in each st around (12)\n", map[string]float64{"A": 6 + ring, "B": 12}, false},
		{"colours over a repeat around", "Piece: P\nWith: A\nRnd 1: 12 sc in ring (12)\nRnd 2: (with A, sc 2, with B, sc) around (12)\nRnd 3: sc around (12)\n", map[string]float64{"A": 20, "B": 4 + 12}, false},
		{"rest of the round", "Piece: P\nWith: A\nRnd 1: 12 sc in ring (12)\nRnd 2: sc 2, with B, sc around (12)\n", map[string]float64{"A": 14, "B": 10}, false},
		{"a range that changes", "Piece: P\nWith: A\nRnd 1: 12 sc in ring (12)\nRnds 2-4: sc 6, change to B, sc 6 (12)\n", map[string]float64{"A": 12 + 6, "B": 30}, false},
		{"two named, first first", "Piece: P\nWith: A, B\nRnd 1: 12 sc in ring (12)\nRnd 2: with B, sc around (12)\n", map[string]float64{"A": 12, "B": 12}, false},
		{"two named, no change", "Piece: P\nWith: A, B\nRnd 1: 12 sc in ring (12)\n", map[string]float64{"A": 6, "B": 6}, true},
		{"none named", "Piece: P\nRnd 1: 12 sc in ring (12)\n", map[string]float64{"A": 6, "B": 6}, true},
		{"undeclared", "Piece: P\nWith: C\nRnd 1: 12 sc in ring (12)\n", map[string]float64{"C": 12}, false},
		{"by its name", "Piece: P\nWith: oat\nRnd 1: 12 sc in ring (12)\n", map[string]float64{"B": 12}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Work(grammar.Parse("Terms: US\n" + twoYarns + c.text))
			require.Empty(t, found(p))
			p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, 20, 20, "sc")}
			got := used(p)
			assert.Len(t, got, len(c.want))
			for key, want := range c.want {
				assert.InDelta(t, want*0.053, got[key], 1e-9, key)
			}
			for _, u := range YarnFor(p) {
				assert.Equal(t, c.shared, u.Shared, u.Key)
				sum := 0.0
				for _, x := range u.Pieces {
					sum += x.Metres
				}
				assert.InDelta(t, u.Mean, sum, 1e-9)
			}
		})
	}
}

func TestListedYarn(t *testing.T) {
	p := Work(grammar.Parse("Terms: US\n" + twoYarns + "Piece: P\nRnd 1: 12 sc in ring (12)\n"))
	p.Header.Gauges = []*grammar.Gauge{gaugeOf(t, 20, 20, "sc")}
	u := YarnFor(p)
	require.Len(t, u, 2)
	for i, want := range []float64{125, 250} {
		listed, ok := u[i].Listed()
		assert.True(t, ok)
		assert.InDelta(t, want, listed, 1e-9)
		grams, ok := u[i].Grams(25)
		assert.True(t, ok)
		assert.InDelta(t, 10, grams, 1e-9)
	}
	_, ok := YarnUse{}.Listed()
	assert.False(t, ok)
	_, ok = YarnUse{Yarn: &grammar.Yarn{}}.Grams(10)
	assert.False(t, ok)
}

// TestSnail reckons the snail of the demo. Nothing outside says what comes out;
// the bounds are what somebody who has made small toys would call plausible.
func TestSnail(t *testing.T) {
	data := readSnail(t)
	p := Work(grammar.Parse(data))
	require.Empty(t, found(p))
	shell, body, feeler := sizeOf(t, p, p.Named("Shell")), sizeOf(t, p, p.Named("Body")), sizeOf(t, p, p.Named("Feeler"))
	assert.InDelta(t, 30*100/24.0/3.14159, shell.Diameter, 0.01)
	assert.True(t, shell.Stuffed && shell.Height > 20 && shell.Height < shell.Diameter)
	assert.InDelta(t, 45, body.Width, 1)
	assert.Less(t, body.Diameter, shell.Diameter)
	assert.InDelta(t, 18, feeler.Height, 3)
	u := YarnFor(p)
	require.Len(t, u, 2)
	for _, y := range u {
		listed, _ := y.Listed()
		assert.Less(t, y.High, listed, y.Key)
		assert.Greater(t, y.Low, 5.0)
	}
	for _, piece := range p.Pieces {
		assert.Empty(t, Ruffled(p, piece))
	}
}

func readSnail(t *testing.T) string {
	data, err := os.ReadFile("../testdata/patterns/snail.crochet")
	require.NoError(t, err)
	return string(data)
}
