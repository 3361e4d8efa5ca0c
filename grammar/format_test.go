package grammar_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

func format(text string) string { return grammar.Format(grammar.Parse(text)) }

// corpus is every text of testdata that holds patterns or rounds, by name. The
// rounds of the cases stand above a round that they can be worked into.
func corpus(t testing.TB) map[string]string {
	out := map[string]string{}
	err := filepath.WalkDir("../testdata", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		switch filepath.Ext(path) {
		case ".crochet", ".txt":
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			out[path] = string(data)
		}
		return nil
	})
	require.NoError(t, err)
	for i, words := range caseRounds(t) {
		out["case "+strconv.Itoa(i)] = "Terms: US\nPiece: Case\nRnd 1: 24 sc in magic ring (24)\nRnd 2: " + words + "\n"
	}
	require.Greater(t, len(out), 80)
	return out
}

// caseRounds are the rounds of testdata/cases/rounds.tsv.
func caseRounds(t testing.TB) []string {
	data, err := os.ReadFile("../testdata/cases/rounds.tsv")
	require.NoError(t, err)
	var out []string
	for _, l := range strings.Split(string(data), "\n")[1:] {
		if c := strings.Split(l, "\t"); len(c) > 1 {
			out = append(out, c[1])
		}
	}
	return out
}

