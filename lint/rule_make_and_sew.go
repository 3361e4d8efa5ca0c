package lint

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "make-and-sew",
	Severity: Error,
	Summary:  "A part is made in another number than is sewn on, is never sewn, or is sewn and never made",
	Why: "At the end a maker lays her parts out and finds two ears too many, or a leg too few and the yarn cut. " +
		"Every part has to be made as often as it is sewn, worked into another or joined; only the part that the others are sewn to needs no sewing itself.",
	Repair: "The number of the other line, or the part's name that is most like the one written.",
	Bad:    "Notion: yarn needle\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nPiece: Feeler (make 4)\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Feeler x 2 to Shell, open edge\n",
	Good:   "Notion: yarn needle\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nPiece: Feeler (make 2)\nRnd 1: 4 sc in magic ring (4)\nAssembly:\nSew: Feeler x 2 to Shell, open edge\n",
	Start: func(p *Pass) Visits {
		return Visits{Reads: readsShapes, End: func() {
			m := makeAndSew{Pass: p, facts: p.facts(), forOne: map[*part]bool{}, spoken: make([]bool, len(p.facts().all)), unknown: map[string]bool{}, told: map[string]bool{}}
			m.neverMade()
			m.numbers()
			m.neverSewn()
		}}
	},
})

type makeAndSew struct {
	*Pass
	facts *facts
	// forOne holds, of parts that are made several times, whether what is sewn to
	// them is enough for one.
	forOne map[*part]bool
	// spoken says of each part whether the making up speaks of it otherwise than
	// by sewing it, or a slip does that is reported.
	spoken []bool
	// unknown are names that no part has, and none that is near: each may mean a
	// part that is never sewn otherwise.
	unknown map[string]bool
	// told are all such names that were reported: each once.
	told map[string]bool
}

// neverMade reports parts of the making up that no Piece line makes.
func (m *makeAndSew) neverMade() {
	if len(m.facts.parts) == 0 {
		return
	}
	for _, j := range m.facts.joins {
		if len(m.File.Lines[j.at].Faults) > 0 { // which is said; what it names may be sewn there
			m.speakOf(m.facts.said(j.at))
			continue
		}
		if j.part == nil && j.node.Part.Written() {
			m.speakOf(j.node.Part.Text)
			for _, one := range m.namesIn(j.at, j.node.Part) {
				if m.facts.named(one.Text) == nil {
					m.noSuchPart(j.at, one)
				}
			}
		}
		if j.to == nil && j.node.To.Written() {
			m.noSuchPart(j.at, j.node.To)
		}
	}
}

// namesIn are the names in a list of them.
func (m *makeAndSew) namesIn(at int, list grammar.Name) []grammar.Name {
	spans := grammar.NamesIn(list.Text)
	if len(spans) < 2 || list.Span.In(m.File.Lines[at].Text) != list.Text { // it has more blanks there
		return []grammar.Name{list}
	}
	var names []grammar.Name
	for _, s := range spans {
		names = append(names, grammar.Name{Text: s.In(list.Text), Span: grammar.Span{Start: list.Start + s.Start, End: list.Start + s.End}})
	}
	return names
}

// noSuchPart reports a name that no part has; one slip is enough for what it
// may mean.
func (m *makeAndSew) noSuchPart(at int, name grammar.Name) {
	key := grammar.NameKey(name.Text)
	if m.told[key] {
		return
	}
	m.told[key] = true
	near := m.unmade(at, name)
	m.speakOf(name.Text)
	if near == "" {
		m.unknown[key] = true
	}
	if i, _ := m.facts.means(near); i >= 0 {
		m.spoken[i] = true
	}
}

// unmade reports a name that no part has, and gives the nearest that one has.
func (p *Pass) unmade(at int, name grammar.Name) (near string) {
	near = nearestName(name.Text, p.facts().partNames())
	x := p.Report(at, name.Span, sayNeverMade(name.Text, near))
	if near != "" {
		x.Fixes = append(x.Fixes, fix(sayWrite(near), false, p.edit(at, name.Span, near)))
		if of := p.facts().named(near); of != nil {
			x.Related = append(x.Related, p.related(of.piece.At, of.piece.Node.Name.Span, sayIsMadeHere(near)))
		}
	}
	return near
}

