package fabric

import (
	"slices"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Repairs are not looked for in rounds that cost too much to work again and
// again: a longer line, in bytes, or more steps walked than any maker's round.
const (
	maxRepairLine   = 2 << 10
	maxRepairEffort = 4000
)

// maxRepairs is how many repairs of one slip are offered at most.
const maxRepairs = 4

// Repairs finds small edits to a round that make the piece come out even
// again, likeliest first. Each was tried by reading the edited line and
// working the piece on from it; one that does not hold is not given.
func (p *Pattern) Repairs(piece *Piece, r *Round, x Problem) []Repair {
	var out []Repair
	for _, plain := range x.Plain {
		plain.Off = r.Off
		out = append(out, plain)
	}
	if !x.Counting() || !r.Known && x.Kind != NoSuchPlace {
		if x.Kind == UnknownTerm {
			return p.respelled(piece, r, x)
		}
		return out
	}
	if len(r.Line.Text) > maxRepairLine || r.effort > maxRepairEffort {
		return out
	}
	tried := p.candidates(piece, r, x)
	slices.SortStableFunc(tried, func(a, b candidate) int { return a.cost - b.cost })
	for _, c := range tried {
		if len(out) == maxRepairs {
			break
		}
		if p.holds(piece, r, c.Repair) {
			c.Off = r.Off
			out = append(out, c.Repair)
		}
	}
	sure := len(out) == 1 && (x.Words || x.Total)
	for i := range out {
		out[i].Sure = sure
	}
	return out
}

type candidate struct {
	Repair
	cost int
}

// candidates lists the single edits worth trying, cheapest first in the order
// of how often makers slip that way.
func (p *Pattern) candidates(piece *Piece, r *Round, x Problem) []candidate {
	text := r.Line.Text
	var out []candidate
	// within is what the title shows around the number that is changed.
	within := func(span, around grammar.Span, new string, cost int) {
		if old := span.In(text); old != new && !slices.ContainsFunc(out, func(c candidate) bool { return c.Span == span && c.New == new }) {
			around = around.To(span)
			around.Start = min(around.Start, span.Start)
			title := p.sayChange(around.In(text), text[around.Start:span.Start]+new+text[span.End:around.End])
			if !span.Written() {
				title = p.sayAdd(new)
			}
			out = append(out, candidate{Repair{Span: span, New: new, Title: title}, cost})
		}
	}
	add := func(span grammar.Span, new string, cost int) { within(span, span, new, cost) }
	if r.Node.Total != nil && r.Known {
		for _, part := range r.Node.Total.Parts {
			if right := r.made(p, part.Unit); right != int64(part.Count.N) {
				cost := 40
				if x.Total {
					cost = 0
				}
				if x.Words {
					cost = 200
				}
				within(part.Count.Span, r.Node.Total.Span, digits(right), cost)
			}
		}
	}
	p.eachNumber(r.Node.Steps, func(c grammar.Count, around grammar.Span, kind int) {
		for _, n := range p.solve(piece, r, c) {
			d := n - int64(c.N)
			if d < 0 {
				d = -d
			}
			within(c.Span, around, digits(n), kind+int(min(d, 50)))
		}
	})
	p.eachMissing(r.Node.Steps, func(stitch grammar.Span) {
		// a count that is not written is one; two or more may be missing
		for n := int64(2); n <= 4; n++ {
			add(stitch, stitch.In(text)+" "+digits(n), 60+int(n))
		}
	})
	p.swaps(r, add)
	p.missingSteps(r, add)
	return out
}

// solve finds the values of a number that bring a round's stitches out, by
// working it with two others and drawing the line between; small values are
// tried besides, since repeats around follow no line.
func (p *Pattern) solve(piece *Piece, r *Round, c grammar.Count) []int64 {
	tryAt := func(n int64) (takes, makes int64, ok bool) {
		q := p.edited(piece, r, Repair{Span: c.Span, New: digits(n)})
		if q == nil || !q.Known {
			return 0, 0, false
		}
		return q.Takes, q.Makes, true
	}
	var out []int64
	was := int64(c.N)
	for d := int64(1); d <= 3; d++ {
		for _, n := range []int64{was - d, was + d} {
			if n >= 1 {
				out = append(out, n)
			}
		}
	}
	t1, m1, ok1 := tryAt(was)
	t2, m2, ok2 := tryAt(was + 1)
	if ok1 && ok2 {
		avail := int64(0)
		if r.In != nil {
			avail = r.In.Stitches()
		}
		want := func(need, at, step int64) {
			if step != 0 && (need-at)%step == 0 {
				if n := was + (need-at)/step; n >= 1 && n <= 100000 {
					out = append(out, n)
				}
			}
		}
		want(avail, t1, t2-t1)
		if s, ok := p.StatedStitches(r.Node.Total); ok {
			want(s, m1, m2-m1)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// eachNumber visits the counts that steps write, with what a slip there costs:
// repeat counts come before stitch counts.
func (p *Pattern) eachNumber(steps []grammar.Step, do func(c grammar.Count, around grammar.Span, cost int)) {
	for i := range steps {
		s := &steps[i]
		if s.Count.Written() {
			around := s.Count.Span
			if s.Stitch.Written() {
				around = grammar.Span{Start: min(s.Stitch.Start, s.Count.Start), End: max(s.Stitch.End, s.Count.End)}
			}
			do(s.Count, around, 10)
		}
		for j := range s.Places {
			if c := s.Places[j].Count; c.Written() && c.Span != s.Count.Span {
				do(c, s.Places[j].Span, 10)
			}
			if c := s.Places[j].Fill.Left(); c.Written() {
				do(c, s.Places[j].Fill.Span, 14)
			}
		}
		if c := s.Fill.Left(); c.Written() {
			do(c, s.Fill.Span, 14)
		}
		if g := s.Group; g != nil {
			if c := g.Times.Count; c.Written() {
				do(c, g.Times.Span, 9)
			}
			if c := g.Times.Fill.Left(); c.Written() {
				do(c, g.Times.Fill.Span, 14)
			}
			p.eachNumber(g.Steps, do)
		}
	}
}

// eachMissing visits stitches without a count, where one may have been forgotten.
func (p *Pattern) eachMissing(steps []grammar.Step, do func(grammar.Span)) {
	for i := range steps {
		s := &steps[i]
		if s.Kind == grammar.StepWork && !s.Count.Written() && len(s.Places) == 0 && s.Fill.Kind == grammar.FillNone && s.Stitch.Written() {
			do(s.Stitch.Span)
		}
		if s.Group != nil {
			p.eachMissing(s.Group.Steps, do)
		}
	}
}

// swaps tries inc for dec, and the space that is there for the one that is not.
func (p *Pattern) swaps(r *Round, add func(grammar.Span, string, int)) {
	var walk func([]grammar.Step)
	walk = func(steps []grammar.Step) {
		for i := range steps {
			s := &steps[i]
			if s.Kind == grammar.StepWork {
				switch s.Stitch.Text {
				case "inc":
					add(s.Stitch.Span, "dec", 70)
				case "dec":
					add(s.Stitch.Span, "inc", 70)
				}
			}
			for j := range s.Places {
				if u := s.Places[j].Unit; u.Kind == grammar.UnitSpace && u.Chains > 0 && r.In != nil {
					for _, item := range r.In.Items {
						if item.Kind == Space && item.Chains != u.Chains {
							add(u.Span, spaceName(item.Chains), 12)
						}
					}
				}
			}
			if s.Group != nil {
				walk(s.Group.Steps)
			}
		}
	}
	walk(r.Node.Steps)
}

func spaceName(chains int32) string { return "ch-" + digits(int64(chains)) + " sp" }

// missingSteps tries the stitches that are left as a step at the end.
func (p *Pattern) missingSteps(r *Round, add func(grammar.Span, string, int)) {
	if r.In == nil || len(r.Node.Steps) == 0 || r.In.Unknown {
		return
	}
	left := r.In.Stitches() - r.Takes
	if left <= 0 || left > 1000 {
		return
	}
	main := p.book.byID("sc")
	if len(r.Stitches) > 0 && r.Stitches[0].Stitch != nil {
		main = r.Stitches[len(r.Stitches)-1].Stitch
	}
	last := len(r.Node.Steps) - 1
	for last > 0 && r.Node.Steps[last].Kind == grammar.StepJoin {
		last--
	}
	at := r.Node.Steps[last].Span.End
	step := ", " + main.Name
	if left > 1 {
		step += " " + digits(left)
	}
	add(grammar.Span{Start: at, End: at}, step, 80)
	if left%2 == 0 {
		dec := ", dec"
		if left > 2 {
			dec += " " + digits(left/2)
		}
		add(grammar.Span{Start: at, End: at}, dec, 95)
	}
	inc := ", inc"
	if left > 1 {
		inc += " " + digits(left)
	}
	add(grammar.Span{Start: at, End: at}, inc, 90)
}

// edited works a round again with one edit to its line; nil where the edited
// line no longer reads as a round.
func (p *Pattern) edited(piece *Piece, r *Round, c Repair) *Round {
	q, _ := p.editedFrom(piece, r, c)
	return q
}

func (p *Pattern) editedFrom(piece *Piece, r *Round, c Repair) (*Round, state) {
	text := r.Line.Text
	line := grammar.ParseLine(text[:c.Span.Start]+c.New+text[c.Span.End:], r.Line.Rows)
	n, ok := line.Node.(*grammar.Round)
	if !ok || n.Broken {
		return nil, state{}
	}
	st := *r.entry
	return p.statement(piece, lower{kept: piece.Rounds[:p.indexOf(piece, r)]}, &st, line, r.Off)
}

func (p *Pattern) indexOf(piece *Piece, r *Round) int {
	i, ok := slices.BinarySearchFunc(piece.Rounds, r.Off, func(a *Round, off int) int { return a.Off - off })
	if ok && piece.Rounds[i] == r {
		return i
	}
	return len(piece.Rounds)
}

// holds says whether an edit makes the round come out, and the rest of the
// piece no worse than it was.
func (p *Pattern) holds(piece *Piece, r *Round, c Repair) bool {
	q, st := p.editedFrom(piece, r, c)
	if q == nil || !q.Known || len(q.Problems) > 0 || p.compare(q, q.Node.Total).differs {
		return false
	}
	i := p.indexOf(piece, r)
	below := lower{kept: piece.Rounds[:i]}.and(q)
	for _, old := range piece.Rounds[i+1:] {
		if old.In.same(st.edge) && old.entry.label == st.label && old.entry.free.same(st.free) {
			return true // from here on nothing changes
		}
		cur := st
		next, after := p.statement(piece, below, &cur, old.Line, old.Off)
		if p.bad(next) {
			return counting(old.Problems) && next.Makes == old.Makes && next.Takes == old.Takes
		}
		below = below.and(next)
		st = after
	}
	return true
}

// repaired is the edge that the best repair of a round's words makes, where
// one makes the stated total; nil without one.
func (p *Pattern) repaired(piece *Piece, r *Round, stated int64) *Edge {
	plain := true
	for _, i := range r.Out.Items {
		plain = plain && i.Kind == Stitches
	}
	if plain && len(r.Out.Items) == 1 {
		return &Edge{Items: []Item{{Kind: Stitches, Stitch: r.Out.Items[0].Stitch, N: stated}}}
	}
	best := candidate{cost: 1 << 30}
	var edge *Edge
	for _, c := range p.candidates(piece, r, Problem{}) {
		if c.cost >= best.cost || c.Span.Start >= r.Node.Total.Start {
			continue
		}
		q, st := p.editedFrom(piece, r, c.Repair)
		if q != nil && q.Known && len(q.Problems) == 0 && !p.compare(q, q.Node.Total).differs {
			best, edge = c, st.edge
		}
	}
	return edge
}

// nearTo is what a word that nobody knows was likeliest meant for: a loop before
// a known stitch, another stitch, or a word of the notation.
func (p *Pattern) nearTo(word string) (string, bool) {
	if first, rest, several := strings.Cut(word, " "); several && terms.Find(p.Header.System, rest) != nil {
		if near, ok := grammar.NearWord(first); ok {
			return near + " " + rest, true
		}
	}
	if near, ok := p.Nearest(word); ok {
		return near, true
	}
	return grammar.NearWord(word)
}

// respelled offers the known stitch that is like an unknown one, where the
// round comes out with it.
func (p *Pattern) respelled(piece *Piece, r *Round, x Problem) []Repair {
	word := x.Span.In(r.Line.Text)
	near, ok := p.nearTo(word)
	if !ok {
		return nil
	}
	c := Repair{Off: r.Off, Span: x.Span, New: near, Title: p.sayChange(word, near)}
	if !p.holds(piece, r, c) {
		return nil
	}
	c.Sure = r.Node.Total != nil
	return []Repair{c}
}