// wordings are texts and their canonical wording. They are ours; that makers
// write the left-hand ones is common practice.
var wordings = [][2]string{
	// Labels and signs.
	{"Round 3: SC 3", "Rnd 3: sc 3"},
	{"R3: sc", "Rnd 3: sc"},
	{"R5-R6: sc", "Rnds 5-6: sc"},
	{"Rnd. 5 to Rnd. 6 (RS): sc", "Rnds 5-6 (RS): sc"},
	{"Row 5 – row 8: sc", "Rows 5-8: sc"},
	{"Rounds 5–5 [ws]: sc around = 18", "Rnd 5 (WS): sc around (18)"},
	{"Rnd 6 to 9: sc in every stitch to end of rnd - 18 sts", "Rnds 6-9: sc in each st around (18)"},
	{"ROW 2 (right side) : (SC, Inc) × 6", "Row 2 (RS): (sc, inc) x 6"},
	{"Rnd 2: sc in\u00a0next two stitches. Then 2 sc into the following stitch", "Rnd 2: sc in next 2 sts, 2 sc in next st"},
	{"  Rnd 2: sc 3 , inc  // why\t", "Rnd 2: sc 3, inc  // why"},
	{"   // alone  ", "// alone"},
	{"Rnd 12345678901: sc 99999999999", "Rnd 12345678901: sc 99999999999"},
	// Totals.
	{"Rnd 2: sc 18 [18 stitches]", "Rnd 2: sc 18 (18)"},
	{"Rnd 2: *dc, ch 2; rep from * around (12 dc and 1 chain-2 spaces)", "Rnd 2: *dc, ch 2; rep from * around (12 dc, 1 ch-2 sp)"},
	{"Rnd 2: picot 12, shell 2 (1 sts, 12 picot, 2 shell)", "Rnd 2: picot 12, shell 2 (1 st, 12 picots, 2 shells)"},
	{"Rnd 1: 6 sc in mr (6). Turn, finish off", "Rnd 1: 6 sc in magic ring (6), turn, fasten off"},
	// Stitches and counts.
	{"Rnd 2: sc 3, 3 sc, sc in next 3 sts, sc in each of next 3 sts", "Rnd 2: sc 3, 3 sc, sc in next 3 sts, sc in each of next 3 sts"},
	{"Rnd 2: single crochet in next st, dc 2 tog, popcorn stitch, tr in nxt stitch, skip 2, miss 1 stitch", "Rnd 2: sc in next st, dc2tog, pc, tr in next st, sk 2, sk 1 st"},
	{"Rnd 2: inc twice, sc x 3, dec 3 times, 3 x sc, sc 3 sts", "Rnd 2: inc x 2, sc x 3, dec x 3, 3 sc, sc 3"},
	{"Rnd 2: inc six evenly spaced, dec 6 stitches spaced evenly around", "Rnd 2: inc 6 evenly, dec 6 sts evenly around"},
	{"Rnd 2: five dc tog in next st, cluster in next 2 clusters, dc7tog", "Rnd 2: 5 dc together in next st, cluster in next 2 clusters, dc7tog"},
	{"Rnd 2: sc in next 3, sc in each around, 2 sc in same, sc in first 2, sc in last", "Rnd 2: sc in next 3 sts, sc in each st around, 2 sc in same st, sc in first 2 sts, sc in last st"},
	{"Rnd 2: sc in all the sts, sc in each of the remaining sts", "Rnd 2: sc in each st, sc in each remaining st"},
	{"Rnd 2: sc around to last st, sc until 2 sts remain, sc to tch", "Rnd 2: sc to last st, sc to last 2 sts, sc to turning ch"},
	{"Rnd 2: sc in next st and in each ch across, sc in each st and ch sp around", "Rnd 2: sc in next st and in each ch across, sc in each st and ch sp around"},
	{"Rnd 2: dc in the corner space, dc in 2-ch loop, 3 sc in one stitch", "Rnd 2: dc in corner sp, dc in ch-2 sp, 3 sc in one st"},
	{"Rnd 2: dc over next 2 sts, sl st on next st, sl st to next st, sc next st", "Rnd 2: dc over next 2 sts, sl st in next st, sl st to next st, sc in next st"},
	{"Rnd 2: sc in next st 2 rounds below, sc in next stitch below", "Rnd 2: sc in next st 2 rnds below, sc in next st below"},
	{"Rnd 2: sc in other side of each of next 3 ch, sc in row ends, sc in unworked stitches of row 3", "Rnd 2: sc in other side of each of next 3 ch, sc in row ends, sc in unworked sts of Row 3"},
	{"Rnd 2: sc in next twelve sts of the Shell, sc around Leg, sc in next 3 sts of second Leg", "Rnd 2: sc in next 12 sts of Shell, sc around Leg, sc in next 3 sts of 2nd Leg"},
	{"Rnd 2: In next chain-2 space: work 3 dc, in each ch-1 sp around, work [dc, ch 1, dc]", "Rnd 2: 3 dc in next ch-2 sp, (dc, ch 1, dc) in each ch-1 sp around"},
	{"Rnd 2: shell in the ch-1 space of next V-st, sc in spaces of every shell around", "Rnd 2: shell in ch-1 sp of next V-st, sc in sps of each shell around"},
	{"Rnd 2: sc around both Legs, sc around first Leg", "Rnd 2: sc around both Legs, sc around first Leg"},
	{"Rnd 2: sc around increasing six sts evenly spaced, sc in each st around dec 6 evenly", "Rnd 2: sc around, inc 6 sts evenly, sc in each st around, dec 6 evenly"},
	{"Rnd 2: with b, sc 3, change to cc, sc 3, join mc with sl st in any st, fasten off b", "Rnd 2: with B, sc 3, change to CC, sc 3, join MC with sl st in any st, fasten off B"},
	{"Rnd 2: sc around, increasing six sts evenly spaced, decreasing 6 evenly", "Rnd 2: sc around, inc 6 sts evenly, dec 6 evenly"},
	// Loops.
	{"Rnd 2: back loop only sc 12, in flo: sc 3, in both loops, sc", "Rnd 2: BLO sc 12, in FLO, sc 3, in both loops, sc"},
	{"Rnd 2: sc blo in next 3 sts, sc 3 in blo, sc in blo around, sc in back loops of next 3 sts, sc in blo next st", "Rnd 2: sc BLO in next 3 sts, sc 3 in BLO, sc in BLO around, sc in BLO of next 3 sts, sc in BLO of next st"},
	{"Rnd 2: sc 12 in unused front loops of Round 5, sc in back bumps of next 3 ch", "Rnd 2: sc 12 in free loops of Rnd 5, sc in back bumps of next 3 ch"},
	{"Rnd 2: fpdc around next 3 sts, bpdc around post of next st, dc in post of next dc", "Rnd 2: fpdc around next 3 sts, bpdc around post of next st, dc in post of next dc"},
	{"Rnd 2: (sc, inc) x 6 in blo, blo [sc, inc] around", "Rnd 2: (sc, inc) x 6 in BLO, BLO (sc, inc) around"},
	// Repeats.
	{"Rnd 2: [sc, inc] six times, (sc, dec) twice, 6 x {sc, inc}", "Rnd 2: (sc, inc) x 6, (sc, dec) x 2, (sc, inc) x 6"},
	{"Rnd 2: ((sc, inc) x 2, sc 2) x 4", "Rnd 2: [(sc, inc) x 2, sc 2] x 4"},
	{"Rnd 2: [([sc, inc] once, sc) x 2, sc 2] x 4", "Rnd 2: ([(sc, inc) x 1, sc] x 2, sc 2) x 4"},
	{"Rnd 2: *sc, inc, repeat from * all around", "Rnd 2: *sc, inc; rep from * around"},
	{"Rnd 2: *sc, inc, repeat from * across; end with [sc, (dc, sc) twice], turn", "Rnd 2: *sc, inc; rep from * across, ending with [sc, (dc, sc) x 2], turn"},
	{"Rnd 2: (sc, inc) x 6 ends with (sc), sc", "Rnd 2: (sc, inc) x 6, ending with sc, sc"},
	{"Rnd 2: *sc, inc* 6 times", "Rnd 2: *sc, inc; rep from * 6 times in total"},
	{"Rnd 2: *sc, inc; rep from * five more times", "Rnd 2: *sc, inc; rep from * 5 more times"},
	{"Rnd 2: *sc, inc; rep from * one more time", "Rnd 2: *sc, inc; rep from * once more"},
	{"Rnd 2: *sc, inc; rep from * 2 times more", "Rnd 2: *sc, inc; rep from * twice more"},
	{"Rnd 2: *sc, inc; rep from * twice", "Rnd 2: *sc, inc; rep from * 2 times"},
	{"Rnd 2: *sc, ** inc; rep from * around, end last repeat at **", "Rnd 2: *sc**, inc; rep from * around, ending last rep at **"},
	{"Rnd 2: * **, inc; rep from * around, ending last rep at **", "Rnd 2: * **, inc; rep from * around, ending last rep at **"},
	{"Rnd 2: ( sc,hdc,sc ) into next ch-2 space", "Rnd 2: (sc, hdc, sc) in next ch-2 sp"},
	// Beginnings, ends and joins.
	{"Rnd 1: ch-4, join with ss to form a ring. 12 dc in center ring, join with ss in first dc", "Rnd 1: ch 4, join with sl st to form ring; 12 dc in ring, join with sl st to first dc"},
	{"Rnd 1: make magic circle; start with 6 sc in loop ring; ss to join", "Rnd 1: magic ring, 6 sc in ring, sl st to join"},
	{"Rnd 1: ch 6, sc in second chain from the hook, sc across, working along opposite side of foundation chain, sc 4", "Rnd 1: ch 6, sc in 2nd ch from hook, sc across; working along other side of ch, sc 4"},
	{"Row 2: ch 3 (counts as first dc), turn, dc in same st as join, dc in top of the turning chain", "Row 2: ch 3 (counts as dc), turn, dc in same st as join, dc in top of turning ch"},
	{"Row 2: ch 4 counts as dc + ch-1 space, dc in 3rd ch of beg ch-4", "Row 2: ch 4 (counts as dc and ch 1), dc in 3rd ch of turning ch"},
	{"Row 2: ch 3 (does not count as a stitch here and throughout)", "Row 2: ch 3 (does not count as a st here and throughout)"},
	{"Row 1: ch 22, dc in fourth ch from hook (skipped three chains count as a dc)", "Row 1: ch 22, dc in 4th ch from hook (skipped 3 ch count as dc)"},
	{"Row 1: ch 22, dc in 4th ch from hook (skipped ch don't count)", "Row 1: ch 22, dc in 4th ch from hook (skipped ch do not count)"},
	{"Row 1: sc 3, leaving the remaining four stitches unworked", "Row 1: sc 3, leave remaining 4 sts unworked"},
	{"Row 1: join yarn B in any st; change color to A in last st, using B sc 3", "Row 1: join B in any st, change to A in last st, with B, sc 3"},
	{"Row 1: sc 3 with A, sc 4, with B", "Row 1: sc 3 with A, sc 4, with B"},
	{"Rnd 1: join A to Head between Rounds 2 & 3, sc around", "Rnd 1: join A to Head between Rnds 2 and 3, sc around"},
	{"Rnds 5-8: repeat rounds 2 – 3", "Rnds 5-8: rep Rnds 2-3"},
	{"Rnd 5: same as round 3, repeat last two rounds", "Rnd 5: as Rnd 3, rep last 2 rnds"},
	{"Rnd 5: work even in half double crochet around, place a marker, slip marker, don't turn", "Rnd 5: work even in hdc around, pm, move marker, do not turn"},
	// The header.
	{"pattern:  Moss the “Snail” ", "Pattern: Moss the “Snail”"},
	{"terms: us terms", "Terms: US"},
	{"Skill level: Easy", "Skill: easy"},
	{"finished size: 9cm tall × 4 cm wide", "Size: 9 cm tall x 4 cm wide"},
	{"tension: 24 stitches × 26 rounds = 10cm in single crochet, uses 9.50 metres", "Gauge: 24 sts x 26 rnds = 10 cm in sc, uses 9.50 m"},
	{"Gauge: 20 sc and 22 rows to 4 inches", "Gauge: 20 sts x 22 rows = 4 in in sc"},
	{"Gauge: 18 sts x 20 rows = 10 x 12 cm in hdc", "Gauge: 18 sts x 20 rows = 10 x 12 cm in hdc"},
	{"Gauge: 18 sts = 10 cm square", "Gauge: 18 sts = 10 cm"},
	{"Gauge: 20 rounds = 10 cm", "Gauge: 20 rnds = 10 cm"},
	{"Hook: 3.0mm", "Hook: 3.0 mm"},
	{"Hook: 3.5 mm, E–4", "Hook: E-4 (3.5 mm)"},
	{"Hook: 1.5mm steel hook", "Hook: 1.5 mm steel hook"},
	{"turning chain: double crochet counts, hdc doesn't", "Turning chain: dc counts, hdc does not"},
	{"Turning ch: does not count as a stitch", "Turning chain: does not count"},
	{"Yarn A: fern #7C9A5B light (3) 50g/125m 2 balls", "Yarn A: fern #7C9A5B, light (3), 50 g / 125 m, 2 balls"},
	{"yarn MC: Fern’s best , DK, 125m/50g", "Yarn MC: Fern's best, DK, 125 m / 50 g"},
	{"Notions: Two safety eyes (6mm) , black", "Notion: 2 safety eyes, 6 mm, black"},
	{"Notion: toy  stuffing", "Notion: toy stuffing"},
	{"Stitch: bob ( bobble )=five dc tog in one stitch", "Stitch: bob (bobble) = 5 dc together in one st"},
	{"Stitch: spike one takes 1 makes 1 st", "Stitch: spike one, takes 1, makes 1"},
	{"Notes:  pin first ", "Note: pin first"},
	// Pieces, actions and making up.
	{"Piece: Left  Leg ( make two )", "Piece: Left Leg (make 2)"},
	{"Piece: Leg (left)", "Piece: Leg (left)"},
	{"Worked: in continuous rounds", "Worked: in a spiral"},
	{"With: yarn A and B, 3.5mm hook", "With: A, B, hook 3.5 mm"},
	{"fasten  off, leaving a long tail.", "Fasten off, leaving a long tail."},
	{"DO NOT STUFF.", "Do not stuff."},
	{"Fasten off , leaving a tail ;sew it down .", "Fasten off, leaving a tail; sew it down."},
	{"Stuff,firmly , to 4.5 cm", "Stuff, firmly, to 4.5 cm"},
	{"Change to mc .", "Change to MC."},
	{"Join b, and go on with a", "Join B, and go on with a"},
	{"yarn mc: fern", "Yarn MC: fern"},
	{"Yarn cc1: fern", "Yarn CC1: fern"},
	{"Yarn b: fern 😀", "Yarn B: fern 😀"},
	{"Yarn sky: fern!", "Yarn sky: fern!"},
	{"With: mc and Cc2", "With: MC, CC2"},
	{"making up:", "Assembly:"},
	{"Sew: Feeler × two to the Body, between Rounds 2 & 3, about 3 stitches apart; with  whip stitch", "Sew: Feeler x 2 to Body, between Rnds 2 and 3, about 3 sts apart; with whip stitch"},
	{"attach: Shell on Body, over rnds 2–4, centered, evenly", "Attach: Shell to Body, over Rnds 2-4, centred, evenly"},
	{"Place: two x safety eyes on Body between Rnds 2 and 3", "Place: 2 safety eyes on Body, between Rnds 2 and 3"},
	{"Sew: Legs ,  Ears and Tail to the Body", "Sew: Legs, Ears and Tail to Body"},
	{"Sew: Leg (left) × 2 to Café 😀, at Rnd 2", "Sew: Leg (left) x 2 to Café 😀, at Rnd 2"},
	{"Embroider: nose ,mouth on Head", "Embroider: nose, mouth on Head"},
	{"Embroider: a mouth on Head, in Rnd 5, across 3 stitches, in line with Shell, at the left side, along open edge", "Embroider: a mouth on Head, at Rnd 5, across 3 sts, in line with Shell, at left side, open edge"},
}

