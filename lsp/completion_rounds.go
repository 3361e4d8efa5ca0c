package lsp

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// below is the piece that the cursor is in and its last round before the
// cursor's line, nil where there is none yet.
func (c *completing) below() (*fabric.Piece, *fabric.Round) {
	p := c.Pattern()
	for i := min(c.at, len(c.File.Lines)) - 1; i >= 0; i-- {
		switch c.File.Lines[i].Node.(type) {
		case grammar.Assembly:
			return nil, nil
		case *grammar.Piece:
			k, ok := slices.BinarySearchFunc(p.Pieces, i, func(x *fabric.Piece, at int) int { return x.At - at })
			if !ok {
				return nil, nil
			}
			return p.Pieces[k], nil
		case *grammar.Round:
			return p.RoundAt(i)
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

// likelyRound is a round that fits the edge below, with its total, what it does,
// and the whole line that it was worked out on.
type likelyRound struct{ words, what, line string }

// likely are rounds that may well come next: one that goes on even, and ones
// that increase and decrease by as much as the piece has done last; for a first
// round ways to begin. Each was worked out where the cursor is.
func (c *completing) likely(piece *fabric.Piece, last *fabric.Round) []likelyRound {
	if strings.TrimSpace(c.rest) != "" {
		return nil
	}
	var out []likelyRound
	label := fabric.RoundName(nextIsRow(piece, last), nextNumber(last))
	if head, _, ok := strings.Cut(c.before, ":"); ok {
		label = strings.TrimSpace(head)
	}
	for _, x := range c.candidates(piece, last) {
		line := label + ": " + x.words
		p, _, r := c.with(c.start, c.cursor+len(c.rest), line)
		if r == nil || !comesOut(r) || x.makes > 0 && r.Makes != x.makes {
			continue
		}
		words := x.words + " (" + r.RightTotal() + ")"
		if !states(p, label+": "+words, r.Makes) {
			continue
		}
		out = append(out, likelyRound{words, x.what, label + ": " + words})
	}
	return out
}

// comesOut says whether a round is right, but for a total that it may lack.
func comesOut(r *fabric.Round) bool {
	return r.Known && len(r.Problems) == 0 && r.Makes > 0
}

// states says whether a line is read as a round with so many stitches for its total.
func states(p *fabric.Pattern, line string, makes int64) bool {
	n, ok := grammar.ParseLine(line, 1).Node.(*grammar.Round)
	if !ok || n.Broken {
		return false
	}
	stated, said := p.StatedStitches(n.Total)
	return said && stated == makes
}

// candidate is a round that may fit; makes is what it is meant to come to, 0
// where that is open.
type candidate struct {
	words, what string
	makes       int64
}

func (c *completing) candidates(piece *fabric.Piece, last *fabric.Round) []candidate {
	if last == nil {
		return c.beginnings(piece)
	}
	edge := last.Meant
	if edge == nil {
		edge = last.Out
	}
	if edge == nil || edge.Unknown || len(edge.Items) == 0 {
		return nil
	}
	if !stitchesOnly(edge) || last.Node.Broken {
		return c.repeats(piece, last)
	}
	lead, tail := framing(piece, last)
	main := mainStitch(c.Pattern(), piece)
	has, rate := edge.Stitches(), c.rate(piece, last)
	all := " around"
	if nextIsRow(piece, last) {
		all = " across"
	}
	out := []candidate{{lead.with(main+all) + tail, "even", has}}
	add := func(above int64, what string, staggered bool) {
		if words := spaced(has, above, main, staggered); words != "" && above > 0 {
			out = append(out, candidate{lead.with(lead.instead(words, main)) + tail, what, above})
		}
	}
	add(has+rate, "increases "+strconv.FormatInt(rate, 10), false)
	add(has-rate, "decreases "+strconv.FormatInt(rate, 10), false)
	if !lead.stands {
		add(has+rate, "increases "+strconv.FormatInt(rate, 10)+", staggered", true)
	}
	if r := c.repeats(piece, last); len(r) > 0 && last.Node.Row {
		out = append(out, r...)
	}
	return out
}

// repeats work the last round again, and the last two: as lace and rows of two
// kinds go on.
func (c *completing) repeats(piece *fabric.Piece, last *fabric.Round) []candidate {
	n := int64(last.Node.To.N)
	if n < 2 {
		return nil
	}
	out := []candidate{{"rep " + fabric.RoundName(last.Node.Row, n), "the same again", 0}}
	if before := piece.RoundNumbered(n - 1); before != nil && !before.Start {
		out = append(out, candidate{"rep " + fabric.RoundName(last.Node.Row, n-1), "as the one before the last", 0})
	}
	return out
}

// firstRounds are how many stitches make a flat beginning (common practice: 6 sc,
// 8 hdc, 12 dc).
var firstRounds = map[string]int64{"sc": 6, "hdc": 8, "dc": 12}

// beginnings are ways to begin a piece, in the stitch of the gauge first.
func (c *completing) beginnings(piece *fabric.Piece) []candidate {
	p := c.Pattern()
	ids := []string{"sc", "hdc", "dc"}
	for _, g := range p.Header.Gauges {
		if s := p.Find(g.Stitch); s != nil && s.Of != nil {
			if i := slices.Index(ids, s.Of.ID); i > 0 {
				ids[0], ids[i] = ids[i], ids[0]
			}
			break
		}
	}
	var out []candidate
	join := ""
	if piece.Mode == grammar.ModeJoined {
		join = ", join"
	}
	for i, id := range ids {
		st := terms.ByID(id)
		name := st.Abbr(p.Header.System)
		into := map[string]string{"sc": "2nd", "hdc": "3rd", "dc": "4th"}[id]
		chains := 10 + st.Height // for 10 stitches
		if st.Counts == terms.Counted {
			chains--
		}
		row := fmt.Sprintf("ch %d, %s in %s ch from hook, %s in each ch across", chains, name, into, name)
		ring := fmt.Sprintf("%d %s in magic ring%s", firstRounds[id], name, join)
		oval := fmt.Sprintf("ch 7, %s in 2nd ch from hook, %s in next 4 ch, 3 %s in last ch; working along other side of ch, %s in next 4 ch, inc in last ch%s", name, name, name, name, join)
		switch {
		case piece.Mode == grammar.ModeRows:
			out = append(out, candidate{row, "a chain to begin on", 0})
		case i == 0:
			out = append(out, candidate{ring, "a flat start", firstRounds[id]})
			if id == "sc" {
				out = append(out, candidate{oval, "an oval start", 0})
			}
		default:
			out = append(out, candidate{ring, "a flat start", firstRounds[id]})
		}
	}
	return out
}

// lead is what rounds of a piece begin with: a chain, a turn.
type lead struct {
	words string
	// stands is set where the chain stands for a stitch.
	stands bool
}

// with puts the lead before steps.
func (l lead) with(steps string) string {
	switch {
	case l.words == "":
		return steps
	case steps == "":
		return l.words
	}
	return l.words + ", " + steps
}

// instead leaves the first stitch out of a round's words where the chain stands
// for it: of "(dc 2, inc) x 6" it makes "dc, inc, (dc 2, inc) x 5".
func (l lead) instead(words, main string) string {
	if !l.stands {
		return words
	}
	body, times, repeats := strings.Cut(strings.TrimPrefix(words, "("), ") x ")
	n, err := strconv.ParseInt(times, 10, 64)
	if !repeats || err != nil {
		switch rest, ok := strings.CutPrefix(words, "inc "); {
		case ok: // the whole round increases
			k, err := strconv.ParseInt(rest, 10, 64)
			if err != nil || k < 2 {
				return ""
			}
			return main + " in same st, " + several("inc", k-1)
		default:
			body, n = words, 1
		}
	}
	first, rest, more := strings.Cut(body, ", ")
	name, count, _ := strings.Cut(first, " ")
	if name != main || !more {
		return ""
	}
	k := int64(1)
	if count != "" {
		if k, err = strconv.ParseInt(count, 10, 64); err != nil {
			return ""
		}
	}
	out := rest
	if k > 1 {
		out = several(main, k-1) + ", " + rest
	}
	if n > 1 {
		out += ", " + repeated(body, n-1)
	}
	return out
}

// framing is what the next round begins with and ends with, by the last one: a
// chain, a join or a turn. Behind a first round it is by how the piece is worked.
func framing(piece *fabric.Piece, r *fabric.Round) (l lead, tail string) {
	steps, text := r.Node.Steps, r.Line.Text
	last := len(steps)
	for last > 0 && (steps[last-1].Kind == grammar.StepJoin || steps[last-1].Kind == grammar.StepTurn) {
		last--
	}
	if last < len(steps) && last > 0 {
		tail = ", " + steps[last].Span.To(steps[len(steps)-1].Span).In(text)
	}
	if r.Start || r.Stands.Skipped {
		return startOf(piece, r), tail
	}
	first, chain := 0, false
	for first < last {
		s := &steps[first]
		at := s.Span.Start
		isChain := r.Stands.Present && r.Stands.Span.Start <= at && at < r.Stands.Span.End
		if !isChain && s.Kind != grammar.StepTurn && s.Kind != grammar.StepYarn {
			break
		}
		if s.Kind != grammar.StepYarn { // the yarn is not changed again
			if l.words != "" {
				l.words += ", "
			}
			l.words += s.Span.In(text)
		}
		chain = chain || isChain
		first++
	}
	l.stands = chain && r.Stands.Counted
	if l.stands && r.Stands.Space > 0 { // what follows is lace, which this is not
		l.words = fmt.Sprintf("ch %d", r.Stands.Chains-r.Stands.Space)
	}
	return l, tail
}

// startOf is what the second round or row of a piece begins with.
func startOf(piece *fabric.Piece, r *fabric.Round) lead {
	height := int64(1)
	if piece.Main != nil && piece.Main.Of != nil && piece.Main.Of.Height > 0 {
		height = int64(piece.Main.Of.Height)
	}
	stands := piece.Main != nil && piece.Main.Of != nil && piece.Main.Of.Counts == terms.Counted
	if r.Stands.Present {
		stands = r.Stands.Counted
	}
	switch {
	case r.Node.Row:
		return lead{fmt.Sprintf("ch %d, turn", height), stands}
	case piece.Mode == grammar.ModeJoined:
		return lead{fmt.Sprintf("ch %d", height), stands}
	}
	return lead{}
}

// rate is how much the piece grew or shrank last; where it has not, as many as
// lie flat in its stitch in the round (common practice), and 2 in rows.
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
	if last.Node.Row {
		return 2
	}
	if piece.Main != nil && piece.Main.Of != nil {
		if n := firstRounds[piece.Main.Of.ID]; n > 0 {
			return n
		}
	}
	return 6
}
