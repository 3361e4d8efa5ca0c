package grammar

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// seedTexts are the patterns and examples of testdata, and what word
// processors make of them.
func seedTexts(f *testing.F) []string {
	out := []string{
		"\ufeffPattern: x\r\nYarn\u00a0A: fern\r\n\r\nRnd\u00a01: 6 sc in magic ring (6)\r\n  , join\r\n// note\r\nRnds 2–3: sc around — 6 sts // allow: total-missing\r\n",
		"Rnd 1: (sc × 2, “inc”) × 6\u00a0(18)\nRnd 2: ch–2 sp, ch‑3, 3‑dc cl\n:\n: :\nYarn : x\nRnd: sc\nRnds 5-2: sc\nR3: sc\n",
		"Stitch: = 5 dc\nPiece: (make\nSew: to to\nPlace: on on\nGauge: = =\nHook: (\nTurning chain: ,\n\t\n \x00\xff\n",
	}
	for _, pattern := range []string{"../testdata/patterns/*.crochet", "../testdata/patterns/broken/*.crochet", "../testdata/cases/*", "../testdata/sources/*.txt"} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			out = append(out, string(data))
		}
	}
	return out
}

// FuzzParse holds what is true of every parse: it ends, keeps every byte, and
// its spans lie inside their lines; and reading again after an edit gives the
// same as reading afresh.
func FuzzParse(f *testing.F) {
	for _, text := range seedTexts(f) {
		f.Add(text, uint16(len(text)/2), uint16(5), "sc 3, inc\n")
	}
	f.Fuzz(func(t *testing.T, text string, at, cut uint16, insert string) {
		if len(text) > 20000 || len(insert) > 2000 {
			return
		}
		old := Parse(text)
		checkLines(t, old)
		from := min(int(at), len(text))
		to := min(from+int(cut), len(text))
		edited := text[:from] + insert + text[to:]
		cold, warm := Parse(edited), Reparse(old, edited)
		if len(cold.Lines) != len(warm.Lines) {
			t.Fatalf("%d lines afresh, %d again: %q", len(cold.Lines), len(warm.Lines), edited)
		}
		for i := range cold.Lines {
			if cold.Start(i) != warm.Start(i) || !assert.ObjectsAreEqual(cold.Lines[i], warm.Lines[i]) {
				t.Fatalf("line %d differs: %q, %q", i, cold.Lines[i].Text, warm.Lines[i].Text)
			}
		}
	})
}

func checkLines(t *testing.T, f *File) {
	at := 0
	if strings.HasPrefix(f.Text(), bom) {
		at = len(bom)
	}
	for i, l := range f.Lines {
		if f.Start(i) < at || f.Text()[f.Start(i):f.Start(i)+len(l.Text)] != l.Text {
			t.Fatalf("line %d is not where it says", i)
		}
		if strings.Trim(f.Text()[at:f.Start(i)], "\r\n") != "" {
			t.Fatalf("bytes before line %d belong to no line: %q", i, f.Text()[at:f.Start(i)])
		}
		at = f.Start(i) + len(l.Text)
		if commentIn(l.Said(), 0, len(l.Said())) >= 0 && len(l.Text) <= maxLine {
			t.Fatalf("line %d says its comment: %q", i, l.Said())
		}
		if l.Node == nil {
			t.Fatalf("line %d is nothing: %q", i, l.Text)
		}
		for _, x := range l.Faults {
			if x.Start < 0 || x.End < x.Start || int(x.End) > len(l.Text) || x.Message == "" {
				t.Fatalf("a fault outside its line: %+v in %q", x, l.Text)
			}
		}
		if n, ok := l.Node.(*Round); ok {
			checkSteps(t, l.Text, n.Steps)
		}
	}
	if strings.Trim(f.Text()[at:], "\r\n") != "" {
		t.Fatalf("bytes at the end belong to no line: %q", f.Text()[at:])
	}
}

func checkSteps(t *testing.T, text string, steps []Step) {
	for i := range steps {
		s := steps[i].Span
		if s.Start < 0 || s.End < s.Start || int(s.End) > len(text) {
			t.Fatalf("a step outside its line: %+v in %q", s, text)
		}
		if steps[i].Group != nil {
			checkSteps(t, text, steps[i].Group.Steps)
		}
	}
}
