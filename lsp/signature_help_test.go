package lsp

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

func TestSignatureHelp(t *testing.T) {
	for _, c := range []struct {
		name, marked string
		label        string // empty where nothing is told
		active       uint32
		step         string // the text of the active step
	}{
		{"behind a step", twoRounds + "Rnd 3: sc 4, |inc, sc 7 (13)\n", "Rnd 3: 4 of 12 worked, 8 left, 4 made · sc 4, inc, sc 7", 1, "inc"},
		{"in an open bracket", twoRounds + "Rnd 3: sc 2, (sc, inc|\n", "Rnd 3: 4 of 12 worked, 8 left, 5 made", 0, ""},
		{"behind a repeat", twoRounds + "Rnd 3: (sc, inc) x 5|\n", "Rnd 3: 10 of 12 worked, 2 left, 15 made · (sc, inc) x 5", 0, "(sc, inc) x 5"},
		{"a step that comes again", twoRounds + "Rnd 3: inc, sc 7, inc| (13)\n", "Rnd 3: 9 of 12 worked, 3 left, 11 made · inc, sc 7, inc", 2, "inc"},
		{"too many", twoRounds + "Rnd 3: sc 14|\n", "Rnd 3: 14 of 12 worked, 2 too many, 14 made · sc 14", 0, "sc 14"},
		{"a first round", "Piece: A\nRnd 1: 6 sc in magic ring|\n", "Rnd 1: 6 made · 6 sc in magic ring", 0, "6 sc in magic ring"},
		{"before any step", twoRounds + "Rnd 3: |sc 12\n", "Rnd 3: 12 to work · sc 12", 0, "sc 12"},
		{"in the label", twoRounds + "Rn|d 3: sc 12\n", "", 0, ""},
		{"elsewhere", "Pattern: Sn|ail\n", "", 0, ""},
	} {
		text, pos := cursorIn(t, c.marked)
		e := open(t, pushing(), nil)
		e.type_(at("a.crochet"), text)
		p := &protocol.SignatureHelpParams{}
		p.TextDocument.URI, p.Position = at("a.crochet"), pos
		got, err := reply[*protocol.SignatureHelp](e, protocol.MethodTextDocumentSignatureHelp, p)
		require.NoError(t, err)
		if c.label == "" {
			assert.Nil(t, got, c.name)
			continue
		}
		if !assert.NotNil(t, got, c.name) {
			continue
		}
		sig := got.Signatures[0]
		assert.Equal(t, c.label, sig.Label, c.name)
		if c.step == "" {
			continue
		}
		active, ok := sig.ActiveParameter.Get()
		require.Equal(t, c.step != "", ok, c.name)
		assert.Equal(t, c.active, active, c.name)
		units := []rune(sig.Label) // none of these is beyond the first plane
		switch label := sig.Parameters[active].Label.(type) {
		case protocol.ParameterInformationLabelTuple:
			assert.Equal(t, c.step, string(units[label[0]:label[1]]), c.name)
		case protocol.String:
			assert.Equal(t, c.step, string(label), c.name)
			assert.Equal(t, 1, strings.Count(sig.Label, string(label)), c.name)
		default:
			assert.Failf(t, "no label", "%s: %v", c.name, label)
		}
	}
}
