package editors

import (
	"fmt"
	"strings"
)

// kateSyntax is the syntax definition of Kate and of all that colors text by
// KSyntaxHighlighting. A rule there has one style, so the parts of ours are
// contexts that lead from one to the next.
func kateSyntax() []byte {
	k := &kateFile{written: map[string]bool{}}
	k.line(0, `<?xml version="1.0" encoding="UTF-8"?>`)
	k.line(0, `<!DOCTYPE language>`)
	k.line(0, `<!-- `+madeBy+` -->`)
	k.line(0, `<language name="Crochet Pattern" section="Other" version="1" kateversion="5.0" extensions="*.crochet" casesensitive="false" author="The workeven makers" license="MIT">`)
	k.line(1, `<highlighting>`)
	k.line(2, `<contexts>`)
	k.context("Start", "#stay", "", plain, func() {
		k.line(4, `<IncludeRules context="Comments"/>`)
		for _, x := range kinds() {
			head, _ := x.head(&perl)
			k.rule(plain, head, false, "Head "+x.name, true)
		}
	})
	k.comments()
	for _, x := range kinds() {
		k.statement(x)
	}
	for _, r := range ruleOrder() {
		k.wholeRule(r)
	}
	k.line(2, `</contexts>`)
	k.line(2, `<itemDatas>`)
	k.line(3, `<itemData name="plain" defStyleNum="dsNormal" spellChecking="false"/>`)
	for _, l := range looks {
		spelled := l.class == text || l.class == title || l.class == comment
		k.line(3, fmt.Sprintf(`<itemData name="%s" defStyleNum="%s" spellChecking="%t"/>`, l.class, l.style, spelled))
	}
	k.line(2, `</itemDatas>`)
	k.line(1, `</highlighting>`)
	k.line(1, `<general>`)
	k.line(2, `<comments>`)
	k.line(3, `<comment name="singleLine" start="//" position="afterwhitespace"/>`)
	k.line(2, `</comments>`)
	k.line(2, `<keywords casesensitive="0"/>`)
	k.line(1, `</general>`)
	k.line(0, `</language>`)
	return []byte(k.out.String())
}

type kateFile struct {
	out     strings.Builder
	written map[string]bool
}

func (k *kateFile) line(depth int, s string) {
	k.out.WriteString(strings.Repeat("  ", depth) + s + "\n")
}

func kateStyle(c class) string {
	if c == plain {
		return "plain"
	}
	return string(c)
}

// context writes a context: where a line's end, and a place where no rule fits, lead.
func (k *kateFile) context(name, lineEnd, fallthroughTo string, c class, rules func()) {
	more := ""
	if fallthroughTo != "" {
		more = ` fallthroughContext="` + fallthroughTo + `"`
	}
	if strings.HasPrefix(name, "In ") {
		more += ` lineEmptyContext="#pop"`
	}
	k.line(3, `<context name="`+name+`" attribute="`+kateStyle(c)+`" lineEndContext="`+lineEnd+`"`+more+`>`)
	rules()
	k.line(3, `</context>`)
}

func (k *kateFile) rule(c class, pattern string, exact bool, next string, lookAhead bool) {
	options := ""
	if !exact {
		options += ` insensitive="true"`
	}
	if lookAhead {
		options += ` lookAhead="true"`
	}
	k.line(4, `<RegExpr attribute="`+kateStyle(c)+`" context="`+next+`" String="`+xmlText.Replace(pattern)+`"`+options+`/>`)
}

func (k *kateFile) comments() {
	k.context("Comments", "#stay", "", plain, func() {
		k.rule(comment, perlComment+`+\s*(?=allow(?:\s+file)?\s*:)`, false, "Allowing", false)
		k.rule(comment, perlComment, true, "Comment", false)
	})
	k.context("Comment", "#pop", "", comment, func() {})
	k.context("Allowing", "#pop", "", comment, func() {
		k.rule(directive, `allow(?:\s+file)?(?=\s*:)`, false, "#stay", false)
		k.rule(comment, `--`, true, "#pop!Comment", false)
		k.rule(ruleName, `[a-z0-9]+(?:-[a-z0-9]+)*`, false, "#stay", false)
	})
}

// statement writes the contexts of a kind: its head, what stands right behind the
// colon, and the rest, which goes on for as long as lines continue it.
func (k *kateFile) statement(x kind) {
	inside := "#pop!In " + x.name
	first := inside
	if len(x.lead) > 0 {
		first = "#pop!Lead " + x.name
	}
	k.context("Head "+x.name, inside, inside, plain, func() {
		k.rule(plain, `[ \t]+`, true, "#stay", false)
		labels := perl.write(phrases(x.labels))
		if x.action {
			k.rule(action, labels+perlWord, false, first, false)
			return
		}
		k.rule(label, `^[ \t]*`+labels+`(?![\p{L}\p{M}])`, false, "#stay", false)
		k.rule(plain, `:`, true, first, false)
		if x.key {
			k.rule(yarn, `[^ \t:]+`, true, "#stay", false)
		}
		if x.ranged {
			k.rule(number, `\d+`, true, "#stay", false)
			k.rule(setting, `\b(?:RS|WS|right side|wrong side)\b`, false, "#stay", false)
			k.rule(plain, `[^:]`, true, "#stay", false)
		}
	})
	if len(x.lead) > 0 {
		k.context("Lead "+x.name, inside, inside, plain, func() {
			k.rule(plain, `[ \t\x{00a0}]+`, true, "#stay", false)
			for _, r := range x.lead {
				k.part(r, 0, "#pop!", inside)
			}
		})
		for _, r := range x.lead {
			k.parts(r, inside)
		}
	}
	k.context("In "+x.name, "#stay", "", x.content, func() {
		k.rule(plain, perlOn+`.`, true, "#pop", true) // a match of nothing is none
		k.line(4, `<IncludeRules context="Comments"/>`)
		for _, r := range x.rules {
			k.line(4, `<IncludeRules context="`+r.name+`"/>`)
		}
	})
}

// wholeRule writes a rule as a context to include, and the contexts of its parts.
func (k *kateFile) wholeRule(r rule) {
	k.context(r.name, "#stay", "", plain, func() { k.part(r, 0, "", "#stay") })
	k.parts(r, "#pop")
}

// parts writes the contexts of a rule's parts but the first.
func (k *kateFile) parts(r rule, end string) {
	for i := 1; i < len(r.parts); i++ {
		k.context(katePart(r, i), end, end, plain, func() { k.part(r, i, "#pop!", end) })
	}
}

// part writes the rule for one part, which leads to the next part or to the end.
func (k *kateFile) part(r rule, i int, lead, end string) {
	pattern := ""
	if i == 0 && r.starts {
		pattern = perlStart
	}
	pattern += "(?:" + perl.write(r.parts[i].pattern) + ")"
	next := end
	behind := ""
	for _, p := range r.parts[i+1:] {
		behind += "(?:" + perl.write(p.pattern) + ")"
		next = lead + katePart(r, i+1)
	}
	behind += perlEnd(r.ends)
	if r.ahead != "" {
		behind += "(?=" + perl.write(r.ahead) + ")"
	}
	if len(r.parts[i+1:]) > 0 {
		behind = "(?=" + behind + ")"
	}
	k.rule(r.parts[i].class, pattern+behind, r.exact, next, false)
}

func katePart(r rule, i int) string { return fmt.Sprintf("%s %d", r.name, i+1) }
