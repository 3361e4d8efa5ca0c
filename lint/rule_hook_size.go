package lint

import (
	"fmt"
	"slices"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "hook-size",
	Severity: Error,
	Summary:  "A hook's letter and millimetres disagree, or its size is a bare number",
	Why: "No two makers of hooks number alike, as a handbook of 1918 already says, and a plain 7 is 4.5 mm among yarn hooks and less than 2 mm among steel ones. " +
		"A maker who takes the wrong hook finds out when the finished piece is too small.",
	Repair: "The size in millimetres. `--fix` writes it where the number can be no other hook; where letter and millimetres disagree, both ways are offered.",
	Bad:    "Hook: E-4 (4 mm)\n",
	Good:   "Hook: E-4 (3.5 mm)\n",
	Start: func(p *Pass) Visits {
		return Visits{Line: func(l *grammar.Line) {
			switch n := l.Node.(type) {
			case *grammar.Hook:
				p.hookSize(l, n)
			case *grammar.With:
				if n.Hook != nil {
					p.hookSize(l, n.Hook)
				}
			}
		}}
	},
})

func (p *Pass) hookSize(l *grammar.Line, n *grammar.Hook) {
	span := hookSpan(l, n)
	if !span.Written() || len(l.Faults) > 0 {
		return
	}
	text := strings.TrimSpace(span.In(l.Text))
	h, ok := terms.ParseHook(text)
	if !ok {
		return
	}
	switch h.Verdict() {
	case terms.NoSuchHook:
		p.Report(p.At(), span, sayNoHook(h.Mark.String()))
		return
	case terms.HookDiffers:
		p.Report(p.At(), span, sayHookDiffers(h), p.rightHook(l, span, h)...)
		return
	}
	bare := h.MM == 0 && h.Mark.Letters == "" && strings.Trim(text, "0123456789.,½/ ") == ""
	if h.MM > 0 || !bare && !farApart(h.Fits) {
		return
	}
	may := sizesOf(h.Fits)
	x := p.Report(p.At(), span, sayHookInDoubt(text, may))
	for _, mm := range may {
		x.Fixes = append(x.Fixes, fix(sayWrite(mm), len(may) == 1, p.edit(p.At(), span, mm)))
	}
}

// hookSpan spans a hook's letter and size: all that a Hook line says, part of a
// With line.
func hookSpan(l *grammar.Line, n *grammar.Hook) grammar.Span {
	if _, line := l.Node.(*grammar.Hook); line {
		return n.Span
	}
	a, b := n.Letter.Span, n.Size.Span
	switch {
	case !a.Written():
		return b
	case !b.Written():
		return a
	case b.Start < a.Start:
		a, b = b, a
	}
	s := a.To(b)
	if int(s.End) < len(l.Text) && l.Text[s.End] == ')' {
		s.End++
	}
	return s
}

// sizesOf are the sizes of hooks in millimetres, each once.
func sizesOf(fits []terms.Hook) []string {
	var mm []string
	for _, f := range fits {
		if s := number(f.MM) + " mm"; !slices.Contains(mm, s) {
			mm = append(mm, s)
		}
	}
	return mm
}

// farApart says whether the hooks that a mark may mean differ by half a
// millimetre or more; closer ones are left to the maker's gauge.
func farApart(fits []terms.Hook) bool {
	for _, f := range fits {
		if d := f.MM - fits[0].MM; d >= 0.5 || d <= -0.5 {
			return true
		}
	}
	return false
}

// rightHook offers the mark that goes with the millimetres, and the
// millimetres that go with the mark.
func (p *Pass) rightHook(l *grammar.Line, span grammar.Span, h terms.HookText) []Fix {
	var fixes []Fix
	add := func(new string) {
		fixes = append(fixes, fix(sayChange(span.In(l.Text), new), false, p.edit(p.At(), span, new)))
	}
	for _, fit := range terms.HookByMM(h.MM) {
		if fit.US != "" && !fit.Steel {
			add(fit.US + " (" + number(h.MM) + " mm)")
		}
	}
	for _, fit := range h.Fits {
		add(h.Mark.String() + " (" + number(fit.MM) + " mm)")
	}
	return fixes
}

func sayNoHook(mark string) string { return "there is no hook of size " + mark }

func sayHookDiffers(h terms.HookText) string {
	return fmt.Sprintf("a hook of size %s is %s, not %s mm", h.Mark, either(sizesOf(h.Fits)), number(h.MM))
}

func sayHookInDoubt(text string, may []string) string {
	if len(may) == 1 {
		return fmt.Sprintf("a hook of size %s: say that it is %s", text, may[0])
	}
	return fmt.Sprintf("a hook of size %s may be %s; give it in millimetres", text, either(may))
}
