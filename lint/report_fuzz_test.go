package lint

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"
)

// Any text and any range, sensible or not, can be reported in every format.
func FuzzReports(f *testing.F) {
	for _, text := range []string{"", "\ufeff", "a\r\nb", "\xff\xfe\x00", "\t\t毛糸\t", "👩‍👩‍👧e\u0301\u202e", strings.Repeat("é", 2000)} {
		for _, r := range [][2]int{{0, 0}, {1, 3}, {3, 1}, {-5, 999_999}, {len(text), len(text)}, {len(text) / 2, len(text)}} {
			f.Add(text, r[0], r[1], "m\n\x1b"+text)
		}
	}
	f.Fuzz(func(t *testing.T, text string, start, end int, message string) {
		finding := Finding{Rule: "syntax", Severity: Error, Start: start, End: end, Message: message,
			Fixes: []Fix{{message, true, []Edit{{start, end, message}}}}, Related: []Related{{end, start, message}}}
		reports := []Report{{File: message, Text: text, Findings: []Finding{finding}}}
		if out := AppendText(nil, reports[0], false); bytes.ContainsRune(out, 0x1b) || !utf8.Valid(out) {
			t.Errorf("the text steers the terminal: %q", out)
		}
		if out := AppendConcise(nil, reports[0]); bytes.Count(out, []byte("\n")) != 1 {
			t.Errorf("a finding is one line: %q", out)
		}
		if out := AppendGitHub(nil, reports[0]); bytes.Count(out, []byte("\n")) != 1 {
			t.Errorf("a command is one line: %q", out)
		}
		if !json.Valid(JSON(reports)) || !json.Valid(sarifOf(reports, "", nil)) {
			t.Error("not JSON")
		}
		at := NewPlaces(text).At(start)
		if at.Line < 1 || at.Column < 1 {
			t.Errorf("At(%d) = %v", start, at)
		}
	})
}
