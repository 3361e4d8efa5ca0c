package lint

import (
	"fmt"
	"slices"

	"workeven/fabric"
)

// fromProblems is a rule that reports what working the pattern brought to
// light under its name. What speaks of another piece waits for the end.
func fromProblems(kind fabric.ProblemKind) func(*Pass) Visits {
	return func(p *Pass) Visits {
		return Visits{
			Round: func(piece *fabric.Piece, r *fabric.Round) {
				for _, x := range r.Problems {
					if x.Kind == kind && !ofAnother(x) {
						p.problem(piece, r, x)
					}
				}
			},
			End:   func() { p.problemsOfOthers(kind) },
			Reads: readsRounds,
		}
	}
}

// ofAnother says whether a problem speaks of another piece.
func ofAnother(x fabric.Problem) bool {
	return x.Of.Kind == fabric.SpokenPiece || x.Of.Kind == fabric.SpokenMake
}

func (p *Pass) problemsOfOthers(kind fabric.ProblemKind) {
	for _, piece := range p.walk.workedOnto() {
		for _, r := range piece.Rounds {
			for _, x := range r.Problems {
				if x.Kind == kind && ofAnother(x) {
					p.problem(piece, r, x)
				}
			}
		}
	}
}

// problem reports one slip with the repairs that hold, and the other places
// that it speaks of.
func (p *Pass) problem(piece *fabric.Piece, r *fabric.Round, x fabric.Problem) {
	span := x.Span
	if !span.Written() {
		span = r.Node.Label
	}
	f := p.Report(lineOf(piece, r), span, x.Message)
	if x.Counting() {
		f.Related = p.spokenOf(piece, r, x)
	}
	if p.walk.noFixes {
		return
	}
	for _, repair := range p.Pattern.Repairs(piece, r, x) {
		if piece.Lines[repair.Off].HasComment(repair.Span) {
			continue // it would be lost
		}
		f.Fixes = append(f.Fixes, fix(repair.Title, repair.Sure, p.edit(piece.At+repair.Off, repair.Span, repair.New)))
	}
}

// spokenOf are the other places that a slip of counting speaks of.
func (p *Pass) spokenOf(piece *fabric.Piece, r *fabric.Round, x fabric.Problem) []Related {
	var list []Related
	to := func(other *fabric.Round, message string) {
		if other != nil && other != r {
			list = append(list, p.related(lineOf(piece, other), other.Node.Label, message))
		}
	}
	below, above := neighborsOf(piece, r)
	if r.Start {
		below = nil
	}
	if x.Steps > 0 {
		to(lowerRound(piece, r, x.Steps), sayItsSteps())
	}
	switch x.Of.Kind {
	case fabric.SpokenRound, fabric.SpokenLoops, fabric.SpokenWorked, fabric.SpokenStart:
		if other := lowerRound(piece, r, x.Of.Label); other != nil {
			to(other, saySpoken(x.Of.Kind, fabric.RoundName(other.Node.Row, x.Of.Label)))
		}
	case fabric.SpokenMake:
		if of := p.facts().named(x.Of.Piece); of != nil && of.piece.Node != nil {
			list = append(list, p.related(of.piece.At, of.piece.Node.Name.Span, sayMadeHere(of.made())))
		}
	case fabric.SpokenPiece:
		if of := p.facts().named(x.Of.Piece); of != nil && of.piece.Last() != nil {
			last := of.piece.Last()
			list = append(list, p.related(lineOf(of.piece, last), last.Node.Label, sayBelow(last)))
		}
	case fabric.SpokenBelow:
		to(below, sayBelow(below))
	case fabric.SpokenSpaces:
		to(below, saySpacesBelow(below))
	case fabric.SpokenStanding:
		to(below, sayStandingBelow(below))
	}
	if x.Words || x.Total {
		to(above, sayWorksFrom(above, r))
	}
	return list
}

// slips says whether a round's count is not to be built on: something is wrong
// with it, which is said there.
func slips(r *fabric.Round) bool {
	return !r.Known || slices.ContainsFunc(r.Problems, fabric.Problem.Counting)
}

