package fabric

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// block is one example of testdata/sources or testdata/cases: a title, a piece
// in the notation and what is expected of it.
type block struct {
	file, title string
	text        string
	expect      []string
}

func blocks(t *testing.T, pattern string) []block {
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var out []block
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, part := range strings.Split("\n"+string(data), "\n== ")[1:] {
			lines := strings.Split(part, "\n")
			b := block{file: filepath.Base(file), title: lines[0]}
			for _, l := range lines[1:] {
				key, rest, _ := strings.Cut(l, " ")
				switch key {
				case "source:", "from:", "remark:":
				case "expect", "change", "delete":
					b.expect = append(b.expect, key+" "+rest)
				default:
					b.text += l + "\n"
				}
			}
			out = append(out, b)
		}
	}
	return out
}

var expectLine = regexp.MustCompile(`^expect line "([^"]+)": (.+)$`)

// found lists the problems and faults of counting and form, by round.
func found(p *Pattern) map[string][]string {
	out := map[string][]string{}
	for _, piece := range p.Pieces {
		for _, r := range piece.Rounds {
			for _, f := range r.Line.Faults {
				out[r.Name()] = append(out[r.Name()], "syntax: "+f.Message)
			}
			for _, x := range r.Problems {
				out[r.Name()] = append(out[r.Name()], string(x.Kind)+": "+x.Message)
			}
		}
	}
	return out
}

// TestSources works the examples of published books and tables. Each names its
// source in testdata/sources.
func TestSources(t *testing.T) {
	all := blocks(t, "../testdata/sources/*.txt")
	require.Greater(t, len(all), 80)
	for _, b := range all {
		t.Run(b.file+"/"+b.title, func(t *testing.T) {
			got := found(Work(grammar.Parse("Terms: US\n" + b.text)))
			for _, e := range b.expect {
				if m := expectLine.FindStringSubmatch(e); m != nil {
					hit := false
					for _, rule := range strings.Split(m[2], " or ") {
						for _, g := range got[m[1]] {
							hit = hit || strings.HasPrefix(g, strings.TrimSpace(rule)+":")
						}
					}
					assert.True(t, hit || m[2] == "numbering", "%s should report on %s: %v\n%s", m[2], m[1], got, b.text)
					delete(got, m[1])
				}
			}
			assert.Empty(t, got, b.text)
		})
	}
}
