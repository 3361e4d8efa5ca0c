package lint

import (
	"maps"
	"math"
	"slices"
	"sync/atomic"

	"workeven/fabric"
	"workeven/grammar"
)

// Checked is a pattern that was checked, and what of that can be taken over
// when it has been edited.
type Checked struct {
	Pattern *fabric.Pattern
	// Findings are in order of place.
	Findings []Finding
	opts     Options
	pieces   []*pieceCheck
	// noisy are the pieces that have findings, by their index.
	noisy []int
	// outside are the findings on what stands outside the pieces, ends those of
	// each rule's end. Findings that are allowed are among them.
	outside []Finding
	ends    [][]Finding
	// facts are for the next check to take.
	facts atomic.Pointer[facts]
}

// keep takes in what the next piece came to.
func (c *Checked) keep(p *pieceCheck) {
	if len(p.findings) > 0 {
		c.noisy = append(c.noisy, len(c.pieces))
	}
	c.pieces = append(c.pieces, p)
}

// recall takes the facts of an earlier check; nil where there is none, or
// another check has them.
func (c *Checked) recall() *facts {
	if c == nil {
		return nil
	}
	return c.facts.Swap(nil)
}

// Recheck is Check for a file that is nearly the one of an earlier check: the
// one that grammar.Splice or grammar.Reparse made of it. Pieces that have not
// changed are neither worked nor looked at again. The findings are those of
// Check. old may be nil.
func Recheck(old *Checked, f *grammar.File, opts Options) *Checked {
	if old == nil {
		return check(nil, fabric.Work(f), opts, everywhere)
	}
	pattern := fabric.Rework(old.Pattern, f)
	if c := old.amend(pattern, opts); c != nil {
		return c
	}
	return check(old, pattern, opts, everywhere)
}

// Repaired are the findings that touch the bytes from start to end, with their
// repairs, in order of place.
func (c *Checked) Repaired(start, end int) []Finding {
	opts, place := c.opts, span{start, end}
	opts.NoFixes = false
	again := check(c, c.Pattern, opts, place)
	c.facts.Store(again.recall())
	found := again.Findings
	return slices.DeleteFunc(found, func(f Finding) bool { return f.Start > end || f.End < start })
}

// span is a part of a file, in bytes.
type span struct{ start, end int }

var everywhere = span{0, math.MaxInt}

// touches says whether a piece has any of it.
func (s span) touches(f *grammar.File, piece *fabric.Piece) bool {
	last := piece.At + len(piece.Lines) - 1
	return f.Start(piece.At) <= s.end && s.start <= f.Start(last)+len(f.Lines[last].Text)
}

// pieceCheck is what one piece by itself came to.
type pieceCheck struct {
	piece fabric.Piece
	// findings have their places counted from the start of the piece.
	findings []Finding
	// stirring are the statements, by their offsets in the piece, that facts have
	// to see again.
	stirring []int32
	shape    partShape
	// hurts have their statements counted from the start of the piece.
	hurts []hurt
	// native says whether it has a word that only its system of terms has.
	native bool
	// before and last are the last numbers of the part before it and of itself.
	before, last int64
}

// keptChecks are the pieces of an earlier check, in order.
type keptChecks struct {
	list []*pieceCheck
	// next is the one that is likeliest to be asked for next; by finds the others
	// by their first statement, and is made when it is needed.
	next int
	by   map[*grammar.Line]int
}

// kept finds what can be taken over from an earlier check: nothing where other
// rules run or where what holds for all pieces has changed.
func kept(old *Checked, pattern *fabric.Pattern, opts Options) *keptChecks {
	if old == nil || !old.holds(pattern, opts) {
		return &keptChecks{}
	}
	return &keptChecks{list: old.pieces}
}

// holds says whether the same rules run as before, and what holds for all
// pieces is as it was.
func (c *Checked) holds(pattern *fabric.Pattern, opts Options) bool {
	return c.Pattern.SameGround(pattern) && maps.Equal(c.opts.Off, opts.Off) && maps.Equal(c.opts.Severity, opts.Severity)
}

// of is what was found in a piece, whose part before it ends with a number; nil
// where that has changed.
func (k *keptChecks) of(piece *fabric.Piece, before int64) *pieceCheck {
	first := piece.Lines[0]
	if k.next >= len(k.list) || k.list[k.next].piece.Lines[0] != first {
		if k.by == nil {
			k.by = make(map[*grammar.Line]int, len(k.list))
			for i, c := range k.list {
				k.by[c.piece.Lines[0]] = i
			}
		}
		i, ok := k.by[first]
		if !ok {
			return nil
		}
		k.next = i
	}
	c := k.list[k.next]
	k.next++
	if !c.piece.Same(piece) || c.before != before {
		return nil
	}
	return c
}

// again takes over what was found in a piece. Facts see those of its
// statements again that tell more than the part's shape.
func (w *walk) again(index int, piece *fabric.Piece, was *pieceCheck) {
	f := w.facts
	f.open(index, piece)
	f.cur.partShape = was.shape
	f.native = f.native || was.native
	round := 0
	for _, off := range was.stirring {
		w.at = piece.At + int(off)
		f.line(w.at, piece.Lines[off])
		for round < len(piece.Rounds) && piece.Rounds[round].Off < int(off) {
			round++
		}
		if round < len(piece.Rounds) && piece.Rounds[round].Off == int(off) {
			f.roundWords(w.at, piece.Rounds[round])
		}
	}
	f.numbered = was.last
	f.hurts = append(f.hurts, hurtsMoved(was.hurts, piece.At)...)
	if len(was.findings) > 0 {
		*w.found = append(*w.found, moved(was.findings, f.pattern.File.Start(piece.At))...)
	}
}

// moved are findings so many bytes further down; those given stay as they are.
func moved(found []Finding, by int) []Finding {
	found = slices.Clone(found)
	for i := range found {
		x := &found[i]
		x.Start, x.End = x.Start+by, x.End+by
		x.Related = slices.Clone(x.Related)
		for j := range x.Related {
			x.Related[j].Start += by
			x.Related[j].End += by
		}
		x.Fixes = slices.Clone(x.Fixes)
		for j := range x.Fixes {
			edits := slices.Clone(x.Fixes[j].Edits)
			for k := range edits {
				edits[k].Start += by
				edits[k].End += by
			}
			x.Fixes[j].Edits = edits
		}
	}
	return found
}
