package lint

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// counting are the rules of counting and form, which must be silent on pieces
// whose every number is right, and speak on the line of a slip and no other.
var counting = []string{
	"syntax", "unknown-term", "total-differs", "total-part-differs", "total-missing", "too-many-worked", "stitches-left",
	"repeat-does-not-fit", "no-such-place", "numbering", "two-readings",
}

// caseBlock is one example of testdata: a title, lines of a pattern, and what
// is expected of them.
type caseBlock struct {
	name   string
	lines  []string
	expect []string
}

func caseBlocks(t *testing.T, pattern string) []caseBlock {
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var out []caseBlock
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, part := range strings.Split("\n"+string(data), "\n== ")[1:] {
			title, body, _ := strings.Cut(part, "\n")
			b := caseBlock{name: filepath.Base(file) + " " + title}
			for l := range strings.SplitSeq(body, "\n") {
				switch key, _, _ := strings.Cut(l, " "); key {
				case "source:", "from:", "remark:", "":
				case "expect", "change", "delete":
					b.expect = append(b.expect, l)
				default:
					b.lines = append(b.lines, l)
				}
			}
			out = append(out, b)
		}
	}
	return out
}

// lintLines checks lines of a pattern in US terms, and gives what the rules of
// counting find by the index of the line.
func lintLines(lines []string) map[int][]Finding {
	text := "Terms: US\n" + strings.Join(lines, "\n") + "\n"
	f := grammar.Parse(text)
	out := map[int][]Finding{}
	for _, x := range Check(f, Options{}) {
		if slices.Contains(counting, x.Rule) {
			i := f.LineAt(x.Start) - 1
			out[i] = append(out[i], x)
		}
	}
	return out
}

func lineLabelled(t *testing.T, lines []string, label string) int {
	from := 0
	if piece, rest, ok := strings.Cut(label, " R"); ok {
		from = slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "Piece: "+piece) })
		require.GreaterOrEqual(t, from, 0, piece)
		label = "R" + rest
	}
	i := slices.IndexFunc(lines[from:], func(l string) bool { return strings.HasPrefix(l, label+":") })
	require.GreaterOrEqual(t, i, 0, "no line %q", label)
	return from + i
}

// The examples of published books and tables: each names its source in
// testdata/sources.
func TestSources(t *testing.T) {
	expectLine := regexp.MustCompile(`^expect line "([^"]+)": (.+)$`)
	for _, b := range caseBlocks(t, "../testdata/sources/*.txt") {
		t.Run(b.name, func(t *testing.T) {
			found := lintLines(b.lines)
			for _, e := range b.expect {
				m := expectLine.FindStringSubmatch(e)
				if m == nil {
					require.Equal(t, "expect clean", e)
					continue
				}
				i := lineLabelled(t, b.lines, m[1])
				assert.True(t, slices.ContainsFunc(strings.Split(m[2], " or "), func(rule string) bool {
					return slices.Contains(rulesOf(found[i]), rule)
				}), "%s: found are %v", e, found)
				delete(found, i)
			}
			assert.Empty(t, found)
		})
	}
}

var changeLine = regexp.MustCompile(`^(?:change|delete) line "([^"]+)"(?: (?:(.+) )?-> ([^:]+))?: (.+)$`)

// changed carries a change out, and gives the line that it is about.
func changed(t *testing.T, lines []string, e string) (out []string, at int, says string) {
	m := changeLine.FindStringSubmatch(e)
	require.NotNil(t, m, e)
	label, old, new, says := m[1], m[2], strings.Trim(m[3], `"`), m[4]
	out, at = slices.Clone(lines), lineLabelled(t, lines, label)
	switch second, isSecond := strings.CutPrefix(old, "second "); {
	case new == "":
		return slices.Delete(out, at, at+1), at, says
	case old == "":
		out[at] = strings.Replace(out[at], label, new, 1)
	case isSecond:
		from := strings.Index(out[at], second) + len(second)
		out[at] = out[at][:from] + strings.Replace(out[at][from:], second, new, 1)
	default:
		require.Contains(t, out[at], old)
		out[at] = strings.Replace(out[at], old, new, 1)
	}
	return out, at, says
}

// The pieces of testdata/cases are clean as they stand, and each change that
// is described behind them is found on its line and on no other.
func TestPieces(t *testing.T) {
	on := regexp.MustCompile(`^(.*) on (?:\w+ )?(R\w+ \d+)`)
	likelier := regexp.MustCompile(`and the (total|words) (?:is|are) named as the likelier slip`)
	first := regexp.MustCompile(`the repair .+ is offered first`)
	changes := 0
	for _, b := range caseBlocks(t, "../testdata/cases/pieces.txt") {
		t.Run(b.name, func(t *testing.T) { assert.Empty(t, lintLines(b.lines)) })
		for _, e := range b.expect {
			changes++
			t.Run(b.name+" "+e, func(t *testing.T) {
				lines, was, says := changed(t, b.lines, e)
				at := 0
				found := lintLines(lines)
				for part := range strings.SplitSeq(says, ", and ") {
					m := on.FindStringSubmatch(part)
					if m == nil {
						continue
					}
					at = slices.IndexFunc(lines, func(l string) bool {
						return strings.HasPrefix(l, m[2]+":") && (!strings.Contains(e, "Trunk") || strings.Contains(l, "13"))
					})
					require.GreaterOrEqual(t, at, 0, part)
					rules := rulesOf(found[at])
					assert.NotEmpty(t, rules, "nothing on %s", m[2])
					named := slices.DeleteFunc(slices.Clone(counting), func(rule string) bool { return !strings.Contains(m[1], rule) })
					assert.True(t, len(named) == 0 || slices.ContainsFunc(named, func(r string) bool { return slices.Contains(rules, r) }), "%s: found are %v", part, found)
				}
				if m := likelier.FindStringSubmatch(says); m != nil && len(found[at]) > 0 {
					assert.Regexp(t, `the `+m[1]+` (is|are) the likelier slip`, found[at][0].Message)
				}
				if first.MatchString(says) && assert.NotEmpty(t, found[at]) && assert.NotEmpty(t, found[at][0].Fixes) {
					mended, _ := Apply("Terms: US\n"+strings.Join(lines, "\n")+"\n", found[at][0].Fixes[0].Edits)
					assert.Contains(t, mended, b.lines[was]+"\n")
				}
				delete(found, at)
				assert.Empty(t, found)
			})
		}
	}
	assert.Equal(t, 9, changes)
}
