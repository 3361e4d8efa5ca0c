package terms

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearest(t *testing.T) {
	tests := []struct {
		sys   System
		word  string
		extra []string
		want  string
	}{
		{US, "incc", nil, "inc"}, {US, "inx", nil, "inc"}, {US, "scc", nil, "sc"}, {US, "cs", nil, "sc"}, {US, "cd", nil, "dc"}, {US, "hcd", nil, "hdc"}, {US, "hd", nil, ""}, {US, "Hdcc", nil, "hdc"},
		{US, "singel crochet", nil, "single crochet"}, {US, "sigle crohet", nil, "single crochet"}, {US, "dc2tig", nil, "dc2tog"}, {US, "popcron", nil, "popcorn"}, {US, "boble", nil, "bobble"},
		{US, "V-stich", nil, "V-stitch"}, {US, "v st", nil, "V-st"}, {US, "majic ring", nil, "magic ring"}, {US, "sc", nil, "sc"},
		{UK, "htrr", nil, "htr"}, {UK, "qrt", nil, "qtr"}, {UK, "sc", nil, ""}, {UK, "singel crochet", nil, ""},
		{US, "arround", []string{"around", "across"}, "around"}, {US, "Leaff", []string{"Leaf", "Lead"}, "Leaf"}, {US, "incc", []string{"incx", "inca"}, "inc"},
		{US, "x", nil, ""}, {US, "", nil, ""}, {US, "--", nil, ""}, {US, "elephant", nil, ""}, {US, "zzz", []string{""}, ""},
		{US, strings.Repeat("dc", 5000), nil, ""}, {US, "\xff\xfe\xfd", nil, ""}, {US, "blüten", []string{"Blüte"}, "Blüte"},
	}
	for _, tt := range tests {
		got, ok := Nearest(tt.sys, tt.word, tt.extra)
		assert.Equal(t, tt.want, got, "%s %.20q", tt.sys, tt.word)
		assert.Equal(t, tt.want != "", ok, "%.20q", tt.word)
	}
}

func TestNearestDoesNotHangOnOrder(t *testing.T) {
	extra := []string{"Leaf", "Lead", "Lean", "Leap", "leaf"}
	want, _ := Nearest(US, "Leax", extra)
	slices.Reverse(extra)
	got, _ := Nearest(US, "Leax", extra)
	assert.Equal(t, want, got)
}

// Distances worked by hand; CA to ABC is 3 under optimal string alignment, the
// usual example that sets it apart from the unrestricted distance of 2.
func TestSlips(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"dc", "dc", 0}, {"dc", "", 2}, {"dc", "cd", 1}, {"hdc", "dc", 1}, {"kitten", "sitting", 3}, {"ca", "abc", 3}, {"treble", "trelbe", 1},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, slips([]rune(tt.a), []rune(tt.b), 3), "%s %s", tt.a, tt.b)
		assert.Equal(t, tt.want, slips([]rune(tt.b), []rune(tt.a), 3), "%s %s", tt.b, tt.a)
	}
	assert.Greater(t, slips([]rune("kitten"), []rune("sitting"), 2), 2)
}

func TestWordsAreSortedAndEachOnce(t *testing.T) {
	for _, sys := range []System{US, UK} {
		var keys []string
		for _, w := range Words(sys) {
			keys = append(keys, Key(w))
			assert.NotNil(t, Find(sys, w), w)
		}
		assert.True(t, slices.IsSorted(keys))
		assert.Len(t, slices.Compact(slices.Clone(keys)), len(keys))
	}
	assert.Contains(t, Words(US), "V-st")
}

func TestKey(t *testing.T) {
	for spelling, want := range map[string]string{
		"V-St": "v st", " sl  st ": "sl st", "3\u2011dc cl": "3 dc cl", "sl\u00a0st": "sl st", "dc2tog": "dc2tog", "": "", "-": "", " ": "", "a ": "a", "a  b": "a b", "É": "é", "a\tb": "a b",
	} {
		assert.Equal(t, want, Key(spelling), "%q", spelling)
	}
}

func BenchmarkNearest(b *testing.B) {
	for b.Loop() {
		Nearest(US, "singel crochett", nil)
	}
}
