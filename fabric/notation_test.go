package fabric

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

func reference(t *testing.T) string {
	data, err := os.ReadFile("../grammar/NOTATION.md")
	require.NoError(t, err)
	return string(data)
}

var fence = regexp.MustCompile("(?ms)^```(\\S*)\n(.*?)^```$")

// referenceRow is a row of one of the reference's tables of wordings.
type referenceRow struct {
	uk                                  bool
	wording, edge, takes, makes, report string
}

// referenceRows are the rows of every table whose first columns are wording,
// edge, takes and makes; a fifth one names what is reported.
func referenceRows(text string) []referenceRow {
	var rows []referenceRow
	columns, uk := 0, false
	for line := range strings.Lines(text) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case !strings.HasPrefix(line, "|"):
			columns = 0
		case strings.HasPrefix(cells[0], "wording") && len(cells) >= 4 && slices.Equal(cells[1:4], []string{"edge", "takes", "makes"}):
			columns, uk = len(cells), strings.Contains(cells[0], "UK")
		case columns == 0 || strings.HasPrefix(cells[0], "---"):
		default:
			cells = append(cells, "")
			rows = append(rows, referenceRow{uk, strings.Trim(cells[0], "`"), strings.ReplaceAll(cells[1], "`", ""), cells[2], cells[3], cells[4]})
		}
	}
	return rows
}

// text is a pattern that works the row's wording into its edge.
func (x referenceRow) text() string {
	head, plain := "Terms: US\nPiece: Row\n", "sc"
	if x.uk {
		head, plain = "Terms: UK\nPiece: Row\n", "dc"
	}
	if lace, ok := strings.CutPrefix(x.edge, "lace: "); ok {
		return head + "Worked: in joined rounds\nRnd 1: " + lace + "\nRnd 2: " + x.wording + "\n"
	}
	if row, ok := strings.CutPrefix(x.edge, "rows: "); ok {
		return head + "Worked: in rows\nRow 1: " + row + "\nRow 2: " + x.wording + "\n"
	}
	if x.edge == "start" {
		return head + "Rnd 1: " + x.wording + "\n"
	}
	return head + "Rnd 1: " + x.edge + " " + plain + " in magic ring\nRnd 2: " + x.wording + "\n"
}

// TestNotationTables works every row of the reference's tables: what it takes
// and makes, the chain spaces it makes, and what is reported.
func TestNotationTables(t *testing.T) {
	rows := referenceRows(reference(t))
	require.GreaterOrEqual(t, len(rows), 280)
	seen := map[string]bool{}
	for _, x := range rows {
		t.Run(x.edge+" "+x.wording, func(t *testing.T) {
			key := x.edge + "|" + x.wording + "|" + strconv.FormatBool(x.uk)
			assert.False(t, seen[key], "the row stands twice")
			seen[key] = true
			p := Work(grammar.Parse(x.text()))
			rounds := p.Pieces[0].Rounds
			r := rounds[len(rounds)-1]
			for _, below := range rounds[:len(rounds)-1] {
				require.True(t, below.Known && len(below.Problems) == 0 && len(below.Line.Faults) == 0, "the edge: %s", below.Line.Text)
			}
			var reports []string
			for _, f := range r.Line.Faults {
				reports = append(reports, map[bool]string{false: "syntax", true: "unknown-term"}[f.Unknown])
			}
			for _, y := range r.Problems {
				reports = append(reports, string(y.Kind))
			}
			assert.Equal(t, x.report, strings.Join(reports, ", "), "%+v %+v", r.Line.Faults, r.Problems)
			if x.makes == "–" {
				assert.Equal(t, "–", x.takes)
				assert.False(t, r.Known, "the counts are known: %d, %d", r.Takes, r.Makes)
				return
			}
			takes := strconv.FormatInt(r.Takes, 10)
			if x.edge == "start" && r.Takes == 0 {
				takes = "–"
			}
			made := strconv.FormatInt(r.Makes, 10)
			for _, s := range r.Spaces {
				made += ", " + plural(s.N, "ch-"+digits(int64(s.Chains))+" sp", "ch-"+digits(int64(s.Chains))+" sps")
			}
			assert.Equal(t, x.takes+" -> "+x.makes, takes+" -> "+made)
		})
	}
}

// TestNotationExamples works every example of the reference; none may be
// anything but clean.
func TestNotationExamples(t *testing.T) {
	examples, rounds := 0, 0
	for _, m := range fence.FindAllStringSubmatch(reference(t), -1) {
		if m[1] != "crochet" {
			continue
		}
		examples++
		text := m[2]
		if !strings.Contains(text, "Terms:") {
			text = "Terms: US\n" + text
		}
		f := grammar.Parse(text)
		for _, l := range f.Lines {
			assert.Empty(t, l.Faults, l.Text)
		}
		p := Work(f)
		assert.Empty(t, found(p), m[2])
		for _, piece := range p.Pieces {
			for _, r := range piece.Rounds {
				rounds++
				assert.True(t, r.Known, "%s\n%s", r.Line.Text, m[2])
				if stated, ok := p.StatedStitches(r.Node.Total); ok {
					assert.Equal(t, stated, r.Makes, r.Line.Text)
				}
			}
		}
		for _, own := range p.Own {
			assert.NotNil(t, own.Stitch, own.Line.Text)
		}
	}
	assert.GreaterOrEqual(t, examples, 14)
	assert.GreaterOrEqual(t, rounds, 80)
}

func TestNotationNamesEveryLabel(t *testing.T) {
	text := reference(t)
	labels := grammar.Labels()
	require.NotEmpty(t, labels)
	for _, label := range labels {
		named := regexp.MustCompile("`" + regexp.QuoteMeta(label) + "( [^`:]+)?:").MatchString(text)
		assert.True(t, named, "%s is not in the reference", label)
	}
}

// literals are the strings that a package-level variable of grammar is made of.
func literals(t *testing.T, file, variable string) []string {
	f, err := parser.ParseFile(token.NewFileSet(), "../grammar/"+file, nil, 0)
	require.NoError(t, err)
	var out []string
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range g.Specs {
			v, ok := spec.(*ast.ValueSpec)
			if !ok || v.Names[0].Name != variable {
				continue
			}
			ast.Inspect(v, func(n ast.Node) bool {
				if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
					s, err := strconv.Unquote(l.Value)
					require.NoError(t, err)
					out = append(out, s)
				}
				return true
			})
		}
	}
	require.NotEmpty(t, out, variable)
	return out
}

var signs = regexp.MustCompile("[^a-z0-9'&+,|]+")

// spoken is a text in small letters with single blanks around its words;
// commas and the lines of tables stay, so that no phrase runs across them.
func spoken(text string) string {
	text = strings.NewReplacer("’", "'", ",", " , ", "|", " | ").Replace(strings.ToLower(text))
	return " " + strings.TrimSpace(signs.ReplaceAllString(text, " ")) + " "
}

// TestNotationNamesEverySpelling holds the reference to the vocabulary: what
// is accepted is written down.
func TestNotationNamesEverySpelling(t *testing.T) {
	text := spoken(reference(t))
	for file, variables := range map[string][]string{
		"keyword.go": {"keywords", "dropped", "numberWords", "ordinalWords", "timesWords"},
		"labels.go":  {"labels"},
		"action.go":  {"verbs"},
	} {
		for _, variable := range variables {
			for _, s := range literals(t, file, variable) {
				assert.True(t, strings.Contains(text, spoken(s)), "%q of %s is not in the reference", s, variable)
			}
		}
	}
}
