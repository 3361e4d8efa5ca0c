package grammar

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// requireParsed holds a spliced file against a fresh parse of its text.
func requireParsed(t *testing.T, got *File) {
	t.Helper()
	want := Parse(got.Text())
	require.Equal(t, want.starts, got.starts, "%q", got.Text())
	require.Len(t, got.Lines, len(want.Lines))
	for i := range want.Lines {
		require.Equal(t, want.Lines[i], got.Lines[i], "line %d of %q", i, got.Text())
	}
}

func TestSpliceIsParse(t *testing.T) {
	tests := []struct {
		name, text string
		start, end int
		new        string
	}{
		{"one letter", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n", 37, 38, "7"},
		{"into nothing", "", 0, 0, "Rnd 1: 6 sc"},
		{"to nothing", "Rnd 1: 6 sc\n", 0, 12, ""},
		{"a blank that becomes a continuation", "Rnd 1: 6 sc\n \nRnd 2: inc\n", 13, 13, "(6)"},
		{"a continuation cut off", "Rnd 1: 6 sc\n  (6)\nRnd 2: inc\n", 12, 14, ""},
		{"a line taken in", "Rnd 1: 6 sc\nRnd 2: inc\n", 12, 12, " "},
		{"a comment before a continuation", "// six\n (6)\nRnd 1: 6 sc\n", 0, 2, ""},
		{"a line end made whole", "Note: a\rNote: b\n", 8, 8, "\n"},
		{"a line end broken", "Note: a\r\nNote: b\n", 8, 9, ""},
		{"at a byte-order mark", bom + "Note: a\nNote: b\n", 0, 3, ""},
		{"a byte-order mark put first", "Note: a\nNote: b\n", 0, 0, bom},
		{"behind a byte-order mark", bom + "Note: a\nNote: b\n", 3, 4, "Yarn"},
		{"the last line end", "Note: a\nNote: b\n", 15, 16, ""},
		{"behind the last line end", "Note: a\n", 8, 8, "Note: b"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			requireParsed(t, Splice(Parse(test.text), test.start, test.end, test.new))
		})
	}
}

// pieces are what edits put in: whole statements, halves of them, and what
// decides where statements begin and end.
var splicePieces = []string{"\n", "\r\n", "\r", " ", "\t", "//", "x", "(12)", ":", "Rnd 3: sc around (12)\n", "\n\n", "  (sc, inc) x 6", "Piece: Shell\n", "é", "😀", bom, "Note: ", "\n // allow: shape\n"}

// Any edits one after another leave what a parse of the text gives, and the
// lines that they do not touch keep their trees.
func TestSpliceOverRandomEdits(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	names, err := filepath.Glob(filepath.FromSlash("../testdata/patterns/*.crochet"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		f := Parse(string(text))
		for range 60 {
			start := random.IntN(len(f.Text()) + 1)
			end := min(start+random.IntN(30)*random.IntN(2), len(f.Text()))
			var new string
			for range random.IntN(3) {
				new += splicePieces[random.IntN(len(splicePieces))]
			}
			next := Splice(f, start, end, new)
			requireParsed(t, next)
			touched := next.LineAt(start+len(new)) - next.LineAt(start) + 3
			kept := 0
			for _, l := range next.Lines {
				if slices.Contains(f.Lines, l) {
					kept++
				}
			}
			require.GreaterOrEqual(t, kept, len(next.Lines)-touched, "lines that the edit did not touch")
			f = next
		}
	}
}

func FuzzSplice(f *testing.F) {
	f.Add("Rnd 1: 6 sc\n  (6)\nRnd 2: inc\n", 12, 2, "\n")
	f.Fuzz(func(t *testing.T, text string, start, length int, new string) {
		if start < 0 || length < 0 || start > len(text) || length > len(text)-start {
			return
		}
		requireParsed(t, Splice(Parse(text), start, start+length, new))
	})
}

func BenchmarkSplice(b *testing.B) {
	var text []byte
	for range 20000 {
		text = append(text, "Rnd 3: (sc 3, inc, sc in next 2 sts, dec, sc) x 4, sc 10 (54)\n"...)
	}
	f := Parse(string(text))
	b.ReportAllocs()
	for b.Loop() {
		f = Splice(f, len(text)/2, len(text)/2+1, "7")
	}
}
