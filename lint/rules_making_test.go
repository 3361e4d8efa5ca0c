package lint

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"workeven/grammar"
)

// ball is a stuffed ball of 24 stitches.
const ball = `Piece: Shell
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc, inc) x 6 (18)
Rnd 4: (sc 2, inc) x 6 (24)
Rnds 5-8: sc around (24)
Rnd 9: (sc 2, dec) x 6 (18)
Stuff firmly.
Rnd 10: (sc, dec) x 6 (12)
Rnd 11: dec x 6 (6)
Fasten off.
`

const (
	notions = "Notion: toy stuffing\nNotion: yarn needle\n"
	feeler  = "Piece: Feeler (make 2)\nRnd 1: 4 sc in magic ring (4)\nRnds 2-5: sc around (4)\nFasten off, leaving a tail for sewing.\n"
	foot    = "Piece: Foot\nRnd 1: 6 sc in magic ring (6)\n"
	flap    = "Piece: Flap\nRow 1: ch 11, sc in 2nd ch from hook and in each ch across (10)\nRows 2-6: ch 1, turn, sc in each st across (10)\n"
)

func TestYarns(t *testing.T) {
	runCases(t, "undeclared-yarn", []ruleCase{
		{"listed", "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n", nil},
		{"named once", "Piece: Shell\nWith: C\nRnd 1: 6 sc in magic ring (6)\nRnd 2: with C, sc around (6)\nChange to C.\n", []string{"C ~ yarn C is not listed; listed is A"}},
		{"in a step", round1 + "Rnd 2: sc 3, change to D, sc 3 (6)\n", []string{"D ~ yarn D is not listed"}},
		{"in an action", round1 + "Change to E.\nRnd 2: sc around (6)\n", []string{"E ~ yarn E is not listed"}},
		{"in embroidery", "Yarn MC: oat\nPiece: Shell\nWith: MC\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nEmbroider: mouth in CC on Shell\nEmbroider: brows in black thread on Shell\nEmbroider: dots in yarn MC on Shell\n", []string{"CC ~ yarn CC is not listed"}},
		{"by its name", "Piece: Shell\nWith: fern\nRnd 1: 6 sc in magic ring (6)\n", nil},
		{"in lower case", "Piece: Shell\nWith: a\nRnd 1: 6 sc in magic ring (6)\n", nil},
		{"keys listed twice", "Yarn B: oat\nYarn b: oat\nPiece: Shell\nWith: C, A, B\nRnd 1: 6 sc in magic ring (6)\n", []string{"C ~ yarn C is not listed; listed are A and B"}},
	})
	assert.NotContains(t, rulesOf(lintText("Terms: US\nPiece: Shell\nWith: C\nRnd 1: 6 sc in magic ring (6)\n")), "undeclared-yarn", "a fragment lists nothing")
	b := "Yarn B: oat, light (3), 50 g / 125 m\n"
	runCases(t, "unused-yarn", []ruleCase{
		{"one yarn", round1, nil},
		{"a second one", b + round1, []string{"B ~ yarn B is listed and nothing is worked with it"}},
		{"another worked with that is not listed", b + "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\nChange to C.\nRnd 2: sc around (6)\n", nil},
		{"worked with", b + "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\nChange to B.\nRnd 2: sc around (6)\n", nil},
		{"the first, where parts name others", b + "Piece: Shell\nWith: B\nRnd 1: 6 sc in magic ring (6)\n", []string{"A ~ yarn A is listed"}},
		{"embroidered with", b + round1 + "Assembly:\nEmbroider: a mouth in B on Shell\n", nil},
		{"embroidered with, by its name", b + round1 + "Assembly:\nEmbroider: a mouth in oat on Shell\n", nil},
		{"a letter that is a word", "Yarn a: oat, light (3), 50 g / 125 m\n" + "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\n", nil},
		{"nothing worked yet", b, nil},
	})
}

func TestHookSize(t *testing.T) {
	runCases(t, "hook-size", []ruleCase{
		{"millimetres", "Hook: 3.5 mm\n", nil},
		{"both", "Hook: E-4 (3.5 mm)\n", nil},
		{"they disagree", "Hook: E-4 (4 mm)\n", []string{"E-4 (4 mm) ~ a hook of size E-4 is 3.5 mm, not 4 mm"}},
		{"as some charts have it", "Hook: B-1 (2 mm)\n", nil},
		{"a bare number", "Hook: 7\n", []string{"7 ~ may be 4.5 mm, 1.65 mm or 7 mm; give it in millimetres"}},
		{"a bare number that is no size", "Hook: 3.5\n", []string{"3.5 ~ a hook of size 3.5: say that it is 3.5 mm"}},
		{"a letter of one size", "Hook: E-4\n", nil},
		{"a letter of several", "Hook: N\n", []string{"N ~ may be 9 mm or 10 mm"}},
	})
	fixed, n, _ := FixAll(example("Hook: 3.5\n"), lintText)
	assert.Equal(t, 1, n)
	assert.Contains(t, fixed, "Hook: 3.5 mm\n")
}

