package lsp

import (
	"context"
	"fmt"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.CodeLensProvider = &protocol.CodeLensOptions{}
})

// CodeLens stands above each piece with how many are made and sewn on, and how
// it is left; and above the title with what the whole pattern comes to.
func (s *Server) CodeLens(ctx context.Context, p *protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []protocol.CodeLens{}
	show := func(at int, title string) {
		out = append(out, protocol.CodeLens{Range: doc.Span(at, said(doc.File.Lines[at])), Command: protocol.Command{Title: title}})
	}
	pattern := doc.Pattern()
	seams := seamsOf(doc.named())
	if at := titleAt(doc.File); at >= 0 && len(pattern.Pieces) > 0 {
		show(at, wholeTally(pattern))
	}
	for _, piece := range pattern.Pieces {
		if piece.Node != nil {
			show(piece.At, pieceTally(piece, seams[foldName(pieceName, piece.Name)]))
		}
	}
	return out, nil
}

// wholeTally is what a pattern comes to: its parts, and the rounds of all copies.
func wholeTally(p *fabric.Pattern) string {
	var made, rounds int64
	for _, piece := range p.Pieces {
		copies := max(piece.Make, 1)
		made += copies
		rounds += copies * roundsWorked(piece)
	}
	return countOf(int64(len(p.Pieces)), "piece") + ", " + fmt.Sprint(made) + " made; " + countOf(rounds, "round") + " in all"
}

func roundsWorked(piece *fabric.Piece) int64 {
	var n int64
	for _, r := range piece.Rounds {
		n += r.RoundsWorked
	}
	return n
}

// pieceTally is what there is to say of a piece.
func pieceTally(piece *fabric.Piece, sewn *seam) string {
	text := fmt.Sprintf("made %d", max(piece.Make, 1))
	switch {
	case sewn == nil:
	case sewn.open:
		text += ", sewn on"
	default:
		text += fmt.Sprintf(", sewn %d", sewn.times)
	}
	if n := roundsWorked(piece); n > 0 {
		unit := "round"
		if piece.Last().Node.Row {
			unit = "row"
		}
		text += "; " + countOf(n, unit)
	}
	if last := piece.Last(); last != nil && last.Meant != nil && !last.Meant.Unknown {
		text += ", " + counted(last.Meant.Stitches(), "stitch", "stitches") + " at the end"
	}
	return text
}

func countOf(n int64, one string) string { return counted(n, one, one+"s") }

func counted(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// seam is how often a piece is sewn on; open is set where the words leave the
// number to the maker: "evenly".
type seam struct {
	times int64
	open  bool
}

// seamsOf counts by the folded names of pieces what the making up sews on: to
// every copy of what bears it, and all copies where a name is in the plural.
func seamsOf(n *names) map[string]*seam {
	made := map[*named]int64{}
	for at, l := range n.file.Lines {
		if p, ok := l.Node.(*grammar.Piece); ok {
			for _, m := range n.of(at) {
				made[m.of] = max(int64(p.Make.N), 1)
			}
		}
	}
	seams := map[string]*seam{}
	for at, l := range n.file.Lines {
		sew, ok := l.Node.(*grammar.Sew)
		if !ok {
			continue
		}
		bearers := int64(1)
		for _, m := range n.of(at) {
			if sew.To.Start <= m.span.Start && m.span.End <= sew.To.End && made[m.of] > 0 {
				bearers = made[m.of]
				break
			}
		}
		for _, m := range n.of(at) {
			if m.span.Start < sew.Part.Start || m.span.End > sew.Part.End {
				continue
			}
			x := seams[m.key]
			if x == nil {
				x = &seam{}
				seams[m.key] = x
			}
			switch {
			case sew.Times.Written():
				x.times += int64(sew.Times.N) * bearers
			case m.all:
				x.times += made[m.of]
			case evenly(sew.Where):
				x.open = true
			default:
				x.times += bearers
			}
		}
	}
	return seams
}

var manySides = lazily(`(?i)\b(each|both|either|every|sides|all|evenly)\b`)

// evenly says whether a placement leaves open how many there are.
func evenly(where []grammar.Where) bool {
	for i := range where {
		if where[i].Kind == grammar.WhereEvenly || manySides().MatchString(where[i].Text.Text) {
			return true
		}
	}
	return false
}
