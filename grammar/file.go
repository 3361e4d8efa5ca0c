// Package grammar reads what is written: lines, statements, steps. It gives a
// tree and faults, never an error, and prints a tree back in the canonical
// wording.
//
// One line is one statement and one parse. The participle structs in
// statement.go and plain.go are the readable specification; EBNF prints it.
// The package must not know what a stitch adds up to (that is fabric), nor
// read or write files.
package grammar

import (
	"runtime"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"
)

// File is a parsed pattern. It is a value: nothing changes it once made.
type File struct {
	Lines []*Line
	rope  Rope
	// whole is the text as one string, joined when it is first asked for.
	whole atomic.Pointer[string]
	// starts holds the byte offset of each line's text.
	starts []int32
}

// Line is one statement with the lines that continue it. Spans in its node and
// faults are offsets into Text.
type Line struct {
	// Text is the statement without its last line end.
	Text   string
	Node   Node
	Faults []Fault
	// Note is the private comment at the end, from its slashes; empty without one.
	Note Span
	// Rows is how many lines of the file it covers.
	Rows int32
}

// Fault is a place that does not parse, in a maker's words.
type Fault struct {
	Span
	Message string
	// Unknown marks a word that no glossary holds, rather than a slip of form.
	Unknown bool
	// Fix replaces the span, where a close word is known; FixTitle says so.
	Fix, FixTitle string
}

// Text is the whole text. Of a file that was spliced it is joined from parts: one
// who needs but some of it asks its Rope.
func (f *File) Text() string {
	if s := f.whole.Load(); s != nil {
		return *s
	}
	s := f.rope.String()
	f.whole.Store(&s)
	return s
}

// Rope is the text, for those who need it in places.
func (f *File) Rope() Rope { return f.rope }

// Start is the byte offset of a line's text in the file.
func (f *File) Start(line int) int { return int(f.starts[line]) }

// LineAt is the index of the line that holds a byte offset.
func (f *File) LineAt(offset int) int {
	i := sort.Search(len(f.starts), func(i int) bool { return int(f.starts[i]) > offset })
	return max(i-1, 0)
}

// PlacedFault is a fault with its line.
type PlacedFault struct {
	Line int
	Fault
}

// Faults lists every fault of the file in order.
func (f *File) Faults() []PlacedFault {
	var out []PlacedFault
	for i, l := range f.Lines {
		for _, x := range l.Faults {
			out = append(out, PlacedFault{i, x})
		}
	}
	return out
}

// bom is the byte-order mark that some editors put first.
const bom = "\ufeff"

// Parse reads a whole pattern. It never fails.
func Parse(text string) *File {
	f := &File{rope: NewRope(text)}
	n := strings.Count(text, "\n") + 1
	f.Lines = make([]*Line, 0, n)
	f.starts = make([]int32, 0, n)
	var room slab[Line]
	eachStatement(text, func(start, end int, rows int32) {
		l := room.one()
		l.Text, l.Rows = text[start:end], rows
		f.starts = append(f.starts, int32(start))
		f.Lines = append(f.Lines, l)
	})
	parseAll(f.Lines)
	return f
}

// parseAll reads statements, a share to each processor where there are many.
func parseAll(lines []*Line) {
	const share, alone = 1024, 16
	if len(lines) < 2*share {
		var in *store
		if len(lines) > alone {
			in = new(store)
		}
		for _, l := range lines {
			l.read(in)
		}
		return
	}
	var wait sync.WaitGroup
	for part := range slices.Chunk(lines, max(len(lines)/runtime.GOMAXPROCS(0)/4+1, share)) {
		wait.Go(func() {
			in := new(store)
			for _, l := range part {
				l.read(in)
			}
		})
	}
	wait.Wait()
}

