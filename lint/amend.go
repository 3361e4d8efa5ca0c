package lint

import (
	"slices"

	"workeven/fabric"
	"workeven/grammar"
)

// amend is Recheck where nothing changed but rounds of some pieces, and those
// say nothing new of the others: only these pieces are looked at again, and only
// those rules end again that can end otherwise. It is nil where more changed.
func (old *Checked) amend(pattern *fabric.Pattern, opts Options) *Checked {
	if !opts.NoFixes || !old.opts.NoFixes || !old.holds(pattern, opts) {
		return nil
	}
	changed, ok := changedPieces(old.Pattern, pattern)
	if !ok {
		return nil
	}
	f := old.recall()
	if f == nil {
		return nil
	}
	w, ran := begin(pattern, f, opts)
	w.noFixes = true
	anew := make([]*pieceCheck, len(changed))
	shapes := true // are as they were
	for i, k := range changed {
		was := old.pieces[k]
		anew[i] = w.alone(k, was.before)
		if !anew[i].tellsAs(was) {
			old.facts.Store(f)
			return nil
		}
		shapes = shapes && sameShapes(was, anew[i])
	}
	f.pattern, f.wordUses.pattern = pattern, pattern
	now := w.now
	now.pieces, now.noisy = slices.Clone(old.pieces), old.noisy
	for i, k := range changed {
		part := &f.all[k]
		part.piece, part.partShape, part.runs = pattern.Pieces[k], anew[i].shape, nil
		if (len(anew[i].findings) > 0) != (len(old.pieces[k].findings) > 0) {
			now.noisy = nil
		}
		now.pieces[k] = anew[i]
	}
	if now.noisy == nil {
		for k, p := range now.pieces {
			if len(p.findings) > 0 {
				now.noisy = append(now.noisy, k)
			}
		}
	}
	for _, k := range now.noisy {
		*w.found = append(*w.found, moved(now.pieces[k].findings, pattern.File.Start(pattern.Pieces[k].At))...)
	}
	move := mover{old.Pattern.File, pattern.File}
	now.outside, _ = move.all(old.outside)
	*w.found = append(*w.found, now.outside...)
	for i, e := range w.ends {
		if e.reads == readsWords || e.reads == readsShapes && shapes {
			if list, ok := move.all(old.ends[i]); ok {
				now.ends = append(now.ends, list)
				*w.found = append(*w.found, list...)
				continue
			}
		}
		now.ends = append(now.ends, w.end(e))
	}
	w.finish(ran)
	return now
}

// changedPieces are the pieces of a reworked pattern that differ from those
// of the old one, by their index; false where more has changed than statements
// inside pieces that stay as long as they were.
func changedPieces(old, new *fabric.Pattern) ([]int, bool) {
	if len(old.Pieces) != len(new.Pieces) || len(old.File.Lines) != len(new.File.Lines) {
		return nil, false
	}
	var changed []int
	for i, p := range new.Pieces {
		was := old.Pieces[i]
		if p == was {
			continue
		}
		if p.At != was.At || len(p.Lines) != len(was.Lines) || p.Node != was.Node || p.Mode != was.Mode || p.Make != was.Make {
			return nil, false
		}
		changed = append(changed, i)
	}
	inside := 0
	for at, l := range new.File.Lines {
		if l == old.File.Lines[at] {
			continue
		}
		for inside < len(changed) && new.Pieces[changed[inside]].At+len(new.Pieces[changed[inside]].Lines) <= at {
			inside++
		}
		if inside == len(changed) || at < new.Pieces[changed[inside]].At {
			return nil, false
		}
	}
	return changed, true
}

// alone shows the rules one piece, apart from the facts of the file.
func (w *walk) alone(index int, numbered int64) *pieceCheck {
	file := w.facts
	w.facts = factsWith(w.now.Pattern, file.hearing)
	defer func() {
		w.facts.release()
		w.facts = file
	}()
	w.facts.numbered = numbered
	found := len(*w.found)
	p := w.piece(index, w.now.Pattern.Pieces[index])
	*w.found = (*w.found)[:found]
	return p
}

// tellsAs says whether a piece tells facts the same as before.
func (p *pieceCheck) tellsAs(was *pieceCheck) bool {
	if p.native != was.native || p.last != was.last || !slices.Equal(p.hurts, was.hurts) || !slices.Equal(p.stirring, was.stirring) {
		return false
	}
	for _, off := range p.stirring {
		if p.piece.Lines[off] != was.piece.Lines[off] {
			return false
		}
	}
	return true
}

// sameShapes says whether a piece is as before to rules that read shapes.
func sameShapes(was, now *pieceCheck) bool {
	a, b := was.shape, now.shape
	if !slices.EqualFunc(a.chains, b.chains, func(a, b chainUse) bool {
		return a.late == b.late && a.round.Off == b.round.Off && a.round.Stands == b.round.Stands
	}) {
		return false
	}
	return a.figures == b.figures && slices.EqualFunc(was.piece.Rounds, now.piece.Rounds, func(a, b *fabric.Round) bool {
		return a.Off == b.Off && a.Node.Row == b.Node.Row && a.Node.From == b.Node.From && a.Node.To == b.Node.To && a.Node.Label == b.Node.Label && upon(a) == upon(b)
	})
}

// mover moves findings from a file to one that differs in some statements.
type mover struct{ old, new *grammar.File }

// all are findings where they stand now; false where any speaks of a statement
// that has changed.
func (m mover) all(list []Finding) ([]Finding, bool) {
	list = slices.Clone(list)
	for i := range list {
		x := &list[i]
		x.Fixes = nil
		if !m.span(&x.Start, &x.End) {
			return nil, false
		}
		x.Related = slices.Clone(x.Related)
		for j := range x.Related {
			if !m.span(&x.Related[j].Start, &x.Related[j].End) {
				return nil, false
			}
		}
	}
	return list, true
}

func (m mover) span(start, end *int) bool {
	at := m.old.LineAt(*start)
	if m.old.Lines[at] != m.new.Lines[at] {
		return false
	}
	by := m.new.Start(at) - m.old.Start(at)
	*start, *end = *start+by, *end+by
	return true
}
