package main

import (
	"bytes"
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"workeven/grammar/terms"
)

func (a *app) termsCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "terms",
		Short: "List every stitch in US and UK terms",
		Long: `Lists the glossary: each stitch by its US and its UK name, how many stitches of
the round below it takes, and how many it makes.`,
		Example: `  workeven terms
  workeven terms --format json
  workeven explain hdc                 one stitch, and how it is worked
  workeven lint snail.crochet          finds UK words in a pattern that says Terms: US`,
		Args: cobra.NoArgs,
	}
	format := flagChoice(cmd, "format", "text", "how the terms are written", "text", "json")
	cmd.RunE = func(*cobra.Command, []string) error {
		if format.value == "json" {
			return a.writeJSON(jsonTerms(terms.Stitches()))
		}
		a.write(tableOfTerms(terms.Stitches()))
		return nil
	}
	return cmd
}

func tableOfTerms(stitches []*terms.Stitch) []byte {
	var b bytes.Buffer
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "US\t\tUK\t\tTAKES\tMAKES")
	for _, s := range stitches {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%d\t%d\n", s.US.Abbr, s.US.Full, s.UK.Abbr, s.UK.Full, s.Takes, s.Makes)
	}
	_ = w.Flush() // a buffer takes all
	return b.Bytes()
}

type jsonName struct {
	Abbr string   `json:"abbr"`
	Name string   `json:"name"`
	Also []string `json:"also"`
}

type jsonTerm struct {
	US     jsonName `json:"us"`
	UK     jsonName `json:"uk"`
	Takes  int      `json:"takes"`
	Makes  int      `json:"makes"`
	Height int      `json:"height"` // in chains
	Source string   `json:"source"`
}

func jsonTerms(stitches []*terms.Stitch) any {
	name := func(n terms.Name) jsonName { return jsonName{n.Abbr, n.Full, append([]string{}, n.Also...)} }
	out := make([]jsonTerm, 0, len(stitches))
	for _, s := range stitches {
		out = append(out, jsonTerm{name(s.US), name(s.UK), s.Takes, s.Makes, s.Height, s.Source})
	}
	return map[string]any{"terms": out}
}
