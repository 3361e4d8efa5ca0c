package lint

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Place is a line and a column, both from 1. Columns count characters (code
// points); a byte-order mark is no column, and a byte that is not UTF-8 is one.
type Place struct{ Line, Column int }

// Places turns byte offsets of one text into lines and columns. Building it
// reads the text once; a look-up then takes O(log lines).
type Places struct {
	text   string
	starts []int // byte offset of each line
	// marks counts the characters before every markEvery bytes; nil where the
	// text is all ASCII, and a byte is a character.
	marks []mark
}

// mark is a character's byte offset, and how many characters stand before it.
type mark struct{ at, count int }

const (
	markEvery = 256
	bom       = "\ufeff"
)

// NewPlaces reads a text. Lines end at a line feed, with or without a carriage return.
func NewPlaces(text string) *Places {
	p := &Places{text: text, starts: make([]int, 1, 1+strings.Count(text, "\n"))}
	if strings.HasPrefix(text, bom) {
		p.starts[0] = len(bom)
	}
	ascii := true
	for i := range len(text) {
		switch c := text[i]; {
		case c == '\n':
			p.starts = append(p.starts, i+1)
		case c >= utf8.RuneSelf:
			ascii = false
		}
	}
	if !ascii {
		p.countCharacters()
	}
	return p
}

func (p *Places) countCharacters() {
	p.marks = make([]mark, 0, len(p.text)/markEvery+2)
	count, due := 0, 0
	for at := 0; ; count++ {
		for at >= due {
			p.marks = append(p.marks, mark{at, count})
			due += markEvery
		}
		if at == len(p.text) {
			return
		}
		_, size := utf8.DecodeRuneInString(p.text[at:])
		at += size
	}
}

// before counts the characters that end at or before a byte offset.
func (p *Places) before(offset int) int {
	if p.marks == nil {
		return offset
	}
	k := min(offset/markEvery, len(p.marks)-1)
	if p.marks[k].at > offset {
		k-- // the offset is inside the character that the mark stands behind
	}
	at, count := p.marks[k].at, p.marks[k].count
	for at < offset {
		_, size := utf8.DecodeRuneInString(p.text[at:])
		if at+size > offset {
			break
		}
		at, count = at+size, count+1
	}
	return count
}

// At gives the place of a byte offset. An offset outside the text is taken for
// its nearest end, one inside a character for the character.
func (p *Places) At(offset int) Place {
	offset = min(max(offset, p.starts[0]), len(p.text))
	i, found := slices.BinarySearch(p.starts, offset)
	if !found {
		i--
	}
	return Place{i + 1, p.before(offset) - p.before(p.starts[i]) + 1}
}

// Line is the text of a line, counted from 1, without its line end, and the
// byte offset that it starts at.
func (p *Places) Line(n int) (text string, start int) {
	start, end := p.starts[n-1], len(p.text)
	if n < len(p.starts) {
		end = p.starts[n] - 1
	}
	return strings.TrimSuffix(p.text[start:end], "\r"), start
}
