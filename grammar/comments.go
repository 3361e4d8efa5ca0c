package grammar

import "strings"

// noteOf finds the comment that ends a statement.
func noteOf(text string) Span {
	last := strings.LastIndexByte(text, '\n') + 1
	if i := commentIn(text, last, len(text)); i >= 0 {
		return Span{int32(i), int32(len(text))}
	}
	return Span{}
}

// commentIn is where the first comment between two places of a text starts, or -1.
func commentIn(text string, from, to int) int {
	for i := from; ; i += 2 {
		k := strings.Index(text[i:to], "//")
		if k < 0 {
			return -1
		}
		if i += k; isComment(text, i) {
			return i
		}
	}
}

// HasComment says whether a private comment stands in a part of the statement.
func (l *Line) HasComment(s Span) bool {
	return s.Written() && commentIn(l.Text, int(s.Start), int(s.End)) >= 0
}

// commentInside says whether a private comment stands on a line of the
// statement that is not its last.
func (l *Line) commentInside() bool {
	last := strings.LastIndexByte(l.Text, '\n')
	return last > 0 && commentIn(l.Text, 0, last) >= 0
}

// blanked is a text with blanks for the comments on all of its lines but the
// last, so that what is behind them stays where it stands.
func blanked(text string) string {
	out := []byte(text)
	last := strings.LastIndexByte(text, '\n')
	for at := 0; at <= last; {
		end := at + strings.IndexByte(text[at:], '\n')
		if i := commentIn(text, at, end); i >= 0 {
			for j := i; j < end && text[j] != '\r'; j++ {
				out[j] = ' '
			}
		}
		at = end + 1
	}
	return string(out)
}

// Said is the statement's text without its private comments; what is left stands
// where it stands in the statement.
func (l *Line) Said() string {
	text := l.Text
	if l.Rows > 1 && l.commentInside() {
		text = blanked(text)
	}
	if l.Note.Written() {
		return text[:l.Note.Start]
	}
	return text
}
