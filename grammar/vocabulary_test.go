package grammar

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryLabelFormIsALabel(t *testing.T) {
	forms := LabelForms()
	require.Len(t, forms, len(Labels()))
	for _, f := range forms {
		for _, spelling := range append([]string{f.Name}, f.Others...) {
			head := spelling
			if f.TakesKey {
				head += " A"
			}
			if f.TakesRange {
				head += " 2"
			}
			assert.NotEqual(t, Bad{}, ParseLine(strings.ToUpper(head)+": x", 1).Node, head)
		}
	}
}

func TestEverySpellingIsItsWord(t *testing.T) {
	require.NotEmpty(t, Keys())
	for _, k := range Keys() {
		require.NotEmpty(t, k.Spellings())
		assert.Equal(t, k.String(), k.Spellings()[0])
	}
	assert.Nil(t, KeyNone.Spellings())
}

func TestEveryCountWordIsACount(t *testing.T) {
	for _, w := range CountWords() {
		toks := Tokens(w)
		require.Len(t, toks, 1, w)
		assert.Contains(t, []Kind{Number, Ordinal, TimesWord}, toks[0].Kind, w)
	}
}

func TestEveryVerbBeginsAnAction(t *testing.T) {
	for _, v := range Verbs() {
		assert.IsType(t, &Action{}, ParseLine(strings.ToUpper(v[:1])+v[1:]+".", 1).Node, v)
	}
}

func TestEveryUnitIsRead(t *testing.T) {
	for _, u := range weightUnits {
		assert.Positive(t, ParseLine("Yarn A: fern, 50 "+u, 1).Node.(*Yarn).Grams.N, u)
	}
	for _, u := range ballWords {
		assert.EqualValues(t, 2, ParseLine("Yarn A: fern, 2 "+u, 1).Node.(*Yarn).Balls.N, u)
	}
	for _, u := range UnitWords() {
		if !slices.Contains(weightUnits, u) && !slices.Contains(ballWords, u) {
			assert.NotEmpty(t, ParseLine("Size: 9 "+u+" tall", 1).Node.(*Size).Dims, u)
		}
	}
}

func TestEveryWhereWordIsRead(t *testing.T) {
	forms := map[string]string{"apart": "3 sts apart", "about": "about 3 sts apart", "in line with": "in line with Door"}
	for _, w := range WhereWords() {
		words := w
		if f := forms[w]; f != "" {
			words = f
		}
		l := ParseLine("Sew: Ear to Head, "+words, 1)
		assert.Empty(t, l.Faults, w)
		require.Len(t, l.Node.(*Sew).Where, 1, w)
		assert.NotEqual(t, WhereFree, l.Node.(*Sew).Where[0].Kind, w)
	}
}
