package lsp

import (
	"context"
	"encoding/binary"
	"encoding/hex"
	"hash/fnv"
	"slices"
	"strings"
	"sync"
	"unicode"

	"go.lsp.dev/protocol"

	"workeven/grammar"
)

// The legend: types and modifiers of the protocol's own, so that every color
// theme knows them.
const (
	markLabel uint32 = iota
	markKeyword
	markStitch
	markNumber
	markOperator
	markYarn
	markPiece
	markText
	markComment
)

var markTypes = []string{
	markLabel:    string(protocol.SemanticTokenTypesProperty),
	markKeyword:  string(protocol.SemanticTokenTypesKeyword),
	markStitch:   string(protocol.SemanticTokenTypesFunction),
	markNumber:   string(protocol.SemanticTokenTypesNumber),
	markOperator: string(protocol.SemanticTokenTypesOperator),
	markYarn:     string(protocol.SemanticTokenTypesVariable),
	markPiece:    string(protocol.SemanticTokenTypesClass),
	markText:     string(protocol.SemanticTokenTypesString),
	markComment:  string(protocol.SemanticTokenTypesComment),
}

const (
	declares uint32 = 1 << iota
	ofGlossary
)

var markModifiers = []string{string(protocol.SemanticTokenModifiersDeclaration), string(protocol.SemanticTokenModifiersDefaultLibrary)}

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.SemanticTokensProvider = &protocol.SemanticTokensOptions{
		Legend: protocol.SemanticTokensLegend{TokenTypes: markTypes, TokenModifiers: markModifiers},
		Range:  protocol.Boolean(true),
		Full:   &protocol.SemanticTokensFullDelta{Delta: new(true)},
	}
})

// SemanticTokensFull says what every word of a document is.
func (s *Server) SemanticTokensFull(ctx context.Context, p *protocol.SemanticTokensParams) (*protocol.SemanticTokens, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	data := marked(doc, 0, len(doc.File.Lines))
	return &protocol.SemanticTokens{ResultID: new(sentMarks.keep(data)), Data: data}, nil
}

// SemanticTokensFullDelta says how the words have changed since the client asked
// last, or all of them where what it has is no longer known.
func (s *Server) SemanticTokensFullDelta(ctx context.Context, p *protocol.SemanticTokensDeltaParams) (protocol.SemanticTokensDeltaResult, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	data := marked(doc, 0, len(doc.File.Lines))
	old, known := sentMarks.get(p.PreviousResultID)
	id := sentMarks.keep(data)
	if !known {
		return &protocol.SemanticTokens{ResultID: &id, Data: data}, nil
	}
	return &protocol.SemanticTokensDelta{ResultID: &id, Edits: markEdits(old, data)}, nil
}

// SemanticTokensRange says what the words are of the statements that a range touches.
func (s *Server) SemanticTokensRange(ctx context.Context, p *protocol.SemanticTokensRangeParams) (*protocol.SemanticTokens, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	start, end := doc.Bytes(p.Range)
	from, to := doc.File.LineAt(start), doc.File.LineAt(end)
	if end > doc.File.Start(to) || to == from { // a range of whole lines ends where the next begins
		to++
	}
	return &protocol.SemanticTokens{Data: marked(doc, from, to)}, nil
}

// keptMarks is how many results are remembered.
const keptMarks = 32

// marksSent remembers the results given last, by what they hold: the same words
// have the same id, whoever asked.
type marksSent struct {
	mu   sync.Mutex
	ids  []string
	data map[string][]uint32
}

var sentMarks = marksSent{data: map[string][]uint32{}}

func (m *marksSent) keep(data []uint32) string {
	h := fnv.New128a()
	_ = binary.Write(h, binary.LittleEndian, data) // a hash takes everything
	id := hex.EncodeToString(h.Sum(nil))
	m.mu.Lock()
	defer m.mu.Unlock()
	if i := slices.Index(m.ids, id); i >= 0 {
		m.ids = slices.Delete(m.ids, i, i+1)
	}
	m.ids = append(m.ids, id)
	m.data[id] = data
	if len(m.ids) > keptMarks {
		delete(m.data, m.ids[0])
		m.ids = slices.Delete(m.ids, 0, 1)
	}
	return id
}

func (m *marksSent) get(id string) ([]uint32, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	data, ok := m.data[id]
	return data, ok
}

