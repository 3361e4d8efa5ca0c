package terms

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func sizes(list []Hook) []float64 {
	var mm []float64
	for _, h := range list {
		mm = append(mm, h.MM)
	}
	return mm
}

// Published charts: cdhp.org and reference.com for the US sizes, matifs.com for
// the UK ones; 15 mm as P from a yarn maker's leaflet, 16 as Q from the Craft
// Yarn Council's yarn table; steel 7 from winenfood.com, 00 and 14 from
// homequestionsanswered.com. G, I, J, D, P-16 and the other steel sizes are
// from memory.
func TestHookByUS(t *testing.T) {
	tests := []struct {
		mark string
		want []float64
	}{
		{"B-1", []float64{2.25}}, {"C", []float64{2.75}}, {"D-3", []float64{3.25}}, {"E-4", []float64{3.5}}, {"e/4", []float64{3.5}}, {"E4", []float64{3.5}}, {"E", []float64{3.5}},
		{"F-5", []float64{3.75}}, {"G-6", []float64{4}}, {"H-8", []float64{5}}, {"US I-9", []float64{5.5}}, {"J-10", []float64{6}}, {"L-11", []float64{8}},
		{"K-10½", []float64{6.5}}, {"K-10.5", []float64{6.5}}, {"K 10 1/2", []float64{6.5}}, {"K-10-1/2", []float64{6.5}}, {"10½", []float64{6.5}},
		{"M/N-13", []float64{9}}, {"M-13", []float64{9}}, {"N-13", []float64{9}}, {"N/P-15", []float64{10}}, {"P-15", []float64{10}}, {"N", []float64{9, 10}},
		{"G", []float64{4, 4.25}}, {"D", []float64{3.125, 3.25}}, {"I", []float64{5.25, 5.5}}, {"J", []float64{5.75, 6}},
		{"P", []float64{10, 11.5, 15}}, {"Q", []float64{15, 15.75, 16}}, {"S", []float64{19}}, {"T", []float64{25, 30}}, {"U", []float64{25}},
		{"7", []float64{4.5, 1.65}}, {"4", []float64{3.5, 2}}, {"US 7", []float64{4.5, 1.65}}, {"size 8", []float64{5, 1.5}},
		{"steel 7", []float64{1.65}}, {"No. 7 steel", []float64{1.65}}, {"steel #14", []float64{0.75}}, {"00", []float64{3.5}},
		{"E-5", nil}, {"A", nil}, {"Z-99", nil}, {"", nil}, {"3.5 mm", nil}, {"UK 9", nil}, {"wool", nil}, {"éclair", nil},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, sizes(HookByUS(tt.mark)), tt.mark)
	}
}

func TestHookByUK(t *testing.T) {
	for number, want := range map[string][]float64{
		"14": {2}, "13": {2.25}, "10": {3.25}, "9": {3.5}, "8": {4}, "7": {4.5}, "6": {5}, "5": {5.5}, "4": {6}, "3": {6.5}, "0": {8}, "00": {9}, "000": {10},
		"12": {2.5, 2.75}, "15": nil, "": nil,
	} {
		assert.Equal(t, want, sizes(HookByUK(number)), number)
	}
}

// A German shop's list of metric steps (code-knacker.de).
func TestHookByMM(t *testing.T) {
	for _, mm := range []float64{0.75, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7, 8, 9, 10, 12, 15} {
		assert.NotEmpty(t, HookByMM(mm), "%g mm", mm)
	}
	assert.Len(t, HookByMM(3.5), 2, "a yarn hook and steel 00")
	assert.Equal(t, "D", HookByMM(3.13)[0].US)
	assert.Empty(t, HookByMM(3.6))
	assert.Empty(t, HookByMM(0))
}

