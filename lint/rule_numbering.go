package lint

import (
	"fmt"
	"slices"
	"strconv"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "numbering",
	Severity: Error,
	Summary:  "A round or row is skipped, repeated or out of order, or a range runs backwards",
	Why: "Makers tick rounds off by their numbers, and \"between Rnds 8 and 9\" must mean the same place to everybody. A number that is skipped looks like a round that was lost in print; " +
		"one that is there twice is worked twice or not at all.",
	Repair: "The number that belongs there, where the rounds on both sides show it; `--fix` writes that. Otherwise the last number of the range before it is offered.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 3: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\n",
	Good:   "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\n",
	Start: func(p *Pass) Visits {
		n := &numbering{Pass: p}
		return Visits{Piece: n.piece, Line: n.line, Round: n.round}
	},
})

// numbering follows the numbers of a part. A slip is blamed on the first round
// that breaks the row, and what follows is counted on from there.
type numbering struct {
	*Pass
	next int // index of the next round of the part
	prev *fabric.Round
	// due is the number that belongs next; alt one that fits as well, behind a
	// round that stood too early.
	due, alt int64
	// before is the last number of the part before this one.
	before int64
	// lost is set where a round's number could not be read: any later one may follow.
	lost bool
	// off and rejoined are set once the yarn was cut, and joined again: a second
	// side may take up numbers of the first.
	off, rejoined bool
}

func (n *numbering) piece(*fabric.Piece) {
	*n = numbering{Pass: n.Pass, due: 1, before: n.facts().numbered}
	n.facts().numbered = 0
}

func (n *numbering) line(l *grammar.Line) {
	switch a := l.Node.(type) {
	case grammar.Bad:
		n.lost = true
	case *grammar.Action:
		n.off = n.off || a.Verb == grammar.VerbFastenOff || a.Verb == grammar.VerbCut
		n.rejoined = n.rejoined || n.off && a.Verb == grammar.VerbJoin
	}
}

func (n *numbering) round(piece *fabric.Piece, r *fabric.Round) {
	n.next++
	label := r.Node
	if !label.From.Written() {
		n.lost = true
		return
	}
	if slices.ContainsFunc(r.Line.Faults, func(x grammar.Fault) bool { return overlaps(x.Span, label.Label) }) { // which is said
		n.prev, n.due, n.lost = r, int64(label.From.N)+1, true
		n.facts().numbered = int64(label.From.N)
		return
	}
	from, to := int64(label.From.N), int64(label.To.N)
	if joins := len(label.Steps) > 0 && label.Steps[0].Kind == grammar.StepJoin; joins && n.off {
		n.rejoined = true
	}
	switch {
	case to < from:
		n.backwards(r, to, from)
		to = from
	case !n.fits(r, from):
		var early bool
		if to, early = n.misfit(piece, r, from, to); early {
			n.alt = to + 1 // what was due still is
			return
		}
	}
	n.prev, n.due, n.lost = r, to+1, false
	n.facts().numbered = max(to, 0)
	if from == n.alt || n.due > n.alt {
		n.alt = 0
	}
	if n.rejoined {
		n.off, n.rejoined = false, false
	}
}

// fits says whether a round may carry its number.
func (n *numbering) fits(r *fabric.Round, from int64) bool {
	switch {
	case from == n.due, n.alt > 0 && from == n.alt:
		return true
	case n.lost:
		return from >= n.due
	case n.prev == nil:
		return from == 0 || from == n.before+1
	case n.prev.Node.Row != r.Node.Row:
		return from == 1
	case n.rejoined:
		return from < n.due
	}
	return false
}

