package lint

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

func demos(t testing.TB) map[string]string {
	files, err := filepath.Glob("../testdata/patterns/*.crochet")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]string{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		out[filepath.Base(file)] = string(text)
	}
	return out
}

func TestDemoPatternsAreClean(t *testing.T) {
	for name, text := range demos(t) {
		assert.Empty(t, lintText(text), name)
	}
}

// Each broken demo pattern has slips of the kinds that happen; what must be
// found, and on which line, stands in a file beside it.
func TestBrokenPatterns(t *testing.T) {
	files, err := filepath.Glob("../testdata/patterns/broken/*.crochet")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			data, err := os.ReadFile(strings.TrimSuffix(file, ".crochet") + ".expect")
			require.NoError(t, err)
			var want, got []string
			for l := range strings.Lines(string(data)) {
				f := strings.Split(l, "\t")
				require.Len(t, f, 3)
				want = append(want, f[0]+" "+f[1])
			}
			places := NewPlaces(string(text))
			for _, f := range lintText(string(text)) {
				got = append(got, fmt.Sprint(places.At(f.Start).Line, " ", f.Rule))
			}
			assert.Equal(t, want, got)
		})
	}
}

func TestFindingsAreInOrder(t *testing.T) {
	var all strings.Builder
	all.WriteString(exampleHeader)
	for _, r := range Rules() {
		if !strings.HasPrefix(r.Bad, "Pattern:") {
			all.WriteString(r.Bad)
		}
	}
	found := lintText(all.String())
	assert.Greater(t, len(found), 15)
	sorted := slices.Clone(found)
	Sort(sorted)
	assert.Equal(t, sorted, found)
}

// What does nothing is marked, so that an editor can fade it.
func TestUnusedIsMarked(t *testing.T) {
	for rule, unused := range map[string]bool{"unused-yarn": true, "definition": true, "suppression": true, "total-differs": false, "materials": false} {
		assert.Equal(t, unused, byRule(lintText(example(RuleNamed(rule).Bad)), rule)[0].Unused, rule)
	}
	assert.True(t, byRule(lintText(example("Notion: cardboard disc\n"+round1)), "materials")[0].Unused)
}

// A line ending in CR LF, and a byte-order mark, change what is found in
// nothing but its place.
func TestLineEndsChangeNothing(t *testing.T) {
	for _, r := range Rules() {
		text := example(r.Bad)
		crlf := "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")
		a, b := lintText(text), lintText(crlf)
		require.Equal(t, rulesOf(a), rulesOf(b), r.Name)
		for i := range a {
			assert.Equal(t, a[i].Message, b[i].Message)
			assert.Equal(t, text[a[i].Start:a[i].End], strings.ReplaceAll(crlf[b[i].Start:b[i].End], "\r\n", "\n"))
		}
	}
}

// Each file starts afresh: what was found in one says nothing of the next.
func TestFilesAreApart(t *testing.T) {
	for _, r := range Rules() {
		first := lintText(example(r.Bad))
		lintText(example(r.Good))
		assert.Equal(t, first, lintText(example(r.Bad)), r.Name)
	}
}

// Any text is checked without harm: findings and edits stay inside it, and
// mending comes to an end.
func FuzzCheck(f *testing.F) {
	for _, text := range demos(f) {
		f.Add(text)
	}
	for _, r := range Rules() {
		f.Add(example(r.Bad))
	}
	for _, text := range []string{
		"", "\n", "//", "// allow:", "Rnd", "Rnd 1:", "Rnd 1: (((((", "Piece:\nPiece:\nRnd 0-0: sc\nRnd 4-1: inc x 1000000000 (1)\n",
		"Rnd 99999999999: ch 999999999, sc in 2nd ch from hook\nRnds 1-999999999: (sc, inc) x 999999999\n",
		"Sew: A x 99 to A\nPlace: eyes on\nSew: x to\nAssembly:\nPiece: A (make 0)\nSew: A to B, between Rnds 0 and 9, 0 sts apart\n",
		"Stitch: a = a in one st\nStitch: a = b\nStitch:\nRnd 1: a, a, a, a, a, a\n", "Hook: \nGauge: 0 sts = 0 cm in sc\nYarn A:\nNotion:\nSize:\n",
		"\xff\xfe\x00Rnd 1: \x00 sc // allow: \xff\n",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<14 {
			return
		}
		inside := func(start, end int) {
			require.True(t, 0 <= start && start <= end && end <= len(text), "%d-%d of %d", start, end, len(text))
		}
		for _, x := range Check(grammar.Parse(text), Options{}) {
			require.NotNil(t, RuleNamed(x.Rule))
			require.NotEmpty(t, x.Message)
			inside(x.Start, x.End)
			for _, r := range x.Related {
				inside(r.Start, r.End)
			}
			for _, fix := range x.Fixes {
				require.NotEmpty(t, fix.Edits)
				for _, e := range fix.Edits {
					inside(e.Start, e.End)
				}
			}
		}
	})
}
