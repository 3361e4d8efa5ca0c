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
	label     string
	// page says how the label was reckoned; it is written when asked for.
	page func() page
}

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
	for at := first; at <= last; at++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, h := range hintsOf(doc.Pattern(), at, set) {
			offset := doc.File.Start(at) + int(h.at)
			if offset < start || offset > end {
				continue
			}
			x, err := s.hint(doc, h, offset)
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
func (s *Server) hint(doc *Snapshot, h hint, offset int) (protocol.InlayHint, error) {
	x := protocol.InlayHint{Position: doc.Position(offset), Label: protocol.String(h.label), PaddingLeft: new(true)}
	if !s.client.asksForTooltips() {
		x.Tooltip = s.client.content(h.page())
		return x, nil
	}
	key, err := protocol.Marshal(hintKey{doc.URI, doc.Version, offset, h.label})
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
	for _, h := range hintsOf(doc.Pattern(), at, hintSettings(s.seen(ctx))) {
		if int(h.at) == in && h.label == key.Label {
			p.Tooltip = s.client.content(h.page())
			break
		}
	}
	return p, nil
}

// hintsOf are the hints of one statement, in the order of their places.
func hintsOf(p *fabric.Pattern, at int, set hints) []hint {
	if _, ok := p.File.Lines[at].Node.(*grammar.Piece); ok && set.Pieces {
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
	if set.Ranges && r.Known && r.RoundsWorked > 1 {
		if n, ok := inAll(p, piece, r); ok {
			label := fmt.Sprintf("%d %s, %s in all", r.RoundsWorked, rounds(r, r.RoundsWorked), stitchCount(n))
			out = append(out, hint{at, r.Node.Label.End, label, about})
		}
	}
	if set.Repeats {
		out = append(out, repeatHints(p, piece, r, at)...)
	}
	if set.Totals {
		if label := totalLabel(p, r); label != "" {
			out = append(out, hint{at, saidEnd(r.Line), label, about})
		}
	}
	return out
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
func totalLabel(p *fabric.Pattern, r *fabric.Round) string {
	n, onto := had(r)
	if x := slip(r); x != nil {
		left := n - r.Takes // of a range these are of the first round; the slip may be of another
		switch {
		case ofTotal(x):
		case x.Kind == fabric.StitchesLeft && onto && left > 0, x.Kind == fabric.RepeatDoesNotFit && onto && left > 0:
			return fmt.Sprintf("%d of %d worked, %d left", r.Takes, n, left)
		case x.Kind == fabric.TooManyWorked && onto && left < 0:
			return fmt.Sprintf("%d of %d worked, %d too many", r.Takes, n, -left)
		case x.Kind == fabric.RepeatDoesNotFit:
			return "the repeat does not come out"
		case x.Kind == fabric.StitchesLeft:
			return "not all worked"
		case x.Kind == fabric.TooManyWorked:
			return "too many worked"
		default:
			return ""
		}
	}
	if !r.Known {
		return ""
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
		label += " (" + signed(r.Makes-n) + ")"
	}
	if stated, ok := p.StatedStitches(r.Node.Total); ok && slip(r) != nil && stated != r.Makes {
		label += ", " + number(stated) + " stated"
	}
	return label
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
			if takes, makes, _, ok := once(x); worked && ok {
				label := fmt.Sprintf("%d → %d", takes, makes)
				out = append(out, hint{at, s.Span.End, label, func() page { return repeatPage(r, x) }})
			}
		}
	}
	walk(r.Node.Steps)
	slices.SortStableFunc(out, func(a, b hint) int { return int(a.at) - int(b.at) })
	return out
}

// pieceHint stands behind a Piece line that has rounds.
func pieceHint(p *fabric.Pattern, at int) []hint {
	i, ok := slices.BinarySearchFunc(p.Pieces, at, func(x *fabric.Piece, at int) int { return x.At - at })
	if !ok || len(p.Pieces[i].Rounds) == 0 {
		return nil
	}
	piece := p.Pieces[i]
	f, m := factsOf(p, piece), measuresOf(p)
	parts := []string{count(f.rounds, "round", "rounds")}
	if f.rows {
		parts[0] = count(f.rounds, "row", "rows")
	}
	if f.sure {
		parts = append(parts, stitchCount(f.stitches))
	}
	if f.sized {
		parts = append(parts, m.size(f.size))
	}
	for _, u := range f.yarns {
		yarn := m.yarn(u.Mean)
		if u.Key != "" {
			yarn += " of " + u.Key
		}
		parts = append(parts, yarn+forAll(piece))
	}
	return []hint{{at, saidEnd(piece.Lines[0]), strings.Join(parts, ", "), func() page { return piecePage(p, piece) }}}
}
