package fabric

import (
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
	case !slip && !x.differs:
		return next
	case !slip && x.chains:
		r.Problems = append(r.Problems, Problem{Kind: TwoReadings, Span: x.span, Message: p.sayChainsCounted(r, stated)})
		return next
	}
	words := next
	readings := []state{words}
	meant := words
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
	if clear {
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
	n, rounds := 0, piece.Rounds
	defer func() { piece.Rounds = rounds }()
	for off := r.Off + 1; off < len(piece.Lines) && n < ahead; off++ {
		if _, ok := piece.Lines[off].Node.(*grammar.Round); !ok {
			continue
		}
		cur := st
		next, after := p.statement(piece, &cur, piece.Lines[off], off)
		if counting(next.Problems) || p.compare(next, next.Node.Total).differs {
			return n
		}
		n++
		piece.Rounds = append(piece.Rounds[:len(piece.Rounds):len(piece.Rounds)], next)
		st = after
	}
	return n
}
