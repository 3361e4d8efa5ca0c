package lsp

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// below is the piece that the cursor is in and its last round before the
// cursor's line, nil where there is none yet.
func (c *completing) below() (*fabric.Piece, *fabric.Round) {
	p := c.Pattern()
	for i := min(c.at, len(c.File.Lines)-1); i >= 0; i-- {
		switch c.File.Lines[i].Node.(type) {
		case grammar.Assembly:
			return nil, nil
		case *grammar.Piece:
			if i == c.at {
				return nil, nil
			}
			for _, piece := range p.Pieces {
				if piece.At == i {
					return piece, nil
				}
			}
			return nil, nil
		case *grammar.Round:
			if i < c.at {
				return p.RoundAt(i)
			}
		}
	}
	return nil, nil
}

func nextNumber(last *fabric.Round) int64 {
	if last == nil {
		return 1
	}
	return int64(last.Node.To.N) + 1
}

func nextIsRow(piece *fabric.Piece, last *fabric.Round) bool {
	if last == nil {
		return piece.Mode == grammar.ModeRows
	}
	return last.Node.Row
}

// likelyRound is a round that fits the edge below, with its total.
type likelyRound struct{ words, what string }

// likely are rounds that may well come next: one that goes on even, one that
// increases and one that decreases, by as much as the piece has done last. Each
// was worked out upon as many stitches as there are.
func (c *completing) likely(piece *fabric.Piece, last *fabric.Round) []likelyRound {
	p := c.Pattern()
	main := mainStitch(p, piece)
	if last == nil {
		if piece.Mode == grammar.ModeRows {
			return nil
		}
		return []likelyRound{{"6 " + main + " in magic ring (6)", "a start in the round"}}
	}
	edge := last.Meant
	if edge == nil {
		edge = last.Out
	}
	if edge == nil || edge.Unknown || len(edge.Items) == 0 || !stitchesOnly(edge) {
		return nil
	}
	lead, tail, ok := framing(last)
	if !ok {
		return nil
	}
	has := edge.Stitches()
	rate := c.rate(piece, last)
	all := " around"
	if last.Node.Row {
		all = " across"
	}
	var out []likelyRound
	for _, x := range []struct {
		words string
		total int64
		what  string
	}{
		{main + all, has, "even"},
		{spaced(has, has+rate, main, false), has + rate, "increases " + strconv.FormatInt(rate, 10)},
		{spaced(has, has-rate, main, false), has - rate, "decreases " + strconv.FormatInt(rate, 10)},
	} {
		if x.words == "" || x.total < 1 {
			continue
		}
		words := fmt.Sprintf("%s%s%s (%d)", lead, x.words, tail, x.total)
		if c.comesOut(last.Node.Row, has, words) {
			out = append(out, likelyRound{words, x.what})
		}
	}
	return out
}

// framing is what rounds like this one begin with and end with: a chain, a join
// or a turn. False where the chain stands for a stitch, which increases and
// decreases would have to heed.
func framing(r *fabric.Round) (lead, tail string, ok bool) {
	steps, text := r.Node.Steps, r.Line.Text
	if r.Stands.Counted || r.Start && r.Node.Row {
		return "", "", r.Start && !r.Stands.Counted
	}
	first, last := 0, len(steps)
	if r.Stands.Present && !r.Stands.Skipped && !r.Start && len(steps) > 0 {
		first = 1
	}
	for first < len(steps) && steps[first].Kind == grammar.StepTurn {
		first++
	}
	for last > first && (steps[last-1].Kind == grammar.StepJoin || steps[last-1].Kind == grammar.StepTurn) {
		last--
	}
	if first > 0 {
		lead = steps[0].Span.To(steps[first-1].Span).In(text) + ", "
	}
	if last < len(steps) {
		tail = ", " + steps[last].Span.To(steps[len(steps)-1].Span).In(text)
	}
	return lead, tail, true
}

// rate is how much the piece grew or shrank last, 6 where it has not: as many
// as lie flat in single crochet in the round (common practice).
func (c *completing) rate(piece *fabric.Piece, last *fabric.Round) int64 {
	for i := len(piece.Rounds) - 1; i >= 0; i-- {
		r := piece.Rounds[i]
		if r.Off > last.Off || r.Start || r.In == nil || !r.Known || r.RoundsWorked > 1 {
			continue
		}
		if d := r.Makes - r.In.Stitches(); d != 0 && !r.In.Unknown {
			return max(d, -d)
		}
	}
	if !last.Node.Row {
		return 6
	}
	return 2
}

