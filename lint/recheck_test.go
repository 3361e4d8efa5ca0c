package lint

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// inRows is a pattern of parts in rows, with all that hangs on other parts:
// numbers that run on, chains that count here and not there, joins, yarns,
// markers, an own stitch and words of the other system.
const inRows = `Pattern: Parts
Terms: US
Gauge: 24 sts x 26 rows = 10 cm in sc
Hook: 3 mm
Size: 30 cm long
Yarn A: fern, light (3), 50 g / 125 m
Yarn B: oat, light (3), 50 g / 125 m
Notion: 2 safety eyes, 6 mm
Stitch: bob (bobble) = 5 dc together in one st

Piece: Strap
Worked: in rows
Row 1: ch 14, dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across (12)
Row 2: ch 3 (counts as dc), turn, dc in next 11 sts (12)
Row 3: ch 3 (does not count), turn, dc in each st across (12)
Row 4: with B, ch 3, turn, dc 11 (11)
Fasten off.

Piece: Ball
Rnd 5: 6 sc in magic ring (6)
Rnd 6: inc x 6 (12) // allow: numbering -- runs on
Rnd 7: (sc, bob) x 6 (12)
Insert 2 safety eyes between Rnds 5 and 6.
Place marker in the first stitch.
Stuff firmly.
Rnd 8: (sc, htr) x 6 (12)
Rnd 9: dec x 6 (6)
Close.

Piece: Ear (make 3)
With: C
Rnd 1: join to Ball, sc in each of next 6 sts of Ball (6)
Rnds 2-4: sc around (6)
Move the marker up.

Assembly:
Sew: Ear x 2 to Ball, between Rnds 6 and 7
Place: 2 safety eyes on Bell, between Rnds 5 and 6
Embroider: smile on Ball
`

// editTexts are what random edits put in.
var editTexts = []string{"\n", "(12)", "7", "x 5", "Rnd 3: sc around (12)\n", "Piece: Bud\n", "\n\n", "// aside\n", "// allow: shape\n", "Terms: UK\n", "Stitch: puff = takes 1, makes 2\n", "Worked: in rows\n",
	"Rnd 4: sc in next 12 sts of Ball (12)\n", "Assembly:\n", "bob", "Turning chain: counts\n", "Note: the ears in B\n", " ", "Fasten off.\n", "Row 5: ch 3, turn, dc in each st across\n", "Yarn C: red\n", "ten", "htr", "join B, ",
	"Gauge: 10 sts x 10 rnds = 10 cm\n", "Insert 3 beads.\n", "Piece: Bell\n", "Notion: toy stuffing\n", "Stuff.\n"}

func randomEdit(random *rand.Rand, f *grammar.File) *grammar.File {
	start := random.IntN(len(f.Text()) + 1)
	end := min(start+random.IntN(40)*random.IntN(2), len(f.Text()))
	var new string
	for range random.IntN(3) {
		new += editTexts[random.IntN(len(editTexts))]
	}
	return grammar.Splice(f, start, end, new)
}

func TestRecheckIsCheck(t *testing.T) {
	texts := map[string]string{"in rows": inRows}
	for _, where := range []string{"../testdata/patterns/*.crochet", "../testdata/patterns/broken/*.crochet"} {
		names, err := filepath.Glob(filepath.FromSlash(where))
		require.NoError(t, err)
		require.NotEmpty(t, names)
		for _, name := range names {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			texts[name] = string(text)
		}
	}
	opts := Options{NoFixes: true}
	for name, text := range texts {
		random := rand.New(rand.NewPCG(5, uint64(len(text))))
		var c *Checked
		f := grammar.Parse(text)
		for i := range 120 {
			if i%40 == 0 { // edits pile up; begin again
				f = grammar.Parse(text)
			}
			c = Recheck(c, f, opts)
			require.Equal(t, Check(f, opts), c.Findings, "%s, edit %d:\n%s", name, i, f.Text())
			f = randomEdit(random, f)
		}
	}
}