// TestFormatWording holds the canonical wording of every construct.
func TestFormatWording(t *testing.T) {
	for _, c := range wordings {
		for _, fault := range grammar.Parse(c[0]).Faults() {
			assert.Fail(t, fault.Message, c[0])
		}
		assert.Equal(t, c[1], format(c[0]))
		assert.Equal(t, c[1], format(c[1]), "the canonical wording stays")
	}
}

// TestFormatTerms holds that stitches are named in the file's terms, and the
// pattern's own as it names them.
func TestFormatTerms(t *testing.T) {
	assert.Equal(t, "Terms: UK\nRnd 1: dc, tr, htr2tog\n", format("Terms: British\nRnd 1: double crochet, treble, half treble 2 together\n"))
	assert.Equal(t, "Stitch: bobble = 3 hdc together in one st\nRnd 1: Bobble in next st, bob in next st\n",
		format("Stitch: bobble = 3 hdc together in one st\nRnd 1: Bobble in next st, bob in next st\n"), "the bobble is the pattern's own")
	assert.Equal(t, "Stitch: bob = 3 hdc together in one st\nRnd 1: bobble in next st\n",
		format("Stitch: bob = 3 hdc together in one st\nRnd 1: bobble in next st\n"), "the glossary's bobble is not the pattern's bob")
}