// markEdits is the one stretch to replace that makes one result the other, or
// none where they are the same. A token is five numbers and is never cut.
func markEdits(old, now []uint32) []protocol.SemanticTokensEdit {
	const size = 5
	head := 0
	for head < len(old) && head < len(now) && slices.Equal(old[head:head+size], now[head:head+size]) {
		head += size
	}
	tail := 0
	for tail < len(old)-head && tail < len(now)-head && slices.Equal(old[len(old)-tail-size:len(old)-tail], now[len(now)-tail-size:len(now)-tail]) {
		tail += size
	}
	if head == len(old) && head == len(now) {
		return []protocol.SemanticTokensEdit{}
	}
	return []protocol.SemanticTokensEdit{{Start: uint32(head), DeleteCount: uint32(len(old) - head - tail), Data: now[head : len(now)-tail]}}
}

// mark is what a stretch of a statement is.
type mark struct {
	grammar.Span
	kind, modifiers uint32
}

// marked are the marks of the statements from one up to another, as the protocol
// has them: five numbers each, the place relative to the one before. A mark
// that goes over several lines is cut at their ends, and begins and ends with no
// blanks.
func marked(doc *Snapshot, from, to int) []uint32 {
	n := doc.named()
	data := []uint32{}
	var last protocol.Position
	for at := from; at < to; at++ {
		l, start := doc.File.Lines[at], doc.File.Start(at)
		for _, m := range marksOf(n, at, l) {
			for begin := int(m.Start); begin < int(m.End); {
				end := int(m.End)
				if i := strings.IndexAny(l.Text[begin:end], "\r\n"); i >= 0 {
					end = begin + i
				}
				text := strings.TrimLeft(l.Text[begin:end], blanks)
				head := start + end - len(text)
				if text = strings.TrimRight(text, blanks); text != "" {
					r := doc.Range(head, head+len(text))
					line, char := r.Start.Line-last.Line, r.Start.Character
					if line == 0 {
						char -= last.Character
					}
					data = append(data, line, char, r.End.Character-r.Start.Character, m.kind, m.modifiers)
					last = r.Start
				}
				begin = end + 1
			}
		}
	}
	return data
}

const blanks = " \t"

// marksOf are the marks of one statement in order; none covers another.
func marksOf(n *names, at int, l *grammar.Line) []mark {
	var sure []mark // these go before what the words alone would be
	for _, m := range n.of(at) {
		x := mark{Span: wholeWord(l.Text, m.span), kind: [...]uint32{yarnName: markYarn, pieceName: markPiece, stitchName: markStitch}[m.of.kind]}
		if m.declares {
			x.modifiers = declares
		}
		sure = append(sure, x)
	}
	if l.Note.Written() {
		sure = append(sure, mark{l.Note, markComment, 0})
	}
	add := func(s grammar.Span, kind uint32) { sure = append(sure, mark{s, kind, 0}) }
	words, stitches := true, false // whether words are the notation's own, and stitches
	colon := strings.IndexByte(l.Text, ':')
	switch x := l.Node.(type) {
	case grammar.Blank, grammar.Comment, grammar.Bad:
		return sure
	case *grammar.Text:
		add(x.Content.Span, markText)
	case *grammar.Size:
		words = false
	case *grammar.Terms:
		add(x.Value.Span, markKeyword)
	case *grammar.Skill:
		add(x.Level.Span, markKeyword)
	case *grammar.Worked:
		add(x.Value.Span, markKeyword)
	case *grammar.Notion:
		add(x.Thing.Span, markText)
	case *grammar.PlaceThing:
		add(x.Thing.Span, markText)
		sure = appendWheres(sure, l.Text, x.Where)
	case *grammar.Embroider:
		add(x.What.Span, markText)
		sure = appendWheres(sure, l.Text, x.Where)
	case *grammar.Sew:
		sure = appendWheres(sure, l.Text, x.Where)
	case *grammar.Yarn:
		add(x.Weight.Span, markText)
		add(x.Colour.Span, markNumber)
	case *grammar.Action:
		colon = -1
		add(verbSpan(l, x), markKeyword)
		add(x.Thing.Span, markText)
		add(x.Thing.Span, markText)
		sure = appendWheres(sure, l.Text, x.Where)
	case *grammar.Round:
		stitches = true
		colon = int(x.Label.End) // the colon itself may be missing
	case *grammar.TurningChain:
		stitches = true
		sure = appendWords(sure, l.Text, x.Span)
	case *grammar.Gauge:
		stitches = true
		if x.Uses.Written() {
			sure = appendWords(sure, l.Text, grammar.Span{Start: max(x.Over.End, x.Down.End, x.Stitch.End), End: x.Uses.Start})
		}
	case *grammar.OwnStitch:
		stitches = true
	}
	if colon > 0 {
		sure = appendLabel(sure, l, int32(colon))
	}
	return inOrderOf(sure, plainMarks(l.Text, words, stitches))
}

