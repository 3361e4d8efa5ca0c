package lint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"workeven/grammar"
)

// Findings that speak of another place lead there: the words of the first
// finding of a rule, and behind them those of each place with what is said of it.
func TestRelatedPlaces(t *testing.T) {
	loops := "Piece: Lamp\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\nRnd 6: BLO sc around (12)\nRnd 7: (sc, inc) x 6 (18)\n"
	lace := "Piece: Motif\nRnd 1: magic ring, (dc, ch 2) x 6 (6 dc, 6 ch-2 sps)\n"
	for _, c := range []struct {
		name, rule, text string
		want             []string
	}{
		{"stitches left over the round below", "stitches-left", round1 + "Rnd 2: sc 5 (5)\n", []string{"sc 5", "Rnd 1 ~ Rnd 1 leaves 6 stitches to work into"}},
		{"too many", "too-many-worked", round1 + "Rnd 2: sc 7 (7)\n", []string{"sc 7", "Rnd 1 ~ Rnd 1 leaves 6 stitches to work into"}},
		{"too many for a chain of its own", "too-many-worked", "Piece: Strap\nRow 1: ch 7, sc in 2nd ch from hook, sc in next 7 ch (7)\n", []string{"ch 7, sc in 2nd ch from hook, sc in next 7 ch"}},
		{"too many for a chain below", "too-many-worked", "Piece: Strap\nRow 1: ch 7\nRow 2: sc in 2nd ch from hook, sc in next 7 ch (7)\n", []string{"sc in 2nd ch from hook, sc in next 7 ch", "Row 1 ~ Row 1 leaves 7 chains to work into"}},
		{"a repeat", "repeat-does-not-fit", "Piece: Shell\nRnd 1: 8 sc in magic ring (8)\nRnd 2: (sc 2, inc) around (11)\n", []string{"(sc 2, inc) around", "Rnd 1 ~ Rnd 1 leaves 8 stitches to work into"}},
		{"a repeat over spaces", "repeat-does-not-fit", lace + "Rnd 2: (sc in next ch-2 sp, ch 1, sc in next 3 ch-2 sps) around (8)\n", []string{"(sc in next ch-2 sp, ch 1, sc in next 3 ch-2 sps) around", "Rnd 1 ~ Rnd 1 leaves 6 ch-2 sps to work into"}},
		{"a repeat that never ends", "repeat-does-not-fit", round1 + "Rnd 2: (ch 2) around (6)\n", []string{"(ch 2) around"}},
		{"what follows works from the words", "total-differs", round1 + "Rnd 2: inc x 6 (13)\nRnd 3: (sc, inc) x 6 (18)\n", []string{"(13)", "Rnd 1 ~ Rnd 1 leaves 6 stitches to work into", "Rnd 3 ~ Rnd 3 works from 12"}},
		{"what follows works from the total", "stitches-left", round1 + "Rnd 2: 2 sc in each of next 5 sts (12)\nRnds 3-4: (sc 2, hdc) x 4 (12)\n", []string{"2 sc in each of next 5 sts", "Rnd 1 ~ Rnd 1 leaves 6 stitches to work into", "Rnds 3-4 ~ Rnds 3-4 work from 12"}},
		{"a space that is not there", "no-such-place", lace + "Rnd 2: 3 dc in next ch-3 sp (3)\n", []string{"next ch-3 sp", "Rnd 1 ~ Rnd 1 leaves 6 ch-2 sps to work into"}},
		{"no space at all", "no-such-place", round1 + "Rnd 2: 3 dc in next ch-3 sp (3)\n", []string{"next ch-3 sp", "Rnd 1 ~ Rnd 1 leaves 6 stitches and no chain space"}},
		{"spaces left", "stitches-left", lace + "Rnd 2: 3 dc in each of next 5 ch-2 sps (15)\n", []string{"3 dc in each of next 5 ch-2 sps", "Rnd 1 ~ Rnd 1 leaves 6 ch-2 sps to work into"}},
		{"a kind of stitch", "no-such-place", "Piece: Motif\nRnd 1: magic ring, (tr, dc) x 3 (6)\nRnd 2: sc in next dc, sc 5 (6)\n", []string{"next dc", "Rnd 1 ~ Rnd 1 leaves 3 tr and 3 dc to work into"}},
		{"loops that were not left free", "no-such-place", loops + "Rnd 8: sc 12 in free loops of Rnd 4 (12)\n", []string{"free loops of Rnd 4", "Rnds 3-5 ~ the loops of Rnd 4 are on these stitches"}},
		{"loops of no round", "no-such-place", loops + "Rnd 8: sc 12 in free loops of Rnd 40 (12)\n", []string{"free loops of Rnd 40"}},
		{"loops worked into already", "no-such-place", loops + "Rnd 8: sc 12 in free loops of Rnd 5 (12)\nRnd 9: sc around (12)\nRnd 10: sc 12 in free loops of Rnd 5 (12)\n", []string{"free loops of Rnd 5", "Rnd 8 ~ Rnd 8 worked into them"}},
		{"too many for the free loops", "too-many-worked", loops + "Rnd 8: sc 13 in free loops of Rnd 5 (13)\n", []string{"sc 13 in free loops of Rnd 5", "Rnds 3-5 ~ the loops of Rnd 5 are on these stitches"}},
		{"the other side worked already", "no-such-place", "Piece: Ribbon\nWorked: in rows\nRow 1: ch 9, sc in 2nd ch from hook, sc in each ch across (8)\nRow 2: working along other side of foundation ch, sc in each ch across (8)\nRow 3: working along other side of foundation ch, sc in each ch across (8)\n",
			[]string{"working along other side of foundation ch", "Row 2 ~ Row 2 worked into them"}},
		{"no foundation", "no-such-place", round1 + "Rnd 2: sc around (6)\nRnd 3: working along other side of foundation ch, sc in each ch across (8)\n", []string{"working along other side of foundation ch", "Rnd 1 ~ this part begins with Rnd 1"}},
		{"a round repeated", "too-many-worked", round1 + "Rnd 2: sc 6 (6)\nRnd 3: (sc, dec) x 2 (4)\nRnd 4: as Rnd 2 (6)\n", []string{"as Rnd 2", "Rnd 2 ~ the steps that are repeated", "Rnd 3 ~ Rnd 3 leaves 4 stitches to work into"}},
		{"no round to repeat", "no-such-place", round1 + "Rnd 2: rep Rnd 7 (6)\n", []string{"rep Rnd 7"}},
		{"a part that has fewer", "too-many-worked", feeler + "Piece: Trunk\nRnd 1: sc in next 5 sts of Feeler, sc in next 4 sts of Feeler (9)\n", []string{"sc in next 5 sts of Feeler", "Rnds 2-5 ~ Rnds 2-5 leave 4 stitches to work into"}},
		{"a part used up", "no-such-place", feeler + "Piece: Trunk\nRnd 1: sc around Feeler, sc around Feeler, sc around Feeler (12)\n", []string{"Feeler", "Feeler ~ it is made twice here"}},
		{"a part that comes later", "order", "Piece: Trunk\nRnd 1: (sc in each st of Feeler) x 2 (8)\n" + feeler, []string{"Feeler", "Piece: Feeler (make 2) ~ it is made here"}},
		{"a part that is nowhere", "no-such-place", "Piece: Trunk\nRnd 1: sc around Feeler (4)\n", []string{"Feeler"}},
		{"closed too wide", "cannot-close", "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnds 4-8: sc around (18)\nClose.\n", []string{"Close.", "Rnds 4-8 ~ Rnds 4-8 leave 18 stitches to work into"}},
		{"stuffed through a small opening", "order", notions + "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc, dec) x 6 (12)\nRnd 5: dec x 6 (6)\nStuff firmly.\n", []string{"Stuff firmly.", "Rnd 5 ~ Rnd 5 leaves 6 stitches to work into"}},
		{"eyes in a round to come", "order", notions + "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nInsert 2 safety eyes between Rnds 3 and 4.\nRnds 3-5: sc around (12)\nStuff.\n", []string{"between Rnds 3 and 4", "Rnds 3-5 ~ it is worked here"}},
		{"eyes in the making up", "order", notions + ball + "Assembly:\nPlace: 2 safety eyes on Shell, between Rnds 5 and 6\n", []string{"safety eyes", "Stuff firmly. ~ it is stuffed here", "Rnd 11: dec x 6 (6) ~ it is closed here"}},
		{"no neighbors", "placement", notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shell, between Rnds 4 and 6\n", []string{"between Rnds 4 and 6", "Rnds 5-8 ~ Rnd 5 stands between them"}},
		{"a name that is near", "make-and-sew", notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shel, at Rnd 2\n", []string{"Shel", "Shell ~ Shell is made here"}},
		{"a part on one that is not made", "placement", ball + "Assembly:\nEmbroider: a dot on Shel, at Rnd 2\n", []string{"Shel", "Shell ~ Shell is made here"}},
		{"sewn in two lines", "make-and-sew", notions + ball + feeler + "Assembly:\nSew: Feeler x 2 to Shell, at Rnd 2\nSew: Feeler to Shell, at Rnd 5\n", []string{"2", "Feeler ~ it is made twice here", "Feeler ~ Feeler is sewn here"}},
		{"enough for one", "make-and-sew", notions + "Piece: Bootie (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnds 2-6: sc around (6)\nPiece: Bow\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Bow to Bootie, at Rnd 2\n", []string{"2", "Bow ~ Bow is sewn here"}},
		{"a slip of a number", "numbering", round1 + "Rnd 2: sc around (6)\nRnd 33: sc around (6)\nRnd 4: sc around (6)\n", []string{"Rnd 33", "Rnd 4 ~ the next one"}},
		{"a round that doubles", "shape", round1 + "Rnd 2: 3 sc in each st around (18)\n", []string{"Rnd 2", "Rnd 1 ~ Rnd 1 leaves 6 stitches to work into"}},
		{"increases stacked", "shape", "Piece: Motif\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: (sc 2, inc) x 6 (24)\nRnd 5: (sc 3, inc) x 6 (30)\nRnd 6: (sc 4, inc) x 6 (36)\nRnd 7: (sc 5, inc) x 6 (42)\nRnd 8: (sc 6, inc) x 6 (48)\n", []string{"Rnd 8", "Rnd 2 ~ the first of them"}},
		{"a bowl", "shape", "Piece: Bowl\nRnd 1: 6 dc in magic ring (6)\nRnd 2: 2 dc in each st around (12)\nRnd 3: (dc, 2 dc in next st) x 6 (18)\n", []string{"Rnd 3", "Rnd 2 ~ Rnd 2 leaves 12 stitches to work into"}},
		{"rounds that ruffle", "shape", "Piece: Motif\nRnd 1: 9 sc in magic ring (9)\nRnd 2: inc x 9 (18)\nRnd 3: (sc, inc) x 9 (27)\nRnd 4: (sc 2, inc) x 9 (36)\n", []string{"Rnd 1", "Rnd 4 ~ the last of them"}},
		{"a gauge too loose", "gauge-unlikely", "Pattern: The Hat\nTerms: US\nGauge: 8 sts x 9 rnds = 10 cm in sc\nHook: 3.5 mm\nYarn A: oat, light (3), 100 g / 250 m\n" + round1, []string{"8 sts x 9 rnds = 10 cm in sc", "light (3) ~ the weight of yarn", "3.5 mm ~ the hook"}},
		{"a UK word", "terms-missing", "Pattern: The Hat\nGauge: 20 sts = 10 cm\nHook: 4 mm\nYarn A: oat, light (3)\nPiece: Shell\nRnd 1: 6 htr in magic ring (6)\n", []string{"Pattern: The Hat", "htr ~ it stands here first"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := example(c.text)
			found := byRule(Check(grammar.Parse(text), Options{}), c.rule)
			if !assert.NotEmpty(t, found, "%v", rulesOf(lintText(text))) {
				return
			}
			got := []string{text[found[0].Start:found[0].End]}
			for _, r := range found[0].Related {
				got = append(got, text[r.Start:r.End]+" ~ "+r.Message)
			}
			assert.Equal(t, c.want, got, found[0].Message)
		})
	}
}

// Each slip is said once, where it was made: rule and line of all that is found.
func TestOneSlipIsSaidOnce(t *testing.T) {
	rows := "Piece: Flap\nWorked: in rows\nRow 1: ch 11, sc in 2nd ch from hook and in each ch across (10)\nRow 2: ch 1, turn, sc 9 (10)\nRow 3: ch 1, turn, sc across (10)\nRows 4-9: rep Rows 2-3 (10)\n"
	lace := "Piece: Motif\nRnd 1: magic ring, (2 dc, ch 2) x 5, 2 dc, ch 3 (12 dc, 6 ch-2 sps)\nRnd 2: 3 sc in each of next 6 ch-2 sps (18)\n"
	yarn := "Yarn MC: oat, light (3)\n"
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"a row that others repeat", rows, []string{"stitches-left: Row 2"}},
		{"a row of decreases that others repeat", "Piece: Flap\nWorked: in rows\nRow 1: ch 31, sc in 2nd ch from hook and in each ch across (30)\nRow 2: ch 1, turn, dec, sc to last 3 sts, dec (28)\nRow 3: ch 1, turn, sc across (28)\nRows 4-7: rep Rows 2-3 (24)\nRow 8: ch 1, turn, sc 24 (24)\n", []string{"stitches-left: Row 2"}},
		{"a wrong total of a row that others repeat", strings.Replace(rows, "sc 9 (10)", "sc 10 (11)", 1), []string{"total-differs: Row 2"}},
		{"a space of another length", lace, []string{"total-part-differs: Rnd 1"}},
		{"a key that is not listed", yarn + "Piece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\nChange to M.\nRnd 2: sc around (6)\n", []string{"undeclared-yarn: Change to M"}},
		{"a mistyped label of a part", notions + ball + strings.Replace(feeler, "Piece", "Peice", 1) + "Assembly:\nSew: Feelers to Shell, at Rnd 2\n", []string{"syntax: Peice"}},
		{"a mistyped label of a yarn", "Yran MC: oat, light (3)\nPiece: Shell\nWith: A\nRnd 1: 6 sc in magic ring (6)\nChange to MC.\nRnd 2: sc around (6)\n", []string{"syntax: Yran MC"}},
		{"a part's bracket that is not closed", notions + ball + strings.Replace(feeler, "(make 2)", "(make 2", 1) + "Assembly:\nSew: Feelers to Shell, at Rnd 2\n", []string{"syntax: Piece"}},
		{"a bracket that is not closed", round1 + "Rnd 2: [sc, inc 3 times (9)\n", []string{"syntax: Rnd 2"}},
		{"one name wrong in two lines", notions + ball + feeler + "Assembly:\nSew: Feeler to Head, at Rnd 2\nSew: Feeler to Head, at Rnd 3\nEmbroider: a dot on Head, at Rnd 2\n", []string{"make-and-sew: Sew"}},
		{"stuffing forgotten", notions + strings.Replace(ball, "Stuff firmly.\n", "", 1) + feeler + "Assembly:\nSew: Feelers to Shell, at Rnd 2\n", []string{"order: Rnd 11"}},
		{"a round of no neighbors that is not there", notions + ball + feeler + "Assembly:\nSew: Feelers to Shell, between Rnds 2 and 20\n", []string{"placement: Sew"}},
		{"a hook that disagrees", "Hook: H-8 (8 mm)\n" + round1, []string{"hook-size: Hook"}},
		{"a round behind a slip", round1 + "Rnd 2: sc in next ch-2 sp, sc 5\nRnd 3: 24 sc in next st\n", []string{"no-such-place: Rnd 2", "total-missing: Rnd 3"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := example(c.text)
			var got []string
			for _, f := range lintText(text) {
				if f.Severity >= Warning || f.Rule == "shape" {
					line := text[strings.LastIndexByte(text[:f.Start], '\n')+1:]
					head, _, _ := strings.Cut(line, ":")
					head, _, _ = strings.Cut(head, ".")
					got = append(got, f.Rule+": "+head)
				}
			}
			assert.Equal(t, c.want, got)
		})
	}
}