// TestFormatLayout holds what is kept, joined and broken.
func TestFormatLayout(t *testing.T) {
	long := "sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts"
	for name, c := range map[string][2]string{
		"blank lines and line ends": {"Pattern: A  \r\n \r\n\nPiece:B\n", "Pattern: A\r\n\r\n\nPiece: B\n"},
		"no last line end":          {"Piece:B", "Piece: B"},
		"byte-order mark":           {"\ufeffPiece:B\n", "\ufeffPiece: B\n"},
		"a fault":                   {"  Rnd 1 : sc  2,,  [sc\n", "  Rnd 1 : sc  2,,  [sc\n"},
		"joined":                    {"Rnd 1: sc 3,\n    inc\nRnd 2:sc\n", "Rnd 1: sc 3, inc\nRnd 2: sc\n"},
		"joined with its comment":   {"Rnd 1: sc 3,\r\n    inc   // here\r\n", "Rnd 1: sc 3, inc  // here\r\n"},
		"a comment inside":          {"Rnd 1: sc 3, // why\n  inc\n", "Rnd 1: sc 3, // why\n  inc\n"},
		"long on one line":          {"Rnd 1: " + long + "\n", "Rnd 1: " + long + "\n"},
		"long on two":               {"Rnd 1: " + strings.Replace(long, ", ", ",\n\t", 1) + "\n", "Rnd 1: sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts,\n  inc, sc in next 4 sts\n"},
		"broken as the file ends":   {"Rnd 1: sc\r\nRnd 2: " + strings.Replace(long, ", ", ",\n ", 1), "Rnd 1: sc\r\nRnd 2: sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts, inc, sc in next 4 sts,\r\n  inc, sc in next 4 sts"},
		"a comment in a name":       {"Piece: Café // the largest\n  (make 2)\n", "Piece: Café // the largest\n  (make 2)\n"},
		"a comment in a seam":       {"Sew: Leg // both\r\n  x 2 to Body\r\n", "Sew: Leg // both\r\n  x 2 to Body\r\n"},
		"a comment in free text":    {"Note: one // mine\n   two\n", "Note: one // mine\n   two\n"},
		"a comment alone inside":    {"Rnd 1: sc,\n  // why\n  inc\n", "Rnd 1: sc,\n  // why\n  inc\n"},
		"yarns as they are listed":  {"Yarn Sky: blue\nYarn mc: oat\nWith: SKY, mc\nRnd 1: with sky, sc, change to mC, sc\nChange to sKy.\n", "Yarn Sky: blue\nYarn MC: oat\nWith: Sky, MC\nRnd 1: with Sky, sc, change to MC, sc\nChange to Sky.\n"},
		"free text":                 {"Note:  one\n   two  \n", "Note: one\n   two\n"},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, c[1], format(c[0]))
			assert.Equal(t, c[1], format(c[1]))
		})
	}
}

