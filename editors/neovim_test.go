//go:build editors

package editors

import "testing"

// Neovim 0.10 starts the server by an autocommand; later ones by vim.lsp.enable.
func TestNeovim(t *testing.T) {
	for _, x := range []struct{ name, suite string }{
		{"neovim-0.10", "trixie"},
		{"neovim-0.12", "testing"},
	} {
		t.Run(x.name, func(t *testing.T) {
			t.Parallel()
			d := newDesk(t, "neovim", x.name)
			d.start(d.in(x.suite, d.block("open"))).follow(
				step{does: "opens the snail", shows: d.seen()},
				step{does: "asks for all slips", keys: []string{":lua vim.diagnostic.setqflist()", "<Enter>"}, shows: []string{
					"error| Rnd 10 makes 24 stitches by its words; the total says 25",
					"error| Rnd 5 repeats 5 stitches over the 24 of Rnd 4; 4 are over, 20 or 25 would fit",
					"warning| makers read this in two ways: 2 sc in each of the next 6, which makes 12, or 2 over all 6",
				}},
				step{does: "hovers over a stitch", keys: []string{":cclose", "<Enter>", ":call cursor(20, 9)", "<Enter>", ":lua vim.lsp.buf.hover()", "<Enter>"}, shows: []string{
					"single crochet (US terms); in UK terms",
					"pull up a loop (2 loops on the hook)",
				}},
				step{does: "asks for repairs", keys: []string{":call cursor(23, 26)", "<Enter>", ":lua vim.lsp.buf.code_action()", "<Enter>"}, shows: []string{
					`1: Change "(25)" to "(24)"`,
				}},
				step{does: "takes the first", keys: []string{"1", "<Enter>"},
					shows: []string{"Rnd 10: (sc 3, dec) x 6 5 → 4 (24) → 24 (-6)"}, hides: []string{"25 stated"}},
				step{does: "writes a round and asks what fits", keys: []string{":call cursor(25, 1)", "<Enter>", "o", "Rnd ", "<C-x>", "<C-o>"}, shows: []string{
					"Rnd 12:",
				}},
			)
		})
		t.Run(x.name+"-settings", func(t *testing.T) {
			t.Parallel()
			d := newDesk(t, "neovim", x.name+"-settings")
			d.set()
			d.start(d.in(x.suite, d.block("open"))).follow(step{does: "opens the snail", shows: []string{withoutRepeats}})
		})
	}
}
