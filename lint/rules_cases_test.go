package lint

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"workeven/grammar"
)

// ruleCase is a fragment and what one rule says of it: for each finding the
// words that it stands on, and a part of its message, as "words ~ message". None
// means that the rule is silent.
type ruleCase struct {
	name, text string
	want       []string
}

func runCases(t *testing.T, rule string, cases []ruleCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := example(c.text)
			found := byRule(Check(grammar.Parse(text), Options{}), rule)
			var got []string
			for _, f := range found {
				got = append(got, text[f.Start:f.End]+" ~ "+f.Message)
			}
			if !assert.Len(t, got, len(c.want), "%q", got) {
				return
			}
			for i, w := range c.want {
				words, message, _ := strings.Cut(w, " ~ ")
				assert.Equal(t, words, text[found[i].Start:found[i].End])
				assert.Contains(t, found[i].Message, message)
			}
		})
	}
}

const round1 = "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\n"

func TestNumbering(t *testing.T) {
	plain := func(labels ...string) string {
		var b strings.Builder
		b.WriteString(round1)
		for _, l := range labels {
			b.WriteString(l + ": sc around (6)\n")
		}
		return b.String()
	}
	runCases(t, "numbering", []ruleCase{
		{"in order", plain("Rnd 2", "Rnds 3-6", "Rnd 7"), nil},
		{"one skipped", plain("Rnd 2", "Rnd 4", "Rnd 5"), []string{"Rnd 4 ~ Rnd 4 follows Rnd 2; Rnd 3 is missing"}},
		{"several skipped", plain("Rnd 2", "Rnd 6", "Rnd 7"), []string{"Rnd 6 ~ Rnds 3-5 are missing"}},
		{"one skipped at the end", plain("Rnd 2", "Rnd 4"), []string{"Rnd 4 ~ Rnd 3 is missing"}},
		{"a range too long", plain("Rnds 2-5", "Rnd 5", "Rnd 6"), []string{"Rnd 5 ~ the line before it goes up to Rnd 5"}},
		{"twice", plain("Rnd 2", "Rnd 2", "Rnd 3"), []string{"Rnd 2 ~ Rnd 2 is there twice"}},
		{"one slip of the pen", plain("Rnd 2", "Rnd 33", "Rnd 4", "Rnd 5"), []string{"Rnd 33 ~ Rnd 33 stands where Rnd 3 belongs; the next one is Rnd 4"}},
		{"a slip in a range", plain("Rnds 3-6", "Rnd 6", "Rnd 7"), []string{"Rnds 3-6 ~ stands where Rnds 2-5 belongs"}},
		{"a range without its end", plain("Rnd 2", "Rnds 3-", "Rnd 7"), nil},
		{"two changed about", plain("Rnd 2", "Rnd 4", "Rnd 3", "Rnd 5", "Rnd 6"), []string{"Rnd 4 ~ Rnd 3 is missing"}},
		{"a range backwards", plain("Rnds 5-2", "Rnd 6"), []string{"Rnds 5-2 ~ Rnds 2-5 is meant"}},
		{"begins late", "Piece: Shell\nRnd 3: 6 sc in magic ring (6)\nRnd 4: sc around (6)\n", []string{"Rnd 3 ~ this part begins with Rnd 3; Rnds 1-2 are missing"}},
		{"begins again", plain("Rnd 2", "Rnd 3", "Rnd 1", "Rnd 2"), []string{"Rnd 1 ~ a new part begins with a Piece: line"}},
		{"goes on from the part before", plain("Rnd 2") + "Piece: Body\nRnd 3: 6 sc in magic ring (6)\n", nil},
		{"rows begin at 1", plain("Rnd 2") + "Row 1: ch 1, turn, sc in each st across (6)\nRow 2: ch 1, turn, sc in each st across (6)\n", nil},
		{"rows go on", plain("Rnd 2") + "Row 3: ch 1, turn, sc in each st across (6)\n", nil},
		{"a row 0", "Piece: Strap\nRow 0: ch 7\nRow 1: sc in 2nd ch from hook and in each ch across (6)\n", nil},
		{"behind a line that cannot be read", "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRdn 2: sc around (6)\nRnd 3: sc around (6)\n", nil},
		{"a second side", "Piece: Strap\nRow 1: ch 7, sc in 2nd ch from hook and in each ch across (6)\nRow 2: ch 1, turn, sc 3, leave remaining 3 sts unworked (3)\nFasten off.\nJoin A to the first unworked stitch.\nRow 2: sc in 3 unworked sts of Row 1 (3)\n", nil},
	})
}

