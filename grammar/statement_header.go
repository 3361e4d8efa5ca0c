package grammar

import (
	"strconv"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"workeven/grammar/terms"
)

type termsLine struct {
	System string `parser:"@( \"US\" | \"UK\" | \"American\" | \"British\" | \"USA\" | \"GB\" ) ( \"terms\" | \"English\" )?"`
}

var termsParser = parser[termsLine]()

func readTerms(c content) (Node, []Fault) {
	g, faults := readWith(termsParser, c, "US")
	n := &Terms{Value: c.trimmed()}
	switch strings.ToLower(g.System) {
	case "uk", "british", "gb":
		n.System = terms.UK
	}
	return n, faults
}

func readSkill(c content) (Node, []Fault) { return &Skill{Level: c.trimmed()}, nil }

type gaugeLine struct {
	Sts    *number    `parser:"( @@"`
	Named  *plainTerm `parser:"  ( \"st\" | @@ )"`
	Rnds   *number    `parser:"  ( ( \"x\" | \"and\" | Comma | \"by\" ) @@ ( \"rnd\" | \"row\" ) )?"`
	Lone   *number    `parser:"| @@ ( \"rnd\" | \"row\" ) )"`
	Over   *measure   `parser:"( Equals | \"over\" | \"to\" | \"in\" | \"per\" ) ( @@"`
	Square *decimal   `parser:"| @@ )"`
	Down   *measure   `parser:"( \"x\" @@ )? \"square\"?"`
	In     *plainTerm `parser:"( \"in\" @@ )?"`
	Uses   *measure   `parser:"( Comma? \"uses\" @@ )? Stop?"`
}

// plainTerm is a stitch as written.
type plainTerm struct {
	Pos    lexer.Position
	Words  []string `parser:"( (?! \"uses\" | \"does\" | \"doesn't\" | \"not\" ) @( Term | Word ) )+"`
	EndPos lexer.Position
}

func (c content) ref(t *plainTerm) Ref {
	if t == nil {
		return Ref{}
	}
	n := c.between(t.Pos, t.EndPos)
	return refOf(c.text, n)
}

// refOf looks a stitch's name up in the glossary.
func refOf(text string, n Name) Ref {
	if toks := lexed(nil, text[:n.End], int(n.Start)); toks[0].Kind == Term && toks[0].Span == n.Span {
		return Ref{toks[0].Value + 1, n}
	}
	return Ref{0, n}
}

var gaugeParser = parser[gaugeLine]()

func readGauge(c content) (Node, []Fault) {
	g, faults := readWith(gaugeParser, c, "24 sts x 26 rnds = 10 cm in sc")
	n := &Gauge{Sts: c.count(g.Sts), Rnds: c.count(g.Rnds), Over: c.length(g.Over), Stitch: c.ref(g.In), Uses: c.length(g.Uses), Span: c.trimmed().Span}
	if g.In == nil {
		n.Stitch = c.ref(g.Named)
	}
	if g.Lone != nil {
		n.Rnds = c.count(g.Lone)
	}
	n.Down = c.length(g.Down)
	if g.Square != nil { // 10 x 10 cm
		n.Over = n.Down
		n.Over.Value = g.Square.value()
		n.Over.MM = n.Over.Value * millimetres[n.Down.Unit]
	}
	if g.Down == nil {
		n.Down = n.Over
	}
	return n, faults
}

// hookMark is a letter or number: E-4, B/1, K-10½, or a bare number.
type hookMark struct {
	Pos    lexer.Position
	Letter string `parser:"( \"US\" | \"UK\" | \"size\" | Word \"steel\" )* ( @( Word | \"x\" ) ( ( Dash | Slash )? Number ( Stop Number )? Illegal? )? ( Slash Word )?"`
	Bare   string `parser:"| @Number ( Stop Number )? )"`
	EndPos lexer.Position
}

type hookLine struct {
	Size   *measure  `parser:"( @@"`
	After  *hookMark `parser:"  ( ( Comma | Slash )? ( Open @@ Close | @@ ) )?"`
	Mark   *hookMark `parser:"| @@"`
	Behind *measure  `parser:"  ( ( Comma | Slash | Equals )? ( Open @@ Close | @@ ) )? )"`
	Kind   string    `parser:"( @\"steel\"? \"hook\" | @\"crochet\" \"hook\" )?"`
}

