package grammar

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

type makeLine struct {
	Make *number `parser:"( \"make\" | \"work\" | \"x\" )? @@ \"x\"?"`
	Once bool    `parser:"| \"make\"? @TimesWord"`
}

var makeParser = parser[makeLine]()

// readPiece reads "Shell (make 2)". The name is as written: it may hold words
// of the notation.
func readPiece(c content) (Node, []Fault) {
	whole := c.trimmed()
	n := &Piece{Name: whole, Make: Count{N: 1}}
	if !whole.Written() {
		return n, []Fault{c.unexpected(c.to, "Shell (make 1)")}
	}
	i := strings.LastIndexByte(whole.Text, '(')
	if !strings.HasSuffix(whole.Text, ")") {
		if i < 0 || strings.IndexByte(whole.Text[i:], ')') >= 0 || !strings.HasPrefix(strings.ToLower(strings.TrimSpace(whole.Text[i+1:])), "make") {
			return n, nil
		}
		n.Name = nameOf(c.text, int(whole.Start), int(whole.Start)+i)
		g := c
		g.from, g.to = int(whole.Start)+i+1, int(whole.End)
		if inner, _ := readWith(makeParser, g, ""); inner.Make != nil {
			n.Make = g.count(inner.Make)
		}
		open := whole.Start + int32(i)
		return n, []Fault{{Span: Span{open, whole.End}, Message: "this bracket is not closed", Fix: c.text[open:whole.End] + ")", FixTitle: "close the bracket"}}
	}
	if i < 0 {
		return n, nil
	}
	at := int(whole.Start) + i
	if digits, ok := strings.CutPrefix(whole.Text[i:len(whole.Text)-1], "(make "); ok && len(digits) < 6 && allDigits(digits) && digits != "" && wordNumber(digits) > 0 {
		// the commonest wording by far, and pieces may be many
		end := whole.End - 1
		n.Name, n.Make = nameOf(c.text, int(whole.Start), at), Count{wordNumber(digits), Span{end - int32(len(digits)), end}}
		return n, nil
	}
	g := c
	g.from, g.to = at+1, int(whole.End)-1
	inner, faults := readWith(makeParser, g, "Shell (make 1)")
	if len(faults) > 0 && !strings.HasPrefix(strings.ToLower(strings.TrimSpace(c.text[g.from:g.to])), "make") {
		return n, nil // "Leg (left)" is a name
	}
	n.Name = nameOf(c.text, int(whole.Start), at)
	switch {
	case inner.Make != nil:
		n.Make = g.count(inner.Make)
	case inner.Once:
		word := g.trimmed()
		word = nameOf(c.text, int(word.End)-len(word.Text)+strings.LastIndexByte(word.Text, ' ')+1, int(word.End))
		n.Make = Count{timesWords[strings.ToLower(word.Text)], word.Span}
	}
	if n.Make.N == 0 {
		n.Make.N = 1
		faults = append(faults, Fault{Span: Span{int32(g.from), int32(g.to)}, Message: "a part is made once at least"})
	}
	return n, faults
}

type workedLine struct {
	Spiral bool `parser:"\"work\"? \"in\"? ( @( \"spiral\" | \"spirals\" | \"continuous\" \"rnd\" | \"continuous\" \"spiral\" )"`
	Joined bool `parser:"| @( \"joined\" \"rnd\" | \"closed\" \"rnd\" )"`
	Rows   bool `parser:"| @( \"row\" | \"turned\" \"row\" | \"flat\" | \"back\" \"and\" \"forth\" ) ) Stop?"`
}

var workedParser = parser[workedLine]()

// usualModes are the commonest wordings.
var usualModes = map[string]Mode{"in a spiral": ModeSpiral, "in joined rounds": ModeJoined, "in rows": ModeRows}

func readWorked(c content) (Node, []Fault) {
	if value := c.trimmed(); usualModes[value.Text] != ModeUnsaid {
		return &Worked{Mode: usualModes[value.Text], Value: value}, nil
	}
	g, faults := readWith(workedParser, c, "in a spiral")
	n := &Worked{Value: c.trimmed()}
	switch {
	case len(faults) > 0:
		faults[0].Message = "a part is worked in a spiral, in joined rounds or in rows; say which"
	case g.Spiral:
		n.Mode = ModeSpiral
	case g.Joined:
		n.Mode = ModeJoined
	case g.Rows:
		n.Mode = ModeRows
	}
	return n, faults
}

type withLine struct {
	Items []withItem `parser:"@@ ( ( Comma | \"and\" | Semicolon )+ @@ )* Stop?"`
}

type withItem struct {
	Hook *hookLine `parser:"( \"hook\" @@"`
	Size *measure  `parser:"| @@ \"hook\""`
	Yarn *yarnKey  `parser:"| \"yarn\"? @@ )"`
}

type yarnKey struct {
	Pos    lexer.Position
	Key    string `parser:"@( Word | Term | Keyword )"`
	EndPos lexer.Position
}

var withParser = parser[withLine]()

// oneWord is a content of one word that means nothing else: "With: B", which
// stands in every part and is soon read.
func (c content) oneWord() (Name, bool) {
	var room [4]Token
	if n := c.trimmed(); n.Text == "a" { // no article where nothing follows it
		return n, true
	}
	toks := lexed(room[:0], c.text[:c.to], c.from)
	if toks[0].Kind != Word || toks[1].Kind != EOF {
		return Name{}, false
	}
	return Name{toks[0].In(c.text), toks[0].Span}, true
}

func readWithLine(c content) (Node, []Fault) {
	if y, ok := c.oneWord(); ok {
		return &With{Yarns: []Name{y}}, nil
	}
	g, faults := readWith(withParser, c, "A, hook 3.5 mm")
	n := &With{}
	for i := range g.Items {
		item := &g.Items[i]
		switch {
		case item.Hook != nil:
			n.Hook = c.hook(item.Hook)
		case item.Size != nil:
			n.Hook = &Hook{Size: c.length(item.Size), Span: c.between(item.Size.Pos, item.Size.EndPos).Span}
		case item.Yarn != nil:
			n.Yarns = append(n.Yarns, c.between(item.Yarn.Pos, item.Yarn.EndPos))
		}
	}
	return n, faults
}
