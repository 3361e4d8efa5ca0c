package lsp

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/grammar"
)

var allEncodings = []encoding{utf16Units, codePoints, utf8Bytes}

// Places of a text with characters of one to four bytes, in each encoding. The
// units are those of the Unicode Standard: é is 2 bytes and 1 UTF-16 unit, 𝔹
// (U+1D538) and 😀 (U+1F600) are 4 bytes and 2 units.
func TestPositionsInEachEncoding(t *testing.T) {
	const text = "é𝔹\r\n😀x\n"
	tests := []struct {
		offset             int
		line               uint32
		utf16, utf32, utf8 uint32
	}{
		{0, 0, 0, 0, 0}, {2, 0, 1, 1, 2}, {6, 0, 3, 2, 6},
		{8, 1, 0, 0, 0}, {12, 1, 2, 1, 4}, {13, 1, 3, 2, 5}, {14, 2, 0, 0, 0},
	}
	for _, test := range tests {
		for enc, character := range map[encoding]uint32{utf16Units: test.utf16, codePoints: test.utf32, utf8Bytes: test.utf8} {
			x, p := newIndex(text, enc), protocol.Position{Line: test.line, Character: character}
			assert.Equal(t, p, x.position(test.offset), "%d in %s", test.offset, enc.kind())
			assert.Equal(t, test.offset, x.offset(p), "%v in %s", p, enc.kind())
		}
	}
}

func TestPositionsAreClamped(t *testing.T) {
	const text = "é𝔹\r\n😀x\n"
	at := func(line, character uint32) protocol.Position {
		return protocol.Position{Line: line, Character: character}
	}
	for _, enc := range allEncodings {
		x := newIndex(text, enc)
		assert.Equal(t, 6, x.offset(at(0, 99)), "behind the end of a line")
		assert.Equal(t, len(text), x.offset(at(99, 0)), "behind the last line")
		assert.Equal(t, len(text), x.offset(at(1<<31, 1<<31)))
		assert.Equal(t, 6, x.offset(at(0, math.MaxUint32)))
		assert.Equal(t, x.position(len(text)), x.position(1<<30))
		assert.Equal(t, at(0, 0), x.position(-5))
		assert.Equal(t, x.position(6), x.position(7), "between CR and LF")
		assert.Equal(t, x.position(2), x.position(4), "inside a character")
	}
	assert.Equal(t, 2, newIndex(text, utf16Units).offset(at(0, 2)), "between the halves of a pair")
	assert.Equal(t, 2, newIndex(text, utf8Bytes).offset(at(0, 4)), "between the bytes of a character")
	empty := newIndex("", utf16Units)
	assert.Equal(t, 0, empty.offset(at(3, 3)))
	assert.Equal(t, at(0, 0), empty.position(3))
}

func TestEncodingIsNegotiated(t *testing.T) {
	kinds := func(k ...protocol.PositionEncodingKind) []protocol.PositionEncodingKind { return k }
	u8, u16, u32 := protocol.PositionEncodingKindUTF8, protocol.PositionEncodingKindUTF16, protocol.PositionEncodingKindUTF32
	for _, test := range []struct {
		offered []protocol.PositionEncodingKind
		want    encoding
	}{
		{nil, utf16Units}, {kinds(u16), utf16Units}, {kinds(u16, u8), utf8Bytes}, {kinds(u32, u16), codePoints}, {kinds(u8, u32, u16), utf8Bytes}, {kinds("utf-7"), utf16Units},
	} {
		assert.Equal(t, test.want, chooseEncoding(test.offered), "%v", test.offered)
	}
}

var characters = []string{"a", "é", "𝔹", "😀", "\n", "\r\n", "\r", "\ufeff", "Rnd 1: 6 sc (6)", " "}

func randomText(random *rand.Rand, n int) string {
	var b strings.Builder
	for range random.IntN(n + 1) {
		b.WriteString(characters[random.IntN(len(characters))])
	}
	return b.String()
}

