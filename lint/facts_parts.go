package lint

import (
	"slices"
	"sort"
	"strings"
	"sync"

	"workeven/fabric"
	"workeven/grammar"
)

// part is what happens to a piece besides its rounds.
type part struct {
	piece *fabric.Piece
	partShape
	// stuffed is the statement where it first is, closed the one where it last is;
	// -1 for never.
	stuffed, closed int
	notStuffed      bool
	// tail is set where a tail is left for sewing.
	tail bool
	// with is set where the piece says its yarn.
	with bool
	// sewn are the joins of this part to others, bears those of others to it.
	sewn, bears []*join
	// onto is set where it is worked into or onto another, or another onto it.
	onto bool
	// named is set where the making up speaks of it in free words.
	named   bool
	markers []markerUse
	// runs are where rounds begin that rise by number; see round.
	runs []int
}

// partShape is what the rounds of a part make of it, wherever it stands.
type partShape struct {
	figures
	// chains are rounds whose starting chains turning-chain compares; see there.
	chains []chainUse
}

type figures struct {
	// first is how many stitches the first round has, most the most of any round.
	first, most int64
	// open is how many stitches stand open now, -1 where that is not known; row
	// whether they are those of a row.
	open int64
	row  bool
	// roundish is set for a start that closes on itself: a ring, or both sides of a chain.
	roundish bool
	// misnumbered is set where numbering reported: its numbers mean nothing for sure.
	misnumbered bool
	// from is the number of the last round, falls whether any is not above the one before.
	from  int64
	falls bool
	// hangs is its longest chain that nothing begins on; see dangers.
	hangs hangingChain
}

// shut says how the part is left: closed by a gathered tail, or by decreasing
// until hardly anything is open.
func (p *part) shut() bool {
	return p.closed >= 0 || !p.row && p.open > 0 && p.open <= fewOpen && p.most >= 2*p.open
}

// hollow says whether the part is a body that closes at both ends.
func (p *part) hollow() bool { return p.shut() && p.roundish && p.most >= 2*p.first && p.most >= 12 }

// fewOpen is how many stitches may be left for a part to count as closed: a
// tail draws up as many without a hole (common practice: 6 to 8).
const fewOpen = 8

// join is one statement that sews a part to another.
type join struct {
	at   int
	node *grammar.Sew
	// part and to are the pieces; nil for a name that no piece has.
	part, to *part
	// all is set where every one made is meant: "Sew: Legs to Body".
	all bool
}

// partFacts follows the parts through the file.
type partFacts struct {
	// all are the parts of the file, parts those that the walk has come to.
	all   []part
	parts []*part
	*hearing
	// cur is the part whose statements the walk is at; nil before and behind the parts.
	cur   *part
	joins []*join
	// spareJoins is room for the next ones.
	spareJoins []join
	// onto are the steps that join a part to a piece it is worked onto.
	onto []pieceJoin
	// numbered is the last number of the part in hand; see numbering.
	numbered int64
}

// pieceJoin is a step that begins a part on another piece.
type pieceJoin struct {
	at   int
	step *grammar.Step
	part *part
	on   grammar.Name
}

type markerUse struct {
	at   int
	span grammar.Span
	move bool
}

// partsPool holds the parts of checks that are over: each check would leave them
// for collection.
var partsPool sync.Pool

// release gives the parts back; nothing may hold on to one.
func (f *partFacts) release() {
	clear(f.all)
	partsPool.Put(&f.all)
}

func newPartFacts(pattern *fabric.Pattern, h *hearing) partFacts {
	var all []part
	if spare, _ := partsPool.Get().(*[]part); spare != nil && cap(*spare) >= len(pattern.Pieces) {
		all = *spare
	} else {
		all = make([]part, len(pattern.Pieces))
	}
	f := partFacts{hearing: h, all: all[:len(pattern.Pieces)], parts: make([]*part, 0, len(pattern.Pieces))}
	for i, piece := range pattern.Pieces {
		f.all[i] = part{piece: piece, partShape: partShape{figures: figures{open: -1}}, stuffed: -1, closed: -1}
	}
	return f
}

