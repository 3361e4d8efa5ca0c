package lsp

import (
	"context"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.HoverProvider = protocol.Boolean(true)
})

// Hover explains what stands at a place, with the arithmetic of just that place.
func (s *Server) Hover(ctx context.Context, p *protocol.HoverParams) (*protocol.Hover, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	e := explainerAt(doc, doc.Offset(p.Position))
	if len(e.page) == 0 {
		return nil, nil
	}
	where := doc.Span(e.at, e.span)
	return &protocol.Hover{Contents: s.client.content(e.page), Range: &where}, nil
}

// explainer looks for what stands at one place of a statement. What it finds
// is its page, and the span that the page is about.
type explainer struct {
	p    *fabric.Pattern
	at   int
	line *grammar.Line
	in   int32

	page page
	span grammar.Span
}

// explainerAt has looked at a byte of a document.
func explainerAt(doc *Snapshot, offset int) *explainer {
	at, line, in := doc.Statement(offset)
	e := &explainer{p: doc.Pattern(), at: at, line: line, in: int32(in)}
	e.node()
	return e
}

// on says whether a span is written and holds the place.
func (e *explainer) on(s grammar.Span) bool { return s.Written() && s.Start <= e.in && e.in < s.End }

// found takes a page over, and says whether there is one.
func (e *explainer) found(s grammar.Span, p page) bool {
	if len(p) == 0 {
		return false
	}
	e.page, e.span = p, s
	return true
}

// node explains the place by the kind of statement that it is in, and where
// that says nothing by its word alone.
func (e *explainer) node() {
	if e.on(e.line.Note) {
		e.allowed()
		return
	}
	if e.label() {
		return
	}
	e.statement()
	if len(e.page) == 0 {
		e.word()
	}
}

func (e *explainer) statement() {
	sys := e.p.Header.System
	switch n := e.line.Node.(type) {
	case *grammar.Round:
		e.round(n)
	case *grammar.OwnStitch:
		e.ownStitch(n)
	case *grammar.Piece:
		e.pieceLine(n)
	case *grammar.With:
		e.with(n)
	case *grammar.Yarn:
		e.yarnLine(n)
	case *grammar.Hook:
		e.hook(n)
	case *grammar.Gauge:
		e.gauge(n)
	case *grammar.Size:
		e.size(n)
	case *grammar.Notion:
		e.notion(n)
	case *grammar.Terms:
		if e.on(n.Value.Span) {
			e.found(n.Value.Span, termsPage(n.System))
		}
	case *grammar.Skill:
		if l, _, ok := terms.LevelByName(n.Level.Text); ok && e.on(n.Level.Span) {
			l.Says = spelled(sys, l.Says)
			e.found(n.Level.Span, explained(lint.ExplainLevel(l)))
		}
	case *grammar.TurningChain:
		e.turningChain(n)
	case *grammar.Worked:
		e.worked(n)
	case *grammar.Action:
		e.action(n)
	case *grammar.Text:
		if n.Label == grammar.LabelPattern && e.on(n.Content.Span) {
			if p := patternPage(e.p); len(p) > 0 {
				p = append(page{{head: n.Content.Text, text: "."}}, p...)
				e.found(n.Content.Span, p)
			}
		}
	default:
		e.making()
	}
}

// allowed explains a rule that a comment allows.
func (e *explainer) allowed() {
	text := e.line.Text
	said := strings.TrimLeft(e.line.Note.In(text), "/ \t")
	if len(said) < len("allow") || !strings.EqualFold(said[:len("allow")], "allow") {
		return
	}
	start, end := int(e.in), int(e.in)
	for start > 0 && ofRuleName(text[start-1]) {
		start--
	}
	for end < len(text) && ofRuleName(text[end]) {
		end++
	}
	word := grammar.Span{Start: int32(start), End: int32(end)}
	switch r := lint.RuleNamed(strings.ToLower(text[start:end])); {
	case int(e.in) >= end:
	case r != nil:
		e.found(word, rulePageShort(r))
	case strings.EqualFold(text[start:end], "allow"):
		var p page
		p.head("allow", ": what these rules find is not reported: at a line's end there, on a line of its own for the next statement, as \"allow file:\" in the whole file. Words behind -- say why.")
		e.found(word, p)
	}
}

