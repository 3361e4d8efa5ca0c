package lint

import (
	"fmt"
	"slices"
	"sort"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "order",
	Severity: Warning,
	Summary:  "Something is done too late, or before what it needs is there",
	Why: "A pattern is followed from top to bottom by somebody who has not read to the end. Stuffing cannot go into a part that is closed, nor the washer of a safety eye; " +
		"a part cannot be sewn, or worked onto, before it is made.",
	Bad:  "Notion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\nRnd 6: dec x 6 (6)\nClose.\nStuff firmly.\n",
	Good: "Notion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\nStuff firmly.\nRnd 6: dec x 6 (6)\nClose.\n",
	Start: func(p *Pass) Visits {
		o := &order{Pass: p}
		return Visits{Line: o.line, End: o.end, Reads: readsShapes}
	},
})

type order struct{ *Pass }

// line looks at the actions of the part in hand, in the order that they stand.
func (o *order) line(l *grammar.Line) {
	n, ok := l.Node.(*grammar.Action)
	part := o.facts().cur
	if !ok || part == nil {
		return
	}
	switch n.Verb {
	case grammar.VerbStuff:
		switch {
		case part.closed >= 0 && part.closed < o.At():
			o.Report(o.At(), grammar.Span{}, sayStuffClosed(part)).Related = []Related{o.related(part.closed, grammar.Span{}, sayClosedHere())}
		case part.narrow() && part.stuffed == o.At(): // a little more is often put in last
			x := o.Report(o.At(), grammar.Span{}, sayStuffNarrow(part))
			if last := part.before(o.At()); last != nil {
				x.Related = []Related{o.related(lineOf(part.piece, last), last.Node.Label, sayBelow(last))}
			}
		}
	case grammar.VerbInsert:
		o.insert(n, part)
	}
}

// narrow says whether a wide part has been decreased to next to nothing.
func (p *part) narrow() bool { return !p.row && p.open > 0 && p.open <= 6 && p.most >= 18 }

// insert looks at a thing that is put in from inside.
func (o *order) insert(n *grammar.Action, part *part) {
	if t := append(thingsIn(n.Thing.Text), nil)[0]; t == nil || t != thingNamed("eye") && t != thingNamed("nose") {
		return // a washer holds these from inside
	}
	for i := range n.Where {
		w := &n.Where[i]
		last, upTo := part.before(o.At()), max(int64(w.From.N), int64(w.To.N))
		if last == nil || w.Kind > grammar.WhereOver || upTo <= lastNumber(last) || part.round(int64(w.From.N)) == nil {
			continue
		}
		x := o.Report(o.At(), w.Span, sayNotWorkedYet(w.Row, upTo, last))
		if there := part.round(upTo); there != nil {
			x.Related = []Related{o.related(lineOf(part.piece, there), there.Node.Label, sayWorkedThere())}
		}
		return
	}
	switch {
	case part.closed >= 0:
		o.Report(o.At(), n.Thing.Span, sayInsertClosed(part, n.Thing.Text)).Related = []Related{o.related(part.closed, grammar.Span{}, sayClosedHere())}
	case part.stuffed >= 0:
		o.Report(o.At(), n.Thing.Span, sayInsertStuffed(part, n.Thing.Text)).Related = []Related{o.related(part.stuffed, grammar.Span{}, sayStuffedHere())}
	}
}

// before is the last round that stands before a statement; nil without one.
func (p *part) before(at int) *fabric.Round {
	i := sort.Search(len(p.piece.Rounds), func(i int) bool { return lineOf(p.piece, p.piece.Rounds[i]) >= at })
	if i == 0 {
		return nil
	}
	return p.piece.Rounds[i-1]
}

// lastNumber is the number of the last round that a statement works.
func lastNumber(r *fabric.Round) int64 { return max(int64(r.Node.To.N), int64(r.Node.From.N)) }

// end looks at the making up, and at parts as they are left.
func (o *order) end() {
	f := o.facts()
	for _, j := range f.joins {
		for _, p := range []*part{j.part, j.to} {
			if p != nil && p.piece.At > j.at {
				o.Report(j.at, grammar.Span{}, saySewnBefore(p)).Related = []Related{o.related(p.piece.At, grammar.Span{}, sayMadeThere())}
				break
			}
		}
	}
	for _, j := range f.onto {
		if on := f.named(j.on.Text); on != nil && j.part != nil && on != j.part && on.piece.At > j.part.piece.At {
			o.Report(j.at, j.on.Span, sayNotThereYet(on.piece)).Related = []Related{o.related(on.piece.At, grammar.Span{}, sayMadeThere())}
		}
	}
	for _, u := range f.uses {
		if u.thing != nil && u.thing == thingNamed("eye") && !u.insert && u.part != nil && u.part.shut() && u.at > u.part.piece.At && u.part.stuffed >= 0 && slices.Contains(f.words(u.text), "safety") {
			x := o.Report(u.at, u.span, sayEyesLast(u.part, u.text))
			x.Related = []Related{o.related(u.part.stuffed, grammar.Span{}, sayStuffedHere()), o.related(u.part.lastLine(), grammar.Span{}, sayClosedHere())}
		}
	}
	o.intoLater()
	o.neverStuffed()
}