func TestGauge(t *testing.T) {
	head := func(gauge, hook, yarn, notions string) string {
		return "Pattern: Example\nTerms: US\nGauge: " + gauge + "\nHook: " + hook + "\nYarn A: oat, " + yarn + ", 50 g / 125 m\n" + notions + round1
	}
	// Ranges: Craft Yarn Council standard yarn weight system.
	runCases(t, "gauge-unlikely", []ruleCase{
		{"within", head("16 sts x 18 rnds = 10 cm in sc", "4.5 mm", "light (3)", ""), nil},
		{"too loose on a small hook", head("8 sts x 9 rnds = 10 cm in sc", "3.5 mm", "light (3)", ""), []string{"8 sts x 9 rnds = 10 cm in sc ~ 8 sts in 10 cm is loose for light (3) yarn, which gives 12 or more"}},
		{"loose on a large hook", head("8 sts x 9 rnds = 10 cm in sc", "8 mm", "light (3)", ""), nil},
		{"tight on a small hook, as toys are", head("24 sts x 26 rnds = 10 cm in sc", "3 mm", "light (3)", notions), nil},
		{"tight on a usual hook", head("24 sts x 26 rnds = 10 cm in sc", "5 mm", "light (3)", ""), []string{"24 sts x 26 rnds = 10 cm in sc ~ 24 sts in 10 cm is tight for light (3) yarn, which gives 17 or fewer"}},
		{"stitches and rounds changed about", head("8 sts x 13 rnds = 10 cm in dc", "5.5 mm", "medium (4)", ""), []string{"8 sts x 13 rnds = 10 cm in dc ~ were stitches and rounds changed about?"}},
		{"dc", head("13 sts x 8 rnds = 10 cm in dc", "5.5 mm", "medium (4)", ""), nil},
	})
	assert.Equal(t, []string{"gauge-missing"}, rulesOf(lintText("Pattern: Example\nTerms: US\nHook: 3 mm\nYarn A: oat, light (3), 50 g / 125 m\n"+round1)))
	assert.NotContains(t, rulesOf(lintText("Terms: US\n"+round1)), "gauge-missing", "a fragment")
}

func TestMaterials(t *testing.T) {
	eyes := "Assembly:\nPlace: 2 safety eyes on Shell, between Rnds 4 and 5, 4 sts apart\n"
	open := "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnds 4-8: sc around (18)\n"
	runCases(t, "materials", []ruleCase{
		{"all listed", notions + ball, nil},
		{"stuffing is not", ball, []string{"Stuff firmly. ~ toy stuffing is used here and not listed"}},
		{"under another name", "Notion: polyester fiberfill\n" + ball, nil},
		{"eyes are not", open + eyes, []string{"safety eyes ~ eyes are used here and not listed"}},
		{"fewer eyes", "Notion: 1 safety eye, 6 mm\n" + open + eyes, []string{"1 ~ 1 eye is listed, 2 placed"}},
		{"a pair of eyes", "Notion: 1 pair of safety eyes, 6 mm\n" + open + eyes, nil},
		{"for every copy", "Notion: 2 safety eyes, 6 mm\nPiece: Shell (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnds 2-8: sc around (6)\nAssembly:\nPlace: 2 safety eyes on Shell, between Rnds 4 and 5\n",
			[]string{"2 ~ 2 eyes are listed, 4 placed"}},
		{"eyes put in among the rounds", "Notion: 2 safety eyes, 6 mm\n" + open + "Insert 2 safety eyes between Rnds 4 and 5.\n", nil},
		{"listed and never placed", "Notion: 2 safety eyes, 6 mm\n" + open, []string{"safety eyes ~ safety eyes are listed, and the pattern never uses them"}},
		{"tools need no word", "Notion: scissors\nNotion: yarn needle\nNotion: tape measure\n" + open, nil},
		{"a thing of its own, spoken of", "Notion: 20 cm of leather lace\n" + open + "Note: Draw the lace through Rnd 8.\n", nil},
		{"a thing of its own, never", "Notion: cardboard disc\n" + open, []string{"cardboard disc ~ never uses it"}},
		{"a needle for seams", open + "Piece: Feeler\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Feeler to Shell, open edge\n", []string{"Sew: Feeler to Shell, open edge ~ a yarn needle is used here and not listed"}},
		{"a marker moved", open + "Move the marker up every round.\n", []string{"Move the marker up every round. ~ a stitch marker is used here"}},
		{"a marker in a spiral", "Notion: stitch marker\n" + open, nil},
		{"buttons", "Notion: 3 buttons\n" + open + "Assembly:\nPlace: 2 buttons on Shell, at Rnd 5\n", []string{"3 ~ 3 buttons are listed, 2 placed"}},
		{"a needle with a large eye", "Notion: yarn needle with a large eye\n" + open, nil},
	})
	assert.NotContains(t, rulesOf(lintText("Terms: US\n"+ball)), "materials", "a fragment has no list")
	fixed, n, _ := FixAll(example(ball), lintText)
	assert.Equal(t, 1, n)
	assert.Contains(t, fixed, "\nNotion: toy stuffing\nPiece: Shell\n")
}

