package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

const (
	pasted    = "Pattern: Hat\n\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, inc) × 3 (9)\n"
	canonical = "Pattern: Hat\n\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, inc) x 3 (9)\n"
	long      = "Rnd 1: 6 sc in magic ring,\r\n  sc 11, hdc 12, dc 13, sc 11, hdc 12, dc 13, sc 11, hdc 12, dc 13, sc 11, hdc 12, dc 13, sc 11, hdc 12, dc 13, sc 2, sc 3"
	unread    = "Pattern: Hat\n\nRdn 1: 6 sc in magic ring (6)\n"
)

func TestFmt(t *testing.T) {
	table{
		{name: "prints", files: map[string]string{"a.crochet": pasted}, args: []string{"fmt", "a.crochet"}, code: 0, out: canonical, after: map[string]string{"a.crochet": pasted}},
		{name: "writes", files: map[string]string{"a.crochet": pasted}, args: []string{"fmt", "-w"}, code: 0, lacks: []string{"Hat"}, after: map[string]string{"a.crochet": canonical}},
		{name: "keeps CRLF and the mark", files: map[string]string{"a.crochet": "\ufeffPattern: Hat\r\n\r\nRnd 2: (sc, inc) × 3 (9)\r\n"}, args: []string{"fmt", "-w", "a.crochet"}, code: 0,
			after: map[string]string{"a.crochet": "\ufeffPattern: Hat\r\n\r\nRnd 2: (sc, inc) x 3 (9)\r\n"}},
		{name: "breaks long lines with CRLF where the file has it", files: map[string]string{"a.crochet": "Note: a\r\n" + long + "\r\n"}, args: []string{"fmt", "--diff"}, code: 1, has: []string{",\r\n+  "}, lacks: []string{",\n"}},
		{name: "check, clean", files: map[string]string{"a.crochet": canonical}, args: []string{"fmt", "--check"}, code: 0, lacks: []string{"a"}},
		{name: "check", files: map[string]string{"a.crochet": pasted, "b.crochet": canonical}, args: []string{"fmt", "--check"}, code: 1, out: "a.crochet\n", after: map[string]string{"a.crochet": pasted}},
		{name: "diff", files: map[string]string{"a.crochet": pasted}, args: []string{"fmt", "--diff"}, code: 1,
			out: "--- a.crochet\n+++ a.crochet\n@@ -1,4 +1,4 @@\n Pattern: Hat\n \n Rnd 1: 6 sc in magic ring (6)\n-Rnd 2: (sc, inc) × 3 (9)\n+Rnd 2: (sc, inc) x 3 (9)\n"},
		{name: "diff, clean", files: map[string]string{"a.crochet": canonical}, args: []string{"fmt", "--diff"}, code: 0},
		{name: "never rewrites what it cannot read, and does the rest", files: map[string]string{"a.crochet": unread, "b.crochet": pasted}, args: []string{"fmt", "-w"}, code: 1,
			has: []string{"2>a.crochet:3:1: error ", "2>a.crochet: left as it is, since not every line can be read."}, after: map[string]string{"a.crochet": unread, "b.crochet": canonical}},
		{name: "nor bytes that are no UTF-8", files: map[string]string{"a.crochet": "Note: \xff\n"}, args: []string{"fmt", "-w"}, code: 1, has: []string{"2>a.crochet:1:7: error"}, after: map[string]string{"a.crochet": "Note: \xff\n"}},
		{name: "prints nothing of what it cannot read", stdin: unread, args: []string{"fmt", "-"}, code: 1, lacks: []string{"Hat"}},
		{name: "stdin", stdin: pasted, args: []string{"fmt", "-"}, code: 0, out: canonical},
		{name: "stdin by its name", stdin: pasted, args: []string{"fmt", "--check", "--stdin-filename", "x/a.crochet", "-"}, code: 1, out: "x/a.crochet\n"},
		{name: "stdin cannot be written", stdin: pasted, args: []string{"fmt", "-w", "-"}, code: 2, has: []string{"2>-w has no file to write"}},
		{name: "flags that exclude each other", args: []string{"fmt", "-w", "--check"}, code: 2},
		{name: "no such file", files: map[string]string{"b.crochet": pasted}, args: []string{"fmt", "-w", "a.crochet", "b.crochet"}, code: 2, after: map[string]string{"b.crochet": canonical}},
		{name: "excluded", files: map[string]string{"drafts/a.crochet": pasted, ".workeven.toml": "exclude = ['drafts']"}, args: []string{"fmt", "-w"}, code: 0, after: map[string]string{"drafts/a.crochet": pasted}},
	}.run(t)
}

func TestDiffIsWhatPatchReads(t *testing.T) {
	out, err := diff("a", "x\ny", "x\ny\n")
	assert.NoError(t, err)
	assert.Equal(t, "--- a\n+++ a\n@@ -1,2 +1,2 @@\n x\n-y\n\\ No newline at end of file\n+y\n", out)
	out, err = diff("a", "x\r\n", "x\r\n")
	assert.NoError(t, err)
	assert.Empty(t, out)
}
