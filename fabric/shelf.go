package fabric

// shelf is room for what the rounds of one piece are worked out to, so that it
// takes a few allocations for all of them. It is kept and dropped with the
// piece, whose rounds are replaced as a whole. An empty shelf allocates each
// value by itself.
type shelf struct {
	rounds []Round
	states []state
	edges  []Edge
	items  []Item
	counts []StitchCount
	// size is how many of each are made room for at a time.
	size int
}

// mostShelved bounds the room made at a time.
const mostShelved = 64

func newShelf(rounds int) *shelf { return &shelf{size: min(rounds, mostShelved)} }

// room takes so many places out of a list, and makes a new one where they are
// not there.
func room[T any](list *[]T, n, size int) []T {
	if len(*list) < n {
		*list = make([]T, max(n, size))
	}
	out := (*list)[:n:n]
	*list = (*list)[n:]
	return out
}

func (s *shelf) round() *Round { return &room(&s.rounds, 1, s.size)[0] }

func (s *shelf) edge() *Edge { return &room(&s.edges, 1, s.size)[0] }

func (s *shelf) state(st state) *state {
	out := &room(&s.states, 1, s.size)[0]
	*out = st
	return out
}

// keepItems copies a list; an empty one is nil, whatever it was made in.
func (s *shelf) keepItems(list []Item) []Item {
	if len(list) == 0 {
		return nil
	}
	out := room(&s.items, len(list), s.size)
	copy(out, list)
	return out
}

func (s *shelf) keepCounts(list []StitchCount) []StitchCount {
	if len(list) == 0 {
		return nil
	}
	out := room(&s.counts, len(list), s.size)
	copy(out, list)
	return out
}
