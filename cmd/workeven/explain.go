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
		parts = append(parts, stitchText(us, terms.US))
	}
	if uk != nil && uk != us {
		parts = append(parts, stitchText(uk, terms.UK))
	}
	if h, ok := terms.ParseHook(word); ok {
		for _, hook := range h.Fits {
			parts = append(parts, hookText(hook))
		}
	}
	for _, w := range terms.WeightByName(word) {
		parts = append(parts, weightText(w))
	}
	if l, _, ok := terms.LevelByName(word); ok {
		parts = append(parts, fmt.Sprintf("%s: a level of skill; %s.\n%s", l.Name, l.Says, sourceText(l.Source)))
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

// stitchText explains a stitch, the system first that the word was looked up in.
func stitchText(s *terms.Stitch, sys terms.System) string {
	var b strings.Builder
	for i, in := range []terms.System{sys, sys.Other()} {
		n := s.In(in)
		switch {
		case n.Abbr == "" && n.Full == "":
			continue
		case i == 0:
			fmt.Fprintf(&b, "%s, %s (%s terms)", n.Abbr, n.Full, in)
		default:
			fmt.Fprintf(&b, "; in %s terms %s, %s", in, n.Abbr, n.Full)
		}
	}
	if also := s.In(sys).Also; len(also) > 0 {
		fmt.Fprintf(&b, "\nAlso written: %s", strings.Join(also, ", "))
	}
	fmt.Fprintf(&b, "\nTakes %s of the round below and makes %s.", lint.Number(s.Takes, "stitch", "stitches"), lint.Number(s.Makes, "stitch", "stitches"))
	if s.Height > 0 {
		fmt.Fprintf(&b, " Its turning chain is %d ch and %s.", s.Height, standing(s.Counts))
	}
	b.WriteByte('\n')
	for i, m := range s.How() {
		fmt.Fprintf(&b, "  %2d. %s\n", i+1, m.Do+loopsText(m.Loops))
	}
	b.WriteString(sourceText(s.Source))
	return b.String()
}

func loopsText(n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf(" (%d loops on the hook)", n)
}

func standing(s terms.Standing) string {
	switch s {
	case terms.Counted:
		return "counts as a stitch"
	case terms.Asked:
		return "counts for some makers and not for others: a pattern has to say"
	}
	return "does not count as a stitch"
}

func hookText(h terms.Hook) string {
	kind := "A hook"
	if h.Steel {
		kind = "A steel hook"
	}
	out := fmt.Sprintf("%s of %g mm", kind, h.MM)
	if h.US != "" {
		out += ", US " + h.US
	}
	if h.UK != "" {
		out += ", UK " + h.UK
	}
	out += ".\n"
	if len(h.Others) > 0 {
		var sizes []string
		for _, mm := range h.Others {
			sizes = append(sizes, fmt.Sprintf("%g mm", mm))
		}
		out += "Some makers give the same US mark to " + strings.Join(sizes, ", ") + ": state the millimetres.\n"
	}
	return out + sourceText(h.Source)
}

func weightText(w terms.Weight) string {
	sts := fmt.Sprintf("%g to %g", w.FewSts, w.ManySts)
	if w.FewSts == 0 {
		sts = fmt.Sprintf("%g or fewer", w.ManySts)
	}
	hooks := fmt.Sprintf("%g to %g mm", w.HookFrom, w.HookTo)
	if w.HookTo == 0 {
		hooks = fmt.Sprintf("%g mm or larger", w.HookFrom)
	}
	return fmt.Sprintf("%s (%d): a yarn weight. Sold as %s.\n%s sc in 10 cm, on a hook of %s (US %s).\n%s",
		w.Name, w.Number, strings.Join(w.Types, ", "), sts, hooks, w.Hooks, sourceText(w.Source))
}

func sourceText(source string) string {
	if source == "" {
		return ""
	}
	return "Source: " + source + ".\n"
}
