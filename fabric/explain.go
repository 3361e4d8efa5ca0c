package fabric

import (
	"slices"

	"workeven/grammar"
)

// StepResult is what one step of a round does, the first time it is worked.
type StepResult struct {
	Step *grammar.Step
	// From and To are the stitches of the edge below that it stands on,
	// counted from 1; To is From-1 where it takes none.
	From, To int64
	// Takes and Makes are of all the step; for a bracket or star, of all its
	// repeats.
	Takes, Makes int64
	// Each and EachMakes are what one repeat of a bracket or star takes and
	// makes, Repeats how often it is worked; zero for other steps.
	Each, EachMakes, Repeats int64
}

// Explain works a round once more and tells what each of its steps does, those
// in brackets included, in the order in which they are first worked.
func (p *Pattern) Explain(piece *Piece, r *Round) []StepResult {
	if r.Node.Broken || r.entry == nil {
		return nil
	}
	var out []StepResult
	index := map[*grammar.Step]int{}
	type mark struct{ takes, makes int64 }
	var open []mark
	trace := func(s *grammar.Step, w *worker, done bool) {
		if !done {
			open = append(open, mark{w.takes, w.makes})
			if _, ok := index[s]; !ok {
				index[s] = len(out)
				out = append(out, StepResult{Step: s, From: w.takes + 1, To: -1})
			}
			return
		}
		m := open[len(open)-1]
		open = open[:len(open)-1]
		x := &out[index[s]]
		if x.To >= 0 {
			return // only the first working is told
		}
		x.Takes, x.Makes = w.takes-m.takes, w.makes-m.makes
		x.To = m.takes + x.Takes
	}
	p.traced(piece, r, trace)
	for i := range out {
		x := &out[i]
		if x.Step.Group == nil {
			continue
		}
		for j := range x.Step.Group.Steps {
			if k, ok := index[&x.Step.Group.Steps[j]]; ok {
				x.Each += out[k].Takes
				x.EachMakes += out[k].Makes
			}
		}
		switch {
		case len(x.Step.Places) > 0:
			x.Each, x.EachMakes = 0, 0
		case x.Each > 0:
			x.Repeats = x.Takes / x.Each
		case x.EachMakes > 0:
			x.Repeats = x.Makes / x.EachMakes
		}
	}
	return out
}

// traced works the first round of a statement with somebody watching.
func (p *Pattern) traced(piece *Piece, r *Round, trace func(*grammar.Step, *worker, bool)) {
	st := *r.entry
	below := piece.Rounds
	for i, x := range below {
		if x == r {
			below = below[:i:i]
			break
		}
	}
	o := p.onceTraced(piece, lower{kept: below}, &st, r.Node, r.Line, int64(r.Node.From.N), false, trace)
	o.w.release()
}

// Mends says whether an edit to a round's line makes the round come out, and
// the rest of the piece no worse than it was.
func (p *Pattern) Mends(piece *Piece, r *Round, c Repair) bool { return p.holds(piece, r, c) }

// PieceAt finds the piece that a line of the file belongs to, or nil.
func (p *Pattern) PieceAt(line int) *Piece {
	i, _ := slices.BinarySearchFunc(p.Pieces, line+1, func(a *Piece, at int) int { return a.At - at })
	if i == 0 || line >= p.Pieces[i-1].At+len(p.Pieces[i-1].Lines) {
		return nil
	}
	return p.Pieces[i-1]
}

// RoundAt finds the round that stands on a line of the file; nil where none does.
func (p *Pattern) RoundAt(line int) (*Piece, *Round) {
	piece := p.PieceAt(line)
	if piece == nil {
		return nil, nil
	}
	j, ok := slices.BinarySearchFunc(piece.Rounds, line-piece.At, func(a *Round, off int) int { return a.Off - off })
	if !ok {
		return nil, nil
	}
	return piece, piece.Rounds[j]
}
