package editors

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// found is what a pattern takes from the start of a text, whatever its case.
func found(t *testing.T, pattern string) func(text string) string {
	t.Helper()
	re, err := regexp.Compile("(?i)^(?:" + pattern + ")")
	require.NoError(t, err)
	return re.FindString
}

func TestEveryStitchIsFoundWholeHoweverItIsWritten(t *testing.T) {
	find := found(t, lastRule(t, stitches()).parts[0].pattern)
	require.NotEmpty(t, glossary())
	for _, s := range glossary() {
		for _, written := range []string{s, strings.ToUpper(s), strings.ReplaceAll(s, " ", "-"), strings.ReplaceAll(s, " ", "\u00a0"), strings.ReplaceAll(s, " ", "–")} {
			assert.Equal(t, written, find(written+", sc"))
		}
	}
}

func TestStitchesInThePluralAndWorkedTogether(t *testing.T) {
	find := found(t, lastRule(t, stitches()).parts[0].pattern)
	for _, s := range []string{"bobbles", "Magic Rings", "dc7tog", "dc 7 tog", "dc 12 together", "shells", "V-sts", "front post double crochets"} {
		assert.Equal(t, s, find(s+" in next st"))
	}
}

func lastRule(t *testing.T, list []rule) rule {
	t.Helper()
	require.NotEmpty(t, list)
	return list[len(list)-1]
}

func TestEveryWordOfTheNotationIsColoured(t *testing.T) {
	rules := startsOf(append(stitches(), words()...))
	for _, k := range grammar.Keys() {
		for _, s := range k.Spellings() {
			if s == "&" || s == "+" {
				continue
			}
			s = strings.ReplaceAll(s, "’", "'")
			got := firstRule(rules, s)
			assert.NotEqual(t, plain, got, s)
			assert.NotEqual(t, stitch, got, "%s is a word, and colored as a stitch", s)
		}
	}
}

// start is a rule as it begins.
type start struct {
	class class
	re    *regexp.Regexp
}

func startsOf(list []rule) []start {
	var out []start
	for _, r := range list {
		out = append(out, start{r.parts[0].class, regexp.MustCompile(`(?i)^(?:` + r.parts[0].pattern + `)\b`)})
	}
	return out
}

// firstRule is the class that the first rule which begins a text gives to all of
// it; plain where it takes more or less.
func firstRule(rules []start, text string) class {
	for _, r := range rules {
		if got := r.re.FindString(text); got == text {
			return r.class
		} else if got != "" {
			return plain
		}
	}
	return plain
}

func TestPhrasesFindTheLongest(t *testing.T) {
	for _, c := range []struct {
		list       []string
		text, want string
	}{
		{[]string{"sc", "sc2tog", "sc 2 together"}, "sc2tog", "sc2tog"},
		{[]string{"sc", "sc2tog", "sc 2 together"}, "sc 2 together", "sc 2 together"},
		{[]string{"sc", "sc2tog", "sc 2 together"}, "sc 2", "sc"},
		{[]string{"dc", "dc dc"}, "dc-dc", "dc-dc"},
		{[]string{"3 dc cl"}, "3dc cl", "3dc cl"},
		{[]string{"don't"}, "don’t", "don’t"},
		{[]string{"ab", "cb", "c"}, "cb", "cb"},
		{[]string{"ab", "cb", "c"}, "a", ""},
	} {
		assert.Equal(t, c.want, found(t, phrases(c.list))(c.text), "%s in %s", c.list, c.text)
	}
}

func TestEitherCase(t *testing.T) {
	re := regexp.MustCompile("^" + eitherCase([]string{"with", "change to"}) + "$")
	for _, s := range []string{"with", "With", "WITH", "Change to"} {
		assert.Regexp(t, re, s)
	}
	assert.NotRegexp(t, re, "to")
}
