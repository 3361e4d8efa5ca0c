package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const broken = `Pattern: Moss the Snail
Terms: US
Piece: Shell (make 1)
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (13)
Rnd 3: (sc, inc) x 6 (18)
Rnd 4: (sc 2, inc) x 6 (24)
`

// real runs the command as its main function does, with the rules that ship.
func real(stdin string, args ...string) result {
	var out, err bytes.Buffer
	code := run(args, strings.NewReader(stdin), &out, &err, func(string) string { return "" })
	return result{code, out.String(), err.String()}
}

func TestTheRulesThatShip(t *testing.T) {
	newBench(t, map[string]string{"snail.crochet": broken, ".workeven.toml": "[rules]\ntotal-missing = 'off'\n"})
	r := real("", "lint", "snail.crochet")
	assert.Equal(t, 1, r.code)
	assert.Contains(t, r.out, "snail.crochet:5:30: error ")
	assert.Contains(t, r.out, "    5 | Rnd 2: inc in each st around (13)\n      |                              ^^^^\n")

	var told struct {
		Files []struct {
			Findings []struct {
				Rule                             string
				Line, Column, EndLine, EndColumn int
				Fixes                            []struct {
					Edits []struct{ NewText string }
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(real("", "lint", "--format", "json").out), &told))
	seen := false
	for _, f := range told.Files[0].Findings {
		if f.Rule == "total-differs" {
			seen = true
			assert.Equal(t, []int{5, 30, 5, 34}, []int{f.Line, f.Column, f.EndLine, f.EndColumn})
			assert.NotEmpty(t, f.Fixes)
		}
	}
	assert.True(t, seen)

	assert.Contains(t, real(broken, "lint", "--fix", "-").out, "Rnd 2: inc in each st around (12)\n")
	assert.Equal(t, 0, real(broken, "lint", "--error-on", "never", "-").code)
}

func TestARuleThatIsOffFindsNothing(t *testing.T) {
	newBench(t, map[string]string{"snail.crochet": broken})
	assert.Contains(t, real("", "lint").out, "[total-differs]")
	newBench(t, map[string]string{"snail.crochet": broken, ".workeven.toml": "[rules]\ntotal-differs = 'off'\n"})
	assert.NotContains(t, real("", "lint").out, "[total-differs]")
}

// Bytes that are no text are told as such, and nothing is rewritten.
func TestHostileFiles(t *testing.T) {
	for name, text := range map[string]string{
		"not UTF-8": "Pattern: Hat\nRnd 1: 6 sc \xff in magic ring (6)\n",
		"NUL":       "Pattern: Hat\nRnd 1: 6 sc \x00 in magic ring (6)\n",
		"brackets":  "Pattern: Hat\nRnd 1: " + strings.Repeat("(", 20_000) + "\n",
	} {
		b := newBench(t, map[string]string{"a.crochet": text})
		r := real("", "lint")
		assert.Equal(t, 1, r.code, name)
		assert.Contains(t, r.out, "a.crochet:2:", name)
		r = real("", "fmt", "-w")
		assert.Equal(t, 1, r.code, name)
		assert.Equal(t, text, b.text("a.crochet"), name)
	}
}
