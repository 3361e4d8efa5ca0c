package lint

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// exampleHeader satisfies the rules of the header, so that a fragment is
// judged by its own lines.
const exampleHeader = `Pattern: Example
Terms: US
Gauge: 24 sts x 26 rnds = 10 cm in sc
Hook: 3 mm
Yarn A: fern, light (3), 50 g / 125 m
Caution: Not for a child under three.
`

func example(text string) string {
	if strings.HasPrefix(text, "Pattern:") {
		return text
	}
	return exampleHeader + text
}

func lintText(text string) []Finding { return Check(grammar.Parse(text), Options{}) }

func rulesOf(fs []Finding) []string {
	var names []string
	for _, f := range fs {
		names = append(names, f.Rule)
	}
	return names
}

func byRule(fs []Finding, rule string) []Finding {
	return slices.DeleteFunc(slices.Clone(fs), func(f Finding) bool { return f.Rule != rule })
}

// declared are the rules that the design names, each with its severity.
var declared = map[string]Severity{
	"syntax": Error, "unknown-term": Error, "total-differs": Error, "too-many-worked": Error, "stitches-left": Error,
	"repeat-does-not-fit": Error, "no-such-place": Error, "total-missing": Warning, "total-part-differs": Error,
	"numbering": Error, "two-readings": Warning, "turning-chain": Warning, "mixed-terms": Error, "terms-missing": Warning,
	"undeclared-yarn": Error, "unused-yarn": Warning, "hook-size": Error, "gauge-missing": Warning, "gauge-unlikely": Information,
	"materials": Warning, "make-and-sew": Error, "placement": Error, "order": Warning, "cannot-close": Warning, "shape": Information,
	"size-differs": Warning, "yarn-short": Warning, "marker": Hint, "caution-missing": Warning, "definition": Warning,
	"repeat-simpler": Hint, "suppression": Warning,
}

func TestRulesOfTheDesignAreDeclared(t *testing.T) {
	got := map[string]Severity{}
	for _, r := range Rules() {
		assert.NotContains(t, got, r.Name, "declared twice")
		got[r.Name] = r.Severity
	}
	for name, severity := range declared {
		if s, ok := got[name]; assert.True(t, ok, "%s is not declared", name) {
			assert.Equal(t, severity, s, name)
		}
	}
}

func TestRuleTexts(t *testing.T) {
	name := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	for _, r := range Rules() {
		assert.Regexp(t, name, r.Name)
		assert.NotNil(t, r.Start, r.Name)
		for what, s := range map[string]string{"summary": r.Summary, "why": r.Why, "bad": r.Bad, "good": r.Good} {
			assert.NotEmpty(t, strings.TrimSpace(s), "%s of %s", what, r.Name)
		}
		assert.NotContains(t, r.Summary, "\n", r.Name)
		assert.False(t, strings.HasSuffix(r.Summary, "."), "%s: the summary is no sentence", r.Name)
		assert.True(t, strings.HasSuffix(r.Why, "."), "%s: the why is one or more sentences", r.Name)
		assert.True(t, strings.HasSuffix(r.Bad, "\n") && strings.HasSuffix(r.Good, "\n"), "%s: examples are whole lines", r.Name)
		assert.NotEqual(t, r.Bad, r.Good, r.Name)
	}
}

func TestBadExamplesAreFound(t *testing.T) {
	for _, r := range Rules() {
		t.Run(r.Name, func(t *testing.T) {
			text := example(r.Bad)
			found := lintText(text)
			assert.NotEmpty(t, byRule(found, r.Name), "not found; found are %v", found)
			for _, f := range found {
				assert.False(t, f.Severity == Error && f.Rule != r.Name, "%s is found too: %s", f.Rule, f.Message)
				assert.NotEmpty(t, f.Message)
				assert.True(t, 0 <= f.Start && f.Start < f.End && f.End <= len(text), "%+v", f)
				for _, also := range f.Related {
					assert.True(t, 0 <= also.Start && also.Start < also.End && also.End <= len(text), "%+v", also)
				}
			}
			own := byRule(found, r.Name)
			if len(own) > 0 {
				assert.Equal(t, r.Severity, own[0].Severity)
			}
		})
	}
}

func TestGoodExamplesAreClean(t *testing.T) {
	for _, r := range Rules() {
		t.Run(r.Name, func(t *testing.T) {
			assert.Empty(t, lintText(example(r.Good)))
		})
	}
}

// Every repair that is offered takes its finding away, and brings no new error.
func TestRepairsOfBadExamplesMend(t *testing.T) {
	repaired := 0
	for _, r := range Rules() {
		t.Run(r.Name, func(t *testing.T) {
			text := example(r.Bad)
			found := byRule(lintText(text), r.Name)
			for _, f := range found {
				for _, x := range f.Fixes {
					repaired++
					require.NotEmpty(t, x.Title)
					mended, all := Apply(text, x.Edits)
					require.True(t, all, "%s: edits overlap", x.Title)
					after := lintText(mended)
					assert.Less(t, len(byRule(after, r.Name)), len(found), "%s leaves it:\n%s", x.Title, mended)
					assert.LessOrEqual(t, countErrors(after), countErrors(lintText(text)), "%s brings an error:\n%s", x.Title, mended)
				}
				if len(f.Fixes) > 0 {
					assert.NotEmpty(t, r.Repair, "its repair is not explained")
				}
			}
		})
	}
	assert.Greater(t, repaired, 20)
}

func TestRulesCanBeTurnedOffAndWeighed(t *testing.T) {
	for _, r := range Rules() {
		f := grammar.Parse(example(r.Bad))
		assert.Empty(t, byRule(Check(f, Options{Off: map[string]bool{r.Name: true}}), r.Name), r.Name)
		for _, x := range byRule(Check(f, Options{Severity: map[string]Severity{r.Name: Hint}}), r.Name) {
			assert.Equal(t, Hint, x.Severity, r.Name)
		}
		for _, x := range Check(f, Options{NoFixes: true}) {
			assert.Empty(t, x.Fixes, "%s: %s", r.Name, x.Rule)
		}
	}
}
