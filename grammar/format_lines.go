package grammar

// FormatLines prints the statements of a pattern from one up to another, by
// their indices, each as [Format] prints it: editors ask for a few of many.
func FormatLines(f *File, from, to int) []string {
	p := newPrinter(f)
	out := make([]string, 0, to-from)
	for i := from; i < to; i++ {
		out = append(out, p.line(f.Lines[i], f.endOf(i)))
	}
	return out
}
