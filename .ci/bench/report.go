package main

import (
	"flag"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"time"
)

// document is the whole report, in Markdown.
func (b *bench) document(where machine, p pace, rounds int) string {
	var w strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&w, format, args...) }
	say("# How long a designer waits\n\n")
	say("Measured by `.ci/bench`, which writes this page; nothing in it is written by hand. To measure anew, with nothing else running:\n\n")
	say("```sh\n.ci/bench/run%s\n```\n\n", flagsGiven())
	say("| | |\n|---|---|\n| date | %s |\n| processor | %s |\n| memory | %s |\n| system | %s |\n| Go | %s |\n| load average before the run (1, 5, 15 min) | %s |\n\n",
		where.date, where.cpu, where.memory, where.system, runtime.Version(), where.load)
	b.sayBars(say)
	say(`## What is measured

Each server runs in a process of its own and is driven over its standard input and output, as an editor does. In %[1]d rounds each has its turn, one after another,
at each length; so a slow minute of the machine meets all of them. Of each measure %[2]d samples of a turn count, after %[3]d that do not; where they take longer than %[4]v,
those that were taken till then. Between two samples %[5]v pass. p50 is the middle one, p95 the one that 95 of 100 do not exceed. All times are wall time in
milliseconds, seen by the client: from before the first byte is written to when the last byte of the answer is read, before it is decoded.

- **Change to diagnostics**: one small edit in the middle of the document puts something wrong there or takes it out again, in turns. The time ends with the
  first diagnostics that say so. A server that waits before it looks, or first repeats what it said of the older text, is measured with that.
- **Open to diagnostics**: in a fresh process, right after initialize, from the message that opens the document to diagnostics that show what is wrong in its middle.
- **Hover, hints, completion**: at rest, when nothing else is to be done; and after a key, where the request is written in one go with an edit and so waits for
  what the edit has to be worked out for. Hints are those of 60 lines. An answer that is empty is a failure.
- **Memory**: the most that the server's processes held (VmHWM), added up, daemons included; of a command in runs that are not timed.
- **Whole process**: from starting the command to its end, with the output read.

The documents are as long as each other in lines, made by rules and the same each time: patterns of mixed pieces in rows, spirals and joined rounds with their
making up, without a slip but for the one; Go and JavaScript of small functions; JSON and YAML against a schema. The work is not the same: gopls checks types,
the others know rules of other kinds. The figures say what people are used to wait for in an editor, not which program is the better.

`, rounds, p.samples, p.warm, p.budget, p.gap)
	b.sayServers(say)
	for _, t := range []struct{ title, measure string }{
		{"Change to diagnostics", change},
		{"Open to diagnostics, in a fresh process", openFresh},
		{"Hover at rest", hoverAtRest},
		{"Hover after a key", hoverAfterKey},
		{"Hints of 60 lines at rest", hintsAtRest},
		{"Hints of 60 lines after a key", hintsAfterKey},
		{"Completion at rest", completeAtRest},
		{"Completion after a key", completeAfter},
	} {
		b.sayTimes(say, t.title, t.measure)
	}
	b.sayOtherKeys(say)
	b.sayMemory(say)
	b.sayCommands(say)
	b.sayGrowth(say)
	return strings.TrimRight(w.String(), "\n") + "\n"
}

type sayer = func(format string, args ...any)

func (b *bench) sayServers(say sayer) {
	say("Each server is set so that it waits for nothing, where it can be:\n\n| server | version | how it is driven |\n|---|---|---|\n")
	for _, s := range b.servers {
		say("| %s | %s | %s |\n", s.name, s.version, s.driven)
	}
	say("\n")
}

// compared are the lengths at which all servers are measured.
func compared() []int {
	return slices.DeleteFunc(slices.Clone(lengths), func(n int) bool { return n == growthOnly })
}

func (b *bench) sayTimes(say sayer, title, measure string) {
	say("## %s\n\n| server |", title)
	for _, lines := range compared() {
		say(" %s lines: p50 | p95 | max | n |", thousands(lines))
	}
	say("\n|---|%s\n", strings.Repeat("--:|--:|--:|--:|", len(compared())))
	for _, s := range b.servers {
		if !slices.Contains(s.measures(), measure) {
			continue
		}
		say("| %s |", s.name)
		for _, lines := range compared() {
			say(" %s |", timesOf(b.took(s.name, lines, measure)))
		}
		say("\n")
	}
	say("\n")
}

