package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/natefinch/atomic"
	"github.com/pmezard/go-difflib/difflib"
)

// rewrite puts a new text in a file's place, whole or not at all. A symbolic
// link stays one; the file that it leads to is written, with its mode.
func rewrite(path, text string) error {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	// Putting a file in the place of another asks nothing of the other's mode:
	// whether it may be written has to be found out.
	f, err := os.OpenFile(real, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return atomic.WriteFile(real, strings.NewReader(text))
}

// diff is the unified difference of two texts of one file; empty where there is none.
func diff(name, before, after string) (string, error) {
	if before == after {
		return "", nil
	}
	return difflib.GetUnifiedDiffString(difflib.UnifiedDiff{
		A: lines(before), B: lines(after), FromFile: name, ToFile: name, Context: 3,
	})
}

// lines cuts a text into lines with their ends, marked as patch wants it where the last has none.
func lines(text string) []string {
	out := strings.SplitAfter(text, "\n")
	last := len(out) - 1
	if out[last] == "" {
		return out[:last]
	}
	out[last] += "\n\\ No newline at end of file\n"
	return out
}