// named finds the part that a name means, also in the plural.
func (f *partFacts) named(name string) *part {
	p, _ := f.resolve(name)
	return p
}

// resolve finds the part that a name means; all is set where the name speaks of
// every one of them.
func (f *partFacts) resolve(name string) (p *part, all bool) {
	i, all := f.means(name)
	if i < 0 {
		return nil, false
	}
	return &f.all[i], all
}

// partNames are the names of the pattern's pieces, for suggestions; of very
// many only some.
func (f *partFacts) partNames() []string {
	var names []string
	for _, p := range f.parts[:min(len(f.parts), mostNames+1)] {
		if p.piece.Node != nil && p.piece.Name != "" {
			names = append(names, p.piece.Name)
		}
	}
	return names
}

// partAt is the part that a statement stands in; nil outside the parts.
func (f *partFacts) partAt(at int) *part {
	i := sort.Search(len(f.parts), func(i int) bool { return f.parts[i].piece.At > at }) - 1
	if i < 0 || at >= f.parts[i].piece.At+len(f.parts[i].piece.Lines) {
		return nil
	}
	return f.parts[i]
}

// open comes to a piece, given its index.
func (f *facts) open(index int, piece *fabric.Piece) {
	f.cur = &f.all[index]
	f.parts = append(f.parts, f.cur)
	clear(f.usedHere)
	clear(f.ownHere)
	if f.first < 0 {
		f.first = piece.At
	}
}

func (f *partFacts) partRound(r *fabric.Round) {
	p := f.cur
	if p == nil {
		return
	}
	p.open, p.row = -1, r.Node.Row
	first := len(p.piece.Rounds) > 0 && p.piece.Rounds[0] == r
	p.falls = p.falls || !first && int64(r.Node.From.N) <= p.from
	p.from = int64(r.Node.From.N)
	if e := r.Meant; e != nil && !e.Unknown {
		p.open = e.Stitches()
		p.most = max(p.most, p.open)
	}
	if first {
		p.first = max(p.open, 0)
		p.roundish = !r.Node.Row && (p.first <= 16 && p.first > 0 || bothSides(r.Node.Steps))
	}
}

// round finds the round of a part whose label covers a number, the last such if
// several. A part may be asked for thousands of its rounds, so they are looked
// for in runs of rising numbers.
func (p *part) round(n int64) *fabric.Round {
	rounds := p.piece.Rounds
	if last := len(rounds) - 1; last >= 0 && !p.falls && p.from == int64(rounds[last].Node.From.N) { // all were seen
		return roundIn(rounds, n)
	}
	if p.runs == nil {
		for i, r := range rounds {
			if i == 0 || r.Node.From.N <= rounds[i-1].Node.From.N {
				p.runs = append(p.runs, i)
			}
		}
	}
	end := len(rounds)
	for _, start := range slices.Backward(p.runs) {
		if r := roundIn(rounds[start:end], n); r != nil {
			return r
		}
		end = start
	}
	return nil
}

// roundIn finds the round of a number among some that rise.
func roundIn(run []*fabric.Round, n int64) *fabric.Round {
	i := sort.Search(len(run), func(i int) bool { return int64(run[i].Node.From.N) > n }) - 1
	if i < 0 || n > int64(run[i].Node.To.N) {
		return nil
	}
	return run[i]
}

// bothSides says whether steps go round both sides of a chain.
func bothSides(steps []grammar.Step) bool {
	for i := range steps {
		if steps[i].Kind == grammar.StepOtherSide {
			return true
		}
	}
	return false
}

// workedInto notes that the part in hand is worked into, or onto, another.
func (f *facts) workedInto(at int, s *grammar.Step, place *grammar.Place) {
	other := f.named(place.Of().Text)
	if place.Kind == grammar.PlacePiece {
		f.onto = append(f.onto, pieceJoin{at, s, f.cur, place.Of()})
	}
	if other == nil || f.cur == nil || other == f.cur {
		return
	}
	f.cur.onto = true
	other.onto = true
}

