package grammar

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestTmp(t *testing.T) {
	var texts []string
	for _, g := range []string{"../testdata/sources/*.txt", "../testdata/cases/*.txt", "../testdata/patterns/*.crochet", "../testdata/patterns/broken/*"} {
		fs, _ := filepath.Glob(g)
		for _, f := range fs {
			d, _ := os.ReadFile(f)
			_ = d
		}
	}
	d, _ := os.ReadFile("../testdata/cases/rounds.tsv")
	for _, l := range strings.Split(string(d), "\n") {
		if c := strings.Split(l, "\t"); len(c) > 2 {
			_ = c
		}
	}
	if x, err := os.ReadFile("/tmp/h2/extra.txt"); err == nil {
		texts = append(texts, string(x))
	}
	for _, x := range texts {
		f := Parse(x)
		p := newPrinter(f)
		for i, l := range f.Lines {
			if len(l.Faults) > 0 {
				if _, ok := l.Node.(*Round); ok {
					t.Logf("FAULT %q %v", l.Text, l.Faults[0].Message)
				}
				continue
			}
			switch l.Node.(type) {
			case Blank, Comment:
				continue
			}
			out, ok := p.printed(l, f.endOf(i))
			if !ok {
				t.Errorf("NOT OK\n%q\n%q\n%v", l.Text, out, ParseLine(out, 1).Faults)
			} else if out != l.Text {
				t.Logf("\n- %s\n+ %s", l.Text, out)
			}
		}
		if a := Format(f); Format(Parse(a)) != a {
			t.Error("not idempotent")
		}
	}
}
