package lsp

import (
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// spread offers to space the increases or decreases of a round evenly: as many
// as lead from the edge below to the total, or as the words make.
func (o *offered) spread() []action {
	p := o.Pattern()
	piece, r := p.RoundAt(o.first)
	if r == nil || r.Node.Broken || r.In == nil || r.In.Unknown || r.Start || r.Node.To.N > r.Node.From.N || !stitchesOnly(r.In) || len(r.Spaces) > 0 {
		return nil
	}
	below := r.In.Stitches()
	above, stated := p.StatedStitches(r.Node.Total)
	if !stated {
		if !r.Known {
			return nil
		}
		above = r.Makes
	}
	span, ok := workedSpan(r)
	if !ok {
		return nil
	}
	main := mainStitch(p, piece)
	var out []action
	for _, way := range []struct {
		name      string
		staggered bool
	}{{"evenly", false}, {"evenly, staggered", true}} {
		words := spaced(below, above, main, way.staggered)
		if words == "" {
			continue
		}
		what := manyOf(above-below, "increase")
		if above < below {
			what = manyOf(below-above, "decrease")
		}
		out = append(out, o.rewrite(piece, r, span, words, "Space "+what+" "+way.name+": "+words)...)
	}
	return out
}

func manyOf(n int64, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.FormatInt(n, 10) + " " + what + "s"
}

// stitchesOnly says whether an edge is stitches and nothing else.
func stitchesOnly(e *fabric.Edge) bool {
	for _, i := range e.Items {
		if i.Kind != fabric.Stitches {
			return false
		}
	}
	return true
}

// mainStitch is what a piece is worked in, in the pattern's terms.
func mainStitch(p *fabric.Pattern, piece *fabric.Piece) string {
	if piece != nil && piece.Main != nil {
		return piece.Main.Name
	}
	if p.Header.System.String() == "UK" {
		return "dc"
	}
	return "sc"
}

// workedSpan are the steps of a round between the chain that begins it and what
// ends it. False where the chain stands for a stitch, or steps do more than work.
func workedSpan(r *fabric.Round) (grammar.Span, bool) {
	steps := r.Node.Steps
	first, last := 0, len(steps)-1
	if r.Stands.Present {
		if r.Stands.Counted || r.Stands.Skipped {
			return grammar.Span{}, false
		}
		first++
	}
	for first <= last && (steps[first].Kind == grammar.StepTurn || steps[first].Kind == grammar.StepYarn) {
		first++
	}
	for first <= last && steps[last].Kind != grammar.StepWork && steps[last].Kind != grammar.StepBracket && steps[last].Kind != grammar.StepStar {
		last--
	}
	if first > last {
		return grammar.Span{}, false
	}
	for _, s := range steps[first : last+1] {
		if s.Kind != grammar.StepWork && s.Kind != grammar.StepBracket && s.Kind != grammar.StepStar || s.Loop != grammar.LoopUnsaid {
			return grammar.Span{}, false
		}
	}
	return steps[first].Span.To(steps[last].Span), true
}

// spaced writes a round that leads from one number of stitches to another with
// its increases or decreases as far from each other as can be; empty where
// there is none, or they have no room. Staggered ones begin half a gap further
// on, so that they do not stand above those of the round below.
func spaced(below, above int64, main string, staggered bool) string {
	n, takes, shape := above-below, int64(1), "inc"
	if n < 0 {
		n, takes, shape = -n, 2, "dec"
	}
	plain := below - n*takes
	if n == 0 || plain < 0 || n > 1000 || staggered && plain < 2*n {
		return ""
	}
	if !staggered {
		// gaps of two lengths at most, the longer ones spread among the shorter
		rest := plain % n
		groups := n / gcd(n, rest)
		if groups > 12 {
			return ""
		}
		var parts []string
		for i := range groups {
			parts = append(parts, gap(plain/n+bump(i, rest, n), main, shape))
		}
		return repeated(strings.Join(parts, ", "), n/groups)
	}
	gapOf := plain / n
	if plain%n != 0 {
		return ""
	}
	half := gapOf / 2
	words := gap(gapOf-half, main, shape)
	if n > 1 {
		words += ", " + repeated(gap(gapOf, main, shape), n-1)
	}
	return words + ", " + several(main, half)
}

// bump is 1 where the i-th of n gaps is one of the longer ones.
func bump(i, longer, n int64) int64 { return (i+1)*longer/n - i*longer/n }

func gap(plain int64, main, shape string) string {
	if plain == 0 {
		return shape
	}
	return several(main, plain) + ", " + shape
}

func several(stitch string, n int64) string {
	if n == 1 {
		return stitch
	}
	return stitch + " " + strconv.FormatInt(n, 10)
}

func repeated(words string, times int64) string {
	switch {
	case times == 1:
		return words
	case !strings.Contains(words, ","):
		return several(words, times)
	}
	return "(" + words + ") x " + strconv.FormatInt(times, 10)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