var hookParser = parser[hookLine]()

func (c content) hook(g *hookLine) *Hook {
	h := &Hook{Size: c.length(g.Size), Span: c.trimmed().Span}
	if g.Behind != nil {
		h.Size = c.length(g.Behind)
	}
	for _, m := range []*hookMark{g.Mark, g.After} {
		if m != nil {
			h.Letter = c.between(m.Pos, m.EndPos)
			h.Letter.Text = strings.TrimRight(h.Letter.Text, " )(/,")
			h.Letter.End = h.Letter.Start + int32(len(h.Letter.Text))
		}
	}
	return h
}

func readHook(c content) (Node, []Fault) {
	g, faults := readWith(hookParser, c, "3.5 mm")
	h := c.hook(g)
	if g.Mark != nil && g.Behind != nil && g.Mark.Bare != "" && strings.Contains(h.Span.In(c.text), h.Letter.Text+",") {
		right := strings.Replace(h.Span.In(c.text), ",", ".", 1)
		faults = append(faults, Fault{Span: h.Span, Message: "write the hook with a full stop: " + strconv.Quote(right), Fix: right, FixTitle: "write " + strconv.Quote(right)})
	}
	return h, faults
}

type chainLine struct {
	Not   bool        `parser:"( ( @\"does not count\" | \"counts\" ) ( \"as\" ( \"first\"? \"st\" | Term ) )? \"here and throughout\"? Stop?"`
	Rules []chainPart `parser:"| @@ ( ( Comma | Semicolon | \"and\" )+ @@ )* Stop? )"`
}

type chainPart struct {
	Stitch plainTerm `parser:"@@"`
	Not    bool      `parser:"( @\"does not count\" | \"counts\" | @\"does\" \"not\" | @\"doesn't\" | @\"not\" ) ( \"as\" \"st\" )?"`
}

var chainParser = parser[chainLine]()

func readTurningChain(c content) (Node, []Fault) {
	g, faults := readWith(chainParser, c, "dc counts, hdc does not count")
	n := &TurningChain{All: len(g.Rules) == 0 && len(faults) == 0, Not: g.Not, Span: c.trimmed().Span}
	for i := range g.Rules {
		p := &g.Rules[i]
		ref := c.ref(&p.Stitch)
		n.Rules = append(n.Rules, ChainRule{Stitch: ref, Not: p.Not})
	}
	return n, faults
}

type yarnLine struct {
	Name   *yarnWords `parser:"@@?"`
	Colour *hashMark  `parser:"@@?"`
	Parts  []yarnPart `parser:"( ( Comma | Semicolon )? @@ )*"`
}

type yarnWords struct {
	Pos    lexer.Position
	Words  []string `parser:"( (?! Number ( Stop Number )? ( \"g\" | \"oz\" | \"m\" | \"yd\" ) ) @( Word | Term | Keyword | Number | Ordinal | Quote | Dash | Slash | Stop | Illegal ) )+"`
	EndPos lexer.Position
}

type hashMark struct {
	Pos    lexer.Position
	Hash   string `parser:"@Hash"`
	EndPos lexer.Position
}

type yarnPart struct {
	Pos    lexer.Position
	Weigh  *decimal   `parser:"( @@"`
	Unit   string     `parser:"  @( \"g\" | \"gram\" | \"grams\" | \"oz\" | \"ounces\" )"`
	Length *measure   `parser:"  ( Slash @@ )?"`
	Run    *measure   `parser:"| @@ ( Slash"`
	Back   *decimal   `parser:"    @@ ( \"g\" | \"grams\" ) )?"`
	Balls  *number    `parser:"| @@ ( \"ball\" | \"balls\" | \"skein\" | \"skeins\" | \"hank\" | \"hanks\" )"`
	Weight *yarnClass `parser:"| @@ )"`
	EndPos lexer.Position
}

type yarnClass struct {
	Pos    lexer.Position
	Words  []string `parser:"( @( Word | Term | Keyword | Number | Dash ) )+"`
	Number *number  `parser:"( Open @@ Close )?"`
	EndPos lexer.Position
}

var yarnParser = parser[yarnLine]()

