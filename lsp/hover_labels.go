package lsp

import (
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// labelHelp tells what a label is for, and shows a line that it may begin.
type labelHelp struct{ says, form string }

// labelHelps are keyed by the canonical label, as grammar.Labels lists them.
var labelHelps = map[string]labelHelp{
	"Pattern":       {"the name of the pattern; it is the first line.", "Pattern: Moss the Snail"},
	"Designer":      {"who made the pattern.", "Designer: A. Maker"},
	"Version":       {"which edition of the pattern this is. Change it with every correction, so that makers know which one they have.", "Version: 1.1"},
	"Terms":         {"whether the names of stitches are US or UK ones. dc is a stitch in both, and not the same one.", "Terms: US"},
	"Skill":         {"how hard the pattern is: basic, easy, intermediate or complex.", "Skill: easy"},
	"Size":          {"the finished size. It is held against what the gauge and the rounds come to.", "Size: 9 cm tall"},
	"Gauge":         {"how many stitches and rounds a length has, and in which stitch. Sizes and yarn are reckoned from it.", "Gauge: 24 sts x 26 rnds = 10 cm in sc"},
	"Hook":          {"the hook in millimeters, with its letter and number if you like.", "Hook: E-4 (3.5 mm)"},
	"Turning chain": {"whether the chain that begins a round or row counts as a stitch; said once, for the whole pattern.", "Turning chain: dc counts, hdc does not"},
	"Yarn":          {"a yarn, by the letter or word that the pattern calls it: its name, color, weight, and what a ball weighs and measures.", "Yarn A: fern #7C9A5B, light (3), 50 g / 125 m"},
	"Notion":        {"a thing that is needed besides yarn and hook, and how many of it.", "Notion: 2 safety eyes, 6 mm"},
	"Stitch":        {"a stitch of the pattern's own: its abbreviation, its name, and how it is worked, or what it takes and makes.", "Stitch: bob (bobble) = 5 dc together in one st"},
	"Abbreviation":  {"what an abbreviation stands for, for the list that makers look it up in.", "Abbreviation: inv dec = invisible decrease"},
	"Note":          {"something that makers should know here, in free words.", "Note: Pin every part before you sew."},
	"Caution":       {"a warning, such as of small parts, wires or long cords near small children.", "Caution: Safety eyes are small parts; embroider the eyes for a child under three."},
	"Piece":         {"begins a part, and says how many of it are made.", "Piece: Feeler (make 2)"},
	"Worked":        {"how the part is worked: in a spiral, in joined rounds or in rows.", "Worked: in a spiral"},
	"With":          {"the yarn that the part is worked with, and a hook of its own if it has one.", "With: A"},
	"Rnd":           {"a round: its steps, and in brackets how many stitches it has at the end.", "Rnd 3: (sc, inc) x 6 (18)"},
	"Rnds":          {"several rounds that are worked alike.", "Rnds 6-9: sc in each st around (30)"},
	"Row":           {"a row: its steps, and in brackets how many stitches it has at the end.", "Row 2: ch 1, turn, sc across (12)"},
	"Rows":          {"several rows that are worked alike.", "Rows 3-9: ch 1, turn, sc across (12)"},
	"Assembly":      {"begins the making up: what is sewn where. Nothing stands behind it.", "Assembly:"},
	"Sew":           {"which part is sewn to which, how many of it, and where.", "Sew: Feeler x 2 to Body, between Rnds 1 and 2, 3 sts apart"},
	"Place":         {"which notions go where on a part.", "Place: 2 safety eyes on Body, between Rnds 2 and 3, 5 sts apart"},
	"Embroider":     {"what is embroidered on a part, in which yarn, and where.", "Embroider: mouth in B on Body, at Rnd 5"},
	"Attach":        {"the same as Sew, for what is not sewn but tied, knotted or glued on.", "Attach: Hanger to Motif, at Rnd 8"},
}

// ukForms are those lines that read otherwise under UK terms.
var ukForms = map[string]string{
	"Terms": "Terms: UK", "Gauge": "Gauge: 24 sts x 26 rnds = 10 cm in dc", "Turning chain": "Turning chain: tr counts, htr does not",
	"Stitch": "Stitch: bob (bobble) = 5 tr together in one st", "Rnd": "Rnd 3: (dc, inc) x 6 (18)", "Rnds": "Rnds 6-9: dc in each st around (30)",
	"Row": "Row 2: ch 1, turn, dc across (12)", "Rows": "Rows 3-9: ch 1, turn, dc across (12)",
}

// british spells words as UK patterns do.
var british = strings.NewReplacer("color", "colour", "Color", "Colour", "millimeter", "millimetre", "center", "centre")

// spelled gives a text of the server's own in the spelling that goes with the terms.
func spelled(sys terms.System, text string) string {
	if sys == terms.UK {
		return british.Replace(text)
	}
	return text
}

// labelPage explains a label by its canonical name.
func labelPage(sys terms.System, name string) page {
	h, ok := labelHelps[name]
	if !ok {
		return nil
	}
	if uk := ukForms[name]; uk != "" && sys == terms.UK {
		h.form = uk
	}
	var p page
	p.head(name, ": "+spelled(sys, h.says))
	p.pattern(h.form)
	return p
}

var textLabels = map[grammar.TextLabel]string{
	grammar.LabelPattern: "Pattern", grammar.LabelDesigner: "Designer", grammar.LabelVersion: "Version",
	grammar.LabelAbbreviation: "Abbreviation", grammar.LabelNote: "Note", grammar.LabelCaution: "Caution",
}

// labelOf is the canonical label of a statement; empty without one, and for
// rounds, whose label is explained by what they come to.
func labelOf(node grammar.Node) string {
	switch n := node.(type) {
	case *grammar.Text:
		return textLabels[n.Label]
	case *grammar.Terms:
		return "Terms"
	case *grammar.Skill:
		return "Skill"
	case *grammar.Size:
		return "Size"
	case *grammar.Gauge:
		return "Gauge"
	case *grammar.Hook:
		return "Hook"
	case *grammar.TurningChain:
		return "Turning chain"
	case *grammar.Yarn:
		return "Yarn"
	case *grammar.Notion:
		return "Notion"
	case *grammar.OwnStitch:
		return "Stitch"
	case *grammar.Piece:
		return "Piece"
	case *grammar.Worked:
		return "Worked"
	case *grammar.With:
		return "With"
	case grammar.Assembly:
		return "Assembly"
	case *grammar.Sew:
		if n.Attach {
			return "Attach"
		}
		return "Sew"
	case *grammar.PlaceThing:
		return "Place"
	case *grammar.Embroider:
		return "Embroider"
	}
	return ""
}

// label explains the label that a statement begins with, and says whether the
// place is in it.
func (e *explainer) label() bool {
	name := labelOf(e.line.Node)
	text, _, ok := strings.Cut(e.line.Text[:saidEnd(e.line)], ":")
	if !ok && name == "Assembly" {
		ok = true // it may stand without its colon
	}
	if name == "" || !ok {
		return false
	}
	start := len(text) - len(strings.TrimLeft(text, " \t"))
	span := grammar.Span{Start: int32(start), End: int32(start + len(strings.TrimSpace(text)))}
	if y, is := e.line.Node.(*grammar.Yarn); is && y.Key.Written() {
		if e.on(y.Key.Span) {
			return e.found(y.Key.Span, yarnPage(e.p, y))
		}
		span.End = int32(len(strings.TrimRight(e.line.Text[:y.Key.Start], " \t")))
	}
	if !e.on(span) {
		return false
	}
	p := labelPage(e.p.Header.System, name)
	if name == "Pattern" {
		p.add(patternPage(e.p))
	}
	return e.found(span, p)
}

// patternPage is what the whole pattern comes to.
func patternPage(p *fabric.Pattern) page {
	made, rounds := int64(0), int64(0)
	for _, x := range p.Pieces {
		made += max(x.Make, 1)
		for _, r := range x.Rounds {
			rounds += r.RoundsWorked
		}
	}
	var out page
	if rounds == 0 {
		return nil
	}
	text := "So far it has " + count(int64(len(p.Pieces)), "part", "parts")
	if made > int64(len(p.Pieces)) {
		text += ", " + number(made) + " to make in all"
	}
	out.say(text + ", with " + count(rounds, "round or row", "rounds and rows") + ".")
	m := measuresOf(p)
	for _, u := range fabric.YarnFor(p) {
		out.say(yarnNamed(u.Key) + ": about " + m.yarn(u.Mean) + ".")
	}
	return out
}

// yarnNamed is what a page calls a yarn, which may have no letter.
func yarnNamed(key string) string {
	if key == "" {
		return "Yarn"
	}
	return "Yarn " + key
}
