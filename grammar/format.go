package grammar

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"workeven/grammar/terms"
)

// A statement that is continued on further lines is joined where it then has
// no more than joinWidth columns; else it is broken behind commas and
// semicolons so that no line has more than breakWidth. One that stands on one line stays on it,
// however long: editors wrap lines, and a designer may want that.
const (
	joinWidth  = 100
	breakWidth = 96
	indent     = "  "
)

// Format prints a pattern in the canonical wording. Comments, blank lines, line
// ends and the byte-order mark stay, and so does every statement with a fault,
// byte for byte. Formatting a formatted pattern changes nothing, and every
// statement printed means what it meant: one that would not is left as it is.
func Format(f *File) string {
	p := newPrinter(f)
	text := f.Text()
	var b strings.Builder
	b.Grow(len(text) + len(text)/16)
	at := 0
	for i, l := range f.Lines {
		b.WriteString(text[at:f.Start(i)])
		at = f.Start(i) + len(l.Text)
		b.WriteString(p.line(l, f.endOf(i)))
	}
	b.WriteString(text[at:])
	return b.String()
}

// LineEnd is how the file's lines end, by its first statement.
func (f *File) LineEnd() string { return f.endOf(0) }

// endOf is the line end to break a statement with: its own, or that of the
// file's first statement where it has none.
func (f *File) endOf(line int) string {
	for _, i := range []int{line, 0} {
		end := f.Start(i) + len(f.Lines[i].Text)
		for _, e := range []string{"\n", "\r\n"} {
			if f.rope.Slice(end, min(end+len(e), f.rope.Len())) == e {
				return e
			}
		}
	}
	if strings.Contains(f.Lines[line].Text, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// printer prints statements of one file, one after the other.
type printer struct {
	sys terms.System
	// own are the folded names of the pattern's own stitches.
	own map[string]bool
	// yarns are the keys that yarns are listed by, by their folded form.
	yarns map[string]string
	// text and toks are of the statement that is printed; note is where its
	// comment starts.
	text string
	toks []Token
	note int
}

func newPrinter(f *File) *printer {
	p := &printer{own: map[string]bool{}, yarns: map[string]string{}}
	said := false
	for _, l := range f.Lines {
		switch n := l.Node.(type) {
		case *Terms:
			if !said {
				p.sys, said = n.System, true
			}
		case *OwnStitch:
			for _, name := range []Name{n.Abbr, n.Full} {
				p.own[terms.Key(name.Text)] = name.Written()
			}
		case *Yarn:
			if k := YarnKey(n.Key.Text); p.yarns[k] == "" {
				p.yarns[k] = n.Key.Text
			}
		}
	}
	return p
}

// line prints a statement as it is to stand in the file.
func (p *printer) line(l *Line, end string) string {
	if len(l.Faults) > 0 {
		return l.Text
	}
	switch l.Node.(type) {
	case Blank:
		return ""
	case Comment:
		if l.Rows > 1 { // what follows would no longer be a part of it
			return l.Text
		}
		return trimmed(l.Text)
	}
	out, ok := p.printed(l, end)
	if !ok {
		return l.Text
	}
	return out
}

// printed prints a statement; false where that would change what it means.
func (p *printer) printed(l *Line, end string) (string, bool) {
	if l.commentInside() {
		return l.Text, true
	}
	out := p.statement(l, end)
	if out == l.Text {
		return out, true
	}
	again := ParseLine(out, int32(strings.Count(out, "\n"))+1)
	ok := len(again.Faults) == 0 && p.same(reflect.ValueOf(l.Node), reflect.ValueOf(again.Node)) &&
		trimmed(l.Note.In(l.Text)) == again.Note.In(out) && p.statement(again, end) == out
	return out, ok
}

func (p *printer) statement(l *Line, end string) string {
	p.text, p.note = l.Text, len(l.Text)
	if l.Note.Written() {
		p.note = int(l.Note.Start)
	}
	var out string
	switch n := l.Node.(type) {
	case Assembly:
		out = "Assembly:"
	case *Action:
		out = p.action(n)
	default:
		head, rest, _ := labelOf(l.Text, p.note)
		c := content{text: l.Text, from: rest, to: p.note, head: head}
		lb, _ := c.find()
		p.toks = lexed(p.toks[:0], l.Text[:p.note], rest)
		out = p.label(lb, c, n) + ":"
		if body := p.content(n, c); body != "" {
			out += " " + body
		}
	}
	if _, free := l.Node.(*Text); !free && l.Rows > 1 && columns(out) > joinWidth {
		out = broken(out, end)
	}
	if l.Note.Written() {
		out += "  " + trimmed(l.Note.In(l.Text))
	}
	return out
}

func columns(s string) int { return utf8.RuneCountInString(s) }

// broken cuts a statement behind commas and semicolons.
func broken(s, end string) string {
	var b strings.Builder
	for columns(s) > breakWidth {
		cut := -1
		for i := 0; i < len(s); i++ {
			if s[i] != ' ' || i == 0 || s[i-1] != ',' && s[i-1] != ';' {
				continue
			}
			if cut > 0 && columns(s[:i]) > breakWidth {
				break
			}
			cut = i
		}
		if cut < 0 {
			break
		}
		b.WriteString(s[:cut] + end)
		s = indent + s[cut+1:]
	}
	return b.String() + s
}

func trimmed(s string) string {
	return strings.TrimFunc(s, func(r rune) bool { return r < 0x80 && isSpace(byte(r)) })
}

func (p *printer) label(lb *label, c content, n Node) string {
	r, ok := n.(*Round)
	switch {
	case !ok && c.key.Written():
		return lb.name + " " + p.yarn(c.key.Text)
	case !ok:
		return lb.name
	}
	out := p.rounds(r.Row, r.From, r.To, "-")
	switch r.Side {
	case SideRight:
		out += " (RS)"
	case SideWrong:
		out += " (WS)"
	}
	return out
}

// rounds prints "Rnd 5" or "Rows 2-4", with what stands between two numbers.
func (p *printer) rounds(row bool, from, to Count, between string) string {
	word := "Rnd"
	if row {
		word = "Row"
	}
	if to.N == from.N {
		return word + " " + p.digits(from)
	}
	return word + "s " + p.digits(from) + between + p.digits(to)
}

// digits prints a count, and one that is too large to be held as it is written.
func (p *printer) digits(c Count) string {
	if s := c.In(p.text); c.N >= MaxCount && allDigits(s) {
		return s
	}
	return strconv.Itoa(int(c.N))
}

// action prints an action as it is written, in one line, its verb as at the
// start of a sentence and its commas as in one.
func (p *printer) action(a *Action) string {
	s := p.text[:p.note]
	if y := a.Yarn; y.Written() {
		s = s[:y.Start] + p.yarn(y.Text) + s[y.End:]
	}
	s = tight(spaced(s))
	_, n, _ := verbOf(s)
	return strings.ToUpper(s[:1]) + strings.ToLower(s[1:n]) + s[n:]
}

// yarn prints the key of a yarn as the yarn is listed. One letter is a capital,
// and so are the usual short forms of main and contrasting color.
func (p *printer) yarn(key string) string {
	if listed := p.yarns[YarnKey(key)]; listed != "" {
		key = listed
	}
	if upper := strings.ToUpper(key); len(key) == 1 || upper == "MC" || strings.HasPrefix(upper, "CC") && allDigits(upper[2:]) {
		return upper
	}
	return key
}

// tight is a text without blanks before commas, semicolons and the full stops
// of sentences, and with one behind a comma or semicolon that a word follows.
func tight(s string) string {
	var b strings.Builder
	for i := range len(s) {
		c, next := s[i], byte(' ')
		if i+1 < len(s) {
			next = s[i+1]
		}
		if c == ' ' && (next == ',' || next == ';' || next == '.' && (i+2 == len(s) || s[i+2] == ' ')) {
			continue
		}
		b.WriteByte(c)
		if (c == ',' || c == ';') && isLetter(next) {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// same says whether two trees mean the same: where things stand in the line
// does not matter, nor how a stitch is spelled.
func (p *printer) same(a, b reflect.Value) bool {
	if a.Type() != b.Type() {
		return false
	}
	switch x := a.Interface().(type) {
	case Span:
		return true
	case Name:
		return p.sameName(x.Text, b.Interface().(Name).Text)
	case *Action:
		y := b.Interface().(*Action)
		return x.Verb == y.Verb && strings.EqualFold(tight(plainly(x.Rest.Text)), tight(plainly(y.Rest.Text))) && p.sameName(x.Yarn.Text, y.Yarn.Text) &&
			p.same(reflect.ValueOf(x.Count), reflect.ValueOf(y.Count)) && p.sameName(x.Thing.Text, y.Thing.Text) && p.same(reflect.ValueOf(x.Where), reflect.ValueOf(y.Where))
	case Ref:
		y := b.Interface().(Ref)
		if s := x.Known(p.sys); s != nil && s == y.Known(p.sys) {
			return true
		}
		return terms.Key(plainly(x.Text)) == terms.Key(plainly(y.Text))
	case Count:
		y := b.Interface().(Count)
		return x.N == y.N && x.Written() == y.Written()
	case *Terms:
		return x.System == b.Interface().(*Terms).System
	case *Worked:
		return x.Mode == b.Interface().(*Worked).Mode
	case *Skill:
		return strings.EqualFold(plainly(x.Level.Text), plainly(b.Interface().(*Skill).Level.Text))
	case *Size:
		return p.same(reflect.ValueOf(x.Dims), reflect.ValueOf(b.Interface().(*Size).Dims))
	case *Total:
		y := b.Interface().(*Total)
		if x != nil && y != nil && len(x.Parts) == 1 && len(y.Parts) == 1 { // (18 sts) is (18)
			n, bare := x.Bare()
			m, too := y.Bare()
			if bare && too {
				return n.N == m.N
			}
		}
	}
	switch a.Kind() {
	case reflect.Pointer:
		return a.IsNil() == b.IsNil() && (a.IsNil() || p.same(a.Elem(), b.Elem()))
	case reflect.Slice:
		for i := range min(a.Len(), b.Len()) {
			if !p.same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return a.Len() == b.Len()
	case reflect.Struct:
		for i := range a.NumField() {
			x, y := a.Field(i), b.Field(i)
			if c, ok := x.Interface().(Count); ok && a.Type().Field(i).Name == "To" { // Rnds 5-5 is Rnd 5
				if c.N != y.Interface().(Count).N {
					return false
				}
			} else if !p.same(x, y) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}

// sameName says whether two names are one but for blanks and signs, or for the
// case of a yarn's key.
func (p *printer) sameName(a, b string) bool {
	return tight(plainly(a)) == tight(plainly(b)) || p.yarn(a) == p.yarn(b)
}

// plainSigns are the signs that word processors put in, and what is typed for them.
var plainSigns = strings.NewReplacer("×", "x", "✕", "x", "✖", "x", "–", "-", "—", "-", "‐", "-", "‑", "-", "‒", "-", "−", "-",
	"“", "\"", "”", "\"", "„", "\"", "″", "\"", "‘", "'", "’", "'", "′", "'")

// plainly is a text with plain signs and single blanks.
func plainly(s string) string { return plainSigns.Replace(spaced(s)) }

// spaced is a text with single blanks. Names that other lines may call by keep
// their signs, so that all of them stay alike.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// content prints what stands behind a label.
func (p *printer) content(n Node, c content) string {
	switch n := n.(type) {
	case *Round:
		return p.round(n)
	case *Text:
		return n.Content.Text
	case *Terms:
		return n.System.String()
	case *Skill:
		if _, _, ok := terms.LevelByName(n.Level.Text); ok {
			return strings.ToLower(spaced(n.Level.Text))
		}
		return spaced(n.Level.Text)
	case *Gauge:
		return p.gauge(n)
	case *Hook:
		return p.hook(n, c.trimmed().Span)
	case *TurningChain:
		return p.turningChain(n)
	case *Yarn:
		run := n.Metres.Start
		if run < n.Grams.End { // 50 g / 125 m
			run = n.Grams.Start
		}
		return p.tidy(c.trimmed().Span, n.Weight.Start, n.Grams.Start, run, n.Balls.Start)
	case *Notion:
		return p.notion(n)
	case *OwnStitch:
		return p.ownStitch(n)
	case *Piece:
		out := tight(spaced(n.Name.Text))
		if n.Make.Written() {
			out += " (make " + p.digits(n.Make) + ")"
		}
		return out
	case *Worked:
		return [...]string{ModeSpiral: "in a spiral", ModeJoined: "in joined rounds", ModeRows: "in rows"}[n.Mode]
	case *With:
		return p.with(n)
	case *Sew:
		out := tight(n.Part.Text)
		if n.Times.Written() {
			out += " x " + p.digits(n.Times)
		}
		return out + " to " + tight(n.To.Text) + p.wheres(n.Where)
	case *PlaceThing:
		out := tight(n.Thing.Text) + " on " + tight(n.On.Text) + p.wheres(n.Where)
		if n.Count.Written() {
			out = p.digits(n.Count) + " " + out
		}
		return out
	case *Embroider:
		return tight(spaced(Span{c.trimmed().Start, n.What.End}.In(p.text))) + " on " + tight(n.On.Text) + p.wheres(n.Where)
	}
	return p.tidy(c.trimmed().Span)
}

// tidy prints a part of a statement as it is written, with single blanks and
// plain signs: "50g/125m" as "50 g / 125 m". A comma is put before what starts
// at one of the offsets.
func (p *printer) tidy(s Span, commas ...int32) string {
	var b strings.Builder
	at, before := s.Start, Token{}
	for i, t := range p.in(s) {
		gap := p.text[at:t.Start]
		words := spaced(gap) // articles are no tokens
		blank := gap != "" && (words != "" || strings.TrimSpace(gap) == "")
		if i > 0 && slices.Contains(commas, t.Start) && before.Kind != Comma && before.Kind != Semicolon {
			b.WriteByte(',')
			blank = true
		}
		switch {
		case i == 0:
			blank = false
		case t.Kind == Comma, t.Kind == Semicolon, t.Kind == Close:
			blank = words != ""
		case before.Kind == Open:
			blank = false
		case before.Kind == Comma && !(t.Kind == Number && !blank), before.Kind == Semicolon:
			blank = true
		case before.Kind == Number && p.isUnit(t), before.Kind == Number && t.is(KeyX), before.is(KeyX) && t.Kind == Number,
			before.Kind == Slash && t.Kind == Number && strings.HasSuffix(b.String(), " /"):
			blank = true
		case t.Kind == Slash && p.isUnit(before):
			blank = p.behind(t.Span).Kind == Number || blank
		}
		if blank {
			b.WriteByte(' ')
		}
		if words != "" {
			b.WriteString(words + " ")
		}
		b.WriteString(plainly(t.In(p.text)))
		at, before = t.End, t
	}
	if rest := plainly(p.text[min(at, s.End):s.End]); rest != "" {
		b.WriteString(" " + rest)
	}
	return strings.TrimSpace(b.String())
}

// isUnit says whether a token is a unit of length or of weight.
func (p *printer) isUnit(t Token) bool {
	if t.Kind != Word && t.Kind != Keyword {
		return false
	}
	w := strings.ToLower(t.In(p.text))
	_, short := millimetres[w]
	_, long := unitNames[w]
	return short || long || w == "g" || w == "gram" || w == "grams" || w == "oz" || w == "ounces"
}
