package lint

import (
	"strconv"
	"strings"
)

// Report is what was found in one file. The reports of this package are made
// of it: for a person (AppendText, AppendConcise), for a program (JSON, SARIF)
// and for a job on GitHub (AppendGitHub).
type Report struct {
	// File is the name to show: relative where it can be, with slashes.
	File string
	// Text is what the findings' offsets count in.
	Text     string
	Findings []Finding
	// Known are findings that a baseline holds; only SARIF tells of them, as suppressed.
	Known []Finding
}

// Threshold is the severity from which a finding fails a run.
type Threshold uint8

// Never lets every finding pass.
const Never = Threshold(Error) + 1

// ParseThreshold reads a severity's name, or "never".
func ParseThreshold(name string) (Threshold, bool) {
	if name == "never" {
		return Never, true
	}
	s, ok := ParseSeverity(name)
	return Threshold(s), ok
}

// Reached tells whether any of the findings is as severe as the threshold.
func (t Threshold) Reached(fs []Finding) bool {
	for _, f := range fs {
		if Threshold(f.Severity) >= t {
			return true
		}
	}
	return false
}

// Totals adds up reports.
type Totals struct {
	By    [len(severityNames)]int // by severity
	Files int                     // with a finding
	Safe  int                     // findings that `--fix` repairs
}

// Add counts a report in.
func (t *Totals) Add(r Report) {
	if len(r.Findings) > 0 {
		t.Files++
	}
	for _, f := range r.Findings {
		t.By[f.Severity]++
		if _, ok := safeFix(f); ok {
			t.Safe++
		}
	}
}

// String says the totals in words: "2 errors, 1 hint in 3 files".
func (t *Totals) String() string {
	one := [...]string{"hint", "point of information", "warning", "error"}
	many := [...]string{"hints", "points of information", "warnings", "errors"}
	var parts []string
	for s := len(t.By) - 1; s >= 0; s-- {
		if t.By[s] > 0 {
			parts = append(parts, Number(t.By[s], one[s], many[s]))
		}
	}
	if len(parts) == 0 {
		return "nothing found"
	}
	return strings.Join(parts, ", ") + " in " + Number(t.Files, "file", "files")
}

// Number says a number with its noun: "1 file", "3 files".
func Number(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// safeFix is the repair that `--fix` would apply, the first safe one.
func safeFix(f Finding) (Fix, bool) {
	for _, x := range f.Fixes {
		if x.Safe && len(x.Edits) > 0 {
			return x, true
		}
	}
	return Fix{}, false
}

// printable keeps a text from steering the terminal or breaking its line:
// control characters become their pictures, and marks that turn the direction
// of writing become a replacement character. Tabs stay where asked.
func printable(s string, tabs bool) string {
	odd := func(r rune) bool {
		return r < ' ' && (r != '\t' || !tabs) || r == 0x7f || r >= 0x80 && r < 0xa0 ||
			r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x2028 || r == 0x2029
	}
	if strings.IndexFunc(s, odd) < 0 {
		return strings.ToValidUTF8(s, "\ufffd")
	}
	return strings.Map(func(r rune) rune {
		switch {
		case !odd(r):
			return r
		case r < ' ':
			return 0x2400 + r
		case r == 0x7f:
			return 0x2421
		}
		return '\ufffd'
	}, s)
}
