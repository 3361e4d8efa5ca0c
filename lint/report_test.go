package lint

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// finding marks the words in a text; the words must stand there.
func finding(text, words, rule string, s Severity, message string, fixes ...Fix) Finding {
	at := strings.Index(text, words)
	if at < 0 {
		panic("not in the text: " + words)
	}
	return Finding{Rule: rule, Severity: s, Start: at, End: at + len(words), Message: message, Fixes: fixes}
}

// swap is an edit that puts other words in the place of some.
func swap(text, words, other string) Edit {
	at := strings.Index(text, words)
	return Edit{at, at + len(words), other}
}

const snailText = "Pattern: Moss\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (13)\n"

func snailReport() Report {
	f := finding(snailText, "(13)", "total-differs", Error, "The total says 13; the words make 12.",
		Fix{"write the total (12)", true, []Edit{swap(snailText, "(13)", "(12)")}})
	f.Related = []Related{{21, 43, "Rnd 1 makes 6"}}
	return Report{File: "snail.crochet", Text: snailText, Findings: []Finding{f}}
}

func TestAppendText(t *testing.T) {
	clean := Report{File: "hat.crochet", Text: "Pattern: Hat\n"}
	assert.Empty(t, AppendText(nil, clean, false))
	assert.Equal(t, ""+
		"snail.crochet:3:30: error The total says 13; the words make 12. [total-differs]\n"+
		"    3 | Rnd 2: inc in each st around (13)\n"+
		"      |                              ^^^^\n"+
		"note: snail.crochet:2:8: Rnd 1 makes 6\n"+
		"help: write the total (12)\n\n", string(AppendText(nil, snailReport(), false)))
}

func TestAppendTextColour(t *testing.T) {
	out := string(AppendText(nil, snailReport(), true))
	assert.Contains(t, out, "\x1b[31;1merror\x1b[0;22m")
	assert.Contains(t, out, "\x1b[31;1m^^^^\x1b[0;22m")
	assert.NotContains(t, string(AppendText(nil, snailReport(), false)), "\x1b")
}

func TestAppendTextMarks(t *testing.T) {
	long := strings.Repeat("sc, ", 400)
	tests := []struct {
		name, text string
		start, end int
		want       []string // the line and the marks under it
	}{
		{"wide letters take two columns", "毛糸 dc", 7, 9, []string{"毛糸 dc", "     ^^"}},
		{"wide letters are marked twice", "毛糸 dc", 0, 6, []string{"毛糸 dc", "^^^^"}},
		{"emoji of several parts", "👩‍👩‍👧 dc", 19, 21, []string{"👩‍👩‍👧 dc", "   ^^"}},
		{"combining marks take none", "e\u0301 dc", 4, 6, []string{"e\u0301 dc", "  ^^"}},
		{"tabs stay", "\tsc\tdc", 4, 6, []string{"\tsc\tdc", "\t  \t^^"}},
		{"a tab inside", "sc\tdc", 0, 5, []string{"sc\tdc", "^^\t^^"}},
		{"a tab alone", "sc\tdc", 2, 3, []string{"sc\tdc", "  ^"}},
		{"a place without width", "sc dc", 3, 3, []string{"sc dc", "   ^"}},
		{"the end of the line", "sc dc\nhdc", 5, 6, []string{"sc dc", "     ^"}},
		{"the whole line with its end", "sc dc\nhdc", 0, 6, []string{"sc dc", "^^^^^"}},
		{"several lines", "sc dc\nhdc\ntr", 3, 11, []string{"sc dc", "   ^^ … to line 3"}},
		{"CRLF", "sc dc\r\nhdc", 3, 5, []string{"sc dc", "   ^^"}},
		{"byte-order mark", "\ufeffsc dc", 6, 8, []string{"sc dc", "   ^^"}},
		{"control characters cannot steer", "sc \x1b[2Jdc", 7, 9, []string{"sc ␛[2Jdc", "       ^^"}},
		{"nor turn the direction", "sc \u202edc", 6, 8, []string{"sc \ufffddc", "    ^^"}},
		{"bytes that are not UTF-8", "sc \xff dc", 5, 7, []string{"sc \ufffd dc", "     ^^"}},
		{"long line, near its start", long, 4, 6, []string{long[:120] + "…", "    ^^"}},
		{"long line, middle", long, 800, 802, []string{"…" + long[760:880] + "…", strings.Repeat(" ", 41) + "^^"}},
		{"long line, end", long, 1596, 1600, []string{"…" + long[1556:1600], strings.Repeat(" ", 41) + "^^^^"}},
		{"long range is cut with its line", long, 0, 1600, []string{long[:120] + "…", strings.Repeat("^", 120)}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Report{File: "a.crochet", Text: tt.text, Findings: []Finding{{Rule: "syntax", Start: tt.start, End: tt.end, Message: "m"}}}
			lines := strings.Split(string(AppendText(nil, r, false)), "\n")
			require.Len(t, lines, 5)
			assert.Equal(t, []string{"    1 | " + tt.want[0], "      | " + tt.want[1]}, lines[1:3])
		})
	}
}

