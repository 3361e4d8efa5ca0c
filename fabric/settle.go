package fabric

import (
	"slices"

	"workeven/grammar"
)

// verdict is which of two the next rounds show to be the slip.
type verdict uint8

const (
	unclear verdict = iota
	totalWrong
	wordsWrong
)

// ahead is how many rounds on two readings are followed until they part.
const ahead = 6

// settle holds a round's total against its words, blames a slip on one of
// them, and chooses the edge that the next round is worked into.
func (p *Pattern) settle(piece *Piece, r *Round, next state) state {
	stated, has := p.StatedStitches(r.Node.Total)
	slip := counting(r.Problems)
	x := p.compare(r, r.Node.Total)
	switch {
	case !r.Known:
		return next
	case r.follows, !slip && !x.differs:
		return next
	case !slip && x.chains:
		r.Problems = append(r.Problems, Problem{Kind: TwoReadings, Span: x.span, Message: p.sayChainsCounted(r, stated)})
		return next
	}
	r.dropReadings()
	words := next
	readings := []state{words}
	meant := words
	if !slip && x.spaces { // which spaces there are is not known where the total is right
		said := next
		said.edge = vague(r.Makes)
		readings = append(readings, said)
	}
	if has && stated != r.Makes {
		said := next
		said.edge = vague(stated)
		if e := p.repaired(piece, r, stated); e != nil {
			said.edge = e
		}
		readings = append(readings, said)
		if slip { // words that do not fit are the likelier slip
			readings[0], readings[1] = said, words
		}
	}
	best, clear := p.likelier(piece, r, readings)
	meant = readings[best]
	byTotal := has && stated != r.Makes && meant.edge != words.edge
	r.Meant = meant.edge
	if slip {
		for i := range r.Problems {
			if q := &r.Problems[i]; q.Counting() {
				q.Words = byTotal && clear
				if q.Words {
					q.Message = p.sayWordsLikelier(q.Message, stated)
				}
			}
		}
		return meant
	}
	v := unclear
	if clear && !x.spaces {
		v = totalWrong
		if byTotal {
			v = wordsWrong
		}
	}
	q := Problem{Kind: TotalDiffers, Span: x.span, Words: v == wordsWrong, Total: v == totalWrong}
	if x.part {
		q.Kind, q.Message = TotalPartDiffers, x.message
	} else {
		q.Message = p.sayTotalDiffers(r, stated, v)
	}
	r.Problems = append(r.Problems, q)
	return meant
}

// dropReadings leaves out wordings with two readings where the round does not
// come out anyhow: the one slip is said once. What a starting chain stands for
// is a matter of its own and stays.
func (r *Round) dropReadings() {
	r.Problems = slices.DeleteFunc(r.Problems, func(x Problem) bool { return x.Kind == TwoReadings && x.Span != r.Stands.Span })
}

// likelier works on from several readings of a round and says which goes
// furthest without a slip, and whether that was clear.
func (p *Pattern) likelier(piece *Piece, r *Round, readings []state) (best int, clear bool) {
	if len(readings) == 1 {
		return 0, false
	}
	score := make([]int, len(readings))
	for i := range readings {
		score[i] = p.goesOn(piece, r, readings[i])
		if score[i] > score[best] {
			best = i
		}
	}
	for i := range score {
		if i != best && score[i] != score[best] {
			clear = true
		}
	}
	return best, clear
}

// goesOn says for how many of the next rounds a reading comes out.
func (p *Pattern) goesOn(piece *Piece, r *Round, st state) int {
	n, below := 0, lower{kept: piece.Rounds[:p.indexOf(piece, r)+1]}
	for off := r.Off + 1; off < len(piece.Lines) && n < ahead; off++ {
		if _, ok := piece.Lines[off].Node.(*grammar.Round); !ok {
			continue
		}
		cur := st
		next, after := p.statement(piece, below, &cur, piece.Lines[off], off)
		if p.bad(next) {
			return n
		}
		n++
		below = below.and(next)
		st = after
	}
	return n
}

// bad says whether a round does not come out.
func (p *Pattern) bad(r *Round) bool {
	return slices.ContainsFunc(r.Problems, func(x Problem) bool { return x.Counting() || x.open }) || p.compare(r, r.Node.Total).differs
}
