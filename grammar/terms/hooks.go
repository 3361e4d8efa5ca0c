package terms

import (
	"math"
	"slices"
)

// Hook is one size of hook. The millimetres control: letters and numbers vary
// from maker to maker, as a handbook of 1918 already says of its own day.
type Hook struct {
	MM float64
	// US is the letter and number as printed, "M/N-13"; empty where there is none.
	US string
	// UK is the British and Canadian number, empty where there is none.
	UK string
	// Steel hooks, for thread, have numbers of their own: the bigger, the thinner.
	Steel bool
	// Others are sizes in mm that some makers' charts give the same US mark.
	Others []float64
	Source string
}

const (
	hookCharts = "seen in published charts of hook sizes (cdhp.org, reference.com)"
	hookUK     = "UK number seen in a shop's chart (matifs.com)"
)

var hooks = []Hook{
	{2, "", "14", false, nil, hookUK},
	{2.25, "B-1", "13", false, []float64{2}, hookCharts + "; matifs.com has B-1 at 2 mm"},
	{2.5, "", "12", false, nil, memory},
	{2.75, "C-2", "12", false, nil, hookCharts + "; the UK number is in dispute"},
	{3, "", "11", false, nil, memory + "; that no US size falls on 3 mm was seen in a published chart"},
	{3.125, "D", "", false, nil, memory},
	{3.25, "D-3", "10", false, nil, hookCharts},
	{3.5, "E-4", "9", false, nil, hookCharts},
	{3.75, "F-5", "", false, nil, hookCharts},
	{4, "G-6", "8", false, nil, hookCharts},
	{4.25, "G", "", false, nil, memory},
	{4.5, "7", "7", false, nil, hookCharts},
	{5, "H-8", "6", false, nil, hookCharts},
	{5.25, "I", "", false, nil, memory},
	{5.5, "I-9", "5", false, nil, hookCharts},
	{5.75, "J", "", false, nil, memory},
	{6, "J-10", "4", false, nil, hookCharts},
	{6.5, "K-10½", "3", false, nil, hookCharts},
	{7, "", "2", false, nil, memory},
	{7.5, "", "1", false, nil, memory},
	{8, "L-11", "0", false, nil, hookCharts},
	{9, "M/N-13", "00", false, nil, hookCharts},
	{10, "N/P-15", "000", false, nil, hookCharts},
	{11.5, "P-16", "", false, nil, memory},
	{12, "", "", false, nil, memory},
	{15, "P/Q", "", false, nil, "a yarn maker's leaflet calls 15 mm P; the label varies"},
	{15.75, "Q", "", false, nil, memory},
	{16, "Q", "", false, nil, "Craft Yarn Council standard yarn weight system, as printed in 2018"},
	{19, "S", "", false, nil, memory},
	{25, "T/U/X", "", false, nil, memory},
	{30, "T/X", "", false, nil, memory},

	{3.5, "00", "", true, nil, hookSteel},
	{3.25, "0", "", true, nil, memory},
	{2.75, "1", "", true, nil, memory},
	{2.25, "2", "", true, nil, memory},
	{2.1, "3", "", true, nil, memory},
	{2, "4", "", true, nil, memory},
	{1.9, "5", "", true, nil, memory},
	{1.8, "6", "", true, []float64{1.6}, memory + hookOlder},
	{1.65, "7", "", true, []float64{1.5}, "seen in a published chart of steel hooks (winenfood.com)" + hookOlder},
	{1.5, "8", "", true, []float64{1.4}, memory + hookOlder},
	{1.4, "9", "", true, nil, memory},
	{1.3, "10", "", true, nil, memory},
	{1.1, "11", "", true, nil, memory},
	{1, "12", "", true, nil, memory},
	{0.85, "13", "", true, nil, memory},
	{0.75, "14", "", true, nil, hookSteel},
}

const (
	hookSteel = "seen in an account of hook sizes (homequestionsanswered.com)"
	hookOlder = "; an older print of the Craft Yarn Council's yarn table has 6, 7, 8 at 1.6 to 1.4 mm"
)

// Hooks are all sizes: the yarn hooks from the thinnest up, then the steel
// hooks from the thickest down.
func Hooks() []Hook { return slices.Clone(hooks) }

// HookByUS finds the hooks that a US letter, number or both may mean: "E",
// "E-4", "E/4", "K-10½", "N"; "steel 7" is a steel hook only, a bare "7" either
// kind. Several for a mark that makers use for several sizes; empty for an
// unknown one.
func HookByUS(mark string) []Hook {
	t, ok := ParseHook(mark)
	if !ok || t.Mark.empty() || t.Mark.uk {
		return nil
	}
	return t.Mark.hooks()
}

// HookByUK finds the hooks of a British or Canadian number.
func HookByUK(number string) []Hook {
	var found []Hook
	for _, h := range hooks {
		if h.UK != "" && h.UK == number {
			found = append(found, h)
		}
	}
	return found
}

// HookByMM finds the hooks of a size in mm: a yarn hook, a steel one, both or none.
func HookByMM(mm float64) []Hook {
	var found []Hook
	for _, h := range hooks {
		if sameSize(h.MM, mm) {
			found = append(found, h)
		}
	}
	return found
}

// sameSize allows for a size rounded to a tenth (3.125 as 3.13, 1.65 as 1.7 is
// too far).
func sameSize(a, b float64) bool { return math.Abs(a-b) < 0.01 }

// Verdict says whether a hook's mark and its millimetres are the same hook.
type Verdict uint8

// Verdicts.
const (
	NoSuchHook  Verdict = iota // the mark is on no hook
	HookAgree                  // they are the same hook
	HookVaries                 // some makers' charts have it so, most have not
	HookDiffers                // no chart has it so
)

// HookAgrees judges a letter or number, as HookByUS reads it or with UK before
// it, against a size in mm.
func HookAgrees(mark string, mm float64) Verdict {
	t, ok := ParseHook(mark)
	if !ok || t.Mark.empty() {
		return NoSuchHook
	}
	return t.Mark.agrees(mm)
}