// TestFormatManyWordings writes every round of testdata in other words, which
// must not show once it is formatted.
func TestFormatManyWordings(t *testing.T) {
	others := []*strings.Replacer{
		strings.NewReplacer(" sts", " stitches", " st,", " the stitch,", "sk ", "skip ", " next ", " following ", " in ", " into "),
		strings.NewReplacer(" x ", " × ", "rep from", "repeat from", "ch-2 sp", "2-ch space", " 2 ", " two ", " 3 ", " three "),
		strings.NewReplacer(", ", " ,  ", " (", "  ( ", "; ", " . "),
		strings.NewReplacer("BLO", "back loop only", " around", " all around", "magic ring", "adjustable ring", "Rnd ", "Round ", "fasten", "finish"),
		strings.NewReplacer("sl st", "slip stitch", "inc ", "increase ", "hdc", "half double crochet", "turning ch", "tch"),
	}
	changed := 0
	for name, text := range corpus(t) {
		f := grammar.Parse(text)
		own := strings.Contains(text, "Stitch:") || strings.Contains(text, "Terms: UK")
		for _, l := range f.Lines {
			n, ok := l.Node.(*grammar.Round)
			if !ok || len(l.Faults) > 0 || l.Rows > 1 || own {
				continue
			}
			want := format(l.Text)
			for _, o := range others {
				body := strings.TrimPrefix(l.Text, n.Label.In(l.Text)+":")
				other := n.Label.In(l.Text) + ":" + o.Replace(body)
				if other == l.Text || len(grammar.ParseLine(other, 1).Faults) > 0 {
					continue
				}
				changed++
				assert.Equal(t, want, format(other), "%s: %s", name, other)
			}
		}
	}
	assert.Greater(t, changed, 300)
}

