//go:build editors

package editors

import "testing"

func TestVim(t *testing.T) {
	t.Parallel()
	d := newDesk(t, "vim", "vim-9.0")
	d.start(d.block("open")).follow(
		step{does: "opens the snail", shows: []string{"Pattern: Moss the Snail", ">>Rnd 10:", "> Rnd 10 makes 24 stitches by its words"}},
		step{does: "asks for all slips", keys: []string{":lopen", "<Enter>"}, shows: append(d.seen(),
			"error| repeat-does-not-fit: Rnd 5 repeats 5 stitches over the 24 of Rnd 4",
			"warning| two-readings: makers read this in two ways: 2 sc in each of the next 6, which makes 12",
		)},
		step{does: "hovers over a stitch", keys: []string{":lclose", "<Enter>", ":call cursor(20, 9)", "<Enter>", ":ALEHover", "<Enter>"}, shows: []string{
			"single crochet (US terms); in UK terms",
			"pull up a loop (2 loops on the hook)",
		}},
		step{does: "asks for repairs", keys: []string{"<Enter>", ":call cursor(23, 26)", "<Enter>", ":ALECodeAction", "<Enter>"}, shows: []string{`1) Change "(25)" to "(24)"`}},
		step{does: "takes the first", keys: []string{"1", "<Enter>"}, shows: []string{"Rnd 10: (sc 3, dec) x 6 (24)"}, hides: []string{">>Rnd 10:"}},
		step{does: "writes a round and asks what fits", keys: []string{":call cursor(25, 1)", "<Enter>", "o", "Rnd ", "<C-x>", "<C-o>"}, shows: []string{"Rnd 12:"}},
	)
}