func (f *facts) marker(at int, s grammar.Span, text string) {
	if f.cur == nil {
		return
	}
	word := strings.ToLower(s.In(text))
	move := !strings.HasPrefix(word, "pm") && !strings.HasPrefix(word, "place")
	f.cur.markers = append(f.cur.markers, markerUse{at, s, move})
}

// action takes in a line that begins with a verb.
func (f *facts) action(at int, n *grammar.Action) {
	if n.Yarn.Written() && (n.Verb == grammar.VerbChangeTo || n.Verb == grammar.VerbJoin) && f.named(n.Yarn.Text) == nil {
		f.useYarn(at, n.Yarn)
	}
	rest := f.key(n.Rest.Text)
	switch n.Verb {
	case grammar.VerbInsert:
		f.insert(at, n)
	case grammar.VerbStuff:
		f.use(at, n, thingNamed("stuffing"))
	case grammar.VerbBrush:
		f.use(at, n, thingNamed("brush"))
	case grammar.VerbPlaceMarker, grammar.VerbMove:
		if n.Verb == grammar.VerbPlaceMarker || strings.Contains(rest, "marker") {
			f.use(at, n, thingNamed("marker"))
			if f.cur != nil {
				f.cur.markers = append(f.cur.markers, markerUse{at, grammar.Span{}, n.Verb == grammar.VerbMove})
			}
		}
	}
	if f.cur != nil { // an action is about the part in hand
		if n.Verb == grammar.VerbJoin {
			f.nameParts(n.Rest.Text)
		}
		f.cur.takeIn(at, n, rest)
		return
	}
	for _, p := range f.nameParts(n.Rest.Text) { // behind the parts about those that it names
		p.takeIn(at, n, rest)
	}
}

// nameParts finds the parts that free words of the making up speak of.
func (f *facts) nameParts(text string) []*part {
	var found []*part
	for _, i := range f.spokenOf(text) {
		f.all[i].named = true
		found = append(found, &f.all[i])
	}
	return found
}

func (p *part) takeIn(at int, n *grammar.Action, rest string) {
	switch n.Verb {
	case grammar.VerbStuff:
		if p.stuffed < 0 {
			p.stuffed = at
		}
	case grammar.VerbDoNotStuff:
		p.notStuffed = true
	case grammar.VerbClose:
		p.closed = at
	case grammar.VerbFastenOff, grammar.VerbLeave:
		p.tail = p.tail || strings.Contains(rest, "sew") || strings.Contains(rest, "attach")
		if strings.Contains(rest, "close") && !strings.Contains(rest, "not close") || strings.Contains(rest, "gather") {
			p.closed = at
		}
	}
}

// sew takes in parts sewn to another.
func (f *facts) sew(at int, n *grammar.Sew) {
	to := f.named(n.To.Text)
	if to == nil {
		for _, one := range grammar.NamesIn(n.To.Text) { // to Head and Body
			if to = f.named(one.In(n.To.Text)); to != nil {
				break
			}
		}
	}
	if part, all := f.resolve(n.Part.Text); part != nil {
		f.joined(join{at: at, node: n, part: part, to: to, all: all})
		return
	}
	for _, m := range f.severalMeant(n.Part.Text) {
		f.joined(join{at: at, node: n, part: m.part, to: to, all: m.all})
	}
}

func (f *facts) joined(one join) {
	if len(f.spareJoins) == 0 {
		f.spareJoins = make([]join, 64)
	}
	j := &f.spareJoins[0]
	*j, f.spareJoins = one, f.spareJoins[1:]
	f.joins = append(f.joins, j)
	if j.part != nil {
		j.part.sewn = append(j.part.sewn, j)
	}
	if j.to != nil {
		j.to.bears = append(j.to.bears, j)
	}
}

type meantPart struct {
	part *part
	all  bool
}

// severalMeant finds the parts that names joined by "and" mean. It is one that
// is nil where any of the names means none.
func (f *partFacts) severalMeant(name string) []meantPart {
	var several []meantPart
	for _, one := range grammar.NamesIn(name) {
		p, all := f.resolve(one.In(name))
		if p == nil {
			return []meantPart{{}}
		}
		several = append(several, meantPart{p, all})
	}
	return several
}
