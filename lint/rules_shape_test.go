package lint

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// disc works rounds of so many stitches more each, from a ring of as many.
func disc(stitch string, start, rounds int) string {
	var b strings.Builder
	b.WriteString("Piece: Motif\n")
	total := start
	for i := 1; i <= rounds; i++ {
		switch i {
		case 1:
			b.WriteString("Rnd 1: " + Number(start, stitch, stitch) + " in magic ring")
		case 2:
			b.WriteString("Rnd 2: 2 " + stitch + " in each st around")
		default:
			b.WriteString("Rnd " + strconv.Itoa(i) + ": (" + stitch + " " + strconv.Itoa(i-2) + ", inc) x " + strconv.Itoa(start))
		}
		b.WriteString(" (" + strconv.Itoa(total) + ")\n")
		total += start
	}
	return b.String()
}

// Starts of circles. 6 or 7 sc and 12 dc lie flat, 8 sc and more ruffle:
// makers' pages of 2009, named in testdata/sources; the thresholds are ours.
func TestShape(t *testing.T) {
	noGauge := "Pattern: Example\nTerms: US\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\n"
	runCases(t, "shape", []ruleCase{
		{"6 sc", disc("sc", 6, 6), nil},
		{"7 sc", noGauge + disc("sc", 7, 6), nil},
		{"9 sc", disc("sc", 9, 5), []string{"Rnd 1 ~ from Rnd 1 on the edge will ruffle: 5 rounds grow by up to"}},
		{"12 dc", noGauge + disc("dc", 12, 5), nil},
		{"6 dc", noGauge + disc("dc", 6, 5), []string{"Rnd 3 ~ Rnd 3 will stand up as a bowl: it has 6 more than the round below, where in stitches of that height about 10 more lie flat"}},
		{"4 sc, a cone", disc("sc", 4, 6), nil},
		{"a tube and a neck that widens", "Piece: Motif\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-9: sc around (12)\nRnd 10: inc x 12 (24)\nRnds 11-14: sc around (24)\n", nil},
		{"more than doubles", "Piece: Motif\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-9: sc around (12)\nRnd 10: 3 sc in each st around (36)\n", []string{"Rnd 10 ~ Rnd 10 is more than twice as long as the round below"}},
		{"a hexagon", disc("sc", 6, 9), []string{"Rnd 8 ~ the increases stand one above another for 7 rounds: the circle becomes a shape with 6 corners"}},
		{"staggered", disc("sc", 6, 6) + "Rnd 7: sc 2, inc, (sc 5, inc) x 5, sc 3 (42)\nRnd 8: (sc 6, inc) x 6 (48)\nRnd 9: sc 3, inc, (sc 7, inc) x 5, sc 4 (54)\n", nil},
		{"rows", "Piece: Flap\nWorked: in rows\nRow 1: ch 7, sc in 2nd ch from hook and in each ch across (6)\nRow 2: ch 1, turn, 2 sc in each st across (12)\nRow 3: ch 1, turn, 2 sc in each st across (24)\nRow 4: ch 1, turn, 2 sc in each st across (48)\n", nil},
	})
}

