package fabric

import (
	"workeven/grammar"
)

// tallied is what a stated total says beside what the words make.
type tallied struct {
	differs, part bool
	// spaces is set where it is a number of chain spaces that differs.
	spaces  bool
	span    grammar.Span
	message string
	// repair is the corrected number and where it stands.
	repair grammar.Span
	right  int64
	// chains is set where the total comes out if chains are counted.
	chains bool
}

// StatedStitches is the number of stitches that a total states: its bare
// number, or the sum of the stitches it is broken down into. False where it
// states none.
func (p *Pattern) StatedStitches(t *grammar.Total) (int64, bool) {
	if t == nil {
		return 0, false
	}
	if c, ok := t.Bare(); ok {
		return int64(c.N), true
	}
	n, any := int64(0), false
	for _, part := range t.Parts {
		switch part.Unit.Kind {
		case grammar.UnitTerm:
			s := p.book.find(part.Unit.Ref())
			if s != nil && (s.Leaves != nil || s.Makes == 0 && s.Takes == 0) {
				continue // shells and picots are counted besides
			}
			n, any = n+int64(part.Count.N), true
		case grammar.UnitChain:
			if len(t.Parts) == 1 {
				return int64(part.Count.N), true
			}
		}
	}
	return n, any
}

// made counts one unit among what a round made.
func (r *Round) made(p *Pattern, u grammar.Unit) int64 {
	n := int64(0)
	switch u.Kind {
	case grammar.UnitNone, grammar.UnitSt:
		return r.Makes
	case grammar.UnitSpace:
		for _, s := range r.Spaces {
			if u.Chains == 0 || s.Chains == u.Chains {
				n += s.N
			}
		}
	case grammar.UnitLoop:
		for _, s := range r.Spaces {
			n += s.N
		}
	case grammar.UnitChain:
		for _, s := range r.Spaces {
			n += s.N * int64(s.Chains)
		}
		if n == 0 {
			return r.Makes
		}
	case grammar.UnitTerm:
		asked := p.book.find(u.Ref())
		for _, s := range r.Groups {
			if s.Stitch == asked {
				n += s.N
			}
		}
		if n > 0 {
			return n
		}
		exact := false
		for _, s := range r.Stitches {
			if s.Stitch == asked {
				n, exact = n+s.N, true
			}
		}
		if !exact {
			for _, s := range r.Stitches {
				if s.Stitch.answers(asked) {
					n += s.N
				}
			}
		}
	}
	return n
}

// compare holds a stated total against what a round made.
func (p *Pattern) compare(r *Round, t *grammar.Total) (x tallied) {
	if t == nil || !r.Known {
		return x
	}
	for _, part := range t.Parts {
		stated, right := int64(part.Count.N), r.made(p, part.Unit)
		if part.Unit.Kind == grammar.UnitTerm && p.book.find(part.Unit.Ref()) == nil || stated == right {
			continue
		}
		x = tallied{differs: true, span: t.Span, repair: part.Count.Span, right: right}
		if len(t.Parts) > 1 && part.Unit.Kind != grammar.UnitNone && part.Unit.Kind != grammar.UnitSt {
			x.part, x.spaces = true, part.Unit.Kind == grammar.UnitSpace
			x.span = part.Count.Span.To(part.Unit.Span)
			x.message = p.sayPartDiffers(r, part, right)
			return x
		}
		chains := int64(0)
		for _, s := range r.Spaces {
			chains += s.N * int64(s.Chains)
		}
		x.chains = chains > 0 && (stated == right+chains || stated == right+r.made(p, grammar.Unit{Kind: grammar.UnitSpace}))
		return x
	}
	return x
}
