package lsp

import (
	"cmp"
	"slices"
	"strings"

	"workeven/grammar"
)

// nameKind is what a name that a pattern gives stands for.
type nameKind uint8

const (
	yarnName nameKind = iota
	pieceName
	stitchName
)

var nameKinds = [...]string{yarnName: "yarn", pieceName: "piece", stitchName: "stitch"}

// named is one thing that has a name, with every place that names it in the
// order of the file. A yarn has up to two names, its letter and its name; so
// has an own stitch.
type named struct {
	kind   nameKind
	places []*mention
	// given is set where some statement gives it a name.
	given bool
}

// mention is a place that names something.
type mention struct {
	of *named
	// at is the statement; span covers the name alone, without "both" or the
	// ending of a plural.
	at   int
	span grammar.Span
	// key tells which of its names is written, folded.
	key string
	// declares is set where the name is given.
	declares bool
	// all is set where every copy of a piece is meant: "Legs", "each Leg".
	all bool
	// changed is set for a plural that changes the word itself: leaves of a leaf.
	changed bool
}

// names are all names of a file and the places that name them.
type names struct {
	file  *grammar.File
	byKey [len(nameKinds)]map[string]*named
	// spelled are the names of pieces as they are given, capitals and all, and
	// dyed those of yarns.
	spelled, dyed map[string]bool
	// all are the mentions in the order of the file.
	all []*mention
}

// namesOf finds the names of a file. Names that are used and given nowhere are
// there too, but for words in the place of a stitch: those may be anything.
func namesOf(f *grammar.File) *names {
	n := &names{file: f, spelled: map[string]bool{}, dyed: map[string]bool{}}
	for k := range n.byKey {
		n.byKey[k] = map[string]*named{}
	}
	for at, l := range f.Lines {
		n.declare(at, l)
	}
	making := false
	for at, l := range f.Lines {
		switch l.Node.(type) {
		case grammar.Assembly:
			making = true
		case *grammar.Piece:
			making = false
		}
		n.uses(at, l, making)
	}
	slices.SortStableFunc(n.all, byPlaceOfMention)
	n.gather()
	return n
}

func byPlaceOfMention(a, b *mention) int {
	return cmp.Or(a.at-b.at, int(a.span.Start-b.span.Start))
}

// gather gives each thing the places that name it.
func (n *names) gather() {
	for _, m := range n.all {
		m.of.places = append(m.of.places, m)
	}
}

func foldName(kind nameKind, text string) string {
	if kind == yarnName {
		return grammar.YarnKey(text)
	}
	return grammar.NameKey(text)
}

func (n *names) declare(at int, l *grammar.Line) {
	switch x := l.Node.(type) {
	case *grammar.Yarn:
		n.dyed[x.Key.Text], n.dyed[x.Name.Text] = true, true
		n.give(yarnName, at, x.Key, x.Name)
	case *grammar.Piece:
		n.spelled[x.Name.Text] = true
		n.give(pieceName, at, x.Name)
	case *grammar.OwnStitch:
		n.give(stitchName, at, x.Abbr, x.Full)
	}
}

// give adds the names that one statement gives to one thing. A name that is
// given twice means the thing that had it first.
func (n *names) give(kind nameKind, at int, given ...grammar.Name) {
	var thing *named
	for _, g := range given {
		k := foldName(kind, g.Text)
		if k == "" {
			continue
		}
		known := n.byKey[kind][k]
		switch {
		case thing == nil && known != nil:
			thing = known
		case thing == nil:
			thing = &named{kind: kind, given: true}
		}
		if known == nil {
			n.byKey[kind][k] = thing
			known = thing
		}
		n.all = append(n.all, &mention{of: known, at: at, span: g.Span, key: k, declares: true})
	}
}

func (n *names) add(of *named, at int, span grammar.Span, key string, changed bool) {
	n.all = append(n.all, &mention{of: of, at: at, span: span, key: key, changed: changed})
}

// yarn adds a mention of a yarn, given or not.
func (n *names) yarn(at int, y grammar.Name) {
	k := foldName(yarnName, y.Text)
	if k == "" {
		return
	}
	n.add(n.orUngiven(yarnName, k), at, y.Span, k, false)
}

func (n *names) orUngiven(kind nameKind, key string) *named {
	thing := n.byKey[kind][key]
	if thing == nil {
		thing = &named{kind: kind}
		n.byKey[kind][key] = thing
	}
	return thing
}

