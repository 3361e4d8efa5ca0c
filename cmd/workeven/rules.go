package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"workeven/lint"
)

func (a *app) rulesCommand() *cobra.Command {
	var schema bool
	cmd := &cobra.Command{
		Use:   "rules",
		Short: "List what lint looks for",
		Long: `Lists every rule: its name, how severe a finding of it is, whether --fix can mend
it, and what it finds. Set a rule in ` + lint.ConfigName + ` by its name:

  [rules]
  total-missing = "off"`,
		Example: `  workeven rules
  workeven rules --format json
  workeven explain total-differs                        one rule, with a line of a .crochet file
  workeven rules --schema > workeven.schema.json        for an editor that checks ` + lint.ConfigName,
		Args: cobra.NoArgs,
	}
	format := flagChoice(cmd, "format", "text", "how the rules are written", "text", "json")
	cmd.Flags().BoolVar(&schema, "schema", false, "print the JSON schema of "+lint.ConfigName)
	cmd.MarkFlagsMutuallyExclusive("format", "schema")
	cmd.RunE = func(*cobra.Command, []string) error {
		switch {
		case schema:
			a.write(lint.ConfigSchema())
		case format.value == "json":
			return a.writeJSON(jsonRules(lint.Rules()))
		default:
			a.write(tableOfRules(lint.Rules()))
		}
		return nil
	}
	return cmd
}

// fixWord tells of a rule's repairs in one word.
func fixWord(r *lint.Rule) string {
	if r.Repair == "" {
		return "-"
	}
	return "yes"
}

func tableOfRules(rules []*lint.Rule) []byte {
	var b bytes.Buffer
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "RULE\tSEVERITY\tREPAIR\tFINDS")
	for _, r := range rules {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", r.Name, r.Severity, fixWord(r), r.Summary)
	}
	_ = w.Flush() // a buffer takes all
	return b.Bytes()
}

type jsonRule struct {
	Name     string `json:"name"`
	Severity string `json:"severity"`
	Summary  string `json:"summary"`
	Why      string `json:"why"`
	Repair   string `json:"repair"`
	Bad      string `json:"bad"`
	Good     string `json:"good"`
}

func jsonRules(rules []*lint.Rule) any {
	out := make([]jsonRule, 0, len(rules))
	for _, r := range rules {
		out = append(out, jsonRule{r.Name, r.Severity.String(), r.Summary, r.Why, r.Repair, r.Bad, r.Good})
	}
	return map[string]any{"rules": out}
}

// writeJSON puts a value out for a program to read.
func (a *app) writeJSON(v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	a.write(b.Bytes())
	return nil
}
