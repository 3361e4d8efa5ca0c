package grammar

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

func readAssembly(c content) (Node, []Fault) {
	if n := c.trimmed(); n.Written() {
		return Assembly{}, []Fault{{Span: n.Span, Message: "nothing stands behind \"Assembly:\"; write Sew:, Place: or Embroider: on lines of their own below"}}
	}
	return Assembly{}, nil
}

type sewLine struct {
	Part  *nameList  `parser:"@@"`
	Times *number    `parser:"( \"x\" @@ )?"`
	To    *nameWords `parser:"( \"to\" | \"on\" ) @@"`
	Where whereList  `parser:"@@?"`
}

type placeLine struct {
	Count *number    `parser:"@@? \"x\"?"`
	Thing *nameWords `parser:"@@"`
	On    *nameWords `parser:"\"on\" @@"`
	Where whereList  `parser:"@@?"`
}

type embroiderLine struct {
	What  *nameList  `parser:"@@"`
	On    *nameWords `parser:"\"on\" @@"`
	Where whereList  `parser:"@@?"`
}

type whereList struct {
	Parts []wherePart `parser:"( ( Comma | \"and\" )* @@ )* Comma? Stop?"`
	Free  *freeText   `parser:"( Semicolon @@? )?"`
}

type freeText struct {
	Pos    lexer.Position
	Words  []string `parser:"@( Word | Term | Keyword | Number | Ordinal | TimesWord | ChSpace | Dash | Quote | Slash | Comma | Semicolon | Stop | Open | Close | Hash | Colon | Equals | Star | Stars | Illegal )+"`
	EndPos lexer.Position
}

type wherePart struct {
	Pos     lexer.Position
	Between *twoRounds `parser:"( \"between\" @@"`
	Over    *twoRounds `parser:"| \"over\" @@"`
	AtRound *oneRound  `parser:"| ( \"at\" | \"on\" | \"in\" ) @@"`
	Apart   *number    `parser:"| \"about\"? @@ \"st\" \"apart\""`
	Across  *number    `parser:"| ( \"across\" | \"over\" ) @@ \"st\""`
	Line    *nameWords `parser:"| \"in\" \"line\" \"with\" @@"`
	Side    *sideWord  `parser:"| ( \"at\" | \"on\" | \"to\" )? @@"`
	Centred bool       `parser:"| @( \"centred\" | \"centered\" | \"in\" Word \"centre\" )"`
	Evenly  bool       `parser:"| @\"evenly\""`
	Open    bool       `parser:"| ( \"along\" | \"at\" | \"by\" )? @( \"open\" \"edge\" ) )"`
	EndPos  lexer.Position
}

type twoRounds struct {
	Kind string  `parser:"@( \"rnd\" | \"row\" )"`
	From *number `parser:"@@"`
	To   *number `parser:"( ( \"and\" | Dash | \"to\" ) @@ )?"`
}

type oneRound struct {
	Kind string  `parser:"@( \"rnd\" | \"row\" )"`
	N    *number `parser:"@@"`
}

type sideWord struct {
	Pos    lexer.Position
	Side   string `parser:"@( \"front\" | \"back\" | \"top\" | \"bottom\" | \"left\" | \"right\" | \"sides\" ) ( \"side\" | \"edge\" )?"`
	EndPos lexer.Position
}

var (
	sewParser       = parser[sewLine]()
	placeParser     = parser[placeLine]()
	embroiderParser = parser[embroiderLine]()
)

const whereForm = "between Rnds 2 and 3, 3 sts apart"

func (c content) name(w *nameWords) Name {
	if w == nil {
		return Name{}
	}
	return c.plain(w.Pos, w.EndPos)
}

func (c content) names(w *nameList) Name {
	if w == nil {
		return Name{}
	}
	return c.plain(w.Pos, w.EndPos)
}

func (c content) wheres(w *whereList) []Where {
	var out []Where
	for i := range w.Parts {
		p := &w.Parts[i]
		x := Where{Span: c.between(p.Pos, p.EndPos).Span}
		switch {
		case p.Between != nil:
			x.Kind = WhereBetween
			c.rounds(&x, p.Between)
		case p.Over != nil:
			x.Kind = WhereOver
			c.rounds(&x, p.Over)
		case p.AtRound != nil:
			x.Kind, x.From, x.Row = WhereAt, c.count(p.AtRound.N), strings.EqualFold(p.AtRound.Kind, "row")
			x.To = Count{N: x.From.N}
		case p.Apart != nil:
			x.Kind, x.Count = WhereApart, c.count(p.Apart)
		case p.Across != nil:
			x.Kind, x.Count = WhereAcross, c.count(p.Across)
		case p.Line != nil:
			x.Kind, x.Part = WhereInLine, c.name(p.Line)
		case p.Side != nil:
			x.Kind, x.Text = WhereSide, c.between(p.Side.Pos, p.Side.EndPos)
		case p.Centred:
			x.Kind = WhereCentred
		case p.Evenly:
			x.Kind = WhereEvenly
		case p.Open:
			x.Kind = WhereOpenEdge
		}
		x.Span = trimSpan(c.text, x.Span)
		out = append(out, x)
	}
	if w.Free != nil {
		n := c.between(w.Free.Pos, w.Free.EndPos)
		out = append(out, Where{Kind: WhereFree, Text: n, Span: n.Span})
	}
	return out
}

func trimSpan(text string, s Span) Span {
	trimmed := strings.TrimRight(s.In(text), " \t\r\n,;")
	return Span{s.Start, s.Start + int32(len(trimmed))}
}

func (c content) rounds(x *Where, r *twoRounds) {
	x.From, x.To, x.Row = c.count(r.From), c.count(r.To), strings.EqualFold(r.Kind, "row")
	if r.To == nil {
		x.To = Count{N: x.From.N}
	}
}

func readSew(c content) (Node, []Fault) {
	attach := strings.EqualFold(strings.TrimSpace(c.head.In(c.text)), "attach")
	if n, ok := c.usualSew(attach); ok {
		return n, nil
	}
	return c.sew(attach)
}

func (c content) sew(attach bool) (Node, []Fault) {
	g, faults := readWith(sewParser, c, "Feeler x 2 to Body, "+whereForm)
	return &Sew{Attach: attach, Part: c.names(g.Part), Times: c.countOr(g.Times, 1), To: c.name(g.To), Where: c.wheres(&g.Where)}, faults
}

func readPlace(c content) (Node, []Fault) {
	if n, ok := c.usualPlace(); ok {
		return n, nil
	}
	return c.place()
}

func (c content) place() (Node, []Fault) {
	g, faults := readWith(placeParser, c, "2 safety eyes on Body, "+whereForm)
	return &PlaceThing{Count: c.countOr(g.Count, 1), Thing: c.name(g.Thing), On: c.name(g.On), Where: c.wheres(&g.Where)}, faults
}

func readEmbroider(c content) (Node, []Fault) {
	if n, ok := c.usualEmbroider(); ok {
		return n, nil
	}
	return c.embroider()
}

func (c content) embroider() (Node, []Fault) {
	g, faults := readWith(embroiderParser, c, "a mouth on Body, at Rnd 5")
	return &Embroider{What: c.names(g.What), On: c.name(g.On), Where: c.wheres(&g.Where)}, faults
}
