package fabric

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

func TestStitchesInAll(t *testing.T) {
	for _, c := range []struct {
		text string
		want int64
		ok   bool
	}{
		{"Rnd 1: 6 sc in magic ring (6)\n", 6, true},
		{"Rnd 1: 6 sc in magic ring (6)\nRnds 2-5: sc around (6)\n", 24, true},
		// 12 + 24 + 48
		{"Rnd 1: 6 sc in magic ring (6)\nRnds 2-4: inc in each st around (48)\n", 84, true},
		// 12 + 12 + 24 + 24
		{"Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: sc around (12)\nRnds 4-5: rep Rnds 2-3 (24)\n", 48, true},
		{"Rnd 1: 6 sc in magic ring (6)\nRnds 2-3: (sc, nonsense) x 3 (9)\n", 0, false},
	} {
		p := Work(grammar.Parse("Terms: US\nPiece: A\nWorked: in a spiral\n" + c.text))
		piece := p.Pieces[0]
		require.NotEmpty(t, piece.Rounds, c.text)
		got, ok := p.InAll(piece, piece.Last())
		assert.Equal(t, c.ok, ok, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
}