// speakOf marks the parts that free words speak of.
func (m *makeAndSew) speakOf(text string) {
	for _, i := range m.facts.spokenOf(text) {
		m.spoken[i] = true
	}
}

// numbers holds how often each part is made against how often it is sewn.
func (m *makeAndSew) numbers() {
	for _, p := range m.facts.parts {
		if m.bare(p) {
			continue
		}
		if sewn, known := p.sewnTimes(m.facts.hearing, true); known && sewn != p.made() && !m.ofBare(p) {
			m.differs(p, p.made(), sewn)
		}
	}
}

// bare reports a part that is made several times while the parts sewn to it
// are enough for one, and says whether that is all there is to say of it.
func (m *makeAndSew) bare(p *part) bool {
	if !m.enoughForOne(p) {
		return false
	}
	x := m.Report(p.piece.At, p.piece.Node.Make.Span, sayBare(partName(p.piece), p.made()))
	for _, j := range p.bears {
		if j.part == nil {
			continue
		}
		x.Related = append(x.Related, m.related(j.at, j.node.Part.Span, saySewnHere(j.part)))
	}
	return len(p.sewn) == 0
}

// enoughForOne says whether each part sewn to one that is made several times
// is made just for one of it.
func (m *makeAndSew) enoughForOne(p *part) bool {
	if p.made() == 1 || p.piece.Node == nil {
		return false
	}
	one, known := m.forOne[p]
	if known {
		return one
	}
	for _, j := range p.bears {
		if j.part == nil {
			continue
		}
		sewn, known := j.part.sewnTimes(m.facts.hearing, false)
		one = known && sewn == j.part.made() && !j.all
		if !one {
			break
		}
	}
	m.forOne[p] = one
	return one
}

// ofBare says whether a part is sewn to one that bare reports.
func (m *makeAndSew) ofBare(p *part) bool {
	return slices.ContainsFunc(p.sewn, func(j *join) bool { return j.to != nil && m.enoughForOne(j.to) })
}

// made is how many copies of a part are made.
func (p *part) made() int64 { return max(p.piece.Make, 1) }

// sewnTimes is how many copies of a part are sewn on in all, counted for every
// copy of what they are sewn to or for one; false where that is left open, or
// the part is not sewn at all.
func (p *part) sewnTimes(h *hearing, everyCopy bool) (int64, bool) {
	if len(p.sewn) == 0 || p.onto || p.piece.Node == nil {
		return 0, false
	}
	sum, known := int64(0), true
	for _, j := range p.sewn {
		n, ok := j.number(h, p.made(), everyCopy)
		sum, known = sum+n, known && ok
	}
	return sum, known
}

// number is how many copies of a part a statement sews on; false where its
// words leave that open.
func (j *join) number(h *hearing, made int64, everyCopy bool) (int64, bool) {
	to := int64(1)
	if j.to != nil && everyCopy {
		to = j.to.made()
	}
	switch {
	case j.node.Times.Written():
		return int64(j.node.Times.N) * to, true
	case j.all:
		return made, true
	}
	for i := range j.node.Where {
		w := &j.node.Where[i]
		for _, word := range h.words(w.Text.Text) {
			switch word {
			case "each", "both", "either", "every", "sides", "all", "evenly":
				return 0, false
			}
		}
		if w.Kind == grammar.WhereEvenly {
			return 0, false
		}
	}
	return to, true
}

