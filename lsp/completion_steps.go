package lsp

import (
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar/terms"
)

// steps proposes what can stand in a round: a whole one where nothing does yet,
// and else what finishes it.
func (c *completing) steps(content string) {
	piece, last := c.below()
	switch {
	case strings.TrimSpace(strings.TrimSuffix(content, c.word)) == "":
		if piece != nil {
			for _, r := range c.likely(piece, last) {
				c.likelyItem(r, strings.TrimLeft(content, " "), r.words)
			}
		}
	case strings.TrimSpace(c.rest) == "":
		c.finishes(piece, last)
	}
	c.inSteps(content)
}

// finish is a way to end the round that is being typed.
type finish struct {
	// typed is what of the line it takes the place of, words what it puts there.
	typed, words string
}

// finishes proposes what ends the round: how often its bracket or star is worked,
// the stitches that are left, its total. Each was worked out.
func (c *completing) finishes(piece *fabric.Piece, last *fabric.Round) {
	colon := strings.IndexByte(c.before, ':')
	if piece == nil || last == nil || c.at >= len(c.File.Lines) {
		return
	}
	_, tail := framing(piece, last)
	if tail != "" && strings.Contains(c.before[colon:], strings.TrimLeft(tail, ", ")) {
		tail = "" // it stands there already
	}
	for _, f := range c.finish(colon, tail) {
		head := strings.TrimSuffix(c.before, f.typed)
		p, _, r := c.with(c.start, c.cursor+len(c.rest), head+f.words)
		if r == nil || !comesOut(r) || r.In == nil || r.In.Unknown {
			continue
		}
		words := f.words + " (" + r.RightTotal() + ")"
		if strings.HasSuffix(head, " ") {
			words = strings.TrimLeft(words, " ")
		}
		if !states(p, head+words, r.Makes) {
			continue
		}
		label := strings.TrimLeft(words, " ,;")
		what := "works all " + number(r.In.Stitches())
		if strings.Trim(f.words, " ") == "" {
			what = "the total"
		}
		item := c.add(protocol.CompletionItemKindValue, f.typed, label, what)
		writes(item, words)
		foundBy(item, strings.TrimLeft(words, " "))
		c.told(item, proposalData{Line: head + words, Start: c.start, End: c.cursor + len(c.rest)})
	}
}

// finish are texts that may end the round, tried by finishes.
func (c *completing) finish(colon int, tail string) []finish {
	steps := c.before[colon+1:]
	trimmed := strings.TrimRight(steps, " ,;.")
	gap := ""
	if trimmed == steps {
		gap = " "
	}
	if at := totalBegun(steps); at > 0 && strings.TrimSpace(steps[:at]) != "" {
		return []finish{{typed: steps[at:], words: ""}}
	}
	var out []finish
	if !openBracket(trimmed) && trimmed != "" { // all may be worked, and only its end be missing
		behind := steps[len(trimmed):]
		out = append(out, finish{typed: behind, words: tail})
	}
	below := c.edgeBelow()
	if below < 0 {
		return out
	}
	bracket := strings.LastIndexAny(steps, ")]}")
	switch star := strings.LastIndexByte(steps, '*'); {
	case star >= 0 && !strings.Contains(steps[star:], "rep") && bracket < star:
		out = append(out, finish{typed: steps[len(trimmed):], words: "; rep from * around" + tail})
	case bracket >= 0 && onlyTimes(steps[bracket+1:]):
		if n := c.timesLeft(colon, bracket, below); n > 0 {
			typed := strings.TrimLeft(steps[bracket+1:], " ")
			if steps[bracket+1:] != "" {
				gap = ""
			}
			out = append(out, finish{typed: typed, words: fmt.Sprintf("%sx %d%s", gap, n, tail)})
		}
	case openBracket(trimmed):
	case strings.HasSuffix(strings.TrimRight(steps, " "), ","):
		done, _ := c.countable(c.at, colon+1, len(c.before))
		if done != nil && below > done.Takes {
			behind := steps[len(strings.TrimRight(steps, " ")):]
			lead := " "
			if behind != "" {
				lead = behind
			}
			piece, _ := c.below()
			out = append(out, finish{typed: behind, words: lead + several(mainStitch(c.Pattern(), piece), below-done.Takes) + tail})
		}
	}
	return out
}

