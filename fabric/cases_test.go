package fabric

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// caseRow is a row of testdata/cases/rounds.tsv.
type caseRow struct{ edge, words, takes, makes, rules string }

func caseRows(t *testing.T) []caseRow {
	f, err := os.Open("../testdata/cases/rounds.tsv")
	require.NoError(t, err)
	defer f.Close()
	var rows []caseRow
	for s := bufio.NewScanner(f); s.Scan(); {
		if c := strings.Split(s.Text(), "\t"); len(c) == 5 && c[0] != "edge" {
			rows = append(rows, caseRow{c[0], c[1], c[2], c[3], c[4]})
		}
	}
	require.Greater(t, len(rows), 60)
	return rows
}

// TestCases holds each round of the cases: what it takes, what it makes, and
// the problems that working it brings to light.
func TestCases(t *testing.T) {
	for _, c := range caseRows(t) {
		t.Run(c.edge+" "+c.words, func(t *testing.T) {
			text := "Terms: US\nPiece: Case\nRnd 1: " + c.words + "\n"
			if c.edge != "start" {
				text = "Terms: US\nPiece: Case\nRnd 1: " + c.edge + " sc in magic ring\nRnd 2: " + c.words + "\n"
			}
			p := Work(grammar.Parse(text))
			r := p.Pieces[0].Last()
			var rules []string
			for _, f := range r.Line.Faults {
				kind := "syntax"
				if f.Unknown {
					kind = "unknown-term"
				}
				rules = append(rules, kind)
			}
			for _, x := range r.Problems {
				rules = append(rules, string(x.Kind))
			}
			want := strings.TrimPrefix(c.rules, "-")
			assert.Equal(t, want, strings.Join(rules, ","), "%+v", r.Problems)
			if c.takes != "-" {
				assert.Equal(t, c.takes, strconv.FormatInt(r.Takes, 10), "takes")
			}
			if c.makes != "-" {
				assert.Equal(t, c.makes, strconv.FormatInt(r.Makes, 10), "makes")
			}
		})
	}
}