func TestSizeDiffers(t *testing.T) {
	tube := "Piece: Hat\nRnd 1: ch 96, join with sl st to form ring, sc in each ch around (96)\nRnds 2-26: sc around (96)\n" // 40 x 10 cm
	runCases(t, "size-differs", []ruleCase{
		{"as it comes out", "Size: 40 cm around\n" + tube, nil},
		{"within some tenths", "Size: 45 cm around, 11 cm tall\n" + tube, nil},
		{"around", "Size: 56 cm around\n" + tube, []string{"56 cm ~ by gauge and rounds it comes out at about 40 cm around, not 56 cm"}},
		{"laid flat", "Size: 20 cm wide\n" + tube, nil},
		{"tall", "Size: 25 cm tall\n" + tube, []string{"25 cm ~ it comes out at about"}},
		{"in inches", "Size: 4 in tall\n" + tube, nil},
		{"rows", "Size: 10 x 10 cm\nPiece: Flap\nWorked: in rows\nRow 1: ch 25, sc in 2nd ch from hook and in each ch across (24)\nRows 2-26: ch 1, turn, sc in each st across (24)\n", nil},
		{"rows of another length", "Size: 10 x 20 cm\nPiece: Flap\nWorked: in rows\nRow 1: ch 25, sc in 2nd ch from hook and in each ch across (24)\nRows 2-26: ch 1, turn, sc in each st across (24)\n", []string{"20 cm ~ not 20 cm"}},
		{"taller than all parts together", "Size: 60 cm tall\n" + notions + ball + feeler, []string{"60 cm ~ 60 cm is more than all parts laid end to end"}},
		{"several parts", "Size: 4 cm tall\n" + notions + ball + feeler, nil},
		{"no measure", "Size: one size\n" + tube, nil},
		{"a hat laid flat", "Size: 13 cm tall\nPiece: Hat\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\nRnd 5: (sc 3, inc) x 6 (30)\nRnd 6: (sc 4, inc) x 6 (36)\nRnd 7: (sc 5, inc) x 6 (42)\nRnd 8: (sc 6, inc) x 6 (48)\nRnd 9: (sc 7, inc) x 6 (54)\nRnd 10: (sc 8, inc) x 6 (60)\nRnd 11: (sc 9, inc) x 6 (66)\nRnd 12: (sc 10, inc) x 6 (72)\nRnds 13-34: sc around (72)\n", nil},
	})
}

func TestYarnShort(t *testing.T) {
	big := "Piece: Bag\nRnd 1: ch 96, join with sl st to form ring, sc in each ch around (96)\nRnds 2-80: sc around (96)\n"
	head := func(yarn string) string {
		return "Pattern: Example\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), " + yarn + "\n"
	}
	runCases(t, "yarn-short", []ruleCase{
		{"enough", head("50 g / 125 m, 4 balls") + big, nil},
		{"one ball", head("50 g / 125 m") + big, []string{"125 m ~ the pattern takes about 375 m of yarn A (319 to 432), and 125 m are listed"}},
		{"two balls", head("50 g / 125 m, 2 balls") + big, []string{"2 ~ and 250 m are listed"}},
		{"length not said", head("50 g") + big, nil},
	})
	text := head("50 g / 125 m, 2 balls") + big
	f := byRule(lintText(text), "yarn-short")
	mended, _ := Apply(text, f[0].Fixes[0].Edits)
	assert.Contains(t, mended, "125 m, 4 balls\n")
	assert.Empty(t, byRule(lintText(mended), "yarn-short"))
}

func TestMarker(t *testing.T) {
	runCases(t, "marker", []ruleCase{
		{"placed and moved", "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring, pm (6)\nRnd 2: sc around, move marker (6)\n", nil},
		{"placed in each round", "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring, pm (6)\nRnd 2: sc around, pm (6)\n", nil},
		{"never moved", "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring, pm (6)\nRnd 2: sc around (6)\n", []string{"pm ~ this marker is placed and never moved"}},
		{"never placed", "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc around, move marker (6)\n", []string{"move marker ~ this marker is moved, and none was placed before"}},
		{"a note explains it", "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring, pm (6)\nNote: Move the marker up as you go.\n", nil},
	})
}

