package lsp

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/fabric"
	"workeven/grammar"
)

// hints are the settings of the hints, one for each kind.
type hints struct {
	// Totals stand behind each round, Repeats behind brackets and stars, Ranges
	// behind the label of several rounds, Pieces behind a Piece line.
	Totals  bool `json:"totals"`
	Repeats bool `json:"repeats"`
	Ranges  bool `json:"ranges"`
	Pieces  bool `json:"pieces"`
}

var hintSettings = section("hints", hints{Totals: true, Repeats: true, Ranges: true, Pieces: true})

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.InlayHintProvider = &protocol.InlayHintOptions{ResolveProvider: new(true)}
})

// hint is one that is to be shown behind a byte of a statement.
type hint struct {
	statement int
	at        int32
	// parts are its text; a part may lead to a place.
	parts []hintPart
	// total, where set, is a total that can be written into the text in place of
	// the hint, at the byte totalAt.
	total   string
	totalAt int32
	// page says how the text was reckoned; it is written when asked for.
	page func() page
}

type hintPart struct {
	text string
	// leads is set where the part leads to the statement to.
	leads bool
	to    int
}

// label is the text of a hint.
func (h *hint) label() string {
	if len(h.parts) == 1 {
		return h.parts[0].text
	}
	var b strings.Builder
	for _, p := range h.parts {
		b.WriteString(p.text)
	}
	return b.String()
}

func plainHint(text string) []hintPart { return []hintPart{{text: text}} }

// hintKey finds a hint again, to explain it.
type hintKey struct {
	Doc     uri.URI `json:"doc"`
	Version int32   `json:"version"`
	Offset  int     `json:"offset"`
	Label   string  `json:"label"`
}

// InlayHint shows what the lines of a range come to. Lines outside it are not
// looked at, but for those of a piece whose Piece line is in it.
func (s *Server) InlayHint(ctx context.Context, p *protocol.InlayHintParams) ([]protocol.InlayHint, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	start, end := doc.Bytes(p.Range)
	first, last := doc.File.LineAt(start), doc.File.LineAt(end)
	out := []protocol.InlayHint{}
	set := hintSettings(s.seen(ctx))
	at := hintsIn{doc: doc, set: set}
	for i := first; i <= last; i++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, h := range at.statement(i) {
			offset := doc.File.Start(i) + int(h.at)
			if offset < start || offset > end {
				continue
			}
			x, err := s.hint(doc, &h, offset)
			if err != nil {
				return nil, err
			}
			out = append(out, x)
		}
	}
	return out, nil
}

// hint is a hint as the client takes it, explained at once where the client
// cannot ask later.
func (s *Server) hint(doc *Snapshot, h *hint, offset int) (protocol.InlayHint, error) {
	label := h.label()
	x := protocol.InlayHint{Position: doc.Position(offset), Label: protocol.String(label), PaddingLeft: new(true)}
	if slices.ContainsFunc(h.parts, func(p hintPart) bool { return p.leads }) {
		var parts protocol.InlayHintLabelPartSlice
		for _, p := range h.parts {
			part := protocol.InlayHintLabelPart{Value: p.text}
			if p.leads {
				line := doc.File.Lines[p.to]
				part.Location = protocol.Location{URI: doc.URI, Range: doc.Span(p.to, grammar.Span{End: saidEnd(line)})}
			}
			parts = append(parts, part)
		}
		x.Label = parts
	}
	if h.total != "" {
		at := doc.Position(doc.File.Start(h.statement) + int(h.totalAt))
		x.TextEdits = []protocol.TextEdit{{Range: protocol.Range{Start: at, End: at}, NewText: h.total}}
	}
	if !s.client.asksForTooltips() {
		x.Tooltip = s.client.content(h.page())
		return x, nil
	}
	key, err := protocol.Marshal(hintKey{doc.URI, doc.Version, offset, label})
	x.Data = key
	return x, err
}

func (c *client) asksForTooltips() bool {
	t := c.TextDocument
	return t != nil && t.InlayHint != nil && slices.Contains(t.InlayHint.ResolveSupport.Properties, "tooltip")
}

