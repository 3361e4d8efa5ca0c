package lsp

import (
	"math"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
)

// verbWords say what is done on an action line: common practice.
var verbWords = map[grammar.Verb]string{
	grammar.VerbFastenOff:      "cut the yarn and draw its end through the last loop.",
	grammar.VerbStuff:          "fill the part through its opening.",
	grammar.VerbDoNotStuff:     "the part stays empty.",
	grammar.VerbDoNotFastenOff: "the loop stays open: the yarn goes on into what follows.",
	grammar.VerbChangeTo:       "go on in this yarn; draw it through the last loops of the stitch before.",
	grammar.VerbJoin:           "fasten on the yarn with a slip stitch; it is not counted.",
	grammar.VerbTurn:           "turn the work, so that its other side faces you.",
	grammar.VerbClose:          "run the tail through the stitches of the last round, draw it tight and secure it.",
	grammar.VerbLeave:          "these stay as they are.",
	grammar.VerbWeaveIn:        "run the ends of the yarn through the back of the fabric and cut them.",
	grammar.VerbCut:            "cut the yarn.",
	grammar.VerbBrush:          "brush the fabric until its fibers stand up.",
	grammar.VerbBlock:          "wet or steam the work, pin it out to size and let it dry.",
	grammar.VerbMove:           "take the marker out and put it into the stitch worked last.",
	grammar.VerbPlaceMarker:    "put a stitch marker into the stitch, to find it again.",
	grammar.VerbContinue:       "go on from here.",
	grammar.VerbInsert:         "put these in now, while the part is open.",
}

// action explains what is done between rounds.
func (e *explainer) action(n *grammar.Action) {
	switch {
	case e.yarn(n.Yarn), e.wheres(n.Where, e.pieceHere(), n.Thing.Text):
		return
	case n.Verb == grammar.VerbInsert && n.Thing.Written() && e.thing(n.Count, n.Thing):
		return
	}
	said := grammar.Span{End: saidEnd(e.line)}
	said.Start = int32(len(e.line.Text) - len(strings.TrimLeft(e.line.Text, " \t")))
	if !e.on(said) {
		return
	}
	verb := e.line.Text[said.Start:said.End]
	if n.Rest.Written() {
		verb = e.line.Text[said.Start:n.Rest.Start]
	}
	var p page
	p.head(oneLine(strings.TrimRight(verb, " \t\n,.:")), ": "+spelled(e.p.Header.System, verbWords[n.Verb]))
	if text := e.opening(n.Verb); text != "" {
		p.say(text)
	}
	e.found(said, p)
}

// opening says how large the opening is that a part is filled or closed
// through; empty where that is not known, or has no bearing.
func (e *explainer) opening(v grammar.Verb) string {
	if v != grammar.VerbStuff && v != grammar.VerbClose && v != grammar.VerbFastenOff && v != grammar.VerbInsert {
		return ""
	}
	piece := e.pieceHere()
	if piece == nil {
		return ""
	}
	var below *fabric.Round
	for _, r := range piece.Rounds {
		if piece.At+r.Off < e.at {
			below = r
		}
	}
	if below == nil || below.Meant == nil || below.Meant.Unknown {
		return ""
	}
	ends := " ends with "
	if below.RoundsWorked > 1 {
		ends = " end with "
	}
	text := below.Name() + ends + stitchCount(below.Meant.Stitches())
	if d, ok := e.across(piece, below); ok && v != grammar.VerbFastenOff {
		text += "; the opening is about " + d + " across"
	}
	return text + "."
}

// across is how wide the opening of a round is, by the gauge.
func (e *explainer) across(piece *fabric.Piece, r *fabric.Round) (string, bool) {
	g, ok := e.p.StitchGauge(piece)
	if !ok || g.Gauge == nil || r.Node.Row {
		return "", false
	}
	return measuresOf(e.p).length(float64(r.Meant.Stitches()) * g.Width / math.Pi), true
}
