package main

import (
	"errors"

	"github.com/spf13/cobra"

	"workeven/grammar"
	"workeven/lint"
)

// formatting is one run of `workeven fmt`.
type formatting struct {
	*app
	sources
	inPlace, onlyCheck, diff bool
}

func (a *app) fmtCommand() *cobra.Command {
	x := &formatting{app: a}
	cmd := &cobra.Command{
		Use:   "fmt [FILE|FOLDER|-]...",
		Short: "Put patterns in the usual wording",
		Long: `Prints patterns in the canonical wording of the notation: ( ) for repeats, x for
times, totals in brackets, the usual abbreviations. What a round works out to
stays as it was. A folder stands for every pattern (*.crochet) in it and below;
no name stands for the folder you are in; - stands for the standard input.

A pattern with a line that cannot be read is left as it is, and the line is
told. The exit code is 0, or 1 where a pattern could not be read or, with
--check and --diff, is not in the usual wording.`,
		Example: `  workeven fmt snail.crochet             print it
  workeven fmt -w snail.crochet          write it back
  workeven fmt --check .                 name the patterns that would change
  workeven fmt --diff snail.crochet      show what would change`,
		RunE: func(_ *cobra.Command, args []string) error { return x.format(args) },
	}
	x.flags(cmd)
	f := cmd.Flags()
	f.BoolVarP(&x.inPlace, "write", "w", false, "write the pattern back to its file")
	f.BoolVar(&x.onlyCheck, "check", false, "only name the patterns that would change")
	f.BoolVar(&x.diff, "diff", false, "show what would change, and change nothing")
	cmd.MarkFlagsMutuallyExclusive("write", "check", "diff")
	return cmd
}

// formatted is what formatting one file comes to.
type formatted struct {
	text, out string
	err       error
	faults    []lint.Finding
}

func (x *formatting) format(args []string) error {
	targets, err := x.find(x.app, args)
	if err != nil {
		return err
	}
	for _, t := range targets {
		if t.stdin && x.inPlace {
			return errors.New("-w has no file to write: - is the standard input")
		}
	}
	p := x.progress(len(targets))
	inOrder(targets, x.jobs, x.one, func(t target, r formatted) {
		p.clear()
		switch {
		case r.err != nil:
			x.fail("%s", r.err)
		case r.faults != nil:
			x.raise(exitFound)
			_, _ = x.app.err.Write(lint.AppendConcise(nil, lint.Report{File: t.name, Text: r.text, Findings: r.faults}))
			x.note("%s: left as it is, since not every line can be read.", t.name)
		case r.out != "" && (x.onlyCheck || x.diff):
			x.raise(exitFound)
		}
		x.write([]byte(r.out))
		p.step()
	})
	p.clear()
	return nil
}

// one formats one file; out is what goes to the standard output.
func (x *formatting) one(t target) formatted {
	text, err := x.read(t)
	if err != nil {
		return formatted{err: err}
	}
	f := grammar.Parse(text)
	if faults := f.Faults(); len(faults) > 0 {
		return formatted{text: text, faults: findingsOf(f, faults)}
	}
	after := grammar.Format(f)
	switch {
	case x.diff:
		out, err := diff(t.name, text, after)
		return formatted{out: out, err: err}
	case x.onlyCheck && after != text:
		return formatted{out: t.name + "\n"}
	case x.onlyCheck:
		return formatted{}
	case x.inPlace && after != text:
		if err := rewrite(t.path, after); err != nil {
			return formatted{err: fileError(t, err)}
		}
		return formatted{}
	case x.inPlace:
		return formatted{}
	}
	return formatted{out: after}
}

// findingsOf shows faults as lint would.
func findingsOf(f *grammar.File, faults []grammar.PlacedFault) []lint.Finding {
	out := make([]lint.Finding, 0, len(faults))
	for _, x := range faults {
		at := f.Start(x.Line)
		out = append(out, lint.Finding{
			Rule: "syntax", Severity: lint.Error, Start: at + int(x.Start), End: at + int(x.End), Message: x.Message,
		})
	}
	return out
}