func readYarn(c content) (Node, []Fault) {
	g, faults := readWith(yarnParser, c, "fern #7C9A5B, light (3), 50 g / 125 m")
	n := &Yarn{Key: c.key, Span: c.trimmed().Span}
	if g.Name != nil {
		n.Name = c.between(g.Name.Pos, g.Name.EndPos)
	}
	if g.Colour != nil {
		n.Colour = c.between(g.Colour.Pos, g.Colour.EndPos)
	}
	for i := range g.Parts {
		c.yarnPart(n, &g.Parts[i])
	}
	if !n.Key.Written() {
		faults = append([]Fault{{Span: c.head, Message: "a yarn needs a letter or word to be called by, such as \"Yarn A:\""}}, faults...)
	}
	return n, faults
}

func (c content) yarnPart(n *Yarn, p *yarnPart) {
	whole := c.between(p.Pos, p.EndPos).Span
	switch {
	case p.Weigh != nil:
		g := p.Weigh.value()
		if strings.HasPrefix(strings.ToLower(p.Unit), "o") {
			g *= 28.35
		}
		n.Grams = Count{int32(min(g+0.5, MaxCount)), whole}
		if p.Length != nil {
			n.Metres = c.length(p.Length)
		}
	case p.Run != nil:
		n.Metres = c.length(p.Run)
		if p.Back != nil {
			n.Grams = Count{int32(min(p.Back.value()+0.5, MaxCount)), whole}
		}
	case p.Balls != nil:
		n.Balls = c.count(p.Balls)
	case p.Weight != nil && !n.Weight.Written():
		n.Weight = c.between(p.Weight.Pos, p.Weight.EndPos)
		n.Number = c.count(p.Weight.Number)
	}
}

type notionLine struct {
	Count *number     `parser:"( @@ \"x\"? )?"`
	Thing *notionText `parser:"@@"`
	Size  *measure    `parser:"( Comma? ( Open @@ Close | @@ ) )?"`
	Rest  *restText   `parser:"@@?"`
}

type notionText struct {
	Pos    lexer.Position
	Words  []string `parser:"( (?! Number ( Stop Number )? ( \"mm\" | \"cm\" | \"m\" | \"in\" ) ) @( Word | Term | Keyword | Number | Ordinal | Dash | Quote | Slash ) )+"`
	EndPos lexer.Position
}

type restText struct {
	Words []string `parser:"@( Word | Term | Keyword | Number | Ordinal | Dash | Quote | Slash | Comma | Semicolon | Stop | Open | Close | Hash | Colon | Equals )+"`
}

var notionParser = parser[notionLine]()

func readNotion(c content) (Node, []Fault) {
	if !c.trimmed().Written() {
		return &Notion{}, []Fault{c.unexpected(c.to, "2 safety eyes, 6 mm")}
	}
	g, faults := readWith(notionParser, c, "2 safety eyes, 6 mm")
	if len(faults) > 0 { // things are named freely; keep all of it as one
		return &Notion{Count: Count{N: 1}, Thing: c.trimmed(), Span: c.trimmed().Span}, nil
	}
	n := &Notion{Count: c.countOr(g.Count, 1), Size: c.length(g.Size), Span: c.trimmed().Span}
	if g.Thing != nil {
		n.Thing = c.between(g.Thing.Pos, g.Thing.EndPos)
		n.Thing.Text = strings.TrimRight(n.Thing.Text, " ,(")
		n.Thing.End = n.Thing.Start + int32(len(n.Thing.Text))
	}
	return n, nil
}

// sizeWays are what a measure may be said to measure.
var sizeWays = map[string]string{
	"tall": "tall", "high": "tall", "height": "tall", "wide": "wide", "width": "wide", "long": "long", "length": "long", "deep": "deep",
	"across": "across", "diameter": "across", "around": "around", "circumference": "around", "round": "around",
}

// readSize finds the measures in a size, which is otherwise free text.
func readSize(c content) (Node, []Fault) {
	n := &Size{Content: c.trimmed()}
	if !n.Content.Written() {
		return n, []Fault{c.unexpected(c.to, "9 cm tall")}
	}
	toks := lexed(nil, c.text[:c.to], c.from)
	for i := 0; i < len(toks); i++ {
		switch t := toks[i]; {
		case t.Kind == Number:
			d, next := sizeNumber(c.text, toks, i)
			if next > i {
				n.Dims = append(n.Dims, d)
				i = next - 1
			}
		case len(n.Dims) > 0 && n.Dims[len(n.Dims)-1].Way == "":
			word := strings.ToLower(t.In(c.text))
			if t.is(KeyAround) || t.is(KeyAcross) {
				word = Key(t.Value).String()
			}
			if way, ok := sizeWays[word]; ok {
				n.Dims[len(n.Dims)-1].Way = way
			}
		}
	}
	return n, nil
}

