// Command workeven checks crochet patterns that are written in plain text.
//
// Every subcommand has a file of its own that reads its flags and calls the
// packages which do the work. This package knows files, streams, terminals and
// exit codes; it must not know what a pattern means.
package main

import (
	"io"
	"os"

	"github.com/mattn/go-colorable"

	"workeven/grammar"
	"workeven/lint"
)

func main() {
	colours := true
	colorable.EnableColorsStdout(&colours)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv))
}

// What a run comes to, as the shell is told.
const (
	exitClean  = 0
	exitFound  = 1 // something was found, or a file is not as fmt would have it
	exitFailed = 2 // wrong use, or something could not be read or written
)

// app is one run of the command.
type app struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) string
	// check finds what is wrong with a text; a test may put rules of its own here.
	check func(text string, opts lint.Options) []lint.Finding
	code  int
}

// run carries one command line out and returns the exit code. It touches
// nothing of the process but its working folder and files.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer, env func(string) string) int {
	a := &app{in: stdin, out: stdout, err: stderr, env: env, check: func(text string, opts lint.Options) []lint.Finding {
		return lint.Check(grammar.Parse(text), opts)
	}}
	return a.run(args)
}

func (a *app) run(args []string) int {
	root := a.root()
	root.SetArgs(args)
	cmd, err := root.ExecuteC()
	if err != nil {
		a.fail("%s", err)
		a.note("See `%s --help`.", cmd.CommandPath())
	}
	return a.code
}
