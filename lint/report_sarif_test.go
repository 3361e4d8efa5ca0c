package lint

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sarifStandard compiles the schema of OASIS SARIF 2.1.0 with Errata 01.
func sarifStandard(t *testing.T) *jsonschema.Schema {
	t.Helper()
	path := filepath.Join("..", "testdata", "schema", "sarif-2.1.0.json")
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	require.NoError(t, c.AddResource(sarifSchema, doc))
	s, err := c.Compile(sarifSchema)
	require.NoError(t, err)
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, data []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return s.Validate(doc)
}

var sarifRules = []*Rule{
	{Name: "stitches-left", Severity: Error, Summary: "stitches are left over", Why: "A maker cannot tell.", Bad: "Rnd 2: sc 5", Good: "Rnd 2: sc 6"},
	{Name: "total-differs", Severity: Error, Summary: "the total is wrong", Why: "A maker rips back.", Bad: "Rnd 1: 6 sc (7)", Good: "Rnd 1: 6 sc (6)"},
	{Name: "two-readings", Severity: Warning, Summary: "read in two ways", Why: "Makers differ.", Bad: "2 sc in next 3 sts", Good: "sc 3"},
	{Name: "marker", Severity: Hint, Summary: "a marker is never moved", Why: "It gets in the way.", Bad: "pm", Good: "sc"},
}

func TestSARIFHoldsToTheStandard(t *testing.T) {
	standard := sarifStandard(t)
	r := snailReport()
	r.Findings = append(r.Findings,
		Finding{Rule: "marker", Severity: Hint, Start: 0, End: 0, Message: "m", Fixes: []Fix{
			{"take it out", false, []Edit{{0, 8, ""}}}, {"nothing to do", true, nil}}},
		Finding{Rule: "not-registered", Severity: Information, Start: 4, End: 30, Message: "over two lines"})
	r.Known = []Finding{{Rule: "two-readings", Severity: Warning, Start: 14, End: 17, Message: "known"}}
	reports := map[string][]Report{
		"no file":  nil,
		"no fault": {{File: "hat.crochet", Text: "Pattern: Hat\n"}},
		"findings": {{File: "hat.crochet"}, r, {File: "a b/é#1?.crochet", Text: "x", Findings: []Finding{{Rule: "marker"}}}},
		"outside":  {{File: "../up.crochet", Text: "x", Findings: []Finding{{Rule: "marker"}}}, {File: "/abs/hat.crochet"}, {File: `C:\patterns\hat.crochet`}},
		"stdin":    {{File: "<stdin>", Text: "x", Findings: []Finding{{Rule: "marker"}}}},
	}
	for name, rs := range reports {
		for _, version := range []string{"", "1.2.3"} {
			assert.NoError(t, validate(t, standard, sarifOf(rs, version, sarifRules)), "%s, version %q", name, version)
		}
	}
	broken := strings.Replace(string(sarifOf(reports["findings"], "", sarifRules)), `"startLine": 3`, `"startLine": 0`, 1)
	assert.Error(t, validate(t, standard, []byte(broken)), "the schema must be able to refuse")
}

func TestSARIFSays(t *testing.T) {
	r := snailReport()
	r.Known = []Finding{{Rule: "two-readings", Severity: Warning, Start: 14, End: 17, Message: "known"}}
	var log sarifLog
	require.NoError(t, json.Unmarshal(sarifOf([]Report{{File: "hat.crochet"}, r}, "1.2.3", sarifRules), &log))
	run := log.Runs[0]
	assert.Equal(t, "unicodeCodePoints", run.ColumnKind)
	assert.Equal(t, "1.2.3", run.Tool.Driver.Version)
	require.Len(t, run.Tool.Driver.Rules, len(sarifRules))
	assert.Equal(t, "StitchesLeft", run.Tool.Driver.Rules[0].Name)
	assert.Equal(t, "note", run.Tool.Driver.Rules[3].Default.Level)
	require.Len(t, run.Results, 2)
	res := run.Results[0]
	assert.Equal(t, 1, *res.RuleIndex)
	assert.Equal(t, "error", res.Level)
	loc := res.Locations[0].Physical
	assert.Equal(t, sarifArtifactLocation{"snail.crochet", "%SRCROOT%", new(1)}, loc.Artifact)
	assert.Equal(t, sarifRegion{3, 30, 3, 34, &sarifMessage{"(13)"}}, loc.Region)
	assert.Equal(t, "(12)", res.Fixes[0].Changes[0].Replacements[0].Inserted.Text)
	assert.Equal(t, "Rnd 1 makes 6", res.Related[0].Message.Text)
	assert.Empty(t, res.Suppressions)
	assert.Equal(t, "external", run.Results[1].Suppressions[0].Kind)
}

func TestSARIFFingerprintsOutliveOtherEdits(t *testing.T) {
	prints := func(text string) (out []string) {
		r := Report{File: "a.crochet", Text: text}
		for at := 0; ; {
			i := strings.Index(text[at:], "(13)")
			if i < 0 {
				break
			}
			r.Findings = append(r.Findings, Finding{Rule: "total-differs", Start: at + i, End: at + i + 4})
			at += i + 4
		}
		var log sarifLog
		require.NoError(t, json.Unmarshal(sarifOf([]Report{r}, "", nil), &log))
		for _, res := range log.Runs[0].Results {
			out = append(out, res.Fingerprints["workeven/v1"])
		}
		return out
	}
	before := prints("Rnd 2: inc (13)\nRnd 3: sc (13)\nRnd 3: sc (13)\n")
	require.Len(t, before, 3)
	assert.NotEqual(t, before[0], before[1])
	assert.NotEqual(t, before[1], before[2], "like lines are told apart by their order")
	assert.Equal(t, before, prints("Pattern: Hat\n\nRnd 2:  inc (13)\nRnd 3: sc (13)\n\nRnd 3: sc (13)\n"))
}

func TestSarifArtifacts(t *testing.T) {
	tests := []struct{ file, uri, base string }{
		{"hat.crochet", "hat.crochet", "%SRCROOT%"},
		{"my hats/é.crochet", "my%20hats/%C3%A9.crochet", "%SRCROOT%"},
		{"a:b.crochet", "./a:b.crochet", "%SRCROOT%"},
		{"../hat.crochet", "../hat.crochet", ""},
		{"/home/hat.crochet", "file:///home/hat.crochet", ""},
		{`C:\hat.crochet`, "file:///C:/hat.crochet", ""},
	}
	for _, tt := range tests {
		got := sarifArtifactOf(tt.file)
		assert.Equal(t, tt.base, got.BaseID, tt.file)
		assert.Equal(t, tt.uri, got.URI)
	}
}
