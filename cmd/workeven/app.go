package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
)

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "workeven",
		Short: "Checks crochet patterns while you write them",
		Long: `workeven reads crochet patterns written in plain text, works every round, and
says where a total is wrong, a repeat does not come out, or a part is sewn on
more often than it is made.`,
		Example: `  workeven lint snail.crochet        check one pattern
  workeven lint                      check every pattern in this folder
  workeven fmt -w snail.crochet      put it in the usual wording
  workeven tally snail.crochet       count every round
  workeven explain stitches-left     what a finding means`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Run:           func(cmd *cobra.Command, _ []string) { _ = cmd.Help() },
	}
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.SetVersionTemplate("workeven {{.Version}}\n")
	root.AddCommand(a.lintCommand(), a.fmtCommand(), a.tallyCommand(), a.explainCommand(), a.rulesCommand(), a.termsCommand(), a.lspCommand(), a.versionCommand())
	return root
}

// raise sets the exit code, unless it is worse already.
func (a *app) raise(code int) { a.code = max(a.code, code) }

// note says something that is no finding.
func (a *app) note(format string, args ...any) { fmt.Fprintf(a.err, format+"\n", args...) }

// fail says what went wrong; the run goes on with what is left to do.
func (a *app) fail(format string, args ...any) {
	a.raise(exitFailed)
	a.note("workeven: "+format, args...)
}

// write puts a result out. A full disk must not look like a clean run.
func (a *app) write(data []byte) {
	if _, err := a.out.Write(data); err != nil {
		a.fail("cannot write the result: %s", reason(err))
	}
}

// choice is a flag with a closed list of values.
type choice struct {
	value string
	of    []string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return strings.Join(c.of, "|") }

func (c *choice) Set(value string) error {
	for _, known := range c.of {
		if value == known {
			c.value = value
			return nil
		}
	}
	return fmt.Errorf("it is one of %s", strings.Join(c.of, ", "))
}

// flagChoice adds such a flag to a command, with its completion.
func flagChoice(cmd *cobra.Command, name, value, usage string, of ...string) *choice {
	c := &choice{value, of}
	cmd.Flags().Var(c, name, usage)
	_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(of, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// display is the name to show for an absolute path: from the working folder
// where it is below that, with slashes.
func display(path string) string {
	if dir, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(dir, path); err == nil && filepath.IsLocal(rel) {
			path = rel
		}
	}
	return filepath.ToSlash(path)
}