// neighborsOf are the rounds right below and right above one in its piece; nil
// where there is none.
func neighborsOf(piece *fabric.Piece, r *fabric.Round) (below, above *fabric.Round) {
	i, found := slices.BinarySearchFunc(piece.Rounds, r.Off, func(a *fabric.Round, off int) int { return a.Off - off })
	if !found {
		return nil, nil
	}
	if i > 0 {
		below = piece.Rounds[i-1]
	}
	if i+1 < len(piece.Rounds) {
		above = piece.Rounds[i+1]
	}
	return below, above
}

// lowerRound is the last round of a number before another; nil without one.
func lowerRound(piece *fabric.Piece, r *fabric.Round, label int64) *fabric.Round {
	last := piece.RoundNumbered(label)
	if last == nil || last.Off < r.Off {
		return last
	}
	for i := len(piece.Rounds) - 1; i >= 0; i-- { // numbers that come twice
		if other := piece.Rounds[i]; other.Off < r.Off && int64(other.Node.From.N) <= label && label <= int64(other.Node.To.N) {
			return other
		}
	}
	return nil
}

// leaves is "Rnd 5 leaves", "Rnds 6-9 leave".
func leaves(r *fabric.Round) string { return verb(r, "leaves", "leave") }

// left is what a round leaves to be worked into: so many stitches, or chains.
type left struct {
	known, chains bool
	n             int64
}

func leftBy(r *fabric.Round) left {
	if r == nil || r.Meant == nil || r.Meant.Unknown {
		return left{}
	}
	e := r.Meant
	return left{true, len(e.Items) == 1 && e.Items[0].Kind == fabric.Chains, e.Stitches()}
}

// sayBelow says how much a round leaves; nil says nothing.
func sayBelow(r *fabric.Round) string {
	switch l := leftBy(r); {
	case !l.known:
		return "the round below"
	case l.chains:
		return fmt.Sprintf("%s %s to work into", leaves(r), Number(int(l.n), "chain", "chains"))
	default:
		return fmt.Sprintf("%s %s to work into", leaves(r), stitches(l.n))
	}
}

// saySpacesBelow says which chain spaces a round leaves.
func saySpacesBelow(r *fabric.Round) string {
	switch {
	case r == nil || !r.Known || r.Meant != r.Out:
		return sayBelow(r)
	case len(r.Spaces) == 0:
		return fmt.Sprintf("%s %s and no chain space", leaves(r), stitches(r.Meant.Stitches()))
	}
	var list []string
	for _, s := range r.Spaces {
		list = append(list, s.String())
	}
	return fmt.Sprintf("%s %s to work into", leaves(r), listed(list))
}

// sayStandingBelow says which stitches a round leaves.
func sayStandingBelow(r *fabric.Round) string {
	if r == nil || !r.Known || r.Meant != r.Out || len(r.Stitches) == 0 {
		return sayBelow(r)
	}
	var list []string
	for _, s := range r.Stitches {
		list = append(list, s.String())
	}
	return fmt.Sprintf("%s %s to work into", leaves(r), listed(list))
}

func sayItsSteps() string { return "the steps that are repeated" }

// saySpoken says of a round with a name why a message speaks of it.
func saySpoken(kind fabric.SpokenKind, name string) string {
	switch kind {
	case fabric.SpokenLoops:
		return "the loops of " + name + " are on these stitches"
	case fabric.SpokenWorked:
		return name + " worked into them"
	case fabric.SpokenStart:
		return "this part begins with " + name
	}
	return name + " stands here"
}

// sayWorksFrom says what the round behind a slip was worked from.
func sayWorksFrom(above, slip *fabric.Round) string {
	if above == nil || slip.Meant == nil {
		return ""
	}
	return fmt.Sprintf("%s from %d", verb(above, "works", "work"), slip.Meant.Stitches())
}

func verb(r *fabric.Round, one, many string) string {
	if several(r) {
		return r.Name() + " " + many
	}
	return r.Name() + " " + one
}
