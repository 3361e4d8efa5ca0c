package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// command is a linter without a server: it is measured as a whole process.
type command struct {
	name string
	ours bool
	args []string // the file comes last
	// file makes what it reads; nil where it reads nothing.
	file func(lines int) document
}

const (
	lintCommand  = "workeven lint"
	startCommand = "workeven version"
)

func commands(ours, actionlint string) []*command {
	return []*command{
		{lintCommand, true, []string{ours, "lint"}, crochet},
		{"actionlint", false, []string{actionlint, "-shellcheck=", "-pyflakes="}, workflow},
		{startCommand, true, []string{ours, "version"}, nil},
	}
}

// runs are how long the processes of a command took on one length.
type runs struct {
	took  []time.Duration
	bytes int
	peak  int64
	err   error
}

// once runs a command. files are those that have been written in this turn.
func (r *runs) once(c *command, lines int, base string, files map[string]string) {
	args := c.args
	if c.file != nil {
		if files[c.name] == "" {
			d := c.file(lines)
			files[c.name] = filepath.Join(base, fmt.Sprintf("%d-%s", lines, d.file))
			text := d.text(false)
			r.bytes = len(text)
			if err := os.WriteFile(files[c.name], []byte(text), 0o644); err != nil {
				r.err = err
				return
			}
		}
		args = append(args[:len(args):len(args)], files[c.name])
	}
	cmd := exec.Command(args[0], args[1:]...)
	began := time.Now()
	said, err := cmd.CombinedOutput()
	took := time.Since(began)
	if err != nil {
		r.err = fmt.Errorf("it should find nothing wrong: %w: %.300s", err, said)
		return
	}
	r.took = append(r.took, took)
	if len(r.took)%memoryEvery == 1 {
		r.peak = max(r.peak, watched(args))
	}
}

// memoryEvery is after how many runs that are timed one is watched.
const memoryEvery = 10

// watched runs a command that is not timed, and gives the most memory that it
// was seen to hold, in bytes. What the system counts at a process's end would
// include what the bench held when it started it.
func watched(args []string) int64 {
	cmd := exec.Command(args[0], args[1:]...)
	if cmd.Start() != nil {
		return 0
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		_ = cmd.Wait()
	}()
	most := int64(0)
	for {
		select {
		case <-done:
			return most
		case <-time.After(200 * time.Microsecond):
			most = max(most, statusOf(cmd.Process.Pid, "VmHWM")<<10)
		}
	}
}
