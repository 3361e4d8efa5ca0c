package editors

import (
	"regexp/syntax"
	"strconv"
	"strings"
	"unicode"
)

// dialect is how an engine writes regular expressions.
type dialect struct {
	open, close, or string
	// star, plus and maybe, and the same as short as possible.
	star, plus, maybe                string
	shortStar, shortPlus, shortMaybe string
	// from and upTo stand around the bounds of a number of times.
	from, upTo string
	// special are the characters that need a backslash before them, inSet those
	// that do in a set; none where a set has no escapes.
	special, inSet string
	// escaped are characters in sets that are written in another way.
	escaped map[rune]string
	// letters are the letters of all scripts, inWord letters and marks, in a set.
	letters, inWord string
	// wordEnd is where neither letter nor digit follows; capture and captured are
	// the brackets of a group that captures.
	wordEnd, capture, captured string
}

// perl is the common part of Oniguruma's dialect, which TextMate grammars are
// written in, and of that of PCRE, which Kate uses.
var perl = dialect{
	open: "(?:", close: ")", or: "|", star: "*", plus: "+", maybe: "?", shortStar: "*?", shortPlus: "+?", shortMaybe: "??", from: "{", upTo: "}",
	special: `\.+*?()|[]{}^$`, inSet: `\[]^-&~`, escaped: map[rune]string{'\n': `\n`, '\t': `\t`, 0xa0: `\x{00a0}`},
	letters: `\p{L}`, inWord: `\p{L}\p{M}`, wordEnd: perlWord, capture: "(", captured: ")",
}

// In Vim no set but a special kind matches the end of a line, so none need say so;
// its classes of letters are ASCII's only.
var vim = dialect{
	open: `\%(`, close: `\)`, or: `\|`, star: "*", plus: `\+`, maybe: `\=`, shortStar: `\{-}`, shortPlus: `\{-1,}`, shortMaybe: `\{-0,1}`, from: `\{`, upTo: "}",
	special: `\.*[]~^$/`, inSet: `\]^-/`, escaped: map[rune]string{'\n': ``, '\t': `\t`, 0xa0: `\u00a0`},
	letters: `A-Za-zÀ-ſ`, inWord: `A-Za-zÀ-ſ`, wordEnd: vimWord, capture: `\(`, captured: `\)`,
}

var emacs = dialect{
	open: `\(?:`, close: `\)`, or: `\|`, star: "*", plus: "+", maybe: "?", shortStar: "*?", shortPlus: "+?", shortMaybe: "??", from: `\{`, upTo: `\}`,
	special: `\.*+?[]^$`, letters: `[:alpha:]`, inWord: `[:alpha:]`, wordEnd: `\>`, capture: `\(`, captured: `\)`,
}

// The classes of letters and of letters and marks cannot be told from what
// regexp/syntax makes of them, so they travel as runes that no pattern holds.
const (
	anyLetter = '\uE000'
	anyInWord = '\uE001'
)

// write writes a pattern in the dialect. A pattern that cannot be parsed is a
// mistake in this package, and every test of it fails.
func (d *dialect) write(pattern string) string {
	pattern = strings.NewReplacer(`\pL\pM`, string(rune(anyInWord)), `\pL`, string(rune(anyLetter))).Replace(pattern)
	re, err := syntax.Parse(pattern, syntax.Perl&^syntax.OneLine)
	if err != nil {
		panic(err)
	}
	return d.expr(re)
}

