package grammar

import (
	"maps"
	"slices"
	"strings"
)

// LabelForm is one label of the notation as programs that color it need it.
type LabelForm struct {
	// Name is the canonical spelling, Others are further ones in lower case.
	Name   string
	Others []string
	// TakesKey is set where a yarn's key stands before the colon, TakesRange
	// where the number of a round or row does.
	TakesKey, TakesRange bool
}

// LabelForms lists the labels in the order of the reference.
func LabelForms() []LabelForm {
	var out []LabelForm
	for _, l := range labels() {
		out = append(out, LabelForm{Name: l.name, Others: slices.Clone(l.others), TakesKey: l.takesKey, TakesRange: l.takesRange})
	}
	return out
}

// Keys lists every word of the notation.
func Keys() []Key {
	var out []Key
	for k := KeyNone + 1; k < keyCount; k++ {
		out = append(out, k)
	}
	return out
}

// Spellings are how a word of the notation may be written, folded as terms.Key
// folds, the canonical one first; nil for no word.
func (k Key) Spellings() []string {
	if k <= KeyNone || k >= keyCount {
		return nil
	}
	return slices.Clone(keywords[k])
}

// CountWords are the words that stand for a number, an ordinal or a number of
// times, in lower case and sorted.
func CountWords() []string {
	var out []string
	for _, words := range []map[string]int32{numberWords, ordinalWords, timesWords} {
		out = slices.AppendSeq(out, maps.Keys(words))
	}
	slices.Sort(out)
	return out
}

// Verbs are how action lines begin, in lower case, the longer before the shorter.
func Verbs() []string {
	var out []string
	for _, v := range verbs {
		out = append(out, v.name)
	}
	return out
}

// weightUnits and ballWords are the units of a Yarn line that yarnPart reads.
var (
	weightUnits = []string{"g", "gram", "grams", "oz", "ounces"}
	ballWords   = []string{"ball", "balls", "skein", "skeins", "hank", "hanks"}
)

// UnitWords are the words and signs of lengths, weights and balls of yarn, in
// lower case and sorted.
func UnitWords() []string {
	out := slices.Concat(weightUnits, ballWords)
	out = slices.AppendSeq(out, maps.Keys(millimetres))
	out = slices.AppendSeq(out, maps.Keys(unitNames))
	slices.Sort(out)
	return out
}

// WhereWords are the words of making up that wherePart and sideWord read besides
// the words of the notation, in lower case.
func WhereWords() []string {
	return strings.Split("apart,about,in line with,front,back,top,bottom,left,right,sides,centred,centered,open edge", ",")
}
