package lsp

import (
	"slices"

	"workeven/grammar"
)

// again is namesOf for a file that is nearly the one whose names are known:
// statements that it has by the same pointers are not looked through again,
// where what names they could mean is the same. n may be nil.
func (n *names) again(f *grammar.File) *names {
	if n == nil {
		return namesOf(f)
	}
	if n.file == f {
		return n
	}
	c := grammar.Changed(n.file, f)
	if slices.ContainsFunc(n.file.Lines[c.From:c.OldTo], gives) || slices.ContainsFunc(f.Lines[c.From:c.NewTo], gives) {
		return namesOf(f)
	}
	first, _ := n.search(c.From)
	end, _ := n.search(c.OldTo)
	x := &names{file: f, spelled: n.spelled, dyed: n.dyed, all: make([]*mention, 0, len(n.all)+8)}
	same := x.likeThose(n)
	room := make([]mention, len(n.all)-(end-first))
	take := func(list []*mention, by int) {
		for i, m := range list {
			room[i] = *m
			room[i].at += by
			room[i].of = same[m.of]
			x.all = append(x.all, &room[i])
		}
		room = room[len(list):]
	}
	ungiven := func(m *mention) bool { return !m.of.given }
	if slices.ContainsFunc(n.all[first:end], ungiven) {
		return namesOf(f) // what others mean may hang on these
	}
	take(n.all[:first], 0)
	making := makingAt(f, c.From)
	for at := c.From; at < c.NewTo; at++ {
		x.uses(at, f.Lines[at], making)
	}
	new := x.all[first:]
	if slices.ContainsFunc(new, ungiven) {
		return namesOf(f)
	}
	slices.SortStableFunc(new, byPlaceOfMention)
	take(n.all[end:], c.By())
	x.gather()
	return x
}

// gives says whether a statement gives a name, or changes what the words of
// those behind it may name.
func gives(l *grammar.Line) bool {
	switch l.Node.(type) {
	case *grammar.Yarn, *grammar.Piece, *grammar.OwnStitch, grammar.Assembly:
		return true
	}
	return false
}

// makingAt says whether a statement stands in the making up.
func makingAt(f *grammar.File, at int) bool {
	for at--; at >= 0; at-- {
		switch f.Lines[at].Node.(type) {
		case grammar.Assembly:
			return true
		case *grammar.Piece:
			return false
		}
	}
	return false
}

// likeThose makes things of the same names as others have, without places.
func (n *names) likeThose(others *names) map[*named]*named {
	same := map[*named]*named{}
	for k := range others.byKey {
		n.byKey[k] = make(map[string]*named, len(others.byKey[k]))
		for key, thing := range others.byKey[k] {
			if same[thing] == nil {
				same[thing] = &named{kind: thing.kind, given: thing.given}
			}
			n.byKey[k][key] = same[thing]
		}
	}
	return same
}