// sizeNumber reads "9 cm", and the first of "20 x 30 cm".
func sizeNumber(text string, toks []Token, i int) (Dim, int) {
	start := toks[i]
	value := float64(start.Value)
	j := i + 1
	if toks[j].Kind == Stop && toks[j+1].Kind == Number && toks[j].Start == start.End {
		d := decimal{Whole: start.In(text), Part: toks[j+1].In(text)}
		value, j = d.value(), j+2
	}
	unit := strings.ToLower(toks[j].In(text))
	if toks[j].is(KeyIn) {
		unit = "in"
	}
	if short, ok := unitNames[unit]; ok {
		unit = short
	}
	if toks[j].is(KeyX) && toks[j+1].Kind == Number {
		d, next := sizeNumber(text, toks, j+1)
		if next > j+1 {
			return Dim{Length: Length{value, d.Unit, value * millimetres[d.Unit], start.Span}}, j + 1
		}
	}
	if _, ok := millimetres[unit]; !ok {
		return Dim{}, i
	}
	return Dim{Length: Length{value, unit, value * millimetres[unit], start.Span.To(toks[j].Span)}}, j + 1
}

// readOwnStitch reads "bob (bobble) = 5 dc together in one st" and "spike sc,
// takes 1, makes 1".
func readOwnStitch(c content) (Node, []Fault) {
	n := &OwnStitch{Span: c.trimmed().Span}
	const form = "bob (bobble) = 5 dc together in one st"
	g := c
	if i := strings.IndexByte(c.text[c.from:c.to], '='); i >= 0 {
		g.to = c.from + i
		steps, total, _, faults := stepsIn(c.text, c.from+i+1, c.to)
		n.Steps, n.Defined = steps, len(faults) == 0 && len(steps) > 0
		if len(faults) == 0 && (len(steps) == 0 || total != nil) {
			faults = []Fault{c.unexpected(c.to, form)}
		}
		names, more := readWith(ownParser, g, form)
		c.ownNames(n, names)
		return n, append(more, faults...)
	}
	names, faults := readWith(ownParser, g, form)
	c.ownNames(n, names)
	n.Takes, n.Makes = c.count(names.Takes), c.count(names.Makes)
	n.Defined = names.Takes != nil || names.Makes != nil
	if len(faults) == 0 && !n.Defined {
		faults = []Fault{{Span: n.Span, Message: "this stitch is named but not explained; write how it is worked, such as \"" + form + "\", or what it takes and makes, such as \"spike sc, takes 1, makes 1\""}}
	}
	return n, faults
}

type ownLine struct {
	Abbr  *ownName  `parser:"@@"`
	Full  *ownWords `parser:"( Open @@ Close )?"`
	Takes *number   `parser:"( Comma? \"takes\" @@ \"st\"? )?"`
	Makes *number   `parser:"( ( Comma | \"and\" )? \"makes\" @@ \"st\"? )?"`
}

type ownName struct {
	Pos    lexer.Position
	Words  []string `parser:"( (?! \"takes\" | \"makes\" ) @( Word | Term | Keyword | Number | ChSpace | Dash | Quote ) )+"`
	EndPos lexer.Position
}

type ownWords struct {
	Pos    lexer.Position
	Words  []string `parser:"@( Word | Term | Keyword | Number | ChSpace | Dash | Quote | Comma )+"`
	EndPos lexer.Position
}

var ownParser = parser[ownLine]()

func (c content) ownNames(n *OwnStitch, g *ownLine) {
	if g.Abbr != nil {
		n.Abbr = c.between(g.Abbr.Pos, g.Abbr.EndPos)
		n.Abbr.Text = strings.TrimRight(n.Abbr.Text, " (,=")
		n.Abbr.End = n.Abbr.Start + int32(len(n.Abbr.Text))
	}
	if g.Full != nil {
		n.Full = c.between(g.Full.Pos, g.Full.EndPos)
	}
}