// stitch adds a mention of an own stitch; other stitches have no name here.
func (n *names) stitch(at int, r grammar.Ref) {
	if len(n.byKey[stitchName]) == 0 || !r.Written() {
		return
	}
	k := foldName(stitchName, r.Text)
	for _, end := range []string{"", "s"} {
		if one, ok := strings.CutSuffix(k, end); ok && n.byKey[stitchName][one] != nil {
			s := r.Span
			s.End -= int32(len(end))
			n.add(n.byKey[stitchName][one], at, s, one, false)
			return
		}
	}
}

// meant finds the piece that words mean, also in the plural.
func (n *names) meant(words string) (*named, grammar.Meant) {
	m, ok := grammar.MeantBy(words, func(key string) bool { return n.byKey[pieceName][key] != nil })
	if !ok {
		return nil, m
	}
	return n.byKey[pieceName][m.Key], m
}

func (n *names) addMeant(at int, text string, s grammar.Span) bool {
	thing, m := n.meant(s.In(text))
	if thing == nil {
		return false
	}
	n.all = append(n.all, &mention{
		of: thing, at: at, key: m.Key, changed: m.Changed, all: m.All,
		span: grammar.Span{Start: s.Start + m.Start, End: s.Start + m.End},
	})
	return true
}

// pieces adds a mention of a piece, or of several: "Left Arm and Right Arm".
// A name that no piece has is a mention of its own.
func (n *names) pieces(at int, text string, name grammar.Name) {
	if !name.Written() || n.addMeant(at, text, name.Span) {
		return
	}
	for _, one := range grammar.NamesIn(name.Span.In(text)) {
		one = grammar.Span{Start: name.Start + one.Start, End: name.Start + one.End}
		if !n.addMeant(at, text, one) {
			k := foldName(pieceName, one.In(text))
			n.add(n.orUngiven(pieceName, k), at, one, k, false)
		}
	}
}

// known adds a mention of a piece where words are one's name.
func (n *names) known(at int, text string, name grammar.Name) bool {
	return name.Written() && n.addMeant(at, text, name.Span)
}

var freeWord = lazily(`[\pL\pN][\pL\pM\pN'’-]*`)

// mostNameWords bounds how many words a name has that is looked for in free text.
const mostNameWords = 4

// free adds the pieces that free words speak of. Only a word spelled as the
// piece is, capitals and all, is taken for its name there: "Stuff firmly."
func (n *names) free(at int, text string, s grammar.Span) {
	if len(n.byKey[pieceName]) == 0 {
		return
	}
	words := freeWord().FindAllStringIndex(s.In(text), -1)
	for i := 0; i < len(words); i++ {
		for k := min(mostNameWords, len(words)-i); k > 0; k-- {
			part := grammar.Span{Start: s.Start + int32(words[i][0]), End: s.Start + int32(words[i+k-1][1])}
			thing, m := n.meant(part.In(text))
			if thing == nil || m.Start > 0 || !m.Changed && !n.spelled[m.In(part.In(text))] {
				continue
			}
			n.add(thing, at, grammar.Span{Start: part.Start, End: part.Start + m.End}, m.Key, m.Changed)
			i += k - 1
			break
		}
	}
}

// leadsYarn are the words that a yarn's name stands behind in free text: "a beak
// in D", "lashes with A and B".
var leadsYarn = map[string]bool{"in": true, "with": true, "yarn": true, "using": true, "and": true, "or": true}

// freeYarns adds the yarns that free words speak of, spelled as they are given,
// capitals and all, behind a word that leads to one: "a" is no yarn A.
func (n *names) freeYarns(at int, text string, s grammar.Span) {
	for _, one := range yarnsIn(s.In(text), n.dyed) {
		k := foldName(yarnName, one.In(s.In(text)))
		n.add(n.orUngiven(yarnName, k), at, grammar.Span{Start: s.Start + one.Start, End: s.Start + one.End}, k, false)
	}
}

// yarnsIn are the places in free words that name a yarn of those that are given.
func yarnsIn(words string, given map[string]bool) []grammar.Span {
	var out []grammar.Span
	list := freeWord().FindAllStringIndex(words, -1)
	for i := 1; i < len(list); i++ {
		if !leadsYarn[strings.ToLower(words[list[i-1][0]:list[i-1][1]])] {
			continue
		}
		for k := min(mostNameWords, len(list)-i); k > 0; k-- {
			if one := (grammar.Span{Start: int32(list[i][0]), End: int32(list[i+k-1][1])}); given[one.In(words)] {
				out = append(out, one)
				i += k - 1
				break
			}
		}
	}
	return out
}

