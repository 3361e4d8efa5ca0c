package editors

import (
	_ "embed"
	"fmt"
	"strings"
)

// emacsEngine is the part of the Emacs file that is the same whatever the
// words are: how the rules are searched for.
//
//go:embed crochet-keywords.el.in
var emacsEngine string

// emacsBetween stands for what is between two words: any sign but a letter, a
// digit or one of ASCII's own. The signs themselves in a set would make the
// expression of the glossary too big for Emacs.
const emacsBetween = `(?:[^!-,.-~\n]+)`

const emacsCount = `\(?:\>\|[0-9]+\>\)`

// emacsStart is where a word begins: behind a count that is written against it,
// too, but a word that means nothing may be what makes the count an ordinal.
func emacsStart(r rule) string {
	if r.parts[0].class == plain {
		return `\<`
	}
	return `\(?:\<\|[0-9]\)`
}

func emacsEnd(e ending) string { return [...]string{wordEnd: `\>`, countEnd: emacsCount}[e] }

// emacsKeywords is the Emacs Lisp file with the rules for font-lock. Emacs cannot
// look ahead, but a rule may color some groups only of what it finds.
func emacsKeywords() []byte {
	var heads, rules strings.Builder
	for _, k := range kinds() {
		head, classes := k.head(&emacs)
		fmt.Fprintf(&heads, "    (%s %s %s%s)\n", k.name, quoted(head), faceOf(k.content), groups(1, classes))
	}
	var leads, order []rule
	where := map[string][]string{}
	for _, k := range kinds() {
		for _, r := range k.lead {
			leads = append(leads, r)
			where[r.name] = append(where[r.name], k.name)
		}
		for _, r := range k.rules {
			where[r.name] = append(where[r.name], k.name)
		}
	}
	order = ruleOrder()
	write := func(r rule, lead bool) {
		pattern := ""
		if r.starts {
			pattern = emacsStart(r)
		}
		var classes []class
		for _, p := range r.parts {
			pattern += emacs.captureGroup(emacs.write(strings.ReplaceAll(p.pattern, between, emacsBetween)))
			classes = append(classes, p.class)
		}
		pattern += emacsEnd(r.ends)
		if r.ahead != "" {
			pattern += emacs.open + emacs.write(r.ahead) + emacs.close
		}
		fmt.Fprintf(&rules, "    ((%s) %s %s %s%s)\n", strings.Join(where[r.name], " "), truth(lead), truth(r.exact), quoted(pattern), groups(1, classes))
	}
	for _, r := range leads {
		write(r, true)
	}
	for _, r := range order {
		write(r, false)
	}
	out := strings.NewReplacer(
		"@MADE@", madeBy,
		"@HEADS@", strings.TrimRight(heads.String(), "\n"),
		"@RULES@", strings.TrimRight(rules.String(), "\n"),
		"@COMMENT@", lookOf(comment).face, "@DIRECTIVE@", lookOf(directive).face, "@RULE@", lookOf(ruleName).face,
	).Replace(emacsEngine)
	return []byte(out)
}

func faceOf(c class) string {
	if f := lookOf(c).face; f != "" {
		return f
	}
	return "nil"
}

func truth(b bool) string {
	if b {
		return "t"
	}
	return "nil"
}

// groups are the faces of a match's groups, those of no class left out.
func groups(from int, classes []class) string {
	var b strings.Builder
	for i, c := range classes {
		if f := lookOf(c).face; f != "" {
			fmt.Fprintf(&b, " (%d . %s)", from+i, f)
		} else {
			fmt.Fprintf(&b, " (%d . default)", from+i)
		}
	}
	return b.String()
}

func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(s) + `"`
}
