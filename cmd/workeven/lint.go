package main

import (
	"github.com/spf13/cobra"

	"workeven/lint"
)

// linting is one run of `workeven lint`.
type linting struct {
	*app
	sources
	format, errorOn, color *choice
	fix, diff              bool
	baseline               baselineFlags
}

func (a *app) lintCommand() *cobra.Command {
	l := &linting{app: a}
	cmd := &cobra.Command{
		Use:   "lint [FILE|FOLDER|-]...",
		Short: "Check patterns and say what is wrong",
		Long: `Works every round of the patterns named, and says where something is wrong or
could be better. A folder stands for every pattern (*.crochet) in it and below;
no name stands for the folder you are in; - stands for the standard input.

A finding can be allowed where it stands, with a comment at the end of the line:

  Rnd 4: 2 sc in next 3 sts (6) // allow: two-readings -- 2 in each

The exit code is 0 where no error or warning is found, 1 where one is, and 2
where a file or a flag is wrong. Findings go to the standard output, all else to
the standard error output. With --fix and -, the mended text goes to the
standard output and the findings to the standard error output.`,
		Example: `  workeven lint snail.crochet
  workeven lint --fix patterns/
  workeven lint --diff snail.crochet
  workeven lint --format sarif . > findings.sarif
  workeven lint --write-baseline baseline.json    take today's findings as given
  workeven lint --baseline baseline.json          and report only new ones
  workeven lint --stdin-filename snail.crochet - < snail.crochet`,
		RunE: func(_ *cobra.Command, args []string) error { return l.lint(args) },
	}
	l.flags(cmd)
	f := cmd.Flags()
	l.format = flagChoice(cmd, "format", "text", "how findings are written", "text", "concise", "json", "sarif", "github")
	l.errorOn = flagChoice(cmd, "error-on", "", "the least severity that makes the exit code 1 (default: warning, or what "+lint.ConfigName+" says)", "hint", "information", "warning", "error", "never")
	l.color = flagChoice(cmd, "color", "auto", "color the text", "auto", "always", "never")
	f.BoolVar(&l.fix, "fix", false, "mend what can be mended safely, and report the rest")
	f.BoolVar(&l.diff, "diff", false, "show what --fix would change, and change nothing")
	f.StringVar(&l.baseline.read, "baseline", "", "do not report the findings that this `file` holds")
	f.StringVar(&l.baseline.write, "write-baseline", "", "write the findings to this `file`; one that exists only shrinks")
	cmd.MarkFlagsMutuallyExclusive("fix", "diff")
	cmd.MarkFlagsMutuallyExclusive("baseline", "write-baseline")
	cmd.MarkFlagsMutuallyExclusive("diff", "write-baseline")
	return cmd
}

// outcome is what linting one file comes to.
type outcome struct {
	report lint.Report
	// repairs is how many were applied, or would be.
	repairs int
	// out is what goes to the standard output besides: a difference, or the
	// standard input mended.
	out string
	err error
}

func (l *linting) lint(args []string) error {
	targets, err := l.find(l.app, args)
	if err != nil {
		return err
	}
	held, err := l.baseline.open()
	if err != nil {
		return err
	}
	out := l.printer(targets)
	tell := func(t target, r lint.Report) {
		r = held.split(t, r)
		if l.threshold(t).Reached(r.Findings) {
			l.raise(exitFound)
		}
		out.add(r)
	}
	type told struct {
		target
		lint.Report
	}
	var later []told // until the baseline is written
	p := l.progress(len(targets))
	inOrder(targets, l.jobs, l.one, func(t target, o outcome) {
		p.clear()
		if o.err != nil {
			l.fail("%s", o.err)
		}
		l.write([]byte(o.out))
		out.repaired(o.repairs)
		held.count(t, o.report)
		if l.baseline.write != "" {
			later = append(later, told{t, o.report})
		} else {
			tell(t, o.report)
		}
		p.step()
	})
	p.clear()
	if err := held.close(l.app); err != nil {
		return err
	}
	for _, x := range later {
		tell(x.target, x.Report)
	}
	out.close()
	return nil
}

// threshold is the least severity that fails the run for a file.
func (l *linting) threshold(t target) lint.Threshold {
	if at, ok := lint.ParseThreshold(l.errorOn.value); ok {
		return at
	}
	return t.config.ErrorOn()
}

// one lints one file, and mends it where that is asked for.
func (l *linting) one(t target) outcome {
	text, err := l.read(t)
	if err != nil {
		return outcome{report: lint.Report{File: t.name}, err: err}
	}
	var opts lint.Options
	opts.Off, opts.Severity = t.config.Levels(t.path)
	// Repairs take longer to find than what is wrong: they are left out where no one sees them.
	opts.NoFixes = !l.fix && !l.diff && (l.format.value == "concise" || l.format.value == "github")
	check := func(text string) []lint.Finding { return l.check(text, opts) }
	if !l.fix && !l.diff {
		return outcome{report: reportOf(t, text, check(text))}
	}
	fixed, repairs, rest := lint.FixAll(text, check)
	o := outcome{report: reportOf(t, fixed, rest), repairs: repairs}
	switch {
	case l.diff:
		o.report = reportOf(t, text, check(text))
		o.out, o.err = diff(t.name, text, fixed)
	case t.stdin:
		o.out = fixed
	case fixed != text:
		if err := rewrite(t.path, fixed); err != nil {
			return outcome{report: reportOf(t, text, check(text)), err: fileError(t, err)}
		}
	}
	return o
}

// reportOf is a file's report; without findings nobody needs its text any more.
func reportOf(t target, text string, fs []lint.Finding) lint.Report {
	if len(fs) == 0 {
		text = ""
	}
	return lint.Report{File: t.name, Text: text, Findings: fs}
}
