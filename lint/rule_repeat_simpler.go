package lint

import (
	"fmt"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
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
	// key is room for the wording in hand.
	key []byte
	row []int32
}

func (s *repeatSimpler) round(piece *fabric.Piece, r *fabric.Round) {
	if r.Node.Broken || len(r.Problems) > 0 {
		return // what is wrong comes first
	}
	s.once(lineOf(piece, r), r.Line.Said(), r.Node.Steps)
	if len(r.Node.Steps) >= leastRepeats {
		s.runs(lineOf(piece, r), r.Line.Said(), r.Node.Steps)
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
			s.reportAs(at, steps[i].Span, sayWorkedOnce(), inner)
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
	if len(steps) < leastRepeats {
		return
	}
	s.row = s.row[:0]
	for i := range steps {
		s.row = append(s.row, s.id(text, &steps[i], int32(-1-i)))
	}
	first, period, times := 0, 0, 0
	for p := 1; p <= longestRepeat; p++ {
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
	message, new := sayRepeats(times), ""
	if period == 1 {
		message, new = sayOneStep(times), s.several(text, &steps[first], times)
	}
	if new == "" {
		body := steps[first].Span.To(steps[first+period-1].Span).In(text)
		new = "(" + strings.Join(strings.Fields(body), " ") + ") x " + strconv.Itoa(times)
	}
	s.reportAs(at, span, message, new)
}

// reportAs reports steps that may be written in another way. It is not written
// where a private comment among them would be lost.
func (s *repeatSimpler) reportAs(at int, span grammar.Span, message, new string) {
	x := s.Report(at, span, message)
	if !s.File.Lines[at].HasComment(span) {
		x.Fixes = append(x.Fixes, fix(sayWrite(new), true, s.edit(at, span, new)))
	}
}

// several says a step that is worked so many times with a number: "sc 8",
// "htr2tog x 8", "2 sc in each of next 6 sts". It is empty where the step says
// more than its stitch and the next place.
func (s *repeatSimpler) several(text string, step *grammar.Step, times int) string {
	if step.Kind != grammar.StepWork || step.Loop != grammar.LoopUnsaid || step.Tog || step.Evenly {
		return ""
	}
	stitch := s.Pattern.Find(step.Stitch)
	if stitch == nil || stitch.Of != nil && stitch.Of.Kind == terms.Chain {
		return ""
	}
	plain := stitch.Of != nil && stitch.Of.Kind == terms.Plain
	n, name := int(step.Count.N)*times, step.Stitch.In(text)
	switch {
	case len(step.Places) > 0:
		return s.inPlaces(step, plain, name, times)
	case plain:
		return name + " " + strconv.Itoa(n)
	}
	return name + " x " + strconv.Itoa(n)
}

func (s *repeatSimpler) inPlaces(step *grammar.Step, plain bool, name string, times int) string {
	p := &step.Places[0]
	if !plain || len(step.Places) > 1 || p.Kind != grammar.PlaceNext || p.Unit.Kind != grammar.UnitSt || p.Count.N != 1 || p.Loop != grammar.LoopUnsaid {
		return ""
	}
	if step.Count.N > 1 {
		return fmt.Sprintf("%d %s in each of next %d sts", step.Count.N, name, times)
	}
	return fmt.Sprintf("%s in next %d sts", name, times)
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
	s.key = appendWording(s.key[:0], step.Span.In(text))
	if id, ok := s.ids[string(s.key)]; ok {
		return id
	}
	id := int32(len(s.ids) + 1)
	s.ids[string(s.key)] = id
	return id
}

// appendWording adds a text in small letters, with one blank where it has any.
func appendWording(b []byte, text string) []byte {
	blank := false
	for i := range len(text) {
		switch c := text[i]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			blank = true
			continue
		case blank:
			b, blank = append(b, ' '), false
		}
		c := text[i]
		if 'A' <= c && c <= 'Z' {
			c += 'a' - 'A'
		}
		b = append(b, c)
	}
	return b
}

func sayWorkedOnce() string { return "this repeat is worked once, so it needs no brackets" }

func sayRepeats(n int) string {
	return fmt.Sprintf("these steps come %d times over; a repeat says so", n)
}

func sayOneStep(n int) string {
	return fmt.Sprintf("this step comes %d times over; a number says so", n)
}
