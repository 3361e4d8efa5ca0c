package lsp

import (
	"workeven/fabric"
	"workeven/grammar"
)

// mostBelow is how many rounds down increases or decreases are looked for: what
// is further down is hidden by plain rounds.
const mostBelow = 10

// shapedBelow finds the last round below one that increases or decreases, and
// where in it: in rising order, as shares of its length. None where no round
// near is known to.
func shapedBelow(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) ([]float64, *fabric.Round) {
	found := false
	for i := len(piece.Rounds) - 1; i >= 0; i-- {
		x := piece.Rounds[i]
		switch {
		case x == r:
			found = true
			i = min(i, len(piece.Rounds)-1)
		case !found:
		case r.Off-x.Off > mostBelow || !x.Known || x.Makes == 0:
			return nil, nil
		default:
			if at := shapingsOf(p, piece, x); len(at) > 0 {
				return at, x
			}
		}
	}
	return nil, nil
}

// shapingsOf are the places of a round's increases and decreases.
func shapingsOf(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) []float64 {
	if r.Start || r.RoundsWorked != 1 {
		return nil
	}
	w := shapingWalk{by: explainedSteps(p, piece, r)}
	w.steps(r.Node.Steps)
	if w.made != r.Makes || len(w.at) > mostShapings {
		return nil
	}
	for i := range w.at {
		w.at[i] /= float64(w.made)
	}
	return w.at
}

// shapingWalk goes through the steps of a round as often as they are worked.
type shapingWalk struct {
	by   map[*grammar.Step]fabric.StepResult
	made int64
	at   []float64
}

func (w *shapingWalk) steps(steps []grammar.Step) {
	for i := range steps {
		if len(w.at) > mostShapings {
			return
		}
		s := &steps[i]
		x, ok := w.by[s]
		if !ok {
			continue
		}
		if s.Group != nil && len(s.Places) == 0 {
			before := w.made
			for range min(x.Repeats, mostShapings) {
				w.steps(s.Group.Steps)
			}
			w.made = max(w.made, before+x.Makes)
			continue
		}
		n := max(x.Makes-x.Takes, x.Takes-x.Makes)
		if n > 0 && x.Takes > 0 && n <= mostShapings {
			for k := range n {
				w.at = append(w.at, float64(w.made)+(float64(k)+0.5)*float64(x.Makes)/float64(n))
			}
		}
		w.made += x.Makes
	}
}