func TestNumberingRepairs(t *testing.T) {
	text := example("Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-5: sc around (6)\nRnd 5: sc around (6)\n")
	f := byRule(lintText(text), "numbering")[0]
	assert.False(t, f.Fixes[0].Safe)
	mended, _ := Apply(text, f.Fixes[0].Edits)
	assert.Contains(t, mended, "Rnds 2-4: sc around (6)\nRnd 5:")

	text = example("Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 12-15: sc around (6)\nRnd 6: sc around (6)\n")
	f = byRule(lintText(text), "numbering")[0]
	assert.True(t, f.Fixes[0].Safe)
	mended, _ = Apply(text, f.Fixes[0].Edits)
	assert.Contains(t, mended, "Rnds 2-5: sc around")
}

func TestTotalMissing(t *testing.T) {
	runCases(t, "total-missing", []ruleCase{
		{"with a total", round1, nil},
		{"without one", "Piece: Shell\nRnd 1: 6 sc in magic ring\n", []string{"Rnd 1 ~ Rnd 1 has no total; its words make 6 stitches"}},
		{"a chain by itself", "Piece: Strap\nRow 1: ch 7\nRow 2: sc in 2nd ch from hook and in each ch across (6)\n", nil},
		{"a line with a fault", round1 + "Rnd 2: sc arond\n", nil},
		{"an unknown stitch", round1 + "Rnd 2: zz 6\n", nil},
		{"a slip of counting", round1 + "Rnd 2: sc 7\n", nil},
		{"rounds repeated", round1 + "Rnd 2: sc around (6)\nRnds 3-6: rep Rnds 1-2\n", nil},
		{"a range", round1 + "Rnds 2-4: sc around\n", []string{"Rnds 2-4 ~ Rnds 2-4 have no total; their words make 6 stitches"}},
		{"spaces", round1 + "Rnd 2: (sc, ch 2) x 6\n", []string{"Rnd 2 ~ its words make 6 sc, 6 ch-2 sps"}},
	})
	text := example(round1 + "Rnd 2: (sc, ch 2) x 6.\n")
	f := byRule(lintText(text), "total-missing")[0]
	mended, _ := Apply(text, f.Fixes[0].Edits)
	assert.Contains(t, mended, "Rnd 2: (sc, ch 2) x 6 (6 sc, 6 ch-2 sps).\n")
	assert.Empty(t, byRule(lintText(mended), "total-missing"))
}

func TestTurningChain(t *testing.T) {
	flap := "Piece: Flap\nWorked: in rows\nRow 1: ch 14, dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across (12)\n"
	runCases(t, "turning-chain", []ruleCase{
		{"suits", flap + "Row 2: ch 3 (counts as dc), turn, dc in next 11 sts (12)\n", nil},
		{"one short is usual", flap + "Row 2: ch 2 (counts as dc), turn, dc in next 11 sts (12)\n", nil},
		{"too short", flap + "Row 2: ch 1 (counts as dc), turn, dc in next 11 sts (12)\n", []string{"ch 1 (counts as dc) ~ ch 1 is too short for dc"}},
		{"too tall", flap + "Row 2: ch 4 (counts as dc), turn, dc in next 11 sts (12)\n", []string{"ch 4 (counts as dc) ~ ch 4 is too tall for dc"}},
		{"with a space", flap + "Row 2: ch 4 (counts as dc and ch 1), turn, dc in next 11 sts (12 dc, 1 ch-1 sp)\n", nil},
		{"sc", "Piece: Flap\nWorked: in rows\nRow 1: ch 13, sc in 2nd ch from hook and in each ch across (12)\nRow 2: ch 1, turn, sc in each st across (12)\n", nil},
		{"counts and does not", flap + "Row 2: ch 3 (does not count as a st), turn, dc in each st across (12)\nRow 3: ch 3 (does not count as a st), turn, dc in each st across (12)\n",
			[]string{"ch 3 (does not count as a st) ~ counts as a stitch in Row 1, and does not count in Row 2"}},
		{"begins a decrease", flap + "Row 2: ch 3 (counts as dc), turn, dc in next 11 sts (12)\nRow 3: ch 2 (does not count as a st), turn, sk first st, dc in next 11 sts (11)\n", nil},
		{"one shorter than before", flap + "Row 2: ch 3 (counts as dc), turn, dc in next 11 sts (12)\nRow 3: ch 2 (counts as dc), turn, dc in next 11 sts (12)\n", []string{"ch 2 (counts as dc) ~ Row 2 begins with ch 3 before dc, Row 3 with ch 2"}},
		{"repeated", flap + "Row 2: ch 1 (counts as dc), turn, dc in next 11 sts (12)\nRows 3-6: rep Row 2 (12)\n", []string{"ch 1 (counts as dc) ~ too short"}},
		{"loses one", flap + "Row 2: ch 3 (does not count as a st), turn, sk first st, dc in each st across\n", []string{"sk first st ~ such rows lose one each"}},
		{"loses one as is said", "Piece: Flap\nWorked: in rows\nRow 1: ch 13, sc in 2nd ch from hook and in each ch across (12)\nRow 2: ch 1, turn, sk first st, sc in each st across (11)\n", nil},
		{"gains one", flap + "Row 2: ch 3 (counts as dc), turn, dc in first st, dc in each st across\n", []string{"dc in first st ~ such rows gain one each"}},
	})
}

