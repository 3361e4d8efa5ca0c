package editors

import (
	"slices"
	"strings"

	"workeven/grammar"
)

const (
	blank = `[ \t\x{a0}]+`
	gap   = `[ \t\x{a0}]*`
	// amount is a number without a sign.
	amount = `[0-9]+(?:\.[0-9]+)?`
	// key is a yarn's key as far as it is known for one without the list of yarns:
	// a capital letter, MC, CC, or one of these with a number.
	key = `(?:[A-Z]|[MC]C)[0-9]*`
)

// worked are the rules of what is worked, and of all that speaks of it.
func worked() []rule {
	return slices.Concat(quotes(), stitches(), said())
}

// said are the rules of worked but those of stitches.
func said() []rule { return slices.Concat(words(), measured(), counts()) }

// yarns are keys behind the words that a yarn stands behind.
func yarns() []rule {
	lead := slices.Concat(spellings(grammar.KeyWith, grammar.KeyChangeTo, grammar.KeyJoin), []string{"and", "in", "to"})
	return []rule{{name: "yarn", parts: []part{{word, eitherCase(lead)}, {plain, blank}, {yarn, key}}, starts: true, ends: wordEnd, exact: true}}
}

// totals are the numbers in the last brackets of a round, or behind a sign. How
// far the closing bracket is looked for is bounded, so that no line takes long.
func totals() []rule {
	closing := phrases(append(spellings(grammar.KeyJoin, grammar.KeyTurn, grammar.KeyFastenOff, grammar.KeyChangeTo, grammar.KeyDoNot, grammar.KeyPlaceMarker), "sl st"))
	end := gap + `(?:$|//)`
	behind := gap + `(?:$|//|;|\.` + end + `|,?` + gap + `(?:(?:and|then)` + blank + `)?(?:` + closing + `|ch` + blank + `[0-9]+,?` + blank + `turn))`
	sts := `(?:` + blank + phrases(spellings(grammar.KeySt)) + `)`
	last := sts + `?` + gap + `\.?` + end
	return []rule{
		{name: "total", parts: []part{{total, `[0-9]+`}}, starts: true, ahead: `[^()\[\]{}\n]{0,200}[)\]}]` + behind},
		{name: "totalEquals", parts: []part{{operator, `=`}, {plain, blank}, {total, `[0-9]+`}}, ahead: last},
		{name: "totalEqualsClose", parts: []part{{operator, `=`}, {total, `[0-9]+`}}, ahead: last},
		{name: "totalDash", parts: []part{{operator, `[-–—]`}, {plain, blank}, {total, `[0-9]+`}}, ahead: last},
		{name: "totalSentence", parts: []part{{plain, `\.`}, {plain, blank}, {total, `[0-9]+`}}, ahead: sts + gap + `\.?` + end},
	}
}

// stitches are the stitches of the glossary, their plurals and those that several
// are worked together in, and chain spaces.
func stitches() []rule {
	space := phrases([]string{"sp", "sps", "space", "spaces", "lp", "lps", "loop", "loops"})
	ch := `(?:ch|chain)`
	together := `(?:` + afterDigit + `[0-9]+` + afterDigit + phrases(spellings(grammar.KeyTog)) + `)`
	list := []rule{
		{name: "spaceOfChains", parts: []part{{stitch, `[0-9]+[-‐‑‒–—−]` + ch + afterDigit + space}}, ends: wordEnd},
		{name: "chainSpace", parts: []part{{stitch, ch + afterDigit + `(?:[0-9]+` + afterDigit + `)?` + space}}, starts: true, ends: wordEnd},
	}
	for _, c := range classed() {
		if longer := longerWords(c.words); len(longer) > 0 {
			list = append(list, rule{name: string(c.class) + "Longer", parts: []part{{c.class, phrases(longer)}}, starts: true, ends: wordEnd})
		}
	}
	return append(list, rule{name: "stitch", parts: []part{{stitch, phrases(glossary()) + `(?:` + together + `|e?s)?`}}, starts: true, ends: countEnd})
}