// The limits are those of the usual rules for toys, as far as they are known
// here: a small ball passes a hole of 44.4 mm (16 CFR 1500.19), a cord is
// longer than 22 cm (EN 71-1). Nothing here says that a toy is safe.
func TestCautionMissing(t *testing.T) {
	head := "Pattern: Example\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\n"
	large := "Piece: Shell\nRnd 1: ch 60, join with sl st to form ring, sc in each ch around (60)\nRnds 2-20: sc around (60)\nStuff.\n"
	runCases(t, "caution-missing", []ruleCase{
		{"stuffing and eyes", head + "Notion: 2 safety eyes\n" + notions + large, []string{"safety eyes ~ eyes are small parts: the pattern needs a Caution line"}},
		{"with a caution", head + "Notion: 2 safety eyes\nCaution: Not for a child under three.\n" + notions + large, nil},
		{"with another caution", head + "Notion: 2 safety eyes\nCaution: Wash by hand.\n" + notions + large, []string{"safety eyes ~ eyes are small parts"}},
		{"buttons on a bag", head + "Notion: 2 buttons\n" + large[:strings.Index(large, "Stuff")], nil},
		{"buttons on a bag for a baby", head[:9] + "Baby bag" + head[16:] + "Notion: 2 buttons\n" + large[:strings.Index(large, "Stuff")], []string{"buttons ~ buttons are small parts"}},
		{"wire", head + "Notion: craft wire\n" + notions + large, []string{"craft wire ~ wire is a hazard to small children"}},
		{"a needle with a large eye", head + "Notion: needle with a large eye\nNotion: toy stuffing\n" + large, nil},
		{"a long cord", head + notions + large + "Piece: Tie\nRow 1: ch 100\n", []string{"Tie ~ a cord of 41.7 cm is longer than the 22 cm"}},
		{"a short cord", head + notions + large + "Piece: Tie\nRow 1: ch 40\n", nil},
		{"a small ball", head + notions + "Piece: Bead\n" + ball[strings.Index(ball, "Rnd 1"):], []string{"Bead ~ what passes a hole of 4.44 cm counts as a small ball"}},
		{"a small ball that is sewn on", head + notions + ball + large[:7] + "Head" + large[12:] + "Assembly:\nSew: Shell to Head, at Rnd 5\n", nil},
		{"wire in a bag", head + "Notion: floral wire\n" + large[:strings.Index(large, "Stuff")], []string{"floral wire ~ wire is a hazard to small children"}},
		{"a pipe cleaner in a note", head + "Note: Push a pipe cleaner into the stem.\n" + large[:strings.Index(large, "Stuff")], []string{"Note: Push a pipe cleaner into the stem. ~ pipe cleaners are small parts"}},
		{"no wire", head + "Note: No wire is used.\n" + large[:strings.Index(large, "Stuff")], nil},
		{"a long strap of several rows", head + notions + large + "Piece: Strap\nWorked: in rows\nRow 1: ch 101, sc in 2nd ch from hook, sc in each ch across (100)\nRows 2-4: ch 1, turn, sc across (100)\n", []string{"Strap ~ a cord of 41.7 cm is longer than the 22 cm"}},
		{"the same on a bag", head + large[:strings.Index(large, "Stuff")] + "Piece: Strap\nRow 1: ch 101\n", nil},
		{"a tie at a corner of a baby's bib", head[:9] + "Baby bib" + head[16:] + "Piece: Bib\nWorked: in rows\nRow 1: ch 31, sc in 2nd ch from hook, sc in each ch across (30)\nRow 2: ch 1, turn, sc across (30)\nRow 3: ch 80, sl st in 2nd ch from hook, sl st in next 78 ch\n", []string{"ch 80 ~ a cord of 33.3 cm is longer than the 22 cm"}},
		{"a bib that begins with a long chain", head[:9] + "Baby bib" + head[16:] + "Piece: Bib\nWorked: in rows\nRow 1: ch 81, sc in 2nd ch from hook, sc in each ch across (80)\n", nil},
		{"a tie in a size for a baby", head + "Size: 40 cm around, 3 months\n" + large[:strings.Index(large, "Stuff")] + "Piece: Tie\nRow 1: ch 100\n", []string{"Tie ~ a cord of 41.7 cm is longer than the 22 cm"}},
		{"a pompom on a toy", head + notions + large + "Assembly:\nNote: Sew a pom-pom to the top.\n", []string{"Note: Sew a pom-pom to the top. ~ a ball of yarn that is sewn on can be pulled or bitten off"}},
		{"a pompom maker", head + notions + "Note: A pompom maker helps.\n" + large, nil},
		{"a pompom on a hat", head[:9] + "Hat" + head[16:] + "Note: Sew a pompom to the top.\n" + large[:strings.Index(large, "Stuff")], nil},
		{"bobbles that are sewn on", head + notions + large + "Assembly:\nSew: Bobbles to Shell, at Rnd 3\n", []string{"Sew: Bobbles to Shell, at Rnd 3 ~ pulled or bitten off"}},
		{"embroidered eyes", head + notions + large + "Assembly:\nEmbroider: two eyes on Shell, at Rnd 5\n", nil},
	})
	text := head + "Notion: 2 safety eyes\n" + notions + large
	f := byRule(lintText(text), "caution-missing")[0]
	mended, _ := Apply(text, f.Fixes[0].Edits)
	assert.False(t, f.Fixes[0].Safe, "a designer answers for what the caution says")
	assert.Contains(t, mended, "Caution: Eyes are small parts that a child can choke on")
	assert.Contains(t, mended, "licensed laboratory")
	assert.Empty(t, byRule(lintText(mended), "caution-missing"))
}

