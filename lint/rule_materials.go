package lint

import (
	"fmt"
	"slices"
	"strings"

	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "materials",
	Severity: Warning,
	Summary:  "A thing is used and not listed, listed and not used, or listed in another number than is placed",
	Why: "Makers shop from the list before they begin. Eyes that are first spoken of when the head is to be closed stop the work for a week; two listed where four are placed, likewise. " +
		"What is listed and never used makes them doubt that they have the whole pattern.",
	Repair: "A Notion line for what is missing. `--fix` adds those whose kind leaves nothing open, such as stuffing or a yarn needle.",
	Bad:    "Piece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\nStuff firmly.\nRnd 6: dec x 6 (6)\nFasten off.\n",
	Good:   "Notion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\nStuff firmly.\nRnd 6: dec x 6 (6)\nFasten off.\n",
	Start: func(p *Pass) Visits {
		return Visits{Reads: readsShapes, End: func() {
			f := p.facts()
			if f.title < 0 && len(f.notions) == 0 {
				return // a fragment without a list
			}
			m := newMaterials(p)
			m.unlisted()
			m.unused()
			m.counts()
		}}
	},
})

// materials holds the list of notions against what is used.
type materials struct {
	*Pass
	// listed are the kinds that any notion speaks of, chief the kind of each notion.
	listed map[*thing]bool
	chief  []*thing
	// words are the words of the notions, and of all free text of the pattern.
	words, spoken map[string]bool
	used          map[*thing]bool
}

func newMaterials(p *Pass) *materials {
	f := p.facts()
	m := &materials{Pass: p, listed: map[*thing]bool{}, words: map[string]bool{}, used: map[*thing]bool{}}
	for _, n := range f.notions {
		text := f.said(n.at)
		kinds := thingsIn(text)
		for _, k := range kinds {
			m.listed[k] = true
		}
		m.chief = append(m.chief, append(kinds, nil)[0])
		for _, w := range wordsOf(n.node.Thing.Text) {
			m.words[singular(w)] = true
		}
	}
	for _, u := range f.uses {
		m.used[u.thing] = true
	}
	return m
}

// unlisted reports the first use of each thing that no notion lists.
func (m *materials) unlisted() {
	f := m.facts()
	told := map[string]bool{}
	report := func(at int, span grammar.Span, t *thing, name string) {
		if told[name] {
			return
		}
		told[name] = true
		x := m.Report(at, span, sayUnlisted(name))
		if t != nil && t.line != "" {
			line := "Notion: " + t.line
			if n, known := m.placed(t); t.counted && known {
				line = fmt.Sprintf("Notion: %d %s", n, t.line)
			}
			x.Fixes = append(x.Fixes, fix(sayAddLine(line), !t.counted, m.addHeader(line)))
		}
	}
	for _, u := range f.uses {
		switch {
		case u.thing != nil && !m.listed[u.thing]:
			report(u.at, u.span, u.thing, u.thing.name)
		case u.thing == nil && u.text != "" && !m.words[singular(lastWord(u.text))]:
			report(u.at, u.span, nil, u.text)
		}
	}
	needle := thingNamed("needle")
	if len(f.joins) > 0 && !m.listed[needle] {
		report(f.joins[0].at, grammar.Span{}, needle, needle.name)
	}
}

// addHeader adds a line behind the last one of its kind, or at the end of the header.
func (p *Pass) addHeader(line string) Edit {
	f := p.facts()
	switch {
	case len(f.notions) > 0:
		return p.after(f.notions[len(f.notions)-1].at, line)
	case f.header >= 0:
		return p.after(f.header, line)
	case f.first >= 0:
		return p.before(f.first, line)
	}
	return Edit{0, 0, line + p.lineEnd()}
}

// unused reports notions that the pattern never speaks of again.
func (m *materials) unused() {
	f := m.facts()
	if !f.worked() {
		return
	}
	for i, n := range f.notions {
		k := m.chief[i]
		if k != nil && (k.tool || m.used[k] || m.goesWithout(k)) {
			continue
		}
		if m.isSpoken(n.node.Thing.Text, k) || k == thingNamed("stuffing") && m.stuffingForgotten() {
			continue
		}
		m.Report(n.at, n.node.Thing.Span, sayUnusedNotion(n.node.Thing.Text)).Unused = true
	}
}

// stuffingForgotten says whether a body is closed and never stuffed, which order
// speaks of.
func (m *materials) stuffingForgotten() bool {
	return slices.ContainsFunc(m.facts().parts, func(p *part) bool { return p.hollow() && p.stuffed < 0 && !p.notStuffed })
}

