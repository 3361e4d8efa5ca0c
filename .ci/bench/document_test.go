package main

import (
	"strings"
	"testing"

	"workeven/grammar"
	"workeven/lint"
)

// The pattern is clean before the slip, the slip is found, and only it is: a
// bench on a broken text would measure the reporting of slips.
func TestCrochetIsCleanButForTheSlip(t *testing.T) {
	for _, lines := range []int{200, 1000, 10000, 20000} {
		d := crochet(lines)
		if n := strings.Count(d.text(false), "\n"); n != lines {
			t.Errorf("%d lines in place of %d", n, lines)
		}
		for _, f := range found(d.text(false)) {
			t.Errorf("%d lines: %s", lines, f)
		}
		if got := found(d.text(true)); len(got) != 1 || !strings.HasPrefix(got[0], "total-differs") {
			t.Errorf("%d lines with the slip: %q", lines, got)
		}
		for _, k := range d.others {
			d.slip = k.slip
			if got := found(d.text(true)); len(got) == 0 || len(got) > 2 {
				t.Errorf("%d lines with the slip %s: %q", lines, k.measure, got)
			}
		}
	}
}

func found(text string) []string {
	var out []string
	for _, f := range lint.Check(grammar.Parse(text), lint.Options{NoFixes: true}) {
		out = append(out, f.Rule+": "+f.Message+": "+text[f.Start:f.End])
		if len(out) == 20 {
			break
		}
	}
	return out
}

// Every document of every server is as long as it says, and the same each time.
func TestDocumentsAreDeterministic(t *testing.T) {
	for name, build := range documents {
		for _, lines := range []int{1000, 20000} {
			d, again := build(lines), build(lines)
			if n := len(d.lines) - 1; n > lines || n < lines-30 {
				t.Errorf("%s: %d lines in place of %d", name, n, lines)
			}
			if d.text(false) != again.text(false) || d.text(true) != again.text(true) {
				t.Errorf("%s differs from one time to the next", name)
			}
			if d.text(false) == d.text(true) {
				t.Errorf("%s: the slip changes nothing", name)
			}
		}
	}
}
