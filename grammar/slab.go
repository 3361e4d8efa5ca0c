package grammar

import "slices"

// slabSize is how many of a kind are allocated at once while a file is read. It
// is also all that one line can hold on to of its neighbors, once an edit has
// replaced them.
const slabSize = 32

// slab hands out room for values of one kind.
type slab[T any] struct{ room []T }

// list copies a list for keeping, cut to its length.
func (s *slab[T]) list(from []T) []T {
	n := len(from)
	switch {
	case n == 0:
		return nil
	case n > slabSize/2:
		return slices.Clip(slices.Clone(from))
	case len(s.room) < n:
		s.room = make([]T, slabSize)
	}
	out := s.room[:n:n]
	s.room = s.room[n:]
	copy(out, from)
	return out
}

// one is room for a single value.
func (s *slab[T]) one() *T {
	if len(s.room) == 0 {
		s.room = make([]T, slabSize)
	}
	out := &s.room[0]
	s.room = s.room[1:]
	return out
}

// store holds the slabs that the lines of a file are read into, one goroutine's
// share of them. A nil store allocates each value by itself, for a line that is
// read alone.
type store struct {
	rounds slab[Round]
	steps  slab[Step]
	places slab[Place]
	groups slab[Group]
	totals slab[Total]
	parts  slab[Part]
	refs   slab[Ref]
}

func (s *store) round() *Round {
	if s == nil {
		return new(Round)
	}
	return s.rounds.one()
}

func (s *store) keepSteps(list []Step) []Step {
	if s == nil {
		return slices.Clone(list)
	}
	return s.steps.list(list)
}

func (s *store) keepPlaces(list []Place) []Place {
	if s == nil {
		return slices.Clone(list)
	}
	return s.places.list(list)
}

func (s *store) group() *Group {
	if s == nil {
		return new(Group)
	}
	return s.groups.one()
}

func (s *store) total() *Total {
	if s == nil {
		return new(Total)
	}
	return s.totals.one()
}

func (s *store) keepParts(list []Part) []Part {
	if s == nil {
		return slices.Clone(list)
	}
	return s.parts.list(list)
}

func (s *store) ref(r Ref) *Ref {
	if s == nil {
		return &r
	}
	out := s.refs.one()
	*out = r
	return out
}
