package fabric

import (
	"runtime"
	"slices"
	"strings"
	"sync"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// Work works a whole pattern out.
func Work(f *grammar.File) *Pattern {
	p := &Pattern{File: f}
	p.readHeader()
	p.defineStitches()
	p.cutPieces()
	p.workPieces(p.Pieces)
	return p
}

// workPieces works those of some pieces that stand alone side by side, then
// those that are worked into others, in order of place.
func (p *Pattern) workPieces(pieces []*Piece) {
	var alone, onto []*Piece
	for _, piece := range pieces {
		if piece.onto = namesOthers(piece); piece.onto {
			onto = append(onto, piece)
		} else {
			alone = append(alone, piece)
		}
	}
	const share = 16
	if len(alone) < 2*share {
		for _, piece := range alone {
			p.workPiece(piece)
		}
	} else {
		var wait sync.WaitGroup
		for part := range slices.Chunk(alone, max(len(alone)/runtime.GOMAXPROCS(0)/4+1, share)) {
			wait.Go(func() {
				for _, piece := range part {
					p.workPiece(piece)
				}
			})
		}
		wait.Wait()
	}
	if len(onto) == 0 {
		return
	}
	p.byName = map[string]*Piece{}
	for _, piece := range slices.Backward(p.Pieces) {
		if piece.Node != nil {
			p.byName[grammar.NameKey(piece.Name)] = piece
		}
	}
	slices.SortFunc(onto, func(a, b *Piece) int { return a.At - b.At })
	for _, piece := range onto {
		p.workPiece(piece)
	}
	p.byName = nil
}

// namesOthers says whether a piece works into the stitches of another.
func namesOthers(piece *Piece) bool {
	for _, l := range piece.Lines {
		if n, ok := l.Node.(*grammar.Round); ok && stepsName(n.Steps) {
			return true
		}
	}
	return false
}

func stepsName(steps []grammar.Step) bool {
	for i := range steps {
		s := &steps[i]
		for j := range s.Places {
			if s.Places[j].Of().Written() {
				return true
			}
		}
		if s.Group != nil && stepsName(s.Group.Steps) {
			return true
		}
	}
	return false
}

// readHeader gathers the typed statements before the first piece. A Terms line
// holds wherever it stands.
func (p *Pattern) readHeader() {
	h := &p.Header
	for i, l := range p.File.Lines {
		switch n := l.Node.(type) {
		case *grammar.Terms:
			if !h.TermsSaid {
				h.System, h.TermsSaid = n.System, true
			}
		case *grammar.Gauge:
			h.Gauges = append(h.Gauges, n)
		case *grammar.Hook:
			h.Hooks = append(h.Hooks, n)
		case *grammar.Size:
			h.Sizes = append(h.Sizes, n)
		case *grammar.Yarn:
			h.Yarns = append(h.Yarns, n)
		case *grammar.Notion:
			h.Notions = append(h.Notions, n)
		case *grammar.TurningChain:
			if h.Chain == nil {
				h.Chain = n
			}
		case *grammar.Skill:
			if h.Skill == nil {
				h.Skill = n
			}
		case *grammar.Round, *grammar.Piece, grammar.Blank, grammar.Comment:
			continue
		}
		if len(h.Lines) == 0 || h.Lines[len(h.Lines)-1].At == i-1 || i < headerReach {
			h.Lines = append(h.Lines, Statement{i, l})
		}
	}
	p.book = &book{sys: h.System, own: map[string]*Stitch{}}
}

// maxOwnNames is how many own stitches are looked through for a likely spelling.
const maxOwnNames = 200

// defineStitches reads the pattern's own stitches. They hold for the whole
// file, since a maker looks them up wherever they stand.
func (p *Pattern) defineStitches() {
	for i, l := range p.File.Lines {
		n, ok := l.Node.(*grammar.OwnStitch)
		if !ok || !n.Abbr.Written() {
			continue
		}
		s := p.define(n, l.Text)
		p.Own = append(p.Own, &OwnStitch{Statement{i, l}, n, s})
		if len(p.book.names) < maxOwnNames {
			p.book.names = append(p.book.names, terms.Key(n.Abbr.Text))
		}
		for _, name := range []grammar.Name{n.Abbr, n.Full} {
			if k := terms.Key(name.Text); k != "" && p.book.own[k] == nil {
				p.book.own[k] = s
			}
		}
	}
}

// define works out what an own stitch takes and leaves, by working it on an
// edge that never ends.
func (p *Pattern) define(n *grammar.OwnStitch, text string) *Stitch {
	s := &Stitch{Name: n.Abbr.Text, Own: true, Takes: 1, Makes: 1, def: n}
	if len(n.Steps) == 0 {
		if n.Takes.Written() {
			s.Takes = int64(n.Takes.N)
		}
		if n.Makes.Written() {
			s.Makes = int64(n.Makes.N)
		}
		return s
	}
	w := newWorker()
	w.p, w.piece, w.mainStitch, w.text, w.steps, w.depth = p, &Piece{}, p.book.byID("sc"), text, n.Steps, 1
	w.main = walk{items: []Item{{Kind: Stitches, N: 1000}}, left: 1000}
	w.run(n.Steps)
	if len(n.Steps) == 1 && n.Steps[0].Tog {
		s.Takes = max(w.takes, 1)
		return s // one top, whatever its legs
	}
	s.Takes, s.Makes, s.Leaves, s.within = w.takes, w.makes, slices.Clone(w.out), slices.Clone(w.groups)
	s.within = slices.DeleteFunc(s.within, func(c StitchCount) bool { return c.Stitch.Of == nil && !c.Stitch.Own }) // a bracket
	if s.Leaves == nil {
		s.Leaves = []Item{}
	}
	return s
}

// chainRule is what the pattern's Turning chain line says of a chain of n before
// a stitch, and the stitch whose rule that is. A chain as long as another stitch of that line is tall is that
// stitch's: "dc counts, hdc does not" means ch 3 and ch 2.
func (p *Pattern) chainRule(s *Stitch, n int64) (as *Stitch, counted, ok bool) {
	c := p.Header.Chain
	if c == nil {
		return s, false, false
	}
	if s != nil {
		var ruled *grammar.ChainRule
		as = s
		for i := range c.Rules {
			t := p.book.find(c.Rules[i].Stitch)
			if t == nil || t.Of == nil {
				continue
			}
			if tall := int64(t.Of.Height); t == s && tall == n {
				return s, !c.Rules[i].Not, true
			} else if t == s && ruled == nil || tall == n && s.Of != nil && int64(s.Of.Height) != n {
				ruled, as = &c.Rules[i], t
			}
		}
		if ruled != nil {
			return as, !ruled.Not, true
		}
	}
	return s, !c.Not, c.All
}

// cutPieces finds the pieces and the making up. Rounds before any Piece line
// are a piece without a name.
func (p *Pattern) cutPieces() {
	var cur *Piece
	making := false
	// ends gives the piece in hand its statements, up to one.
	ends := func(at int) {
		if cur != nil {
			cur.Lines = slices.Clone(p.File.Lines[cur.At:at])
		}
		cur = nil
	}
	for i, l := range p.File.Lines {
		switch n := l.Node.(type) {
		case *grammar.Piece:
			ends(i)
			cur = &Piece{Name: inOneLine(n.Name.Text), Node: n, Make: int64(n.Make.N), At: i}
			p.Pieces = append(p.Pieces, cur)
			making = false
		case grammar.Assembly:
			ends(i)
			making = true
		case *grammar.Round:
			if cur == nil && !making {
				cur = &Piece{Make: 1, At: i}
				p.Pieces = append(p.Pieces, cur)
			}
		case *grammar.Worked:
			if cur != nil && cur.Mode == grammar.ModeUnsaid {
				cur.Mode = n.Mode
			}
		}
		if making {
			p.Making = append(p.Making, Statement{i, l})
		}
	}
	ends(len(p.File.Lines))
}

// mainStitch is the plain stitch that most of a piece's rounds begin with: what
// inc, dec and "work even" follow.
func (p *Pattern) mainStitch(piece *Piece) *Stitch {
	var counts []StitchCount
	for _, l := range piece.Lines {
		n, ok := l.Node.(*grammar.Round)
		if !ok {
			continue
		}
		s := p.firstPlain(n.Steps)
		if s == nil {
			continue
		}
		rounds := max(int64(n.To.N)-int64(n.From.N)+1, 1)
		i := slices.IndexFunc(counts, func(c StitchCount) bool { return c.Stitch == s })
		if i < 0 {
			counts = append(counts, StitchCount{s, rounds})
		} else {
			counts[i].N += rounds
		}
	}
	best := StitchCount{p.book.byID("sc"), 0}
	for _, c := range counts {
		if c.N > best.N {
			best = c
		}
	}
	return best.Stitch
}

func (p *Pattern) firstPlain(steps []grammar.Step) *Stitch {
	for i := range steps {
		s := &steps[i]
		if s.Group != nil {
			if st := p.firstPlain(s.Group.Steps); st != nil {
				return st
			}
			continue
		}
		if s.Kind != grammar.StepWork {
			continue
		}
		if st := p.book.find(s.Stitch); st != nil && st.Of != nil {
			switch st.Of.Kind {
			case terms.Plain, terms.Foundation, terms.Increase, terms.Decrease:
				if b := st.base(p.book); b.Of.Kind == terms.Plain {
					return b
				}
			}
		}
	}
	return nil
}

// inOneLine is a name that may go on on the next line.
func inOneLine(name string) string {
	if strings.Contains(name, "\n") {
		return strings.Join(strings.Fields(name), " ")
	}
	return name
}

// pieceNamed finds a piece that stands before the one in work.
func (p *Pattern) pieceNamed(name string) *Piece {
	if piece := p.Named(name); piece != nil {
		return piece
	}
	if one, ok := strings.CutSuffix(name, "s"); ok { // "around both Legs"
		return p.Named(one)
	}
	return nil
}

// Named finds a piece by its name, whatever the case; nil without one.
func (p *Pattern) Named(name string) *Piece {
	name = grammar.NameKey(name)
	if p.byName != nil {
		return p.byName[name]
	}
	for _, piece := range p.Pieces {
		if piece.Node != nil && grammar.NameKey(piece.Name) == name {
			return piece
		}
	}
	return nil
}

// Find resolves a stitch as the pattern uses it; nil where nobody knows it.
func (p *Pattern) Find(r grammar.Ref) *Stitch { return p.book.find(r) }

// Nearest is the known stitch most like a word.
func (p *Pattern) Nearest(word string) (string, bool) {
	return terms.Nearest(p.Header.System, terms.Key(word), p.book.names)
}

func (b *book) picot() *Stitch {
	if s := b.byID("picot"); s != nil {
		return s
	}
	return &Stitch{Name: "picot"}
}

// workPiece works a piece's rounds in order. Where the words and the total of
// a round differ, the next rounds tell which was meant.
func (p *Pattern) workPiece(piece *Piece) {
	piece.Main, piece.memo = p.mainStitch(piece), &memo{}
	rounds := countRounds(piece.Lines)
	shelf := newShelf(rounds)
	piece.Rounds = make([]*Round, 0, rounds)
	st := state{}
	for off, l := range piece.Lines {
		if _, ok := l.Node.(*grammar.Round); !ok {
			continue
		}
		piece.shelf = shelf
		r, next := p.statement(piece, lower{kept: piece.Rounds}, shelf.state(st), l, off)
		piece.shelf = nil // what settle tries is not kept
		piece.Rounds = append(piece.Rounds, r)
		st = p.settle(piece, r, next)
	}
}

func countRounds(lines []*grammar.Line) int {
	n := 0
	for _, l := range lines {
		if _, ok := l.Node.(*grammar.Round); ok {
			n++
		}
	}
	return n
}
