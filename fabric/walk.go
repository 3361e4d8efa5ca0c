package fabric

// walk goes along what is worked into, in order.
type walk struct {
	items []Item
	// i and off are the item and the place in it that comes next.
	i   int
	off int64
	// left counts stitches and chains not yet passed.
	left int64
	// endless sources never run out: a ring, a surface, an edge of unknown length.
	endless bool
	vague   bool
	// beyond are stitches left unworked earlier, that a row may run on into.
	beyond []Item
	// touched is set once anything was taken; inSpace where the last place
	// taken was a space.
	touched, inSpace bool
	// passed is the most stitches passed by on the way to a space.
	passed int64
	// ringOf is the length of a chain that was joined into a ring.
	ringOf int64
}

func walkOf(e *Edge) walk {
	if e == nil {
		return walk{}
	}
	return walk{items: e.Items, left: e.Stitches(), endless: e.Unknown, vague: e.Vague || e.Unknown, beyond: e.Beyond}
}

// open takes a chain that was joined into a ring as its single chains, and says
// whether it was one.
func (k *walk) open() bool {
	if k.ringOf == 0 {
		return false
	}
	*k = walk{items: []Item{{Kind: Chains, N: k.ringOf}}, left: k.ringOf}
	return true
}

// rest is how much of the current item is left.
func (k *walk) rest() int64 {
	if k.i >= len(k.items) {
		return 0
	}
	return k.items[k.i].N - k.off
}

func (k *walk) advance(n int64) {
	k.off += n
	if k.i < len(k.items) && k.off >= k.items[k.i].N {
		k.i, k.off = k.i+1, 0
	}
}

// stitches takes up to n stitches or chains, passing spaces by, and says how
// many it got. Where the edge ends, a row runs on into what was left unworked.
func (k *walk) stitches(n int64) int64 {
	if n <= 0 {
		return 0
	}
	k.touched = true
	if k.endless {
		k.inSpace = false
		return n
	}
	got := int64(0)
	for got < n {
		if k.i >= len(k.items) {
			if len(k.beyond) == 0 {
				break
			}
			k.items, k.i, k.off = k.beyond, 0, 0
			k.left = countStitches(k.beyond)
			k.beyond = nil
			continue
		}
		if k.items[k.i].Kind == Space {
			k.i, k.off = k.i+1, 0
			continue
		}
		m := min(n-got, k.rest())
		k.advance(m)
		k.left -= m
		got += m
	}
	if got > 0 {
		k.inSpace = false
	}
	return got
}

// ofStitch takes up to n stitches of one kind, passing nothing but spaces.
func (k *walk) ofStitch(n int64, asked *Stitch) int64 {
	if k.endless || k.vague {
		return k.stitches(n)
	}
	got := int64(0)
	for got < n && k.i < len(k.items) {
		item := k.items[k.i]
		if item.Kind == Space {
			k.i, k.off = k.i+1, 0
			continue
		}
		if item.Kind != Stitches || !item.Stitch.answers(asked) {
			break
		}
		m := min(n-got, k.rest())
		k.advance(m)
		k.left -= m
		got += m
	}
	if got > 0 {
		k.touched, k.inSpace = true, false
	}
	return got
}

// space moves into the next chain space of a length, 0 for any, passing
// stitches by; false where none is ahead.
func (k *walk) space(chains int32) bool {
	if k.endless || k.vague {
		k.touched, k.inSpace = true, true
		return true
	}
	skipped := int64(0)
	for j, off := k.i, k.off; j < len(k.items); j, off = j+1, 0 {
		item := k.items[j]
		if item.Kind != Space {
			skipped += item.N - off
			continue
		}
		if chains == 0 || item.Chains == chains {
			k.i, k.off = j, off
			k.advance(1)
			k.left -= skipped
			k.passed = max(k.passed, skipped)
			k.touched, k.inSpace = true, true
			return true
		}
	}
	return false
}

// spacesAhead counts the spaces of a length that are still ahead.
func (k *walk) spacesAhead(chains int32) int64 {
	n := int64(0)
	for j, off := k.i, k.off; j < len(k.items); j, off = j+1, 0 {
		if i := k.items[j]; i.Kind == Space && (chains == 0 || i.Chains == chains) {
			n += i.N - off
		}
	}
	return n
}

// atSpace says whether the very next place is a chain space.
func (k *walk) atSpace() bool { return k.i < len(k.items) && k.items[k.i].Kind == Space }

// atChains says whether chains of a foundation come next.
func (k *walk) atChains() bool { return k.i < len(k.items) && k.items[k.i].Kind == Chains }

// remainder lists what is ahead.
func (k *walk) remainder() []Item {
	var out []Item
	for j, off := k.i, k.off; j < len(k.items); j, off = j+1, 0 {
		i := k.items[j]
		i.N -= off
		out = appendItem(out, i)
	}
	return out
}

// since lists what was gone over from an earlier place on the same edge.
func (k *walk) since(before *walk) []Item {
	var out []Item
	for j := before.i; j < len(k.items) && j <= k.i; j++ {
		i := k.items[j]
		if j == k.i {
			i.N = k.off
		}
		if j == before.i {
			i.N -= before.off
		}
		out = appendItem(out, i)
	}
	return out
}

// turningAhead says whether a chain that stands for a stitch is still ahead.
func (k *walk) turningAhead() bool {
	if k.vague || k.endless {
		return true
	}
	for j := k.i; j < len(k.items); j++ {
		if k.items[j].Turning {
			return true
		}
	}
	return false
}
