package lint

import (
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// Pass is one rule's view of one file.
type Pass struct {
	Pattern *fabric.Pattern
	File    *grammar.File

	rule     *Rule
	severity Severity
	// set is where the severity was chosen by the one who runs the rules.
	set  bool
	walk *walk
}

// At is the index of the statement that the walk stands at.
func (p *Pass) At() int { return p.walk.at }

// System is the terms that the pattern is written in.
func (p *Pass) System() terms.System { return p.Pattern.Header.System }

// facts is what was gathered of the file: all of it at the end of the walk.
func (p *Pass) facts() *facts { return p.walk.facts }

// Report reports a span of a statement, given by the statement's index. The
// finding can be added to until the next one is reported.
func (p *Pass) Report(at int, s grammar.Span, message string, fixes ...Fix) *Finding {
	start := p.File.Start(at)
	f := Finding{Rule: p.rule.Name, Severity: p.severity, Message: message, Fixes: fixes}
	if !s.Written() {
		s = seen(p.File.Lines[at].Text)
	}
	f.Start, f.End = start+int(s.Start), start+int(s.End)
	*p.walk.found = append(*p.walk.found, f)
	return &(*p.walk.found)[len(*p.walk.found)-1]
}

// seen spans the first line of a statement, for findings about all of it.
func seen(text string) grammar.Span {
	line, _, _ := strings.Cut(text, "\n")
	line = strings.TrimRight(line, " \t\r")
	return grammar.Span{Start: int32(len(line) - len(strings.TrimLeft(line, " \t"))), End: int32(len(line))}
}

// milder makes a finding weaker than its rule, unless the severity was chosen.
func (p *Pass) milder(f *Finding, s Severity) {
	if !p.set && s < f.Severity {
		f.Severity = s
	}
}

// related is a second place that a finding speaks of.
func (p *Pass) related(at int, s grammar.Span, message string) Related {
	start := p.File.Start(at)
	if !s.Written() {
		s = seen(p.File.Lines[at].Text)
	}
	return Related{start + int(s.Start), start + int(s.End), message}
}

// edit replaces a span of a statement.
func (p *Pass) edit(at int, s grammar.Span, new string) Edit {
	start := p.File.Start(at)
	return Edit{start + int(s.Start), start + int(s.End), new}
}

// after writes a new line behind a statement.
func (p *Pass) after(at int, line string) Edit {
	end := p.File.Start(at) + len(p.File.Lines[at].Text)
	return Edit{end, end, p.lineEnd() + line}
}

// before writes a new line in front of a statement.
func (p *Pass) before(at int, line string) Edit {
	start := p.File.Start(at)
	return Edit{start, start, line + p.lineEnd()}
}

func (p *Pass) lineEnd() string { return p.File.LineEnd() }

// fix is a repair of one or more edits.
func fix(title string, safe bool, edits ...Edit) Fix { return Fix{title, safe, edits} }

// lineOf is the index of a round's statement in the file.
func lineOf(piece *fabric.Piece, r *fabric.Round) int { return piece.At + r.Off }