func (d *dialect) expr(re *syntax.Regexp) string {
	switch re.Op {
	case syntax.OpLiteral:
		var b strings.Builder
		for _, r := range re.Rune {
			switch r {
			case anyLetter, anyInWord:
				b.WriteString(d.set([]rune{r, r}, false))
				continue
			}
			if u := unicode.ToUpper(r); re.Flags&syntax.FoldCase != 0 && u != unicode.ToLower(r) {
				b.WriteString("[" + string(u) + string(unicode.ToLower(r)) + "]") // Go's way of [Aa]
				continue
			}
			if strings.ContainsRune(d.special, r) {
				b.WriteByte('\\')
			}
			b.WriteRune(r)
		}
		return b.String()
	case syntax.OpCharClass:
		if n := len(re.Rune); re.Rune[0] == 0 && re.Rune[n-1] > 0x10000 {
			return d.set(complement(re.Rune), true)
		}
		return d.set(re.Rune, false)
	case syntax.OpStar, syntax.OpPlus, syntax.OpQuest:
		long, short := d.star, d.shortStar
		switch re.Op {
		case syntax.OpPlus:
			long, short = d.plus, d.shortPlus
		case syntax.OpQuest:
			long, short = d.maybe, d.shortMaybe
		}
		if re.Flags&syntax.NonGreedy != 0 {
			long = short
		}
		return d.group(re.Sub[0]) + long
	case syntax.OpRepeat:
		return d.group(re.Sub[0]) + d.from + strconv.Itoa(re.Min) + "," + strconv.Itoa(re.Max) + d.upTo
	case syntax.OpConcat:
		var b strings.Builder
		for _, sub := range re.Sub {
			if sub.Op == syntax.OpAlternate {
				b.WriteString(d.open + d.expr(sub) + d.close)
			} else {
				b.WriteString(d.expr(sub))
			}
		}
		return b.String()
	case syntax.OpAlternate:
		var branches []string
		for _, sub := range re.Sub {
			branches = append(branches, d.expr(sub))
		}
		return strings.Join(branches, d.or)
	case syntax.OpBeginLine, syntax.OpBeginText:
		return "^"
	case syntax.OpEndLine, syntax.OpEndText:
		return "$"
	case syntax.OpWordBoundary: // written behind words only
		return d.wordEnd
	case syntax.OpEmptyMatch:
		return ""
	}
	panic("no dialect has " + re.String())
}

// group puts what is repeated in brackets where it is more than one character.
func (d *dialect) group(re *syntax.Regexp) string {
	if re.Op == syntax.OpCharClass || re.Op == syntax.OpLiteral && len(re.Rune) == 1 {
		return d.expr(re)
	}
	return d.open + d.expr(re) + d.close
}

// captureGroup is a group that captures, maybeGroup one that need not be there.
func (d *dialect) captureGroup(written string) string { return d.capture + written + d.captured }
func (d *dialect) maybeGroup(written string) string   { return d.open + written + d.close + d.maybe }

// complement gives the ranges between the given ones, which cover both ends.
func complement(ranges []rune) []rune {
	var out []rune
	for i := 1; i+1 < len(ranges); i += 2 {
		out = append(out, ranges[i]+1, ranges[i+1]-1)
	}
	return out
}

// set writes a set of characters, given as ranges. What cannot be escaped goes
// where it means itself: the closing bracket first, the caret and hyphen last.
func (d *dialect) set(ranges []rune, negated bool) string {
	first, hat, hyphen := "", "", ""
	one := func(r rune) string {
		if e, ok := d.escaped[r]; ok {
			return e
		}
		switch {
		case d.inSet != "" && strings.ContainsRune(d.inSet, r):
			return `\` + string(r)
		case d.inSet == "" && r == ']':
			first = "]"
			return ""
		case d.inSet == "" && r == '^':
			hat = "^"
			return ""
		case d.inSet == "" && r == '-':
			hyphen = "-"
			return ""
		}
		return string(r)
	}
	var b strings.Builder
	for i := 0; i < len(ranges); i += 2 {
		from, to := ranges[i], ranges[i+1]
		switch {
		case from == anyLetter:
			b.WriteString(d.letters)
		case from == anyInWord:
			b.WriteString(d.inWord)
		case to-from < 3:
			for r := from; r <= to; r++ {
				b.WriteString(one(r))
			}
		default:
			b.WriteString(one(from) + "-" + one(to))
		}
	}
	if negated && b.Len()+len(first)+len(hat)+len(hyphen) == 0 {
		return "."
	}
	return "[" + caret(negated) + first + b.String() + hat + hyphen + "]"
}

func caret(negated bool) string {
	if negated {
		return "^"
	}
	return ""
}
