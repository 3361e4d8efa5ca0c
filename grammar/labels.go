package grammar

import (
	"strings"
	"sync"

	"workeven/grammar/terms"
)

// labels is the closed list.
var labels = sync.OnceValue(func() []label {
	return []label{
		{name: "Pattern", read: readText(LabelPattern)},
		{name: "Designer", read: readText(LabelDesigner)},
		{name: "Version", read: readText(LabelVersion)},
		{name: "Terms", read: readTerms},
		{name: "Skill", others: []string{"skill level", "level"}, read: readSkill},
		{name: "Size", others: []string{"finished size"}, read: readSize},
		{name: "Gauge", others: []string{"tension"}, read: readGauge},
		{name: "Hook", read: readHook},
		{name: "Turning chain", others: []string{"turning ch"}, read: readTurningChain},
		{name: "Yarn", takesKey: true, read: readYarn},
		{name: "Notion", others: []string{"notions"}, read: readNotion},
		{name: "Stitch", read: readOwnStitch},
		{name: "Abbreviation", others: []string{"abbreviations"}, read: readText(LabelAbbreviation)},
		{name: "Note", others: []string{"notes"}, read: readText(LabelNote)},
		{name: "Caution", read: readText(LabelCaution)},
		{name: "Piece", read: readPiece},
		{name: "Worked", read: readWorked},
		{name: "With", read: readWithLine},
		{name: "Rnd", others: []string{"round", "r"}, takesRange: true, read: readRound},
		{name: "Rnds", others: []string{"rounds"}, takesRange: true, read: readRound},
		{name: "Row", takesRange: true, read: readRound},
		{name: "Rows", takesRange: true, read: readRound},
		{name: "Assembly", others: []string{"making up"}, makingUp: true, read: readAssembly},
		{name: "Sew", makingUp: true, read: readSew},
		{name: "Place", makingUp: true, read: readPlace},
		{name: "Embroider", makingUp: true, read: readEmbroider},
		{name: "Attach", makingUp: true, read: readSew},
	}
})

var labelIndex = sync.OnceValue(func() map[string]*label {
	m := map[string]*label{}
	for i := range labels() {
		l := &labels()[i]
		m[strings.ToLower(l.name)] = l
		for _, o := range l.others {
			m[o] = l
		}
	}
	return m
})

// Labels lists the canonical labels in the order of the reference.
func Labels() []string {
	var out []string
	for _, l := range labels() {
		out = append(out, l.name)
	}
	return out
}

// nearestLabel is the label most like a mistyped word; numbered ones are those
// that a number or a letter may follow.
func nearestLabel(word string, numbered bool) (string, bool) {
	names := map[string]string{}
	var spellings []string
	for _, l := range labels() {
		if numbered != (l.takesKey || l.takesRange) {
			continue
		}
		for _, spelling := range append([]string{strings.ToLower(l.name)}, l.others...) {
			names[terms.Key(spelling)] = l.name
			spellings = append(spellings, spelling)
		}
	}
	near, ok := terms.Among(word, spellings)
	return names[terms.Key(near)], ok
}