func TestTerms(t *testing.T) {
	uk := "Pattern: Example\nTerms: UK\nGauge: 24 sts x 26 rnds = 10 cm in dc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\n"
	none := "Pattern: Example\nGauge: 24 sts x 16 rnds = 10 cm in dc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\n"
	runCases(t, "mixed-terms", []ruleCase{
		{"UK word under US", round1 + "Rnd 2: htr around (6)\nRnd 3: htr 6 (6)\n", []string{`htr ~ "htr" is a UK word in a pattern in US terms, which calls it hdc (and 1 more place)`}},
		{"US word under UK", uk + "Piece: Shell\nRnd 1: 6 dc in magic ring (6)\nRnd 2: sc around (6)\n", []string{`sc ~ "sc" is a US word in a pattern in UK terms, which calls it dc`}},
		{"in a total", round1 + "Rnd 2: hdc around (6 htr)\n", []string{"htr ~ is a UK word"}},
		{"words of both systems", round1 + "Rnd 2: 2 dc in each st around (12)\nRnd 3: tr around (12)\n", nil},
		{"no heading, all of one system", none + "Piece: Shell\nRnd 1: 6 htr in magic ring (6)\n", nil},
		{"no heading, both", none + round1 + "Rnd 2: htr around (6)\n", []string{"htr ~ is a UK word"}},
		{"skip and miss", uk + "Piece: Shell\nRnd 1: 6 dc in magic ring (6)\nRnd 2: (dc, sk 1) x 3 (3)\n", nil},
	})
	runCases(t, "terms-missing", []ruleCase{
		{"said", round1, nil},
		{"US words", none + round1, []string{"Pattern: Example ~ its words are US ones"}},
		{"a UK word", none + "Piece: Shell\nRnd 1: 6 htr in magic ring (6)\n", []string{`Pattern: Example ~ "htr" is a UK word`}},
		{"words of both", none + "Piece: Shell\nRnd 1: 6 dc in magic ring (6)\n", []string{"Pattern: Example ~ whether it is in US or UK terms"}},
	})
	for text, want := range map[string]string{
		none + round1: "Terms: US",
		strings.Replace(none, " x 16", " x 26", 1) + "Piece: Shell\nRnd 1: 6 htr in magic ring (6)\n": "Terms: UK",
		round1: "Terms: US",
	} {
		fixed, n, rest := FixAll(text, lintText)
		assert.Equal(t, 1, n, text)
		assert.Contains(t, fixed, want+"\n")
		assert.Empty(t, rest, fixed)
	}
	assert.Len(t, byRule(lintText(round1), "terms-missing"), 1, "also in a file without a title")
	assert.Empty(t, lintText(""))
	assert.Empty(t, lintText("\n\n// nothing yet\n"))
}

