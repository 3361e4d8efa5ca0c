package main

import (
	"context"
	"io/fs"
	"math"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	"workeven/lsp"
)

func (a *app) lspCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lsp",
		Short: "Check patterns in an editor while you write them",
		Long: `Speaks the Language Server Protocol 3.18 on the standard input and output, for an
editor to start. What is logged goes to the standard error output and to the
editor's own log. The exit code is 0 where the editor ended the session, and 1
where it went away.`,
		Example: `  workeven lsp --log-level debug   # an editor starts this when snail.crochet is opened
`,
		Args: cobra.NoArgs,
	}
	level := flagChoice(cmd, "log-level", "info", "from which level on lines are logged; trace logs every message", "trace", "debug", "info", "warn", "error")
	cmd.Flags().Bool("stdio", true, "talk on the standard input and output; there is no other way, and editors say so all the same")
	cmd.RunE = func(*cobra.Command, []string) error {
		l, err := lsp.ParseLevel(level.value)
		if err != nil {
			return err
		}
		debug.SetMemoryLimit(math.MaxInt64) // that of a short run would choke a long one
		tendGarbage()
		a.raise(lsp.Serve(context.Background(), a.in, a.out, lsp.Options{Files: disk{}, Version: version(), Log: a.err, Level: l, Idle: collectIdly}))
		return nil
	}
	return cmd
}

func (disk) ReadDir(path string) ([]fs.DirEntry, error) { return os.ReadDir(path) }
