package lsp

import (
	"sort"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"go.lsp.dev/protocol"

	"workeven/grammar"
)

// encoding says what the characters of a protocol position count.
type encoding uint8

const (
	utf16Units encoding = iota
	codePoints
	utf8Bytes
)

var encodingKinds = [...]protocol.PositionEncodingKind{
	utf16Units: protocol.PositionEncodingKindUTF16,
	codePoints: protocol.PositionEncodingKindUTF32,
	utf8Bytes:  protocol.PositionEncodingKindUTF8,
}

func (e encoding) kind() protocol.PositionEncodingKind { return encodingKinds[e] }

// chooseEncoding takes the cheapest of those that a client offers; UTF-16 where
// it offers none that is known.
func chooseEncoding(offered []protocol.PositionEncodingKind) encoding {
	best := utf16Units
	for _, k := range offered {
		for e, kind := range encodingKinds {
			if k == kind {
				best = max(best, encoding(e))
			}
		}
	}
	return best
}

// index knows where the lines of a text begin, as the protocol has it: a line
// ends at a line feed, a carriage return, or the two together. Inside the
// server a place is a byte offset; index turns it into a position and back.
// It is a value: nothing changes it once made.
type index struct {
	text   grammar.Rope
	starts []int32
	ascii  bool
	enc    encoding
}

func newIndex(text string, enc encoding) *index {
	x := &index{text: grammar.NewRope(text), enc: enc, ascii: isASCII(text)}
	x.starts = make([]int32, 1, strings.Count(text, "\n")+2)
	x.starts = appendStarts(x.starts, text, 1, len(text))
	return x
}

// appendStarts adds the line starts among the offsets from one to another, both
// included. What stands before and at an offset says whether a line starts there.
func appendStarts(starts []int32, text string, from, to int) []int32 {
	for i := from; i <= min(to, len(text)); i++ {
		switch text[i-1] {
		case '\n':
			starts = append(starts, int32(i))
		case '\r':
			if i == len(text) || text[i] != '\n' {
				starts = append(starts, int32(i))
			}
		}
	}
	return starts
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// splice is the index of a text in which the bytes from start to end of this
// one were replaced. Only the lines that changed are looked through.
func (x *index) splice(start, end int, new string, text grammar.Rope) *index {
	n := &index{text: text, enc: x.enc, ascii: x.ascii && isASCII(new)}
	shift := text.Len() - x.text.Len()
	keep := sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) >= max(start, 1) })
	rest := sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) > max(end, 0) })
	n.starts = make([]int32, keep, len(x.starts)+strings.Count(new, "\n")+2)
	copy(n.starts, x.starts)
	from := max(start, 1) - 1 // what stands before and behind tells of a line end, too
	window := text.Slice(from, min(start+len(new)+1, text.Len()))
	fresh := len(n.starts)
	n.starts = appendStarts(n.starts, window, max(start, 1)-from, start+len(new)-from)
	for i := range n.starts[fresh:] {
		n.starts[fresh+i] += int32(from)
	}
	for _, s := range x.starts[max(rest, keep):] {
		n.starts = append(n.starts, s+int32(shift))
	}
	return n
}

// line is the index of the line that holds a byte offset.
func (x *index) line(offset int) int {
	return sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) > offset }) - 1
}

// bounds are where a line begins and where it ends, before its line end.
func (x *index) bounds(line int) (start, end int) {
	start, end = int(x.starts[line]), x.text.Len()
	if line+1 < len(x.starts) {
		end = int(x.starts[line+1])
		tail := x.text.Slice(max(start, end-2), end)
		rest := strings.TrimSuffix(strings.TrimSuffix(tail, "\n"), "\r")
		end -= len(tail) - len(rest)
	}
	return start, end
}

// offset is the byte that a position stands before. A line behind the last one
// stands for the end of the text, a character behind the end of its line for
// that end, and one inside a character for the character.
func (x *index) offset(p protocol.Position) int {
	if uint64(p.Line) >= uint64(len(x.starts)) {
		return x.text.Len()
	}
	start, end := x.bounds(int(p.Line))
	left := int(min(uint64(p.Character), uint64(end-start))) // no character has more units than bytes
	if x.ascii {
		return start + left
	}
	line := x.text.Slice(start, end)
	if x.enc == utf8Bytes {
		for 0 < left && left < len(line) && !utf8.RuneStart(line[left]) {
			left--
		}
		return start + left
	}
	at := 0
	for at < len(line) {
		r, size := utf8.DecodeRuneInString(line[at:])
		if left -= x.units(r, size); left < 0 {
			break
		}
		at += size
	}
	return start + at
}

// units is how much a character counts.
func (x *index) units(r rune, size int) int {
	switch x.enc {
	case utf8Bytes:
		return size
	case codePoints:
		return 1
	}
	if utf16.RuneLen(r) == 2 {
		return 2
	}
	return 1
}

// position is where a byte offset stands. One outside the text stands for its
// nearest end, one inside a line end for the end of the line, and one inside a
// character for the character.
func (x *index) position(offset int) protocol.Position {
	offset = min(max(offset, 0), x.text.Len())
	line := x.line(offset)
	start, end := x.bounds(line)
	offset = min(offset, end)
	p := protocol.Position{Line: uint32(line)}
	if x.ascii {
		p.Character = uint32(offset - start)
		return p
	}
	text := x.text.Slice(start, end)
	for at := start; at < offset; {
		r, size := utf8.DecodeRuneInString(text[at-start:])
		if at+size > offset {
			break
		}
		p.Character += uint32(x.units(r, size))
		at += size
	}
	return p
}
