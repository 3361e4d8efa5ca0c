package main

import (
	"context"
	"errors"
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
		tendGarbage(paceOfServer)
		largePages()
		a.raise(lsp.Serve(context.Background(), a.in, a.out, lsp.Options{Files: workspace{}, Version: version(), Log: a.err, Level: l, Idle: collectIdly}))
		return nil
	}
	return cmd
}

// workspace is the disk as the server reads it: files only, for to read a pipe
// or a device might never end.
type workspace struct{ disk }

func (w workspace) ReadFile(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: path, Err: errors.New("it is no file")}
	}
	return w.disk.ReadFile(path)
}

func (workspace) ReadDir(path string) ([]fs.DirEntry, error) { return os.ReadDir(path) }
