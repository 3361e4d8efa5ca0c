package lint

import (
	"fmt"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
)

var _ = declare(Rule{
	Name:     "cannot-close",
	Severity: Warning,
	Summary:  "A part is closed with more stitches than a tail draws up, or is stuffed and left open",
	Why: "A tail drawn through the last stitches closes six or eight of them without a hole, a dozen at most; from more, stuffing shows and comes out. " +
		"A stuffed part that is neither closed nor sewn to another loses its filling, which a small child can swallow.",
	Bad:  "Notion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnds 4-6: sc around (18)\nStuff firmly.\nClose.\n",
	Good: "Notion: toy stuffing\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-6: sc around (12)\nStuff firmly.\nRnd 7: dec x 6 (6)\nClose.\n",
	Start: func(p *Pass) Visits {
		return Visits{Line: p.closes, End: p.leftOpen, Reads: readsShapes}
	},
})

// mostGathered is how many stitches a tail may draw up: some toys close at 12
// (a maker's page of 2015), so a little above that is let pass; from memory.
const mostGathered = 16

// closes looks at an action that closes the part in hand.
func (p *Pass) closes(l *grammar.Line) {
	n, ok := l.Node.(*grammar.Action)
	part := p.facts().cur
	if !ok || part == nil || part.closed != p.At() || part.row || part.open <= mostGathered {
		return
	}
	// a seam closes any number: the edge is laid flat
	words := terms.Key(n.Rest.Text)
	for _, w := range []string{"seam", "flat", "both layers", "both sides", "across", "whip", "mattress", "sc ", "sew"} {
		if strings.Contains(words, w) {
			return
		}
	}
	x := p.Report(p.At(), grammar.Span{}, sayCannotClose(part))
	if last := part.before(p.At()); last != nil {
		x.Related = append(x.Related, p.related(lineOf(part.piece, last), last.Node.Label, sayBelow(last)))
	}
}

// leftOpen reports stuffed parts that stay open. Where parts are sewn at all,
// one that is never sewn is make-and-sew's to report.
func (p *Pass) leftOpen() {
	f := p.facts()
	for _, part := range f.parts {
		if part.stuffed < 0 || part.row || part.open <= fewOpen || part.closed >= 0 || len(part.sewn) > 0 || len(part.bears) > 0 || part.onto || len(f.joins) > 0 {
			continue
		}
		last := part.piece.Last()
		x := p.Report(lineOf(part.piece, last), last.Node.Label, sayLeftOpen(part))
		x.Related = append(x.Related, p.related(part.stuffed, grammar.Span{}, sayStuffedHere()))
	}
}

func sayCannotClose(p *part) string {
	return fmt.Sprintf("%s still has %s here, more than a tail draws up without a hole; decrease to about 6 first, or say that the edge is sewn flat", partName(p.piece), stitches(p.open))
}

func sayLeftOpen(p *part) string {
	return fmt.Sprintf("%s is stuffed and left open with %s: nothing closes it and it is not sewn to anything", partName(p.piece), stitches(p.open))
}
