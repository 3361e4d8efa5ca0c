package lsp

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"workeven/grammar"
)

// written lists the names of a file and where they stand.
func written(n *names) (out []string) {
	things := map[*named]int{}
	for _, m := range n.all {
		if _, met := things[m.of]; !met {
			things[m.of] = len(things)
		}
		out = append(out, fmt.Sprint(things[m.of], m.of.kind, m.of.given, len(m.of.places), m.at, m.span, m.key, m.declares, m.all, m.changed))
	}
	for k := range n.byKey {
		out = append(out, fmt.Sprint(nameKinds[k], len(n.byKey[k])))
	}
	return out
}

// pieces of text that edits put in: names given, used, given nowhere, plurals.
var edits = []string{"", "B", "A", "Leaf", "Leaves", "Leafs", "knot", " x 2", "\n", "// ", "Yarn D: mint\n", "Piece: Ear\n", "Assembly:\n", "Sew: both Ears to Crown\n", "with D, ", "Stitch: bud = ch 2\n", "Embroider: a wave on Ear; by the Ears\n", "Change to B.\n", "of Leg", ": "}

// After any edit the names taken over are those of a file read afresh.
func TestNamesAgain(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	full := 0
	for range 40 {
		file := grammar.Parse(hat + strings.ReplaceAll(hat, "Pattern:", "Note:"))
		n := namesOf(file)
		for range 60 {
			start := random.IntN(len(file.Text()) + 1)
			end := min(start+random.IntN(9), len(file.Text()))
			file = grammar.Splice(file, start, end, edits[random.IntN(len(edits))])
			now := n.again(file)
			require.Equal(t, written(namesOf(file)), written(now), "%q", file.Text())
			if len(n.all) > 0 && len(now.all) == len(n.all) {
				full++
			}
			n = now
		}
	}
	require.Positive(t, full)
	n := namesOf(grammar.Parse(hat))
	require.Same(t, n, n.again(n.file), "nothing is looked at twice")
}
