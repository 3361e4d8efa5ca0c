package grammar

import (
	"strconv"
	"strings"
)

// label is one entry of the closed list of labels, and how its content is read.
type label struct {
	// name is the canonical spelling; Yarn's key and the numbers of rounds follow it.
	name string
	// others are further spellings, in lower case.
	others []string
	// read parses the content, which is the line's text from a byte offset on.
	read func(c content) (Node, []Fault)
	// takesKey is set for "Yarn A:", takesRange for "Rnds 2-4 (RS):".
	takesKey, takesRange bool
	// makingUp labels belong behind "Assembly:".
	makingUp bool
}

// content is what stands behind a label.
type content struct {
	text string // the whole line
	from int    // where the content starts
	to   int    // where it ends: before a private comment
	head Span   // the label
	key  Name   // of "Yarn A"
	row  bool   // of Row
	in   *store // what the statement is read into; nil for one alone
}

// trimmed is the content as a name: without white space around it.
func (c content) trimmed() Name { return nameOf(c.text, c.from, c.to) }

func nameOf(text string, from, to int) Name {
	for from < to && isSpace(text[from]) {
		from++
	}
	for to > from && isSpace(text[to-1]) {
		to--
	}
	return Name{text[from:to], Span{int32(from), int32(to)}}
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

func (l *Line) parse(in *store) {
	to := len(l.Text)
	if l.Note.Written() {
		to = int(l.Note.Start)
	}
	head, rest, ok := labelOf(l.Text, to)
	if !ok {
		l.parseUnlabelled(to)
		return
	}
	c := content{text: l.Text, from: rest, to: to, head: head, in: in}
	lb, fault := c.find()
	if lb == nil {
		if l.readAction(int(head.Start), to) { // "Fasten off: leave a tail" is an action
			return
		}
		l.Node = Bad{}
		if meant := c.meant(fault.Fix); meant != nil {
			// What it says is there, whatever its label: a round can be counted, a part is made.
			l.Node, l.Faults = meant.read(c)
		}
		l.Faults = append([]Fault{fault}, l.Faults...)
		return
	}
	var faults []Fault
	l.Node, faults = lb.read(c)
	l.Faults = append(l.Faults, faults...)
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}

// labelOf finds "Label:" at the start of a statement: where the label is and
// where the content starts.
func labelOf(text string, to int) (head Span, rest int, ok bool) {
	start := 0
	for start < to && isSpace(text[start]) {
		start++
	}
	i := strings.IndexByte(text[start:to], ':')
	if i < 0 || i > 60 {
		return Span{}, 0, false
	}
	return Span{int32(start), int32(start + i)}, start + i + 1, true
}

// find looks the label up and reads its key or range.
func (c *content) find() (*label, Fault) {
	words := c.head.In(c.text)
	if lb := c.round(words); lb != nil {
		return lb, Fault{}
	}
	folded := strings.ToLower(strings.Join(strings.Fields(words), " "))
	if lb := labelIndex()[folded]; lb != nil && !lb.takesRange {
		return lb, Fault{}
	}
	if first, _, more := strings.Cut(folded, " "); more {
		if lb := labelIndex()[first]; lb != nil && lb.takesKey {
			c.readKey(words)
			return lb, Fault{}
		}
	}
	return nil, c.unknownLabel(words)
}

// readKey reads the key behind the first word of a label.
func (c *content) readKey(words string) {
	if keys := strings.Fields(words)[1:]; len(keys) > 0 {
		at := int(c.head.Start) + strings.LastIndex(words, keys[0])
		c.key = Name{keys[0], Span{int32(at), int32(at + len(keys[0]))}}
	}
}

// meant is the label that a mistyped one was meant for, by what would mend it.
func (c *content) meant(fix string) *label {
	if lb := labelIndex()[strings.ToLower(fix)]; lb != nil {
		return lb
	}
	lb := labelIndex()[strings.ToLower(firstWord(fix))]
	switch {
	case lb == nil:
	case lb.takesRange:
		c.row = strings.HasPrefix(lb.name, "Row")
		return lb
	case lb.takesKey:
		c.readKey(c.head.In(c.text))
		return lb
	}
	return nil
}

// round reads "Rnd 3", "Rnds 6-9 (RS)", "R3": the commonest labels, by hand.
func (c *content) round(words string) *label {
	var fold [6]byte // the longest of them is "rounds"
	i := 0
	for ; i < len(words) && isLetter(words[i]); i++ {
		if i == len(fold) {
			return nil
		}
		fold[i] = words[i] | 0x20
	}
	lb := labelIndex()[string(fold[:i])]
	if i == 0 || lb == nil || !lb.takesRange {
		return nil
	}
	c.row = strings.EqualFold(words[:min(3, i)], "row")
	return lb
}

// unknownLabel says which label may have been meant.
func (c *content) unknownLabel(words string) Fault {
	trimmed := strings.TrimSpace(words)
	f := Fault{Span: c.head}
	name, number := trimmed, ""
	if i := strings.IndexAny(trimmed, "0123456789"); i > 0 {
		name, number = strings.TrimSpace(trimmed[:i]), trimmed[i:]
	} else if w, k, ok := strings.Cut(trimmed, " "); ok {
		name, number = w, k
	}
	best, ok := nearestLabel(strings.ToLower(name), number != "")
	if !ok && number != "" {
		best, ok = nearestLabel(strings.ToLower(trimmed), false)
		number = ""
	}
	if !ok {
		f.Message = strconv.Quote(trimmed+":") + " is no label of the notation; a line begins with a label such as Rnd 1:, Piece:, Yarn A: or Sew:, or with an action such as Fasten off or Stuff"
		return f
	}
	meant := best
	if number != "" {
		meant += " " + number
	}
	f.Message = strconv.Quote(trimmed+":") + " is no label of the notation; was " + strconv.Quote(meant+":") + " meant?"
	f.Fix, f.FixTitle = meant, "write "+strconv.Quote(meant+":")
	return f
}