func ofRuleName(c byte) bool {
	return c == '-' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}

func rulePageShort(r *lint.Rule) page {
	var p page
	p.head(r.Name, " ("+r.Severity.String()+"): "+r.Summary)
	p.say(r.Why)
	p.say("Found:")
	p.pattern(r.Bad)
	p.say("Right:")
	p.pattern(r.Good)
	if r.Repair != "" {
		var says []string
		for _, sentence := range strings.SplitAfter(r.Repair, ". ") {
			if !strings.Contains(sentence, "--fix") { // that is of the command
				says = append(says, strings.TrimSpace(sentence))
			}
		}
		p.say("Repair: " + strings.Join(says, " "))
	}
	return p
}

// piece explains a piece by its name, case apart.
func (e *explainer) piece(name string, span grammar.Span) bool {
	if x := e.pieceNamed(name); x != nil {
		return e.found(span, piecePage(e.p, x))
	}
	return false
}

func (e *explainer) pieceAt(n grammar.Name) bool { return e.on(n.Span) && e.piece(n.Text, n.Span) }

// pieceNamed finds a piece; on a Piece line the one that begins there. "Feelers"
// finds "Feeler".
func (e *explainer) pieceNamed(name string) *fabric.Piece {
	key := terms.Key(strings.TrimSpace(name))
	var likely *fabric.Piece
	for _, x := range e.p.Pieces {
		k := terms.Key(x.Name)
		switch {
		case x.At == e.at, k == key && k != "":
			return x
		case k != "" && key == k+"s":
			likely = x
		}
	}
	return likely
}

// pieceHere is the piece that the statement belongs to, or nil.
func (e *explainer) pieceHere() *fabric.Piece {
	var here *fabric.Piece
	for _, x := range e.p.Pieces {
		if x.At <= e.at && e.at < x.At+len(x.Lines) {
			here = x
		}
	}
	return here
}

// stitch explains a stitch's name. A word that names none is explained as
// such, where one must stand.
func (e *explainer) stitch(r grammar.Ref) bool {
	if !e.on(r.Span) {
		return false
	}
	sys := e.p.Header.System
	s := e.p.Find(r)
	switch other := r.Known(sys.Other()); {
	case s == nil:
		return e.found(r.Span, e.strangePage(r.Text))
	case !s.Own && r.Known(sys) == nil && other != nil:
		return e.found(r.Span, e.foreignPage(r.Text, other))
	}
	return e.found(r.Span, stitchPage(e.p, e.pieceHere(), s))
}

// ownStitch explains a line that defines a stitch.
func (e *explainer) ownStitch(n *grammar.OwnStitch) {
	if !e.on(n.Abbr.Span) && !e.on(n.Full.Span) && e.steps(n.Steps, nil, nil) {
		return
	}
	for _, own := range e.p.Own {
		if own.Node == n && own.Stitch != nil && e.on(n.Span) {
			e.found(n.Span, stitchPage(e.p, nil, own.Stitch))
		}
	}
}

// pieceLine explains what a part comes to.
func (e *explainer) pieceLine(n *grammar.Piece) {
	x := e.pieceNamed(n.Name.Text)
	span := grammar.Span{Start: n.Name.Start, End: saidEnd(e.line)}
	if x == nil || !n.Name.Written() || !e.on(span) {
		return
	}
	e.found(span, piecePage(e.p, x))
}

// turningChain explains what is said of chains that begin a round or row.
func (e *explainer) turningChain(n *grammar.TurningChain) {
	for _, r := range n.Rules {
		if e.stitch(r.Stitch) {
			return
		}
	}
	if !e.on(n.Span) {
		return
	}
	var p page
	if n.All {
		p.head("Turning chain", ": "+standingWords(n.Not))
	}
	for _, r := range n.Rules {
		p.head(r.Stitch.Text, ": "+standingWords(r.Not))
	}
	e.found(n.Span, p)
}
