package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"
)

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}

// colour tells whether to colour the standard output. NO_COLOR and FORCE_COLOR
// are conventions that many commands keep: https://no-color.org, https://force-color.org.
func (a *app) colour(when string) bool {
	switch {
	case when == "always":
		return true
	case when == "never" || a.env("NO_COLOR") != "":
		return false
	case a.env("FORCE_COLOR") != "":
		return true
	}
	return a.env("TERM") != "dumb" && isTerminal(a.out)
}

const (
	progressAfter = time.Second
	progressEvery = 100 * time.Millisecond
	clearLine     = "\r\x1b[K"
)

// progress is a line on the terminal that tells how far a long run is.
type progress struct {
	w           io.Writer // nil off a terminal
	total, done int
	start, last time.Time
	shown       bool
}

func (a *app) progress(total int) *progress {
	p := &progress{total: total, start: time.Now()}
	if isTerminal(a.err) {
		p.w = a.err
	}
	return p
}

// step counts one file as done.
func (p *progress) step() {
	p.done++
	now := time.Now()
	if p.w == nil || p.done == p.total || now.Sub(p.start) < progressAfter || now.Sub(p.last) < progressEvery {
		return
	}
	p.last, p.shown = now, true
	fmt.Fprintf(p.w, "%s%d of %d files", clearLine, p.done, p.total)
}

// clear takes the line away, so that something else can be written there.
func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.w, clearLine)
		p.shown = false
	}
}
