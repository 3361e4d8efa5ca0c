package lint

import (
	"fmt"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "placement",
	Severity: Error,
	Summary:  "A part, an eye or a seam is placed where the part has no such rounds or not the room",
	Why: "\"Between Rnds 12 and 14\" on a part of 11 rounds, or eyes 10 stitches apart on a round of 16, cannot be done as written; a maker guesses, and every face comes out different. " +
		"Rounds that are not there are errors; rounds that are no neighbors, distances of more than half a round and seams longer than the open edge are warnings.",
	Repair: "\"over\" for rounds that are no neighbors, or the part's name that is most like the one written.",
	Bad:    "Notion: yarn needle\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nPiece: Feeler\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Feeler to Shell, between Rnds 5 and 6\n",
	Good:   "Notion: yarn needle\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nPiece: Feeler\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Feeler to Shell, between Rnds 3 and 4\n",
	Start: func(p *Pass) Visits {
		pl := placement{p, map[string]bool{}}
		return Visits{End: pl.end, Reads: readsShapes}
	},
})

type placement struct {
	*Pass
	// told are the names of parts that are not made, each reported once.
	told map[string]bool
}

// unmade reports a name that no part has, unless that was said of it before or
// make-and-sew says it of a seam.
func (p placement) unmade(at int, name grammar.Name) {
	if len(p.told) == 0 {
		for _, j := range p.facts().joins {
			if j.to == nil {
				p.told[grammar.NameKey(j.node.To.Text)] = true
			}
			if j.part == nil {
				p.told[grammar.NameKey(j.node.Part.Text)] = true
			}
		}
	}
	if key := grammar.NameKey(name.Text); !p.told[key] {
		p.told[key] = true
		p.Pass.unmade(at, name)
	}
}

// end looks at what is put on a part (eyes, embroidery, things inserted), then
// at parts sewn to others, and worked onto others.
func (p placement) end() {
	f := p.facts()
	for _, at := range f.texts {
		switch n := p.File.Lines[at].Node.(type) {
		case *grammar.PlaceThing:
			if on := p.on(at, n.On); on != nil {
				p.where(at, on, n.Where, nil)
			}
		case *grammar.Embroider:
			if on := p.on(at, n.On); on != nil {
				p.where(at, on, n.Where, nil)
			}
		case *grammar.Action:
			if on := f.partAt(at); on != nil {
				p.where(at, on, n.Where, nil)
			}
		}
	}
	p.joins()
}

// on finds the part that something is put on, and reports one that is not made.
func (p placement) on(at int, name grammar.Name) *part {
	on := p.facts().named(name.Text)
	if on == nil && name.Written() && len(p.Pattern.Pieces) > 0 && p.Pattern.Pieces[0].Node != nil && len(p.File.Lines[at].Faults) == 0 {
		p.unmade(at, name)
	}
	return on
}

func (p placement) joins() {
	f := p.facts()
	for _, j := range f.joins {
		if j.to != nil {
			p.where(j.at, j.to, j.node.Where, j.part)
		}
	}
	for _, j := range f.onto {
		on := f.named(j.on.Text)
		switch x := j.step.Rounds(); {
		case on == nil && j.on.Written():
			p.unmade(j.at, j.on)
		case on != nil && len(on.piece.Rounds) > 0 && x != nil && x.From.Written():
			p.between(j.at, on, x.From, x.To, x.Row, x.Span)
		}
	}
}

// where checks each part of a placement on a part; sewn is what is sewn there.
func (p placement) where(at int, on *part, where []grammar.Where, sewn *part) {
	if len(on.piece.Rounds) == 0 {
		return
	}
	var round *fabric.Round
	for i := range where {
		w := &where[i]
		switch w.Kind {
		case grammar.WhereBetween:
			round = p.between(at, on, w.From, w.To, w.Row, w.Span)
		case grammar.WhereAt:
			round = p.exists(at, on, w.From, w.Row, w.Span)
		case grammar.WhereOver:
			p.over(at, on, w, sewn)
		case grammar.WhereInLine:
			if w.Part.Written() && p.facts().named(w.Part.Text) == nil {
				p.unmade(at, w.Part)
			}
		}
	}
	for i := range where {
		switch w := &where[i]; w.Kind {
		case grammar.WhereApart:
			p.apart(at, on, round, w)
		case grammar.WhereAcross:
			p.across(at, sewn, w)
		}
	}
}

// exists finds a round of a part by its number, and reports one that is not there.
func (p placement) exists(at int, on *part, c grammar.Count, row bool, span grammar.Span) *fabric.Round {
	if !c.Written() || on.misnumbered {
		return nil
	}
	r := on.round(int64(c.N))
	if r == nil {
		p.noSuchRound(at, on, c, row)
		return nil
	}
	if r.Node.Row != row {
		p.doubt(at, span, sayRowsNotRounds(on.piece, r.Node.Row), on, r)
	}
	return r
}

// noSuchRound reports a round that a part has not, and where the part ends.
func (p placement) noSuchRound(at int, on *part, c grammar.Count, row bool) {
	x := p.Report(at, c.Span, sayNoSuchRound(on.piece, row, int64(c.N)))
	last := on.piece.Last()
	x.Related = append(x.Related, p.related(lineOf(on.piece, last), last.Node.Label, sayLastRound(on.piece)))
}

