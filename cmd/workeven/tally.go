package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

func (a *app) tallyCommand() *cobra.Command {
	var s sources
	cmd := &cobra.Command{
		Use:   "tally [FILE|FOLDER|-]...",
		Short: "Count every round of a pattern",
		Long: `Works every round out from its words, and shows how many stitches of the round
below it takes, how many it makes, and the total that the pattern states. For a
range of rounds it is what the first takes and the last makes.

With --format json, each file is one object on a line of its own.`,
		Example: `  workeven tally snail.crochet
  workeven tally --format json snail.crochet`,
	}
	s.flags(cmd)
	format := flagChoice(cmd, "format", "text", "how the counts are written", "text", "json")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		targets, err := s.find(a, args)
		if err != nil {
			return err
		}
		inOrder(targets, s.jobs, a.tally, func(t target, r tallied) {
			if r.err != nil {
				a.fail("%s", r.err)
				return
			}
			if r.unread > 0 {
				a.note("%s: %s cannot be read; `workeven lint` says why.", t.name, lint.Number(r.unread, "place", "places"))
			}
			if format.value == "json" {
				if err := a.writeJSON(r.file); err != nil {
					a.fail("%s: %s", t.name, err)
				}
				return
			}
			a.write(tallyText(r.file))
		})
		return nil
	}
	return cmd
}

type tallied struct {
	file   tallyFile
	unread int
	err    error
}

type tallyFile struct {
	File   string       `json:"file"`
	Pieces []tallyPiece `json:"pieces"`
}

type tallyPiece struct {
	Name   string       `json:"name"`
	Make   int64        `json:"make"`
	Line   int          `json:"line"`
	Rounds []tallyRound `json:"rounds"`
}

// tallyRound is one statement of rounds. What its words take and make is nil
// where they could not be worked out, and the total where none is stated.
type tallyRound struct {
	Label    string           `json:"label"`
	From     int64            `json:"from"`
	To       int64            `json:"to"`
	Line     int              `json:"line"`
	Takes    *int64           `json:"takes"`
	Makes    *int64           `json:"makes"`
	Stated   *int64           `json:"stated"`
	Stitches map[string]int64 `json:"stitches"`
	Spaces   map[string]int64 `json:"spaces"`

	made string // the stitches and spaces in words, in the order that they are made
}

func (a *app) tally(t target) tallied {
	text, err := a.read(t)
	if err != nil {
		return tallied{err: err}
	}
	f := grammar.Parse(text)
	return tallied{file: tallyOf(t.name, fabric.Work(f)), unread: len(f.Faults())}
}

func tallyOf(name string, p *fabric.Pattern) tallyFile {
	out := tallyFile{File: name, Pieces: make([]tallyPiece, 0, len(p.Pieces))}
	places := lint.NewPlaces(p.File.Text())
	for _, piece := range p.Pieces {
		line := func(off int) int { return places.At(p.File.Start(piece.At + off)).Line }
		tp := tallyPiece{piece.Name, piece.Make, line(0), make([]tallyRound, 0, len(piece.Rounds))}
		for _, r := range piece.Rounds {
			tp.Rounds = append(tp.Rounds, tallyOfRound(p, r, line(r.Off)))
		}
		out.Pieces = append(out.Pieces, tp)
	}
	return out
}

func tallyOfRound(p *fabric.Pattern, r *fabric.Round, line int) tallyRound {
	tr := tallyRound{
		Label: r.Name(), From: int64(r.Node.From.N), To: int64(r.Node.To.N), Line: line,
		Stitches: map[string]int64{}, Spaces: map[string]int64{},
	}
	if r.Known {
		tr.Takes, tr.Makes = &r.Takes, &r.Makes
	}
	if n, ok := p.StatedStitches(r.Node.Total); ok {
		tr.Stated = &n
	}
	var made []string
	for _, s := range r.Stitches {
		tr.Stitches[s.Stitch.Name] += s.N
		made = append(made, fmt.Sprintf("%d %s", s.N, s.Stitch.Name))
	}
	for _, s := range r.Spaces {
		name := fabric.SpaceName(s.Chains)
		tr.Spaces[name] += s.N
		made = append(made, lint.Number(int(s.N), name, name+"s"))
	}
	tr.made = strings.Join(made, ", ")
	return tr
}

// tallyText shows one file's counts as tables, one a piece.
func tallyText(f tallyFile) []byte {
	var b bytes.Buffer
	b.WriteString(f.File + "\n")
	for _, p := range f.Pieces {
		fmt.Fprintf(&b, "\n%s (make %d)\n", p.Name, p.Make)
		w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
		fmt.Fprintln(w, "  round\ttakes\tmakes\tstated\t\tof")
		for _, r := range p.Rounds {
			differs := ""
			if r.Stated != nil && r.Makes != nil && *r.Stated != *r.Makes {
				differs = "differs"
			}
			fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\t%s\n", r.Label, shown(r.Takes, "?"), shown(r.Makes, "?"), shown(r.Stated, "-"), differs, r.made)
		}
		_ = w.Flush() // a buffer takes all
	}
	b.WriteByte('\n')
	return b.Bytes()
}

// shown is a count, or what stands for one that is not there.
func shown(n *int64, without string) string {
	if n == nil {
		return without
	}
	return strconv.FormatInt(*n, 10)
}