// misfit reports a number that does not belong. It gives the last number that
// the round is taken for; early is set where it stands before its place and
// the next ones are right.
func (n *numbering) misfit(piece *fabric.Piece, r *fabric.Round, from, to int64) (last int64, early bool) {
	n.facts().cur.misnumbered = true
	at, label := lineOf(piece, r), r.Node
	after, more := n.following(piece, 0, r)
	meant := n.due + to - from
	if more && after == meant+1 {
		new := strconv.FormatInt(n.due, 10)
		if label.To.Written() {
			new += "-" + strconv.FormatInt(meant, 10)
		}
		f := n.Report(at, label.Label, saySlipOfNumber(label.Row, from, to, n.due, meant), fix(sayNumberIt(label.Row, n.due, meant), true, n.edit(at, numbersOf(label), new)))
		next := piece.Rounds[n.next]
		f.Related = append(f.Related, n.related(lineOf(piece, next), next.Node.Label, sayNextOne()))
		return meant, false
	}
	f := n.Report(at, label.Label, n.sayOutOfOrder(r, from, to))
	if n.prev != nil {
		prev := lineOf(piece, n.prev)
		f.Related = append(f.Related, n.related(prev, n.prev.Node.Label, sayLineBefore()))
		if end := n.prev.Node.To; end.Written() && int64(end.N) >= from && from > int64(n.prev.Node.From.N) {
			new := strconv.FormatInt(from-1, 10)
			f.Fixes = append(f.Fixes, fix(sayEndRange(label.Row, from-1), false, n.edit(prev, end.Span, new)))
		}
	}
	second, is := n.following(piece, 1, r)
	return to, more && after == n.due && is && second == to+1
}

// following is the first number of a round further on, of the same kind.
func (n *numbering) following(piece *fabric.Piece, ahead int, r *fabric.Round) (int64, bool) {
	i := n.next + ahead
	if i >= len(piece.Rounds) {
		return 0, false
	}
	l := piece.Rounds[i].Node
	return int64(l.From.N), l.From.Written() && l.Row == r.Node.Row
}

func (n *numbering) backwards(r *fabric.Round, low, high int64) {
	label, at := r.Node, n.At()
	new := strconv.FormatInt(low, 10) + "-" + strconv.FormatInt(high, 10)
	n.Report(at, label.Label, sayBackwards(label.Row, low, high), fix(sayNumberIt(label.Row, low, high), low == n.due, n.edit(at, numbersOf(label), new)))
}

// numbersOf spans the numbers of a label.
func numbersOf(n *grammar.Round) grammar.Span { return n.From.Span.To(n.To.Span) }

func (n *numbering) sayOutOfOrder(r *fabric.Round, from, to int64) string {
	row := r.Node.Row
	name := rounds(row, from, to)
	switch {
	case from > n.due && n.prev == nil:
		return fmt.Sprintf("this part begins with %s; %s %s missing", name, rounds(row, n.due, from-1), isAre(from-n.due))
	case from > n.due:
		return fmt.Sprintf("%s follows %s; %s %s missing", name, fabric.RoundName(row, n.due-1), rounds(row, n.due, from-1), isAre(from-n.due))
	case n.prev != nil && int64(n.prev.Node.From.N) <= from && from <= int64(n.prev.Node.To.N) && n.prev.Node.To.Written():
		return fmt.Sprintf("%s is there already: the line before it goes up to %s", fabric.RoundName(row, from), fabric.RoundName(row, n.due-1))
	case from == n.due-1:
		return fmt.Sprintf("%s is there twice", fabric.RoundName(row, from))
	case from == 1:
		return fmt.Sprintf("%s stands behind %s; a new part begins with a Piece: line", name, fabric.RoundName(row, n.due-1))
	}
	return fmt.Sprintf("%s stands behind %s", name, fabric.RoundName(row, n.due-1))
}

func saySlipOfNumber(row bool, from, to, due, meant int64) string {
	return fmt.Sprintf("%s stands where %s belongs; the next one is %s", rounds(row, from, to), rounds(row, due, meant), fabric.RoundName(row, meant+1))
}

func sayNextOne() string { return "the next one" }

func sayNumberIt(row bool, from, to int64) string { return "number it " + rounds(row, from, to) }

func sayLineBefore() string { return "the line before it" }

func sayEndRange(row bool, to int64) string {
	return "end the range before it at " + fabric.RoundName(row, to)
}

func sayBackwards(row bool, low, high int64) string {
	return fmt.Sprintf("this range runs backwards: %s is meant", rounds(row, low, high))
}