// doubt reports what can hardly be meant, and the round of a part that tells.
func (p placement) doubt(at int, span grammar.Span, message string, of *part, r *fabric.Round) {
	x := p.Report(at, span, message)
	p.milder(x, Warning)
	x.Related = append(x.Related, p.related(lineOf(of.piece, r), r.Node.Label, sayBelow(r)))
}

// between checks two neighboring rounds, and gives the larger.
func (p placement) between(at int, on *part, from, to grammar.Count, row bool, span grammar.Span) *fabric.Round {
	a := p.exists(at, on, from, row, span)
	if a == nil {
		return nil
	}
	if !to.Written() {
		return a
	}
	b := on.round(int64(to.N))
	if b == nil {
		p.noSuchRound(at, on, to, row)
		return a
	}
	if d := to.N - from.N; d != 1 && d != -1 {
		x := p.Report(at, span, sayNoNeighbors(p.Pass, row, from, to))
		p.milder(x, Warning)
		if over := sayOver(row, from, to); d != 0 && strings.HasPrefix(strings.ToLower(span.In(p.File.Lines[at].Text)), "between") {
			x.Fixes = append(x.Fixes, fix(sayWrite(over), false, p.edit(at, span, over)))
		}
		n := int64(min(from.N, to.N)) + 1
		if r := on.round(n); d != 0 && r != nil {
			x.Related = append(x.Related, p.related(lineOf(on.piece, r), r.Node.Label, sayStandsBetween(row, n)))
		}
	}
	if upon(b) > upon(a) {
		return b
	}
	return a
}

// upon is how many stitches a round has to be worked on or placed upon.
func upon(r *fabric.Round) int64 {
	return leftBy(r).n
}

// over checks a range of rounds, and a seam along them against the open edge
// of what is sewn.
func (p placement) over(at int, on *part, w *grammar.Where, sewn *part) {
	if p.exists(at, on, w.From, w.Row, w.Span) == nil {
		return
	}
	if w.To.N < w.From.N {
		p.milder(p.Report(at, w.Span, sayBackwards(w.Row, int64(w.To.N), int64(w.From.N))), Warning)
		return
	}
	if on.round(int64(w.To.N)) == nil {
		p.noSuchRound(at, on, w.To, w.Row)
		return
	}
	p.seam(at, sewn, int64(w.To.N)-int64(w.From.N)+1, roundsOf(w.Row), w.Span)
}

// across checks a seam across stitches against the open edge.
func (p placement) across(at int, sewn *part, w *grammar.Where) {
	p.seam(at, sewn, int64(w.Count.N), "stitches", w.Span)
}

// seam reports one that is longer than the open edge is when laid flat; what is
// closed, or worked in rows, has other edges to sew along.
func (p placement) seam(at int, sewn *part, long int64, unit string, span grammar.Span) {
	if sewn == nil || sewn.row || sewn.open <= 0 || sewn.shut() || long <= sewn.open {
		return
	}
	p.doubt(at, span, saySeam(sewn, long, unit), sewn, sewn.piece.Last())
}

// apart reports a distance that a round has no room for: two places on a round
// are at most half of it apart.
func (p placement) apart(at int, on *part, r *fabric.Round, w *grammar.Where) {
	if r == nil || upon(r) == 0 {
		return
	}
	n := int64(w.Count.N)
	room := upon(r) / 2
	if r.Node.Row {
		room = upon(r)
	}
	if n > room {
		p.doubt(at, w.Span, sayTooFarApart(on.piece, r, n, room), on, r)
	}
}

func sayNoSuchRound(piece *fabric.Piece, row bool, n int64) string {
	last := piece.Last()
	return fmt.Sprintf("%s has no %s; its last is %s", partName(piece), fabric.RoundName(row, n), fabric.RoundName(last.Node.Row, max(int64(last.Node.To.N), int64(last.Node.From.N))))
}

func sayLastRound(piece *fabric.Piece) string { return partName(piece) + " ends here" }

func sayRowsNotRounds(piece *fabric.Piece, row bool) string {
	return fmt.Sprintf("%s is worked in %s there, not in %s", partName(piece), roundsOf(row), roundsOf(!row))
}

func sayNoNeighbors(p *Pass, row bool, from, to grammar.Count) string {
	return fmt.Sprintf("%ss %d and %d are no %s; say %s for all %s from one to the other", fabric.RoundWord(row), from.N, to.N, neighbors(p.System()), quoted(sayOver(row, from, to)), roundsOf(row))
}

func sayStandsBetween(row bool, n int64) string {
	return fabric.RoundName(row, n) + " stands between them"
}

func sayOver(row bool, from, to grammar.Count) string {
	return "over " + rounds(row, int64(min(from.N, to.N)), int64(max(from.N, to.N)))
}

func saySeam(p *part, long int64, unit string) string {
	return fmt.Sprintf("the open edge of %s has %s, too few for a seam over %d %s", partName(p.piece), stitches(p.open), long, unit)
}

func sayTooFarApart(piece *fabric.Piece, r *fabric.Round, n, room int64) string {
	has := "has"
	if several(r) {
		has = "have"
	}
	return fmt.Sprintf("%s apart is too far: %s of %s %s %s, so two places there are at most %d apart", stitches(n), r.Name(), partName(piece), has, stitches(upon(r)), room)
}
