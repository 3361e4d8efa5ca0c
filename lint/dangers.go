package lint

import (
	"fmt"
	"slices"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// Limits that the usual rules for toys give, in millimetres: the longest cord
// (EN 71-1, toys for children under 36 months) and the widest small ball (16 CFR 1500.19).
const (
	longestCord = 220
	smallBall   = 44.4
)

// danger is one thing that asks for a caution.
type danger struct {
	at   int
	span grammar.Span
	// what says why, line is the caution to start from.
	what, line string
}

// inAnything are things that ask for a caution whether or not they are put in a
// toy: children meet what stands on a shelf, too.
var inAnything = []string{"wire", "pipe cleaner", "magnet"}

// pulledOff are words for balls of yarn that are sewn on and come off; those
// that name a stitch as well count only where something is sewn.
var (
	pulledOff = map[string]bool{"pompom": true, "pompoms": true, "pompon": true, "pompons": true}
	sewnBalls = map[string]bool{"bobble": true, "bobbles": true, "bauble": true, "baubles": true}
)

// cordWords are in the names of parts that hang or are tied.
var cordWords = map[string]bool{
	"cord": true, "cords": true, "drawstring": true, "drawstrings": true, "string": true, "strings": true, "strap": true, "straps": true, "tie": true, "ties": true,
	"ribbon": true, "ribbons": true, "leash": true, "lead": true, "lanyard": true, "braid": true, "braids": true,
}

// hazards gathers dangers, each kind once, in order of the file within notions,
// uses, texts and parts.
type hazards struct {
	*Pass
	toy  bool
	list []danger
	told map[string]bool
}

func (p *Pass) dangers() []danger {
	f := p.facts()
	h := hazards{Pass: p, toy: f.toy(), told: map[string]bool{}}
	for _, n := range f.notions {
		h.notion(n.at, n.node)
	}
	for _, u := range f.uses {
		h.thing(u.at, u.span, u.thing)
	}
	for _, x := range f.hurts {
		h.text(x)
	}
	if h.toy {
		for i, part := range f.parts {
			h.part(part, f.cordNames()[i])
		}
	}
	return h.list
}

// add takes a danger in, unless its kind was told; "" is a kind of its own.
func (h *hazards) add(kind string, d danger) {
	if kind != "" && h.told[kind] {
		return
	}
	h.told[kind] = true
	h.list = append(h.list, d)
}

func (h *hazards) thing(at int, span grammar.Span, t *thing) {
	if t != nil && t.small && (h.toy || slices.Contains(inAnything, t.one)) {
		h.add(t.one, danger{at, span, sayIsSmall(t), sayCautionSmall(t)})
	}
}

func (h *hazards) notion(at int, n *grammar.Notion) {
	kinds := thingsIn(n.Thing.Text)
	for _, k := range kinds {
		if k.tool {
			break // a needle with a large eye
		}
		h.thing(at, n.Thing.Span, k)
	}
	if h.toy && len(kinds) > 0 && kinds[0].cord && n.Size.MM > longestCord {
		h.add("", danger{at, n.Thing.Span, sayLongCord(n.Size.MM), sayCautionCord()})
	}
}

// hazardsSaid is what a text in free words says of what hurts: things that do so
// in anything, by their index, and balls that come off.
type hazardsSaid struct {
	things       uint8
	pompom, ball bool
}

// hazards are what a text says of what hurts; nothing, where it speaks of going without.
func (h *hearing) hazards(text string) hazardsSaid {
	x, new := h.of(text, askedHazards)
	if !new {
		return x.hazards
	}
	words := wordsOf(text)
	if slices.ContainsFunc(words, func(w string) bool {
		return w == "no" || w == "not" || w == "without" || w == "instead" || w == "never"
	}) {
		return x.hazards
	}
	for _, t := range thingsIn(text) {
		if i := slices.Index(inAnything, t.one); i >= 0 {
			x.hazards.things |= 1 << i
		}
	}
	x.hazards.pompom, x.hazards.ball = names(words, pulledOff), names(words, sewnBalls)
	return x.hazards
}

// names says whether words name one of some balls. The tool that pompoms are
// wound on is none.
func names(words []string, balls map[string]bool) bool {
	for i := 0; i < len(words); i++ {
		w := words[i]
		if w == "pom" && i+1 < len(words) && singular(words[i+1]) == "pom" {
			w, i = "pompom", i+1
		}
		if balls[w] && (i+1 == len(words) || words[i+1] != "maker") {
			return true
		}
	}
	return false
}

// hurt is a statement that speaks of what hurts.
type hurt struct {
	at   int
	said hazardsSaid
}

// hear listens to the texts from one on.
func (f *facts) hear(from int) {
	for _, at := range f.texts[from:] {
		if said := f.hazards(f.said(at)); said != (hazardsSaid{}) {
			f.hurts = append(f.hurts, hurt{at, said})
		}
	}
}

func hurtsMoved(list []hurt, by int) []hurt {
	var out []hurt
	for _, x := range list {
		out = append(out, hurt{x.at + by, x.said})
	}
	return out
}

// text looks for wires and pompoms in what a statement says in free words.
func (h *hazards) text(x hurt) {
	sewn := false
	switch n := h.File.Lines[x.at].Node.(type) {
	case *grammar.Text:
		if n.Label != grammar.LabelNote {
			return
		}
	case *grammar.Sew, *grammar.PlaceThing:
		sewn = true
	}
	for i, one := range inAnything {
		if x.said.things&(1<<i) != 0 {
			h.thing(x.at, grammar.Span{}, thingNamed(one))
		}
	}
	if h.toy && (x.said.pompom || sewn && x.said.ball) {
		h.add("pompom", danger{x.at, grammar.Span{}, sayPulledOff(), sayCautionPulledOff()})
	}
}

// part looks for a long cord and a small ball among the parts, and in the rounds
// of any part for a chain that is long enough to be one. Named says whether the
// part has the name of a cord.
func (h *hazards) part(part *part, named bool) {
	piece := part.piece
	if len(piece.Rounds) == 0 {
		return
	}
	var span grammar.Span
	if piece.Node != nil {
		span = piece.Node.Name.Span
	}
	if named || cordLike(piece) {
		if s, ok := fabric.SizeOf(h.Pattern, piece); ok && s.Longest() > longestCord {
			h.add("", danger{piece.At, span, sayLongCord(s.Longest()), sayCautionCord()})
		}
		return
	}
	if c := part.hangs; c.n > 0 {
		if g, ok := h.Pattern.StitchGauge(piece); ok && float64(c.n)*g.Width > longestCord {
			h.add("", danger{piece.At + c.off, c.span, sayLongCord(float64(c.n) * g.Width), sayCautionCord()})
		}
	}
	if piece.Node == nil || !part.hollow() || part.stuffed < 0 || len(part.sewn) > 0 || part.onto || len(part.bears) > 0 {
		return
	}
	if s, ok := fabric.SizeOf(h.Pattern, piece); ok && s.Longest() < smallBall {
		h.add("", danger{piece.At, span, saySmallBall(s.Longest()), sayCautionBall()})
	}
}

// cordNames says of each part whether its name is that of a cord.
func (h *hearing) cordNames() []bool {
	if h.cords == nil {
		h.cords = make([]bool, len(h.names))
		for i, name := range h.names {
			h.cords[i] = slices.ContainsFunc(h.words(name), func(w string) bool { return cordWords[w] })
		}
	}
	return h.cords
}

// cordLike says whether a part is a chain, or a chain worked along once.
func cordLike(piece *fabric.Piece) bool {
	if len(piece.Rounds) > 2 {
		return false
	}
	return chainOnly(piece.Rounds[0]) && (len(piece.Rounds) == 1 || piece.Rounds[1].Node.Row)
}

// hangingChain is a chain within a part that nothing begins on: a tie, a strap
// or a loop that hangs. Off is its statement's place among the part's.
type hangingChain struct {
	n    int32
	off  int
	span grammar.Span
}

// leastHanging is fewer chains than any yarn makes 22 cm of.
const leastHanging = 10

// hanging takes in the longest such chain of a round.
func (f *facts) hanging(r *fabric.Round) {
	if f.cur != nil {
		f.hangs(r, r.Node.Steps, r == f.cur.piece.Rounds[0])
	}
}

func (f *facts) hangs(r *fabric.Round, steps []grammar.Step, begins bool) {
	for i := range steps {
		s := &steps[i]
		if s.Group != nil {
			f.hangs(r, s.Group.Steps, false)
		}
		if s.Kind != grammar.StepWork || begins && i == 0 || s.Count.N <= max(f.cur.hangs.n, leastHanging) {
			continue
		}
		if known := f.pattern.Find(s.Stitch); known != nil && known.Of != nil && known.Of.ID == "ch" {
			f.cur.hangs = hangingChain{s.Count.N, r.Off, s.Span}
		}
	}
}

func sayPulledOff() string { return "a ball of yarn that is sewn on can be pulled or bitten off" }

func sayCautionPulledOff() string {
	return "Caution: Pompoms and bobbles can come off, and a child can choke on them; not for a child under three." + cautionEnd
}

func sayIsSmall(t *thing) string {
	verb := "are small parts"
	if t.one == t.name {
		verb = "is a hazard to small children"
	}
	return t.name + " " + verb
}

func sayLongCord(mm float64) string {
	return fmt.Sprintf("a cord of %s is longer than the 22 cm that the usual rules for toys give", centimetres(mm))
}

func saySmallBall(mm float64) string {
	return fmt.Sprintf("this comes out at about %s, and what passes a hole of 4.44 cm counts as a small ball", centimetres(mm))
}

const cautionEnd = " Follow the rules for toys where you live; whether a toy meets them is for a licensed laboratory to test."

func sayCautionSmall(t *thing) string {
	first := strings.ToUpper(t.name[:1]) + t.name[1:]
	if t.one == t.name {
		return "Caution: " + first + " can work through the fabric; not for a child under three." + cautionEnd
	}
	return "Caution: " + first + " are small parts that a child can choke on; not for a child under three." + cautionEnd
}

func sayCautionCord() string {
	return "Caution: Long cords can wind round a neck; keep away from children under three." + cautionEnd
}

func sayCautionBall() string {
	return "Caution: This is small enough for a young child to choke on; not for a child under three." + cautionEnd
}
