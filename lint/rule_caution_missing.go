package lint

import (
	"slices"
	"strings"

	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "caution-missing",
	Severity: Warning,
	Summary:  "Small parts, long cords or small balls in a toy, or wires in anything, and no caution for young children",
	Why: "Eyes, buttons, beads, bells and pompoms come off and are swallowed; wires and pipe cleaners work through the fabric, whatever it is made into; a cord, tie or strap longer than 22 cm can wind round a neck, " +
		"and a ball that passes a hole of 44.4 mm can block a throat (16 CFR 1500.19; EN 71-1 speaks of cords). A pattern with such parts needs a caution for children under three. " +
		"What a toy must meet where it is made, given or sold is for the local rules and a licensed laboratory to say: no caution, and no check of this kind, makes a toy safe.",
	Repair: "A Caution line to start from. It is not written by `--fix`: read it first, since you answer for what it says.",
	Bad:    "Pattern: The Snail\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nNotion: 2 safety eyes, 6 mm\nNotion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nStuff.\nAssembly:\nPlace: 2 safety eyes on Shell, between Rnds 2 and 3, 2 sts apart\n",
	Good: "Pattern: The Snail\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3 mm\nYarn A: fern, light (3), 50 g / 125 m\nNotion: 2 safety eyes, 6 mm\nNotion: toy stuffing\nCaution: Safety eyes are small parts; embroider the eyes for a child under three.\n" +
		"Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6)\nStuff.\nAssembly:\nPlace: 2 safety eyes on Shell, between Rnds 2 and 3, 2 sts apart\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.cautionMissing, Reads: readsRounds}
	},
})

func (p *Pass) cautionMissing() {
	f := p.facts()
	if f.title < 0 && len(f.notions) == 0 {
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
	"baby's": true, "babies": true, "child's": true, "children's": true, "kid": true, "kid's": true, "infant": true, "infants": true, "newborn": true, "newborns": true, "toddlers": true,
	"bib": true, "bibs": true, "bootee": true, "bootees": true, "bootie": true, "booties": true, "nursery": true, "pram": true, "stroller": true,
}

// toy says whether the pattern is for a toy, or for a child: something is
// stuffed, has eyes, or is said to be one, by its title, a note, a part's name or
// a size in months. It is asked at the end of the walk.
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
		if t, ok := f.pattern.File.Lines[at].Node.(*grammar.Text); ok && (t.Label == grammar.LabelPattern || t.Label == grammar.LabelNote) && f.saysToy(t.Content.Text) {
			return true
		}
	}
	for _, s := range f.sizes {
		if text := s.node.Content.Text; f.saysToy(text) || strings.Contains(strings.ToLower(text), "month") {
			return true
		}
	}
	return slices.ContainsFunc(f.hearing.names, f.saysToy)
}

func (f *facts) saysToy(text string) bool {
	return slices.ContainsFunc(f.words(text), func(w string) bool { return toyWords[w] })
}

func sayCautionMissing(d danger) string {
	return d.what + ": the pattern needs a Caution line for young children"
}

func sayAddCaution() string { return "add a Caution line to start from" }