// TestFormatKeepsMeaning formats all of testdata.
func TestFormatKeepsMeaning(t *testing.T) {
	for name, text := range corpus(t) {
		t.Run(name, func(t *testing.T) { keepsMeaning(t, text) })
	}
}

// TestFormatSnail holds that the pattern the notation is explained by is in the
// canonical wording.
func TestFormatSnail(t *testing.T) {
	text, ok := corpus(t)[filepath.Join("..", "testdata", "patterns", "snail.crochet")]
	require.True(t, ok)
	assert.Equal(t, text, format(text))
}

// keepsMeaning holds that formatting a text is done once, and that every
// statement still says what it said.
func keepsMeaning(t *testing.T, text string) {
	before := grammar.Parse(text)
	out := grammar.Format(before)
	after := grammar.Parse(out)
	require.Equal(t, out, grammar.Format(after), "formatted twice")
	lines := before.Lines
	if last := len(lines) - 1; last > 0 && len(lines[last].Text) > 0 && lines[last].Node == (grammar.Blank{}) && strings.HasSuffix(text, lines[last].Text) {
		lines = lines[:last] // blanks behind the last line end
	}
	require.Len(t, after.Lines, len(lines), "%q", out)
	sys := system(before)
	for i, l := range lines {
		m := after.Lines[i]
		if len(l.Faults) > 0 {
			require.Equal(t, l.Text, m.Text, "a statement with a fault stays as it is")
			continue
		}
		require.Empty(t, m.Faults, "%q\n%q", l.Text, m.Text)
		require.IsType(t, l.Node, m.Node)
		require.Equal(t, strings.Trim(l.Note.In(l.Text), " \t\r\n"), strings.Trim(m.Note.In(m.Text), " \t\r\n"))
		switch n := l.Node.(type) {
		case *grammar.Round:
			r := m.Node.(*grammar.Round)
			require.Equal(t, []any{n.Row, n.From.N, n.To.N, n.Side}, []any{r.Row, r.From.N, r.To.N, r.Side})
			require.True(t, sameMeaning(sys, n.Steps, r.Steps) && sameMeaning(sys, n.After, r.After), "%q\n%q", l.Text, m.Text)
			require.Equal(t, bareTotal(sys, n.Total), bareTotal(sys, r.Total), "%q\n%q", l.Text, m.Text)
		case *grammar.OwnStitch:
			o := m.Node.(*grammar.OwnStitch)
			require.Equal(t, terms.Key(n.Abbr.Text), terms.Key(o.Abbr.Text))
			require.Equal(t, []int32{n.Takes.N, n.Makes.N}, []int32{o.Takes.N, o.Makes.N})
			require.True(t, sameMeaning(sys, n.Steps, o.Steps), "%q\n%q", l.Text, m.Text)
		}
	}
}

