package grammar

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A text in parts is held against the same text in one.
func TestRopeOverRandomEdits(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 30 {
		whole := strings.Repeat("Rnd 2: inc x 6 (12)\n", random.IntN(4000))
		text := NewRope(whole)
		for range 200 {
			start := random.IntN(len(whole) + 1)
			end := min(len(whole), start+random.IntN(20)*random.IntN(2)+random.IntN(3*partSize)*(random.IntN(20)/19))
			new := strings.Repeat("é(sc) ", random.IntN(4)+random.IntN(5000)*(random.IntN(30)/29))
			was := text
			before := whole
			whole = whole[:start] + new + whole[end:]
			text = text.splice(start, end, new)
			require.Equal(t, len(whole), text.Len())
			require.Equal(t, whole, text.String())
			require.Equal(t, before, was.String(), "it is a value")
			from := random.IntN(len(whole) + 1)
			to := from + random.IntN(len(whole)-from+1)
			require.Equal(t, whole[from:to], text.Slice(from, to))
		}
	}
}

// Keys typed one after another do not crumble a text.
func TestRopeStaysInLargeParts(t *testing.T) {
	text := NewRope(strings.Repeat("Rnd 2: inc x 6 (12)\n", 20000))
	random := rand.New(rand.NewPCG(5, 6))
	for range 5000 {
		at := random.IntN(text.Len())
		text = text.splice(at, at+random.IntN(2), "x")
	}
	assert.Less(t, len(text.parts), 8*text.Len()/partSize)
	for _, p := range text.parts {
		require.LessOrEqual(t, len(p), max(partSize*3/2, 16))
	}
}
