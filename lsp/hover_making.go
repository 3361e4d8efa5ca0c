package lsp

import (
	"fmt"
	"slices"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// making explains the lines of the making up.
func (e *explainer) making() {
	switch n := e.line.Node.(type) {
	case *grammar.Sew:
		_ = e.pieceAt(n.Part) || e.pieceAt(n.To) || e.wheres(n.Where, e.pieceNamed(n.To.Text), "") || e.rest(e.sewPage(n))
	case *grammar.PlaceThing:
		_ = e.pieceAt(n.On) || e.thing(n.Count, n.Thing) || e.wheres(n.Where, e.pieceNamed(n.On.Text), n.Thing.Text) || e.rest(nil)
	case *grammar.Embroider:
		_ = e.pieceAt(n.On) || e.yarnIn(n.What) || e.wheres(n.Where, e.pieceNamed(n.On.Text), "") || e.rest(nil)
	}
}

// rest explains what stands on a line besides what it names: by its own page,
// or else by its label's.
func (e *explainer) rest(p page) bool {
	span := grammar.Span{End: saidEnd(e.line)}
	if !e.on(span) || e.inProse() {
		return false
	}
	if p == nil {
		p = labelPage(e.p.Header.System, labelOf(e.line.Node))
	}
	return e.found(span, p)
}

// inProse says whether the place is in words that are free.
func (e *explainer) inProse() bool {
	var where []grammar.Where
	switch n := e.line.Node.(type) {
	case *grammar.Sew:
		where = n.Where
	case *grammar.PlaceThing:
		where = n.Where
	case *grammar.Embroider:
		where = n.Where
	case *grammar.Action:
		where = n.Where
	}
	for i := range where {
		if where[i].Kind == grammar.WhereFree && e.on(where[i].Span) {
			return true
		}
	}
	return false
}

// sewPage says how many of what are made are sewn on here.
func (e *explainer) sewPage(n *grammar.Sew) page {
	part, to := e.pieceNamed(n.Part.Text), e.pieceNamed(n.To.Text)
	if part == nil || to == nil {
		return nil
	}
	var p page
	sewn := max(int64(n.Times.N), 1)
	text := part.Name + " to " + to.Name
	if sewn > 1 {
		text = fmt.Sprintf("%s × %d to %s", part.Name, sewn, to.Name)
	}
	if made := max(part.Make, 1); made != sewn {
		text += fmt.Sprintf("; %d %s made", made, isOrAre(made))
	}
	p.head("Sew", ": "+text+".")
	if last := part.Last(); last != nil && last.Meant != nil && !last.Meant.Unknown {
		p.say(fmt.Sprintf("The last %s of %s has %s.", rounds(last, 1), part.Name, stitchCount(last.Meant.Stitches())))
	}
	return p
}

func isOrAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// yarnIn explains the yarn that is spoken of in free words, "beak in D".
func (e *explainer) yarnIn(words grammar.Name) bool {
	if !e.on(words.Span) {
		return false
	}
	given := map[string]bool{}
	for _, y := range e.p.Header.Yarns {
		given[y.Key.Text], given[y.Name.Text] = true, true
	}
	text := words.Span.In(e.line.Text)
	for _, one := range yarnsIn(text, given) {
		span := grammar.Span{Start: words.Start + one.Start, End: words.Start + one.End}
		if e.on(span) {
			return e.yarn(grammar.Name{Text: one.In(text), Span: span})
		}
	}
	return false
}

// thing explains a notion where it is put somewhere.
func (e *explainer) thing(n grammar.Count, thing grammar.Name) bool {
	span := thing.Span
	if n.Written() {
		span = n.Span.To(thing.Span)
	}
	if !e.on(span) {
		return false
	}
	if e.piece(thing.Text, span) {
		return true
	}
	name := thing.Text
	if n.Written() {
		name = n.Span.To(thing.Span).In(e.line.Text)
	}
	return e.found(span, e.notionPage(name, thing.Text))
}

// notion explains what is listed.
func (e *explainer) notion(n *grammar.Notion) bool {
	return e.on(n.Span) && e.found(n.Span, e.notionPage(n.Span.In(e.line.Text), n.Thing.Text))
}

// notionPage tells of a thing where it is listed, where it is used, and what
// there is to heed.
func (e *explainer) notionPage(written, thing string) page {
	var p page
	kind, known := lint.MaterialIn(thing)
	same := func(other string) bool {
		if k, ok := lint.MaterialIn(other); ok || known {
			return k == kind && ok == known
		}
		return terms.Key(other) == terms.Key(thing)
	}
	says, size := ": no Notion: line lists it.", ""
	for _, n := range e.p.Header.Notions {
		if !same(n.Thing.Text) {
			continue
		}
		says = ": listed as " + e.headerText(n) + "."
		if e.line.Node == grammar.Node(n) {
			says = ": needed besides yarn and hook."
		}
		if n.Size.MM > 0 {
			size = e.otherLength(n.Size)
		}
	}
	p.head(oneLine(written), says)
	if size != "" {
		p.say(size)
	}
	if used := e.usesOf(kind.Name, same); len(used) > 1 {
		p.table(used)
	}
	if kind.Small {
		p.say("A small part, which a child under three can choke on; say so in a Caution: line. For toys, local rules and licensed testing decide.")
	}
	if kind.Cord {
		p.say("A long cord can wind round a small child's neck; say so in a Caution: line. For toys, local rules and licensed testing decide.")
	}
	return p
}

// headerText is a notion as its line in the header writes it.
func (e *explainer) headerText(n *grammar.Notion) string {
	for _, s := range e.p.Header.Lines {
		if s.Line.Node == grammar.Node(n) {
			return oneLine(n.Span.In(s.Line.Text))
		}
	}
	return n.Thing.Text
}

// otherLength says a short length in the other units.
func (e *explainer) otherLength(l grammar.Length) string {
	if l.Unit == "in" {
		return fmt.Sprintf("%s in is %s mm.", short(l.Value), short(l.MM))
	}
	return fmt.Sprintf("%s %s is %.2f in.", short(l.Value), l.Unit, l.MM/25.4)
}

// doneWith are the actions that things are used in without being named.
var doneWith = map[string][]grammar.Verb{
	"toy stuffing":    {grammar.VerbStuff},
	"a stitch marker": {grammar.VerbPlaceMarker, grammar.VerbMove},
	"a yarn needle":   {grammar.VerbClose, grammar.VerbWeaveIn},
	"a brush":         {grammar.VerbBrush},
}

// usesOf is a table of the lines that a thing is used in, and of their parts.
func (e *explainer) usesOf(kind string, same func(string) bool) [][]string {
	out := [][]string{{"part", "used"}}
	part := ""
	for _, l := range e.p.File.Lines {
		on, used := part, false
		switch n := l.Node.(type) {
		case *grammar.Piece:
			part = n.Name.Text
		case grammar.Assembly:
			part = ""
		case *grammar.PlaceThing:
			on, used = n.On.Text, same(n.Thing.Text)
		case *grammar.Sew:
			on, used = n.Part.Text, !n.Attach && kind == "a yarn needle"
		case *grammar.Action:
			used = n.Verb == grammar.VerbInsert && same(n.Thing.Text) || slices.Contains(doneWith[kind], n.Verb)
		}
		if used {
			out = append(out, []string{on, oneLine(l.Text[:saidEnd(l)])})
		}
		if len(out) > mostUses {
			break
		}
	}
	return out
}

// mostUses is how many lines a page shows at most where a thing is used.
const mostUses = 8

// whereWords say what a placement without numbers means.
var whereWords = map[grammar.WhereKind]string{
	grammar.WhereInLine:   "on the same line up the part",
	grammar.WhereCentred:  "the middle of what is sewn on over the middle of the place",
	grammar.WhereEvenly:   "with the same distance between each and the next",
	grammar.WhereOpenEdge: "by the edge that is still open, stitch by stitch",
	grammar.WhereSide:     "on this side of the part as it stands before you",
}

// wheres explains placements on a piece; the piece is nil where it is not known.
func (e *explainer) wheres(list []grammar.Where, piece *fabric.Piece, thing string) bool {
	for i := range list {
		w := &list[i]
		if e.pieceAt(w.Part) {
			return true
		}
		if !e.on(w.Span) || w.Kind == grammar.WhereFree {
			continue
		}
		var p page
		if text := whereWords[w.Kind]; text != "" {
			p.head(oneLine(w.Span.In(e.line.Text)), ": "+text+".")
		}
		if piece != nil {
			p.add(e.wherePage(piece, list, w))
		}
		if len(p) == 0 {
			p = labelPage(e.p.Header.System, labelOf(e.line.Node))
		}
		return e.found(w.Span, p)
	}
	return false
}

// wherePage says what stands where something is put, given all of the placement.
func (e *explainer) wherePage(piece *fabric.Piece, all []grammar.Where, w *grammar.Where) page {
	var out page
	name := piece.Name
	if name == "" {
		name = "this part"
	}
	switch w.Kind {
	case grammar.WhereBetween, grammar.WhereAt, grammar.WhereOver:
		from, to := int64(w.From.N), max(int64(w.To.N), int64(w.From.N))
		rows := [][]string{{"of " + name, "stitches"}}
		for n := from; n <= to && len(rows) <= mostShown; n++ {
			sts := "there is none"
			if r := piece.RoundNumbered(n); r != nil {
				sts = "?"
				if k, ok := stitchesOf(r, n); ok {
					sts = number(k)
				}
			}
			rows = append(rows, []string{fabric.RoundName(w.Row, n), sts})
		}
		out.table(rows)
	case grammar.WhereApart, grammar.WhereAcross:
		n := int64(w.Count.N)
		text := stitchCount(n) + " of " + name
		if g, ok := e.p.StitchGauge(piece); ok && g.Gauge != nil {
			text += fmt.Sprintf(" %s about %s", isOrAre(n), measuresOf(e.p).length(float64(n)*g.Width))
		} else {
			text += " between the two"
		}
		for i := range all {
			if x := &all[i]; x.Row || x.Kind != grammar.WhereBetween && x.Kind != grammar.WhereAt {
				continue
			} else if r := piece.RoundNumbered(int64(x.From.N)); r != nil && !r.Node.Row && w.Kind == grammar.WhereApart {
				if k, ok := stitchesOf(r, int64(x.From.N)); ok && k > n {
					text += fmt.Sprintf("; %s has %d, so the other way round they are %d apart", fabric.RoundName(false, int64(x.From.N)), k, k-n)
				}
			}
		}
		out.say(text + ".")
	}
	return out
}

// stitchesOf is how many stitches one round of a statement has; false where
// that is not known.
func stitchesOf(r *fabric.Round, n int64) (int64, bool) {
	alike := r.In != nil && r.In.Stitches() == r.Makes
	if r.Known && (r.RoundsWorked == 1 || n == int64(r.Node.To.N) || alike) {
		return r.Makes, true
	}
	return 0, false
}
