package fabric

import (
	"fmt"
	"testing"

	"workeven/grammar"
	"workeven/testdata/long"
)

func BenchmarkWork(b *testing.B) {
	for _, lines := range []int{1000, 10000, 20000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			text := long.Pattern(lines)
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
