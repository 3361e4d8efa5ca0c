package editors

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// row is one line of testdata/colouring.tsv: in a line of a pattern, the runes
// from one up to another are of a class.
type row struct {
	pattern  string
	line     int
	text     string
	from, to int
	class    class
}

// patternPath is where a pattern of the rows is.
func patternPath(name string) string {
	if name == "wordings" {
		return filepath.Join("testdata", name+".crochet")
	}
	return filepath.Join("..", "testdata", "patterns", name+".crochet")
}

func patternLines(t *testing.T, name string) []string {
	t.Helper()
	data, err := os.ReadFile(patternPath(name))
	require.NoError(t, err)
	return strings.Split(string(data), "\n")
}

// rows reads the table; a row that does not stand in its pattern fails the test.
func rows(t *testing.T) []row {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "colouring.tsv"))
	require.NoError(t, err)
	var out []row
	for s := range strings.Lines(string(data)) {
		if strings.HasPrefix(s, "#") {
			continue
		}
		f := strings.Split(strings.TrimSuffix(s, "\n"), "\t")
		require.Len(t, f, 4, s)
		line, err := strconv.Atoi(f[1])
		require.NoError(t, err, s)
		before, rest, _ := strings.Cut(f[2], "«")
		what, after, _ := strings.Cut(rest, "»")
		text := patternLines(t, f[0])[line-1]
		at := strings.Index(text, before+what+after)
		require.GreaterOrEqual(t, at, 0, "line %d of %s has no %s", line, f[0], f[2])
		from := utf8.RuneCountInString(text[:at+len(before)])
		r := row{f[0], line, f[2], from, from + utf8.RuneCountInString(what), class(f[3])}
		if r.class == "plain" {
			r.class = plain
		}
		require.True(t, r.class == plain || lookOf(r.class).class == r.class, "%s is no class", f[3])
		require.Greater(t, r.to, r.from, s)
		out = append(out, r)
	}
	require.NotEmpty(t, out)
	return out
}

func TestRowsStandInTheirPatternsAndNameEveryClass(t *testing.T) {
	seen := map[class]bool{}
	for _, r := range rows(t) {
		seen[r.class] = true
	}
	for _, l := range looks {
		assert.True(t, seen[l.class], "no row has the class %s", l.class)
	}
}
