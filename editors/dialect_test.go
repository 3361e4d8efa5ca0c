package editors

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDialects(t *testing.T) {
	for _, c := range []struct{ pattern, perl, vim, emacs string }{
		{`ab`, `ab`, `ab`, `ab`},
		{`(?:ab|cd)?`, `(?:ab|cd)?`, `\%(ab\|cd\)\=`, `\(?:ab\|cd\)?`},
		{`x(?:ab|cd)`, `x(?:ab|cd)`, `x\%(ab\|cd\)`, `x\(?:ab\|cd\)`},
		{`a+b*?`, `a+b*?`, `a\+b\{-}`, `a+b*?`},
		{`[0-9]+(?:\.[0-9]+)?`, `[0-9]+(?:\.[0-9]+)?`, `[0-9]\+\%(\.[0-9]\+\)\=`, `[0-9]+\(?:\.[0-9]+\)?`},
		{`\*\*?|=`, `\*\*?|=`, `\*\*\=\|=`, `\*\*?\|=`},
		{`[^,\n]*?`, `[^\n,]*?`, `[^,]\{-}`, "[^\n,]*?"},
		{`[^\n]+?`, `[^\n]+?`, `.\{-1,}`, "[^\n]+?"},
		{`[()\[\]{}^-]`, `[()\-\[\]\^{}]`, `[()\-[\]\^{}]`, `[]()[{}^-]`},
		{`[ \t\x{a0}]`, `[\t \x{00a0}]`, `[\t \u00a0]`, "[\t \u00a0]"},
		{`[\pL][\pL\pM0-9]*`, `[\p{L}][0-9\p{L}\p{M}]*`, `[A-Za-zÀ-ſ][0-9A-Za-zÀ-ſ]*`, `[[:alpha:]][0-9[:alpha:]]*`},
		{`[Ww]`, `[Ww]`, `[Ww]`, `[Ww]`},
		{`[ab]{0,20}`, `[ab]{0,20}`, `[ab]\{0,20}`, `[ab]\{0,20\}`},
		{`//$`, `//$`, `\/\/$`, `//$`},
	} {
		assert.Equal(t, c.perl, perl.write(c.pattern), c.pattern)
		assert.Equal(t, c.vim, vim.write(c.pattern), c.pattern)
		assert.Equal(t, c.emacs, emacs.write(c.pattern), c.pattern)
	}
}
