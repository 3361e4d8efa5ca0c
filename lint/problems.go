package lint

import (
	"fmt"
	"slices"

	"workeven/fabric"
)

// fromProblems is a rule that reports what working the pattern brought to
// light under its name.
func fromProblems(kind fabric.ProblemKind) func(*Pass) Visits {
	return func(p *Pass) Visits {
		return Visits{Round: func(piece *fabric.Piece, r *fabric.Round) {
			for _, x := range r.Problems {
				if x.Kind == kind {
					p.problem(piece, r, x)
				}
			}
		}}
	}
}

// problem reports one slip with the repairs that hold, and the round below.
func (p *Pass) problem(piece *fabric.Piece, r *fabric.Round, x fabric.Problem) {
	span := x.Span
	if !span.Written() {
		span = r.Node.Label
	}
	f := p.Report(lineOf(piece, r), span, x.Message)
	if below := roundBelow(piece, r); below != nil && x.Counting() {
		f.Related = append(f.Related, p.related(lineOf(piece, below), below.Node.Label, sayBelow(below)))
	}
	if p.walk.noFixes {
		return
	}
	for _, repair := range p.Pattern.Repairs(piece, r, x) {
		f.Fixes = append(f.Fixes, fix(repair.Title, repair.Sure, p.edit(piece.At+repair.Off, repair.Span, repair.New)))
	}
}

// roundBelow is the round that another is worked into; nil for the first one.
func roundBelow(piece *fabric.Piece, r *fabric.Round) *fabric.Round {
	i, found := slices.BinarySearchFunc(piece.Rounds, r.Off, func(a *fabric.Round, off int) int { return a.Off - off })
	if !found || i == 0 || r.Start {
		return nil
	}
	return piece.Rounds[i-1]
}

func sayBelow(r *fabric.Round) string {
	if r.Meant == nil || r.Meant.Unknown {
		return "the round below"
	}
	leaves := "leaves"
	if several(r) {
		leaves = "leave"
	}
	return fmt.Sprintf("%s %s %s to work into", r.Name(), leaves, stitches(r.Meant.Stitches()))
}