// edgeBelow is how many stitches the round in hand is worked into, -1 where that
// is not known.
func (c *completing) edgeBelow() int64 {
	_, r := c.Pattern().RoundAt(c.at)
	if r == nil {
		return -1
	}
	if n, ok := had(r); ok {
		return n
	}
	return -1
}

// timesLeft is how often the bracket that ends at a byte of the steps can be
// worked over what is left; 0 where it does not come out.
func (c *completing) timesLeft(colon, bracket int, below int64) int64 {
	steps := c.before[colon+1:]
	open := bracketOf(steps, bracket)
	if open < 0 {
		return 0
	}
	before := int64(0)
	if strings.TrimSpace(steps[:open]) != "" {
		done, stop := c.countable(c.at, colon+1, colon+1+open)
		if done == nil || strings.Trim(c.before[stop:colon+1+open], " ,;") != "" {
			return 0
		}
		before = done.Takes
	}
	// A bracket that is still open counts as worked once.
	once, _ := c.countable(c.at, colon+1, colon+1+bracket)
	if once == nil || once.Takes <= before || (below-before)%(once.Takes-before) != 0 {
		return 0
	}
	return (below - before) / (once.Takes - before)
}

// bracketOf is the bracket that one at a byte closes, or -1.
func bracketOf(steps string, at int) int {
	depth := 0
	for i := at; i >= 0; i-- {
		switch steps[i] {
		case ')', ']', '}':
			depth++
		case '(', '[', '{':
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return -1
}

func openBracket(steps string) bool {
	return strings.Count(steps, "(")+strings.Count(steps, "[") > strings.Count(steps, ")")+strings.Count(steps, "]")
}

// onlyTimes says whether what stands behind a bracket is at most the beginning
// of how often it is worked.
func onlyTimes(text string) bool {
	text = strings.TrimSpace(text)
	return text == "" || text == "x"
}

// inSteps proposes the words that can come next among steps.
func (c *completing) inSteps(content string) {
	keyword := protocol.CompletionItemKindKeyword
	switch {
	case ends(content, "with ", "change to ", "join with ", "using "):
		if ends(content, "join with ") {
			c.words(keyword, "sl st to first st")
		}
		c.yarns()
		return
	case ends(content, "loops of "):
		c.freeLoops()
		return
	case ends(content, "sts of ", "st of ", "rem sts of "):
		c.pieces()
		return
	case ends(content, "around ", "join "):
		c.pieces()
		c.yarns()
		return
	case ends(content, "rep ", "as "):
		c.earlier()
		return
	case ends(content, "in next ", "of next ", "in first ", "in last ", "in same ", "in each "):
		c.ontoWhat(content)
		return
	case ends(content, "in "):
		c.intoWhat()
		return
	case ends(content, "x "): // how often, which finishes says
		return
	case c.word != "" && strings.Trim(c.word, "0123456789") == "": // a number is for the designer to say
		return
	}
	c.stitches()
	c.words(keyword, "around", "across", "BLO", "FLO", "sk", "turn", "join", "work even", "in next st", "in each st around", "rep from * around", "with ", "change to ", "leave remaining sts unworked", "working along other side of ch")
}

// freeLoops proposes the rounds of the piece that a round left loops of.
func (c *completing) freeLoops() {
	piece, last := c.below()
	if piece == nil || last == nil {
		return
	}
	for i := len(piece.Rounds) - 1; i > 0; i-- {
		if r := piece.Rounds[i]; r.Off <= last.Off && strings.Contains(r.Line.Text, "LO") { // BLO, FLO: it leaves the other loop below
			below := piece.Rounds[i-1]
			c.words(protocol.CompletionItemKindReference, fabric.RoundName(below.Node.Row, int64(below.Node.To.N)))
		}
	}
}

// earlier proposes the rounds that may be repeated, the last ones first.
func (c *completing) earlier() {
	piece, last := c.below()
	if piece == nil || last == nil {
		return
	}
	shown := 0
	for i := len(piece.Rounds) - 1; i >= 0 && shown < 6; i-- {
		r := piece.Rounds[i]
		if r.Off > last.Off || r.Start {
			continue
		}
		shown++
		c.add(protocol.CompletionItemKindReference, c.word, fabric.RoundName(r.Node.Row, int64(r.Node.To.N)), oneLine(strings.TrimLeft(r.Line.Text[r.Node.Label.End:saidEnd(r.Line)], ": ")))
	}
}

// intoWhat proposes what a stitch can go into here: a ring or chain at the
// beginning of a piece, stitches and the spaces that there are later.
func (c *completing) intoWhat() {
	keyword := protocol.CompletionItemKindKeyword
	piece, last := c.below()
	if piece != nil && last == nil {
		c.words(keyword, "magic ring", "2nd ch from hook", "each ch across", "next 5 ch", "last ch", "ring")
		return
	}
	c.words(keyword, "next st", "each st around", "each of next 3 sts", "same st", "first st", "last st", "each st across")
	if last != nil && last.Meant != nil {
		for _, i := range last.Meant.Items {
			if i.Kind == fabric.Space {
				name := "next " + fabric.SpaceName(i.Chains)
				if !slices.ContainsFunc(c.items, func(x protocol.CompletionItem) bool { return x.Label == name }) {
					c.words(keyword, name, "each "+fabric.SpaceName(i.Chains)+" around")
				}
			}
		}
		if last.Node.Row || last.Stands.Counted {
			c.words(keyword, "top of turning ch")
		}
	}
	c.words(keyword, "BLO of next st", "FLO of next st")
	if piece == nil { // in a definition
		c.words(keyword, "one st", "magic ring")
	}
	if c.system() == terms.UK || last != nil {
		c.words(keyword, "free loops of ")
	}
}

// ontoWhat proposes what can be next, first or each: stitches, the spaces that
// there are, and the stitches of the edge by name.
func (c *completing) ontoWhat(content string) {
	keyword := protocol.CompletionItemKindKeyword
	_, last := c.below()
	if last == nil || last.Meant == nil {
		c.words(keyword, "ch", "st")
		return
	}
	how := " around"
	if last.Node.Row {
		how = " across"
	}
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	add("st")
	for _, i := range last.Meant.Items {
		if i.Kind == fabric.Space {
			add(fabric.SpaceName(i.Chains))
		}
	}
	for _, i := range last.Meant.Items {
		if i.Kind == fabric.Stitches && i.Stitch != nil {
			add(i.Stitch.Name)
		}
	}
	each := ends(content, "in each ")
	for _, name := range names {
		if each {
			name += how
		}
		c.words(keyword, name)
	}
	switch {
	case each:
		c.words(keyword, "of next 3 sts")
	case ends(content, "in next ", "of next "):
		c.words(keyword, "2 sts", "3 sts")
	}
}

// stitches proposes the stitches of the pattern's terms: its own and those that
// the piece is worked in first.
func (c *completing) stitches() {
	p := c.Pattern()
	for _, own := range p.Own {
		detail := own.Node.Full.Text
		if own.Stitch != nil {
			detail = strings.TrimPrefix(detail+" · "+takesMakes(own.Stitch.Takes, own.Stitch.Makes), " · ")
		}
		if own.At != c.at {
			c.add(protocol.CompletionItemKindFunction, c.word, own.Node.Abbr.Text, detail)
		}
	}
	used := c.usedHere()
	for _, id := range used {
		c.stitch(terms.ByID(id))
	}
	for _, s := range terms.Stitches() {
		if !slices.Contains(used, s.ID) {
			c.stitch(s)
		}
	}
}

func (c *completing) stitch(s *terms.Stitch) {
	name := s.In(c.system())
	if name.Abbr == "" {
		return
	}
	item := c.add(protocol.CompletionItemKindFunction, c.word, name.Abbr, name.Full+" · "+takesMakes(int64(s.Takes), int64(s.Makes)))
	c.told(item, proposalData{Stitch: s.ID})
}

// usedHere are the IDs of the stitches that the piece is worked in, and of
// those that most patterns are worked with.
func (c *completing) usedHere() []string {
	piece, _ := c.below()
	if piece == nil || piece.Main == nil || piece.Main.Of == nil {
		return []string{"sc", "inc", "dec", "ch", "sl st"}
	}
	used := []string{piece.Main.Of.ID}
	meet := func(id string) {
		if !slices.Contains(used, id) {
			used = append(used, id)
		}
	}
	meet("inc")
	meet("dec")
	for _, r := range piece.Rounds[max(0, len(piece.Rounds)-20):] {
		for _, list := range [][]fabric.StitchCount{r.Stitches, r.Groups} {
			for _, s := range list {
				if s.Stitch.Of != nil {
					meet(s.Stitch.Of.ID)
				}
			}
		}
	}
	meet("ch")
	meet("sl st")
	return used
}

func takesMakes(takes, makes int64) string {
	return fmt.Sprintf("takes %d, makes %d", takes, makes)
}
