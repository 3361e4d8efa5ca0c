package fabric

import "slices"

// InAll is how many stitches the rounds of one statement make together, all
// rounds of a range added up. False where that is not known for sure.
func (p *Pattern) InAll(piece *Piece, r *Round) (int64, bool) {
	at, ok := slices.BinarySearchFunc(piece.Rounds, r.Off, func(a *Round, off int) int { return a.Off - off })
	if !ok || !r.Known {
		return 0, false
	}
	if r.RoundsWorked <= 1 {
		return r.Makes, true
	}
	k := p.reckoner(piece)
	below := course{}
	if r.In != nil && !r.In.Unknown {
		below = k.courseOn(r.In)
		below.round = r
	}
	cs := k.coursesOf(nil, piece, at, r, below)
	if len(cs) > 1 && r.RoundsWorked > maxCourses {
		return 0, false // the last of them are not worked one by one
	}
	n := int64(0)
	for _, c := range cs {
		if c.unsure {
			return 0, false
		}
		n += c.times * c.sts
	}
	return n, true
}
