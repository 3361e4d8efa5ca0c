package lint

import (
	"fmt"
	"math"
	"slices"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "size-differs",
	Severity: Warning,
	Summary:  "The stated size is not what gauge and rounds come to",
	Why: "Size and gauge are what a maker chooses a pattern by. Where the stitches at that gauge come to another size, one of the three is of an earlier version: " +
		"a hat that is stated to fit does not. Stuffing, sewing and blocking change a size by some tenths, so only more than that is reported.",
	Bad:  "Size: 30 cm around\nPiece: Hat\nRnd 1: ch 96, join with sl st to form ring, sc in each ch around (96)\nRnds 2-20: sc around (96)\n",
	Good: "Size: 40 cm around\nPiece: Hat\nRnd 1: ch 96, join with sl st to form ring, sc in each ch around (96)\nRnds 2-20: sc around (96)\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.sizeDiffers, Reads: readsRounds}
	},
})

// Of a stated size: what is let pass for one piece, measured as it lies, and
// for several made up, whose size can only be bounded.
const (
	nearSize  = 0.2
	nearBound = 0.3
)

func (p *Pass) sizeDiffers() {
	f := p.facts()
	if len(f.sizes) == 0 || !f.worked() || p.gaugeMisshapen() {
		return
	}
	if len(f.parts) == 1 && max(f.parts[0].piece.Make, 1) == 1 {
		if s, ok := fabric.SizeOf(p.Pattern, f.parts[0].piece); ok && s.Unsure == 0 && !slices.ContainsFunc(f.parts[0].piece.Rounds, slips) {
			for _, z := range f.sizes {
				p.sizeOfOne(z.at, z.node, s)
			}
		}
		return
	}
	least, most, ok := fabric.Bounds(p.Pattern)
	if !ok {
		return
	}
	for _, z := range f.sizes {
		p.sizeOfSeveral(z.at, z.node, least, most)
	}
}

// sizeOfOne holds each stated measure against those of a single piece that it
// can mean.
func (p *Pass) sizeOfOne(at int, z *grammar.Size, s fabric.Size) {
	for _, d := range z.Dims {
		near, best := false, 0.0
		for _, mm := range measures(d.Way, s) {
			if mm <= 0 {
				continue
			}
			near = near || math.Abs(mm-d.MM) <= nearSize*math.Max(mm, d.MM)
			if best == 0 || math.Abs(mm-d.MM) < math.Abs(best-d.MM) {
				best = mm
			}
		}
		if best > 0 && !near {
			p.sizeReport(at, d.Span, saySizeOfOne(d, best))
			return
		}
	}
}

// sizeReport reports a size, and the gauge that it was reckoned from.
func (p *Pass) sizeReport(at int, span grammar.Span, message string) {
	x := p.Report(at, span, message)
	if f := p.facts(); len(f.gauges) > 0 {
		x.Related = append(x.Related, p.related(f.gauges[0].at, f.gauges[0].node.Span, sayReckonedFrom()))
	}
}

func sayReckonedFrom() string { return "reckoned from this gauge" }

// measures are those that the way of a stated one can mean.
func measures(way string, s fabric.Size) []float64 {
	switch way {
	case "around":
		if s.Around > 0 {
			return []float64{s.Around}
		}
		return []float64{2 * s.Width, 2 * s.Height} // rows sewn to a tube are said flat or around
	case "tall", "high", "deep":
		return []float64{s.Height, s.Diameter, alongProfile(s)}
	case "across", "wide":
		return []float64{s.Width, s.Diameter, s.Around / 2}
	}
	return []float64{s.Width, s.Height, s.Diameter, s.Around / 2, s.Around}
}

// alongProfile is how far it is from the beginning of a piece to its edge, along
// the fabric: how tall a hat is that lies flat, in millimetres. It is 0 for what
// is stuffed or worked in rows.
func alongProfile(s fabric.Size) float64 {
	sum := 0.0
	for i := 1; i < len(s.Profile) && !s.Stuffed; i++ {
		a, b := s.Profile[i-1], s.Profile[i]
		sum += math.Hypot(b.Radius-a.Radius, b.Height-a.Height)
	}
	return sum
}

// sizeOfSeveral holds the largest stated measure against the bounds of all
// pieces: larger than all of them end to end, or smaller than the largest one
// by itself. How tall a toy stands says nothing of a part that lies.
func (p *Pass) sizeOfSeveral(at int, z *grammar.Size, least, most float64) {
	var largest *grammar.Dim
	for i := range z.Dims {
		if d := &z.Dims[i]; largest == nil || d.MM > largest.MM {
			largest = d
		}
	}
	switch {
	case largest == nil || largest.Way == "around":
	case largest.MM > most*(1+nearBound):
		p.sizeReport(at, largest.Span, saySizeTooLarge(*largest, most))
	case largest.MM < least*(1-nearBound) && (largest.Way == "" || largest.Way == "long" || len(z.Dims) > 1):
		p.sizeReport(at, largest.Span, saySizeTooSmall(*largest, least))
	}
}

func saySizeOfOne(d grammar.Dim, mm float64) string {
	way := d.Way
	if way != "" {
		way = " " + way
	}
	return fmt.Sprintf("by gauge and rounds it comes out at about %s%s, not %s", centimetres(mm), way, centimetres(d.MM))
}

func saySizeTooLarge(d grammar.Dim, most float64) string {
	return fmt.Sprintf("%s is more than all parts laid end to end, which by the gauge come to about %s", centimetres(d.MM), centimetres(most))
}

func saySizeTooSmall(d grammar.Dim, least float64) string {
	return fmt.Sprintf("%s is less than the largest part by itself, which by the gauge comes to about %s", centimetres(d.MM), centimetres(least))
}
