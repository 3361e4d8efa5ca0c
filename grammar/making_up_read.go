package grammar

import (
	"slices"
	"strings"
)

// The usual wordings of the making up are read by hand, since a long pattern has
// hundreds of such lines and participle takes some thirty times as long. What
// this reader does not know, it leaves to the grammar of statement_making_up.go:
// where both read a line, they give the same (FuzzMakingUp).

// makingUp goes along the tokens of one such line. It is lost once it met
// something that it does not know.
type makingUp struct {
	cursor
	c    content
	lost bool
}

func (c content) makingUp(room []Token) makingUp {
	m := makingUp{cursor: cursor{toks: lexed(room, c.text[:c.to], c.from)}, c: c}
	// Words that are passed by, and comments, are left to the grammar; not in what
	// stands behind a semicolon, which is kept as it is.
	for i := 1; i < len(m.toks) && m.toks[i-1].Kind != Semicolon; i++ {
		m.lost = m.lost || strings.Trim(c.text[m.toks[i-1].End:m.toks[i].Start], " \t") != ""
	}
	return m
}

// word says whether a plain word stands here.
func (m *makingUp) word(words ...string) bool {
	t := m.peek()
	return t.Kind == Word && slices.ContainsFunc(words, func(w string) bool { return strings.EqualFold(w, t.In(m.c.text)) })
}

// need passes what has to stand here.
func (m *makingUp) need(ok bool) {
	if !ok {
		m.lost = true
	}
}

func (m *makingUp) number() Count {
	t := m.take()
	m.need(t.Kind == Number)
	return Count{t.Value, t.Span}
}

// name is a run of words, up to a sign or a word that belongs to the line.
func (m *makingUp) name() Name {
	from := m.i
	for !m.word("centred", "centered") {
		t := m.peek()
		if t.Kind != Word && t.Kind != Term && t.Kind != Number && t.Kind != Ordinal {
			break
		}
		m.need(t.Kind != Word || !m.toks[m.i+1].is(KeyRnd))
		m.i++
	}
	switch t := m.peek(); {
	case m.i == from, t.Kind == TimesWord, t.Kind == Dash, t.Kind == Quote:
		m.lost = true
	case t.Kind == Keyword:
		m.need(t.is(KeyTo) || t.is(KeyX) || t.is(KeyOn) || t.is(KeyOver) || t.is(KeyBetween) || t.is(KeyAcross) || t.is(KeyEvenly))
	}
	if m.lost {
		return Name{}
	}
	n := nameOf(m.c.text, int(m.toks[from].Start), int(m.toks[m.i-1].End))
	if strings.Contains(n.Text, "  ") || strings.Contains(n.Text, "\t") {
		n.Text = strings.Join(strings.Fields(n.Text), " ")
	}
	return n
}

// wheres reads what stands behind the names, to the end.
func (m *makingUp) wheres() []Where {
	var room [6]Where
	out := room[:0]
	for !m.lost {
		from := m.i
		for m.peek().Kind == Comma || m.at(KeyAnd) {
			m.i++
		}
		if k := m.peek().Kind; k == EOF || k == Stop || k == Semicolon {
			m.need(m.i == from || m.i == from+1 && m.toks[from].Kind == Comma)
		}
		switch m.peek().Kind {
		case EOF:
			return kept(out)
		case Stop:
			m.i++
			m.need(m.peek().Kind == EOF)
			return kept(out)
		case Semicolon:
			m.i++
			if t := m.peek(); t.Kind != EOF {
				n := nameOf(m.c.text, int(t.Start), m.c.to)
				out = append(out, Where{Kind: WhereFree, Text: n, Span: n.Span})
			}
			return kept(out)
		}
		start := m.peek()
		x := m.where()
		x.Span = Span{start.Start, m.toks[m.i-min(m.i, 1)].End}
		out = append(out, x)
	}
	return nil
}

func kept(list []Where) []Where {
	if len(list) == 0 {
		return nil
	}
	return slices.Clone(list)
}

func (m *makingUp) where() Where {
	switch t := m.take(); {
	case t.is(KeyBetween):
		return m.rounds(WhereBetween)
	case t.is(KeyOver) && m.peek().Kind == Number, t.is(KeyAcross):
		return m.across()
	case t.is(KeyOver):
		return m.rounds(WhereOver)
	case t.Kind == Number:
		x := Where{Kind: WhereApart, Count: Count{t.Value, t.Span}}
		m.need(m.accept(KeySt))
		m.need(m.word("apart"))
		m.i++
		return x
	case t.is(KeyEvenly):
		return Where{Kind: WhereEvenly}
	case t.is(KeyIn), t.is(KeyOn), t.Kind == Word && strings.EqualFold(t.In(m.c.text), "at"):
		if m.at(KeyRnd) || m.at(KeyRow) {
			x := m.rounds(WhereAt)
			m.need(!x.To.Written())
			return x
		}
		if t.is(KeyIn) && m.word("line") && m.toks[m.i+1].is(KeyWith) {
			m.i += 2
			return Where{Kind: WhereInLine, Part: m.name()}
		}
		m.need(!t.is(KeyIn) && (m.at(KeyTop) || m.word("front", "back", "bottom", "left", "right", "sides")))
		side := m.take()
		m.need(!m.word("side", "edge"))
		return Where{Kind: WhereSide, Text: Name{side.In(m.c.text), side.Span}}
	case t.Kind == Word && (strings.EqualFold(t.In(m.c.text), "centred") || strings.EqualFold(t.In(m.c.text), "centered")):
		return Where{Kind: WhereCentred}
	case t.Kind == Word && strings.EqualFold(t.In(m.c.text), "open") && m.word("edge"):
		m.i++
		return Where{Kind: WhereOpenEdge}
	}
	m.lost = true
	return Where{}
}

func (m *makingUp) across() Where {
	x := Where{Kind: WhereAcross, Count: m.number()}
	m.need(m.accept(KeySt))
	return x
}

// rounds reads "Rnds 2 and 3", "Rnd 5".
func (m *makingUp) rounds(k WhereKind) Where {
	x := Where{Kind: k, Row: m.at(KeyRow)}
	m.need(m.accept(KeyRnd) || m.accept(KeyRow))
	x.From = m.number()
	x.To = Count{N: x.From.N}
	if t := m.peek(); t.is(KeyAnd) || t.Kind == Dash || t.is(KeyTo) {
		m.i++
		x.To = m.number()
	}
	return x
}

func (c content) usualSew(attach bool) (*Sew, bool) {
	var room [32]Token
	m := c.makingUp(room[:0])
	n := &Sew{Attach: attach, Part: m.name(), Times: Count{N: 1}}
	if m.accept(KeyX) {
		n.Times = m.number()
	}
	m.need(m.accept(KeyTo) || m.accept(KeyOn))
	n.To = m.name()
	n.Where = m.wheres()
	return n, !m.lost
}

func (c content) usualPlace() (*PlaceThing, bool) {
	var room [32]Token
	m := c.makingUp(room[:0])
	n := &PlaceThing{Count: Count{N: 1}}
	if m.peek().Kind == Number {
		n.Count = m.number()
	}
	m.accept(KeyX)
	n.Thing = m.name()
	m.need(m.accept(KeyOn))
	n.On = m.name()
	n.Where = m.wheres()
	return n, !m.lost
}

func (c content) usualEmbroider() (*Embroider, bool) {
	var room [32]Token
	m := c.makingUp(room[:0])
	n := &Embroider{What: m.name()}
	m.need(m.accept(KeyOn))
	n.On = m.name()
	n.Where = m.wheres()
	return n, !m.lost
}
