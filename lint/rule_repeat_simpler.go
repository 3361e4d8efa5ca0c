package lint

import (
	"fmt"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "repeat-simpler",
	Severity: Hint,
	Summary:  "The same stitches are written out again and again, or a repeat is worked once",
	Why:      "A maker loses her place in \"sc 2, inc, sc 2, inc, sc 2, inc\" and finds it in \"(sc 2, inc) x 3\". A repeat that is worked once makes her look for the others.",
	Repair:   "The repeat, or the steps without one. They make the same stitches, and `--fix` writes them.",
	Bad:      "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc, inc, sc, inc, sc, inc (9)\n",
	Good:     "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc, inc) x 3 (9)\n",
	Start: func(p *Pass) Visits {
		s := &repeatSimpler{Pass: p, ids: map[string]int32{}}
		return Visits{Round: s.round}
	},
})

type repeatSimpler struct {
	*Pass
	// ids number the wordings of steps, so that runs are found by comparing numbers.
	ids map[string]int32
	row []int32
}

func (s *repeatSimpler) round(piece *fabric.Piece, r *fabric.Round) {
	if r.Node.Broken || len(r.Problems) > 0 {
		return // what is wrong comes first
	}
	s.once(lineOf(piece, r), r.Line.Text, r.Node.Steps)
	if len(r.Node.Steps) >= 2*leastRepeats {
		s.runs(lineOf(piece, r), r.Line.Text, r.Node.Steps)
	}
}

// once reports brackets that are worked once.
func (s *repeatSimpler) once(at int, text string, steps []grammar.Step) {
	for i := range steps {
		g := steps[i].Group
		if g == nil {
			continue
		}
		if steps[i].Kind == grammar.StepBracket && g.Times.Kind == grammar.TimesTotal && g.Times.Count.N == 1 && len(steps[i].Places) == 0 && steps[i].Loop == grammar.LoopUnsaid {
			inner := strings.TrimSpace(g.Inner.In(text))
			s.Report(at, steps[i].Span, sayWorkedOnce(), fix(sayWrite(inner), true, s.edit(at, steps[i].Span, inner)))
			return
		}
		s.once(at, text, g.Steps)
	}
}

const (
	// leastRepeats is from how many times on a repeat reads better, longestRepeat
	// how many steps one is looked for in.
	leastRepeats  = 3
	longestRepeat = 8
)

// runs reports the longest run of like steps that a repeat would say.
func (s *repeatSimpler) runs(at int, text string, steps []grammar.Step) {
	s.row = s.row[:0]
	for i := range steps {
		s.row = append(s.row, s.id(text, &steps[i], int32(-1-i)))
	}
	first, period, times := 0, 0, 0
	for p := 2; p <= longestRepeat; p++ {
		for i := 0; i+p < len(s.row); {
			n := i
			for n+p < len(s.row) && s.row[n] == s.row[n+p] {
				n++
			}
			if k := (n-i)/p + 1; k >= leastRepeats && k*p > period*times {
				first, period, times = i, p, k
			}
			i = n + 1
		}
	}
	if times < leastRepeats {
		return
	}
	last := steps[first+period*times-1]
	span := steps[first].Span.To(last.Span)
	body := steps[first].Span.To(steps[first+period-1].Span).In(text)
	new := "(" + strings.Join(strings.Fields(body), " ") + ") x " + strconv.Itoa(times)
	s.Report(at, span, sayRepeats(times), fix(sayWrite(new), true, s.edit(at, span, new)))
}

// id numbers a step by its wording; one that stands for itself only, such as a
// join or a starting chain with what it stands for, gets a number of its own.
func (s *repeatSimpler) id(text string, step *grammar.Step, own int32) int32 {
	if step.Kind != grammar.StepWork && step.Kind != grammar.StepSkip && step.Kind != grammar.StepBracket || step.Standing() != nil || step.Fill.Kind != grammar.FillNone {
		return own
	}
	for i := range step.Places {
		switch p := &step.Places[i]; p.Kind {
		case grammar.PlaceNext, grammar.PlaceSame, grammar.PlaceEachNext, grammar.PlaceOne, grammar.PlaceAny:
			if p.Of().Written() || p.Fill.Kind != grammar.FillNone {
				return own
			}
		default:
			return own
		}
	}
	k := strings.Join(strings.Fields(strings.ToLower(step.Span.In(text))), " ")
	if id, ok := s.ids[k]; ok {
		return id
	}
	id := int32(len(s.ids) + 1)
	s.ids[k] = id
	return id
}

func sayWorkedOnce() string { return "this repeat is worked once, so it needs no brackets" }

func sayRepeats(n int) string {
	return fmt.Sprintf("these steps come %d times over; a repeat says so", n)
}
