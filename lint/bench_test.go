package lint

import (
	"fmt"
	"strings"
	"testing"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/testdata/long"
)

// BenchmarkCheck reads, works and lints a whole file under all rules.
func BenchmarkCheck(b *testing.B) {
	for _, lines := range []int{1000, 10000, 20000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			text := long.Pattern(lines)
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
				p := fabric.Work(grammar.Parse(long.Pattern(lines)))
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

// BenchmarkKeystroke lints again after one line of a long file was changed: in
// the midst of a part, at its end, where the part comes out otherwise, and in the
// making up.
func BenchmarkKeystroke(b *testing.B) {
	text := long.Pattern(20000)
	for _, edit := range []struct{ name, on, off string }{
		{"midst", "sc 3 (42)", "sc 5 (42)"},
		{"end", "sc2tog x 6 (6)", "sc2tog x 5 (6)"},
		{"making up", "12 sts apart", "11 sts apart"},
	} {
		b.Run(edit.name, func(b *testing.B) {
			at := strings.Index(text[len(text)/2:], edit.on) + len(text)/2
			checked := Recheck(nil, grammar.Parse(text), Options{NoFixes: true})
			on, off := edit.on, edit.off
			b.ReportAllocs()
			for b.Loop() {
				f := grammar.Splice(checked.Pattern.File, at, at+len(on), off)
				checked = Recheck(checked, f, Options{NoFixes: true})
				on, off = off, on
			}
		})
	}
}
