package editors

import (
	"maps"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

func TestEveryLabelHasContents(t *testing.T) {
	assert.ElementsMatch(t, grammar.Labels(), slices.Collect(maps.Keys(contents)))
	for _, f := range grammar.LabelForms() {
		want := contents[f.Name]()
		i := slices.IndexFunc(kinds(), func(k kind) bool { return k.name == want.name })
		require.GreaterOrEqual(t, i, 0, f.Name)
		assert.Equal(t, f.TakesKey, kinds()[i].key, f.Name)
		assert.Equal(t, f.TakesRange, kinds()[i].ranged, f.Name)
	}
}

func TestRulesOfOneNameAreOne(t *testing.T) {
	byName := map[string]rule{}
	for _, k := range kinds() {
		for _, r := range slices.Concat(k.lead, k.rules) {
			if other, ok := byName[r.name]; ok {
				assert.Equal(t, other, r)
			}
			byName[r.name] = r
		}
	}
	require.NotEmpty(t, byName)
}

func TestOneOrderOfTheRulesIsEveryKinds(t *testing.T) {
	at := map[string]int{}
	for i, r := range ruleOrder() {
		at[r.name] = i
	}
	for _, k := range kinds() {
		for i := 1; i < len(k.rules); i++ {
			assert.Less(t, at[k.rules[i-1].name], at[k.rules[i].name], "%s: %s, %s", k.name, k.rules[i-1].name, k.rules[i].name)
		}
	}
}

// An empty part would be no match in Kate, and one that begins with a blank would
// begin before the place that a lead is looked for at.
func TestNoPartIsEmptyAndNoLeadBeginsWithABlank(t *testing.T) {
	for _, k := range kinds() {
		for _, r := range slices.Concat(k.lead, k.rules) {
			for _, p := range r.parts {
				assert.NotRegexp(t, regexp.MustCompile("^(?:"+p.pattern+")$"), "", "%s of %s", r.name, k.name)
			}
		}
		for _, r := range k.lead {
			assert.NotRegexp(t, regexp.MustCompile("^(?:"+r.parts[0].pattern+")"), " Shell", "%s of %s", r.name, k.name)
		}
	}
}

func TestEveryClassLooksLikeSomething(t *testing.T) {
	scopes := map[string]class{}
	for _, l := range looks {
		assert.NotEmpty(t, l.link, l.class)
		assert.NotEmpty(t, l.style, l.class)
		assert.Empty(t, scopes[l.scope], "%s has the scope of %s", l.class, scopes[l.scope])
		scopes[l.scope] = l.class
	}
}
