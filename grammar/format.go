package grammar

import "strings"

// Format prints a pattern in the canonical wording.
func Format(f *File) string {
	var b strings.Builder
	at := 0
	for i, l := range f.Lines {
		start := f.Start(i)
		b.WriteString(f.Text[at:start])
		at = start + len(l.Text)
		b.WriteString(strings.TrimRight(l.Text, " \t\r"))
	}
	b.WriteString(f.Text[at:])
	return b.String()
}
