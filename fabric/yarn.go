package fabric

import (
	"maps"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// What yarn is reckoned with, where the gauge does not say what its swatch uses.
const (
	// yarnPerWidth is the yarn of a single crochet, in widths of the stitch: one
	// maker measured 10.6 in of yarn for each inch of a strip of one row (5 mm
	// hook, worsted). A length over a length holds for any thickness of yarn.
	yarnPerWidth = 10.6
	// reckonedSpread and measuredSpread are how far the yarn of two makers
	// differs, as a part: makers give 10 to 15 in the hundred.
	reckonedSpread, measuredSpread = 0.15, 0.10
	// tails is what is added for tails, joins and seams: from memory.
	tails = 0.10
)

// windable says whether a length is one of yarn at all: a hundred kilometres at most.
func windable(mm float64) bool { return mm >= leastMM && mm <= 1e8 }

// YarnUse is how much of one yarn a pattern or a piece takes.
type YarnUse struct {
	// Yarn is the declared one; nil where the pattern declares no such yarn.
	Yarn *grammar.Yarn
	// Key is the letter or word of the yarn; empty where the pattern names none.
	Key string
	// Low, Mean and High are metres, tails included: Mean less and more Spread,
	// which is a part of 1.
	Low, Mean, High float64
	Spread          float64
	// Measured is set where the yarn of the gauge's swatch was said; else the
	// figures rest on the glossary's ratios and one maker's strips.
	Measured bool
	// Shared is set where the pattern does not tell which of several yarns is
	// used, and each was given an even share.
	Shared bool
	// Pieces are the shares of the pieces, all copies of each, in order.
	Pieces []PieceYarn
}

// PieceYarn is what all copies of a piece take of a yarn, in metres, tails included.
type PieceYarn struct {
	Piece  *Piece
	Metres float64
}

// Listed is how many metres of the yarn the pattern lists, all balls of it; false where it does not say.
func (u YarnUse) Listed() (metres float64, ok bool) {
	if u.Yarn == nil || !windable(u.Yarn.Metres.MM) {
		return 0, false
	}
	return u.Yarn.Metres.MM / 1000 * float64(max(u.Yarn.Balls.N, 1)), true
}

// Grams is the weight of a length of the yarn; false where the pattern does not
// say how long a ball is and what it weighs.
func (u YarnUse) Grams(metres float64) (grams float64, ok bool) {
	if u.Yarn == nil || u.Yarn.Grams.N <= 0 || !windable(u.Yarn.Metres.MM) {
		return 0, false
	}
	return metres * float64(u.Yarn.Grams.N) / (u.Yarn.Metres.MM / 1000), true
}

// YarnFor is the yarn of all pieces, in the order in which the yarns are
// declared, then as they are met. Embroidery and fringes are not in it. Nil
// without a usable gauge.
func YarnFor(p *Pattern) []YarnUse { return p.yarnOf(p.Pieces, true) }

// YarnInAll is YarnFor without the shares of the pieces.
func YarnInAll(p *Pattern) []YarnUse { return p.yarnOf(p.Pieces, false) }

// YarnOf is the yarn of all copies of one piece; see YarnFor.
func YarnOf(p *Pattern, piece *Piece) []YarnUse { return p.yarnOf([]*Piece{piece}, true) }

func (p *Pattern) yarnOf(pieces []*Piece, shares bool) []YarnUse {
	b := newBasket(p)
	b.shares = shares
	b.windAll(pieces)
	for _, piece := range pieces {
		b.add(piece, b.wind(piece))
	}
	var out []YarnUse
	for _, u := range b.uses {
		if u.Mean > 0 {
			u.Low, u.High = u.Mean*(1-u.Spread), u.Mean*(1+u.Spread)
			out = append(out, u)
		}
	}
	return out
}

// metresPerYarn is the metres of a single crochet: the unit that the glossary's
// yarn figures are in. Measured is set where the gauge says what its swatch uses.
func (g StitchGauge) metresPerYarn() (metres float64, measured bool) {
	if n := g.swatch(); n > 0 && windable(g.Gauge.Uses.MM) {
		return g.Gauge.Uses.MM / 1000 / n, true
	}
	return yarnPerWidth * g.Width / 1000, false
}

// swatch is how many single crochets' worth of yarn the gauge's swatch has; 0
// for no swatch to speak of.
func (g StitchGauge) swatch() float64 {
	wide, high := float64(g.Gauge.Sts.N), float64(g.Gauge.Rnds.N)
	if wide <= 0 {
		wide = g.Gauge.Over.MM / g.Width
	}
	if high <= 0 {
		high = g.Gauge.Down.MM / g.height(g.by.tall(g.Stitch))
	}
	n := wide * high * g.by.yarn(g.Stitch)
	if !(n >= leastMM) || math.IsInf(n, 1) {
		return 0
	}
	return n
}

// unfinished is the part of its yarn that a stitch takes as one leg of several
// that are closed together, by the glossary.
func unfinished() float64 { return terms.ByID("sc2tog").Yarn / (2 * terms.ByID("sc").Yarn) }

// yarn is what one stitch takes, in single crochets.
func (k *reckoner) yarn(s *Stitch) float64 {
	if s == nil {
		s = k.main
	}
	if s.Of == nil {
		return k.ownOf(s).yarn
	}
	switch on := s.on(k.main); {
	case s.Of.Kind == terms.Decrease && on != s:
		return float64(s.Takes) * unfinished() * k.yarn(on)
	case s.Of.Kind == terms.Increase && s.Of.Base == "" && on != s:
		return float64(s.Makes) * k.yarn(on)
	case s.Of.Yarn > 0:
		return s.Of.Yarn
	}
	return terms.ByID("sc").Yarn
}

// basket gathers the yarn of pieces.
type basket struct {
	p    *Pattern
	uses []YarnUse
	// shares is set where those of the pieces are asked for.
	shares bool
	// declared finds a yarn of the header by its key or its name, keys any yarn
	// by its key besides, all in lower case.
	declared, keys map[string]int
}

// strand is the yarns that may be in use: one, or several where that is unclear.
type strand []int

func newBasket(p *Pattern) *basket {
	b := &basket{p: p, declared: map[string]int{}}
	for i, y := range p.Header.Yarns {
		b.uses = append(b.uses, YarnUse{Yarn: y, Key: y.Key.Text})
		if k := strings.ToLower(y.Key.Text); !has(b.declared, k) {
			b.declared[k] = i // the first of a key is the one that is meant by it
		}
	}
	for i, y := range p.Header.Yarns {
		if k := strings.ToLower(y.Name.Text); k != "" && !has(b.declared, k) {
			b.declared[k] = i
		}
	}
	b.keys = maps.Clone(b.declared)
	return b
}

func has(m map[string]int, k string) bool { _, ok := m[k]; return ok }

// find is the yarn of a key, which is added where the pattern does not declare it.
func (b *basket) find(key string) int {
	k := strings.ToLower(key)
	if !has(b.keys, k) {
		b.keys[k] = len(b.uses)
		b.uses = append(b.uses, YarnUse{Key: key})
	}
	return b.keys[k]
}

// wound is the yarn of all copies of a piece. It holds as long as the piece
// does, for the gauges, yarns and stitches that it was reckoned with.
type wound struct {
	gauges []*grammar.Gauge
	yarns  []*grammar.Yarn
	book   *book
	// measured is set where the gauge says what its swatch uses.
	measured bool
	// met are yarns that the piece names and the header does not; in strands they
	// count on behind those of the header.
	met []string
	// lengths are of one strand after another.
	lengths []length
}

// sameNames says whether two yarns go by the same words.
func sameNames(a, b *grammar.Yarn) bool {
	return a == b || a.Key.Text == b.Key.Text && a.Name.Text == b.Name.Text
}

// length is yarn of a strand: so many metres of each that it may be.
type length struct {
	of     strand
	metres float64
}

// wind is the yarn of all copies of a piece, reckoned once.
func (b *basket) wind(piece *Piece) *wound {
	h := &b.p.Header
	if piece.memo != nil {
		if w := piece.memo.wound.Load(); w != nil && w.book == b.p.book && slices.Equal(w.gauges, h.Gauges) && slices.EqualFunc(w.yarns, h.Yarns, sameNames) {
			return w
		}
	}
	out := &wound{gauges: h.Gauges, yarns: h.Yarns, book: b.p.book}
	if g, ok := b.p.StitchGauge(piece); ok {
		w := winder{wound: out, declared: b.declared}
		w.piece(piece, g)
	}
	if piece.memo != nil {
		piece.memo.wound.Store(out)
	}
	return out
}

// windAll reckons the yarn of many pieces side by side, ahead of its being asked for.
func (b *basket) windAll(pieces []*Piece) {
	const few = 64
	pieces = slices.DeleteFunc(slices.Clone(pieces), func(piece *Piece) bool { return piece.memo == nil || piece.memo.wound.Load() != nil })
	if len(pieces) < few {
		return
	}
	var wait sync.WaitGroup
	for part := range slices.Chunk(pieces, len(pieces)/runtime.GOMAXPROCS(0)/2+1) {
		wait.Go(func() {
			for _, piece := range part {
				b.wind(piece)
			}
		})
	}
	wait.Wait()
}

// add takes the yarn of a piece in.
func (b *basket) add(piece *Piece, w *wound) {
	declared := len(b.p.Header.Yarns)
	at := make(strand, len(w.met))
	for i, key := range w.met {
		at[i] = b.find(key)
	}
	for _, l := range w.lengths {
		for _, i := range l.of {
			if i >= declared {
				i = at[i-declared]
			}
			u := &b.uses[i]
			if u.Mean == 0 {
				u.Measured, u.Spread = true, measuredSpread
			}
			if !w.measured {
				u.Measured, u.Spread = false, reckonedSpread
			}
			u.Mean += l.metres
			u.Shared = u.Shared || len(l.of) > 1
			if !b.shares {
				continue
			}
			if n := len(u.Pieces); n == 0 || u.Pieces[n-1].Piece != piece {
				u.Pieces = append(u.Pieces, PieceYarn{Piece: piece})
			}
			u.Pieces[len(u.Pieces)-1].Metres += l.metres
		}
	}
}

// winder reckons the yarn of one piece.
type winder struct {
	*wound
	declared map[string]int
	// others finds what was met, by its key in lower case.
	others map[string]int
	by     *reckoner
	// per is the metres of a single crochet in all copies, tails included.
	per float64
	// changes is set where the rounds say when to change.
	changes bool
	// held is yarn of one strand, in single crochets, that is not booked yet.
	held spunYarn
}

// find is the yarn of a key.
func (w *winder) find(key string) strand {
	k := strings.ToLower(key)
	if i, ok := w.declared[k]; ok {
		return strand{i}
	}
	i, ok := w.others[k]
	if !ok {
		if w.others == nil {
			w.others = map[string]int{}
		}
		i = len(w.met)
		w.others[k], w.met = i, append(w.met, key)
	}
	return strand{len(w.yarns) + i}
}

// maxShared bounds how many yarns an even share is given to; of more than that
// there is nothing to be told.
const maxShared = 40

// begin is what a piece starts with, where no line says it: the one yarn there
// is, or any of them.
func (w *winder) begin() strand {
	switch {
	case len(w.yarns) == 0:
		return w.find("")
	case len(w.yarns) > maxShared:
		return nil
	}
	all := make(strand, len(w.yarns))
	for i := range all {
		all[i] = i
	}
	return all
}

func (w *winder) piece(piece *Piece, g StitchGauge) {
	w.by, w.changes = g.by, changes(piece)
	w.per, w.measured = g.metresPerYarn()
	w.per *= float64(max(piece.Make, 1)) * (1 + tails)
	courses := g.by.courses(piece)
	cur := w.begin()
	next := 0
	for off, l := range piece.Lines {
		switch n := l.Node.(type) {
		case *grammar.With:
			cur = w.with(n, cur)
		case *grammar.Action:
			if (n.Verb == grammar.VerbChangeTo || n.Verb == grammar.VerbJoin) && n.Yarn.Text != "" {
				cur = w.find(n.Yarn.Text)
			}
		case *grammar.Round:
			for ; next < len(courses) && courses[next].round.Off <= off; next++ {
				cur = w.course(courses[next], cur)
			}
		}
	}
	for ; next < len(courses); next++ {
		cur = w.course(courses[next], cur)
	}
	w.put()
}

// with is what a With line puts in use. Where it names several and the rounds
// say when to change, the first comes first; else nobody knows.
func (w *winder) with(n *grammar.With, cur strand) strand {
	var out strand
	for _, y := range n.Yarns {
		if y.Text != "" {
			out = append(out, w.find(y.Text)...)
		}
	}
	switch {
	case len(out) == 0:
		return cur
	case len(out) > 1 && w.changes:
		return out[:1]
	}
	return out
}

// changes says whether a piece says anywhere which yarn to go on with.
func changes(piece *Piece) bool {
	for _, l := range piece.Lines {
		switch n := l.Node.(type) {
		case *grammar.Action:
			if n.Yarn.Text != "" {
				return true
			}
		case *grammar.Round:
			if changesIn(n.Steps) {
				return true
			}
		}
	}
	return false
}

func changesIn(steps []grammar.Step) bool {
	for i := range steps {
		if steps[i].Yarn().Text != "" || steps[i].Group != nil && changesIn(steps[i].Group.Steps) {
			return true
		}
	}
	return false
}

// course adds the yarn of rounds that are alike, and gives the yarn that the
// next round begins with.
func (w *winder) course(c course, cur strand) strand {
	left := float64(c.times)
	for first := true; left > 0; first = false {
		n := left
		if first && changesIn(c.steps) {
			n = 1 // those after the first begin with what it ended with
		}
		t := w.by.spin(c, cur, w.find)
		for _, e := range t.entries {
			w.use(e.strand, e.units*n)
		}
		cur, left = t.cur, left-n
	}
	return cur
}

// use takes yarn in, in single crochets.
func (w *winder) use(of strand, units float64) {
	if !(units > 0) || math.IsInf(units, 1) {
		return
	}
	if !slices.Equal(of, w.held.strand) {
		w.put()
		w.held.strand = of
	}
	w.held.units += units
}

// put shares what is held out among the yarns it may be of.
func (w *winder) put() {
	if len(w.held.strand) > 0 {
		w.lengths = append(w.lengths, length{w.held.strand, w.held.units * w.per / float64(len(w.held.strand))})
	}
	w.held = spunYarn{}
}
