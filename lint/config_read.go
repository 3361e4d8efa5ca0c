package lint

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// configKeys are what a configuration may say, in the order that help lists them.
var configKeys = []string{"extends", "include", "exclude", "error-on", "rules", "per-file"}

// thresholdNames are the values of error-on.
var thresholdNames = append(slices.Clone(severityNames[:]), "never")

// configReader decodes one file. Every value is kept undecoded until its key
// is known, so that each complaint can name its line.
type configReader struct {
	path, dir string
	md        toml.MetaData
	rules     []string
	layer     layer
	extends   []string
	// extendsLine is where `extends` stands.
	extendsLine int
}

// readConfig reads a configuration's bytes. The path is absolute and is only
// named, never opened; rules are the names that are known.
func readConfig(path string, data []byte, rules []string) (*configReader, error) {
	r := &configReader{path: path, dir: filepath.Dir(path), rules: rules}
	var top map[string]toml.Primitive
	md, err := toml.Decode(strings.TrimPrefix(string(data), bom), &top)
	if err != nil {
		return nil, r.syntax(err)
	}
	r.md = md
	for _, key := range r.keys(nil, top) {
		v := top[key]
		switch key {
		case "extends":
			r.extends, err = r.strings(v, "the path of a configuration, or a list of them")
			r.extendsLine = r.line(v)
		case "include":
			r.layer.include, err = r.globs(v)
		case "exclude":
			r.layer.exclude, err = r.globs(v)
		case "error-on":
			err = r.errorOn(v)
		case "rules":
			r.layer.rules, err = r.levels([]string{"rules"}, v)
		case "per-file":
			err = r.perFile(v)
		default:
			err = r.fail(v, "there is no key "+key+" in a configuration"+meant(key, configKeys))
		}
		if err != nil {
			return nil, err
		}
	}
	return r, nil
}

// keys lists a table's keys in the order that they are written in.
func (r *configReader) keys(under []string, table map[string]toml.Primitive) []string {
	var out []string
	for _, k := range r.md.Keys() {
		if len(k) <= len(under) || !slices.Equal(k[:len(under)], under) {
			continue
		}
		key := k[len(under)]
		if _, ok := table[key]; ok && !slices.Contains(out, key) {
			out = append(out, key)
		}
	}
	return out
}

// refusal decodes nothing and fails, which makes the library give the place of
// the key that it was to decode.
type refusal string

func (x refusal) UnmarshalTOML(any) error { return errors.New(string(x)) }

func (r *configReader) line(v toml.Primitive) int {
	var place toml.ParseError
	if errors.As(r.md.PrimitiveDecode(v, refusal("")), &place) {
		return place.Position.Line
	}
	return 0
}

func (r *configReader) fail(v toml.Primitive, message string) error {
	return &ConfigError{r.path, r.line(v), message}
}

func (r *configReader) syntax(err error) error {
	var place toml.ParseError
	if errors.As(err, &place) {
		return &ConfigError{r.path, place.Position.Line, place.Message}
	}
	return &ConfigError{r.path, 0, err.Error()}
}

func (r *configReader) table(v toml.Primitive, want string) (map[string]toml.Primitive, error) {
	var out map[string]toml.Primitive
	if err := r.md.PrimitiveDecode(v, &out); err != nil || out == nil {
		return nil, r.fail(v, want+" is wanted here")
	}
	return out, nil
}

// strings reads a string, or a list of strings.
func (r *configReader) strings(v toml.Primitive, want string) ([]string, error) {
	var one string
	if r.md.PrimitiveDecode(v, &one) == nil {
		return []string{one}, nil
	}
	out := []string{}
	if r.md.PrimitiveDecode(v, &out) != nil {
		return nil, r.fail(v, want+" is wanted here")
	}
	return out, nil
}

func (r *configReader) globs(v toml.Primitive) ([]Glob, error) {
	patterns, err := r.strings(v, "a list of file names, such as [\"drafts/**\"],")
	out := make([]Glob, 0, len(patterns))
	for _, p := range patterns {
		g, bad := NewGlob(r.dir, p)
		if bad != nil {
			return nil, r.fail(v, bad.Error())
		}
		out = append(out, g)
	}
	return out, err
}

func (r *configReader) errorOn(v toml.Primitive) error {
	var name string
	if r.md.PrimitiveDecode(v, &name) == nil {
		if t, ok := ParseThreshold(name); ok {
			r.layer.errorOn = &t
			return nil
		}
	}
	return r.fail(v, "error-on is one of "+strings.Join(thresholdNames, ", "))
}

func (r *configReader) levels(under []string, v toml.Primitive) (map[string]Level, error) {
	table, err := r.table(v, "a table of rules, such as [rules],")
	out := make(map[string]Level, len(table))
	for _, name := range r.keys(under, table) {
		if !slices.Contains(r.rules, name) {
			return nil, r.fail(table[name], "there is no rule "+name+r.hint(name))
		}
		var level string
		if r.md.PrimitiveDecode(table[name], &level) != nil || !slices.Contains(levelNames, level) {
			return nil, r.fail(table[name], fmt.Sprintf("%s is one of %s", name, strings.Join(levelNames, ", ")))
		}
		s, on := ParseSeverity(level)
		out[name] = Level{Off: !on, Severity: s}
	}
	return out, err
}

// hint names the nearest rule; the whole list would be too long to read.
func (r *configReader) hint(name string) string {
	if near := Nearest(name, r.rules); near != "" {
		return "; did you mean " + near + "?"
	}
	return "; `workeven rules` lists them"
}

func (r *configReader) perFile(v toml.Primitive) error {
	table, err := r.table(v, "a table for each pattern of file names, such as [per-file.\"drafts/**\"],")
	for _, pattern := range r.keys([]string{"per-file"}, table) {
		g, bad := NewGlob(r.dir, pattern)
		if bad != nil {
			return r.fail(table[pattern], bad.Error())
		}
		rules, bad := r.levels([]string{"per-file", pattern}, table[pattern])
		if bad != nil {
			return bad
		}
		r.layer.perFile = append(r.layer.perFile, perFile{g, rules})
	}
	return err
}
