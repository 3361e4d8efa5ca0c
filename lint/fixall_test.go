package lint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// replaces is a check that finds every occurrence of a word and offers to
// replace it; more such checks may be joined.
func replaces(old, new string, safe bool) func(string) []Finding {
	return func(text string) (out []Finding) {
		for at := 0; ; {
			i := strings.Index(text[at:], old)
			if i < 0 {
				return out
			}
			s := at + i
			out = append(out, Finding{Rule: "r", Severity: Warning, Start: s, End: s + len(old), Fixes: []Fix{{"write " + new, safe, []Edit{{s, s + len(old), new}}}}})
			at = s + len(old)
		}
	}
}

func together(checks ...func(string) []Finding) func(string) []Finding {
	return func(text string) (out []Finding) {
		for _, c := range checks {
			out = append(out, c(text)...)
		}
		Sort(out)
		return out
	}
}

func errorWhere(word string) func(string) []Finding {
	return func(text string) (out []Finding) {
		for range strings.Count(text, word) {
			out = append(out, Finding{Rule: "e", Severity: Error})
		}
		return out
	}
}

func TestFixAll(t *testing.T) {
	tests := []struct {
		name, text string
		check      func(string) []Finding
		want       string
		applied    int
		rest       int
	}{
		{"nothing to do", "sc 3", replaces("dc", "tr", true), "sc 3", 0, 0},
		{"all in one round", "dc dc dc", replaces("dc", "tr", true), "tr tr tr", 3, 0},
		{"only safe ones", "dc sc", together(replaces("dc", "tr", true), replaces("sc", "hdc", false)), "tr sc", 1, 1},
		{"one repair brings the next", "a", together(replaces("a", "b", true), replaces("b", "c", true)), "c", 2, 0},
		{"overlapping ones wait", "abc", together(replaces("ab", "x", true), replaces("bc", "y", true)), "xc", 1, 0},
		{"a repair that makes errors is taken back", "dc", together(replaces("dc", "bad", true), errorWhere("bad")), "dc", 0, 1},
		{"and the others stay", "A B A B B", together(replaces("A", "bad", true), errorWhere("bad"), replaces("B", "b", true)), "A b A b b", 3, 2},
		{"a repair taken back moves with its text", "B A", together(replaces("A", "bad", true), errorWhere("bad"), replaces("B", "bbb", true)), "bbb A", 1, 1},
		{"errors may stay as many", "bad A", together(errorWhere("bad"), replaces("A", "a", true)), "bad a", 1, 1},
		{"two that undo each other end", "a", together(replaces("a", "b", true), replaces("b", "a", true)), "a", 0, 1},
		{"one that changes nothing", "dc", replaces("dc", "dc", true), "dc", 0, 1},
		{"CRLF stays CRLF", "a\r\nb\r\n", replaces("b", "c\nd", true), "a\r\nc\r\nd\r\n", 1, 0},
		{"byte-order mark stays", "\ufeffa\n", replaces("a", "b", true), "\ufeffb\n", 1, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, applied, rest := FixAll(tt.text, tt.check)
			assert.Equal(t, tt.want, got)
			assert.Equal(t, tt.applied, applied)
			assert.Len(t, rest, tt.rest)
		})
	}
}

func TestFixAllIsBounded(t *testing.T) {
	checks := 0
	grow := replaces("a", "aa", true)
	text, _, rest := FixAll("a", func(text string) []Finding {
		checks++
		return grow(text)[:1]
	})
	assert.Equal(t, maxChecks, checks)
	assert.Len(t, text, maxChecks)
	assert.NotEmpty(t, rest)
}

func TestFixAllRefusesEditsThatCannotBe(t *testing.T) {
	bad := [][]Edit{{{3, 2, "x"}}, {{-1, 1, "x"}}, {{0, 9, "x"}}, {{0, 2, "x"}, {1, 3, "y"}}}
	for _, edits := range bad {
		text, applied, _ := FixAll("abcd", func(string) []Finding {
			return []Finding{{Rule: "r", Fixes: []Fix{{"t", true, edits}}}}
		})
		assert.Equal(t, "abcd", text)
		assert.Zero(t, applied)
	}
}

func TestFixAllAppliesTheEditsOfOneFixTogether(t *testing.T) {
	text, applied, _ := FixAll("(sc x 6", func(text string) []Finding {
		if strings.HasPrefix(text, "[") {
			return nil
		}
		return []Finding{{Rule: "r", Fixes: []Fix{{"t", true, []Edit{{3, 3, "]"}, {0, 1, "["}}}}}}
	})
	assert.Equal(t, "[sc] x 6", text)
	assert.Equal(t, 1, applied)
}
