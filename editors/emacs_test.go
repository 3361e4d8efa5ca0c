//go:build editors

package editors

import "testing"

// Emacs 28 has no hints; Emacs 30 has.
func TestEmacs(t *testing.T) {
	for _, x := range []struct {
		name, suite string
		hints       bool
	}{
		{"emacs-28", "", false},
		{"emacs-30", "trixie", true},
	} {
		t.Run(x.name, func(t *testing.T) {
			t.Parallel()
			d := newDesk(t, "emacs", x.name)
			line, opened := d.block("open"), []string{"Pattern: Moss the Snail", "(Crochet "}
			if x.suite != "" {
				line = d.in(x.suite, line)
			}
			if x.hints {
				opened = d.linesOf("hints")
			}
			d.start(line).follow(
				step{does: "opens the snail", shows: opened},
				step{does: "asks for all slips", keys: []string{"<M-x>", "flymake-show-buffer-diagnostics", "<Enter>"}, shows: append(d.seen(),
					"one repeat takes 5 stitches, so it does not come out over 24",
					"makers read this in two ways: 2 sc in each of the next 6, which makes 12, or 2 over all 6",
				)},
				step{does: "asks what a stitch is", keys: []string{"<C-x>", "1", "<M-g>", "g20", "<Enter>", "<C-u>", "8", "<C-f>", "<M-x>", "eldoc", "<Enter>"}, shows: []string{
					"single crochet (US terms); in UK terms",
					"(sc 2, inc) x 6: takes 18, makes 24",
					"pull up a loop (2 loops on the hook)",
				}},
				step{does: "asks for repairs", keys: []string{"<C-x>", "1", "<M-g>", "g23", "<Enter>", "<C-e>", "<C-b>", "<C-b>", "<M-x>", "eglot-code-actions", "<Enter>"}, shows: []string{`Change "(25)" to "(24)"`}},
				step{does: "takes the first", keys: []string{"<Enter>"}, shows: []string{"(24)"}, hides: []string{"(25)"}},
			)
		})
	}
}
