package grammar

import (
	"strconv"
	"strings"

	"workeven/grammar/terms"
)

// verbs are how action lines begin, the longer before the shorter.
var verbs = []struct {
	name string
	verb Verb
}{
	{"do not fasten off", VerbDoNotFastenOff}, {"don't fasten off", VerbDoNotFastenOff}, {"do not stuff", VerbDoNotStuff}, {"don't stuff", VerbDoNotStuff},
	{"fasten off", VerbFastenOff}, {"stuff", VerbStuff}, {"change to", VerbChangeTo}, {"join", VerbJoin}, {"turn", VerbTurn}, {"close", VerbClose},
	{"leave", VerbLeave}, {"weave in", VerbWeaveIn}, {"cut", VerbCut}, {"brush", VerbBrush}, {"block", VerbBlock}, {"place marker", VerbPlaceMarker},
	{"move", VerbMove}, {"continue", VerbContinue}, {"insert", VerbInsert},
}

// verbOf finds the verb that a line begins with, and how long it is.
func verbOf(text string) (Verb, int, bool) {
	low := strings.ToLower(text)
	for _, v := range verbs {
		n, ok := phraseLength(low, v.name)
		if ok {
			return v.verb, n, true
		}
	}
	return 0, 0, false
}

// phraseLength says how many bytes of a text a phrase covers, whatever blanks
// stand between its words; false where the text does not begin with it.
func phraseLength(text, phrase string) (int, bool) {
	at := 0
	for i, word := range strings.Fields(phrase) {
		if i > 0 {
			n := at
			for at < len(text) && isSpace(text[at]) {
				at++
			}
			if at == n {
				return 0, false
			}
		}
		rest := strings.ReplaceAll(text[at:], "’", "'")
		if !strings.HasPrefix(rest, word) {
			return 0, false
		}
		at += len(word) + strings.Count(text[at:min(len(text), at+len(word)+2)], "’")*2
	}
	if at < len(text) && (isLetter(text[at]) || isDigit(text[at])) {
		return 0, false
	}
	return at, true
}

type insertLine struct {
	Count *number    `parser:"@@? \"x\"?"`
	Thing *nameWords `parser:"@@"`
	On    *nameWords `parser:"( ( \"on\" | \"in\" | \"into\" ) (?! \"line\" | \"rnd\" | \"row\" ) @@ )?"`
	Where whereList  `parser:"@@?"`
}

var insertParser = parser[insertLine]()

// readAction reads a line that begins with a verb.
func (l *Line) readAction(start, to int) bool {
	verb, n, ok := verbOf(l.Text[start:to])
	if !ok {
		return false
	}
	c := content{text: l.Text, from: start + n, to: to, head: Span{int32(start), int32(start + n)}}
	a := &Action{Verb: verb, Rest: nameOf(l.Text, c.from, to)}
	for _, sign := range []string{",", ".", ":", " "} {
		if cut := strings.TrimPrefix(a.Rest.Text, sign); cut != a.Rest.Text {
			a.Rest = nameOf(l.Text, int(a.Rest.Start)+1, int(a.Rest.End))
		}
	}
	switch verb {
	case VerbChangeTo, VerbJoin:
		if toks := lexed(nil, l.Text[:to], c.from); len(toks) > 0 {
			i := 0
			for toks[i].is(KeyYarn) {
				i++
			}
			if toks[i].Kind == Word {
				a.Yarn = Name{toks[i].In(l.Text), toks[i].Span}
			}
		}
	case VerbInsert:
		g, faults := readWith(insertParser, c, "")
		if len(faults) == 0 {
			a.Count, a.Thing, a.Where = c.countOr(g.Count, 1), c.name(g.Thing), c.wheres(&g.Where)
		} else {
			a.Count, a.Thing = Count{N: 1}, a.Rest
			if toks := lexed(nil, l.Text[:to], int(a.Rest.Start)); toks[0].Kind == Number {
				a.Count, a.Thing = Count{toks[0].Value, toks[0].Span}, nameOf(l.Text, int(toks[0].End), to)
			}
		}
	}
	l.Node = a
	return true
}

// parseUnlabelled reads a line without a label: an action, or something that a
// line may not begin with.
func (l *Line) parseUnlabelled(to int) {
	start := 0
	for start < to && isSpace(l.Text[start]) {
		start++
	}
	if l.readAction(start, to) {
		return
	}
	whole := nameOf(l.Text, start, to)
	l.Node = Bad{}
	if strings.EqualFold(strings.TrimRight(whole.Text, ". "), "assembly") {
		l.Node = Assembly{}
		return
	}
	fault := l.badBeginning(whole)
	if strings.HasSuffix(fault.Fix, ":") { // a round without its colon can still be counted
		c := content{text: l.Text, from: int(fault.End), to: to, head: fault.Span}
		c.row = strings.EqualFold(fault.In(l.Text)[:min(3, len(fault.Fix))], "row")
		l.Node, l.Faults = readRound(c)
	}
	l.Faults = append([]Fault{fault}, l.Faults...)
}

const mayBegin = "a line begins with a label such as Rnd 1:, Piece:, Yarn A: or Sew:, or with an action such as Fasten off or Stuff"

// badBeginning says what a line may begin with, and what may have been meant.
func (l *Line) badBeginning(whole Name) Fault {
	first := whole.Text
	if i := strings.IndexAny(first, " \t\n"); i > 0 {
		first = first[:i]
	}
	first = strings.TrimRight(first, ".,;")
	span := Span{whole.Start, whole.Start + int32(len(first))}
	toks := lexed(nil, l.Text[:whole.End], int(whole.Start))
	if (toks[0].is(KeyRnd) || toks[0].is(KeyRow) || strings.EqualFold(first, "r")) && toks[1].Kind == Number {
		end := toks[1].End
		for i := 2; toks[i].Kind == Dash && toks[i+1].Kind == Number; i += 2 {
			end = toks[i+1].End
		}
		label := Span{whole.Start, end}
		return Fault{Span: label, Message: "a colon is missing after " + strconv.Quote(label.In(l.Text)), Fix: label.In(l.Text) + ":", FixTitle: "add a colon"}
	}
	low := strings.ToLower(first)
	for _, v := range verbs {
		word, _, _ := strings.Cut(v.name, " ")
		if _, ok := terms.Among(low, []string{word}); ok {
			fix := strings.ToUpper(word[:1]) + word[1:]
			return Fault{Span: span, Message: "a line cannot begin with " + strconv.Quote(first) + "; was " + strconv.Quote(fix) + " meant?", Fix: fix, FixTitle: "write " + strconv.Quote(fix)}
		}
	}
	return Fault{Span: span, Message: "a line cannot begin with " + strconv.Quote(first) + ": " + mayBegin}
}
