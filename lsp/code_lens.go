package lsp

import (
	"context"
	"fmt"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/lint"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.CodeLensProvider = &protocol.CodeLensOptions{}
})

// CodeLens stands above each piece with how many are made and sewn on, and how
// it is left; and above the title with what the whole pattern comes to. Each leads
// to the tally.
func (s *Server) CodeLens(ctx context.Context, p *protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	doc, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	out := []protocol.CodeLens{}
	show := func(at int, title string, args ...any) error {
		c := protocol.Command{Title: title, Command: showTally}
		for _, a := range append([]any{doc.URI}, args...) {
			arg, err := protocol.Marshal(a)
			if err != nil {
				return err
			}
			c.Arguments = append(c.Arguments, arg)
		}
		out = append(out, protocol.CodeLens{Range: doc.Span(at, said(doc.File.Lines[at])), Command: c})
		return nil
	}
	pattern := doc.Pattern()
	seams := doc.checked().Seams()
	if at := titleAt(doc.File); at >= 0 && len(pattern.Pieces) > 0 {
		if err := show(at, wholeTally(pattern)); err != nil {
			return nil, err
		}
	}
	for i, piece := range pattern.Pieces {
		if piece.Node != nil {
			if err := show(piece.At, pieceTally(piece, seams[i]), piece.Name); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// wholeTally is what a pattern comes to: its parts, and the rounds of all copies.
func wholeTally(p *fabric.Pattern) string {
	var made, rounds, rows int64
	for _, piece := range p.Pieces {
		copies := max(piece.Make, 1)
		made += copies
		r, flat := roundsWorked(piece)
		rounds += copies * r
		rows += copies * flat
	}
	return count(int64(len(p.Pieces)), "piece", "pieces") + ", " + fmt.Sprint(made) + " made; " + roundsAndRows(rounds, rows) + " in all"
}

func roundsWorked(piece *fabric.Piece) (rounds, rows int64) {
	for _, r := range piece.Rounds {
		if r.Node.Row {
			rows += r.RoundsWorked
		} else {
			rounds += r.RoundsWorked
		}
	}
	return rounds, rows
}

func roundsAndRows(rounds, rows int64) string {
	switch {
	case rows == 0:
		return count(rounds, "round", "rounds")
	case rounds == 0:
		return count(rows, "row", "rows")
	}
	return count(rounds, "round", "rounds") + " and " + count(rows, "row", "rows")
}

// pieceTally is what there is to say of a piece.
func pieceTally(piece *fabric.Piece, seam lint.Seam) string {
	text := fmt.Sprintf("made %d", max(piece.Make, 1))
	switch {
	case !seam.Sewn:
	case seam.Open:
		text += ", sewn on"
	default:
		text += fmt.Sprintf(", sewn %d", seam.Times)
	}
	if rounds, rows := roundsWorked(piece); rounds+rows > 0 {
		text += "; " + roundsAndRows(rounds, rows)
	}
	if last := piece.Last(); last != nil && last.Meant != nil && !last.Meant.Unknown {
		text += ", " + stitchCount(last.Meant.Stitches()) + " at the end"
	}
	return text
}
