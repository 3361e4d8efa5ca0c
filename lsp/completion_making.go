package lsp

import (
	"fmt"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// pieces proposes the pieces by their names.
func (c *completing) pieces() {
	for _, p := range c.Pattern().Pieces {
		if p.Name != "" {
			c.piece(p, p.Name, endsWith(p))
		}
	}
}

func (c *completing) piece(p *fabric.Piece, label, detail string) {
	item := c.add(protocol.CompletionItemKindClass, c.word, label, detail)
	c.told(item, proposalData{Piece: p.Name})
}

// endsWith says how many stitches a piece has left to work into or to sew by.
func endsWith(p *fabric.Piece) string {
	if last := p.Last(); last != nil && last.Meant != nil && !last.Meant.Unknown {
		return "ends with " + stitchCount(last.Meant.Stitches())
	}
	return ""
}

// sewing proposes what is sewn on, to what, and where.
func (c *completing) sewing(content string) {
	switch {
	case strings.Contains(content, ","):
		c.places(content)
	case ends(content, "to ", "on "):
		c.others(content)
	case strings.TrimSpace(strings.TrimSuffix(content, c.word)) == "":
		c.unsewn()
	case strings.HasSuffix(content, " "):
		c.add(protocol.CompletionItemKindKeyword, c.word, "to ", "what it is sewn to")
	}
}

// unsewn proposes the pieces that are still to be sewn on first, as many as are
// made.
func (c *completing) unsewn() {
	p := c.Pattern()
	sewn, bears := map[*fabric.Piece]int64{}, map[*fabric.Piece]bool{}
	e := explainer{p: p, at: -1}
	for _, s := range p.Making {
		if n, ok := s.Line.Node.(*grammar.Sew); ok && s.At != c.at {
			sewn[e.pieceNamed(n.Part.Text)] += max(int64(n.Times.N), 1)
			bears[e.pieceNamed(n.To.Text)] = true
		}
	}
	for _, done := range []bool{false, true} {
		for _, x := range p.Pieces {
			left := max(x.Make, 1) - sewn[x]
			if x.Name == "" || done != (left <= 0 || bears[x] && sewn[x] == 0) {
				continue
			}
			label, detail := x.Name, "not sewn on yet"
			switch {
			case left <= 0:
				detail = "sewn on already"
			case bears[x] && sewn[x] == 0:
				detail = endsWith(x)
			case left > 1:
				label += " x " + number(left)
				detail = fmt.Sprintf("%d are not sewn on yet", left)
			}
			c.piece(x, label, detail)
		}
	}
}

// others proposes the pieces but for the one that is sewn on.
func (c *completing) others(content string) {
	part, _, _ := strings.Cut(strings.TrimSpace(content), " ")
	for _, p := range c.Pattern().Pieces {
		if p.Name != "" && terms.Key(p.Name) != terms.Key(part) {
			c.piece(p, p.Name, endsWith(p))
		}
	}
}

// placing proposes which notions go on a piece, and where.
func (c *completing) placing(content string) {
	switch {
	case strings.Contains(content, ",") || ends(content, "between ", "at ", "over "):
		c.places(content)
		return
	case ends(content, "on "):
		c.pieces()
		return
	}
	typed := strings.TrimLeft(content, " ")
	whole := false
	for _, n := range c.Pattern().Header.Notions {
		words := n.Thing.Text
		if n.Count.Written() {
			words = strconv.Itoa(int(n.Count.N)) + " " + words
		}
		if kind, ok := lint.MaterialIn(n.Thing.Text); ok && (kind.Tool || !kind.Small && !n.Count.Written()) {
			continue // nothing that is placed
		}
		if strings.TrimSpace(typed) == words {
			whole = true
			continue
		}
		c.add(protocol.CompletionItemKindValue, typed, words, "of the notions")
	}
	if whole || strings.HasSuffix(typed, " ") && strings.Contains(strings.TrimSpace(typed), " ") {
		c.add(protocol.CompletionItemKindKeyword, c.word, "on ", "which part")
	}
}

// embroidering proposes the yarn, the piece and the place.
func (c *completing) embroidering(content string) {
	switch {
	case strings.Contains(content, ","):
		c.places(content)
	case ends(content, "in "):
		c.yarns()
	case ends(content, "on "):
		c.pieces()
	case strings.HasSuffix(content, " ") && strings.TrimSpace(content) != "":
		c.words(protocol.CompletionItemKindKeyword, "in ", "on ")
	}
}

// places proposes where something goes on a piece: on rounds that it has.
func (c *completing) places(content string) {
	if ends(content, "in line with ") {
		c.pieces()
		return
	}
	typed := lastPart(content, ",")
	kind := protocol.CompletionItemKindReference
	if piece := c.bearer(content); piece != nil {
		last := piece.Last()
		n := int64(last.Node.To.N)
		name := func(from, to int64) string {
			words := fabric.RoundName(last.Node.Row, from)
			return words[:3] + "s" + words[3:] + "%s" + number(to)
		}
		has := fmt.Sprintf("%s has %s", piece.Name, count(n, rounds(last, 1), rounds(last, 2)))
		if n >= 2 && !strings.Contains(content, "between ") {
			c.add(kind, typed, "between "+fmt.Sprintf(name(n/2, n/2+1), " and "), has)
		}
		if n >= 3 && !strings.Contains(content, "over ") {
			from := max(n/3, 1)
			c.add(kind, typed, "over "+fmt.Sprintf(name(from, max(2*n/3, from+1)), "-"), has)
		}
		if n >= 1 {
			c.add(kind, typed, "at "+fabric.RoundName(last.Node.Row, n), has)
		}
	}
	for _, w := range []string{"3 sts apart", "across 5 sts", "in line with ", "at front", "at back", "at top", "at bottom", "at left", "at right", "centred", "evenly", "open edge"} {
		c.add(kind, typed, w, "")
	}
}

// bearer is the piece behind "to" or "on", or of an action the piece that it
// stands in, where it has rounds.
func (c *completing) bearer(content string) *fabric.Piece {
	head, _, _ := strings.Cut(content, ",")
	for _, word := range []string{" to ", " on "} {
		if i := strings.LastIndex(head, word); i >= 0 {
			if p := c.Pattern().Named(strings.TrimSpace(head[i+len(word):])); p != nil && p.Last() != nil {
				return p
			}
		}
	}
	if piece, last := c.below(); piece != nil && last != nil && !strings.Contains(c.before, ":") {
		return piece
	}
	return nil
}
