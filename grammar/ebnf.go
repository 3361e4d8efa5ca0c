package grammar

import (
	"fmt"
	"strings"
)

// statementGrammar is how what stands behind some labels is written.
type statementGrammar struct {
	labels  string
	grammar fmt.Stringer
}

func statementGrammars() []statementGrammar {
	return []statementGrammar{
		{"Rnd, Rnds, Row, Rows; Stitch, behind \"=\"", roundParser()},
		{"Terms", termsParser()},
		{"Gauge", gaugeParser()},
		{"Hook", hookParser()},
		{"Turning chain", chainParser()},
		{"Yarn", yarnParser()},
		{"Notion", notionParser()},
		{"Stitch, before \"=\" or without one", ownParser()},
		{"Piece, in the brackets behind its name", makeParser()},
		{"Worked", workedParser()},
		{"With", withParser()},
		{"Sew, Attach", sewParser()},
		{"Place", placeParser()},
		{"Embroider", embroiderParser()},
		{"Insert, which is an action", insertParser()},
	}
}

const ebnfHead = `// What stands behind each label, as the grammars read it. A word in quotes stands for all its
// spellings, a stitch in quotes for all of its kind; <term> is a stitch of the glossary, <word> a
// word that neither the notation nor the glossary knows. Alternatives are tried in order.
// (?= ...) and (?! ...) look ahead and take nothing. A production is given where it is first used.
//
// Pattern, Designer, Version, Skill, Size, Abbreviation, Note and Caution hold free text, and
// Assembly nothing.
`

const ebnfFoot = `
// A word that is nearly "around" or "across", with none of "around", "across", "to", "until" and
// "of" behind it

SlipForFill = <word> .
`

// EBNF prints the grammar of a round's steps and of every other statement, in the
// form of EBNF that participle uses.
func EBNF() string {
	var b strings.Builder
	b.WriteString(ebnfHead)
	seen := map[string]bool{}
	for _, s := range statementGrammars() {
		fmt.Fprintf(&b, "\n// %s\n\n", s.labels)
		for line := range strings.Lines(s.grammar.String()) {
			name, expr, _ := strings.Cut(strings.TrimSpace(line), " = ")
			if !seen[name] {
				seen[name] = true
				expr = strings.ReplaceAll(strings.TrimSuffix(expr, " ."), "slipForFill", "SlipForFill")
				b.WriteString(name + " =" + ebnfLayout(expr, len(name)+4, "\n    ") + " .\n")
			}
		}
	}
	b.WriteString(ebnfFoot)
	return b.String()
}

// ebnfWidth is the longest line of an EBNF, if its terms allow.
const ebnfWidth = 100

// ebnfLayout breaks an expression into lines where it does not fit on the one it
// stands on, which is used up to a column. Each line starts with the break: an
// alternative a line, but short ones side by side.
func ebnfLayout(expr string, used int, brk string) string {
	if used+len(expr) <= ebnfWidth {
		return " " + expr
	}
	alternatives := splitOutside(ebnfUngrouped(expr), " | ")
	short := len(alternatives) > 1
	for i, a := range alternatives {
		alternatives[i] = ebnfUngrouped(a)
		short = short && len(splitOutside(alternatives[i], " ")) == 1
	}
	var b strings.Builder
	at := ebnfWidth
	for i, a := range alternatives {
		if i > 0 {
			a = "| " + a
		}
		switch {
		case !short:
			b.WriteString(brk)
			ebnfTerms(&b, a, brk)
		case at+1+len(a) <= ebnfWidth:
			b.WriteString(" " + a)
			at += 1 + len(a)
		default:
			b.WriteString(brk + a)
			at = len(brk) + len(a)
		}
	}
	return b.String()
}

// ebnfTerms prints one alternative, which may take several lines: a group that
// is too long has lines of its own.
func ebnfTerms(b *strings.Builder, alternative, brk string) {
	at, more := len(brk), brk+"  "
	for i, term := range splitOutside(alternative, " ") {
		inner, suffix, group := ebnfGroup(term)
		long := group && len(brk)+len(term) > ebnfWidth
		switch {
		case i > 0 && (long || at+1+len(term) > ebnfWidth):
			b.WriteString(more)
			at = len(more)
		case i > 0:
			b.WriteString(" ")
			at++
		}
		if !long {
			b.WriteString(term)
			at += len(term)
			continue
		}
		open := "("
		if strings.HasPrefix(inner, "?") { // a look ahead
			open, inner = "("+inner[:2], inner[3:]
		}
		end := brk
		if i > 0 {
			end = more
		}
		b.WriteString(open + ebnfLayout(inner, ebnfWidth, end+"  ") + end + ")" + suffix)
		at = ebnfWidth
	}
}

// ebnfUngrouped is an expression without brackets around all of it.
func ebnfUngrouped(expr string) string {
	if inner, suffix, ok := ebnfGroup(expr); ok && suffix == "" && !strings.HasPrefix(inner, "?") {
		return inner
	}
	return expr
}

// ebnfGroup takes a group out of its brackets, and gives the sign of repetition
// behind them.
func ebnfGroup(expr string) (inner, suffix string, ok bool) {
	body := strings.TrimRight(expr, "?*+")
	if !strings.HasPrefix(expr, "(") || !strings.HasSuffix(body, ")") || len(splitOutside(expr, " ")) > 1 {
		return "", "", false
	}
	return body[1 : len(body)-1], expr[len(body):], true
}

// splitOutside cuts at a separator that stands in no brackets and no quotes.
func splitOutside(s, sep string) []string {
	var out []string
	depth, quoted, from := 0, false, 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '(':
			depth++
		case c == ')':
			depth--
		case depth == 0 && strings.HasPrefix(s[i:], sep):
			out = append(out, s[from:i])
			from = i + len(sep)
			i = from - 1
		}
	}
	return append(out, s[from:])
}
