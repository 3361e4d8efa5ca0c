package lint

import (
	"slices"

	"workeven/fabric"
	"workeven/grammar"
)

// amend is Recheck where nothing changed but rounds of a piece, and those say
// nothing new of the others: only what changed is looked at again, and only
// those rules end again that can end otherwise. It is nil where more changed.
func (old *Checked) amend(pattern *fabric.Pattern, opts Options) *Checked {
	if !opts.NoFixes || !old.opts.NoFixes || !old.holds(pattern, opts) {
		return nil
	}
	change := grammar.Changed(old.Pattern.File, pattern.File)
	changed, ok := changedPieces(old.Pattern, pattern, change)
	if !ok {
		return nil
	}
	f := old.recall()
	if f == nil {
		return nil
	}
	w, ran := begin(pattern, f, opts)
	w.noFixes = true
	now := w.now
	now.pieces = slices.Clone(old.pieces)
	shapes := true // are as they were
	for _, k := range changed {
		was := old.pieces[k]
		p := w.alone(k, was.before)
		if !p.tellsAs(was) {
			old.facts.Store(f)
			return nil
		}
		now.pieces[k] = p
		shapes = shapes && sameShapes(was, p)
	}
	f.amended(pattern, change)
	for _, k := range changed {
		part := &f.all[k]
		part.partShape, part.runs = now.pieces[k].shape, nil
	}
	now.noisy = old.stillNoisy(now, changed)
	for _, k := range now.noisy {
		*w.found = append(*w.found, moved(now.pieces[k].findings, pattern.File.Start(pattern.Pieces[k].At))...)
	}
	move := mover{old.Pattern.File, pattern.File, change}
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

// stillNoisy are the pieces that have findings once some were looked at again.
func (old *Checked) stillNoisy(now *Checked, changed []int) []int {
	same := func(k int) bool { return (len(old.pieces[k].findings) > 0) == (len(now.pieces[k].findings) > 0) }
	if !slices.ContainsFunc(changed, func(k int) bool { return !same(k) }) {
		return old.noisy
	}
	var noisy []int
	for k, p := range now.pieces {
		if len(p.findings) > 0 {
			noisy = append(noisy, k)
		}
	}
	return noisy
}

// changedPieces are the pieces of a reworked pattern that came out otherwise
// than in the old one, by their index; false where more has changed than
// statements inside one piece.
func changedPieces(old, new *fabric.Pattern, c grammar.Change) ([]int, bool) {
	if len(old.Pieces) != len(new.Pieces) {
		return nil, false
	}
	inside, _ := slices.BinarySearchFunc(old.Pieces, c.From, func(p *fabric.Piece, at int) int { return p.At - at })
	inside-- // the last piece that begins before what changed
	if inside < 0 || c.OldTo > old.Pieces[inside].At+len(old.Pieces[inside].Lines) {
		return nil, false
	}
	var changed []int
	for i, p := range new.Pieces {
		was := old.Pieces[i]
		if p == was && (i <= inside || c.By() == 0) {
			continue
		}
		by := 0
		if i > inside {
			by = c.By()
		}
		grown := 0
		if i == inside {
			grown = c.By()
		}
		switch {
		case p.At != was.At+by || len(p.Lines) != len(was.Lines)+grown || p.Node != was.Node || p.Mode != was.Mode || p.Make != was.Make:
			return nil, false
		case i == inside || !p.Same(was):
			changed = append(changed, i)
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

// tellsAs says whether a piece tells facts the same as before: the same
// statements do, though others may stand between them.
func (p *pieceCheck) tellsAs(was *pieceCheck) bool {
	return p.native == was.native && p.last == was.last &&
		slices.EqualFunc(p.stirring, was.stirring, func(a, b int32) bool { return p.piece.Lines[a] == was.piece.Lines[b] }) &&
		slices.EqualFunc(p.hurts, was.hurts, func(a, b hurt) bool { return p.piece.Lines[a.at] == was.piece.Lines[b.at] && a.said == b.said })
}

// sameShapes says whether a piece is as before to rules that read shapes.
func sameShapes(was, now *pieceCheck) bool {
	a, b := was.shape, now.shape
	if !slices.EqualFunc(a.chains, b.chains, func(a, b chainUse) bool {
		return a.late == b.late && a.round.Stands == b.round.Stands && sameLabel(a.round, b.round)
	}) {
		return false
	}
	return a.figures == b.figures && slices.EqualFunc(was.piece.Rounds, now.piece.Rounds, func(a, b *fabric.Round) bool {
		return sameLabel(a, b) && leftBy(a) == leftBy(b)
	})
}

func sameLabel(a, b *fabric.Round) bool {
	return a.Node.Row == b.Node.Row && a.Node.From == b.Node.From && a.Node.To == b.Node.To && a.Node.Label == b.Node.Label
}

// amended takes facts on to a pattern in which statements of a piece changed
// that tell nothing: all others stand where they stand now.
func (f *facts) amended(pattern *fabric.Pattern, c grammar.Change) {
	f.pattern, f.wordUses.pattern = pattern, pattern
	for i := range f.all {
		f.all[i].piece = pattern.Pieces[i]
	}
	if c.By() == 0 {
		return
	}
	move := func(at *int) {
		if *at >= c.OldTo {
			*at += c.By()
		}
	}
	for _, at := range []*int{&f.title, &f.terms, &f.making, &f.first, &f.header} {
		move(at)
	}
	moveAll(f.yarns, move)
	moveAll(f.notions, move)
	moveAll(f.hooks, move)
	moveAll(f.gauges, move)
	moveAll(f.sizes, move)
	moveAll(f.cautions, move)
	moveAll(f.usedList, move)
	moveAll(f.foreign, move)
	for k, x := range f.own {
		move(&x.at)
		f.own[k] = x
	}
	for _, list := range [][]int{f.comments, f.texts} {
		for i := range list {
			move(&list[i])
		}
	}
	for i := range f.hurts {
		move(&f.hurts[i].at)
	}
	for i := range f.uses {
		move(&f.uses[i].at)
	}
	for i := range f.onto {
		move(&f.onto[i].at)
	}
	for _, j := range f.joins {
		move(&j.at)
	}
	for i := range f.all {
		p := &f.all[i]
		move(&p.stuffed)
		move(&p.closed)
		for k := range p.markers {
			move(&p.markers[k].at)
		}
	}
}

func moveAll[T any](list []on[T], move func(*int)) {
	for i := range list {
		move(&list[i].at)
	}
}

// mover moves findings from a file to one that differs in some statements.
type mover struct {
	old, new *grammar.File
	change   grammar.Change
}

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
	now, ok := m.change.Now(at)
	if !ok {
		return false
	}
	by := m.new.Start(now) - m.old.Start(at)
	*start, *end = *start+by, *end+by
	return true
}
