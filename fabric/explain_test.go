package fabric

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"workeven/grammar"
)

func TestExplain(t *testing.T) {
	p := Work(grammar.Parse("Rnd 1: 24 sc in magic ring (24)\nRnd 2: sc 3, (sc 2, inc) x 6, *dec; rep from * once more\n"))
	piece := p.Pieces[0]
	got := p.Explain(piece, piece.Rounds[1])
	type row struct{ from, to, takes, makes, each, eachMakes, repeats int64 }
	var rows []row
	for _, x := range got {
		rows = append(rows, row{x.From, x.To, x.Takes, x.Makes, x.Each, x.EachMakes, x.Repeats})
	}
	assert.Equal(t, []row{
		{1, 3, 3, 3, 0, 0, 0},
		{4, 21, 18, 24, 3, 4, 6},
		{4, 5, 2, 2, 0, 0, 0},
		{6, 6, 1, 2, 0, 0, 0},
		{22, 25, 4, 2, 2, 1, 2},
		{22, 23, 2, 1, 0, 0, 0},
	}, rows)
}