func TestDefinition(t *testing.T) {
	runCases(t, "definition", []ruleCase{
		{"used", "Stitch: tuft = 3 dc together in one st\n" + round1 + "Rnd 2: tuft x 6 (6)\n", nil},
		{"used by its full name", "Stitch: tf (big tuft) = 3 dc together in one st\n" + round1 + "Rnd 2: big tuft 6 (6)\n", nil},
		{"used in another", "Stitch: tuft = 3 dc together in one st\nStitch: twin = (tuft, ch 1, tuft) in one st\n" + round1 + "Rnd 2: twin x 6 (12)\n", nil},
		{"never used", "Stitch: tuft = 3 dc together in one st\n" + round1, []string{"tuft ~ tuft is defined and never used"}},
		{"used before", round1 + "Rnd 2: tuft x 6 (6)\nStitch: tuft = 3 dc together in one st\n", []string{"tuft ~ tuft is used here and defined further down"}},
		{"twice", "Stitch: tuft = 3 dc together in one st\nStitch: tuft = 4 dc together in one st\n" + round1 + "Rnd 2: tuft x 6 (6)\n", []string{"tuft ~ tuft is defined twice"}},
		{"a usual name with other counts", "Stitch: sc2tog, takes 3, makes 1\n" + round1 + "Rnd 2: sc2tog x 2 (2)\n", []string{"sc2tog ~ sc2tog is also the name of a usual stitch (single crochet 2 together), which takes 2 and makes 1; this one takes 3 and makes 1"}},
		{"a usual name with its own counts", "Stitch: bob (bobble) = 5 dc together in one st\n" + round1 + "Rnd 2: bob x 6 (6)\n", nil},
		{"a shell of one's own", "Stitch: shell = (2 dc, ch 1, 2 dc) in one st\n" + round1 + "Rnd 2: shell x 6 (24)\n", nil},
	})
}

