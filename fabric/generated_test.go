package fabric

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// A writer makes up pieces whose counts are known, in ever other wordings.
type writer struct{ *rand.Rand }

func (w writer) one(of ...string) string { return of[w.IntN(len(of))] }

var numberWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func (w writer) number(n int) string {
	if n >= 2 && n <= 12 && w.IntN(4) == 0 {
		return numberWords[n]
	}
	return fmt.Sprint(n)
}

// sts says n stitches, one in each.
func (w writer) sts(st string, n int) string {
	if n == 1 {
		return w.one(st, st+" in next st", "1 "+st, st+" 1", st+" in the next st")
	}
	c := fmt.Sprint(n)
	return w.one(st+" "+c, c+" "+st, st+" in next "+c+" sts", st+" in each of next "+c+" sts", st+" in each of the next "+w.number(n)+" stitches", st+" x "+c)
}

func (w writer) inc(st string) string {
	return w.one("inc", "2 "+st+" in next st", "inc in next st", "1 inc", "inc 1", "two "+st+" in next st")
}

func (w writer) dec(st string) string {
	return w.one("dec", st+"2tog", "dec over next 2 sts", st+"2tog over next 2 sts", "1 dec")
}

// times says a body k times over; all says that this is as often as the edge allows.
func (w writer) times(body string, k int, all bool) string {
	n := fmt.Sprint(k)
	ways := []string{
		"(" + body + ") x " + n, "[" + body + "] x " + n, "(" + body + ") " + w.number(k) + " times", "[" + body + "] " + n + " times",
		n + " x (" + body + ")", "(" + body + ") × " + n, "(" + body + ") x" + n,
	}
	if k > 1 {
		more := w.number(k-1) + " more times"
		switch k {
		case 2:
			more = "once more"
		case 3:
			more = "twice more"
		}
		ways = append(ways, "*"+body+"; rep from * "+more, "*"+body+", repeat from * "+more)
	}
	if k == 2 {
		ways = append(ways, "("+body+") twice")
	}
	if all {
		ways = append(ways, "*"+body+"; rep from * around", "("+body+") around", "*"+body+"; repeat from * to end", "*"+body+", rep from * around")
	}
	return w.one(ways...)
}

func (w writer) total(st string, n int) string {
	c := fmt.Sprint(n)
	return w.one(" ("+c+")", " ("+c+" sts)", " ["+c+"]", " = "+c, " - "+c+" sts", " ("+c+" "+st+")", ". ("+c+")", " – "+c, " ("+c+" stitches)")
}

type made struct {
	label, words string
	n            int
	// even is set where the round goes on without shaping.
	even bool
}

// piece makes a piece worked in rounds.
func (w writer) piece() []made {
	st := w.one("sc", "sc", "sc", "hdc")
	n := 3 + w.IntN(7)
	c := fmt.Sprint(n)
	start := w.one(c+" "+st+" in magic ring", c+" "+st+" in MR", "magic ring, "+c+" "+st+" in ring", st+" "+c+" in magic ring",
		"make a magic ring, "+c+" "+st+" into ring", "ch 4, join with sl st to form ring; "+c+" "+st+" in ring", c+" "+st+" in adjustable ring")
	if w.IntN(5) == 0 && st == "sc" {
		chains := 5 + w.IntN(10)
		start = fmt.Sprintf("ch %d, sc in 2nd ch from hook, %s, 3 sc in last ch; working along other side of ch, %s, %s", chains,
			w.one(fmt.Sprintf("sc in next %d ch", chains-3), fmt.Sprintf("sc in each of next %d ch", chains-3)), fmt.Sprintf("sc in next %d ch", chains-3), w.one("inc in last ch", "2 sc in last ch"))
		n = 2 * chains
	}
	out := []made{{words: start, n: n}}
	for range 3 + w.IntN(9) {
		out = append(out, w.round(st, n))
		n = out[len(out)-1].n
	}
	return out
}

func (w writer) round(st string, n int) made {
	var divisors []int
	for k := 2; k <= n; k++ {
		if n%k == 0 && n/k <= 15 {
			divisors = append(divisors, k)
		}
	}
	loop := w.one("", "", "", "", "BLO ", "in BLO, ")
	switch c := w.IntN(10); {
	case c < 2:
		return made{words: loop + w.one(st+" around", st+" in each st around", "work even", st+" in each st", fmt.Sprintf("%s in next %d sts", st, n), fmt.Sprintf("%d %s", n, st)), n: n, even: true}
	case c == 2 && n <= 60:
		return made{words: loop + w.one("inc around", "inc in each st around", "2 "+st+" in each st around", fmt.Sprintf("inc x %d", n), fmt.Sprintf("inc %d", n)), n: 2 * n}
	case c == 3 && n%2 == 0 && n >= 8:
		return made{words: w.one("dec around", fmt.Sprintf("dec x %d", n/2), fmt.Sprintf("dec %d", n/2)), n: n / 2}
	case c == 4 && n >= 8:
		a := 1 + w.IntN(n-4)
		return made{words: fmt.Sprintf("%s, %s, %s", w.sts(st, a), w.inc(st), w.sts(st, n-a-1)), n: n + 1}
	case c == 5 && n >= 10:
		a := 1 + w.IntN(n-6)
		return made{words: fmt.Sprintf("%s, %s, %s", w.sts(st, a), w.one("sk 2, ch 2", "ch 2, sk next 2 sts", "ch 2, skip 2"), w.sts(st, n-a-2)), n: n - 2}
	case c == 6 && n >= 6:
		return made{words: fmt.Sprintf("%s, %s", w.sts(st, n-1), w.one("3 "+st+" in last st", "(sc, hdc, sc) in next st", "3 "+st+" in next st")), n: n + 2}
	case len(divisors) > 0:
		k := divisors[w.IntN(len(divisors))]
		each := n / k
		if each >= 3 && w.IntN(2) == 0 && n > 8 {
			return made{words: loop + w.times(w.sts(st, each-2)+", "+w.dec(st), k, true), n: n - k}
		}
		if each >= 2 && n < 90 {
			return made{words: loop + w.times(w.sts(st, each-1)+", "+w.inc(st), k, true), n: n + k}
		}
	}
	return made{words: st + " around", n: n, even: true}
}

