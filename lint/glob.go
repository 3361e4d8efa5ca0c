package lint

import (
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"github.com/bmatcuk/doublestar/v4"
)

// Glob is a pattern of file names, counted from a folder. `*` stands for any
// part of a name and `**` for any folders. A pattern without a slash holds at
// any depth; one that names a folder holds for all that is in it.
type Glob struct{ dir, pattern string }

// NewGlob reads a pattern. The folder is absolute, in the system's own form.
func NewGlob(dir, pattern string) (Glob, error) {
	p := filepath.ToSlash(pattern)
	anchored := strings.Contains(strings.TrimSuffix(p, "/"), "/")
	p = strings.TrimPrefix(path.Clean(strings.TrimPrefix(p, "/")), "./")
	if !anchored {
		p = "**/" + p
	}
	if pattern == "" || !doublestar.ValidatePattern(p) {
		return Glob{}, fmt.Errorf("%q is no pattern of file names", pattern)
	}
	return Glob{dir, p}, nil
}

// Matches tells whether the pattern holds for an absolute path or a folder it is in.
func (g Glob) Matches(file string) bool {
	for rel := g.below(file); rel != "." && rel != ""; rel = path.Dir(rel) {
		if doublestar.MatchUnvalidated(g.pattern, rel) {
			return true
		}
	}
	return false
}

// names is Matches for the file itself, whatever its folders.
func (g Glob) names(file string) bool {
	rel := g.below(file)
	return rel != "" && doublestar.MatchUnvalidated(g.pattern, rel)
}

// below is the path from the glob's folder, with slashes; empty where the file is not below it.
func (g Glob) below(file string) string {
	rel, err := filepath.Rel(g.dir, file)
	if err != nil {
		return ""
	}
	rel = filepath.ToSlash(rel)
	if rel == ".." || strings.HasPrefix(rel, "../") {
		return ""
	}
	return rel
}