// InlayHintResolve explains a hint. One of a version that is gone stays as it is.
func (s *Server) InlayHintResolve(ctx context.Context, p *protocol.InlayHint) (*protocol.InlayHint, error) {
	var key hintKey
	if len(p.Data) == 0 || protocol.Unmarshal(p.Data, &key) != nil {
		return p, nil
	}
	doc := s.seen(ctx).docs[key.Doc]
	if doc == nil || doc.Version != key.Version {
		return p, nil
	}
	at, _, in := doc.Statement(key.Offset)
	hints := hintsIn{doc: doc, set: hintSettings(s.seen(ctx))}
	for _, h := range hints.statement(at) {
		if int(h.at) == in && h.label() == key.Label {
			p.Tooltip = s.client.content(h.page())
			break
		}
	}
	return p, nil
}

// hintsIn makes the hints of one request.
type hintsIn struct {
	doc *Snapshot
	set hints
	// tried is how many rounds that cannot be read were worked as far as they can.
	tried int
}

// mostTried bounds that: while a pattern is typed one round is unfinished, and
// each has to be worked anew.
const mostTried = 4

// statement are the hints of one statement, in the order of their places.
func (x *hintsIn) statement(at int) []hint {
	p := x.doc.Pattern()
	if _, ok := p.File.Lines[at].Node.(*grammar.Piece); ok && x.set.Pieces {
		return pieceHint(p, at)
	}
	if _, ok := p.File.Lines[at].Node.(*grammar.Round); !ok {
		return nil
	}
	piece, r := p.RoundAt(at)
	if r == nil {
		return nil
	}
	about := func() page { return roundPage(p, piece, r) }
	var out []hint
	if x.set.Ranges && r.Known && r.RoundsWorked > 1 {
		if n, ok := inAll(p, piece, r); ok {
			label := fmt.Sprintf("%d %s, %s in all", r.RoundsWorked, rounds(r, r.RoundsWorked), stitchCount(n))
			out = append(out, hint{statement: at, at: r.Node.Label.End, parts: plainHint(label), page: about})
		}
	}
	if x.set.Repeats {
		out = append(out, repeatHints(p, piece, r, at)...)
	}
	if x.set.Totals {
		if h := x.total(piece, r, at); len(h.parts) > 0 {
			h.statement, h.at = at, saidEnd(r.Line)
			if h.page == nil {
				h.page = about
			}
			out = append(out, h)
		}
	}
	return out
}

// total stands behind a round: what it makes, or how far it has come.
func (x *hintsIn) total(piece *fabric.Piece, r *fabric.Round, at int) hint {
	if !r.Known {
		return x.unfinished(piece, r, at)
	}
	if n, onto := had(r); onto && r.Takes == 0 && r.Makes == 0 && len(r.Spaces) == 0 && r.Node.Total == nil {
		return toWork(r, n) // no more than the chain stands there
	}
	h := hint{}
	text := totalLabel(x.doc.Pattern(), piece, r)
	if text == "" {
		return h
	}
	h.parts = leading(piece, r, text)
	if n := len(r.Node.Steps); len(r.Problems) == 0 && r.Node.Total == nil && n > 0 && len(r.Spaces) == 0 {
		h.total, h.totalAt = " ("+number(r.Makes)+")", r.Node.Steps[n-1].Span.End
	}
	return h
}

// toWork is for a round of which nothing is worked yet.
func toWork(r *fabric.Round, n int64) hint {
	return hint{parts: plainHint(number(n) + " to work"), page: func() page {
		return saying(r.Name() + ": " + stitchCount(n) + " of the " + rounds(r, 1) + " below to work into.")
	}}
}

// leading has a text that tells of stitches of the round below lead there.
func leading(piece *fabric.Piece, r *fabric.Round, text string) []hintPart {
	count, rest, ok := strings.Cut(text, " worked")
	i := slices.Index(piece.Rounds, r)
	if !ok || i < 1 || !strings.Contains(count, " of ") {
		return plainHint(text)
	}
	return []hintPart{{text: count, leads: true, to: piece.At + piece.Rounds[i-1].Off}, {text: " worked" + rest}}
}

