package lint

import (
	"fmt"
	"strings"

	"workeven/grammar"
)

const suppressionName = "suppression"

var _ = declare(Rule{
	Name:     suppressionName,
	Severity: Warning,
	Summary:  "A comment allows a finding that is not there, or names no rule",
	Why: "A comment such as `// allow: shape -- the frill is meant` keeps a finding quiet for good. " +
		"Once the reason is gone it would hide the next slip in the same place, and one that names no rule hides nothing at all.",
	Repair: "Takes the comment away where it allows nothing and names no other rule; `--fix` does so too. Otherwise a close name is offered.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6) // allow: total-differs -- counted by hand\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (7) // allow: total-differs -- counted by hand\n",
	// The comments are judged once every other rule is done: see suppress.go.
	Start: func(p *Pass) Visits {
		p.walk.suppression = p
		return Visits{}
	},
})

// judge reports on one allowance.
func (p *Pass) judge(a *allowance, ran map[string]bool) {
	switch {
	case a.rule == "":
		p.Report(a.at, a.comment, sayNamesNoRule())
	case RuleNamed(a.rule) == nil:
		var fixes []Fix
		near := Nearest(a.rule, ruleNames(Rules()))
		if near != "" {
			fixes = append(fixes, fix(sayWrite(near), false, p.edit(a.at, a.name, near)))
		}
		p.Report(a.at, a.name, sayNoSuchRule(a.rule, near), fixes...)
	case a.loose:
		gap := grammar.Span{Start: a.name.Start - 1, End: a.name.Start}
		p.Report(a.at, a.comment, sayAllowColon(), fix(sayAddColon(), false, p.edit(a.at, gap, ": ")))
	case !a.used && ran[a.rule] && a.rule != suppressionName:
		p.Report(a.at, a.name, sayAllowsNothing(a), p.unallow(a)...).Unused = true
	}
}

// unallow takes a comment away that names no other rule.
func (p *Pass) unallow(a *allowance) []Fix {
	if !a.alone {
		return nil
	}
	text := p.File.Lines[a.at].Text
	start := len(strings.TrimRight(text[:a.comment.Start], " \t"))
	e := p.edit(a.at, grammar.Span{Start: int32(start), End: a.comment.End}, "")
	if start == 0 && e.End < p.File.Rope().Len() { // a line of its own goes with its end
		e.End += len(p.lineEnd())
	}
	return []Fix{fix(sayRemoveComment(), true, e)}
}

func sayNamesNoRule() string {
	return "this comment allows nothing: name a rule behind the colon, such as \"// allow: shape\""
}

func sayNoSuchRule(name, near string) string {
	m := "there is no rule called " + quoted(name)
	if near != "" {
		m += sayDidYouMean(near)
	}
	return m
}

func sayAllowColon() string {
	return "this comment allows nothing without a colon: \"// allow: …\""
}

func sayAddColon() string { return "add the colon" }

func sayAllowsNothing(a *allowance) string {
	switch a.over {
	case nowhere:
		return fmt.Sprintf("this comment allows %s, but no line stands behind it", a.rule)
	case wholeFile:
		return fmt.Sprintf("this comment allows %s, but nothing of the kind is found in the file", a.rule)
	}
	return fmt.Sprintf("this comment allows %s, but nothing of the kind is found there", a.rule)
}

func sayRemoveComment() string { return "take the comment away" }