// intoLater reports stitches of a part that are worked into before it is made.
func (o *order) intoLater() {
	for _, piece := range o.walk.workedOnto() {
		told := map[*part]bool{}
		for _, r := range piece.Rounds {
			o.intoLaterIn(piece, r, r.Node.Steps, told)
		}
	}
}

func (o *order) intoLaterIn(piece *fabric.Piece, r *fabric.Round, steps []grammar.Step, told map[*part]bool) {
	for i := range steps {
		s := &steps[i]
		for j := range s.Places {
			p := &s.Places[j]
			if !p.Of().Written() || p.Kind == grammar.PlacePiece {
				continue
			}
			if of := o.facts().named(p.Of().Text); of != nil && of.piece.At > piece.At && !told[of] {
				told[of] = true
				o.Report(lineOf(piece, r), p.Of().Span, sayIntoLater(of.piece)).Related = []Related{o.related(of.piece.At, grammar.Span{}, sayMadeThere())}
			}
		}
		if s.Group != nil {
			o.intoLaterIn(piece, r, s.Group.Steps, told)
		}
	}
}

// neverStuffed reports bodies that are closed empty. A note of the part's own
// may say why, and one behind the parts may say it of any.
func (o *order) neverStuffed() {
	f := o.facts()
	asked := false
	for _, p := range f.parts {
		if !p.hollow() || p.stuffed >= 0 || p.notStuffed {
			continue
		}
		if !asked && f.making >= 0 {
			from, _ := slices.BinarySearch(f.texts, f.making)
			if o.speakOfStuffing(f.texts[from:]) {
				return
			}
		}
		asked = true
		from, _ := slices.BinarySearch(f.texts, p.piece.At)
		to, _ := slices.BinarySearch(f.texts, p.piece.At+len(p.piece.Lines))
		if !o.speakOfStuffing(f.texts[from:to]) {
			o.Report(p.lastLine(), grammar.Span{}, sayNeverStuffed(p))
		}
	}
}

// lastLine is the statement that closes a part: its last round, or the action that does.
func (p *part) lastLine() int {
	if p.closed >= 0 {
		return p.closed
	}
	return lineOf(p.piece, p.piece.Last())
}

// speakOfStuffing says whether any of some statements speaks of it in free words.
func (o *order) speakOfStuffing(texts []int) bool {
	for _, at := range texts {
		for _, w := range o.facts().words(o.facts().said(at)) {
			switch w {
			case "stuff", "stuffed", "stuffing", "unstuffed", "fill", "filled", "flat", "flatten":
				return true
			}
		}
	}
	return false
}

func sayStuffClosed(p *part) string {
	return partName(p.piece) + " is stuffed here, and was closed before"
}

func sayStuffNarrow(p *part) string {
	return fmt.Sprintf("%s is stuffed here through an opening of %s; stuff it while it is wider", partName(p.piece), stitches(p.open))
}

func sayClosedHere() string { return "it is closed here" }

func sayStuffedHere() string { return "it is stuffed here" }

func sayNotWorkedYet(row bool, n int64, last *fabric.Round) string {
	return fmt.Sprintf("%s is not worked yet: this stands behind %s", fabric.RoundName(row, n), fabric.RoundName(last.Node.Row, lastNumber(last)))
}

func sayWorkedThere() string { return "it is worked here" }

func sayInsertClosed(p *part, thing string) string {
	return fmt.Sprintf("%s: these go in from inside, but %s was closed before", thing, partName(p.piece))
}

func sayInsertStuffed(p *part, thing string) string {
	return fmt.Sprintf("%s: these go in from inside, but %s was stuffed before", thing, partName(p.piece))
}

func saySewnBefore(p *part) string { return partName(p.piece) + " is sewn here and made further down" }

func sayMadeThere() string { return "it is made here" }

func sayNotThereYet(piece *fabric.Piece) string {
	return partName(piece) + " is worked onto here and made further down"
}

func sayIntoLater(piece *fabric.Piece) string {
	return partName(piece) + " is worked into here and made further down"
}

func sayEyesLast(p *part, thing string) string {
	return fmt.Sprintf("%s: these are fastened from inside, but %s is stuffed and closed by then; put them in before it is closed", thing, partName(p.piece))
}

func sayNeverStuffed(p *part) string {
	return partName(p.piece) + " is closed and never stuffed; say \"Stuff\" before it closes, or \"Do not stuff\""
}
