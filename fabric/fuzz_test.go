package fabric

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"workeven/grammar"
)

// seedTexts are all patterns and examples of testdata.
func seedTexts(t testing.TB) []string {
	var out []string
	for _, pattern := range []string{"../testdata/patterns/*.crochet", "../testdata/patterns/broken/*.crochet", "../testdata/cases/*.txt", "../testdata/sources/*.txt"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, string(data))
		}
	}
	if len(out) < 10 {
		t.Fatal("testdata is missing")
	}
	return out
}

// hostile is what no maker writes.
var hostile = []string{
	"Rnd 5: *sc in next sc, hdc in next ch-2 sp; rep from * around\nRnd 6: sc, V-st in next hdc, *dc in next st, sk next turn, V-st in next hdc; rep from * around\n",
	"Rnd 1: 12 sc in magic ring\nRnd 2: sc 2, (sc 2, turn, sc) x 4, *turn, sc, turn, hdc in next hdc; rep from * around\n",
	"Rnd 1: 24 sc in magic ring\nRnd 2: (sc, inc) x 1000000000\n",
	"Rnd 1: 24 sc in magic ring\nRnd 2: " + strings.Repeat("(", 30) + "sc, inc" + strings.Repeat(") x 1000000000", 30) + "\n",
	"Rnd 1: make a magic ring, (sc, ch 1) x 1000000000\nRnd 2: (sc in next ch-1 sp, ch 2) x 1000000000\n",
	"Rnd 1: 1000000000 sc in magic ring\nRnd 2: *dc in next st, ch 1; rep from * around\nRnd 3: (dc, ch 1, sk 1) x 500000000\n",
	"Rnd 1: 6 sc in magic ring\nRnds 2-1000000000: inc around\n",
	"Rnd 1: 6 sc in magic ring\nRnd 2: 1000000000 sc in each st around\nRnd 3: 1000000000 sc in each st\n",
	"Rnd 1: ch 1000000000, sc in 2nd ch from hook, sc in each ch across\nRnd 2: (sc, ch 3, sl st in 3rd ch from hook) around\n",
	"Rnd 1: 6 sc in magic ring\nRnd 2: ((((sc, ch 1) x 1000, sc) x 1000, dc) x 1000) in next st, sc 5\n",
	"Rnd 1: " + strings.Repeat("(", 10000) + "sc" + strings.Repeat(") x 2", 10000) + "\n",
	"Rnd 1: " + strings.Repeat("* sc, ", 3000) + "\n",
	"Rnd 1: " + strings.Repeat("sc, ", 100000) + "\n",
	"Rnd 1: 6 sc\x00 in magic \xff ring\n",
}

// checkWorked holds what is true of every worked pattern.
func checkWorked(t *testing.T, p *Pattern) {
	repairs := 0
	for _, piece := range p.Pieces {
		for _, r := range piece.Rounds {
			if r.Takes < 0 || r.Makes < 0 || r.RoundsWorked < 1 || r.Out == nil || r.Meant == nil {
				t.Fatalf("%s: %+v", r.Name(), r)
			}
			if len(r.Out.Items) > maxItems {
				t.Fatalf("%s: an edge of %d runs", r.Name(), len(r.Out.Items))
			}
			blamed := 0
			for _, x := range r.Problems {
				if x.Counting() {
					blamed++
				}
				if x.Span.Start < 0 || x.Span.End < x.Span.Start || int(x.Span.End) > len(r.Line.Text) || x.Message == "" {
					t.Fatalf("%s: %+v", r.Name(), x)
				}
				if repairs++; repairs > 20 {
					continue
				}
				for _, c := range p.Repairs(piece, r, x) {
					if int(c.Span.End) > len(r.Line.Text) || c.Span.Start < 0 || c.Title == "" {
						t.Fatalf("%s: %+v", r.Name(), c)
					}
					if x.Counting() && !p.Mends(piece, r, c) {
						t.Fatalf("%s: %q does not hold", r.Name(), c.Title)
					}
				}
			}
			if blamed > 1 {
				t.Fatalf("%s is blamed %d times: %+v", r.Name(), blamed, r.Problems)
			}
			p.Explain(piece, r)
		}
	}
}

func TestHostile(t *testing.T) {
	for _, text := range hostile {
		checkWorked(t, Work(grammar.Parse(text)))
	}
}

func FuzzWork(f *testing.F) {
	for _, text := range append(seedTexts(f), hostile...) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 20000 {
			return
		}
		checkWorked(t, Work(grammar.Parse(text)))
	})
}
