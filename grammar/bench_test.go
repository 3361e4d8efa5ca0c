package grammar

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
)

// madeUp is a pattern of so many lines, some 50 bytes each, of many wordings.
func madeUp(lines int, seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 0))
	n := func(most int) int { return 1 + r.IntN(most) }
	sides := []func() string{
		func() string { return fmt.Sprintf("(sc %d, inc) x %d (%d)", n(9), n(12), n(90)) },
		func() string {
			return fmt.Sprintf("*sc in next %d sts, inc; rep from * around (%d sts)", n(9), n(90))
		},
		func() string { return fmt.Sprintf("sc in each st around (%d)", n(90)) },
		func() string {
			return fmt.Sprintf("(sc %d, dec, sc in each of next %d sts, inc) %d times, sc (%d)", n(9), n(9), n(9), n(90))
		},
		func() string {
			return fmt.Sprintf("ch 3 (counts as dc), dc in next %d sts, 2 dc in next st, turn [%d]", n(20), n(40))
		},
		func() string {
			return fmt.Sprintf("in BLO sc %d, (2 dc, ch 2, 2 dc) in next ch-2 sp, sl st in first st", n(20))
		},
		func() string {
			return fmt.Sprintf("*dc in next st, ch 1, sk 1; rep from * to last %d sts, dc in last %d sts (%d dc, %d ch-1 sps)", n(3), n(3), n(40), n(40))
		},
		func() string { return fmt.Sprintf("inc %d evenly, change to B, fpdc around next dc (%d)", n(8), n(90)) },
		func() string { return "work even" },
		func() string { return fmt.Sprintf("sc around, join with sl st to first sc = %d", n(90)) },
	}
	var b strings.Builder
	for line := 0; line < lines; line++ {
		switch k := line % 25; {
		case k == 0:
			fmt.Fprintf(&b, "Piece: Part %d (make %d)\n", line, n(4))
		case k == 1:
			b.WriteString("With: A, hook 3.5 mm\n")
		case k == 2:
			b.WriteString("Rnd 1: 6 sc in magic ring (6)\n")
		case k == 20:
			b.WriteString("// the part is stuffed as it is worked, a little at a time\n")
		case k == 21:
			b.WriteString("Stuff firmly and push the stuffing well into the end.\n")
		case k == 23:
			b.WriteString("Fasten off, leaving a 30 cm tail for sewing it on later.\n")
		case k == 24:
			b.WriteString("\n")
		default:
			fmt.Fprintf(&b, "Rnd %d: %s\n", k-1, sides[r.IntN(len(sides))]())
		}
	}
	return b.String()
}

// madeUpSides are the right-hand sides of a made-up pattern's rounds.
func madeUpSides(lines int) (sides []string, size int64) {
	for line := range strings.Lines(madeUp(lines, 1)) {
		if side, ok := strings.CutPrefix(line, "Rnd "); ok {
			_, side, _ = strings.Cut(strings.TrimSuffix(side, "\n"), ":")
			sides = append(sides, side)
			size += int64(len(side))
		}
	}
	return sides, size
}

// perLine runs a benchmark over lines, and tells its allocations for each.
func perLine(b *testing.B, lines int, size int64, run func()) {
	b.Helper()
	b.SetBytes(size)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	n := 0
	for b.Loop() {
		run()
		n++
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.Mallocs-before.Mallocs)/float64(n*lines), "allocs/line")
}

// The pattern that is measured is one that parses, through either grammar.
func TestMadeUp(t *testing.T) {
	sides, _ := madeUpSides(500)
	for _, side := range sides {
		if _, _, _, ok := PlainSteps(side, 0, len(side)); !ok {
			t.Errorf("%q does not parse", side)
		}
		samePlain(t, side)
	}
	text := madeUp(20000, 1)
	if f := Parse(text); len(f.Lines) != 20000 || len(f.Faults()) > 0 {
		t.Errorf("%d lines, %v", len(f.Lines), f.Faults())
	}
	if mean := len(text) / 20000; mean < 40 || mean > 60 {
		t.Errorf("%d bytes a line", mean)
	}
}

func BenchmarkRead(b *testing.B) {
	sides, size := madeUpSides(2000)
	perLine(b, len(sides), size, func() {
		for _, side := range sides {
			stepsIn(side, 0, len(side))
		}
	})
}

func BenchmarkPlain(b *testing.B) {
	sides, size := madeUpSides(2000)
	perLine(b, len(sides), size, func() {
		for _, side := range sides {
			PlainSteps(side, 0, len(side))
		}
	})
}

func BenchmarkLex(b *testing.B) {
	text := madeUp(20000, 1)
	var toks []Token
	perLine(b, 20000, int64(len(text)), func() { toks = lexed(toks[:0], text, 0) })
}

func BenchmarkParse(b *testing.B) {
	b.Run("file of 20000 lines", func(b *testing.B) {
		text := madeUp(20000, 1)
		perLine(b, 20000, int64(len(text)), func() { Parse(text) })
	})
	b.Run("2000 files of 100 lines", func(b *testing.B) {
		var texts []string
		size := int64(0)
		for i := range 2000 {
			texts = append(texts, madeUp(100, uint64(i)))
			size += int64(len(texts[i]))
		}
		perLine(b, 200000, size, func() {
			for _, text := range texts {
				Parse(text)
			}
		})
	})
}
