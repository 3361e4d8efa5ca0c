package grammar

// Splice is the parse of a file's text with the bytes from start to end
// replaced.
func Splice(old *File, start, end int, new string) *File {
	return Reparse(old, old.Text[:start]+new+old.Text[end:])
}
