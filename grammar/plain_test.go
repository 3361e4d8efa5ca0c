package grammar

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// wordings are right-hand sides for every row of the tables of the notation,
// and for the corners of the grammar; some do not parse.
var wordings = strings.Split(strings.TrimSpace(`
,
sc
sc 3
3 sc
3 x sc
sc in next 3 sts
sc in each of next 3 sts
2 sc in next st
3 dc in same st
2 sc in each of next 6 sts
inc, inc 2, 2 inc, inc x 2, inc in next 2 sts
hdc inc
dec, sc2tog, inv dec, dec 2, dc2tog, sc3tog
(sc, hdc, sc) in next st
(2 dc, ch 2, 2 dc) in next ch-2 sp
sk 2, skip next 2 sts, sk next ch, sk turning ch, sk ch-2 sp, sk first st, sk 1 dc
ch 2
sl st
join
join with sl st to first sc
join with sl st in top of beg ch-3
sl st to join
sl st in first st
sl st to first st
sl st to join to form ring
sl st in first ch to form ring
sl st to end
join B with sl st in any st
join with B
join B with C
join A to Head between Rnds 2 and 3
join Head to Body
join Magic ring to Body
join in ring
join rnd with sl st in first st with B
join to form ring, form ring
ch 3 (counts as dc), turn
ch 3, counts as first dc, turn
ch 4 (counts as dc and ch 1), dc in next st
ch 3 (counts as dc) dc in next st
ch 3 (counts as dc) (counts as tr), dc
(does not count as a st here and throughout), sc
(counts as dc, ch-2 sp, throughout)
dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across
counts as Rnd 5
counts as dc as Rnd 5
counts as 2 ch, counts as ch, counts as ch 2 sp, counts as first 2 first dc with 3 ch
turn
leave remaining 4 sts unworked, leave rem sts unworked
inc 6 evenly
dec 6 sts evenly around
sc 30 evenly around
sc around, sc in each st around, sc across, work even, work even in dc around
6 sc in magic ring, 12 dc in ring, 6 sc in MR
ch 10
sc in 2nd ch from hook, sc in each ch across
sc in last ch; working along other side of ch, sc in next 7 ch
sc in last ch and in other side of next 3 ch
sc in last ch and in other side, sc
fsc 20
BLO
FLO sc 3
in BLO: sc around
in BLO of next 3 sts
sc in BLO of next 3 sts, sc in BLO around
BLO sc 12
BLO sc in FLO
sc BLO 3 FLO
BLO 3 sts
BLO 6 x (sc)
BLO (sc, inc) x 6
BLO (sc, inc) x 6 in FLO
work in FLO sc 3
working in back loops only, sc 3
sc 12 in free loops of Rnd 5
sc in each free loop of Rnd 5
sc in FLO of Rnd 5
sc in back bump of each ch across
sc in next 12 sts of Leg, sc around Leg, sc in each st of first Leg around
sc in each st of 2nd Leg, sc in next 3 sts of same Leg
sc in each st around of Leg around next st
sc around post of next st, dc around next dc, bpdc around
sc in each of Leg
sc in each remaining st
sc in each of remaining 3 sts
sc in next 3 unworked sts of Row 3
sc in unworked sts of Row 3
dc in next st 2 rnds below, dc in st below, dc in next st row below
with B, change to B, change to B in last st sc
with yarn
change to B in each arround
sc in each arround
sc in each cross around
fpdc, bpdc, esc, 3-dc cl, bob, pc, puff, V-st, shell, picot, spike sc, my own stitch
pm, move marker, pm in first st, pm in BLO
do not join, do not turn or join
sk first st, dc in top of turning ch, dc in 3rd ch of beg ch-3, dc in turning ch
dc in same st as join, dc in base of turning ch
sc in each dc and ch-1 sp around
sc in next st and next st and in next ch and ch
sc in next st and in BLO sc in next st
sc in next st in BLO, dc
sc in 3rd of Leg
dc in next dc and in each dc across
(sc, inc) x 6
[sc, inc] 6 times
{sc, inc} six times
(sc, inc] x 6
6 x (sc, inc)
(sc, inc) rep 6 times
(sc, inc) rep
(sc, inc) * 6 in next st
(sc, inc) x 6 around
(sc, inc) around around
(sc, inc) 6 times in all, sc
(sc, inc) twice more
(sc, inc) 5 more times
(sc, inc) to last 3 sts, sc 3
(sc, inc)
()
(sc, (dc, ch 1) x 3, sc) x 2
((sc) x 2) x 2
(sc (3)) x 2
(inc (3 sc), dec) x 2
(sc
sc)
*sc, inc; rep from * around
*sc, inc; rep from * across
*sc, inc; rep from * to end
*sc, inc; rep from * to end of row
*sc, inc; rep from * to last 3 sts, sc 3
*sc, inc; rep from * 5 more times
*sc, inc; rep from * once more
*sc, inc; rep from * 5 times
*sc, inc; rep from *
*sc, inc; rep
*sc, inc; rep from
*sc, inc* x 6
*sc, inc*, rep 6 times
*sc, inc*, rep from * around
*sc, inc*
*sc, inc
*sc, inc; rep from * to *, around
*sc, inc; rep from *, 5 more times, sc
*sc, inc; rep from *, x 5
*sc, *inc* x 2, sc* x 3
*sc, (sc, *inc* x 2) x 3; rep from * around
*sc in next st**, hdc in next 9 sts; rep from * across, ending last rep at **
*sc, inc; rep from * around, ending last rep at **
*sc ** inc ** dec; rep from * around
**
rep Rnds 8-9
rep Rnds 2 and 3, as Rnd 5, same as Row 2, work as Rnd 5, rep last 2 rnds
*sc, rep Rnd 5; rep from * around
*sc; rep Rnd
rep last 2 foo
make a magic ring, 6 sc in ring
start with sc, make with B sc
make make make sc
work sc 3
work (counts as dc) sc
work Leg
sc around (24)
sc around = 24
sc around - 24 sts
sc around 24 sts.
sc 24 sts
sc [24]
(12 dc, 6 ch-2 sps)
sc (24) turn
sc (24), sc FLO
sc (24), (24)
sc (24) ch 1 turn
sc = total: 24, 6 ch-2 sps and 3 loops, turn
sc (24 total), fasten off
sc = 24, total
sc = 24 foo bar sts
3 sc 12 sts
sc in each remaining 3 sts
sc 3 3 sc
sc 3 sc 3
sc twice more
sc in next 3 sc sc
sc; inc. then dec and sc & ch 1 + dc
then, and sc
ch 1, turn, sc across, turn.
ch 1. Turn. Sc in each st across. Fasten off.
sc in next 1000000000000 sts
2 Sc In Next St × 3 — 6
sc in each st to last 2 sts, sc until 2 sts remain, sc around to last st, sc to turning ch
sc evenly in next 3 sts together evenly around evenly in BLO
BLO sl st in next st, FLO sl st to next st, both loops sc 3
sc next 3 sts, sc next st and in BLO around
sc in top of next st, sc in top of st, dc in top of ch 3, dc in 3rd ch of ch 4 of ch-3
sc in each of last 2 sts, sc in each of 3 sts, sc in each unworked st of Row 3, sc in next 2 free loops
sc in each of next 3 free loops, sc in each skipped st, sc in each dc and ch around
sc in next sp, sc in each row end, sc in next loop, sc in next back bump st, sc in bump of bump
sc in other side of each of next 3 ch, sc in other side of 4 ch
sc in next 3 sts of turning ch, sc in next st of ch, dc in turning ch 3, dc in base of ch 2
sc in next st of the Arm of Doll, sc around Arm of Doll 2, sc in next st of
sc in FLO of Rnd
sc to end of row, sc to end of rnd, sc to end of
leave next 3 remaining sts, leave rem
rep last rnds, rep last 3 foo
join with sl st in first st to form ring, join to ring form ring
(sc, inc) 6 times in total, (sc, inc) 6 times in each st
*sc* x 3 more, sc
*sc, inc; rep from * 6 times in all
* rep from * around
*; rep from * around
(sc; rep from * around) x 2
(sc ** sc) x 2
(sc ? sc) x 2
sk arround, sk once
(skipped 3 ch sts count as dc, sc
sc (6 sps)
sc (24 sts, 6 loops, 3 ch, 2 bobbles sts)
sc and next st
sc in BLO st
((sc) x 2 in all) x 2
sc around in BLO of
sc leave last 4 sts unworked
sc around Leg 2 x
5 dc tog in one st
spike sc in next st, 2 sc in each st around Leg
sc around first Leg, sc across 2nd Leg, dc around first dc, sc around to end second Leg
fasten off A, fasten off Rosemary
repeat (sc, inc) 6 times, sc rep (sc, inc) around
rep (counts as dc) x 6
6 x (does not count)
*sc, rep (sc, inc) x 2; rep from * around
*sc, inc; rep (18)
*sc; rep (counts as dc)
(sc, inc), rep 6 times
(3 sc), rep 6 times
(3 sc), rep Rnds 2-3
(18), rep last 2 rnds
(18), rep 6 times
(18), rep (sc, inc) 6 times
(sc, inc), rep from * around
(sc, inc), rep last 2 rnds
start with B, sc
make with sc
working in free loops of Rnd 5, sc 12
in FLO of Rnd 5: sc 12; in magic ring, 6 sc; work in ring, sc
sc in each FLO of Rnd 5, sc in free loop of Rnd 5, sc in front loop of Rnd 5
sc BLO 12, sc FLO twice, sc 3 BLO, sc 3 BLO 4
sc in remaining of Row 3, sc in remaining sts, sc in remaining 7 sts, sc in rem sts of Row 3, sc in remaining 3 sts of Row 3
sc in remaining sts around of Leg, sc in rem dc and ch-1 sp around, sc in rem arround
counts here and throughout as dc, and ch 1
sk base of ch, sk base of turning ch
in next ch-2 sp, work 3 dc, in each ch-1 sp around work (dc, ch 1), in same st: work [sc, (hdc, dc) in next st]
in next st, work sl st, in next st, work sl st to join
in next st, work sc in next st
in next st, work (sc, dc) x 2
in next st, work (sc, dc) in next st
in next st, work sc around
in next st, work inc evenly
in next st, work ch 3 (counts as dc)
in next st, sc
in next st work
in ch 3, work sc
in ch, work sc, in sp, work sc, in st work 2 sc
in ring, work sc
*in next st, work sc; rep from * around
*sc 2, inc; rep from * across, ending with sc 2, turn
*sc 2, inc; rep from * 4 times ending with (sc, dc) (24)
*sc 2**, inc; rep from * around, ending last rep at **, ending with sc
(sc, inc) x 6; ends with [sc, (dc, hdc) x 2, *sc; rep from * around, ending with sc]
(sc, inc) across, end with (sc, dc) x 2 (12)
(sc, inc) x 6, ending with (sc, dc) in next st
(sc, inc) x 6, ending with (sc, dc), ending with sc
(sc, inc) in next st, ending with sc
sc, ending with sc
(sc, inc) x 6, ending with
(sc, inc) x 6, ending with (sc
(sc, inc) x 6, ending with ch 3 (counts as dc), sc
(sc, inc) x 6, ending with (counts as dc)
(sc, inc) x 6, ending with (18)
(sc, inc) x 6, ending with with B sc
(sc, inc) x 6, ending with BLO: sc
shell in ch-1 sp of next V-st, shell in sp of each V-st around, (dc, ch 1) in ch-2 sp of first shell, dc in ch sp of last 2 shells to last st
dc in each ch-1 sp of next V-st, dc in next ch-1 sp of next V-st of Rnd 2
dc in ch-1 sp of next dc, dc in ch-1 sp of V-st, dc in next st of next V-st, dc in ch-1 sp of next 2 Leg
dc in ch-1 sp of next V-st below
sc around both Legs, sc in next st of both Legs, 2 sc across both dc, sc around both
sc around, inc 6 sts evenly, increasing 6 sts evenly around
[dec, sc 6 times, sc
(sc, (dec, sc x 2, inc 6 times) x 2
*sc, (dec, sc 6 times; rep from * around
sc around increasing 6 sts evenly
sc around decreasing six evenly spaced
sc in each st around increasing 6 sts evenly spaced around
sc to end dec 6 evenly, join
sc around inc 6 sts
sc around inc 6
sc around inc evenly
sc around dec 6 evenly dec 6 evenly
sc 12 inc 6 evenly
(sc, inc) around inc 6 evenly
sc around sc 6 evenly
sc around first inc 6 evenly
work even around inc 6 evenly
(sc) x 2, ending with sc around increasing 6 evenly
*sc; rep from * around, ending with dc to end decreasing 6 sts evenly
in each st, work sc around inc 6 evenly
sc around, ending with (sc, dec)
sc around 😀, sc in next 12 sts of Café😀 2, with 🧶, sc 3
tuft😀 3, 2 ♥♥, 👩‍🎨 x 3, sc✕6, sc ✖ 6
working in next st, 3 dc
`), "\n")

