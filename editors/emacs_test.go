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
			behind := []string{"<C-x>", "1", "<M-g>", "g25", "<Enter>", "<C-e>", "<Enter>"}
			// At the margin a line begins with a round; indented it would go on with the one above.
			next := step{does: "begins a line and asks what fits", keys: append(behind, "Rnd ", "<C-M-i>"), shows: []string{"Rnd 12: sc around (18)"}}
			if x.hints {
				opened = d.linesOf("hints")
				next = step{does: "begins a line and goes on behind its label", keys: append(behind, "sc around (18)"), shows: []string{"Rnd 12: sc around (18) → 18 (even)"}}
			}
			d.start(line).follow(
				step{does: "opens the snail", shows: opened},
				step{does: "asks for all slips", keys: []string{"<M-x>", "flymake-show-buffer-diagnostics", "<Enter>"}, shows: append(d.seen(),
					"Rnd 5 repeats 5 stitches over the 24 of Rnd 4",
					"makers read this in two ways: 2 sc in each of the next 6, which makes 12, or 2 over all 6",
				)},
				step{does: "asks what a stitch is", keys: []string{"<C-x>", "1", "<M-g>", "g20", "<Enter>", "<C-u>", "8", "<C-f>", "<M-x>", "eldoc", "<Enter>"}, shows: []string{
					"single crochet (US terms); in UK terms",
					"(sc 2, inc) x 6: takes 18, makes 24",
					"pull up a loop (2 loops on the hook)",
				}},
				step{does: "asks for repairs", keys: []string{"<C-x>", "1", "<M-g>", "g23", "<Enter>", "<C-e>", "<C-b>", "<C-b>", "<M-x>", "eglot-code-actions", "<Enter>"}, shows: []string{`Change "(25)" to "(24)"`}},
				step{does: "takes the first", keys: []string{"<Enter>"}, shows: []string{"(24)"}, hides: []string{"(25)"}},
				next,
			)
			if !x.hints {
				return
			}
			d = newDesk(t, "emacs", x.name+"-settings")
			d.set()
			d.start(d.in(x.suite, d.block("open"))).follow(step{does: "opens the snail", shows: []string{withoutRepeats}})
		})
	}
}