// comesOut works a round upon so many stitches.
func (c *completing) comesOut(row bool, has int64, words string) bool {
	p := c.Pattern()
	main, label := mainStitch(p, nil), "Rnd"
	first := fmt.Sprintf("Rnd 1: %d %s in magic ring (%d)", has, main, has)
	if row {
		label = "Row"
		first = fmt.Sprintf("Row 1: ch %d, %s in 2nd ch from hook, %s in each ch across (%d)", has+1, main, main, has)
	}
	text := fmt.Sprintf("Terms: %s\nPiece: A\n%s\n%s 2: %s\n", p.Header.System, first, label, words)
	q := fabric.Work(grammar.Parse(text))
	if len(q.Pieces) != 1 || len(q.Pieces[0].Rounds) != 2 {
		return false
	}
	r := q.Pieces[0].Rounds[1]
	return r.Known && len(r.Problems) == 0
}

// steps proposes what can stand in a round: a whole one where nothing does yet.
func (c *completing) steps(content string) {
	if strings.TrimSpace(strings.TrimSuffix(content, c.word)) == "" {
		if piece, last := c.below(); piece != nil {
			for _, r := range c.likely(piece, last) {
				c.add(protocol.CompletionItemKindSnippet, strings.TrimLeft(content, " "), r.words, r.what)
			}
		}
	}
	c.inSteps(content)
}

func (c *completing) inSteps(content string) {
	switch {
	case ends(content, "with ", "change to ", "join with ", "using "):
		c.yarns()
		if ends(content, "join with ") {
			c.words(protocol.CompletionItemKindKeyword, "sl st to first st")
		}
		return
	case ends(content, "sts of ", "st of ", "loops of ", "rem sts of ", "around ", "join "):
		c.pieces()
		if ends(content, "loops of ") {
			if piece, last := c.below(); piece != nil && last != nil {
				c.words(protocol.CompletionItemKindReference, last.Name())
			}
		}
		return
	case ends(content, "in "):
		c.words(protocol.CompletionItemKindKeyword, "next st", "each st around", "each of next 3 sts", "same st", "first st", "last st", "next ch-2 sp", "magic ring", "2nd ch from hook", "BLO", "FLO", "top of turning ch")
		return
	}
	c.stitches()
	c.words(protocol.CompletionItemKindKeyword, "around", "across", "BLO", "FLO", "sk", "turn", "join", "work even", "in next st", "in each st around", "rep from * around", "with ", "change to ", "leave remaining sts unworked", "working along other side of ch")
}

// stitchData is what a proposed stitch is told about by, once it is looked at.
type stitchData struct {
	ID string `json:"stitch"`
	UK bool   `json:"uk,omitzero"`
}

// stitches proposes the stitches of the pattern's terms, its own first.
func (c *completing) stitches() {
	p := c.Pattern()
	for _, own := range p.Own {
		detail := own.Node.Full.Text
		if own.Stitch != nil {
			detail = strings.TrimPrefix(detail+" · "+takesMakes(own.Stitch.Takes, own.Stitch.Makes), " · ")
		}
		c.add(protocol.CompletionItemKindFunction, c.word, own.Node.Abbr.Text, detail)
	}
	for _, s := range terms.Stitches() {
		name := s.In(p.Header.System)
		if name.Abbr == "" {
			continue
		}
		item := c.add(protocol.CompletionItemKindFunction, c.word, name.Abbr, name.Full)
		if data, err := protocol.Marshal(&stitchData{s.ID, p.Header.System == terms.UK}); err == nil {
			item.Data = data
		}
	}
}

func takesMakes(takes, makes int64) string {
	return fmt.Sprintf("takes %d, makes %d", takes, makes)
}

// CompletionResolve tells of a stitch how it is worked.
func (s *Server) CompletionResolve(_ context.Context, item *protocol.CompletionItem) (*protocol.CompletionItem, error) {
	var d stitchData
	if len(item.Data) == 0 || protocol.Unmarshal(item.Data, &d) != nil {
		return item, nil
	}
	st := terms.ByID(d.ID)
	if st == nil {
		return item, nil
	}
	sys := terms.US
	if d.UK {
		sys = terms.UK
	}
	lines := []string{st.In(sys).Full + ": " + takesMakes(int64(st.Takes), int64(st.Makes)) + "."}
	if other := st.In(sys.Other()); other.Full != "" {
		lines = append(lines, sys.Other().String()+": "+other.Full+" ("+other.Abbr+").")
	}
	if st.Body != "" && sys == terms.US {
		lines = append(lines, "Worked as "+st.Body+".")
	}
	var how []string
	for _, m := range st.How() {
		how = append(how, m.Do)
	}
	if len(how) > 0 {
		lines = append(lines, strings.Join(how, ", ")+".")
	}
	item.Documentation = protocol.String(strings.Join(lines, "\n"))
	return item, nil
}