// nested are brackets and stars in each other, as deep as they may be and deeper.
func nested() []string {
	var out []string
	for _, deep := range []int{1, maxDepth - 1, maxDepth, maxDepth + 1, maxDepth + 2, 50 * maxDepth} {
		for _, inner := range []string{"sc", "ch 3 (counts as dc)"} {
			out = append(out, strings.Repeat("(", deep)+inner+strings.Repeat(") x 2", deep))
			out = append(out, strings.Repeat("*(", deep/2)+inner+strings.Repeat(") x 2; rep from * around", deep/2))
		}
		out = append(out, strings.Repeat("(", deep), strings.Repeat("make ", deep)+"sc")
	}
	return out
}

// seedSides are the right-hand sides of rounds in everything under testdata.
func seedSides(t testing.TB) []string {
	seen := map[string]bool{}
	var out []string
	add := func(s string) {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	for _, s := range append(wordings, nested()...) {
		add(s)
		for part := range strings.SplitSeq(s, ", ") { // what a slip beside it would hide
			add(part)
		}
	}
	for _, pattern := range []string{"cases/*", "sources/*.txt", "patterns/*.crochet", "patterns/*/*.crochet"} {
		files, err := filepath.Glob(filepath.Join("..", "testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		if len(files) == 0 {
			t.Fatalf("no file under testdata is like %s", pattern)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(string(data)) {
				line = strings.TrimRight(line, "\r\n")
				if cells := strings.Split(line, "\t"); len(cells) > 1 {
					add(cells[1])
				} else if _, side, ok := strings.Cut(line, ":"); ok {
					add(side)
				}
				if _, steps, ok := strings.Cut(line, "="); ok {
					add(steps)
				}
			}
		}
	}
	return out
}

// samePlain holds the plain grammar to the reader on one text.
func samePlain(t *testing.T, text string) {
	t.Helper()
	steps, total, after, faults := stepsIn(text, 0, len(text))
	gotSteps, gotTotal, gotAfter, ok := PlainSteps(text, 0, len(text))
	if ok != (len(faults) == 0) {
		t.Fatalf("%q: the plain grammar says %v, the reader %+v", text, ok, faults)
	}
	if !ok {
		return
	}
	if reflect.DeepEqual(steps, gotSteps) && reflect.DeepEqual(after, gotAfter) && reflect.DeepEqual(total, gotTotal) {
		return
	}
	read, plain := shown(steps, total, after), shown(gotSteps, gotTotal, gotAfter)
	for i := range min(len(read), len(plain)) {
		if read[i] != plain[i] {
			from := max(0, i-8)
			t.Fatalf("%q\nplain %s\nread  %s", text, strings.Join(plain[from:i+1], ""), strings.Join(read[from:i+1], ""))
		}
	}
	t.Fatalf("%q: the trees differ", text)
}

func TestPlainEqualsRead(t *testing.T) {
	parsed := 0
	for _, text := range seedSides(t) {
		samePlain(t, text)
		if _, _, _, ok := PlainSteps(text, 0, len(text)); ok {
			parsed++
		}
	}
	if parsed < 600 {
		t.Fatalf("only %d of the right-hand sides parse", parsed)
	}
}

func FuzzPlainEqualsRead(f *testing.F) {
	for _, text := range seedSides(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 2000 {
			return
		}
		samePlain(t, text)
	})
}

// shown prints trees with what their pointers point to, a field a line.
func shown(steps []Step, total *Total, after []Step) []string {
	data, err := json.MarshalIndent([]any{steps, total, after}, "", " ")
	if err != nil {
		return []string{err.Error()}
	}
	return strings.Split(string(data), "\n")
}

// fuzzWords are every word of the notation, and the other classes of token.
var fuzzWords = func() []string {
	words := strings.Fields("1 2 6 12 2nd third once twice ch-2_sp ch ch ch sc dc inc sc2tog sl_st sl_st MR Leg B arround cross ( ( ) ) ( ) [ ] { } , , , , ; . : * * * ** ** - = / ? sts")
	for k := KeyNone + 1; k < keyCount; k++ {
		words = append(words, k.String())
	}
	return words
}()

// FuzzPlainEqualsReadWords holds the two equal on texts made of whole words: a
// byte is a word.
func FuzzPlainEqualsReadWords(f *testing.F) {
	for _, text := range seedSides(f) {
		var data []byte
		for _, t := range lexed(nil, text, 0) {
			for i, w := range fuzzWords {
				if strings.EqualFold(strings.ReplaceAll(w, "_", " "), t.In(text)) || t.Kind == Keyword && w == Key(t.Value).String() {
					data = append(data, byte(i))
					break
				}
			}
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 60 {
			return
		}
		var b strings.Builder
		for _, c := range data {
			b.WriteString(strings.ReplaceAll(fuzzWords[int(c)%len(fuzzWords)], "_", " "))
			b.WriteByte(' ')
		}
		samePlain(t, b.String())
	})
}