// write labels the rounds, with a range now and then.
func (w writer) write(rounds []made, st string) (lines []string) {
	label := 1
	for i := range rounds {
		m := &rounds[i]
		name := w.one("Rnd", "Round", "rnd")
		m.label = fmt.Sprintf("Rnd %d", label)
		head := fmt.Sprintf("%s %d", name, label)
		if m.even && w.IntN(2) == 0 {
			to := label + 1 + w.IntN(4)
			head = fmt.Sprintf("Rnds %d%s%d", label, w.one("-", "–"), to)
			m.label = fmt.Sprintf("Rnds %d-%d", label, to)
			label = to
		}
		label++
		lines = append(lines, head+": "+m.words+w.total("sts", m.n))
	}
	return lines
}

func problemsOf(p *Pattern) (out []string) {
	for _, piece := range p.Pieces {
		for _, r := range piece.Rounds {
			for _, f := range r.Line.Faults {
				out = append(out, r.Name()+" fault: "+f.Message)
			}
			for _, x := range r.Problems {
				out = append(out, fmt.Sprintf("%s %s: %s", r.Name(), x.Kind, x.Message))
			}
		}
	}
	return out
}

func workLines(lines []string) *Pattern {
	return Work(grammar.Parse("Terms: US\nPiece: Made up\nWorked: in a spiral\n" + strings.Join(lines, "\n") + "\n"))
}

// TestGenerated works made-up pieces whose counts are known from how they were
// made, whatever the wording.
func TestGenerated(t *testing.T) {
	w := writer{rand.New(rand.NewPCG(1, 2))}
	for range 3000 {
		rounds := w.piece()
		lines := w.write(rounds, "sc")
		p := workLines(lines)
		require.Empty(t, problemsOf(p), strings.Join(lines, "\n"))
		for i, m := range rounds {
			r := p.Pieces[0].Rounds[i]
			require.Equal(t, int64(m.n), r.Makes, lines[i])
			if i > 0 {
				require.Equal(t, int64(rounds[i-1].n), r.Takes, lines[i])
			}
		}
	}
}

// TestGeneratedSlips changes one number of a made-up piece: the slip is found
// once, on its own round, and every repair offered makes the piece come out.
func TestGeneratedSlips(t *testing.T) {
	w := writer{rand.New(rand.NewPCG(3, 4))}
	silent := 0
	for range 3000 {
		rounds := w.piece()
		lines := w.write(rounds, "sc")
		at := w.IntN(len(lines))
		changed, ok := w.slip(lines[at])
		if !ok {
			continue
		}
		slipped := append([]string{}, lines...)
		slipped[at] = changed
		p := workLines(slipped)
		got := problemsOf(p)
		if len(got) == 0 {
			silent++
			continue
		}
		context := strings.Join(slipped, "\n") + "\nwas: " + lines[at]
		require.Len(t, got, 1, context)
		require.True(t, strings.HasPrefix(got[0], rounds[at].label+" "), "%v\n%s", got, context)
		r := p.Pieces[0].Rounds[at]
		for _, c := range p.Repairs(p.Pieces[0], r, r.Problems[0]) {
			mended := append([]string{}, slipped...)
			mended[at] = mended[at][:c.Span.Start] + c.New + mended[at][c.Span.End:]
			require.Empty(t, problemsOf(workLines(mended)), "%s\n%s", c.Title, context)
		}
	}
	assert.Zero(t, silent, "a change of one number is always seen")
}

// slip changes one number behind the label by one or two; how long a chain
// space is changes no count of stitches.
func (w writer) slip(line string) (string, bool) {
	colon := strings.IndexByte(line, ':')
	var spots [][2]int
	for i := colon; i < len(line); i++ {
		if line[i] >= '0' && line[i] <= '9' {
			j := i
			for j < len(line) && line[j] >= '0' && line[j] <= '9' {
				j++
			}
			next := line[j:]
			if !strings.HasPrefix(next, "nd") && !strings.HasPrefix(next, "tog") && !strings.HasSuffix(line[:i], "ch ") {
				spots = append(spots, [2]int{i, j})
			}
			i = j
		}
	}
	if len(spots) == 0 {
		return "", false
	}
	s := spots[w.IntN(len(spots))]
	n := 0
	fmt.Sscan(line[s[0]:s[1]], &n)
	m := n + []int{-1, 1, 2}[w.IntN(3)]
	if m < 1 || m == n {
		return "", false
	}
	return line[:s[0]] + fmt.Sprint(m) + line[s[1]:], true
}