func system(f *grammar.File) terms.System {
	for _, l := range f.Lines {
		if n, ok := l.Node.(*grammar.Terms); ok {
			return n.System
		}
	}
	return terms.US
}

// sameMeaning says whether steps are the same but for where they stand and how
// their stitches are spelled. It is written apart from the formatter's own check.
func sameMeaning(sys terms.System, a, b []grammar.Step) bool {
	return assert.ObjectsAreEqual(bare(sys, a), bare(sys, b))
}

func bare(sys terms.System, list []grammar.Step) []grammar.Step {
	out := make([]grammar.Step, 0, len(list))
	for _, s := range list {
		s.Span, s.Stitch = grammar.Span{}, bareRef(sys, s.Stitch)
		s.Count, s.Fill = bareCount(s.Count), bareFill(sys, s.Fill)
		places := make([]grammar.Place, 0, len(s.Places))
		for _, p := range s.Places {
			p.Span, p.Count = grammar.Span{}, bareCount(p.Count)
			p.Unit, p.Fill = bareUnit(sys, p.Unit), bareFill(sys, p.Fill)
			p.Source = &grammar.Source{Of: bareName(p.Of()), Nth: p.OfNth(), Rnd: bareCount(p.Rnd()), Below: bareCount(p.Below())}
			places = append(places, p)
		}
		s.Places = places
		if s.Group != nil {
			g := *s.Group
			g.Steps, g.Inner = bare(sys, g.Steps), grammar.Span{}
			g.Times.Span, g.Times.Count, g.Times.Fill = grammar.Span{}, bareCount(g.Times.Count), bareFill(sys, g.Times.Fill)
			s.Group = &g
		}
		d := grammar.Detail{Yarn: grammar.Name{Text: grammar.YarnKey(s.Yarn().Text)}}
		if standing := s.Standing(); standing != nil {
			x := *standing
			x.Span, x.As, x.Chains = grammar.Span{}, bareRef(sys, x.As), bareCount(x.Chains)
			d.Standing = &x
		}
		if x := s.Rounds(); x != nil {
			d.Rounds = &grammar.Rounds{From: bareCount(x.From), To: bareCount(x.To), Last: x.Last}
		}
		s.Detail = &d
		out = append(out, s)
	}
	return out
}