// unfinished is for a round that cannot be counted as a whole: as far as it can.
func (x *hintsIn) unfinished(piece *fabric.Piece, r *fabric.Round, at int) hint {
	colon := strings.IndexByte(r.Line.Text, ':')
	end := int(saidEnd(r.Line))
	n, onto := had(r)
	if colon < 0 || end <= colon || x.tried == mostTried {
		return hint{}
	}
	if r.Node.Total != nil {
		end = int(r.Node.Total.Span.Start)
	}
	if strings.TrimSpace(r.Line.Text[colon+1:end]) == "" {
		if !onto || r.Node.Total != nil {
			return hint{}
		}
		return toWork(r, n)
	}
	x.tried++
	done, stop := x.doc.countable(at, colon+1, end)
	if done == nil {
		return hint{}
	}
	rest := strings.Trim(r.Line.Text[stop:end], " \t\n\r,;.")
	text := workedOf(done.Takes, n)
	switch {
	case !onto && done.Makes == 0:
		return hint{}
	case !onto:
		text = number(done.Makes) + " made so far"
	case !isLastStep(rest): // what comes behind is not worked out
		if done.Takes == 0 {
			return hint{}
		}
		text = fmt.Sprintf("%d of %d worked, then it cannot be counted", done.Takes, n)
	}
	about := func() page { return saying(r.Name() + ", as far as it can be counted: " + text + ".") }
	return hint{parts: leading(piece, r, text), page: about}
}

// isLastStep says whether words that cannot be read may be the last step, half
// typed: no other step nor the end of a bracket stands behind them.
func isLastStep(words string) bool {
	return strings.Trim(words, ")]} x") == "" || !strings.ContainsAny(words, ",;)]}")
}

func saying(text string) (p page) {
	p.say(text)
	return p
}

// workedOf says how many of the stitches below are worked, and what is left.
func workedOf(takes, below int64) string {
	switch left := below - takes; {
	case left > 0:
		return fmt.Sprintf("%d of %d worked, %d left", takes, below, left)
	case left < 0:
		return fmt.Sprintf("%d of %d worked, %d too many", takes, below, -left)
	}
	return fmt.Sprintf("all %d worked", below)
}

// saidEnd is where what a statement says ends, before a comment.
func saidEnd(l *grammar.Line) int32 {
	said := l.Text
	if l.Note.Written() {
		said = said[:l.Note.Start]
	}
	return int32(len(strings.TrimRight(said, " \t")))
}

// totalLabel is what stands behind a round; empty where nothing is known.
func totalLabel(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) string {
	n, onto := had(r)
	if x := slip(r); x != nil {
		left := n - r.Takes // of a range these are of the first round; the slip may be of another
		switch {
		case ofTotal(x):
		case x.Kind == fabric.RepeatDoesNotFit && onto && left == 0 && wholeRepeats(p, piece, r, n) > 0:
			return workedOf(wholeRepeats(p, piece, r, n), n)
		case x.Kind == fabric.StitchesLeft && onto && left > 0, x.Kind == fabric.RepeatDoesNotFit && onto && left > 0, x.Kind == fabric.TooManyWorked && onto && left < 0:
			return workedOf(r.Takes, n)
		case x.Kind == fabric.RepeatDoesNotFit:
			return "the repeat does not come out" + inRound(r, x)
		case x.Kind == fabric.StitchesLeft:
			return "not all worked" + inRound(r, x)
		case x.Kind == fabric.TooManyWorked:
			return "too many worked" + inRound(r, x)
		default:
			return ""
		}
	}
	if !r.Known {
		return ""
	}
	if slip(r) == nil && len(r.Problems) > 0 && onto && 0 < r.Takes && r.Takes < n { // makers may read it otherwise
		return workedOf(r.Takes, n)
	}
	label := "→ " + number(r.Makes)
	spaces := int64(0)
	for _, s := range r.Spaces {
		spaces += s.N
	}
	if spaces > 0 {
		label += " and " + count(spaces, "sp", "sps")
	}
	if onto {
		label += " (" + changed(r.Makes-n) + ")"
	}
	if stated, ok := p.StatedStitches(r.Node.Total); ok && slip(r) != nil && stated != r.Makes {
		label += ", " + number(stated) + " stated"
	}
	return label
}