func TestParseHook(t *testing.T) {
	tests := []struct {
		text string
		mm   float64
		mark string
		fits []float64
	}{
		{"3.5 mm", 3.5, "", []float64{3.5, 3.5}},
		{"3.5mm", 3.5, "", []float64{3.5, 3.5}},
		{"3,5 mm hook", 3.5, "", []float64{3.5, 3.5}},
		{"3.1 mm", 3.1, "", nil},
		{"E-4", 0, "E-4", []float64{3.5}},
		{"E-4 (3.5 mm)", 3.5, "E-4", []float64{3.5}},
		{"E/4 / 3.5mm", 3.5, "E-4", []float64{3.5}},
		{"3.5 mm / E-4", 3.5, "E-4", []float64{3.5}},
		{"3.5mm (US E/4) crochet hook", 3.5, "E-4", []float64{3.5}},
		{"size E (3.50 mm)", 3.5, "E", []float64{3.5}},
		{"US G-6", 0, "G-6", []float64{4}},
		{"US size G-6, 4.0 mm", 4, "G-6", []float64{4}},
		{"G 4 mm", 4, "G", []float64{4, 4.25}},
		{"K-10½ (6.5 mm)", 6.5, "K-10½", []float64{6.5}},
		{"M/N–13 (9 mm)", 9, "M/N-13", []float64{9}},
		{"H-8 (4 mm)", 4, "H-8", []float64{5}},
		{"UK 9", 0, "UK 9", []float64{3.5}},
		{"UK 9 (3.5 mm)", 3.5, "UK 9", []float64{3.5}},
		{"steel 7 (1.65 mm)", 1.65, "steel 7", []float64{1.65}},
		{"US 7 (4.5 mm)", 4.5, "7", []float64{4.5, 1.65}},
		{"7", 0, "7", []float64{4.5, 1.65, 7}},
		{"no. 7", 0, "7", []float64{4.5, 1.65, 7}},
		{"5", 0, "5", []float64{3.75, 1.9, 5}},
		{"3.5", 0, "3½", []float64{3.5, 3.5}},
		{"US 7", 0, "7", []float64{4.5, 1.65}},
		{"E-5", 0, "E-5", nil},
	}
	for _, tt := range tests {
		got, ok := ParseHook(tt.text)
		assert.True(t, ok, tt.text)
		assert.Equal(t, tt.mm, got.MM, tt.text)
		assert.Equal(t, tt.mark, got.Mark.String(), tt.text)
		assert.Equal(t, tt.fits, sizes(got.Fits), tt.text)
	}
	for _, text := range []string{"", "hook", "steel", "mm", "a big one", "3 mm and 4 mm", "3 mm, 4 mm", "E-4 or G-6", "E-4 fine", "0 mm", "-", "½", "\x00\xff", "9999999999999999999999", "3..5"} {
		got, ok := ParseHook(text)
		_, sized := got.Size()
		assert.False(t, ok && sized, text)
	}
}

func TestHookSize(t *testing.T) {
	for text, want := range map[string]float64{"E-4": 3.5, "3.5 mm": 3.5, "H-8 (4 mm)": 4, "steel 9": 1.4, "US G": 0, "7": 0, "steel 7": 0, "E-5": 0} {
		got, _ := ParseHook(text)
		mm, ok := got.Size()
		assert.Equal(t, want, mm, text)
		assert.Equal(t, want > 0, ok, text)
	}
}

// That one number stands for two steel hooks: an older print of the Craft Yarn
// Council's yarn table has 6, 7, 8 at 1.6 to 1.4 mm, makers' charts at 1.8, 1.65
// and 1.5. matifs.com has B-1 at 2 mm, the other charts at 2.25.
func TestHookAgrees(t *testing.T) {
	tests := []struct {
		mark string
		mm   float64
		want Verdict
	}{
		{"E-4", 3.5, HookAgree}, {"E", 3.5, HookAgree}, {"G", 4, HookAgree}, {"G", 4.25, HookAgree}, {"D", 3.13, HookAgree}, {"N", 10, HookAgree},
		{"7", 4.5, HookAgree}, {"7", 1.65, HookAgree}, {"steel 7", 1.65, HookAgree}, {"UK 9", 3.5, HookAgree},
		{"steel 7", 1.5, HookVaries}, {"steel 6", 1.6, HookVaries}, {"steel 8", 1.4, HookVaries}, {"B-1", 2, HookVaries},
		{"E-4", 4, HookDiffers}, {"H-8", 4, HookDiffers}, {"G-6", 4.25, HookDiffers}, {"steel 7", 4.5, HookDiffers}, {"UK 9", 5.5, HookDiffers},
		{"E-5", 3.5, NoSuchHook}, {"A", 2, NoSuchHook}, {"", 3.5, NoSuchHook}, {"3.5 mm", 3.5, NoSuchHook},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, HookAgrees(tt.mark, tt.mm), "%s, %g mm", tt.mark, tt.mm)
	}
	for text, want := range map[string]Verdict{"E-4 (3.5 mm)": HookAgree, "E-4 (4 mm)": HookDiffers, "steel 7 (1.5 mm)": HookVaries, "E-5 (3.5 mm)": NoSuchHook, "3.5 mm": HookAgree, "E-4": HookAgree} {
		got, _ := ParseHook(text)
		assert.Equal(t, want, got.Verdict(), text)
	}
}

func TestHookTable(t *testing.T) {
	yarn, steel := []float64{}, []float64{}
	for _, h := range Hooks() {
		assert.NotEmpty(t, h.Source, "%g mm", h.MM)
		if h.US != "" {
			m, rest, ok := readMark(h.US)
			assert.True(t, ok && rest == "", h.US)
			m.steel = false
			assert.Equal(t, h.US, m.String())
		}
		if h.Steel {
			steel = append(steel, -h.MM)
		} else {
			yarn = append(yarn, h.MM)
		}
	}
	assert.True(t, slices.IsSorted(yarn), "yarn hooks grow")
	assert.True(t, slices.IsSorted(steel), "steel hooks shrink as their numbers grow")
	Hooks()[0].MM = 99
	assert.NotEqual(t, 99.0, hooks[0].MM, "callers get a copy")
}
