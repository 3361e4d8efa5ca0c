package main

import (
	"cmp"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"workeven/lint"
)

// stdinName stands for the standard input among the files of a command line.
const stdinName = "-"

// sources are the flags that say which files a command reads, and how.
type sources struct {
	stdinFilename string
	config        string
	isolated      bool
	exclude       []string
	forceExclude  bool
	jobs          int

	configs  *lint.Configs
	only     *lint.Config // where one is named, or none is wanted
	excludes []lint.Glob
}

func (s *sources) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&s.stdinFilename, "stdin-filename", "", "the `name` that the text on the standard input goes by")
	f.StringVar(&s.config, "config", "", "read this `file` in place of the nearest "+lint.ConfigName)
	f.BoolVar(&s.isolated, "isolated", false, "read no "+lint.ConfigName+" at all")
	f.StringArrayVar(&s.exclude, "exclude", nil, "leave files alone whose name fits this `pattern`, such as 'drafts/**'; may be given again")
	f.BoolVar(&s.forceExclude, "force-exclude", false, "leave excluded files alone even where they are named")
	f.IntVarP(&s.jobs, "jobs", "j", 0, "work on so `many` files at once (default: as many as there are processors)")
	cmd.MarkFlagsMutuallyExclusive("config", "isolated")
	cmd.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{strings.TrimPrefix(lint.Extension, ".")}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// target is one file to work on.
type target struct {
	name  string // to show
	path  string // absolute
	stdin bool
	// config is what holds for the file.
	config *lint.Config
}

// find gives the files that a command line names, sorted, each once. What
// cannot be found is told, and the rest is found all the same.
func (s *sources) find(a *app, args []string) ([]target, error) {
	if s.jobs < 0 {
		return nil, errors.New("--jobs is a number of files, from 1")
	}
	if err := s.configure(); err != nil {
		return nil, err
	}
	if len(args) == 0 {
		args = []string{"."}
	}
	w := walker{sources: s, app: a, seen: map[string]bool{}, told: map[string]bool{}}
	for _, arg := range args {
		w.add(arg)
	}
	slices.SortFunc(w.found, func(x, y target) int { return cmp.Compare(x.name, y.name) })
	readyMemory(w.found)
	return w.found, nil
}

func (s *sources) configure() error {
	s.configs = lint.NewConfigs(disk{})
	dir, err := os.Getwd()
	if err != nil {
		return errors.New("the working folder cannot be read: " + reason(err))
	}
	for _, pattern := range s.exclude {
		g, err := lint.NewGlob(dir, pattern)
		if err != nil {
			return errors.New("--exclude: " + err.Error())
		}
		s.excludes = append(s.excludes, g)
	}
	switch {
	case s.isolated:
		s.only = &lint.Config{}
	case s.config != "":
		path, err := filepath.Abs(s.config)
		if err != nil {
			return err
		}
		if s.only, err = s.configs.Load(path); err != nil {
			return errors.New(s.configReason(path, err))
		}
	}
	return nil
}

// configReason says why a configuration does not hold, with a path as short as it can be.
func (s *sources) configReason(path string, err error) string {
	var bad *lint.ConfigError
	if errors.As(err, &bad) {
		return (&lint.ConfigError{Path: display(bad.Path), Line: bad.Line, Message: bad.Message}).Error()
	}
	return display(path) + ": " + reason(err)
}

func (s *sources) configOf(path string) (*lint.Config, error) {
	if s.only != nil {
		return s.only, nil
	}
	return s.configs.For(path)
}

func (s *sources) excluded(config *lint.Config, path string) bool {
	return slices.ContainsFunc(s.excludes, func(g lint.Glob) bool { return g.Matches(path) }) || config.Excludes(path)
}

// walker gathers files.
type walker struct {
	*sources
	app   *app
	found []target
	// seen are the files found, by what symbolic links come to; told are the
	// complaints about configurations, which hold for many files at once.
	seen, told map[string]bool
}

func (w *walker) add(arg string) {
	if arg == stdinName {
		w.addStdin()
		return
	}
	path, err := filepath.Abs(arg)
	if err == nil {
		var info fs.FileInfo
		if info, err = os.Stat(path); err == nil && info.IsDir() {
			w.addDir(arg, path)
			return
		}
	}
	if err != nil {
		w.app.fail("%s: %s", filepath.ToSlash(arg), reason(err))
		return
	}
	w.addFile(path, true)
}

func (w *walker) addStdin() {
	if w.seen[stdinName] {
		return
	}
	w.seen[stdinName] = true
	name := w.stdinFilename
	if name == "" {
		name = "<stdin>"
	}
	path, err := filepath.Abs(name)
	if err != nil {
		w.app.fail("%s: %s", name, reason(err))
		return
	}
	config, ok := w.configFor(path)
	if !ok {
		return
	}
	t := target{name: display(path), path: path, stdin: true, config: config}
	if w.forceExclude && w.excluded(config, path) {
		return
	}
	w.found = append(w.found, t)
}

// addDir takes in every pattern below a folder. Hidden folders, and those that
// hold other people's packages, are passed by.
func (w *walker) addDir(arg, dir string) {
	before := len(w.found)
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			w.app.fail("%s: %s", display(path), reason(err))
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			if path != dir && lint.PassedBy(d.Name()) {
				return fs.SkipDir
			}
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
				return nil
			}
		case !d.Type().IsRegular():
			return nil
		}
		w.addFile(path, false)
		return nil
	})
	if err != nil {
		w.app.fail("%s: %s", filepath.ToSlash(arg), reason(err))
	}
	if len(w.found) == before {
		w.app.note("workeven: there is no pattern (*%s) to read in %s", lint.Extension, filepath.ToSlash(arg))
	}
}

// addFile takes a file in, if it was named or if it counts as a pattern.
func (w *walker) addFile(path string, named bool) {
	config, ok := w.configFor(path)
	if !ok || !named && !config.Includes(path) || (!named || w.forceExclude) && w.excluded(config, path) {
		return
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		w.app.fail("%s: %s", display(path), reason(err))
		return
	}
	if !w.seen[real] {
		w.seen[real] = true
		w.found = append(w.found, target{name: display(path), path: path, config: config})
	}
}

func (w *walker) configFor(path string) (*lint.Config, bool) {
	config, err := w.configOf(path)
	if err == nil {
		return config, true
	}
	if why := w.configReason(filepath.Join(filepath.Dir(path), lint.ConfigName), err); !w.told[why] {
		w.told[why] = true
		w.app.fail("%s", why)
	}
	return nil, false
}

// read gives a file's text. What is saved as UTF-16 is refused, since no line
// of it could be read; other bytes that are no UTF-8 are the grammar's to tell.
func (a *app) read(t target) (string, error) {
	var data []byte
	var err error
	if t.stdin {
		data, err = io.ReadAll(a.in)
	} else {
		data, err = os.ReadFile(t.path)
	}
	if err != nil {
		return "", fileError(t, err)
	}
	text := string(data)
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
		return "", errors.New(t.name + ": this file is saved as UTF-16; save it as UTF-8")
	}
	return text, nil
}

func fileError(t target, err error) error { return errors.New(t.name + ": " + reason(err)) }

// reason is an error of the system without what the message says anyway.
func reason(err error) string {
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "you may not read or write this"
	case errors.As(err, &path):
		return path.Err.Error()
	}
	return err.Error()
}

// disk is where configurations are read from.
type disk struct{}

func (disk) ReadFile(path string) ([]byte, error) { return os.ReadFile(path) }

func (disk) Exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