// wholeWord is the span of a name with the ending of a plural behind it.
func wholeWord(text string, s grammar.Span) grammar.Span {
	rest := text[s.End:]
	s.End += int32(len(rest) - len(strings.TrimLeftFunc(rest, unicode.IsLetter)))
	return s
}

// appendWheres adds what a placement says: in the notation's words, or in free ones.
func appendWheres(marks []mark, text string, where []grammar.Where) []mark {
	for i := range where {
		if w := &where[i]; w.Kind == grammar.WhereFree {
			marks = append(marks, mark{w.Text.Span, markText, 0})
		} else {
			marks = appendWords(marks, text, w.Span)
		}
	}
	return marks
}

// appendWords adds the words of a stretch that only mean something there, such
// as "apart" and "centred".
func appendWords(marks []mark, text string, s grammar.Span) []mark {
	for _, t := range grammar.Tokens(s.In(text)) {
		if t.Kind == grammar.Word {
			marks = append(marks, mark{grammar.Span{Start: s.Start + t.Start, End: s.Start + t.End}, markKeyword, 0})
		}
	}
	return marks
}

// verbSpan is where an action's verb stands: up to the rest of the line.
func verbSpan(l *grammar.Line, a *grammar.Action) grammar.Span {
	s := said(l)
	if a.Rest.Written() {
		s.End = a.Rest.Start
	}
	s.End = s.Start + int32(len(strings.TrimRight(s.In(l.Text), " \t\r\n.,:")))
	return s
}

// appendLabel adds the words before the colon: the label, and the numbers and
// the key in it.
func appendLabel(marks []mark, l *grammar.Line, colon int32) []mark {
	for _, t := range grammar.Tokens(l.Text[:colon]) {
		switch x := (mark{t.Span, markLabel, 0}); {
		case t.Kind == grammar.Number:
			x.kind = markNumber
			marks = append(marks, x)
		case t.Kind == grammar.Dash, t.Kind == grammar.Open, t.Kind == grammar.Close, slices.ContainsFunc(marks, func(m mark) bool { return overlaps(m.Span, t.Span) }):
		default:
			marks = append(marks, x)
		}
	}
	return marks
}

// plainMarks is what the words of a statement are by themselves; words of the
// notation and stitches are so only where the statement is written in them. A
// number with a fraction is one.
func plainMarks(text string, words, stitches bool) []mark {
	var marks []mark
	toks := grammar.Tokens(text)
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		x := mark{Span: t.Span}
		switch t.Kind {
		case grammar.Number, grammar.Ordinal, grammar.TimesWord:
			x.kind = markNumber
			if i+2 < len(toks) && toks[i+1].Kind == grammar.Stop && toks[i+2].Kind == grammar.Number && t.End == toks[i+1].Start && toks[i+1].End == toks[i+2].Start {
				x.End = toks[i+2].End
				i += 2
			}
		case grammar.Star, grammar.Stars, grammar.Equals:
			x.kind = markOperator
		case grammar.Term, grammar.ChSpace:
			if !stitches {
				continue
			}
			x.kind, x.modifiers = markStitch, ofGlossary
		case grammar.Keyword:
			if !words {
				continue
			}
			x.kind = markKeyword
		default:
			continue
		}
		marks = append(marks, x)
	}
	return marks
}

// inOrderOf puts marks together in the order of the text. Of two that overlap
// the one that comes first in the lists cuts the other: names go before text.
func inOrderOf(sure, plain []mark) []mark {
	var out []mark
	for _, x := range append(sure, plain...) {
		out = append(out, outside(out, x)...)
	}
	slices.SortFunc(out, func(a, b mark) int { return int(a.Start - b.Start) })
	return out
}

// outside is what is left of a mark beside others; of a word that is cut, nothing.
func outside(others []mark, x mark) []mark {
	left := []mark{x}
	for _, o := range others {
		var next []mark
		for _, y := range left {
			switch {
			case !y.Written():
			case !overlaps(o.Span, y.Span):
				next = append(next, y)
			case x.kind == markText || x.kind == markKeyword && o.kind != markKeyword:
				for _, s := range [...]grammar.Span{{Start: y.Start, End: o.Start}, {Start: o.End, End: y.End}} {
					if s.Written() {
						next = append(next, mark{s, y.kind, y.modifiers})
					}
				}
			}
		}
		left = next
	}
	return slices.DeleteFunc(left, func(m mark) bool { return !m.Written() })
}

func overlaps(a, b grammar.Span) bool { return a.Start < b.End && b.Start < a.End }
