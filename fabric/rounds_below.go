package fabric

import "slices"

// lower are the rounds below one, from the first up: those of the piece, and
// behind them those of a trial, so that a trial need not copy the piece's.
type lower struct{ kept, tried []*Round }

func (b lower) count() int { return len(b.kept) + len(b.tried) }

func (b lower) at(i int) *Round {
	if i < len(b.kept) {
		return b.kept[i]
	}
	return b.tried[i-len(b.kept)]
}

// to are the first n of them.
func (b lower) to(n int) lower {
	if n <= len(b.kept) {
		return lower{kept: b.kept[:n:n]}
	}
	n -= len(b.kept)
	return lower{b.kept, b.tried[:n:n]}
}

// and is with one more, tried.
func (b lower) and(r *Round) lower {
	return lower{b.kept[:len(b.kept):len(b.kept)], append(b.tried, r)}
}

// numbered is the index of the last round that covers a number; -1 without one.
func (b lower) numbered(n int64) int {
	if i := lastNumbered(b.tried, n); i >= 0 {
		return len(b.kept) + i
	}
	return lastNumbered(b.kept, n)
}

// last is the topmost of them, or nil.
func (b lower) last() *Round {
	if n := b.count(); n > 0 {
		return b.at(n - 1)
	}
	return nil
}

func (r *Round) covers(n int64) bool { return int64(r.Node.From.N) <= n && n <= int64(r.Node.To.N) }

// lastNumbered is the index of the last round of a list that covers a number; -1
// without one. Rounds that are numbered in order, as nearly all are, are not
// gone through.
func lastNumbered(rounds []*Round, n int64) int {
	if len(rounds) > 0 && rounds[len(rounds)-1].rising {
		i, _ := slices.BinarySearchFunc(rounds, n, func(r *Round, n int64) int { return int(r.Node.To.N) - int(n) })
		if i < len(rounds) && rounds[i].covers(n) {
			return i
		}
		return -1
	}
	for i := len(rounds) - 1; i >= 0; i-- {
		if rounds[i].covers(n) {
			return i
		}
	}
	return -1
}
