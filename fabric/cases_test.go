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

// TestWordings works wordings that patterns in print use, beyond the cases.
func TestWordings(t *testing.T) {
	for _, c := range []struct{ below, words, want string }{
		{"13 sc in magic ring", "sc2tog over first 2 sts, sc in each st to last 2 sts, sc2tog over last 2 sts", "13 -> 11"},
		{"magic ring, (dc, ch 2) x 6", "sc in each dc and 2 sc in each ch-2 sp around", "6 -> 18"},
		{"magic ring, (dc, ch 2, tr, ch 1) x 6", "2 sc in each ch-2 sp and ch-1 sp around", "0 -> 24"},
		{"magic ring, (2 dc, ch 3) x 6", "4 sc in each loop around", "0 -> 24"},
		{"", "ch 30, join with sl st to form ring, ch 3 (counts as dc), dc in each ch around", "0 -> 30"},
		{"", "ch 10, 3 sc in 2nd ch from hook, sc in next 7 ch, 3 sc in last ch; working along other side of ch, sc in next 7 ch, join", "0 -> 20"},
		{"12 sc in magic ring", "(sc 3, ch 3, sl st in first ch) x 4", "12 -> 12"},
		{"12 sc in magic ring", "(sc 3, ch 3, sl st in top of last sc) x 4", "12 -> 12"},
		{"12 sc in magic ring", "*sk next st, dc in next st, dc in skipped st; rep from * around", "12 -> 12"},
		{"magic ring, (2 dc, ch 2) x 6", "*3 sc in next ch-2 sp; rep from * to last ch-2 sp, 5 sc in last ch-2 sp", "0 -> 20"},
		{"", "ch 3, 11 dc in magic ring", "0 -> 12"},
		{"12 sc in magic ring", "repeat (sc, inc) 6 times", "12 -> 18"},
		{"12 sc in magic ring", "sc 4, inc, sc in rem 7 sts", "12 -> 13"},
	} {
		text := "Piece: Case\nRnd 1: " + c.below + "\nRnd 2: " + c.words + "\n"
		if c.below == "" {
			text = "Piece: Case\nRnd 1: " + c.words + "\n"
		}
		r := Work(grammar.Parse(text)).Pieces[0].Last()
		assert.Empty(t, r.Problems, c.words)
		assert.Equal(t, c.want, strconv.FormatInt(r.Takes, 10)+" -> "+strconv.FormatInt(r.Makes, 10), c.words)
	}
}
