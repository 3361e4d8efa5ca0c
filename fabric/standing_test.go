package fabric

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// What a starting chain is said to stand for "here and throughout" holds for the
// rounds above; what hdc's stands for is asked once a piece. That such a note is
// written so, and is not repeated, is common practice.
func TestStandingIsCarried(t *testing.T) {
	tests := []struct {
		name  string
		text  string
		makes []int64 // of each round
		asked []int   // in which rounds
	}{
		{"throughout", "Rnd 1: 12 dc in magic ring\nRnd 2: ch 3 (does not count as a st throughout), dc in each st around\nRnd 3: ch 3, 2 dc in each st around\n", []int64{12, 12, 24}, nil},
		{"here only", "Rnd 1: 12 dc in magic ring\nRnd 2: ch 3 (does not count as a st), dc in each st around\nRnd 3: ch 3, dc in same st, 2 dc in each st around\n", []int64{12, 12, 24}, nil},
		{"of another stitch", "Rnd 1: 12 dc in magic ring\nRnd 2: ch 2 (does not count as a st here and throughout), hdc around\nRnd 3: ch 3, dc in next 11 sts\n", []int64{12, 12, 12}, nil},
		{"counts from there on", "Rnd 1: 12 sc in magic ring\nRnd 2: ch 2 (counts as hdc, here and throughout), hdc 11\nRnd 3: ch 2, hdc 11\n", []int64{12, 12, 12}, nil},
		{"said once", "Rnd 1: ch 2 (does not count as a st), 8 hdc in magic ring\nRnd 2: ch 2, 2 hdc in each st around\n", []int64{8, 16}, nil},
		{"asked once", "Rnd 1: ch 2, 8 hdc in magic ring\nRnd 2: ch 2, 2 hdc in each st around\nRnd 3: ch 2, hdc around\n", []int64{8, 16, 16}, []int{0}},
		{"shown by the total once", "Rnd 1: ch 2, 7 hdc in magic ring (8)\nRnd 2: ch 2, hdc 7 (8)\nRnd 3: ch 2, hdc 7\n", []int64{8, 8, 8}, []int{0}},
		{"and otherwise by another total", "Rnd 1: ch 2, 8 hdc in magic ring (8)\nRnd 2: ch 2, hdc 7 (8)\n", []int64{8, 8}, []int{0}},
		{"anew in the next piece", "Piece: A\nRnd 1: ch 2 (does not count as a st throughout), 8 hdc in magic ring\nPiece: B\nRnd 1: ch 2, 8 hdc in magic ring\n", []int64{8, 8}, []int{1}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var makes []int64
			var asked []int
			for _, piece := range Work(grammar.Parse(test.text)).Pieces {
				for _, r := range piece.Rounds {
					for _, x := range r.Problems {
						require.Equal(t, TwoReadings, x.Kind, x.Message)
						asked = append(asked, len(makes))
					}
					makes = append(makes, r.Makes)
				}
			}
			assert.Equal(t, test.makes, makes)
			assert.Equal(t, test.asked, asked)
		})
	}
}
