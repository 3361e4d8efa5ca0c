package lint

import (
	"cmp"
	"slices"
)

// Severity orders findings: a Hint is a thought, an Error rips somebody's work back.
type Severity uint8

// Severities, weakest first.
const (
	Hint Severity = iota
	Information
	Warning
	Error
)

var severityNames = [...]string{"hint", "information", "warning", "error"}

func (s Severity) String() string { return severityNames[s] }

// ParseSeverity reads a severity's name.
func ParseSeverity(name string) (Severity, bool) {
	i := slices.Index(severityNames[:], name)
	return Severity(max(i, 0)), i >= 0
}

// Finding is one thing that is wrong, or could be better, at one place of one
// file. Start and End are byte offsets into the file's text.
type Finding struct {
	Rule       string
	Severity   Severity
	Start, End int
	Message    string
	Fixes      []Fix
	Related    []Related
	// Unused is set where what it spans does nothing and could be left out.
	Unused bool
}

// Related is a second place that a finding speaks of, such as the round below.
type Related struct {
	Start, End int
	Message    string
}

// Fix is a repair: one or more edits that belong together. A safe fix keeps
// what the pattern means, or restores what it must have meant beyond doubt;
// every fix was tried by working the piece again.
type Fix struct {
	Title string
	Safe  bool
	Edits []Edit
}

// Edit replaces the bytes from Start to End of the file's text.
type Edit struct {
	Start, End int
	New        string
}

// Sort orders findings by place, then severity, then rule.
func Sort(fs []Finding) {
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.End, b.End))
	})
}

// Apply carries edits out on a text. Edits are taken in order of place; one
// that overlaps an earlier one is left out, and false is returned with the text.
func Apply(text string, edits []Edit) (string, bool) {
	edits = slices.SortedStableFunc(slices.Values(edits), func(a, b Edit) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End))
	})
	out := make([]byte, 0, len(text)+64)
	at, all := 0, true
	for _, e := range edits {
		if e.Start < at || e.End < e.Start || e.End > len(text) {
			all = false
			continue
		}
		out = append(out, text[at:e.Start]...)
		out = append(out, e.New...)
		at = e.End
	}
	return string(append(out, text[at:]...)), all
}