func TestMakeAndSew(t *testing.T) {
	runCases(t, "make-and-sew", []ruleCase{
		{"as many as made", notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shell, between Rnds 2 and 3\n", nil},
		{"in two lines", notions + ball + feeler + "Assembly:\nSew: Feeler to Shell, at Rnd 2\nSew: Feeler to Shell, at Rnd 5\n", nil},
		{"too few", notions + ball + feeler + "Assembly:\nSew: Feeler to Shell, at Rnd 2\n", []string{"Feeler ~ Feeler is made twice and sewn on once; 1 is left over"}},
		{"too many", notions + ball + feeler + "Assembly:\nSew: Feeler x 3 to Shell, at Rnd 2\n", []string{"3 ~ Feeler is made twice and sewn on 3 times; 1 is missing"}},
		{"the plural means all", notions + ball + feeler + "Assembly:\nSew: Feelers to Shell, at Rnd 2\n", nil},
		{"both", notions + ball + feeler + "Assembly:\nSew: both Feelers to Shell, at Rnd 2\n", nil},
		{"two parts in one line", notions + ball + flap + "Piece: Foot\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nSew: Flap and Foot to Shell, at Rnd 2\n", nil},
		{"two parts, one never made", notions + ball + flap + "Assembly:\nSew: Flap and Toe to Shell, at Rnd 2\n", []string{`Toe ~ no part is called "Toe"`}},
		{"three parts with a comma", notions + ball + feeler + flap + foot + "Assembly:\nSew: Feelers, Flap and Foot to Shell, at Rnd 2\n", nil},
		{"parts with commas only", notions + ball + feeler + flap + foot + "Assembly:\nSew: Feelers, Flap, Foot to Shell, at Rnd 2\n", nil},
		{"three parts, one misspelled", notions + ball + feeler + flap + foot + "Assembly:\nSew: Feelers, Flpa and Foot to Shell, at Rnd 2\n", []string{`Flpa ~ no part is called "Flpa"`}},
		{"three parts, one nearly right", notions + ball + feeler + flap + foot + "Assembly:\nSew: Feelers, Flapp and Foot to Shell, at Rnd 2\n", []string{`Flapp ~ no part is called "Flapp"; was "Flap" meant?`}},
		{"three parts to one never made", notions + ball + feeler + flap + foot + "Assembly:\nSew: Feelers, Flap and Foot to Head, at Rnd 2\n", []string{`Head ~ no part is called "Head"`}},
		{"a line that cannot be read", notions + ball + feeler + flap + "Assembly:\nSew: Feelers x 2 Flap to Shell, at Rnd 2\n", nil},
		{"names with signs and pictures", notions + "Piece: Mr. Moss\nRnd 1: 6 sc in magic ring (6)\nPiece: Café 😀\nRnd 1: 6 sc in magic ring (6)\nPiece: Leg (left)\nRnd 1: 6 sc in magic ring (6)\nPiece: Oh!\nRnd 1: 6 sc in magic ring (6)\nPiece: Arm, left\nRnd 1: 6 sc in magic ring (6)\n" +
			"Assembly:\nSew: Café 😀, Oh! and Leg (left) to Mr. Moss, at Rnd 1\nSew: Arm, left to Mr. Moss, at Rnd 1, in line with Leg (left)\n", nil},
		{"never sewn", notions + ball + feeler + flap + "Assembly:\nSew: Feeler x 2 to Shell, at Rnd 2\n", []string{"Flap ~ Flap is made and never sewn to anything"}},
		{"tied on, a note says", notions + ball + feeler + flap + "Assembly:\nSew: Feeler x 2 to Shell, at Rnd 2\nNote: Tie the Flap around the neck.\n", nil},
		{"two bodies never joined", notions + ball + feeler + flap + "Piece: Foot\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nAssembly:\nSew: Feeler x 2 to Shell, at Rnd 2\nSew: Flap to Foot, at Rnd 2\n",
			[]string{"Foot ~ Foot is made and never sewn"}},
		{"never made", notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shel, at Rnd 2\n", []string{`Shel ~ no part is called "Shel"; was "Shell" meant?`}},
		{"worked into another", "Piece: Leg (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-8: sc around (12)\nFasten off.\nPiece: Trunk\nRnd 1: sc in next 12 sts of Leg, sc in next 12 sts of Leg (24)\n", nil},
		{"worked onto another", notions + ball + feeler + "Piece: Frill\nRnd 1: join A to Shell between Rnds 3 and 4, 18 sc in ring (18)\nAssembly:\nSew: Feeler x 2 to Shell, at Rnd 2\n", nil},
		{"nothing is sewn", ball + flap, nil},
		{"for every copy of the body", notions + "Piece: Bootie (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnds 2-6: sc around (6)\nPiece: Bow (make 2)\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Bow to Bootie, at Rnd 2\n", nil},
		{"on each side", notions + ball + feeler + "Assembly:\nSew: Feeler to Shell, at Rnd 2; one on each side\n", nil},
		{"a part without a name", notions + ball + feeler + "Piece:\nRnd 1: 6 sc in magic ring (6)\nAssembly:\nSew: Feeler x 2 to Shell, at Rnd 2\n", []string{"Piece: ~ this part is made and never sewn to anything"}},
		{"a part that is placed", notions + ball + flap + "Assembly:\nPlace: 1 Flap on Shell, at Rnd 5\n", nil},
	})
}

func TestPlacement(t *testing.T) {
	on := func(where string) string {
		return notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shell, " + where + "\n"
	}
	runCases(t, "placement", []ruleCase{
		{"neighbors", on("between Rnds 4 and 5, 6 sts apart"), nil},
		{"a round that is not there", on("between Rnds 11 and 12"), []string{"12 ~ Shell has no Rnd 12; its last is Rnd 11"}},
		{"neither", on("between Rnds 14 and 15"), []string{"14 ~ Shell has no Rnd 14"}},
		{"one is not there and they are no neighbors", on("between Rnds 4 and 12"), []string{"12 ~ Shell has no Rnd 12"}},
		{"no neighbors", on("between Rnds 4 and 6"), []string{"between Rnds 4 and 6 ~ Rnds 4 and 6 are no neighbors"}},
		{"rows of a part in rounds", on("between Rows 4 and 5"), []string{"between Rows 4 and 5 ~ Shell is worked in rounds there, not in rows"}},
		{"at a round", on("at Rnd 12"), []string{"12 ~ Shell has no Rnd 12"}},
		{"too far apart", on("between Rnds 5 and 6, 13 sts apart"), []string{"13 sts apart ~ 13 stitches apart is too far: Rnds 5-8 of Shell have 24 stitches, so two places there are at most 12 apart"}},
		{"over a range", on("over Rnds 4-7"), nil},
		{"over more than there are", on("over Rnds 9-13"), []string{"13 ~ Shell has no Rnd 13"}},
		{"a seam too long", on("over Rnds 4-8"), []string{"over Rnds 4-8 ~ the open edge of Feeler has 4 stitches, too few for a seam over 5 rounds"}},
		{"across too many", on("across 5 sts"), []string{"across 5 sts ~ too few for a seam over 5 stitches"}},
		{"eyes on a part that is not made", ball + "Assembly:\nPlace: 2 safety eyes on Head, at Rnd 3\n", []string{`Head ~ no part is called "Head"`}},
		{"put in among the rounds", "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nInsert 2 safety eyes between Rnds 5 and 6.\n", []string{"5 ~ Shell has no Rnd 5"}},
		{"worked onto rounds that are not there", ball + "Piece: Frill\nRnd 1: join A to Shell between Rnds 12 and 13, 18 sc in ring (18)\n", []string{"12 ~ Shell has no Rnd 12"}},
		{"worked onto a part that is not made", ball + "Piece: Frill\nRnd 1: join A to Head between Rnds 2 and 3, 18 sc in ring (18)\n", []string{`Head ~ no part is called "Head"`}},
	})
	f := grammar.Parse(example(on("between Rnds 4 and 6")))
	assert.Equal(t, Warning, byRule(Check(f, Options{}), "placement")[0].Severity)
	chosen := Options{Severity: map[string]Severity{"placement": Error}}
	assert.Equal(t, Error, byRule(Check(f, chosen), "placement")[0].Severity, "what is chosen holds for all that the rule finds")
}

func TestOrder(t *testing.T) {
	unstuffed := "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnds 4-8: sc around (18)\n"
	closing := "Rnd 9: (sc, dec) x 6 (12)\nRnd 10: dec x 6 (6)\n"
	runCases(t, "order", []ruleCase{
		{"stuffed while open", notions + ball, nil},
		{"stuffed when closed", notions + unstuffed + closing + "Close.\nStuff firmly.\n", []string{"Stuff firmly. ~ Shell is stuffed here, and was closed before"}},
		{"stuffed through six stitches", notions + unstuffed + closing + "Stuff firmly.\n", []string{"Stuff firmly. ~ through an opening of 6 stitches"}},
		{"a little more at the end", notions + unstuffed + "Stuff.\n" + closing + "Stuff a little more.\nClose.\n", nil},
		{"wire after stuffing", notions + "Notion: craft wire\n" + unstuffed + "Stuff.\nInsert craft wire.\n" + closing + "Close.\n", nil},
		{"a narrow tube", notions + "Piece: Feeler\nRnd 1: 4 sc in magic ring (4)\nRnds 2-9: sc around (4)\nStuff lightly.\n", nil},
		{"never stuffed", unstuffed + closing + "Close.\n", []string{"Close. ~ Shell is closed and never stuffed"}},
		{"on purpose", unstuffed + closing + "Close.\nDo not stuff.\n", nil},
		{"pressed flat, a note says", unstuffed + closing + "Close.\nNote: Press it flat.\n", nil},
		{"eyes before stuffing", notions + unstuffed + "Insert 2 safety eyes between Rnds 5 and 6.\nStuff firmly.\n" + closing + "Close.\n", nil},
		{"eyes after stuffing", notions + unstuffed + "Stuff firmly.\nInsert 2 safety eyes between Rnds 5 and 6.\n" + closing + "Close.\n", []string{"safety eyes ~ safety eyes: these go in from inside, but Shell was stuffed before"}},
		{"eyes in a round to come", notions + unstuffed + "Insert 2 safety eyes between Rnds 9 and 10.\nStuff firmly.\n" + closing + "Close.\n", []string{"between Rnds 9 and 10 ~ Rnd 10 is not worked yet: this stands behind Rnd 8"}},
		{"eyes in the making up", notions + ball + "Assembly:\nPlace: 2 safety eyes on Shell, between Rnds 5 and 6\n", []string{"safety eyes ~ Shell is stuffed and closed by then"}},
		{"sewn before it is made", notions + ball + "Assembly:\nSew: Feeler x 2 to Shell, at Rnd 2\n" + feeler, []string{"Sew: Feeler x 2 to Shell, at Rnd 2 ~ Feeler is sewn here and made further down"}},
		{"worked onto a part to come", "Piece: Frill\nRnd 1: join A to Shell between Rnds 2 and 3, 18 sc in ring (18)\n" + notions + ball, []string{"Shell ~ Shell is worked onto here and made further down"}},
		{"a hat closes and is no ball", "Piece: Hat\nRnd 1: ch 60, join with sl st to form ring, sc in each ch around (60)\nRnds 2-9: sc around (60)\nRnd 10: dec x 30 (30)\nRnd 11: dec x 15 (15)\nRnd 12: dec x 7, sc (8)\nClose.\n", nil},
	})
}

func TestCannotClose(t *testing.T) {
	tube := "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnds 4-8: sc around (18)\n"
	runCases(t, "cannot-close", []ruleCase{
		{"six stitches", notions + ball, nil},
		{"eighteen", tube + "Close.\n", []string{"Close. ~ Shell still has 18 stitches here"}},
		{"sewn flat", tube + "Close the seam with sc through both layers.\n", nil},
		{"gathered", tube + "Fasten off, leaving a tail, and gather the last round.\n", []string{"Fasten off, leaving a tail, and gather the last round. ~ 18 stitches"}},
		{"stuffed and left open", notions + tube + "Stuff.\nFasten off.\n", []string{"Rnds 4-8 ~ Shell is stuffed and left open with 18 stitches"}},
		{"stuffed and sewn on", notions + tube + "Stuff.\nFasten off.\n" + flap + "Assembly:\nSew: Shell to Flap, open edge\n", nil},
		{"a bag", tube + "Fasten off.\n", nil},
	})
}
