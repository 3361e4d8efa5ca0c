package main

import (
	"strconv"
	"time"
)

// bar is what our own server is to keep to on the machine of a designer.
type bar struct {
	title string
	// measure and lines name the times, of a command where run is set; share is
	// 0.5 for the middle time, 0.95 for the p95, 0 for the shortest.
	measure string
	lines   int
	run     bool
	share   float64
	most    time.Duration
}

var bars = []bar{
	{"a key to published diagnostics, 1,000 lines, p50", change, 1000, false, 0.5, 1 * time.Millisecond},
	{"a key to published diagnostics, 20,000 lines, p50", change, 20000, false, 0.5, 2 * time.Millisecond},
	{"a key to published diagnostics, 20,000 lines, p95", change, 20000, false, 0.95, 5 * time.Millisecond},
	{"hover, 20,000 lines, p95", hoverAtRest, 20000, false, 0.95, 2 * time.Millisecond},
	{"hover right after a key, 20,000 lines, p95", hoverAfterKey, 20000, false, 0.95, 2 * time.Millisecond},
	{"hints of 60 lines, 20,000 lines, p95", hintsAtRest, 20000, false, 0.95, 3 * time.Millisecond},
	{"hints of 60 lines right after a key, 20,000 lines, p95", hintsAfterKey, 20000, false, 0.95, 3 * time.Millisecond},
	{"completion, 20,000 lines, p95", completeAtRest, 20000, false, 0.95, 5 * time.Millisecond},
	{"completion right after a key, 20,000 lines, p95", completeAfter, 20000, false, 0.95, 5 * time.Millisecond},
	{"open to diagnostics, 20,000 lines (1 MB), fresh process, p50", openFresh, 20000, false, 0.5, 200 * time.Millisecond},
	{"`lint` of one file of 20,000 lines (1 MB), whole process, p50", lintCommand, 20000, true, 0.5, 120 * time.Millisecond},
	{"start (`version`), whole process, p50", startCommand, 1000, true, 0.5, 15 * time.Millisecond},
}

const (
	memoryBar = 80e6 // bytes, of the server at 20,000 lines
	growthBar = 2.3
)

// sayBars sets what was measured of our own server beside the bars.
func (b *bench) sayBars(say sayer) {
	say("## Against the bars\n\nThe bars are where waiting is not noticed, all rules on, with room to the best peer known. Those on the length of 20,000 lines stand for any: few patterns have a tenth of it.\n\n| measure | bar | measured | |\n|---|--:|--:|---|\n")
	kept := func(ok bool) string {
		if ok {
			return "kept"
		}
		return "**not kept**"
	}
	for _, x := range bars {
		took := b.took("workeven", x.lines, x.measure)
		if x.run {
			took = b.ran(x.measure, x.lines)
		}
		if len(took) > 0 {
			got := quantile(took, x.share)
			say("| %s | %s ms | %s ms | %s |\n", x.title, strconv.FormatInt(x.most.Milliseconds(), 10), ms(got), kept(got <= x.most))
		}
	}
	if r := b.results["workeven"][20000]; r != nil {
		say("| memory, 20,000 lines | %.0f MB | %.0f MB | %s |\n", megabytes(memoryBar), megabytes(r.peak), kept(r.peak <= memoryBar))
	}
	say("\n")
}