// words are the words and signs of the notation. A long one of one class may
// begin as a short one of another, so all long ones go first.
func words() []rule {
	var long, short []rule
	for _, c := range classed() {
		more, one := split(c.words, func(w string) bool { return strings.Contains(w, " ") })
		if len(more) > 0 {
			long = append(long, rule{name: string(c.class) + "Phrase", parts: []part{{c.class, phrases(more)}}, starts: true, ends: countEnd})
		}
		short = append(short, rule{name: string(c.class), parts: []part{{c.class, phrases(one)}}, starts: true, ends: countEnd})
	}
	return slices.Concat(long, short, []rule{
		{name: "times", parts: []part{{repeat, `[×✕✖]`}}},
		{name: "sign", parts: []part{{operator, `\*\*?|[∗=]`}}},
		{name: "bracket", parts: []part{{bracket, `[()\[\]{}]`}}},
	})
}

// inches are an amount whose unit is also a word of the notation: 4 in. In a round
// "sc 4 in next st" says another thing.
func inches() []rule {
	return []rule{{name: "inches", parts: []part{{number, amount}, {plain, blank}, {unit, "in"}}, ends: wordEnd}}
}

// quotes are words in quotes, and amounts that a quote makes inches.
func quotes() []rule {
	signs, _ := split(grammar.UnitWords(), isSign)
	return []rule{
		{name: "measureSign", parts: []part{{number, amount}, {unit, "[" + strings.Join(signs, "") + "]"}}},
		{name: "quoted", parts: []part{{text, `"[^"\n]*"|“[^”\n]*”`}}},
	}
}

func isSign(unit string) bool { return strings.Trim(unit, `"″”`) == "" }

// measured are amounts with a unit that is a word.
func measured() []rule {
	_, units := split(grammar.UnitWords(), func(u string) bool { return u == "in" || isSign(u) })
	named := part{unit, phrases(units)}
	return []rule{
		{name: "measure", parts: []part{{number, amount}, {plain, blank}, named}, ends: wordEnd},
		{name: "measureClose", parts: []part{{number, amount}, named}, ends: wordEnd},
	}
}

// counts are numbers, in digits or words, and words that mean nothing here: they
// are passed whole, so that nothing in them is colored.
func counts() []rule {
	return []rule{
		{name: "countWord", parts: []part{{number, phrases(grammar.CountWords())}}, starts: true, ends: wordEnd},
		{name: "otherWord", parts: []part{{plain, `[\pL][\pL\pM0-9'’]*`}}, starts: true},
		{name: "ordinal", parts: []part{{number, `[0-9]+(?:st|nd|rd|th)`}}, ends: wordEnd},
		{name: "number", parts: []part{{number, amount}}},
	}
}

// where are the words of making up: on which part, and what is said freely.
func where() []rule {
	ahead := gap + `(?:[,;.]|$|//)`
	round := phrases(spellings(grammar.KeyRnd, grammar.KeyRow))
	name := `[^,;./\n \t][^,;./\n]*?`
	beside, _ := split(grammar.WhereWords(), func(w string) bool { return strings.HasSuffix(w, " with") })
	return slices.Concat([]rule{
		{name: "free", parts: []part{{plain, `;`}, {text, `[^\n]+?`}}, ahead: `[ \t]*(?:$|[ \t]//)`},
		{name: "onRound", parts: []part{{word, `(?:on|at|in)`}, {plain, blank}, {word, round}}, starts: true, ends: wordEnd},
		{name: "besidePiece", parts: []part{{word, phrases(beside)}, {plain, blank}, {piece, name}}, starts: true, ahead: ahead},
	}, whereWords(), []rule{
		{name: "onPiece", parts: []part{{word, `(?:to|on)`}, {plain, blank}, {piece, name}}, starts: true, ahead: ahead},
	})
}

func whereWords() []rule {
	return []rule{{name: "whereWord", parts: []part{{word, phrases(grammar.WhereWords())}}, starts: true, ends: wordEnd}}
}

// split parts a list in two, by whether something holds.
func split(list []string, holds func(string) bool) (yes, no []string) {
	for _, s := range list {
		if holds(s) {
			yes = append(yes, s)
		} else {
			no = append(no, s)
		}
	}
	return yes, no
}
