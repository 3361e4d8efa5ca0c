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

// node explains the place by the kind of statement that it is in.
func (e *explainer) node() {
	if e.on(e.line.Note) {
		e.allowed()
		return
	}
	switch n := e.line.Node.(type) {
	case *grammar.Round:
		e.round(n)
	case *grammar.OwnStitch:
		if e.on(n.Abbr.Span) || e.on(n.Full.Span) {
			e.ownStitch(n)
			return
		}
		e.steps(n.Steps, nil, nil)
	case *grammar.Piece:
		if said := (grammar.Span{End: saidEnd(e.line)}); e.on(said) {
			e.piece(n.Name.Text, said)
		}
	case *grammar.With:
		for _, y := range n.Yarns {
			e.yarn(y)
		}
		if n.Hook != nil {
			e.hook(n.Hook)
		}
	case *grammar.Yarn:
		e.yarnLine(n)
	case *grammar.Hook:
		e.hook(n)
	case *grammar.Gauge:
		e.gauge(n)
	case *grammar.Size:
		e.size(n)
	case *grammar.Terms:
		if e.on(n.Value.Span) {
			e.found(n.Value.Span, termsPage(n.System))
		}
	case *grammar.Skill:
		if l, _, ok := terms.LevelByName(n.Level.Text); ok && e.on(n.Level.Span) {
			e.found(n.Level.Span, explained(lint.ExplainLevel(l)))
		}
	case *grammar.TurningChain:
		for _, r := range n.Rules {
			e.stitch(r.Stitch)
		}
	case *grammar.Worked:
		e.worked(n)
	default:
		e.making()
	}
}

// making explains the lines of the making up, and what is done between rounds.
func (e *explainer) making() {
	switch n := e.line.Node.(type) {
	case *grammar.Action:
		_ = e.yarn(n.Yarn) || e.wheres(n.Where, e.pieceHere())
	case *grammar.Sew:
		_ = e.pieceAt(n.Part) || e.pieceAt(n.To) || e.wheres(n.Where, e.pieceNamed(n.To.Text))
	case *grammar.PlaceThing:
		_ = e.pieceAt(n.On) || e.wheres(n.Where, e.pieceNamed(n.On.Text))
	case *grammar.Embroider:
		_ = e.pieceAt(n.On) || e.wheres(n.Where, e.pieceNamed(n.On.Text))
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
	if r := lint.RuleNamed(strings.ToLower(text[start:end])); r != nil && int(e.in) < end {
		e.found(grammar.Span{Start: int32(start), End: int32(end)}, rulePageShort(r))
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
		p.say("Repair: " + r.Repair)
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

// stitch explains a stitch's name.
func (e *explainer) stitch(r grammar.Ref) bool {
	if !e.on(r.Span) {
		return false
	}
	s := e.p.Find(r)
	return s != nil && e.found(r.Span, stitchPage(e.p, s))
}

func (e *explainer) ownStitch(n *grammar.OwnStitch) {
	for _, own := range e.p.Own {
		if own.Node == n {
			span := n.Abbr.Span
			if !e.on(span) {
				span = n.Full.Span
			}
			e.found(span, stitchPage(e.p, own.Stitch))
		}
	}
}
