package grammar

import (
	"slices"
	"strings"
)

// Splice is Parse of a file's text with the bytes from start to end replaced by
// new. Only the statements that the edit touches are cut and read; all others
// keep their lines by pointer. start and end must lie within the text, in order.
func Splice(old *File, start, end int, new string) *File {
	text := old.rope.splice(start, end, new)
	shift := text.Len() - old.rope.Len()
	f := &File{rope: text}
	// The statement before the one that the edit begins in may take it in as a
	// continuation, and no earlier one can.
	first, at := 0, 0
	if start > len(bom) && len(old.Lines) > 0 {
		first = max(old.LineAt(start)-1, 0)
		at = int(old.starts[first])
	}
	// rest is the first old statement that stands wholly behind the edit.
	rest, _ := slices.BinarySearch(old.starts, int32(end))
	f.starts = append(make([]int32, 0, len(old.starts)+16), old.starts[:first]...)
	f.Lines = append(make([]*Line, 0, len(old.Lines)+16), old.Lines[:first]...)
	var fresh []*Line
	met := false // the old statements again, behind the edit
	eachStatementOf(text, at, start+len(new), func(s, e int, rows int32, said string) bool {
		for rest < len(old.starts) && int(old.starts[rest])+shift < s {
			rest++
		}
		if met = s >= start+len(new) && rest < len(old.starts) && int(old.starts[rest])+shift == s; met {
			return false
		}
		f.starts = append(f.starts, int32(s))
		if i, same := slices.BinarySearch(old.starts[first:], int32(s)); same && old.Lines[first+i].Text == said {
			f.Lines = append(f.Lines, old.Lines[first+i])
			return true
		}
		l := &Line{Text: strings.Clone(said), Rows: rows}
		f.Lines, fresh = append(f.Lines, l), append(fresh, l)
		return true
	})
	parseAll(fresh)
	if !met {
		return f
	}
	n := len(f.starts)
	f.Lines = append(f.Lines, old.Lines[rest:]...)
	f.starts = append(f.starts, old.starts[rest:]...)
	for i := range f.starts[n:] {
		f.starts[n+i] += int32(shift)
	}
	return f
}

// eachStatementOf is eachStatementFrom for a text in parts. It looks as far as
// near first, and further on only where do still wants more.
func eachStatementOf(text Rope, at, near int, do func(start, end int, rows int32, said string) bool) {
	for ahead := 2 << 10; ; ahead *= 4 {
		// One byte before the statement is kept, so that it is not taken for the
		// file's first.
		from, to := max(at-1, 0), min(near+ahead, text.Len())
		window := text.Slice(from, to)
		short := false
		eachStatementFrom(window, at-from, func(s, e int, rows int32) bool {
			if short = to < text.Len() && !lineFollows(window[e:]); short {
				at = from + s
				return false
			}
			return do(from+s, from+e, rows, window[s:e])
		})
		if !short {
			return
		}
	}
}

// lineFollows says whether all of the line behind a statement is there, which
// decides whether it continues it.
func lineFollows(rest string) bool {
	_, next, ended := strings.Cut(rest, "\n")
	return ended && strings.Contains(next, "\n")
}

// Change says which statements differ between two readings of a file: those
// from From up to OldTo became those from From up to NewTo.
type Change struct{ From, OldTo, NewTo int }

// Changed finds what differs between a file and one that Splice or Reparse made
// of it, by the lines that both have.
func Changed(old, new *File) Change {
	was, now := old.Lines, new.Lines
	n := min(len(was), len(now))
	from := 0
	for from < n && was[from] == now[from] {
		from++
	}
	same := 0
	for same < n-from && was[len(was)-1-same] == now[len(now)-1-same] {
		same++
	}
	return Change{from, len(was) - same, len(now) - same}
}

// By is how many statements further down those behind the change stand now.
func (c Change) By() int { return c.NewTo - c.OldTo }

// Now is where a statement stands that has not changed; false for one that has.
func (c Change) Now(at int) (int, bool) {
	switch {
	case at < c.From:
		return at, true
	case at >= c.OldTo:
		return at + c.By(), true
	}
	return 0, false
}
