package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"workeven/grammar/terms"
	"workeven/lint"
)

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain TERM|RULE",
		Short: "Explain a stitch, a hook, a yarn weight, a level or a finding",
		Long: `Explains a term of the trade in US and UK words, how a stitch is worked, or what
a rule finds, why it matters and how to write it instead.`,
		Example: `  workeven explain total-differs     the rule named in "snail.crochet:22:8: error ... [total-differs]"
  workeven explain hdc               a stitch
  workeven explain G-6               a hook
  workeven explain worsted           a yarn weight`,
		Args: cobra.MinimumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return explainable(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			word := strings.Join(args, " ")
			text := explain(word)
			if text == "" {
				return unknownWord(word)
			}
			a.write([]byte(text))
			return nil
		},
	}
}

func explainable() []string {
	var out []string
	for _, r := range lint.Rules() {
		out = append(out, r.Name)
	}
	return append(out, terms.Words(terms.US)...)
}

// explain says all that a word may mean, one paragraph each; empty for an unknown one.
func explain(word string) string {
	var parts []string
	if r := lint.RuleNamed(strings.ToLower(word)); r != nil {
		parts = append(parts, ruleText(r))
	}
	us, uk := terms.Find(terms.US, word), terms.Find(terms.UK, word)
	if us != nil {
		parts = append(parts, lint.ExplainStitch(us, terms.US).Text())
	}
	if uk != nil && uk != us {
		parts = append(parts, lint.ExplainStitch(uk, terms.UK).Text())
	}
	if h, ok := terms.ParseHook(word); ok {
		for _, hook := range h.Fits {
			parts = append(parts, lint.ExplainHook(hook).Text())
		}
	}
	for _, w := range terms.WeightByName(word) {
		parts = append(parts, lint.ExplainWeight(w, terms.US).Text())
	}
	if l, _, ok := terms.LevelByName(word); ok {
		parts = append(parts, lint.ExplainLevel(l).Text())
	}
	return strings.Join(parts, "\n")
}

func unknownWord(word string) error {
	var rules []string
	for _, r := range lint.Rules() {
		rules = append(rules, r.Name)
	}
	message := fmt.Sprintf("%q is no stitch, hook, yarn weight, level or rule that is known here", word)
	for _, sys := range []terms.System{terms.US, terms.UK} {
		if near, ok := terms.Nearest(sys, word, rules); ok {
			return fmt.Errorf("%s; did you mean %s?", message, near)
		}
	}
	return fmt.Errorf("%s; `workeven terms` and `workeven rules` list them", message)
}

func ruleText(r *lint.Rule) string {
	repair := r.Repair
	if repair == "" {
		repair = "None: how to mend it is for you to say."
	}
	return fmt.Sprintf("%s (%s)\n%s\n\n%s\n\nFound:\n%s\nRight:\n%s\nRepair: %s\n",
		r.Name, r.Severity, r.Summary, r.Why, indented(r.Bad), indented(r.Good), repair)
}

func indented(text string) string {
	text = strings.TrimRight(text, "\n")
	return "  " + strings.ReplaceAll(text, "\n", "\n  ") + "\n"
}
