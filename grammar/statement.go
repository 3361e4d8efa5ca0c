package grammar

import (
	"errors"
	"strconv"
	"strings"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// parser builds a participle parser for one statement's content, when it is
// first needed.
func parser[G any]() func() *participle.Parser[G] {
	return sync.OnceValue(func() *participle.Parser[G] {
		return participle.MustBuild[G](participle.Lexer(definition{}), participle.CaseInsensitive("Word", "Term", "Keyword"), participle.UseLookahead(8))
	})
}

// readWith parses a content. Where it does not parse, what was read so far is
// given with a fault that shows the form of the statement.
func readWith[G any](p func() *participle.Parser[G], c content, form string) (*G, []Fault) {
	g, err := p().ParseString("", c.text[c.from:c.to])
	if g == nil {
		g = new(G)
	}
	if err == nil {
		return g, nil
	}
	at := c.to
	var e participle.Error
	if errors.As(err, &e) {
		at = c.from + e.Position().Offset
	}
	return g, []Fault{c.unexpected(at, form)}
}

// unexpected is the fault of a content that stops making sense at a byte.
func (c content) unexpected(at int, form string) Fault {
	name := strings.TrimSpace(c.head.In(c.text))
	toks := lexed(nil, c.text[:c.to], min(at, c.to))
	if toks[0].Kind == EOF {
		end := c.trimmed().End
		if end <= int32(c.from) {
			return Fault{Span: c.head, Message: strconv.Quote(name+":") + " is empty; write " + strconv.Quote(name+": "+form)}
		}
		return Fault{Span: Span{end, end}.wide(c.text), Message: "this line ends too early; it should read like " + strconv.Quote(name+": "+form)}
	}
	t := toks[0]
	return Fault{Span: t.Span, Message: "found " + strconv.Quote(t.In(c.text)) + ", which does not fit here; the line should read like " + strconv.Quote(name+": "+form)}
}

// mark is where participle met something, in bytes of the content.
type mark = lexer.Position

// between is the name written from one mark to another.
func (c content) between(from, to mark) Name {
	return nameOf(c.text, c.from+from.Offset, min(c.from+to.Offset, c.to))
}

func (c content) count(n *number) Count {
	if n == nil {
		return Count{}
	}
	s := c.between(n.Pos, n.EndPos)
	return Count{wordNumber(s.Text), s.Span}
}

// countOr is a count, or what is meant where none is written.
func (c content) countOr(n *number, unsaid int32) Count {
	if n == nil {
		return Count{N: unsaid}
	}
	return c.count(n)
}

func wordNumber(s string) int32 {
	if n, ok := numberWords[strings.ToLower(s)]; ok {
		return n
	}
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil || n > MaxCount {
		return MaxCount
	}
	return int32(n)
}

// number is a whole number, in digits or a word.
type number struct {
	Pos    lexer.Position
	Digits string `parser:"@Number"`
	EndPos lexer.Position
}

// decimal is a number with or without a fraction.
type decimal struct {
	Whole string `parser:"@Number"`
	Part  string `parser:"( Stop @Number )?"`
}

func (d decimal) value() float64 {
	whole := d.Whole
	if n, ok := numberWords[strings.ToLower(whole)]; ok {
		whole = strconv.Itoa(int(n))
	}
	f, err := strconv.ParseFloat(whole+"."+d.Part+"0", 64)
	if err != nil {
		return 0
	}
	return f
}

// measure is a length with its unit.
type measure struct {
	Pos    lexer.Position
	N      decimal `parser:"@@"`
	Unit   string  `parser:"@( \"mm\" | \"cm\" | \"m\" | \"metre\" | \"metres\" | \"meter\" | \"meters\" | \"in\" | \"inch\" | \"inches\" | \"yd\" | \"yds\" | \"yard\" | \"yards\" | Quote )"`
	EndPos lexer.Position
}

// millimetres in each unit of length.
var millimetres = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "yd": 914.4}

var unitNames = map[string]string{"metre": "m", "metres": "m", "meter": "m", "meters": "m", "inch": "in", "inches": "in", "yds": "yd", "yard": "yd", "yards": "yd", "\"": "in", "″": "in", "”": "in"}

func (c content) length(m *measure) Length {
	if m == nil {
		return Length{}
	}
	unit := strings.ToLower(m.Unit)
	if short, ok := unitNames[unit]; ok {
		unit = short
	}
	v := m.N.value()
	return Length{Value: v, Unit: unit, MM: v * millimetres[unit], Span: c.between(m.Pos, m.EndPos).Span}
}

// nameWords is a run of words that ends before a word that belongs to the
// statement. Signs that the name of a part may hold belong to it: Leg (left), Mr.
// Moss (Mr is read as the short form of magic ring), Oh!
type nameWords struct {
	Pos    lexer.Position
	Words  []string `parser:"( (?! \"to\" | \"x\" | \"on\" | \"over\" | \"between\" | \"across\" | \"centred\" | \"centered\" | \"evenly\" | Word \"Rnd\" ) ( @( \"magic ring\" | \"Mrs\" | \"Ms\" | \"Dr\" | \"Prof\" | \"St\" | \"No\" ) @Stop (?= Word | Term | Number ) | @( Word | Term | Keyword | Number | Ordinal | TimesWord | ChSpace | Dash | Quote | Slash | Hash | Illegal | Open | Close ) ) )+"`
	EndPos lexer.Position
}

// nameList is one name, or several with commas between them.
type nameList struct {
	Pos    lexer.Position
	First  *nameWords   `parser:"@@"`
	More   []*nameWords `parser:"( Comma @@ )*"`
	EndPos lexer.Position
}

// plain is the name from one mark to another, with single blanks.
func (c content) plain(from, to mark) Name {
	n := c.between(from, to)
	n.Text = strings.Join(strings.Fields(n.Text), " ")
	return n
}

// readText reads a label whose content is free text.
func readText(l TextLabel) func(content) (Node, []Fault) {
	return func(c content) (Node, []Fault) { return &Text{Label: l, Content: c.trimmed()}, nil }
}
