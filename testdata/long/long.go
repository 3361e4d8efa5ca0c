// Package long makes up long patterns for measuring. They are clean, and as
// mixed as real ones are; it must not know what they are measured for.
package long

import (
	"fmt"
	"strings"
)

// set is one set of the pieces that a long pattern is made of, some sixty lines;
// %[1]s is its letter. The wordings are mixed as in testdata/patterns: spirals and
// joined rounds, rows with turning chains, ranges, "*…; rep from *", brackets,
// spaces and shells.
const set = `
Piece: Tower %[1]s (make 1)
Worked: in a spiral
With: A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (sc in next st, inc) x 6 (18)
Rnd 4: *sc in next 2 sts, inc in next st; rep from * around (24)
Rnd 5: (sc, inc, sc in next 2 sts) x 6 (30)
Rnd 6: *sc in next 4 sts, inc; rep from * 5 more times (36)
Rnd 7: sc 2, inc, *sc in each of next 5 sts, inc; rep from * to last 3 sts, sc 3 (42)
Rnd 8: BLO sc in each st around (42)
Rnds 9-14: sc in each of next 20 sts, sc in next 22 sts (42)
Rnd 15: with B, (sc 5, sc2tog over next 2 sts) x 6 (36)
Rnds 16-17: with A, sc in each st around (36)
// Stuff as you go from here on, a little at a time.
Rnd 18: *sc in next 4 sts, dec; rep from * around (30)
Rnd 19: (sc in next 3 sts, dec) x 6 (24)
Stuff firmly.
Rnd 20: *sc in next 2 sts, dec over next 2 sts; rep from * around (18)
Rnd 21: (sc, dec) x 6 (12)
Rnd 22: dec x 6 (6)
Fasten off, leaving a 30 cm tail.
Close with the tail.

Piece: Stair %[1]s (make 2)
Worked: in rows
With: B
Row 1 (RS): ch 13, sc in 2nd ch from hook, sc in next 10 ch, 2 sc in last ch (13)
Row 2 (WS): ch 1, turn, sc in each st across (13)
Row 3 (RS): ch 1, turn, sc 4, (sc, ch 1, sk 1) x 2, sc in next 5 sts (11 sc, 2 ch-1 sps)
Row 4 (WS): ch 1, turn, sc in each st and ch-1 sp across (13)
Row 5 (RS): ch 3 (counts as dc), turn, sk first st, dc in each st to last st, dc in last st (13)
Row 6 (WS): ch 1, turn, dec, sc in next 8 sts, dec, sc in top of turning ch (11)
Rows 7-9: ch 1, turn, sc across (11)
Row 10 (WS): ch 1, turn, dec, sc in next 7 sts, dec (9)
Fasten off, leaving a 25 cm tail for sewing.

Piece: Gallery %[1]s (make 1)
Worked: in joined rounds
With: C
Rnd 1: ch 4, join with sl st to form ring; ch 3 (counts as dc), 11 dc in ring, join (12)
Rnd 2: ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 12 ch-1 sps)
Rnd 3: ch 3 (counts as dc), 2 dc in next ch-1 sp, *dc in next dc, 2 dc in next ch-1 sp; rep from * around, join (36)
Rnd 4: ch 1, sc in first st, *ch 2, sk 2**, sc in next st; rep from * around, ending last rep at **, join (12 sc, 12 ch-2 sps)
Rnd 5: ch 1, *sc in next sc, (sc, hdc, sc) in next ch-2 sp; rep from * around, join (36 sc, 12 hdc)
Rnd 6: ch 3 (counts as dc), sk next st, V-st in next hdc, sk next st, *dc in next st,
  sk next st, V-st in next hdc, sk next st; rep from * around, join (36 dc, 12 ch-1 sps)
Fasten off, leaving a 30 cm tail for sewing.
`

// seams are the lines of the making up for one set; %[2]s is the letter of the set
// before, to which it is sewn, as on a washing line.
const seams = `Sew: Tower %[1]s to Tower %[2]s, over Rnds 9-14
Sew: Stair %[1]s x 2 to Tower %[1]s, between Rnds 9 and 10, 12 sts apart
Sew: Gallery %[1]s to Tower %[1]s, at Rnd 18, centred; with its first round upward
`

const head = `Pattern: Lighthouses on a Line
Terms: US
Skill: intermediate
Gauge: 24 sts x 26 rnds = 10 cm in sc
Hook: 3.0 mm
Turning chain: dc counts, sc does not
Yarn A: fern #7C9A5B, light (3), 90000 g / 225000 m
Yarn B: oat #D9C7A3, light (3), 90000 g / 225000 m
Yarn C: slate #55606B, light (3), 90000 g / 225000 m
Notion: toy stuffing
Notion: yarn needle
Note: Invented for measuring; nobody is asked to make it.
`

const foot = `Weave in all ends.
`

// Pattern is a clean pattern of so many lines, 200 or more.
func Pattern(lines int) string {
	count := func(s string) int { return strings.Count(s, "\n") }
	sets := (lines - count(head) - 2 - count(foot)) / (count(set) + count(seams))
	var b strings.Builder
	b.WriteString(head)
	for i := range sets {
		fmt.Fprintf(&b, set, letters(i))
	}
	b.WriteString("\nAssembly:\n")
	for i := range sets {
		if i == 0 {
			b.WriteString(strings.Replace(fmt.Sprintf(seams, letters(0), letters(0)), "Sew: Tower B to", "Note: All hang from", 1))
			continue
		}
		fmt.Fprintf(&b, seams, letters(i), letters(i-1))
	}
	for i := count(b.String()) + count(foot); i < lines; i++ {
		b.WriteString("Note: Pin every part first and look at it from all sides before you sew.\n")
	}
	b.WriteString(foot)
	return b.String()
}

// Middle is where the set of pieces in the middle of a long pattern begins, in bytes.
func Middle(pattern string) int {
	half := strings.Index(pattern, "\nAssembly:") / 2
	return half + strings.Index(pattern[half:], "\nPiece: Tower") + 1
}

// letters names a set. Without vowels they spell no word of the notation, as "on"
// would be.
func letters(i int) string {
	const of = "BCDFGHJKLM"
	if i < len(of) {
		return of[i : i+1]
	}
	return letters(i/len(of)-1) + of[i%len(of):i%len(of)+1]
}
