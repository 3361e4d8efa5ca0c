package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/natefinch/atomic"

	"workeven/lint"
)

// baselineFlags say which baseline a run reads, or writes.
type baselineFlags struct{ read, write string }

// baseline is the one in force, and what this run finds.
type baseline struct {
	path      string // absolute; empty without one
	write     bool
	exists    bool
	held, now lint.Baseline
	looked    map[string]bool
}

func (f baselineFlags) open() (*baseline, error) {
	b := &baseline{write: f.write != "", looked: map[string]bool{}}
	name := f.read + f.write // they exclude each other
	if name == "" {
		return b, nil
	}
	var err error
	if b.path, err = filepath.Abs(name); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(b.path)
	if b.write && errors.Is(err, fs.ErrNotExist) {
		return b, nil
	}
	if err == nil {
		b.exists = true
		b.held, err = lint.ReadBaseline(data)
	}
	if err != nil {
		return nil, errors.New(name + ": " + reason(err))
	}
	return b, nil
}

// key is what a file goes by in the baseline: its path from the baseline's own
// folder, so that it is the same from wherever the command is run.
func (b *baseline) key(t target) string {
	if rel, err := filepath.Rel(filepath.Dir(b.path), t.path); err == nil {
		return filepath.ToSlash(rel)
	}
	return filepath.ToSlash(t.path)
}

func (b *baseline) count(t target, r lint.Report) {
	if b.path != "" {
		b.looked[b.key(t)] = true
		b.now.Count(b.key(t), r.Findings)
	}
}

func (b *baseline) split(t target, r lint.Report) lint.Report {
	if b.path != "" {
		r.Findings, r.Known = b.held.Split(b.key(t), r.Findings)
	}
	return r
}

// close writes the baseline, or tells that it could shrink.
func (b *baseline) close(a *app) error {
	if b.path == "" {
		return nil
	}
	next := b.now
	if b.exists {
		next = b.held.Shrink(b.now, b.mended)
	}
	gone := b.held.Len() - next.Len()
	if !b.write {
		if gone > 0 {
			a.note("%s holds %s no longer found; --write-baseline shrinks it.", display(b.path), lint.Number(gone, "finding that is", "findings that are"))
		}
		return nil
	}
	if err := atomic.WriteFile(b.path, strings.NewReader(string(next.Bytes()))); err != nil {
		return errors.New(display(b.path) + ": " + reason(err))
	}
	if b.exists {
		a.note("%s holds %s, %d fewer than before.", display(b.path), lint.Number(next.Len(), "finding", "findings"), gone)
	} else {
		a.note("%s holds %s.", display(b.path), lint.Number(next.Len(), "finding", "findings"))
	}
	b.held = next
	return nil
}

// mended tells whether a file's findings may be taken out where there are fewer:
// this run looked at it, or it is gone.
func (b *baseline) mended(file string) bool {
	if b.looked[file] {
		return true
	}
	_, err := os.Stat(filepath.Join(filepath.Dir(b.path), filepath.FromSlash(file)))
	return errors.Is(err, fs.ErrNotExist)
}