func TestRepeatSimpler(t *testing.T) {
	runCases(t, "repeat-simpler", []ruleCase{
		{"written out", round1 + "Rnd 2: sc, inc, sc, inc, sc, inc (9)\n", []string{"sc, inc, sc, inc, sc, inc ~ these steps come 3 times over"}},
		{"only twice", "Piece: Shell\nRnd 1: 4 sc in magic ring (4)\nRnd 2: sc, inc, sc, inc (6)\n", nil},
		{"with something before and after", "Piece: Shell\nRnd 1: 10 sc in magic ring (10)\nRnd 2: sc 2, sc, inc, sc, inc, sc, inc, sc 2 (13)\n", []string{"sc, inc, sc, inc, sc, inc ~ 3 times over"}},
		{"once", round1 + "Rnd 2: (sc 2, inc) x 1, sc 3 (7)\n", []string{"(sc 2, inc) x 1 ~ this repeat is worked once"}},
		{"once in a repeat", round1 + "Rnd 2: [(sc, inc) x 1, sc] x 2 (8)\n", []string{"(sc, inc) x 1 ~ this repeat is worked once"}},
		{"one place", round1 + "Rnd 2: (sc, hdc, sc) in next st, sc 5 (8)\n", nil},
		{"joins are no repeat", round1 + "Rnd 2: sc 2, with A, sc 2, with A, sc 2 (6)\n", nil},
		{"one stitch twice", "Piece: Shell\nRnd 1: 4 sc in magic ring (4)\nRnd 2: sc2tog, sc2tog (2)\n", nil},
		{"one stitch eight times", "Piece: Shell\nRnd 1: 16 sc in magic ring (16)\nRnd 2: hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog (8)\n",
			[]string{"hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog ~ this step comes 8 times over; a number says so"}},
		{"one stitch seven times", "Piece: Shell\nRnd 1: 16 sc in magic ring (16)\nRnd 2: sc2tog, sc2tog, sc2tog, sc2tog, sc2tog, sc2tog, sc2tog, sc 2 (9)\n",
			[]string{"sc2tog, sc2tog, sc2tog, sc2tog, sc2tog, sc2tog, sc2tog ~ this step comes 7 times over"}},
		{"one stitch in a longer run", "Piece: Shell\nRnd 1: 12 sc in magic ring (12)\nRnd 2: sc, sc, sc, inc, sc, sc, sc, inc, sc, sc, sc, inc (15)\n",
			[]string{"sc, sc, sc, inc, sc, sc, sc, inc, sc, sc, sc, inc ~ these steps come 3 times over"}},
	})
	text := example("Piece: Shell\nRnd 1: 10 sc in magic ring (10)\nRnd 2: sc 2, sc, inc, sc, inc, sc, inc, sc 2 (13)\nRnd 3: (sc 2, inc) x 1, sc 10 (14)\n")
	fixed, n, rest := FixAll(text, lintText)
	assert.Equal(t, 2, n)
	assert.Empty(t, rest)
	assert.Contains(t, fixed, "Rnd 2: sc 2, (sc, inc) x 3, sc 2 (13)\nRnd 3: sc 2, inc, sc 10 (14)\n")
}

// TestRepeatSimplerWrites holds what is written for steps that come several
// times, and that it makes the same stitches.
func TestRepeatSimplerWrites(t *testing.T) {
	for steps, want := range map[string]string{
		"hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog, hdc2tog (8)":   "hdc2tog x 8 (8)",
		"sc2tog, SC2TOG, sc2tog, sc 10 (13)":                                           "sc2tog x 3, sc 10 (13)",
		"inc, inc, inc, sc 13 (19)":                                                    "inc x 3, sc 13 (19)",
		"sc, sc, sc, sc, inc, sc 11 (17)":                                              "sc 4, inc, sc 11 (17)",
		"sc 4, sc 4, sc 4, sc 4 (16)":                                                  "sc 16 (16)",
		"sc in next st, sc in next st, sc in next st, sc 13 (16)":                      "sc in next 3 sts, sc 13 (16)",
		"2 sc in next st, 2 sc in next st, 2 sc in next st, sc 13 (19)":                "2 sc in each of next 3 sts, sc 13 (19)",
		"inc in next st, inc in next st, inc in next st, sc 13 (19)":                   "(inc in next st) x 3, sc 13 (19)",
		"sc 2 in next st, sc 2 in next st, sc 2 in next st, sc 13 (19)":                "2 sc in each of next 3 sts, sc 13 (19)",
		"BLO sc, BLO sc, BLO sc, sc 13 (16)":                                           "(BLO sc) x 3, sc 13 (16)",
		"(sc, hdc) in next st, (sc, hdc) in next st, (sc, hdc) in next st, sc 13 (19)": "((sc, hdc) in next st) x 3, sc 13 (19)",
		"sk 1, sk 1, sk 1, sc 13 (13)":                                                 "(sk 1) x 3, sc 13 (13)",
	} {
		text := example("Piece: Shell\nRnd 1: 16 sc in magic ring (16)\nRnd 2: " + steps + "\n")
		fixed, n, rest := FixAll(text, lintText)
		assert.Equal(t, 1, n, steps)
		assert.Empty(t, rest, steps)
		assert.Contains(t, fixed, "Rnd 2: "+want+"\n")
	}
}