func TestAppendTextOfAFileInOneLine(t *testing.T) {
	text := strings.Repeat("é, ", 400_000)
	r := Report{File: "a.crochet", Text: text}
	for i := range 2000 {
		r.Findings = append(r.Findings, Finding{Rule: "syntax", Start: i * 400, End: i*400 + 2, Message: "m"})
	}
	assert.Less(t, len(AppendText(nil, r, false)), 2000*500, "a finding costs no more for the length of its line")
}

func TestAppendConcise(t *testing.T) {
	r := snailReport()
	r.Findings[0].Message = "two\nlines"
	assert.Equal(t, "snail.crochet:3:30: error two␊lines [total-differs]\n", string(AppendConcise(nil, r)))
}

func TestJSON(t *testing.T) {
	assert.Equal(t, `{"files":[]}`+"\n", string(JSON(nil)))
	plain := Report{File: "a<b.crochet", Text: "é dc", Findings: []Finding{{Rule: "syntax", Severity: Hint, Start: 3, End: 5, Message: "m"}}}
	got := string(JSON([]Report{{File: "hat.crochet"}, snailReport(), plain}))
	assert.Equal(t, `{"files":[{"file":"hat.crochet","findings":[]},`+
		`{"file":"snail.crochet","findings":[{"rule":"total-differs","severity":"error","line":3,"column":30,"endLine":3,"endColumn":34,`+
		`"message":"The total says 13; the words make 12.","fixes":[{"title":"write the total (12)","safe":true,`+
		`"edits":[{"line":3,"column":30,"endLine":3,"endColumn":34,"newText":"(12)"}]}]}]},`+
		`{"file":"a<b.crochet","findings":[{"rule":"syntax","severity":"hint","line":1,"column":3,"endLine":1,"endColumn":5,"message":"m","fixes":[]}]}]}`+"\n", got)
	assert.True(t, json.Valid([]byte(got)))
}

func TestAppendGitHub(t *testing.T) {
	text := "Rnd 1: 6 sc\nRnd 2: inc\n"
	r := Report{File: "a,b:c%.crochet", Text: text, Findings: []Finding{
		{Rule: "syntax", Severity: Error, Start: 7, End: 11, Message: "100%: a,\r\nb"},
		{Rule: "total-missing", Severity: Warning, Start: 12, End: 22, Message: "w"},
		{Rule: "marker", Severity: Hint, Start: 0, End: 22, Message: "h"},
	}}
	assert.Equal(t, ""+
		"::error file=a%2Cb%3Ac%25.crochet,line=1,endLine=1,col=8,endColumn=12,title=syntax::100%25: a,%0D%0Ab\n"+
		"::warning file=a%2Cb%3Ac%25.crochet,line=2,endLine=2,col=1,endColumn=11,title=total-missing::w\n"+
		"::notice file=a%2Cb%3Ac%25.crochet,line=1,endLine=2,col=1,endColumn=11,title=marker::h\n", string(AppendGitHub(nil, r)))
}

func TestGitHubTotalTellsOfTheLimit(t *testing.T) {
	var few, many Totals
	few.Add(Report{Findings: make([]Finding, 10)})
	many.Add(Report{Findings: make([]Finding, 11)})
	assert.Equal(t, "10 hints in 1 file\n", string(AppendGitHubTotal(nil, &few)))
	assert.Contains(t, string(AppendGitHubTotal(nil, &many)), "11 hints in 1 file; GitHub shows the first 10 of each kind")
}

func TestTotals(t *testing.T) {
	var n Totals
	assert.Equal(t, "nothing found", n.String())
	n.Add(snailReport())
	n.Add(Report{})
	n.Add(Report{Findings: []Finding{{Severity: Warning}, {Severity: Error}, {Severity: Information}}})
	assert.Equal(t, "2 errors, 1 warning, 1 point of information in 2 files", n.String())
	assert.Equal(t, 1, n.Safe)
}

func TestThreshold(t *testing.T) {
	warned := []Finding{{Severity: Warning}}
	for name, want := range map[string]bool{"hint": true, "information": true, "warning": true, "error": false, "never": false} {
		at, ok := ParseThreshold(name)
		require.True(t, ok, name)
		assert.Equal(t, want, at.Reached(warned), name)
	}
	_, ok := ParseThreshold("off")
	assert.False(t, ok)
	assert.False(t, Threshold(Hint).Reached(nil))
}