func bareCount(c grammar.Count) grammar.Count { return grammar.Count{N: c.N} }

func bareName(n grammar.Name) grammar.Name {
	return grammar.Name{Text: strings.Join(strings.Fields(n.Text), " ")}
}

func bareRef(sys terms.System, r grammar.Ref) grammar.Ref {
	name := terms.Key(strings.Join(strings.Fields(r.Text), " "))
	if s := r.Known(sys); s != nil {
		name = s.ID
	}
	return grammar.Ref{Name: grammar.Name{Text: name}}
}

func bareUnit(sys terms.System, u grammar.Unit) grammar.Unit {
	ref := bareRef(sys, u.Ref())
	return grammar.Unit{Kind: u.Kind, Chains: u.Chains, Term: &ref}
}

func bareFill(sys terms.System, f grammar.Fill) grammar.Fill {
	return grammar.Fill{Kind: f.Kind, Last: &grammar.Last{Count: bareCount(f.Left()), Unit: bareUnit(sys, f.Unit())}}
}

func bareTotal(sys terms.System, t *grammar.Total) []grammar.Part {
	if t == nil {
		return nil
	}
	out := make([]grammar.Part, 0, len(t.Parts))
	for _, p := range t.Parts {
		u := bareUnit(sys, p.Unit)
		if u.Kind == grammar.UnitNone {
			u.Kind = grammar.UnitSt
		}
		out = append(out, grammar.Part{Count: bareCount(p.Count), Unit: u})
	}
	return out
}

// TestFormatKeepsTally holds that formatting never changes what a round works
// out to, nor what is found in it.
func TestFormatKeepsTally(t *testing.T) {
	for name, text := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, tally(text), tally(format(text)))
		})
	}
}

// worked is what a round comes to.
type worked struct {
	name         string
	takes, makes int64
	problems     []fabric.ProblemKind
}

func tally(text string) []worked {
	var out []worked
	for _, piece := range fabric.Work(grammar.Parse(text)).Pieces {
		for _, r := range piece.Rounds {
			w := worked{name: piece.Name + " " + r.Name(), takes: r.Takes, makes: r.Makes}
			for _, x := range r.Problems {
				w.problems = append(w.problems, x.Kind)
			}
			out = append(out, w)
		}
	}
	return out
}

// FuzzFormat holds for any text what TestFormatKeepsMeaning holds for ours. It
// starts from single lines, which are quicker to vary than whole patterns.
func FuzzFormat(f *testing.F) {
	seen := map[string]bool{}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			f.Add(text)
		}
	}
	for _, text := range corpus(f) {
		for _, line := range strings.Split(text, "\n") {
			if l := grammar.ParseLine(line, 1); len(l.Faults) == 0 {
				add(line)
			}
		}
	}
	for _, c := range wordings {
		add(c[0])
	}
	for _, text := range []string{"Rnd 1: *** sc; rep from *", "Row 1: sc\n ", "Rnd 1: sc 3 ( // x\n  inc)", "\ufeff \r\n// a\r\n  b", "Rnd 1: ch 3 counts as dc counts", "Stitch: bob = 2 dc in one st\nRnd 1: bobble,\n  bob"} {
		add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { keepsMeaning(t, text) })
}