func (m *makeAndSew) differs(p *part, made, sewn int64) {
	j := p.sewn[0]
	span := j.node.Times.Span
	if !span.Written() {
		span = j.node.Part.Span
	}
	x := m.Report(j.at, span, sayMadeAndSewn(partName(p.piece), made, sewn))
	x.Related = append(x.Related, m.related(p.piece.At, p.piece.Node.Name.Span, sayMadeHere(made)))
	for _, more := range p.sewn[1:] {
		x.Related = append(x.Related, m.related(more.at, more.node.Part.Span, saySewnHere(p)))
	}
	if c := p.piece.Node.Make; c.Written() {
		new := strconv.FormatInt(sewn, 10)
		x.Fixes = append(x.Fixes, fix(sayMake(sewn, p), false, m.edit(p.piece.At, c.Span, new)))
	}
	if c := j.node.Times; c.Written() && len(p.sewn) == 1 && (j.to == nil || j.to.piece.Make <= 1) {
		x.Fixes = append(x.Fixes, fix(saySew(made, p), false, m.edit(j.at, c.Span, strconv.FormatInt(made, 10))))
	}
}

// neverSewn reports parts that the making up forgets. It speaks only where
// something is sewn at all: a pattern may be for several things that stay apart.
func (m *makeAndSew) neverSewn() {
	if len(m.facts.joins) == 0 {
		return
	}
	m.speaksOf()
	base := m.base()
	var unsewn []*part
	for i, p := range m.facts.parts {
		switch {
		case p.piece.Node == nil || len(p.piece.Rounds) == 0, len(p.sewn) > 0, p.onto, p.named, m.spoken[i], p == base:
		case len(p.bears) > 0 && !p.tail && !m.facts.toy(): // several things, each made up for itself
		default:
			unsewn = append(unsewn, p)
		}
	}
	if len(unsewn) <= len(m.unknown) {
		return
	}
	for _, p := range unsewn {
		m.Report(p.piece.At, p.piece.Node.Name.Span, sayNeverSewn(partName(p.piece)))
	}
}

// speaksOf marks the parts that notes and placements behind the parts name,
// such as a scarf that is tied on.
func (m *makeAndSew) speaksOf() {
	for _, at := range m.facts.texts {
		if at < m.facts.making || m.facts.making < 0 {
			continue
		}
		switch n := m.File.Lines[at].Node.(type) {
		case *grammar.Text:
			m.speakOf(n.Content.Text)
		case *grammar.Sew:
			for _, w := range n.Where {
				m.speakOf(w.Text.Text)
			}
		}
	}
}

// base is the part that the others are sewn to: of those that are not sewn
// themselves the one that bears the most, the first of several.
func (m *makeAndSew) base() *part {
	var best *part
	for _, p := range m.facts.parts {
		if len(p.sewn) == 0 && len(p.bears) > 0 && (best == nil || len(p.bears) > len(best.bears)) {
			best = p
		}
	}
	return best
}

func sayNeverMade(name, near string) string {
	m := "no part is called " + quoted(strings.TrimSpace(name))
	if near != "" {
		m += sayDidYouMean(near)
	}
	return m
}

func sayMadeAndSewn(name string, made, sewn int64) string {
	m := fmt.Sprintf("%s is made %s and sewn on %s", name, times(made), times(sewn))
	if made > sewn {
		return m + fmt.Sprintf("; %d %s left over", made-sewn, isAre(made-sewn))
	}
	return m + fmt.Sprintf("; %d %s missing", sewn-made, isAre(sewn-made))
}

func sayBare(name string, made int64) string {
	return fmt.Sprintf("%s is made %s, and the parts sewn to it are enough for one", name, times(made))
}

func sayMadeHere(n int64) string { return "it is made " + times(n) + " here" }

func sayIsMadeHere(name string) string { return name + " is made here" }

func saySewnHere(p *part) string { return partName(p.piece) + " is sewn here" }

func sayMake(n int64, p *part) string { return fmt.Sprintf("make %d of %s", n, partName(p.piece)) }

func saySew(n int64, p *part) string { return fmt.Sprintf("sew %d of %s", n, partName(p.piece)) }

func sayNeverSewn(name string) string { return name + " is made and never sewn to anything" }