// uses adds the mentions of one statement besides those that give a name.
func (n *names) uses(at int, l *grammar.Line, making bool) {
	text := l.Text
	switch x := l.Node.(type) {
	case *grammar.Round:
		n.steps(at, text, x.Steps)
		n.steps(at, text, x.After)
		if x.Total != nil {
			for i := range x.Total.Parts {
				n.stitch(at, x.Total.Parts[i].Unit.Ref())
			}
		}
	case *grammar.With:
		for _, y := range x.Yarns {
			n.yarn(at, y)
		}
	case *grammar.OwnStitch:
		n.steps(at, text, x.Steps)
	case *grammar.Gauge:
		n.stitch(at, x.Stitch)
	case *grammar.TurningChain:
		for _, r := range x.Rules {
			n.stitch(at, r.Stitch)
		}
	case *grammar.Sew:
		n.pieces(at, text, x.Part)
		n.pieces(at, text, x.To)
		n.wheres(at, text, x.Where)
	case *grammar.PlaceThing:
		n.pieces(at, text, x.On)
		n.wheres(at, text, x.Where)
	case *grammar.Embroider:
		n.freeYarns(at, text, x.What.Span)
		n.pieces(at, text, x.On)
		n.wheres(at, text, x.Where)
	case *grammar.Action:
		n.action(at, text, x, making)
	case *grammar.Text:
		if x.Label == grammar.LabelNote || x.Label == grammar.LabelCaution {
			n.free(at, text, x.Content.Span)
			n.freeYarns(at, text, x.Content.Span)
		}
	}
}

func (n *names) wheres(at int, text string, list []grammar.Where) {
	for i := range list {
		switch w := &list[i]; w.Kind {
		case grammar.WhereInLine:
			n.pieces(at, text, w.Part)
		case grammar.WhereFree:
			n.free(at, text, w.Text.Span)
			n.freeYarns(at, text, w.Text.Span)
		}
	}
}

// action adds what an action speaks of: a yarn, or pieces where it may be
// about others than the one in hand.
func (n *names) action(at int, text string, a *grammar.Action, making bool) {
	if (a.Verb == grammar.VerbChangeTo || a.Verb == grammar.VerbJoin) && a.Yarn.Written() {
		if thing, _ := n.meant(a.Yarn.Text); thing == nil {
			n.yarn(at, a.Yarn)
		}
	}
	if making || a.Verb == grammar.VerbJoin || a.Verb == grammar.VerbInsert {
		n.free(at, text, a.Rest.Span)
	}
}

func (n *names) steps(at int, text string, steps []grammar.Step) {
	for i := range steps {
		s := &steps[i]
		n.stitch(at, s.Stitch)
		n.stitch(at, s.Fill.Unit().Ref())
		if s.Standing() != nil {
			n.stitch(at, s.Standing().As)
		}
		if s.Yarn().Written() && (s.Kind != grammar.StepJoin || !n.known(at, text, s.Yarn())) {
			n.yarn(at, s.Yarn())
		}
		for j := range s.Places {
			p := &s.Places[j]
			n.stitch(at, p.Unit.Ref())
			n.stitch(at, p.Fill.Unit().Ref())
			if p.Kind == grammar.PlacePiece {
				n.pieces(at, text, p.Of())
			} else {
				n.known(at, text, p.Of())
			}
		}
		if s.Group != nil {
			n.stitch(at, s.Group.Times.Fill.Unit().Ref())
			n.steps(at, text, s.Group.Steps)
		}
	}
}

// under is the mention that a byte of the file stands in or touches; nil for none.
func (n *names) under(snap *Snapshot, offset int) *mention {
	at, _, in := snap.Statement(offset)
	for _, m := range n.of(at) {
		if int(m.span.Start) <= in && in <= int(m.span.End) {
			return m
		}
	}
	return nil
}

// of are the mentions of one statement.
func (n *names) of(at int) []*mention {
	first, _ := n.search(at)
	end := first
	for end < len(n.all) && n.all[end].at == at {
		end++
	}
	return n.all[first:end]
}

// search finds the first mention from a statement on.
func (n *names) search(at int) (int, bool) {
	return slices.BinarySearchFunc(n.all, at, func(m *mention, at int) int { return m.at - at })
}
