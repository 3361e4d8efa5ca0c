package lint

import (
	"encoding/json"
	"errors"
	"fmt"
)

// Baseline holds how many findings of each rule a file had when a designer
// took the linter up, so that only new ones are reported. It counts by file and
// rule, never by line, and so outlives edits elsewhere in the file.
type Baseline struct{ counts map[string]map[string]int }

const baselineVersion = 1

type baselineFile struct {
	Version int                       `json:"version"`
	Files   map[string]map[string]int `json:"files"`
}

// ReadBaseline reads what Bytes wrote.
func ReadBaseline(data []byte) (Baseline, error) {
	var f baselineFile
	if err := json.Unmarshal(data, &f); err != nil {
		return Baseline{}, fmt.Errorf("this is no baseline: %w", err)
	}
	if f.Version != baselineVersion {
		return Baseline{}, fmt.Errorf("this baseline is of version %d; version %d is known", f.Version, baselineVersion)
	}
	for file, rules := range f.Files {
		for rule, n := range rules {
			if n < 0 {
				return Baseline{}, errors.New("this baseline counts " + file + ", " + rule + " below nothing")
			}
		}
	}
	return Baseline{f.Files}, nil
}

// Bytes writes the baseline as JSON, in order of file and rule.
func (b Baseline) Bytes() []byte {
	files := b.counts
	if files == nil {
		files = map[string]map[string]int{}
	}
	return encodeJSON(baselineFile{baselineVersion, files}, "  ")
}

// Count takes a file's findings into the baseline, in place of what it held of that file.
func (b *Baseline) Count(file string, fs []Finding) {
	if b.counts == nil {
		b.counts = map[string]map[string]int{}
	}
	delete(b.counts, file)
	for _, f := range fs {
		if b.counts[file] == nil {
			b.counts[file] = map[string]int{}
		}
		b.counts[file][f.Rule]++
	}
}

// Split parts a file's findings into those to report and those that the
// baseline holds. Where a rule has more findings than it holds, all of that
// rule's are reported: which of them is new cannot be told.
func (b Baseline) Split(file string, fs []Finding) (fresh, known []Finding) {
	held := b.counts[file]
	if len(held) == 0 {
		return fs, nil
	}
	now := map[string]int{}
	for _, f := range fs {
		now[f.Rule]++
	}
	for _, f := range fs {
		if now[f.Rule] <= held[f.Rule] {
			known = append(known, f)
		} else {
			fresh = append(fresh, f)
		}
	}
	return fresh, known
}

// Shrink lowers the baseline to what was found now; it never grows, neither by
// count nor by file nor by rule. Files that were not looked at keep theirs.
func (b Baseline) Shrink(now Baseline, looked func(file string) bool) Baseline {
	out := Baseline{map[string]map[string]int{}}
	for file, rules := range b.counts {
		left := map[string]int{}
		for rule, n := range rules {
			if looked(file) {
				n = min(n, now.counts[file][rule])
			}
			if n > 0 {
				left[rule] = n
			}
		}
		if len(left) > 0 {
			out.counts[file] = left
		}
	}
	return out
}

// Len is how many findings the baseline holds.
func (b Baseline) Len() (n int) {
	for _, rules := range b.counts {
		for _, c := range rules {
			n += c
		}
	}
	return n
}