// plainPosition is position done the slow way: the text is walked from its
// start. Lines end at a line feed, a carriage return, or both together.
func plainPosition(text string, offset int, enc encoding) protocol.Position {
	var p protocol.Position
	for i := 0; i < offset; {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == '\r' && strings.HasPrefix(text[i:], "\r\n"):
			size = 2
			fallthrough
		case r == '\n' || r == '\r':
			p = protocol.Position{Line: p.Line + 1}
		case enc == utf8Bytes:
			p.Character += uint32(size)
		case enc == utf16Units:
			p.Character += uint32(len(utf16.Encode([]rune{r})))
		default:
			p.Character++
		}
		i += size
	}
	return p
}

// Every place of a text goes to a position and back, in every encoding, and
// what edits leave is the index of the text that they leave.
func TestPositionsAreThoseOfAPlainWalk(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 400 {
		text := randomText(random, 30)
		for _, enc := range allEncodings {
			x := newIndex(text, enc)
			for offset := range text {
				if text[offset] == '\n' && offset > 0 && text[offset-1] == '\r' {
					continue // inside a line end
				}
				p := x.position(offset)
				require.Equal(t, plainPosition(text, offset, enc), p, "%d of %q in %s", offset, text, enc.kind())
				require.Equal(t, offset, x.offset(p), "%v of %q in %s", p, text, enc.kind())
			}
		}
	}
}

func TestIndexIsSpliced(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		text := randomText(random, 30)
		x := newIndex(text, utf16Units)
		for range 20 {
			start := boundary(text, random.IntN(len(text)+1))
			end := boundary(text, start+random.IntN(len(text)-start+1))
			new := randomText(random, 4)
			after := text[:start] + new + text[end:]
			x = x.splice(start, end, new, grammar.NewRope(after))
			require.Equal(t, newIndex(after, utf16Units).starts, x.starts, "%q with %d to %d replaced by %q", text, start, end, new)
			if x.ascii {
				require.True(t, isASCII(after))
			}
			text = after
		}
	}
}

// boundary is the start of the character at an offset.
func boundary(text string, offset int) int {
	for offset > 0 && offset < len(text) && !utf8.RuneStart(text[offset]) {
		offset--
	}
	return offset
}

func FuzzPositions(f *testing.F) {
	f.Add("é𝔹\r\n😀x\n", 3, uint32(1), uint32(2))
	f.Add("\ufeffé\r𝔹\r\r\n😀", 7, uint32(2), uint32(1))
	f.Add("a\r\nb", 2, uint32(0), uint32(math.MaxUint32))
	f.Fuzz(func(t *testing.T, text string, offset int, line, character uint32) {
		if !utf8.ValidString(text) {
			return // the protocol's JSON carries valid text only
		}
		for _, enc := range allEncodings {
			x := newIndex(text, enc)
			p := x.position(offset)
			if back := x.offset(p); x.position(back) != p {
				t.Fatalf("%v of %q is at %d, which is %v", p, text, back, x.position(back))
			}
			if got := x.offset(protocol.Position{Line: line, Character: character}); got < 0 || got > len(text) {
				t.Fatalf("%d:%d of %q is at %d", line, character, text, got)
			} else if got < len(text) && (!utf8.RuneStart(text[got]) || got > 0 && text[got-1] == '\r' && text[got] == '\n') {
				t.Fatalf("%d:%d of %q is at %d, inside a character or a line end", line, character, text, got)
			} else if int(line) < len(x.starts) && x.line(got) != int(line) {
				t.Fatalf("%d:%d of %q is on line %d", line, character, text, x.line(got))
			}
		}
	})
}

func BenchmarkPosition(b *testing.B) {
	for name, line := range map[string]string{"ascii": "Rnd 1: 6 sc in magic ring (6)\n", "wide": "Rnd 1: 6 sc in magic ring – é (6)\n"} {
		b.Run(name, func(b *testing.B) {
			x := newIndex(strings.Repeat(line, 20000), utf16Units)
			for i := 0; b.Loop(); i++ {
				x.position(i * 7919 % x.text.Len())
			}
		})
	}
}
