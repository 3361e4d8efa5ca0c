package lint

import (
	"fmt"
	"strings"

	"workeven/grammar/terms"
)

// Explanation is what there is to say of a term of the trade, for whoever shows
// it: the command as text, an editor with marks of its own.
type Explanation struct {
	// Name is the term, and Rest goes on behind it in the same line.
	Name, Rest string
	// Says are sentences, each for a line of its own.
	Says []string
	// How is how it is worked, step by step.
	How []string
	// Source says where it comes from; empty where nobody said.
	Source string
}

// Text is the explanation as plain text, with a line end behind the last line.
func (e Explanation) Text() string {
	var b strings.Builder
	b.WriteString(e.Name + e.Rest + "\n")
	for _, s := range e.Says {
		b.WriteString(s + "\n")
	}
	for i, do := range e.How {
		fmt.Fprintf(&b, "  %2d. %s\n", i+1, do)
	}
	if e.Source != "" {
		b.WriteString("Source: " + e.Source + ".\n")
	}
	return b.String()
}

// ExplainStitch explains a stitch in both systems, the given one first.
func ExplainStitch(s *terms.Stitch, sys terms.System) Explanation {
	e := Explanation{Source: s.Source}
	if s.US.Abbr == s.UK.Abbr && s.US.Full == s.UK.Full {
		e.Name, e.Rest = s.US.Abbr, " (US and UK terms)"
		if s.US.Full != s.US.Abbr {
			e.Rest = ", " + s.US.Full + e.Rest
		}
		return explainWork(e, s, sys)
	}
	for i, in := range []terms.System{sys, sys.Other()} {
		n := s.In(in)
		switch {
		case n.Abbr == "" && n.Full == "":
		case i == 0:
			e.Name = n.Abbr
			e.Rest = fmt.Sprintf(", %s (%s terms)", n.Full, in)
		default:
			e.Rest += fmt.Sprintf("; in %s terms %s, %s", in, n.Abbr, n.Full)
		}
	}
	return explainWork(e, s, sys)
}

// explainWork adds what a stitch takes and makes and how it is worked.
func explainWork(e Explanation, s *terms.Stitch, sys terms.System) Explanation {
	if also := s.In(sys).Also; len(also) > 0 {
		e.Says = append(e.Says, "Also written: "+strings.Join(also, ", "))
	}
	takes := fmt.Sprintf("Takes %s of the round below and makes %s.", orNo(s.Takes, "no stitch"), orNo(s.Makes, "none"))
	if s.Height > 0 {
		takes += fmt.Sprintf(" Its turning chain is %d ch and %s.", s.Height, countsAsStitch(s.Counts))
	}
	e.Says = append(e.Says, takes)
	for _, m := range s.How() {
		do := m.Do
		if m.Loops > 1 {
			do += fmt.Sprintf(" (%d loops on the hook)", m.Loops)
		}
		e.How = append(e.How, do)
	}
	return e
}

// orNo is a number of stitches, or the word for none.
func orNo(n int, none string) string {
	if n == 0 {
		return none
	}
	return Number(n, "stitch", "stitches")
}

func countsAsStitch(s terms.Standing) string {
	switch s {
	case terms.Counted:
		return "counts as a stitch"
	case terms.Asked:
		return "counts for some makers and not for others: a pattern has to say"
	}
	return "does not count as a stitch"
}

// ExplainHook explains one size of hook.
func ExplainHook(h terms.Hook) Explanation {
	kind := "A hook"
	if h.Steel {
		kind = "A steel hook"
	}
	e := Explanation{Name: fmt.Sprintf("%s of %g mm", kind, h.MM), Source: h.Source}
	if h.US != "" {
		e.Rest += ", US " + h.US
	}
	if h.UK != "" {
		e.Rest += ", UK " + h.UK
	}
	e.Rest += "."
	if len(h.Others) > 0 {
		var sizes []string
		for _, mm := range h.Others {
			sizes = append(sizes, fmt.Sprintf("%g mm", mm))
		}
		e.Says = []string{"Some makers give the same US mark to " + strings.Join(sizes, ", ") + ": state the millimetres."}
	}
	return e
}

// ExplainWeight explains a yarn weight; the stitch that its gauge is counted in
// is called as the system calls it.
func ExplainWeight(w terms.Weight, sys terms.System) Explanation {
	sts := fmt.Sprintf("%g to %g", w.FewSts, w.ManySts)
	if w.FewSts == 0 {
		sts = fmt.Sprintf("%g or fewer", w.ManySts)
	}
	hooks := fmt.Sprintf("%g to %g mm", w.HookFrom, w.HookTo)
	if w.HookTo == 0 {
		hooks = fmt.Sprintf("%g mm or larger", w.HookFrom)
	}
	return Explanation{
		Name: fmt.Sprintf("%s (%d)", w.Name, w.Number), Rest: ": a yarn weight. Sold as " + strings.Join(w.Types, ", ") + ".",
		Says:   []string{fmt.Sprintf("%s %s in 10 cm, on a hook of %s (US %s).", sts, terms.ByID("sc").Abbr(sys), hooks, w.Hooks)},
		Source: w.Source,
	}
}

// ExplainLevel explains a level of skill.
func ExplainLevel(l terms.Level) Explanation {
	return Explanation{Name: l.Name, Rest: ": a level of skill; " + l.Says + ".", Source: l.Source}
}
