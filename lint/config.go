package lint

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// ConfigName is the configuration file's name.
const ConfigName = ".workeven.toml"

// Extension is how the name of a pattern's file ends.
const Extension = ".crochet"

// Level is what a configuration sets a rule to.
type Level struct {
	Off      bool
	Severity Severity
}

var levelNames = append([]string{"off"}, severityNames[:]...)

// Config is one configuration file with those that it extends. The zero value
// is that of a file without one.
type Config struct {
	layers []layer // those extended come first, so that later ones win
}

// layer is what one file says.
type layer struct {
	include, exclude []Glob
	errorOn          *Threshold
	rules            map[string]Level
	perFile          []perFile
}

type perFile struct {
	glob  Glob
	rules map[string]Level
}

// Levels is what the rules are set to for a file, which is an absolute path:
// those that are off, and the severities that are not the rules' own.
func (c *Config) Levels(file string) (off map[string]bool, severity map[string]Severity) {
	off, severity = map[string]bool{}, map[string]Severity{}
	set := func(rules map[string]Level) {
		for name, l := range rules {
			delete(off, name)
			delete(severity, name)
			if l.Off {
				off[name] = true
			} else {
				severity[name] = l.Severity
			}
		}
	}
	for _, l := range c.layers {
		set(l.rules)
		for _, p := range l.perFile {
			if p.glob.Matches(file) {
				set(p.rules)
			}
		}
	}
	return off, severity
}

// ErrorOn is the severity that fails a run; a warning, unless a configuration says otherwise.
func (c *Config) ErrorOn() Threshold {
	for _, l := range slices.Backward(c.layers) {
		if l.errorOn != nil {
			return *l.errorOn
		}
	}
	return Threshold(Warning)
}

// Excludes tells whether a file is to be left alone when its folder is looked through.
func (c *Config) Excludes(file string) bool {
	for _, l := range c.layers {
		if slices.ContainsFunc(l.exclude, func(g Glob) bool { return g.Matches(file) }) {
			return true
		}
	}
	return false
}

// PassedBy tells whether a folder of that name is left alone when the one above
// it is looked through: hidden ones, and those that hold other people's packages.
func PassedBy(folder string) bool { return strings.HasPrefix(folder, ".") || folder == "node_modules" }

// Includes tells whether a file counts as a pattern when its folder is looked
// through: by its ending, and where `include` is said, by that instead. A
// folder that is included stands for the patterns in it.
func (c *Config) Includes(file string) bool {
	pattern := strings.HasSuffix(file, Extension)
	for _, l := range slices.Backward(c.layers) {
		if l.include != nil {
			return slices.ContainsFunc(l.include, func(g Glob) bool { return g.names(file) || pattern && g.Matches(file) })
		}
	}
	return pattern
}

// ConfigError is a configuration that does not hold, with its line; 0 where no line is to blame.
type ConfigError struct {
	Path    string
	Line    int
	Message string
}

func (e *ConfigError) Error() string {
	at := filepath.ToSlash(e.Path)
	if e.Line > 0 {
		at += ":" + strconv.Itoa(e.Line)
	}
	return at + ": " + e.Message
}
