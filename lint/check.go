package lint

import (
	"workeven/fabric"
	"workeven/grammar"
)

// Options say which rules run, and how.
type Options struct {
	// Off holds the names of rules that do not run.
	Off map[string]bool
	// Severity holds severities that replace the rules' own, by rule.
	Severity map[string]Severity
	// NoFixes leaves repairs out, which take longer to find than what is wrong.
	NoFixes bool
}

// Check finds what is wrong with a pattern, in order of place.
func Check(f *grammar.File, opts Options) []Finding { return CheckPattern(fabric.Work(f), opts) }

// CheckPattern is Check for a pattern that is worked out already.
func CheckPattern(pattern *fabric.Pattern, opts Options) []Finding {
	w := walk{facts: newFacts(pattern), found: new([]Finding)}
	ran := map[string]bool{}
	for _, r := range registry {
		if opts.Off[r.Name] {
			continue
		}
		ran[r.Name] = true
		severity, set := opts.Severity[r.Name]
		if !set {
			severity = r.Severity
		}
		w.begin(r, &Pass{Pattern: pattern, File: pattern.File, rule: r, severity: severity, set: set, noFixes: opts.NoFixes, walk: &w})
	}
	w.run(pattern)
	w.allowed(ran)
	if opts.NoFixes {
		for i := range *w.found {
			(*w.found)[i].Fixes = nil
		}
	}
	Sort(*w.found)
	return *w.found
}

// walk goes once over a file's statements and shows each to the rules that
// want to see its kind.
type walk struct {
	facts  *facts
	at     int
	lines  []func(*grammar.Line)
	pieces []func(*fabric.Piece)
	rounds []func(*fabric.Piece, *fabric.Round)
	ends   []func()
	found  *[]Finding
	// suppression is the pass of the rule of that name, where it runs.
	suppression *Pass
}

func (w *walk) begin(r *Rule, p *Pass) {
	v := r.Start(p)
	if v.Line != nil {
		w.lines = append(w.lines, v.Line)
	}
	if v.Piece != nil {
		w.pieces = append(w.pieces, v.Piece)
	}
	if v.Round != nil {
		w.rounds = append(w.rounds, v.Round)
	}
	if v.End != nil {
		w.ends = append(w.ends, v.End)
	}
}

// run shows, for each statement, the piece that it opens, then the statement,
// then the round that it is. What is known of the file so far (facts) takes in
// each of them before the rules do.
func (w *walk) run(pattern *fabric.Pattern) {
	next, round := 0, 0 // the next piece; the next round of the one before it
	for i, l := range pattern.File.Lines {
		w.at = i
		for next < len(pattern.Pieces) && pattern.Pieces[next].At == i {
			piece := pattern.Pieces[next]
			next, round = next+1, 0
			w.facts.open(piece)
			for _, visit := range w.pieces {
				visit(piece)
			}
		}
		switch l.Node.(type) {
		case grammar.Blank:
			continue
		case grammar.Comment:
			w.facts.line(i, l)
			continue
		}
		w.facts.line(i, l)
		for _, visit := range w.lines {
			visit(l)
		}
		if next == 0 {
			continue
		}
		piece := pattern.Pieces[next-1]
		if round < len(piece.Rounds) && piece.Rounds[round].Line == l {
			r := piece.Rounds[round]
			round++
			w.facts.round(i, r)
			for _, visit := range w.rounds {
				visit(piece, r)
			}
		}
	}
	for _, visit := range w.ends {
		visit()
	}
}