// Reparse reads a text, taking over the lines that have not changed from an
// earlier parse of nearly the same text.
func Reparse(old *File, text string) *File {
	was := old.Text()
	head := commonPrefix(was, text)
	f := &File{rope: NewRope(text), Lines: make([]*Line, 0, len(old.Lines)+1), starts: make([]int32, 0, len(old.Lines)+1)}
	tail := commonSuffix(was[head:], text[head:])
	shift := len(text) - len(was)
	i := 0
	eachStatement(text, func(start, end int, rows int32) {
		from := start
		if end > head && start >= len(text)-tail {
			from = start - shift
		}
		for i < len(old.Lines) && int(old.starts[i]) < from {
			i++
		}
		f.starts = append(f.starts, int32(start))
		if i < len(old.Lines) && int(old.starts[i]) == from && old.Lines[i].Text == text[start:end] {
			f.Lines = append(f.Lines, old.Lines[i])
			return
		}
		f.Lines = append(f.Lines, ParseLine(strings.Clone(text[start:end]), rows))
	})
	return f
}

func commonPrefix(a, b string) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}

func commonSuffix(a, b string) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[len(a)-1-i] != b[len(b)-1-i] {
			return i
		}
	}
	return n
}

// eachStatement cuts a text into statements: a line, and the lines behind it
// that begin with white space. Line ends do not belong to a statement.
func eachStatement(text string, do func(start, end int, rows int32)) {
	eachStatementFrom(text, 0, func(start, end int, rows int32) bool {
		do(start, end, rows)
		return true
	})
}

// eachStatementFrom is eachStatement from a place on where a statement begins,
// for as long as do wants more.
func eachStatementFrom(text string, at int, do func(start, end int, rows int32) bool) {
	if at == 0 && strings.HasPrefix(text, bom) {
		at = len(bom)
	}
	for at <= len(text) {
		start := at
		end, next := lineEnd(text, at)
		rows := int32(1)
		if !isBlank(text[start:end]) && !isComment(text[start:end], 0) {
			for next <= len(text) && next < len(text) && (text[next] == ' ' || text[next] == '\t') {
				e, n := lineEnd(text, next)
				if isBlank(text[next:e]) {
					break
				}
				end, next = e, n
				rows++
			}
		}
		if start == len(text) && start > 0 && text != bom {
			return // nothing stands behind the last line end
		}
		if !do(start, end, rows) {
			return
		}
		at = next
	}
}

// lineEnd gives where the line at a place ends, and where the next begins.
func lineEnd(text string, at int) (end, next int) {
	n := strings.IndexByte(text[at:], '\n')
	if n < 0 {
		return len(text), len(text) + 1
	}
	end, next = at+n, at+n+1
	if end > at && text[end-1] == '\r' {
		end--
	}
	return end, next
}

func isBlank(s string) bool { return strings.TrimSpace(s) == "" }

// ParseLine reads one statement, continuations and all.
func ParseLine(text string, rows int32) *Line {
	l := &Line{Text: text, Rows: rows}
	l.read(nil)
	return l
}

// maxLine bounds how long a statement may be, in bytes.
const maxLine = 64 << 10

func (l *Line) read(in *store) {
	text := l.Text
	body := strings.TrimLeft(text, " \t")
	switch {
	case len(text) > maxLine:
		l.Node = Bad{}
		l.Faults = []Fault{{Span: Span{0, int32(len(text))}, Message: "this line is longer than " + strconv.Itoa(maxLine/1024) + " kB; no maker can follow that, so it is not read"}}
		return
	case isBlank(text):
		l.Node = Blank{}
	case strings.HasPrefix(body, "//"):
		l.Node = Comment{}
		l.Note = Span{int32(len(text) - len(body)), int32(len(text))}
	default:
		l.Note = noteOf(text)
		if l.commentInside() { // what is read is what is said
			l.Text = blanked(text)
			l.parse(in)
			l.Text = text
			break
		}
		l.parse(in)
	}
	if !utf8.ValidString(text) {
		at := int32(invalidAt(text))
		l.Faults = append(l.Faults, Fault{Span: Span{at, at + 1}, Message: "these bytes are not UTF-8 text; save the file as UTF-8"})
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		l.Faults = append(l.Faults, Fault{Span: Span{int32(i), int32(i) + 1}, Message: "there is a NUL byte here; a pattern is plain text"})
	}
}

func invalidAt(s string) int {
	for i, r := range s {
		if r == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return i
			}
		}
	}
	return 0
}
