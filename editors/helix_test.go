//go:build editors

package editors

import "testing"

func TestHelixWithoutHintsBehindBrackets(t *testing.T) {
	t.Parallel()
	d := newDesk(t, "helix", "helix-25.01-settings")
	d.set()
	d.start(d.in("trixie", d.block("open"))).follow(
		step{does: "opens the snail", shows: []string{"● 4 ● 5"}},
		step{does: "moves the cursor and sees the hints", keys: []string{"j"}, shows: []string{withoutRepeats}},
	)
}

func TestHelix(t *testing.T) {
	t.Parallel()
	d := newDesk(t, "helix", "helix-25.01")
	d.start(d.in("trixie", d.block("open"))).follow(
		step{does: "opens the snail", shows: []string{"Pattern: Moss the Snail", "● 4 ● 5"}},
		// Helix asks for hints when a key was pressed and then none for a while.
		step{does: "moves the cursor and sees the hints", keys: []string{"j"}, shows: d.seen()},
		step{does: "asks for all slips", keys: []string{"<Space>", "d"}, shows: []string{
			"ERROR total-differs Rnd 10 makes 24 stitches by its w",
			"ERROR repeat-does-not-fit Rnd 5 repeats 5 stitches over the",
			"WARN two-readings makers read this in two ways: 2 s",
		}},
		step{does: "goes to a round and hovers over a stitch", keys: []string{"<Escape>", "20gg", "gh", "8l", "<Space>", "k"}, shows: []string{
			"single crochet (US terms); in UK terms",
			"pull up a loop (2 loops on the hook)",
		}},
		step{does: "asks for repairs", keys: []string{"<Escape>", "23gg", "gl", "<Space>", "a"}, shows: []string{`Change "(25)" to "(24)"`}},
		step{does: "takes the first", keys: []string{"<Enter>"}, shows: []string{"● 4 ● 4"}, hides: []string{"(25)"}},
		step{does: "writes a round and sees what fits", keys: []string{"<Escape>", "25gg", "o", "Rnd "},
			shows: []string{"Rnd 12:", "Rnd 10: (sc 3, dec) x 6 5 → 4 (24) → 24 (-6)"}, hides: []string{"25 stated"}},
	)
}
