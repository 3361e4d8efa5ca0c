// Command bench measures the language server beside others in one run: what a
// designer waits for after a key, on opening a pattern, and for a hover, hints or
// a completion. It drives each server over its standard input and output as an
// editor does, interleaved, on documents of as many lines, and prints tables.
//
//	.ci/bench/run [-o lsp/LATENCY.md]   installs the peers and measures
//	go run ./.ci/bench -smoke           only sees that our server answers each measure
//
// It needs Linux, for it reads memory from /proc.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func run() error {
	out := flag.String("o", "", "write the document to this `file` too")
	smoke := flag.Bool("smoke", false, "run only our server, a little, and fail where a measure has no answer")
	cache := flag.String("peers", "", "the `folder` that the peers are installed in; .ci/bench/run gives it")
	write := flag.Int("print", 0, "only write the pattern of so many `lines` that is measured")
	only := flag.String("only", "", "run only the servers and commands of these `names`, with commas between")
	rounds := flag.Int("rounds", 2, "how often each server's turn comes")
	p := pace{}
	flag.IntVar(&p.samples, "n", 40, "samples of a measure in one turn")
	flag.IntVar(&p.warm, "warm", 5, "samples before them that do not count")
	flag.IntVar(&p.opens, "opens", 4, "fresh processes in one turn that only open the document, besides the one that goes on")
	flag.DurationVar(&p.budget, "budget", 20*time.Second, "after how long a measure stops with what it has")
	flag.Parse()
	if *write > 0 {
		d := crochet(*write)
		_, err := os.Stdout.WriteString(d.text(false))
		return err
	}
	p.least, p.gap, p.limit = min(10, p.samples), 30*time.Millisecond, 40*time.Second

	where := host()
	base, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(base)
	binary := filepath.Join(base, "workeven")
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", binary, "./cmd/workeven")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return fmt.Errorf("our server does not build: %w", err)
	}
	mine := []*server{ours(binary, false), ours(binary, true)}
	if *smoke {
		return smokeTest(mine, binary, base)
	}
	if *cache == "" {
		return errors.New("-peers says where the peers are; run .ci/bench/run, which installs them")
	}
	others, err := peers(*cache)
	if err != nil {
		return err
	}
	b := newBench(append(mine, others...), commands(binary, filepath.Join(*cache, "actionlint")))
	if *only != "" {
		b.keep(strings.Split(*only, ","))
	}
	for round := range *rounds {
		for _, lines := range lengths {
			b.turn(round, lines, base, p)
		}
	}
	text := b.document(where, p, *rounds)
	fmt.Print(text)
	if *out != "" {
		if err := os.WriteFile(*out, []byte(text), 0o644); err != nil {
			return err
		}
	}
	return b.failed()
}

// lengths are those of the documents. That of the middle is for our own server
// alone, to see how the time grows.
var lengths = []int{1000, 10000, 20000}

const growthOnly = 10000

// bench is what is measured and what came out.
type bench struct {
	servers  []*server
	commands []*command
	results  map[string]map[int]*result // by name, then lines
	runs     map[string]map[int]*runs
}

func newBench(servers []*server, commands []*command) *bench {
	b := &bench{servers: servers, commands: commands, results: map[string]map[int]*result{}, runs: map[string]map[int]*runs{}}
	for _, s := range servers {
		b.results[s.name] = map[int]*result{}
	}
	for _, c := range commands {
		b.runs[c.name] = map[int]*runs{}
	}
	return b
}

func (b *bench) keep(names []string) {
	b.servers = slices.DeleteFunc(b.servers, func(s *server) bool { return !slices.Contains(names, s.name) })
	b.commands = slices.DeleteFunc(b.commands, func(c *command) bool { return !slices.Contains(names, c.name) })
}

// turn has each server and each command once, one after another.
func (b *bench) turn(round, lines int, base string, p pace) {
	for _, s := range b.servers {
		if lines == growthOnly && documentOf(s) != "workeven" {
			continue
		}
		fmt.Fprintf(os.Stderr, "round %d, %d lines: %s\n", round+1, lines, s.name)
		r := b.results[s.name][lines]
		if r == nil {
			r = newResult()
			b.results[s.name][lines] = r
		}
		r.run(s, documents[documentOf(s)](lines), base, p)
	}
	files := map[string]string{}
	for range p.samples {
		for _, c := range b.commands {
			if lines == growthOnly && !c.ours {
				continue
			}
			r := b.runs[c.name][lines]
			if r == nil {
				r = &runs{}
				b.runs[c.name][lines] = r
			}
			r.once(c, lines, base, files)
		}
	}
}

// documentOf names the kind of document that a server reads.
func documentOf(s *server) string {
	name, _, _ := strings.Cut(s.name, ",")
	return name
}

// failed tells of measures that had no answer.
func (b *bench) failed() error {
	var all []error
	for _, s := range b.servers {
		for _, lines := range lengths {
			all = append(all, b.results[s.name][lines].problems(s, lines)...)
		}
	}
	for _, c := range b.commands {
		for _, lines := range lengths {
			if r := b.runs[c.name][lines]; r != nil && r.err != nil {
				all = append(all, fmt.Errorf("%s, %d lines: %w", c.name, lines, r.err))
			}
		}
	}
	return errors.Join(all...)
}

// problems are failures, and measures of a server that have no sample.
func (r *result) problems(s *server, lines int) []error {
	if r == nil {
		return nil
	}
	var out []error
	for _, m := range s.measures() {
		for _, err := range r.failures[m] {
			out = append(out, fmt.Errorf("%s, %d lines, %s: %w", s.name, lines, m, err))
		}
		if len(r.took[m]) == 0 {
			out = append(out, fmt.Errorf("%s, %d lines, %s: nothing was measured", s.name, lines, m))
		}
	}
	return out
}

// measures are those that a server has.
func (s *server) measures() []string {
	out := []string{openFresh, change}
	if s.hover {
		out = append(out, hoverAtRest, hoverAfterKey)
	}
	if s.hints {
		out = append(out, hintsAtRest, hintsAfterKey)
	}
	if s.completion {
		out = append(out, completeAtRest, completeAfter)
	}
	if s.otherKeys {
		out = append(out, otherKeys...)
	}
	return out
}

// smokeTest sees that every measure of our server yields an answer. No time is
// looked at.
func smokeTest(servers []*server, binary, base string) error {
	p := pace{warm: 1, samples: 3, opens: 1, budget: time.Minute, gap: time.Millisecond, least: 3, limit: time.Minute}
	b := newBench(servers, slices.DeleteFunc(commands(binary, ""), func(c *command) bool { return !c.ours }))
	b.turn(0, 1000, base, p)
	if err := b.failed(); err != nil {
		return err
	}
	for _, s := range servers {
		if r := b.results[s.name][1000]; r.peak == 0 {
			return fmt.Errorf("%s: no memory was measured", s.name)
		}
		fmt.Printf("%s: %s answered\n", s.name, strings.Join(s.measures(), ", "))
	}
	return nil
}