// goesWithout says whether the pattern uses a thing without a word of it.
func (m *materials) goesWithout(k *thing) bool {
	f := m.facts()
	switch k.one {
	case "marker": // a spiral needs one, and what is worked is worked in a spiral unless said
		for _, p := range f.parts {
			if p.piece.Mode == grammar.ModeSpiral || p.piece.Mode == grammar.ModeUnsaid && !p.row || len(p.markers) > 0 {
				return true
			}
		}
	case "thread":
		for _, at := range f.texts {
			if _, ok := m.File.Lines[at].Node.(*grammar.Embroider); ok {
				return true
			}
		}
	}
	return false
}

// isSpoken says whether free words of the pattern, outside the list, name a
// thing by its chief word or by another word for it.
func (m *materials) isSpoken(name string, k *thing) bool {
	if m.spoken == nil {
		m.spoken = map[string]bool{}
		f := m.facts()
		for _, at := range f.texts {
			if t, ok := m.File.Lines[at].Node.(*grammar.Text); ok && t.Label != grammar.LabelNote {
				continue // a caution or a title uses nothing
			}
			for _, w := range f.words(f.said(at)) {
				m.spoken[singular(w)] = true
			}
		}
	}
	for _, w := range wordsOf(name) {
		if (len(w) > 3 || w == lastWord(name)) && m.spoken[singular(w)] && (k == nil || singular(w) == singular(lastWord(k.one))) {
			return true
		}
	}
	if k != nil {
		for _, w := range k.words {
			if m.spoken[singular(lastWord(w))] {
				return true
			}
		}
	}
	return false
}

// counts holds the number of each thing listed against the number placed.
func (m *materials) counts() {
	f := m.facts()
	for i := range things {
		t := &things[i]
		if !t.counted || !m.listed[t] || !m.used[t] {
			continue
		}
		placed, known := m.placed(t)
		first, have, written := -1, int64(0), true
		for j, n := range f.notions {
			if m.chief[j] != t {
				continue
			}
			c := int64(n.node.Count.N)
			if strings.Contains(strings.ToLower(f.said(n.at)), "pair") {
				c *= 2
			}
			have, written = have+c, written && n.node.Count.Written()
			if first < 0 {
				first = j
			}
		}
		if !known || !written || first < 0 || have == placed {
			continue
		}
		n := f.notions[first]
		x := m.Report(n.at, n.node.Count.Span, sayCountDiffers(t, have, placed))
		for _, u := range f.uses {
			if u.thing == t {
				x.Related = append(x.Related, m.related(u.at, u.span, sayPlacedHere(u.count)))
			}
		}
		if new := int64(n.node.Count.N) + placed - have; new > 0 {
			x.Fixes = append(x.Fixes, fix(sayChange(counted(n.node.Count), fmt.Sprint(new)), false, m.edit(n.at, n.node.Count.Span, fmt.Sprint(new))))
		}
	}
}

// placed is how many of a thing the pattern places; false where it does not say.
func (m *materials) placed(t *thing) (n int64, known bool) {
	known = true
	for _, u := range m.facts().uses {
		if u.thing == t {
			n, known = n+u.count, known && u.count > 0 && !m.miscounted(u.part)
		}
	}
	return n, known
}

// miscounted says whether a part is made in another number than is sewn, which
// make-and-sew reports: how many things are placed on it is not known then.
func (m *materials) miscounted(p *part) bool {
	if p == nil {
		return false
	}
	sewn, known := p.sewnTimes(m.facts().hearing, true)
	return known && sewn != p.made()
}

func sayUnlisted(name string) string {
	if plural(name) {
		return name + " are used here and not listed in a Notion line"
	}
	return name + " is used here and not listed in a Notion line"
}

func sayUnusedNotion(name string) string {
	if plural(name) {
		return name + " are listed, and the pattern never uses them"
	}
	return name + " is listed, and the pattern never uses it"
}

// plural says whether a thing's name speaks of several: "safety eyes", but not
// "a brush" or "beeswax".
func plural(name string) bool {
	w := lastWord(name)
	return !strings.HasPrefix(name, "a ") && singular(w) != w
}

func sayCountDiffers(t *thing, have, placed int64) string {
	return fmt.Sprintf("%s listed, %d placed", Number(int(have), t.one+" is", t.name+" are"), placed)
}

func sayPlacedHere(n int64) string { return Number(int(n), "is", "are") + " placed here" }
