package fabric

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// manyParts is a pattern of so many parts that use a stitch of its own; one in
// so many is worked onto the one before it.
func manyParts(parts, onto int) string {
	var b strings.Builder
	b.WriteString("Pattern: Parts\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nStitch: bob (bobble) = 5 dc together in one st\n")
	for i := range 40 {
		fmt.Fprintf(&b, "Note: line %d of a long introduction\n", i)
	}
	for i := range parts {
		fmt.Fprintf(&b, "\nPiece: Part %d (make 1)\n", i)
		if i%onto == onto-1 {
			fmt.Fprintf(&b, "Rnd 1: join to Part %d, sc in each of next 12 sts of Part %d (12)\n", i-1, i-1)
		} else {
			b.WriteString("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n")
		}
		b.WriteString("Rnd 3: (sc, bob) x 6 (12)\nStuff firmly.\nRnds 4-6: sc around (12)\n")
	}
	b.WriteString("Assembly:\nSew: Part 1 to Part 0, open edge\n")
	for i := range parts {
		fmt.Fprintf(&b, "Embroider: a dot on Part %d\n\nNote: a word on part %d of a long making up\n", i, i)
	}
	return b.String()
}

// editPieces are what random edits put in.
var editPieces = []string{"\n", "(12)", "7", "x 5", "Rnd 3: sc around (12)\n", "Piece: Bud\n", "\n\n", "// aside\n", "Terms: UK\n", "Stitch: puff = takes 1, makes 2\n", "Worked: in rows\n",
	"Rnd 4: sc in next 12 sts of Part 3 (12)\n", "Assembly:\n", "bob", "Turning chain: counts\n", "Note: aside\n", " ", "Fasten off.\n"}

func randomEdit(random *rand.Rand, f *grammar.File) *grammar.File {
	start := random.IntN(len(f.Text()) + 1)
	end := min(start+random.IntN(40)*random.IntN(2), len(f.Text()))
	var new string
	for range random.IntN(3) {
		new += editPieces[random.IntN(len(editPieces))]
	}
	return grammar.Splice(f, start, end, new)
}

func TestReworkIsWork(t *testing.T) {
	texts := map[string]string{"many parts": manyParts(12, 10)}
	names, err := filepath.Glob(filepath.FromSlash("../testdata/patterns/*.crochet"))
	require.NoError(t, err)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		texts[filepath.Base(name)] = string(text)
	}
	for name, text := range texts {
		random := rand.New(rand.NewPCG(3, uint64(len(text))))
		f := grammar.Parse(text)
		p := Work(f)
		for i := range 150 {
			if i%50 == 0 { // edits pile up; begin again
				f = grammar.Parse(text)
			}
			f = randomEdit(random, f)
			p = Rework(p, f)
			if want := Work(f); !reflect.DeepEqual(want, p) {
				require.Failf(t, "differs from Work", "%s, edit %d:\n%s", name, i, firstDifference(want, p))
			}
		}
	}
}

// firstDifference says where two patterns part, for a failure to be read.
func firstDifference(want, got *Pattern) string {
	if len(want.Pieces) != len(got.Pieces) {
		return fmt.Sprintf("%d pieces, not %d", len(got.Pieces), len(want.Pieces))
	}
	for i, w := range want.Pieces {
		g := got.Pieces[i]
		for j := range min(len(w.Rounds), len(g.Rounds)) {
			if !reflect.DeepEqual(w.Rounds[j], g.Rounds[j]) {
				return fmt.Sprintf("piece %d (%s), %s:\n%+v\n%+v", i, w.Name, w.Rounds[j].Line.Text, w.Rounds[j], g.Rounds[j])
			}
		}
		if !reflect.DeepEqual(w, g) {
			return fmt.Sprintf("piece %d:\n%+v\n%+v", i, w, g)
		}
	}
	return fmt.Sprintf("header, stitches or making up:\n%+v\n%+v\n%v %v", want.Header, got.Header, want.Own, got.Own)
}

func TestReworkKeepsWhatHasNotChanged(t *testing.T) {
	f := grammar.Parse(manyParts(20, 10))
	p := Work(f)
	at := strings.LastIndex(f.Text()[:len(f.Text())/2], "inc x 6") + len("inc x ")
	q := Rework(p, grammar.Splice(f, at, at+1, "\n\n5"))
	kept := 0
	for i := range p.Pieces {
		if q.Pieces[i].Same(p.Pieces[i]) {
			kept++
		}
	}
	assert.Equal(t, 20-1-2, kept, "all but the one changed and the two that are worked onto others")
}

func FuzzRework(f *testing.F) {
	f.Add(manyParts(3, 2), 60, 3, "x 7")
	f.Fuzz(func(t *testing.T, text string, start, length int, new string) {
		if len(text) > 4000 || len(new) > 400 || start < 0 || length < 0 || start > len(text) || length > len(text)-start {
			return
		}
		before := grammar.Parse(text)
		after := grammar.Splice(before, start, start+length, new)
		if got, want := Rework(Work(before), after), Work(after); !reflect.DeepEqual(want, got) {
			t.Fatalf("differs from Work: %s", firstDifference(want, got))
		}
	})
}

func BenchmarkRework(b *testing.B) {
	f := grammar.Parse(manyParts(2500, 5000))
	p := Work(f)
	at := strings.LastIndex(f.Text()[:len(f.Text())/2], "inc x 6") + len("inc x ")
	digits := [2]string{"5", "6"}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		f = grammar.Splice(f, at, at+1, digits[i%2])
		b.StartTimer()
		p = Rework(p, f)
	}
}
