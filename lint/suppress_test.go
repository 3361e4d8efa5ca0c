package lint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"workeven/grammar"
)

func TestSuppression(t *testing.T) {
	const slip = "Rnd 2: inc x 6 (13)"
	tests := []struct {
		name, text string
		// total says whether total-differs is still found; want what suppression says.
		total bool
		want  string
	}{
		{"at the end of the line", slip + " // allow: total-differs", false, ""},
		{"with a reason", slip + " // allow: total-differs -- counted by hand, twice", false, ""},
		{"in capitals", slip + " // Allow: Total-Differs", false, ""},
		{"on a line of its own", "// allow: total-differs\n" + slip, false, ""},
		{"with a comment and a blank between", "// allow: total-differs\n// a thought\n\n" + slip, false, ""},
		{"for the file", slip + "\n// allow file: total-differs", false, ""},
		{"two rules", slip[:len(slip)-5] + " // allow: total-differs, total-missing", false, "allows total-differs, but nothing of the kind is found there"},
		{"another rule", slip + " // allow: total-missing", true, "allows total-missing"},
		{"the line before", "Rnd 2: inc x 6 (13)\nRnd 3: sc around (12) // allow: total-differs", true, "allows total-differs"},
		{"nothing there", "Rnd 2: inc x 6 (12) // allow: total-differs", false, "allows total-differs, but nothing of the kind is found there"},
		{"nothing in the file", "Rnd 2: inc x 6 (12)\n// allow file: total-differs", false, "but nothing of the kind is found in the file"},
		{"nothing behind it", slip + "\n// allow: total-differs", true, "but no line stands behind it"},
		{"no rule of that name", slip + " // allow: total-difers", true, `there is no rule called "total-difers"; was "total-differs" meant?`},
		{"no rule at all", slip + " // allow:", true, "name a rule behind the colon"},
		{"only a reason", slip + " // allow: -- it is right", true, "name a rule behind the colon"},
		{"no colon", slip + " // allow total-differs", true, "allows nothing without a colon"},
		{"prose", slip + " // allow some ease here", true, ""},
		{"twice", slip + " // allow: total-differs, total-differs", false, "allows total-differs, but nothing"},
		{"itself", "Rnd 2: inc x 6 (12) // allow: total-differs, suppression", false, ""},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			found := lintText(example(round1 + c.text + "\n"))
			assert.Equal(t, c.total, len(byRule(found, "total-differs")) > 0)
			var says []string
			for _, f := range byRule(found, "suppression") {
				says = append(says, f.Message)
			}
			if c.want == "" {
				assert.Empty(t, says)
				return
			}
			if assert.Len(t, says, 1) {
				assert.Contains(t, says[0], c.want)
			}
		})
	}
}

func TestSuppressionRepairs(t *testing.T) {
	clean := example(round1 + "Rnd 2: inc x 6 (12)\nRnd 3: sc around (12)\n")
	for _, text := range []string{
		strings.Replace(clean, "x 6 (12)", "x 6 (12) // allow: total-differs -- why", 1),
		strings.Replace(clean, "Rnd 2:", "// allow: shape\nRnd 2:", 1),
	} {
		fixed, n, rest := FixAll(text, lintText)
		assert.Equal(t, 1, n)
		assert.Equal(t, clean, fixed)
		assert.Empty(t, rest)
		fixed, _, _ = FixAll(strings.ReplaceAll(text, "\n", "\r\n"), lintText)
		assert.Equal(t, strings.ReplaceAll(clean, "\n", "\r\n"), fixed)
	}
	text := strings.Replace(clean, "x 6 (12)", "x 6 (12) // allow total-differs", 1)
	f := byRule(lintText(text), "suppression")[0]
	mended, _ := Apply(text, f.Fixes[0].Edits)
	assert.Contains(t, mended, "// allow: total-differs")
}

// What was not looked for may be allowed: a rule that is off says nothing of
// its allowances, and the rule of allowances can be off itself.
func TestSuppressionOfRulesThatAreOff(t *testing.T) {
	f := grammar.Parse(example(round1 + "Rnd 2: inc x 6 (12) // allow: total-differs, shape\n"))
	assert.Len(t, Check(f, Options{}), 2)
	assert.Len(t, Check(f, Options{Off: map[string]bool{"shape": true}}), 1)
	assert.Empty(t, Check(f, Options{Off: map[string]bool{"suppression": true}}))
}
