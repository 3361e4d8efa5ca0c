package lint

import (
	"slices"

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
	c := check(nil, pattern, opts, everywhere)
	c.recall().release()
	return c.Findings
}

// check checks a pattern, and takes over from an earlier check what was found
// in the pieces that have not changed; old may be nil. Repairs are looked for
// in a part of the file.
func check(old *Checked, pattern *fabric.Pattern, opts Options, repaired span) *Checked {
	w, ran := begin(pattern, newFacts(pattern, old.recall()), opts)
	w.run(pattern, kept(old, pattern, opts), repaired)
	w.finish(ran)
	return w.now
}

// begin starts the rules that are to run, and says which.
func begin(pattern *fabric.Pattern, f *facts, opts Options) (w *walk, ran map[string]bool) {
	w = &walk{facts: f, found: new([]Finding), now: &Checked{Pattern: pattern, opts: opts}}
	ran = map[string]bool{}
	for _, r := range registry {
		if opts.Off[r.Name] {
			continue
		}
		ran[r.Name] = true
		severity, set := opts.Severity[r.Name]
		if !set {
			severity = r.Severity
		}
		w.begin(r, &Pass{Pattern: pattern, File: pattern.File, rule: r, severity: severity, set: set, walk: w})
	}
	return w, ran
}

// finish makes findings of what was found, and leaves what was gathered of the
// file for the next check.
func (w *walk) finish(ran map[string]bool) {
	w.allowed(ran)
	if w.now.opts.NoFixes {
		for i := range *w.found {
			(*w.found)[i].Fixes = nil
		}
	}
	Sort(*w.found)
	w.now.Findings = *w.found
	w.now.facts.Store(w.facts)
}

// walk goes once over a file's statements and shows each to the rules that
// want to see its kind.
type walk struct {
	facts  *facts
	at     int
	lines  []func(*grammar.Line)
	pieces []func(*fabric.Piece)
	rounds []func(*fabric.Piece, *fabric.Round)
	ends   []ending
	found  *[]Finding
	// noFixes is set where repairs are not looked for.
	noFixes bool
	// suppression is the pass of the rule of that name, where it runs.
	suppression *Pass
	// onto are the pieces that are worked into others, once they were asked for.
	onto *[]*fabric.Piece
	now  *Checked
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
		w.ends = append(w.ends, ending{v.End, v.Reads})
	}
}

// ending is how a rule ends; see Visits.
type ending struct {
	visit func()
	reads reads
}

// run shows the rules what stands outside the pieces and, piece by piece, what
// stands in them, or says what they found in it before. Then it lets them end.
func (w *walk) run(pattern *fabric.Pattern, before *keptChecks, repaired span) {
	next := 0
	for at := 0; at < len(pattern.File.Lines); {
		if next == len(pattern.Pieces) || pattern.Pieces[next].At != at {
			w.noFixes = w.now.opts.NoFixes
			texts, found := len(w.facts.texts), len(*w.found)
			w.statement(at, pattern.File.Lines[at])
			w.facts.hear(texts)
			w.now.outside = append(w.now.outside, (*w.found)[found:]...)
			at++
			continue
		}
		piece := pattern.Pieces[next]
		w.noFixes = w.now.opts.NoFixes || !repaired.touches(pattern.File, piece)
		was := before.of(piece, w.facts.numbered)
		if was == nil || !w.noFixes {
			was = w.piece(next, piece)
		} else {
			w.again(next, piece, was)
		}
		w.now.keep(was)
		next, at = next+1, at+len(piece.Lines)
	}
	w.noFixes = w.now.opts.NoFixes
	for _, e := range w.ends {
		w.now.ends = append(w.now.ends, w.end(e))
	}
}

// workedOnto are the pieces that are worked into others, or onto them.
func (w *walk) workedOnto() []*fabric.Piece {
	if w.onto == nil {
		w.onto = new([]*fabric.Piece)
		for _, piece := range w.now.Pattern.Pieces {
			if piece.Onto() {
				*w.onto = append(*w.onto, piece)
			}
		}
	}
	return *w.onto
}

// end lets a rule end, and gives what it found by that.
func (w *walk) end(e ending) []Finding {
	found := len(*w.found)
	e.visit()
	return slices.Clone((*w.found)[found:])
}

// piece shows the rules a piece, each of its statements, and each of its
// rounds. What is known of the file so far (facts) takes in each before they do.
func (w *walk) piece(index int, piece *fabric.Piece) *pieceCheck {
	was := &pieceCheck{piece: *piece, before: w.facts.numbered}
	from, texts, hurts := len(*w.found), len(w.facts.texts), len(w.facts.hurts)
	w.at = piece.At
	w.facts.open(index, piece)
	native := w.facts.native
	w.facts.native = false
	for _, visit := range w.pieces {
		visit(piece)
	}
	round := 0
	for off, l := range piece.Lines {
		w.facts.stirred = false
		w.statement(piece.At+off, l)
		if round < len(piece.Rounds) && piece.Rounds[round].Off == off {
			r := piece.Rounds[round]
			round++
			w.facts.round(w.at, r)
			for _, visit := range w.rounds {
				visit(piece, r)
			}
		}
		if w.facts.stirred {
			was.stirring = append(was.stirring, int32(off))
		}
	}
	was.native, was.shape, was.last = w.facts.native, w.facts.cur.partShape, w.facts.numbered
	w.facts.native = w.facts.native || native
	w.facts.hear(texts)
	was.hurts = hurtsMoved(w.facts.hurts[hurts:], -piece.At)
	was.findings = moved((*w.found)[from:], -w.facts.pattern.File.Start(piece.At))
	return was
}

// statement shows the rules one statement.
func (w *walk) statement(at int, l *grammar.Line) {
	w.at = at
	switch l.Node.(type) {
	case grammar.Blank:
		return
	case grammar.Comment:
		w.facts.line(at, l)
		return
	}
	w.facts.line(at, l)
	for _, visit := range w.lines {
		visit(l)
	}
}
