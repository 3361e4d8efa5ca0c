package grammar

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// makingUpLines are contents of lines below Assembly, usual ones and others.
var makingUpLines = strings.Split(strings.TrimSpace(`
Feeler to Body
Feeler x 2 to Body, between Rnds 2 and 3, 3 sts apart
Shell to Body, over Rnds 4-6, centred; with the open edge down
Shell to Body, at Rnd 8, at back
2 safety eyes on Body, between Rnds 2 and 3, about 4 sts apart
2 safety eyes on Body, between Rnds 2 and 3, 4 sts apart.
1 bead on Shell, at Rnd 1, in line with Feeler
mouth on Body, at Rnd 4, across 3 sts, at front
Leg 2 to Body over 5 sts evenly and at top
Leg to Body in Rnd 3
Leg to Body, in Row 3 and on Row 4, to sides
Leg to Body, at front side, at left edge
Leg to Body, at Rnd 5-6
Leg to Body, at Rnd 5 and 6 sts apart
Leg to Body, between Rnds 2 and 3 sts apart
Leg to Body 3 sts apart
Leg to Body, , between Rnd 2, ,
Leg to Body, between Rnd 2 to 3, and
Leg to Body,
Leg to Body;
Leg to Body, centered; "free" text (8), *
Leg to Body. ; free
Leg to Body .
Leg to Body Rnd 3
the Leg to the Body, at the back
Left  Leg x two to Body	over Rnds 2 – 4
Leg x twice to Body
Leg x to Body
x 2 to Body
x 2 eyes on Body
2 x eyes on Body
Popcorn x 99999999999 to shell, over Rnds 3 and 99999999999
Leg
Leg to
to Body
Leg on Body evenly evenly open edge
Leg to Body, along open edge
Leg to top, at top, at bottom, at right
Leg to Body, in centre of it
Leg - left to Body
Leg twice to Body
Leg to Body between
Leg to Body between Rnds
Leg to Body between Rnds 2 and at front
Leg to Body, in line with Shell and Door, open edge
Leg to Body, in line with, open
Leg to Body, open edge edge; // why
Café 😀 x 2 to 🐌, at Rnd 2
Leg (left) to Body (big), between Rnds 2 and 3
Leg (left) x 2 to Body, in line with Leg (right), open edge
Oh! to Who?, at Rnd 3
Leg to Body! over Rnds 2-3
Mr. Moss to St. Nick, at Rnd 3.
Leg to Mr.
Leg to Mr
Leg to Body. Pin it
Legs, Ears and Tail to Body, at Rnd 3
Legs, Ears, and Tail to Body
Legs , Ears to Body
Legs,, Ears to Body
Legs, to Body
, Legs to Body
Legs, Ears x 2 to Body
nose, mouth and brows on Head, at Rnd 4
2 safety eyes (6 mm) on Head #2, at Rnd 4
12 sc sts on 3rd Leg, at Rnd 2
`), "\n")

// usualEqualsGrammar holds what the reader of usual wordings makes of a content
// against what the grammar makes of it, and says whether it reads it at all.
func usualEqualsGrammar(t *testing.T, text string) (usual bool) {
	t.Helper()
	c := content{text: text, to: len(text)}
	same := func(n Node, ok bool, read func() (Node, []Fault)) {
		if !ok {
			return
		}
		usual = true
		want, faults := read()
		if len(faults) > 0 || !reflect.DeepEqual(n, want) {
			t.Errorf("%q:\n%+v\n%+v\n%v", text, n, want, faults)
		}
	}
	sew, ok := c.usualSew(true)
	same(sew, ok, func() (Node, []Fault) { return c.sew(true) })
	place, ok := c.usualPlace()
	same(place, ok, c.place)
	embroider, ok := c.usualEmbroider()
	same(embroider, ok, c.embroider)
	return usual
}

func TestUsualMakingUp(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "patterns", "*.crochet"))
	require.NoError(t, err)
	usual, lines := 0, []string(nil)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		for line := range strings.Lines(string(data)) {
			if label, rest, ok := strings.Cut(strings.TrimSpace(line), ":"); ok && (label == "Sew" || label == "Place" || label == "Attach" || label == "Embroider") {
				lines = append(lines, rest)
			}
		}
	}
	require.NotEmpty(t, lines)
	for _, line := range lines {
		if usualEqualsGrammar(t, line) {
			usual++
		}
	}
	assert.Greater(t, 2*usual, len(lines), "the usual wordings are read by hand")
	for _, line := range makingUpLines {
		usualEqualsGrammar(t, line)
	}
}

func FuzzMakingUp(f *testing.F) {
	for _, line := range makingUpLines {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 1<<10 {
			usualEqualsGrammar(t, text)
		}
	})
}
