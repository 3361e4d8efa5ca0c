package lint

import (
	"fmt"
	"strings"
	"testing"

	"workeven/fabric"
	"workeven/grammar"
)

// longPattern is a clean pattern of so many lines, in parts of twenty rounds.
func longPattern(lines int) string {
	var b strings.Builder
	b.WriteString("Pattern: Bench\nTerms: US\nSkill: easy\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3.0 mm\nYarn A: fern, light (3), 99000 g / 250000 m\n")
	for i := range lines - 6 {
		switch n := i % 21; {
		case n == 0:
			fmt.Fprintf(&b, "Piece: Part %d (make 1)\n", i/21)
		case n == 1:
			b.WriteString("Rnd 1: 6 sc in magic ring (6)\n")
		case n == 2:
			b.WriteString("Rnd 2: inc in each st around (12)\n")
		case n < 10 && n%2 == 1:
			fmt.Fprintf(&b, "Rnd %d: *sc in next %d sts, inc in next st; rep from * around (%d)\n", n, n-2, 6*n)
		case n < 10:
			fmt.Fprintf(&b, "Rnd %d: (sc %d, inc, sc in next %d sts) x 6 (%d)\n", n, n/2-1, n/2-1, 6*n)
		case n%3 == 0:
			fmt.Fprintf(&b, "Rnd %d: (sc 3, inc, sc in next 2 sts, sc in each of next 2 sts, dec, sc) x 4, sc 10 (54)\n", n)
		default:
			fmt.Fprintf(&b, "Rnd %d: sc in each of next 20 sts, sc in next 34 sts (54)\n", n)
		}
	}
	return b.String()
}

// BenchmarkCheck reads, works and lints a whole file under all rules.
func BenchmarkCheck(b *testing.B) {
	for _, lines := range []int{1000, 10000, 20000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			text := longPattern(lines)
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				Check(grammar.Parse(text), Options{})
			}
		})
	}
}

// BenchmarkRules runs each rule alone on a pattern that is worked already.
func BenchmarkRules(b *testing.B) {
	for _, r := range Rules() {
		for _, lines := range []int{10000, 20000} {
			b.Run(fmt.Sprintf("%s/%d", r.Name, lines), func(b *testing.B) {
				p := fabric.Work(grammar.Parse(longPattern(lines)))
				off := map[string]bool{}
				for _, other := range Rules() {
					off[other.Name] = other != r
				}
				for b.Loop() {
					CheckPattern(p, Options{Off: off})
				}
			})
		}
	}
}

// BenchmarkKeystroke lints again after one line of a long file was changed.
func BenchmarkKeystroke(b *testing.B) {
	text := longPattern(20000)
	at := strings.Index(text[len(text)/2:], "sc 10 (54)") + len(text)/2
	changed := text[:at] + "sc 11 (54)" + text[at+len("sc 10 (54)"):]
	checked := Recheck(nil, grammar.Parse(text), Options{NoFixes: true})
	b.ReportAllocs()
	for b.Loop() {
		f := grammar.Splice(checked.Pattern.File, at, at+len("sc 10 (54)"), changed[at:at+len("sc 10 (54)")])
		checked = Recheck(checked, f, Options{NoFixes: true})
		text, changed = changed, text
	}
}
