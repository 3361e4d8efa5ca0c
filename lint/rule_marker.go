package lint

import (
	"slices"

	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "marker",
	Severity: Hint,
	Summary:  "A stitch marker is placed and never moved or used, or moved and never placed",
	Why: "In a spiral the marker is all that shows where a round begins. One that is placed in Rnd 1 and never moved up is soon buried; " +
		"one that is moved without having been placed leaves a beginner looking for it.",
	Bad:  "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nPlace marker in the first stitch.\nRnd 2: inc x 6 (12)\n",
	Good: "Notion: stitch marker\nPiece: Shell\nRnd 1: 6 sc in magic ring (6)\nPlace marker in the first stitch.\nRnd 2: inc x 6 (12)\nMove the marker up every round.\n",
	Start: func(p *Pass) Visits {
		return Visits{End: p.markers, Reads: readsWords}
	},
})

// markers holds, part by part, markers placed against markers moved. A note or
// placement that speaks of markers explains them all.
func (p *Pass) markers() {
	marked := slices.ContainsFunc(p.facts().parts, func(part *part) bool { return len(part.markers) > 0 })
	if !marked || p.facts().speakOfMarkers() {
		return
	}
	for _, part := range p.facts().parts {
		var placed, moved *markerUse
		for i := range part.markers {
			u := &part.markers[i]
			switch {
			case u.move && moved == nil:
				moved = u
			case !u.move && placed == nil:
				placed = u
			}
		}
		switch {
		case placed != nil && moved == nil && len(part.markers) == 1 && !p.movesToo(placed.at):
			p.Report(placed.at, placed.span, sayNeverMoved())
		case moved != nil && (placed == nil || placed.at > moved.at):
			p.Report(moved.at, moved.span, sayNeverPlaced())
		}
	}
}

// movesToo says whether a statement that places a marker says as well that it is
// moved.
func (p *Pass) movesToo(at int) bool {
	return slices.ContainsFunc(p.facts().words(p.facts().said(at)), func(w string) bool { return w == "move" || w == "moving" || w == "moved" })
}

// speakOfMarkers says whether free words outside the actions speak of markers.
func (f *facts) speakOfMarkers() bool {
	for _, at := range f.texts {
		if _, action := f.pattern.File.Lines[at].Node.(*grammar.Action); action {
			continue
		}
		for _, w := range f.words(f.said(at)) {
			if w == "marker" || w == "markers" || w == "marked" {
				return true
			}
		}
	}
	return false
}

func sayNeverMoved() string { return "this marker is placed and never moved or spoken of again" }

func sayNeverPlaced() string { return "this marker is moved, and none was placed before" }
