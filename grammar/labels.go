package grammar

import (
	"strings"
	"sync"
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
	best, at := "", 3
	for _, l := range labels() {
		if numbered != (l.takesKey || l.takesRange) {
			continue
		}
		for _, spelling := range append([]string{strings.ToLower(l.name)}, l.others...) {
			if d := distance(word, spelling); d < at && d*3 <= max(len(word), len(spelling)) {
				best, at = l.name, d
			}
		}
	}
	return best, best != ""
}

// near says whether a word is a slip of the pen away from another.
func near(word, other string) bool {
	d := distance(word, other)
	return d <= 2 && d*3 <= max(len(word), len(other))
}

// distance counts the letters to add, drop, change or swap between two words.
func distance(a, b string) int {
	if len(a) > 40 || len(b) > 40 {
		return 40
	}
	var rows [3][42]int
	for j := range len(b) + 1 {
		rows[1][j] = j
	}
	for i := 1; i <= len(a); i++ {
		two, one, cur := &rows[(i+2)%3], &rows[i%3], &rows[(i+1)%3]
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(one[j]+1, cur[j-1]+1, one[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], two[j-2]+1)
			}
		}
	}
	return rows[(len(a)+1)%3][len(b)]
}
