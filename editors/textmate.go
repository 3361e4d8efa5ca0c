package editors

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// The regular expressions of Perl's family that stand for the ends of words.
const (
	perlStart = `(?<![\p{L}\p{M}])`
	perlWord  = `(?![\p{L}\p{M}\d])`
	perlCount = `(?:` + perlWord + `|(?=\d+` + perlWord + `))`
	// perlOn is the end of a statement: a line begins that does not continue it.
	perlOn = `^(?![ \t]+\S)`
	// perlComment is where a private comment begins.
	perlComment = `(?<!\S)//`
)

func perlEnd(e ending) string { return [...]string{wordEnd: perlWord, countEnd: perlCount}[e] }

// perlCase is what tells an engine to take capitals for small letters.
func perlCase(exact bool) string {
	if exact {
		return ""
	}
	return "(?i)"
}

// tmRule is one rule of a TextMate grammar.
type tmRule struct {
	Include     string            `json:"include,omitempty"`
	Name        string            `json:"name,omitempty"`
	Match       string            `json:"match,omitempty"`
	Captures    map[string]tmName `json:"captures,omitempty"`
	Begin       string            `json:"begin,omitempty"`
	BeginNames  map[string]tmName `json:"beginCaptures,omitempty"`
	End         string            `json:"end,omitempty"`
	ContentName string            `json:"contentName,omitempty"`
	Patterns    []tmRule          `json:"patterns,omitempty"`
}

type tmName struct {
	Name string `json:"name"`
}

type tmGrammar struct {
	Information string            `json:"information_for_contributors"`
	Name        string            `json:"name"`
	ScopeName   string            `json:"scopeName"`
	FileTypes   []string          `json:"fileTypes"`
	Patterns    []tmRule          `json:"patterns"`
	Repository  map[string]tmRule `json:"repository"`
}

const madeBy = "Made by go generate ./editors; do not edit."

// textMate is the TextMate grammar. It uses nothing that an editor is known to
// leave out: no while, no patterns within captures, no \G.
func textMate() tmGrammar {
	g := tmGrammar{
		Information: madeBy, Name: "Crochet Pattern", ScopeName: "source.crochet", FileTypes: []string{"crochet"},
		Patterns:   []tmRule{{Include: "#comment"}},
		Repository: map[string]tmRule{"comment": tmComment()},
	}
	for _, k := range kinds() {
		content := tmRule{Patterns: []tmRule{{Include: "#comment"}}}
		for _, r := range k.rules {
			g.Repository[r.name] = tmOf(r)
			content.Patterns = append(content.Patterns, tmRule{Include: "#" + r.name})
		}
		g.Repository["in"+k.name] = content
		for _, lead := range append(slices.Clone(k.lead), rule{}) {
			g.Patterns = append(g.Patterns, tmStatement(k, lead))
		}
	}
	return g
}

// tmStatement is a statement of a kind with something known behind its label.
func tmStatement(k kind, lead rule) tmRule {
	head, classes := k.head(&perl)
	begin := perlCase(false) + head
	if len(lead.parts) > 0 {
		begin += perl.write(gap)
		if lead.exact {
			begin += "(?-i)"
		}
		for _, p := range lead.parts {
			begin += "(" + perl.write(p.pattern) + ")"
			classes = append(classes, p.class)
		}
		begin += perlEnd(lead.ends) + "(?=" + perl.write(lead.ahead) + ")"
	}
	out := tmRule{Begin: begin, BeginNames: captured(classes), End: perlOn, Patterns: []tmRule{{Include: "#in" + k.name}}}
	if k.content != plain {
		out.ContentName = lookOf(k.content).scope
	}
	return out
}

func captured(classes []class) map[string]tmName {
	out := map[string]tmName{}
	for i, c := range classes {
		if c != plain {
			out[fmt.Sprint(i+1)] = tmName{lookOf(c).scope}
		}
	}
	return out
}

func tmOf(r rule) tmRule {
	match := perlCase(r.exact)
	if r.starts {
		match += perlStart
	}
	out := tmRule{}
	if len(r.parts) == 1 {
		match += "(?:" + perl.write(r.parts[0].pattern) + ")"
		out.Name = lookOf(r.parts[0].class).scope
	} else {
		var classes []class
		for _, p := range r.parts {
			match += "(" + perl.write(p.pattern) + ")"
			classes = append(classes, p.class)
		}
		out.Captures = captured(classes)
	}
	match += perlEnd(r.ends)
	if r.ahead != "" {
		match += "(?=" + perl.write(r.ahead) + ")"
	}
	out.Match = match
	return out
}

// tmComment is a private comment, and what it allows.
func tmComment() tmRule {
	about := lookOf(comment).scope
	return tmRule{Patterns: []tmRule{
		{
			Name:     about,
			Match:    `(?i)` + perlComment + `+\s*(allow(?:\s+file)?)\s*:\s*([a-z0-9-]+(?:\s*,\s*[a-z0-9-]+)*)?.*$`,
			Captures: captured([]class{directive, ruleName}),
		},
		{Name: about, Match: perlComment + `.*$`},
	}}
}

// head is the pattern of what begins a statement, its label in a group of its
// own and what else is colored in others, and the classes of the groups.
func (k kind) head(d *dialect) (string, []class) {
	group := func(s string) string { return d.captureGroup(d.write(s)) }
	out, classes := d.write(`^[ \t]*`)+group(phrases(k.labels)), []class{label}
	switch {
	case k.action:
		return out + d.wordEnd, []class{action}
	case k.key:
		out += d.maybeGroup(d.write(blank)+group(`[^ \t:\n]+`)) + d.write(gap)
		classes = append(classes, yarn)
	case k.ranged:
		out += d.maybeGroup(d.write(gap)+group(`[0-9]+`)) +
			d.maybeGroup(d.write(gap+`(?:[-‐‑‒–—−]|to\b|and\b|&)`+gap)+group(`[0-9]+`)) +
			d.maybeGroup(d.write(gap+`[([]?`+gap)+group(`(?:RS|WS|right side|wrong side)`)+d.write(gap+`[)\]]?`)) + d.write(gap)
		classes = append(classes, number, number, setting)
	default:
		out += d.write(gap)
	}
	return out + ":", classes
}

// textMateJSON is the grammar as VS Code reads it.
func textMateJSON() []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(textMate()); err != nil {
		panic(err) // strings and maps of strings can be encoded
	}
	return b.Bytes()
}

// textMatePlist is the same grammar as Sublime Text reads it.
func textMatePlist() []byte {
	var value any
	if err := json.Unmarshal(textMateJSON(), &value); err != nil {
		panic(err) // it was just encoded
	}
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n<!-- " + madeBy + " -->\n" + `<plist version="1.0">` + "\n")
	writePlist(&b, value, "")
	b.WriteString("</plist>\n")
	return b.Bytes()
}

var xmlText = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\t", "&#9;")
