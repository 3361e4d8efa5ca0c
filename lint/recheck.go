package lint

import (
	"workeven/fabric"
	"workeven/grammar"
)

// Checked is a pattern that was checked.
type Checked struct {
	Pattern  *fabric.Pattern
	Findings []Finding
	opts     Options
}

// Recheck is Check for a file that is nearly the one of an earlier check, which
// may be nil.
func Recheck(old *Checked, f *grammar.File, opts Options) *Checked {
	p := fabric.Work(f)
	return &Checked{Pattern: p, Findings: CheckPattern(p, opts), opts: opts}
}

// Repaired are the findings that touch the bytes from start to end, with their
// repairs.
func (c *Checked) Repaired(start, end int) []Finding {
	opts := c.opts
	opts.NoFixes = false
	var out []Finding
	for _, f := range CheckPattern(c.Pattern, opts) {
		if f.Start <= end && start <= f.End {
			out = append(out, f)
		}
	}
	return out
}
