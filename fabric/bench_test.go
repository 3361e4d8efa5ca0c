package fabric

import (
	"fmt"
	"strings"
	"testing"

	"workeven/grammar"
)

// longPattern is a clean pattern of so many lines, in parts of twenty rounds.
func longPattern(lines int) string {
	var b strings.Builder
	for i := range lines {
		switch n := i % 20; {
		case n == 0:
			fmt.Fprintf(&b, "Piece: Part %d (make 1)\n", i/20)
		case n == 1:
			b.WriteString("Rnd 1: 6 sc in magic ring (6)\n")
		case n == 2:
			b.WriteString("Rnd 2: inc in each st around (12)\n")
		case n < 10:
			fmt.Fprintf(&b, "Rnd %d: *sc in next %d sts, inc in next st; rep from * around (%d)\n", n, n-2, 6*n)
		case n%3 == 0:
			fmt.Fprintf(&b, "Rnd %d: (sc 3, inc, sc in next 2 sts, sc in each of next 2 sts, dec, sc) x 4, sc 10 (54)\n", n)
		default:
			fmt.Fprintf(&b, "Rnd %d: sc in each st around, change to A, move marker (54)\n", n)
		}
	}
	return b.String()
}

func BenchmarkWork(b *testing.B) {
	for _, lines := range []int{1000, 10000, 20000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			text := longPattern(lines)
			f := grammar.Parse(text)
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				Work(f)
			}
		})
	}
}

// BenchmarkRepairs finds the repairs of one slip in the middle of a part.
func BenchmarkRepairs(b *testing.B) {
	p := Work(grammar.Parse("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\nRnd 3: (sc, inc) x 5 (18)\nRnd 4: (sc 2, inc) x 6 (24)\nRnds 5-9: sc around (24)\n"))
	piece := p.Pieces[0]
	r := piece.Rounds[2]
	b.ReportAllocs()
	for b.Loop() {
		p.Repairs(piece, r, r.Problems[0])
	}
}
