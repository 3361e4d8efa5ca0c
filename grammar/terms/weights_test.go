package terms

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func numbers(list []Weight) []int {
	n := []int{}
	for _, w := range list {
		n = append(n, w.Number)
	}
	return n
}

// Craft Yarn Council standard yarn weight system, crochet columns, as printed in
// Crochet World, October 2018, p. 64.
func TestWeightTable(t *testing.T) {
	inf := math.Inf(1)
	tests := []struct {
		number        int
		name          string
		few, many     float64
		hookMin, hook float64
	}{
		{0, "lace", 32, 42, 1.5, 2.25}, {1, "super fine", 21, 32, 2.25, 3.5}, {2, "fine", 16, 20, 3.5, 4.5}, {3, "light", 12, 17, 4.5, 5.5},
		{4, "medium", 11, 14, 5.5, 6.5}, {5, "bulky", 8, 11, 6.5, 9}, {6, "super bulky", 6, 9, 9, 16}, {7, "jumbo", 0, 5, 16, inf},
	}
	assert.Len(t, Weights(), len(tests))
	for _, tt := range tests {
		w, ok := WeightByNumber(tt.number)
		assert.True(t, ok)
		assert.Equal(t, tt.name, w.Name)
		assert.Equal(t, []float64{tt.few, tt.many}, []float64{w.FewSts, w.ManySts}, w.Name)
		from, to := HookRange(tt.number)
		assert.Equal(t, []float64{tt.hookMin, tt.hook}, []float64{from, to}, w.Name)
		assert.NotEmpty(t, w.Source)
	}
	for _, n := range []int{-1, 8} {
		_, ok := WeightByNumber(n)
		assert.False(t, ok)
		from, to := HookRange(n)
		assert.Equal(t, []float64{0, 0}, []float64{from, to})
	}
}

// The table's hooks in US sizes name the same hooks as its millimetres, by the
// charts of hook sizes; but for lace, whose steel 8 is 1.5 mm, the table's last
// hook of one class is the first of the next.
func TestWeightHooksFollowOnEachOther(t *testing.T) {
	for i, w := range Weights()[1:] {
		assert.Equal(t, Weights()[i].HookTo, w.HookFrom, w.Name)
	}
	for mark, mm := range map[string]float64{"B-1": 2.25, "E-4": 3.5, "7": 4.5, "I-9": 5.5, "K-10½": 6.5, "M/N-13": 9, "Q": 16, "steel 8": 1.5} {
		assert.Equal(t, HookAgree, HookAgrees(mark, mm), mark)
	}
}

// The overlaps follow from the table.
func TestWeightsForGauge(t *testing.T) {
	for sts, want := range map[float64][]int{
		16: {2, 3}, 17: {2, 3}, 16.6: {2, 3}, 12: {3, 4}, 13: {3, 4}, 14: {3, 4}, 11: {4, 5}, 8: {5, 6}, 9: {5, 6},
		15: {3}, 18: {2}, 20.4: {2}, 10: {5}, 10.5: {4, 5}, 24: {1}, 32: {0, 1}, 42: {0}, 7: {6}, 5: {7}, 1: {7}, 5.4: {7},
		0: {}, -3: {}, 43: {}, math.NaN(): {}, math.Inf(1): {},
	} {
		assert.Equal(t, want, numbers(WeightsForGauge(sts)), "%g sts", sts)
	}
}

// Shop names: crochetnerd.com quoting the Craft Yarn Council; ply names from
// British and Australian shops (peapod-soup.blogspot.com 2013,
// adamventure-craft-shop.co.uk); 8 ply and up from memory.
func TestWeightByName(t *testing.T) {
	for name, want := range map[string][]int{
		"lace": {0}, "Super Fine": {1}, "superfine": {1}, "Light": {3}, "medium": {4}, "super-bulky": {6}, "Jumbo": {7},
		"fingering": {1, 0}, "sport": {2}, "DK": {3}, "dk weight": {3}, "DK yarn": {3}, "double knitting": {3}, "light worsted": {3}, "worsted": {4}, "worsted-weight": {4}, "aran": {4}, "chunky": {5}, "super chunky": {6},
		"baby": {1, 2}, "roving": {6, 7}, "4 ply": {2}, "4-ply": {2}, "4ply": {2}, "8 ply": {3}, "1 ply": {0}, "2 ply": {1},
		"heavy": {}, "": {}, "weight": {}, "yarn": {},
	} {
		assert.Equal(t, want, numbers(WeightByName(name)), name)
	}
}
