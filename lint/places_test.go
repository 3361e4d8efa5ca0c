package lint

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

func TestPlacesAt(t *testing.T) {
	tests := []struct {
		name, text string
		offset     int
		want       Place
	}{
		{"start", "Rnd 1", 0, Place{1, 1}},
		{"end of text", "Rnd 1", 5, Place{1, 6}},
		{"past the end", "Rnd 1", 99, Place{1, 6}},
		{"before the start", "Rnd 1", -1, Place{1, 1}},
		{"line feed belongs to its line", "ab\ncd", 2, Place{1, 3}},
		{"second line", "ab\ncd", 3, Place{2, 1}},
		{"carriage return", "ab\r\ncd", 2, Place{1, 3}},
		{"after CRLF", "ab\r\ncd", 5, Place{2, 2}},
		{"empty last line", "ab\n", 3, Place{2, 1}},
		{"empty text", "", 0, Place{1, 1}},
		{"two-byte letter", "é×6", 2, Place{1, 2}},
		{"inside a letter", "é×6", 3, Place{1, 2}},
		{"beyond the basic plane is one", "😀 6", 4, Place{1, 2}},
		{"combining mark is its own", "e\u0301x", 3, Place{1, 3}},
		{"byte-order mark is none", "\ufeffRnd", 3, Place{1, 1}},
		{"inside the byte-order mark", "\ufeffRnd", 1, Place{1, 1}},
		{"after the byte-order mark", "\ufeffRnd", 4, Place{1, 2}},
		{"bytes that are not UTF-8 are one each", "\xff\xfe6", 2, Place{1, 3}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, NewPlaces(tt.text).At(tt.offset))
		})
	}
}

// Every offset of a long text, against counting from its start; one inside a
// character is the character's.
func TestPlacesAgreeWithCounting(t *testing.T) {
	text := strings.Repeat("Rnd 1: (sc 2, inc) × 6 – é 😀 (24)\r\n", 9) + strings.Repeat("x", 700) + strings.Repeat("é", 600) + "\xff\n" + strings.Repeat("😀", 300)
	p := NewPlaces(text)
	line, lineStart := 1, 0
	for offset := 0; offset <= len(text); offset++ {
		if offset > 0 && text[offset-1] == '\n' {
			line, lineStart = line+1, offset
		}
		character := offset
		for character < len(text) && !utf8.RuneStart(text[character]) {
			character--
		}
		want := Place{line, utf8.RuneCountInString(text[lineStart:character]) + 1}
		if got := p.At(offset); got != want {
			t.Fatalf("At(%d) = %v, want %v", offset, got, want)
		}
	}
}

func TestPlacesLine(t *testing.T) {
	p := NewPlaces("\ufeffPattern: Hat\r\n\nRnd 1: 6 sc")
	var got []string
	for n := 1; n <= 3; n++ {
		text, start := p.Line(n)
		got = append(got, text)
		assert.Equal(t, Place{n, 1}, p.At(start))
	}
	assert.Equal(t, []string{"Pattern: Hat", "", "Rnd 1: 6 sc"}, got)
}