// sayOtherKeys tells of our own server after keys that reach further than one
// round. They have no bar, and no peer.
func (b *bench) sayOtherKeys(say sayer) {
	say("## Change to diagnostics, by what the key touches\n\n`workeven` alone. Above it is a round in the midst of a part. What else a key touches can say something new of other parts, and is held against them all.\n\n| the key is |")
	for _, lines := range compared() {
		say(" %s lines: p50 | p95 | max | n |", thousands(lines))
	}
	say("\n|---|%s\n", strings.Repeat("--:|--:|--:|--:|", len(compared())))
	for _, key := range otherKeys {
		say("| %s |", key)
		for _, lines := range compared() {
			say(" %s |", timesOf(b.took("workeven", lines, key)))
		}
		say("\n")
	}
	say("\n")
}

// timesOf are the cells p50, p95, max and n.
func timesOf(took []time.Duration) string {
	if len(took) == 0 {
		return "no answer | | | 0"
	}
	return fmt.Sprintf("%s | %s | %s | %d", ms(quantile(took, 0.5)), ms(quantile(took, 0.95)), ms(quantile(took, 1)), len(took))
}

func (b *bench) sayMemory(say sayer) {
	say("## Memory\n\nMB at the most, after all measures.\n\n| server |")
	for _, lines := range compared() {
		say(" %s lines |", thousands(lines))
	}
	say("\n|---|%s\n", strings.Repeat("--:|", len(compared())))
	for _, s := range b.servers {
		say("| %s |", s.name)
		for _, lines := range compared() {
			if r := b.results[s.name][lines]; r != nil {
				say(" %.0f |", megabytes(r.peak))
			} else {
				say(" |")
			}
		}
		say("\n")
	}
	say("\n")
}

func (b *bench) sayCommands(say sayer) {
	say("## Whole process\n\nactionlint has no server; it reads workflows of as many lines, without the other programs that it can call (`-shellcheck= -pyflakes=`). Files are without a slip.\n\n")
	say("| command | lines | MB read | least | p50 | p95 | max | n | memory, MB |\n|---|--:|--:|--:|--:|--:|--:|--:|--:|\n")
	for _, lines := range lengths {
		for _, c := range b.commands {
			if r := b.runs[c.name][lines]; r != nil && (c.file != nil || lines == lengths[0]) {
				say("| %s | %s | %.2f | %s | %s | %.0f |\n", c.name, thousands(lines), float64(r.bytes)/1e6, ms(quantile(r.took, 0)), timesOf(r.took), megabytes(r.peak))
			}
		}
	}
	say("\n")
}

// sayGrowth compares the longest document with one of half as many lines.
func (b *bench) sayGrowth(say sayer) {
	long := 2 * growthOnly
	say("## Growth\n\nThe middle time of our own server and command at %s and at %s lines; twice the lines should take at most %.1f times as long.\n\n| measure | %s | %s | times |\n|---|--:|--:|--:|\n",
		thousands(growthOnly), thousands(long), growthBar, thousands(growthOnly), thousands(long))
	row := func(title string, half, whole []time.Duration) {
		if len(half) > 0 && len(whole) > 0 {
			a, z := quantile(half, 0.5), quantile(whole, 0.5)
			say("| %s | %s | %s | %.2f |\n", title, ms(a), ms(z), float64(z)/float64(a))
		}
	}
	for _, m := range ours("", false).measures() {
		row(m, b.took("workeven", growthOnly, m), b.took("workeven", long, m))
	}
	row(lintCommand, b.ran(lintCommand, growthOnly), b.ran(lintCommand, long))
}

func (b *bench) took(name string, lines int, measure string) []time.Duration {
	if r := b.results[name][lines]; r != nil {
		return r.took[measure]
	}
	return nil
}

func (b *bench) ran(name string, lines int) []time.Duration {
	if r := b.runs[name][lines]; r != nil {
		return r.took
	}
	return nil
}

// quantile is the least time that a share of all times does not exceed; 0 gives
// the shortest.
func quantile(took []time.Duration, share float64) time.Duration {
	if len(took) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(took))
	at := int(math.Ceil(share*float64(len(sorted)) - 1e-9))
	return sorted[min(max(at, 1), len(sorted))-1]
}

func ms(d time.Duration) string {
	x := float64(d) / 1e6
	if x >= 100 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.2f", x)
}

func megabytes(n int64) float64 { return float64(n) / 1e6 }

func thousands(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d,%03d", n/1000, n%1000)
}

// flagsGiven are those that this run was asked for with.
func flagsGiven() string {
	given := ""
	flag.Visit(func(f *flag.Flag) {
		if f.Name != "peers" { // .ci/bench/run gives it
			given += " -" + f.Name + " " + f.Value.String()
		}
	})
	return given
}
