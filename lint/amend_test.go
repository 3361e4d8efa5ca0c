package lint

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
	"workeven/testdata/long"
)

// below puts a pattern so far down that no edit of its parts touches what counts
// as the header.
func below(text string) string { return strings.Repeat("\n", 60) + text }

// amended says whether a check took the facts of the one before.
func amended(old, now *Checked, facts *facts) bool {
	return facts != nil && old.facts.Load() == nil && now.facts.Load() == facts
}

// changedWords are what a word is changed to.
var changedWords = []string{"1", "2", "3", "12", "6", "sc", "inc", "dec", "around", "x 5", "(12)", "turn", "BLO", "hdc", "marker", "Stuff", "with B", "Ball", "allow: shape", "ch 30", "12\n", "\n\n", "sc\n// aside\n", "6\nRnd 4: sc around (12)\n", "\nNote: aside\n"}

// randomWord is an edit that changes a word, or takes a line away.
func randomWord(random *rand.Rand, text string) (from, to int, new string) {
	at := random.IntN(len(text))
	if random.IntN(8) == 0 {
		from = strings.LastIndexByte(text[:at], '\n') + 1
		return from, min(from+strings.IndexByte(text[from:]+"\n", '\n')+1, len(text)), ""
	}
	const ends = " \n(),"
	from = strings.LastIndexAny(text[:at], ends) + 1
	return from, max(from, at+strings.IndexAny(text[at:]+" ", ends)), changedWords[random.IntN(len(changedWords))]
}

// Words, numbers and lines that come and go: the check that amends an earlier one
// says the same as one that begins anew, and it does amend.
func TestAmendIsCheck(t *testing.T) {
	opts := Options{NoFixes: true}
	random := rand.New(rand.NewPCG(7, 11))
	for name, text := range map[string]string{"in rows": below(inRows), "long": long.Pattern(300), "hat": below(hat)} {
		t.Run(name, func(t *testing.T) {
			amends, shifts, finds := 0, 0, 0
			f := grammar.Parse(text)
			c := Recheck(nil, f, opts)
			for i := range 350 {
				if i%7 == 0 { // edits pile up; begin again
					f = grammar.Parse(text)
					c = Recheck(nil, f, opts)
				}
				from, to, new := randomWord(random, f.Text())
				facts, old := c.facts.Load(), c
				f = grammar.Splice(f, from, to, new)
				c = Recheck(old, f, opts)
				require.Equal(t, Check(f, opts), c.Findings, "edit %d:\n%s", i, strings.TrimSpace(f.Text()))
				if amended(old, c, facts) {
					amends++
					finds += len(c.Findings)
					if len(old.Pattern.File.Lines) != len(f.Lines) {
						shifts++
					}
				}
			}
			assert.Greater(t, amends, 25)
			assert.Greater(t, shifts, 5)
			assert.Greater(t, finds, 25)
		})
	}
}

// hat is a part that rows of others hang on: rounds that are placed upon, a chain
// as long as a tie, yarn that is hardly enough, and a size.
const hat = `Pattern: Hat
Terms: US
Gauge: 24 sts x 26 rnds = 10 cm in sc
Hook: 3 mm
Size: 12 cm around
Yarn A: fern, light (3), 50 g / 4 m
Notion: 2 buttons, 10 mm
Notion: toy stuffing
Notion: yarn needle

Piece: Crown
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc, inc) x 6 (18)
Rnds 4-6: sc around (18)
Rnd 7: (sc, dec) x 6 (12)
Stuff.
Rnd 8: dec x 6 (6)
Close.

Piece: Flap (make 2)
Worked: in rows
Row 1: ch 9, sc in 2nd ch from hook, sc in next 7 ch (8)
Row 2: ch 1, turn, sc across (8)
Row 3: ch 40, turn, sc in 2nd ch from hook, sc across (47)

Assembly:
Sew: Flap x 2 to Crown, between Rnds 5 and 6, 8 sts apart
Place: 2 buttons on Crown, between Rnds 6 and 7, 9 sts apart
`

// What a round tells the rules of other parts is heard, though only the one
// piece is looked at again.
func TestAmendTellsOtherParts(t *testing.T) {
	opts := Options{NoFixes: true}
	tests := []struct{ old, new, rule string }{
		{"Rnds 4-6: sc around (18)", "Rnds 4-6: dec, sc around (17)", "placement"},
		{"sc around (18)", "sc around (18), with Z", "undeclared-yarn"},
		{"ch 40", "ch 90", "caution-missing"},
		{"Rnds 4-6", "Rnds 4-600", "yarn-short"},
	}
	for _, test := range tests {
		t.Run(fmt.Sprintf("%s to %s", test.old, test.new), func(t *testing.T) {
			text := below(hat)
			at := strings.Index(text, test.old)
			require.Positive(t, at)
			before := grammar.Parse(text)
			after := grammar.Splice(before, at, at+len(test.old), test.new)
			c := Recheck(nil, before, opts)
			was := byRule(c.Findings, test.rule)
			now := Recheck(c, after, opts).Findings
			require.Equal(t, Check(after, opts), now)
			assert.NotEqual(t, was, byRule(now, test.rule))
		})
	}
}