// wholeRepeats is how many of the stitches below are worked where a repeat that
// should come out is worked as often as it wholly can; 0 where that is not known.
func wholeRepeats(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round, below int64) int64 {
	for _, x := range p.Explain(piece, r) {
		if g := x.Step.Group; g != nil && g.Times.Kind == grammar.TimesFill && x.Each > 0 && x.To >= below {
			return x.From - 1 + (below-x.From+1)/x.Each*x.Each
		}
	}
	return 0
}

// inRound names the round of a range that a slip is in, as its message does.
func inRound(r *fabric.Round, x *fabric.Problem) string {
	words := strings.Fields(x.Message)
	if r.RoundsWorked < 2 || len(words) < 2 || words[0]+" " != fabric.RoundName(r.Node.Row, 0)[:4] {
		return ""
	}
	return " in " + words[0] + " " + words[1]
}

// repeatHints stand behind the brackets and stars of a round.
func repeatHints(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round, at int) []hint {
	if !slices.ContainsFunc(r.Node.Steps, func(s grammar.Step) bool { return s.Group != nil }) {
		return nil
	}
	by := explainedSteps(p, piece, r)
	var out []hint
	var walk func(steps []grammar.Step)
	walk = func(steps []grammar.Step) {
		for i := range steps {
			s := &steps[i]
			if s.Group == nil {
				continue
			}
			walk(s.Group.Steps)
			x, worked := by[s]
			if takes, makes, _, ok := once(x); worked && ok && !misses(r, s.Span) {
				label := fmt.Sprintf("%d → %d", takes, makes)
				if takes == 0 {
					label = fmt.Sprintf("→ %d", makes)
				}
				out = append(out, hint{statement: at, at: s.Span.End, parts: plainHint(label), page: func() page { return repeatPage(r, x) }})
			}
		}
	}
	walk(r.Node.Steps)
	slices.SortStableFunc(out, func(a, b hint) int { return int(a.at) - int(b.at) })
	return out
}

// misses says whether something in a part of a round has no place to go into, so
// that the part cannot be counted.
func misses(r *fabric.Round, in grammar.Span) bool {
	return slices.ContainsFunc(r.Problems, func(x fabric.Problem) bool { return x.Kind == fabric.NoSuchPlace && overlaps(x.Span, in) })
}

// pieceHint stands behind a Piece line that has rounds.
func pieceHint(p *fabric.Pattern, at int) []hint {
	i, ok := slices.BinarySearchFunc(p.Pieces, at, func(x *fabric.Piece, at int) int { return x.At - at })
	if !ok || len(p.Pieces[i].Rounds) == 0 {
		return nil
	}
	piece := p.Pieces[i]
	f, m := factsOf(p, piece), measuresOf(p)
	text, least := roundsAndRows(f.rounds, f.rows), ""
	if f.sure {
		text += ", " + stitchCount(f.stitches)
	}
	if !f.counted {
		least = "at least "
	}
	parts := plainHint(text)
	if f.sized {
		parts = append(parts, hintPart{text: ", "}, toHeader(p, hintPart{text: m.size(f.size)}, f.size.Gauge.Gauge))
	}
	for _, u := range f.yarns {
		yarn := least + m.yarn(u.Mean)
		if u.Key == "" {
			parts = append(parts, hintPart{text: ", " + yarn + forAll(piece)})
			continue
		}
		parts = append(parts, hintPart{text: ", " + yarn + " of "}, toHeader(p, hintPart{text: u.Key}, u.Yarn))
		if all := forAll(piece); all != "" {
			parts = append(parts, hintPart{text: all})
		}
	}
	return []hint{{statement: at, at: saidEnd(piece.Lines[0]), parts: parts, page: func() page { return piecePage(p, piece) }}}
}

// toHeader has a part of a hint lead to the statement of the header that a node is of.
func toHeader(p *fabric.Pattern, part hintPart, node grammar.Node) hintPart {
	for _, s := range p.Header.Lines {
		if s.Line.Node == node {
			part.leads, part.to = true, s.At
		}
	}
	return part
}