// The message of a repeat that does not come out: what is repeated over what,
// how many are over and which numbers would fit.
func TestRepeatDoesNotFit(t *testing.T) {
	of := func(n int, steps string) string {
		return "Piece: Shell\nRnd 1: " + strconv.Itoa(n) + " sc in magic ring (" + strconv.Itoa(n) + ")\nRnd 2: " + steps + "\n"
	}
	lace := "Piece: Motif\nRnd 1: magic ring, (2 dc, ch 2) x 5 (10 dc, 5 ch-2 sps)\n"
	runCases(t, "repeat-does-not-fit", []ruleCase{
		{"two over", of(20, "(sc 2, inc) around"), []string{"(sc 2, inc) around ~ Rnd 2 repeats 3 stitches over the 20 of Rnd 1; 2 are over, 18 or 21 would fit"}},
		{"one over", of(7, "*sc, inc; rep from * around"), []string{"*sc, inc; rep from * around ~ Rnd 2 repeats 2 stitches over the 7 of Rnd 1; 1 is over, 6 or 8 would fit"}},
		{"too few for one", of(2, "(sc 2, inc) around"), []string{"(sc 2, inc) around ~ Rnd 2 repeats 3 stitches over the 2 of Rnd 1; 2 are over, 3 would fit"}},
		{"behind others", of(21, "sc 3, (sc 3, inc) around"), []string{"(sc 3, inc) around ~ Rnd 2 repeats 4 stitches over 18 of Rnd 1; 2 are over, 16 or 20 would fit"}},
		{"to the last few", of(20, "(sc 2, inc) to last 3 sts, sc 3"), []string{"(sc 2, inc) to last 3 sts ~ Rnd 2 repeats 3 stitches over 17 of Rnd 1; 2 are over, 15 or 18 would fit"}},
		{"more to leave than there are", of(4, "(sc 2, inc) to last 9 sts, sc 9"), []string{"(sc 2, inc) to last 9 sts ~ Rnd 2 is to leave more stitches than there are of Rnd 1"}},
		{"spaces", lace + "Rnd 2: (3 dc in next ch-2 sp, 5 dc in next ch-2 sp) around\n", []string{"(3 dc in next ch-2 sp, 5 dc in next ch-2 sp) around ~ Rnd 2 repeats 2 chain spaces over the 5 of Rnd 1; 1 is over, 4 or 6 would fit"}},
		{"stitches and spaces", "Piece: Motif\nRnd 1: magic ring, (2 dc, ch 2) x 5, 2 dc (12 dc, 5 ch-2 sps)\nRnd 2: (sc in next 2 dc, sc in next ch-2 sp, sc in next 2 dc, 5 sc in next ch-2 sp) around\n", []string{"(sc in next 2 dc, sc in next ch-2 sp, sc in next 2 dc, 5 sc in next ch-2 sp) around ~ Rnd 2 runs out of chain spaces of Rnd 1 in the middle of its last repeat"}},
		{"chains", "Piece: Strap\nRow 1: ch 20, sc in 2nd ch from hook, *ch 1, sk 1 ch, sc in next ch; rep from * to last ch, sc\n", []string{"*ch 1, sk 1 ch, sc in next ch; rep from * to last ch ~ Row 1 repeats 2 chains over 17 of the chain; 1 is over, 16 or 18 would fit"}},
		{"takes nothing", of(6, "(ch 2) around"), []string{"(ch 2) around ~ Rnd 2 repeats what takes no stitches, so it never comes to an end; say how many times it is worked"}},
	})
}

func TestUnknownTerm(t *testing.T) {
	runCases(t, "unknown-term", []ruleCase{
		{"a word that is near", round1 + "Rnd 2: icn x 6 (12)\n", []string{`icn ~ was "inc" meant?`}},
		{"a loop that is near", round1 + "Rnd 2: BOL sc in each st around (6)\n", []string{`BOL sc ~ was "BLO sc" meant?`}},
		{"a word of the notation that is near", round1 + "Rnd 2: ch 1, trun, sc around (6)\n", []string{`trun ~ was "turn" meant?`}},
		{"a word of the other system", round1 + "Rnd 2: htr around (6)\n", nil},
		{"in a total", round1 + "Rnd 2: sc around (6 blobs)\n", []string{`blobs ~ "blobs" is no stitch`}},
		{"in an own stitch", "Stitch: tuft = 3 blob in one st\n" + round1, []string{`blob ~ "blob" is no stitch`}},
		{"an own stitch", "Stitch: tuft = 3 dc together in one st\n" + round1 + "Rnd 2: tuft x 6 (6 tufts)\n", nil},
	})
}
