package terms

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// published reads a table of testdata/sources: its lines by column name. Each
// line names its source there.
func published(t *testing.T, name string) []map[string]string {
	data, err := os.ReadFile("../../testdata/sources/" + name)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	columns := strings.Split(lines[0], "\t")
	var out []map[string]string
	for _, l := range lines[1:] {
		row := map[string]string{}
		for i, cell := range strings.Split(l, "\t") {
			if cell != "-" {
				row[columns[i]] = cell
			}
		}
		out = append(out, row)
	}
	require.NotEmpty(t, out)
	return out
}

func number(t *testing.T, s string) float64 {
	f, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return f
}

// TestPublishedWeights holds the weights for each gauge against the Craft Yarn
// Council's table (testdata/sources/yarn-weights.tsv).
func TestPublishedWeights(t *testing.T) {
	for _, row := range published(t, "yarn-weights.tsv") {
		var got []string
		for _, w := range WeightsForGauge(number(t, row["sc_per_10cm"])) {
			got = append(got, strconv.Itoa(w.Number))
		}
		want := strings.FieldsFunc(row["weights"], func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
		assert.ElementsMatch(t, want, got, "%s sc in 10 cm", row["sc_per_10cm"])
	}
	for _, row := range published(t, "yarn-weight-rows.tsv") {
		w, ok := WeightByNumber(int(number(t, row["number"])))
		require.True(t, ok)
		assert.True(t, strings.EqualFold(row["name"], w.Name), "%s, %s", row["name"], w.Name)
		assert.Equal(t, number(t, row["hook_mm_from"]), w.HookFrom, row["name"])
		if to := row["hook_mm_to"]; to != "" {
			assert.Equal(t, number(t, to), w.HookTo, row["name"])
		}
	}
}

// TestPublishedTerms holds the names in both systems against the published map
// (testdata/sources/us-uk.tsv), there and back.
func TestPublishedTerms(t *testing.T) {
	stitches := 0
	for _, row := range published(t, "us-uk.tsv") {
		us := Find(US, row["us"])
		if us == nil {
			us = Find(US, row["us_abbr"])
		}
		if us == nil {
			continue // a word of the trade that is no stitch, such as gauge
		}
		stitches++
		for _, name := range []string{row["uk"], row["uk_abbr"], row["uk_also"]} {
			if name != "" {
				assert.Same(t, us, Find(UK, name), "%s is %s", row["us"], name)
			}
		}
		there, ok := Counterpart(US, us.US.Abbr)
		require.True(t, ok)
		back, ok := Counterpart(UK, there)
		require.True(t, ok)
		assert.Equal(t, us.US.Abbr, back)
	}
	assert.GreaterOrEqual(t, stitches, 8)
}

// TestWrongTermsRefused refuses the pairs of a wrong table that was really
// published, and other ways to get the shift wrong (testdata/sources/wrong-us-uk.tsv).
func TestWrongTermsRefused(t *testing.T) {
	for _, row := range published(t, "wrong-us-uk.tsv") {
		assert.Len(t, CheckMap([]Pair{{US: row["us"], UK: row["uk"]}}), 1, "%s = %s: %s", row["us"], row["uk"], row["why"])
	}
}

// TestPublishedHooks holds hook sizes against published charts
// (testdata/sources/hooks.tsv); lines that are from memory say so there.
func TestPublishedHooks(t *testing.T) {
	seen := 0
	for _, row := range published(t, "hooks.tsv") {
		if row["mark"] != "seen" || row["us"] == "" || row["kind"] != "yarn" {
			continue
		}
		seen++
		assert.NotEqual(t, HookDiffers, HookAgrees(row["us"], number(t, row["mm"])), "%s is %s mm", row["us"], row["mm"])
		assert.NotEqual(t, NoSuchHook, HookAgrees(row["us"], number(t, row["mm"])), "%s is %s mm", row["us"], row["mm"])
	}
	assert.Greater(t, seen, 10)
}
