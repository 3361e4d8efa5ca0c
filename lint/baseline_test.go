package lint

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func found(rules ...string) (out []Finding) {
	for i, r := range rules {
		out = append(out, Finding{Rule: r, Start: i})
	}
	return out
}

func TestBaselineSplit(t *testing.T) {
	var b Baseline
	b.Count("snail.crochet", found("total-differs", "total-differs", "numbering"))
	tests := []struct {
		name         string
		file         string
		now          []Finding
		fresh, known []Finding
	}{
		{"as many are held", "snail.crochet", found("total-differs", "total-differs"), nil, found("total-differs", "total-differs")},
		{"fewer are held", "snail.crochet", found("total-differs"), nil, found("total-differs")},
		{"with one more, all are told", "snail.crochet", found("total-differs", "total-differs", "total-differs"), found("total-differs", "total-differs", "total-differs"), nil},
		{"another rule is told", "snail.crochet", found("numbering", "marker"), []Finding{{Rule: "marker", Start: 1}}, found("numbering")},
		{"another file is told", "hat.crochet", found("numbering"), found("numbering"), nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fresh, known := b.Split(tt.file, tt.now)
			assert.Equal(t, tt.fresh, fresh)
			assert.Equal(t, tt.known, known)
		})
	}
}

func TestBaselineBytes(t *testing.T) {
	var b Baseline
	b.Count("snail.crochet", found("total-differs", "numbering", "total-differs"))
	b.Count("hat.crochet", nil)
	want := `{
  "version": 1,
  "files": {
    "snail.crochet": {
      "numbering": 1,
      "total-differs": 2
    }
  }
}
`
	assert.Equal(t, want, string(b.Bytes()))
	back, err := ReadBaseline(b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, b, back)
	assert.Equal(t, 3, back.Len())
	assert.Equal(t, "{\n  \"version\": 1,\n  \"files\": {}\n}\n", string(Baseline{}.Bytes()))
}

func TestReadBaselineRefuses(t *testing.T) {
	for text, want := range map[string]string{
		``:                                      "no baseline",
		`[]`:                                    "no baseline",
		`{}`:                                    "version 0",
		`{"version":2}`:                         "version 2",
		`{"version":1,"files":{"a":{"b":-1}}}`:  "below nothing",
		`{"version":1,"files":{"a":{"b":"x"}}}`: "no baseline",
	} {
		_, err := ReadBaseline([]byte(text))
		assert.ErrorContains(t, err, want, text)
	}
}

func TestBaselineOnlyShrinks(t *testing.T) {
	var old, now Baseline
	old.Count("snail.crochet", found("total-differs", "total-differs", "numbering"))
	old.Count("hat.crochet", found("marker"))
	old.Count("motif.crochet", found("marker"))
	now.Count("snail.crochet", found("total-differs", "marker", "numbering", "numbering"))
	now.Count("new.crochet", found("marker"))
	var want Baseline
	want.Count("snail.crochet", found("total-differs", "numbering"))
	want.Count("motif.crochet", found("marker"))
	assert.Equal(t, want, old.Shrink(now, func(file string) bool { return file != "motif.crochet" }))
}
