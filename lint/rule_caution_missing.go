package lint

import (
	"fmt"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "caution-missing",
	Severity: Warning,
	Summary:  "Small parts, wires, long cords or small balls in a toy, and no caution for young children",
	Why: "Eyes, buttons, beads and bells come off and are swallowed; wires and pipe cleaners work through the fabric; a cord longer than 22 cm can wind round a neck, " +
		"and a ball that passes a hole of 44.4 mm can block a throat (16 CFR 1500.19; EN 71-1 speaks of cords). A pattern with such parts needs a caution for children under three. " +
		"What a toy must meet where it is made, given or sold is for the local rules and a licensed laboratory to say: no caution, and no check of this kind, makes a toy safe.",
	Repair: "A Caution line to start from. It is not written by `--fix`: read it first, since you answer for what it says.",
	Bad:    "Pattern: The Snail\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nNotion: 2 safety eyes, 6 mm\nNotion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nStuff.\nAssembly:\nPlace: 2 safety eyes on Shell, between Rnds 2 and 3, 2 sts apart\n",
	Good: "Pattern: The Snail\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nNotion: 2 safety eyes, 6 mm\nNotion: toy stuffing\nCaution: Safety eyes are small parts; embroider the eyes for a child under three.\n" +
		"Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nStuff.\nAssembly:\nPlace: 2 safety eyes on Shell, between Rnds 2 and 3, 2 sts apart\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.cautionMissing}
	},
})

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

func (p *Pass) cautionMissing() {
	f := p.facts()
	if f.title < 0 && len(f.notions) == 0 || !f.toy() {
		return
	}
	for _, c := range f.cautions {
		if speaksOfChildren(c.node.Content.Text) {
			return
		}
	}
	list := p.dangers()
	if len(list) == 0 {
		return
	}
	d := list[0]
	x := p.Report(d.at, d.span, sayCautionMissing(d))
	for _, more := range list[1:] {
		x.Related = append(x.Related, p.related(more.at, more.span, more.what))
	}
	x.Fixes = append(x.Fixes, fix(sayAddCaution(), false, p.addHeader(d.line)))
}

var childWords = map[string]bool{
	"child": true, "children": true, "child's": true, "children's": true, "baby": true, "babies": true, "infant": true, "infants": true, "toddler": true, "toddlers": true,
	"kid": true, "kids": true, "three": true, "3": true, "36": true, "newborn": true, "newborns": true,
}

func speaksOfChildren(text string) bool {
	for _, w := range wordsOf(text) {
		if childWords[w] {
			return true
		}
	}
	return false
}

var toyWords = map[string]bool{
	"toy": true, "toys": true, "doll": true, "dolls": true, "plush": true, "plushie": true, "rattle": true, "teether": true, "amigurumi": true, "stuffie": true, "softie": true,
	"baby": true, "child": true, "children": true, "kids": true, "toddler": true, "lovey": true, "comforter": true, "soother": true, "pacifier": true, "cot": true, "crib": true,
}

// toy says whether the pattern is for a toy, or for a child: something is
// stuffed, has eyes, or is said to be one. It is asked at the end of the walk.
func (f *facts) toy() bool {
	if f.isToy == nil {
		is := f.toyLike()
		f.isToy = &is
	}
	return *f.isToy
}

func (f *facts) toyLike() bool {
	eyes, nose, stuffing := thingNamed("eye"), thingNamed("nose"), thingNamed("stuffing")
	for _, u := range f.uses {
		if u.thing == eyes || u.thing == nose || u.thing == stuffing {
			return true
		}
	}
	for _, n := range f.notions {
		if k := append(thingsIn(f.said(n.at)), nil)[0]; k != nil && (k == eyes || k == nose || k == stuffing) {
			return true
		}
	}
	for _, at := range f.texts {
		if t, ok := f.pattern.File.Lines[at].Node.(*grammar.Text); ok && (t.Label == grammar.LabelPattern || t.Label == grammar.LabelNote) {
			for _, w := range wordsOf(t.Content.Text) {
				if toyWords[w] {
					return true
				}
			}
		}
	}
	return false
}

// dangers lists what asks for a caution, each kind once, in order of the file
// within notions, uses and parts.
func (p *Pass) dangers() []danger {
	f := p.facts()
	var list []danger
	told := map[*thing]bool{}
	note := func(at int, span grammar.Span, t *thing) {
		if t != nil && t.small && !told[t] {
			told[t] = true
			list = append(list, danger{at, span, sayIsSmall(t), sayCautionSmall(t)})
		}
	}
	for _, n := range f.notions {
		kinds := thingsIn(n.node.Thing.Text)
		for _, k := range kinds {
			if k.tool {
				break // a needle with a large eye
			}
			note(n.at, n.node.Thing.Span, k)
		}
		if len(kinds) > 0 && kinds[0].cord && n.node.Size.MM > longestCord {
			list = append(list, danger{n.at, n.node.Thing.Span, sayLongCord(n.node.Size.MM), sayCautionCord()})
		}
	}
	for _, u := range f.uses {
		note(u.at, u.span, u.thing)
	}
	for _, part := range f.parts {
		if d, ok := p.dangerOf(part); ok {
			list = append(list, d)
		}
	}
	return list
}

// dangerOf looks for a long chain and a small ball among the parts.
func (p *Pass) dangerOf(part *part) (danger, bool) {
	if part.piece.Node == nil || len(part.piece.Rounds) == 0 {
		return danger{}, false
	}
	span := part.piece.Node.Name.Span
	if cordLike(part.piece) {
		if s, ok := fabric.SizeOf(p.Pattern, part.piece); ok && s.Longest() > longestCord {
			return danger{part.piece.At, span, sayLongCord(s.Longest()), sayCautionCord()}, true
		}
		return danger{}, false
	}
	if !part.hollow() || part.stuffed < 0 || len(part.sewn) > 0 || part.onto || len(part.bears) > 0 {
		return danger{}, false
	}
	if s, ok := fabric.SizeOf(p.Pattern, part.piece); ok && s.Longest() < smallBall {
		return danger{part.piece.At, span, saySmallBall(s.Longest()), sayCautionBall()}, true
	}
	return danger{}, false
}

// cordLike says whether a part is a chain, or a chain worked along once.
func cordLike(piece *fabric.Piece) bool {
	if len(piece.Rounds) > 2 {
		return false
	}
	return chainOnly(piece.Rounds[0]) && (len(piece.Rounds) == 1 || piece.Rounds[1].Node.Row)
}

func sayCautionMissing(d danger) string {
	return d.what + ": the pattern needs a Caution line for young children"
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

func sayAddCaution() string { return "add a Caution line to start from" }

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