// What holds for all pieces, and what one of them tells of the whole file,
// counts for pieces that have not changed too.
func TestRecheckSeesWhatHoldsForAll(t *testing.T) {
	const flat = "Terms: US\nGauge: 10 sts x 10 rnds = 10 cm in sc\nPiece: A\nRnd 1: 9 sc in magic ring (9)\nRnd 2: inc x 9 (18)\nRnd 3: (sc, inc) x 9 (27)\nRnd 4: (sc 2, inc) x 9 (36)\nPiece: B\nRnd 1: 6 sc in magic ring (6)\n"
	const unsaid = "Piece: A\nRnd 1: 6 sc in magic ring (6)\nPiece: B\nRnd 1: 6 htr in magic ring (6)\nPiece: C\nRnd 1: 6 dc in magic ring (6)\n"
	tests := []struct{ name, text, old, new, rule string }{
		{"the gauge", flat, "10 rnds", "6 rnds", "shape"},
		{"a word of one system", unsaid, "6 dc", "5 dc", "terms-missing"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			opts := Options{NoFixes: true}
			f := grammar.Parse(test.text)
			c := Recheck(nil, f, opts)
			at := strings.Index(test.text, test.old)
			f = grammar.Splice(f, at, at+len(test.old), test.new)
			want := Check(f, opts)
			require.Equal(t, want, Recheck(c, f, opts).Findings)
			assert.NotEmpty(t, append(byRule(want, test.rule), byRule(c.Findings, test.rule)...))
		})
	}
}

func TestRepairedIsWhatCheckSays(t *testing.T) {
	f := grammar.Parse(inRows)
	all := Check(f, Options{})
	c := Recheck(nil, f, Options{NoFixes: true})
	require.NotEmpty(t, all)
	fixes := 0
	for _, want := range all {
		assert.Contains(t, c.Repaired(want.Start, want.End), want)
		fixes += len(want.Fixes)
	}
	assert.NotZero(t, fixes)
	assert.Empty(t, c.Repaired(0, 0))
	assert.Equal(t, all, c.Repaired(0, len(f.Text())))
}

func TestRecheckFollowsTheRules(t *testing.T) {
	f := grammar.Parse(inRows)
	c := Recheck(nil, f, Options{NoFixes: true})
	for _, opts := range []Options{
		{NoFixes: true, Off: map[string]bool{"numbering": true}},
		{NoFixes: true, Severity: map[string]Severity{"turning-chain": Hint}},
		{NoFixes: true},
		{},
	} {
		c = Recheck(c, f, opts)
		assert.Equal(t, Check(f, opts), c.Findings)
	}
}

// What has not changed is not looked at again: the pieces around an edit keep
// what was found in them.
func TestRecheckKeepsPieces(t *testing.T) {
	f := grammar.Parse(inRows)
	c := Recheck(nil, f, Options{NoFixes: true})
	at := len(inRows) - len("Embroider: smile on Ball\n")
	d := Recheck(c, grammar.Splice(f, at, at, "Note: aside\n"), Options{NoFixes: true})
	require.Len(t, d.pieces, 3)
	for i, same := range []bool{true, true, false} { // the ears are worked into another
		assert.Equal(t, same, d.pieces[i].piece.Same(&c.pieces[i].piece), fmt.Sprint(i))
	}
}

func FuzzRecheck(f *testing.F) {
	f.Add(inRows, 300, 3, "x 7")
	f.Fuzz(func(t *testing.T, text string, start, length int, new string) {
		if len(text) > 4000 || len(new) > 400 || start < 0 || length < 0 || start > len(text) || length > len(text)-start {
			return
		}
		opts := Options{NoFixes: true}
		before := grammar.Parse(text)
		after := grammar.Splice(before, start, start+length, new)
		got, want := Recheck(Recheck(nil, before, opts), after, opts).Findings, Check(after, opts)
		if !assert.Equal(t, want, got) {
			t.FailNow()
		}
	})
}
