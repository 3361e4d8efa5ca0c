package lsp

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// actionLines are what an action line may say, the commonest first; one that
// ends in a blank wants more.
var actionLines = []string{
	"Fasten off.", "Fasten off, leaving a 30 cm tail for sewing.", "Stuff firmly.", "Stuff lightly.", "Do not stuff.", "Change to ", "Close with the tail.",
	"Turn.", "Join ", "Insert ", "Place marker in the last st.", "Move marker up at the end of every round.", "Do not fasten off.", "Cut the yarn.", "Brush ",
}

// endingLines are those of the making up.
var endingLines = []string{"Weave in all ends.", "Block to size.", "Brush "}

// lineStart proposes what a line can begin with, where it stands: the header's
// labels, the next round and likely ones worked out, or the making up.
func (c *completing) lineStart() {
	if c.restOfAction() {
		return
	}
	piece, last := c.below()
	switch {
	case c.inMakingUp():
		c.labels("Sew", "Place", "Embroider", "Attach", "Note")
		c.actions(endingLines)
		c.labels("Piece")
	case piece == nil:
		c.header()
	case last == nil:
		c.labels(c.notYet(piece, "Worked", "With")...)
		c.nextRound(piece, last)
		c.labels("Note", "Stitch")
	case c.closed(piece):
		c.labels("Piece", "Assembly")
		c.nextRound(piece, last)
		c.actions(actionLines)
		c.labels("Note")
	default:
		c.nextRound(piece, last)
		c.actions(actionLines)
		c.labels("Piece", "Assembly", "Note", "Stitch")
	}
}

// restOfAction proposes what follows the verb of an action line, and says
// whether there was one.
func (c *completing) restOfAction() bool {
	verb, rest, more := strings.Cut(c.before, " ")
	if !more {
		return false
	}
	switch strings.ToLower(verb) {
	case "change":
		if ends(rest, "to ") {
			c.yarns()
			return true
		}
	case "join":
		c.yarns()
		return true
	case "insert":
		c.placing(rest)
		return true
	}
	return false
}

func (c *completing) actions(lines []string) {
	for _, line := range lines {
		c.add(protocol.CompletionItemKindEvent, c.before, line, "")
	}
}

// labelSnippets are labels with what stands behind them, for clients that let
// one type into the gaps.
var labelSnippets = map[string]string{
	"Pattern": "Pattern: ${1:name}",
	"Size":    "Size: ${1:9} cm ${2:tall}",
	"Gauge":   "Gauge: ${1:24} sts x ${2:26} rnds = 10 cm in ${3:%s}",
	"Yarn":    "Yarn %s: ${1:name}, ${2:light (3)}, ${3:50} g / ${4:125} m",
	"Stitch":  "Stitch: ${1:bob} (${2:bobble}) = ${3:5 %s together in one st}",
	"Piece":   "Piece: ${1:name} (make ${2:1})",
}

// labels proposes labels by their canonical names.
func (c *completing) labels(names ...string) {
	sys := c.system()
	for _, name := range names {
		label := name + ": "
		switch name {
		case "Yarn":
			label = "Yarn " + nextYarn(c.Pattern()) + ": "
		case "Assembly":
			label = "Assembly:"
		}
		says, _, _ := strings.Cut(labelHelps[name].says, ". ")
		item := c.add(protocol.CompletionItemKindKeyword, c.before, label, strings.TrimSuffix(spelled(sys, says), "."))
		c.told(item, proposalData{Label: name})
		snippet := labelSnippets[name]
		if !c.snippets || snippet == "" || strings.TrimSpace(c.rest) != "" {
			continue
		}
		switch name {
		case "Gauge":
			snippet = fmt.Sprintf(snippet, terms.ByID("sc").Abbr(sys))
		case "Stitch":
			snippet = fmt.Sprintf(snippet, terms.ByID("dc").Abbr(sys))
		case "Yarn":
			snippet = fmt.Sprintf(snippet, nextYarn(c.Pattern()))
		}
		writes(item, snippet)
		item.InsertTextFormat = protocol.InsertTextFormatSnippet
	}
}

