package fabric

import (
	"slices"

	"workeven/grammar"
)

// Rework is Work for a file that is nearly that of a pattern worked before: the
// one that grammar.Splice or grammar.Reparse made of it. A piece whose
// statements are the same lines keeps what it was worked out to, unless what
// holds for all pieces has changed or it is worked into others. The result is
// that of Work.
func Rework(old *Pattern, f *grammar.File) *Pattern {
	if old == nil {
		return Work(f)
	}
	c := grammar.Changed(old.File, f)
	if p := old.amend(f, c); p != nil {
		return p
	}
	p := &Pattern{File: f}
	p.readHeader()
	if p.Header.System != old.Header.System || p.Header.Chain != old.Header.Chain || !p.sameOwn(old) {
		p.defineStitches()
		p.cutPieces()
		p.workPieces(p.Pieces)
		return p
	}
	p.cutPieces()
	p.workPieces(p.takeOver(old))
	return p
}

// Same says whether two pieces are one and the same, perhaps further up or down
// in the file: the same statements, worked out to the same rounds.
func (p *Piece) Same(other *Piece) bool {
	return len(p.Lines) == len(other.Lines) && &p.Lines[0] == &other.Lines[0] &&
		len(p.Rounds) == len(other.Rounds) && (len(p.Rounds) == 0 || p.Rounds[0] == other.Rounds[0])
}

// SameGround says whether what holds for all pieces alike is the same in two
// patterns, of which one was reworked from the other: terms, own stitches,
// turning chain and gauges.
func (p *Pattern) SameGround(other *Pattern) bool {
	a, b := &p.Header, &other.Header
	return p.book == other.book && a.System == b.System && a.TermsSaid == b.TermsSaid && a.Chain == b.Chain && slices.Equal(a.Gauges, b.Gauges)
}

// headerReach is how far down readHeader takes statements for the header's.
const headerReach = 40

// amend is Rework where nothing changed but statements inside one piece that
// say nothing about the others, or in the making up; nil where more did.
func (old *Pattern) amend(f *grammar.File, c grammar.Change) *Pattern {
	h := &old.Header
	if c.From <= headerReach || len(h.Lines) > 0 && c.From <= h.Lines[len(h.Lines)-1].At+1 {
		return nil
	}
	if p := old.amendMaking(f, c); p != nil {
		return p
	}
	k, _ := slices.BinarySearchFunc(old.Pieces, c.From, func(p *Piece, at int) int { return p.At - at })
	if k--; k < 0 {
		return nil
	}
	was := old.Pieces[k]
	if c.OldTo > was.At+len(was.Lines) || c.From > was.At+len(was.Lines) || !inside(old.File.Lines[c.From:c.OldTo]) || !inside(f.Lines[c.From:c.NewTo]) {
		return nil
	}
	shift := c.By()
	p := old.withFile(f, c)
	p.Making = shifted(old.Making, c.OldTo, shift)
	p.Pieces = slices.Clone(old.Pieces)
	now := &Piece{Name: was.Name, Node: was.Node, Make: was.Make, At: was.At, Mode: was.Mode}
	now.Lines = slices.Concat(was.Lines[:c.From-was.At], f.Lines[c.From:c.NewTo], was.Lines[c.OldTo-was.At:])
	p.Pieces[k] = now
	if shift != 0 {
		moved := make([]Piece, len(old.Pieces)-k-1)
		for i, q := range old.Pieces[k+1:] {
			moved[i] = *q
			moved[i].At += shift
			p.Pieces[k+1+i] = &moved[i]
		}
	}
	fresh := []*Piece{now}
	for i, q := range p.Pieces {
		if i != k && q.onto { // it holds on to the pieces that it is worked into
			q := *q
			q.Rounds = nil
			p.Pieces[i], fresh = &q, append(fresh, &q)
		}
	}
	p.workPieces(fresh)
	return p
}

// withFile is a pattern of the same header and own stitches, without pieces.
func (old *Pattern) withFile(f *grammar.File, c grammar.Change) *Pattern {
	p := &Pattern{File: f, Header: old.Header, book: old.book}
	p.Own = slices.Clone(old.Own)
	for i, o := range p.Own {
		if o.At >= c.OldTo && c.By() != 0 {
			o := *o
			o.At += c.By()
			p.Own[i] = &o
		}
	}
	return p
}

// amendMaking is amend for the making up behind the last piece.
func (old *Pattern) amendMaking(f *grammar.File, c grammar.Change) *Pattern {
	if len(old.Making) == 0 || len(old.Pieces) == 0 {
		return nil
	}
	first := old.Making[0].At
	if c.From <= first || old.Pieces[len(old.Pieces)-1].At > first || !making(old.File.Lines[c.From:c.OldTo]) || !making(f.Lines[c.From:c.NewTo]) {
		return nil
	}
	p := old.withFile(f, c)
	p.Pieces = old.Pieces
	p.Making = append(make([]Statement, 0, len(old.Making)+c.By()), old.Making[:c.From-first]...)
	for i, l := range f.Lines[c.From:] {
		p.Making = append(p.Making, Statement{c.From + i, l})
	}
	return p
}

// making says whether statements of the making up hold for themselves only.
func making(lines []*grammar.Line) bool {
	for _, l := range lines {
		switch l.Node.(type) {
		case grammar.Blank, grammar.Comment, grammar.Bad, *grammar.Action, *grammar.Text, *grammar.Sew, *grammar.PlaceThing, *grammar.Embroider:
		default:
			return false
		}
	}
	return true
}

// inside says whether statements stand inside a piece and hold for it only.
func inside(lines []*grammar.Line) bool {
	for _, l := range lines {
		switch l.Node.(type) {
		case grammar.Blank, grammar.Comment, grammar.Bad, *grammar.Round, *grammar.Action, *grammar.With, *grammar.Text:
		default:
			return false
		}
	}
	return true
}

func shifted(list []Statement, from, shift int) []Statement {
	if shift == 0 {
		return list
	}
	list = slices.Clone(list)
	for i := range list {
		if list[i].At >= from {
			list[i].At += shift
		}
	}
	return list
}

// sameOwn says whether the file defines the same stitches as before, and takes
// them over.
func (p *Pattern) sameOwn(old *Pattern) bool {
	var own []*OwnStitch
	for i, l := range p.File.Lines {
		node, ok := l.Node.(*grammar.OwnStitch)
		if !ok || !node.Abbr.Written() {
			continue
		}
		if len(own) == len(old.Own) || old.Own[len(own)].Line != l {
			return false
		}
		o := *old.Own[len(own)]
		o.At = i
		own = append(own, &o)
	}
	if len(own) < len(old.Own) {
		return false
	}
	p.Own, p.book = own, old.book
	return true
}

// takeOver gives the pieces that have not changed what they were worked out
// to, and lists those that are to be worked.
func (p *Pattern) takeOver(old *Pattern) (fresh []*Piece) {
	by := make(map[*grammar.Line]*Piece, len(old.Pieces))
	for _, q := range old.Pieces {
		by[q.Lines[0]] = q
	}
	for _, q := range p.Pieces {
		was := by[q.Lines[0]]
		if was == nil || !slices.Equal(q.Lines, was.Lines) {
			fresh = append(fresh, q)
			continue
		}
		q.Lines, q.Main, q.Rounds, q.Broken, q.onto, q.memo = was.Lines, was.Main, was.Rounds, was.Broken, was.onto, was.memo
	}
	for _, q := range p.Pieces {
		if q.onto && q.Rounds != nil { // it holds on to the pieces that it is worked into
			q.Rounds = nil
			fresh = append(fresh, q)
		}
	}
	return fresh
}
