package fabric

import "slices"

// ledger holds something for the numbers of rounds, and is a value: adding to it
// gives a new one and leaves the old as it was. Like digits of a binary number,
// its runs double in length from the newest back, so that adding and finding
// take few steps however many rounds a piece has. Nil is empty.
type ledger[T any] struct {
	run    []noted[T] // by label; what was added later stands behind
	rank   int        // of runs of one rank two become one of the next
	before *ledger[T]
	// last is what was added last.
	last T
	// sum tells ledgers apart without reading them.
	sum uint64
}

type noted[T any] struct {
	label int64
	what  T
}

func byLabel[T any](a, b noted[T]) int { return int(min(max(a.label-b.label, -1), 1)) }

// and is the ledger with one more entry; mark is a number that stands for it.
func (l *ledger[T]) and(label int64, what T, mark int64) *ledger[T] {
	out := &ledger[T]{run: []noted[T]{{label, what}}, before: l, last: what, sum: 17}
	if l != nil {
		out.sum = l.sum
	}
	out.sum = (out.sum*1099511628211^uint64(label))*1099511628211 ^ uint64(mark)
	for out.before != nil && out.before.rank == out.rank {
		out.run = slices.Concat(out.before.run, out.run)
		slices.SortStableFunc(out.run, byLabel)
		out.before, out.rank = out.before.before, out.rank+1
	}
	return out
}

// of gives what stands for a round, of each run from the newest back and in it
// in the order added.
func (l *ledger[T]) of(label int64, do func(T)) {
	for ; l != nil; l = l.before {
		i, _ := slices.BinarySearchFunc(l.run, noted[T]{label: label}, byLabel)
		for ; i < len(l.run) && l.run[i].label == label; i++ {
			do(l.run[i].what)
		}
	}
}

// latest is what was added last for a round.
func (l *ledger[T]) latest(label int64) (what T, ok bool) {
	for ; l != nil && !ok; l = l.before {
		i, _ := slices.BinarySearchFunc(l.run, noted[T]{label: label}, byLabel)
		for ; i < len(l.run) && l.run[i].label == label; i++ {
			what, ok = l.run[i].what, true
		}
	}
	return what, ok
}

// same says whether two ledgers hold the same.
func (l *ledger[T]) same(o *ledger[T]) bool {
	return l == o || l != nil && o != nil && l.sum == o.sum
}