// headerLabels are the header's, in the order in which patterns give them; those
// that stand once are left out once they are given.
var headerLabels = []struct {
	name string
	once bool
}{
	{"Pattern", true}, {"Designer", true}, {"Version", true}, {"Terms", true}, {"Skill", true}, {"Size", true}, {"Gauge", false}, {"Hook", true},
	{"Turning chain", true}, {"Yarn", false}, {"Notion", false}, {"Stitch", false}, {"Abbreviation", false}, {"Caution", false}, {"Note", false}, {"Piece", false},
}

// header proposes the labels that stand before the first piece: what is still
// missing first, then what may stand several times.
func (c *completing) header() {
	given := map[string]bool{}
	for i, l := range c.File.Lines {
		if i != c.at {
			given[labelOf(l.Node)] = true
		}
		if i > c.at {
			break
		}
	}
	var missing, more []string
	for _, l := range headerLabels {
		switch {
		case !given[l.name] && l.name != "Piece":
			missing = append(missing, l.name)
		case !l.once:
			more = append(more, l.name)
		}
	}
	if given["Yarn"] && given["Hook"] { // the materials are there: a part may come next
		c.labels("Yarn", "Notion", "Piece")
		more = slices.DeleteFunc(more, func(l string) bool { return l == "Yarn" || l == "Notion" || l == "Piece" })
		missing = slices.DeleteFunc(missing, func(l string) bool { return l == "Notion" })
	}
	c.labels(append(missing, more...)...)
	if !slices.ContainsFunc(c.items, func(i protocol.CompletionItem) bool { return i.Label == "Assembly:" }) {
		c.labels("Assembly")
	}
}

// notYet are those of some labels that a piece does not have.
func (c *completing) notYet(piece *fabric.Piece, names ...string) []string {
	for i, l := range piece.Lines {
		if piece.At+i != c.at {
			names = slices.DeleteFunc(names, func(n string) bool { return n == labelOf(l.Node) })
		}
	}
	return names
}

// inMakingUp says whether the cursor is behind the Assembly line.
func (c *completing) inMakingUp() bool {
	for i := min(c.at, len(c.File.Lines)) - 1; i >= 0; i-- {
		switch c.File.Lines[i].Node.(type) {
		case grammar.Assembly:
			return true
		case *grammar.Piece, *grammar.Round:
			return false
		}
	}
	return false
}

// closed says whether a piece was fastened off last before the cursor.
func (c *completing) closed(piece *fabric.Piece) bool {
	for i := min(c.at, len(c.File.Lines)) - 1; i > piece.At; i-- {
		switch n := c.File.Lines[i].Node.(type) {
		case *grammar.Round:
			return false
		case *grammar.Action:
			if n.Verb == grammar.VerbFastenOff || n.Verb == grammar.VerbClose {
				return true
			}
		}
	}
	return false
}

// nextRound proposes the number of the next round, likely rounds in full, and
// the label of several.
func (c *completing) nextRound(piece *fabric.Piece, last *fabric.Round) {
	row, n := nextIsRow(piece, last), nextNumber(last)
	name := fabric.RoundName(row, n)
	item := c.add(protocol.CompletionItemKindKeyword, c.before, name+": ", "the next one")
	item.Preselect = protocol.NewOptional(true)
	for _, r := range c.likely(piece, last) {
		c.likelyItem(r, c.before, name+": "+r.words)
	}
	if last == nil {
		return
	}
	several := "Rnds"
	if row {
		several = "Rows"
	}
	c.add(protocol.CompletionItemKindKeyword, c.before, several+" "+strconv.FormatInt(n, 10)+"-"+strconv.FormatInt(n+1, 10)+": ", "several alike")
	other := "back and forth, from here on"
	if row {
		other = "all around, from here on"
	}
	c.add(protocol.CompletionItemKindKeyword, c.before, fabric.RoundName(!row, n)+": ", other)
}

// likelyItem proposes a round that was worked out, and tells of its arithmetic.
func (c *completing) likelyItem(r likelyRound, typed, label string) {
	item := c.add(protocol.CompletionItemKindValue, typed, label, r.what)
	c.told(item, proposalData{Line: r.line, Start: c.start, End: c.cursor + len(c.rest)})
}

// nextYarn is the first letter that no yarn has.
func nextYarn(p *fabric.Pattern) string {
	for letter := 'A'; letter <= 'Z'; letter++ {
		taken := false
		for _, y := range p.Header.Yarns {
			taken = taken || y.Key.Text == string(letter)
		}
		if !taken {
			return string(letter)
		}
	}
	return "A"
}
