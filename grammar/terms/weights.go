package terms

import (
	"math"
	"slices"
	"strings"
)

// Weight is one class of the standard yarn weight system, with its columns for
// crochet.
type Weight struct {
	Number int
	Name   string
	// Types are the names in shops for yarns of this weight.
	Types []string
	// FewSts and ManySts bound the single crochet in 10 cm; FewSts is 0 for "and fewer".
	FewSts, ManySts float64
	// HookFrom and HookTo bound the hook in mm; HookTo is 0 for "and larger".
	HookFrom, HookTo float64
	// Hooks is the same range in US sizes.
	Hooks  string
	Source string
}

const (
	weightSource = "Craft Yarn Council standard yarn weight system (www.YarnStandards.com), as printed in a crochet magazine of October 2018"
	plySource    = "; ply names from British and Australian shops"
)

// weights are guidelines, as the Council says: lace above all is worked on
// hooks of many sizes, and toys on smaller hooks than these. Older printings
// give 5 to 9 sts for super bulky and end its hooks at 15 mm, where jumbo's begin.
var weights = []Weight{
	{0, "lace", []string{"thread", "size 10 thread", "10 count thread", "crochet thread", "1 ply", "cobweb", "fingering"}, 32, 42, 1.5, 2.25, "steel 8 to B-1", weightSource + plySource},
	{1, "super fine", []string{"fingering", "sock", "baby", "2 ply", "3 ply"}, 21, 32, 2.25, 3.5, "B-1 to E-4", weightSource + plySource},
	{2, "fine", []string{"sport", "baby", "4 ply"}, 16, 20, 3.5, 4.5, "E-4 to 7", weightSource + plySource},
	{3, "light", []string{"DK", "double knitting", "double knit", "light worsted", "8 ply"}, 12, 17, 4.5, 5.5, "7 to I-9", weightSource + plySource + "; 8 ply from memory"},
	{4, "medium", []string{"worsted", "aran", "afghan", "10 ply"}, 11, 14, 5.5, 6.5, "I-9 to K-10½", weightSource + plySource + "; 10 ply from memory"},
	{5, "bulky", []string{"chunky", "craft", "rug", "12 ply"}, 8, 11, 6.5, 9, "K-10½ to M/N-13", weightSource + plySource + "; 12 ply from memory"},
	{6, "super bulky", []string{"super chunky", "roving"}, 6, 9, 9, 16, "M/N-13 to Q", weightSource},
	{7, "jumbo", []string{"roving"}, 0, 5, 16, 0, "Q and larger", weightSource},
}

// Weights are the classes 0 to 7, the finest first.
func Weights() []Weight { return slices.Clone(weights) }

// WeightByNumber finds a class by its number.
func WeightByNumber(n int) (Weight, bool) {
	if n < 0 || n >= len(weights) {
		return Weight{}, false
	}
	return weights[n], true
}

// WeightByName finds the classes that a name stands for: one for the standard
// names, which also match without their space and with "weight" after them;
// several for a shop name that two classes share, the class that it chiefly
// names first. It is empty for an unknown name.
func WeightByName(name string) []Weight {
	key := strings.TrimSuffix(strings.TrimSuffix(weightKey(name), "yarn"), "weight")
	if key == "" {
		return nil
	}
	var found []Weight
	for _, w := range weights {
		if weightKey(w.Name) == key {
			return []Weight{w}
		}
		if slices.ContainsFunc(w.Types, func(t string) bool { return weightKey(t) == key }) {
			found = append(found, w)
		}
	}
	// The lace class lists fingering besides its own names.
	if key == "fingering" {
		slices.Reverse(found)
	}
	return found
}

func weightKey(s string) string { return strings.ReplaceAll(Key(s), " ", "") }

// WeightsForGauge are the classes that a gauge in single crochet fits, given
// per 10 cm: the ranges overlap, so there may be two. It is rounded to whole
// stitches, as the table is; empty where no class fits.
func WeightsForGauge(sts float64) []Weight {
	sts = math.Round(sts)
	var found []Weight
	for _, w := range weights {
		if sts >= 1 && sts >= w.FewSts && sts <= w.ManySts {
			found = append(found, w)
		}
	}
	return found
}

// HookRange is the range of hooks for a class in mm; the upper end is infinite
// for the thickest class, and both are 0 for a number that is no class.
func HookRange(number int) (from, to float64) {
	w, ok := WeightByNumber(number)
	switch {
	case !ok:
		return 0, 0
	case w.HookTo == 0:
		return w.HookFrom, math.Inf(1)
	}
	return w.HookFrom, w.HookTo
}
