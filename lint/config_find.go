package lint

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"sync"
)

// ConfigFiles is how configurations are read; the command gives it the disk, an
// editor's page what it holds. Paths are absolute, in the system's own form.
type ConfigFiles interface {
	// ReadFile fails with fs.ErrNotExist where there is no such file.
	ReadFile(path string) ([]byte, error)
	// Exists tells whether there is a file or folder of that name.
	Exists(path string) bool
}

// Configs finds the configuration of each file: the nearest one in its folder
// or those above, no further than the root of a checkout. The command and the
// editors share it, so that both say the same. It may be used from several
// goroutines.
type Configs struct {
	files ConfigFiles
	rules []string
	mu    sync.Mutex
	byDir map[string]foundConfig
}

type foundConfig struct {
	config *Config
	err    error
}

// roots are what a version control system leaves at the root of a checkout.
var roots = []string{".git", ".hg", ".jj", ".svn"}

// NewConfigs makes a finder that remembers what it has read.
func NewConfigs(files ConfigFiles) *Configs {
	return &Configs{files: files, rules: ruleNames(Rules()), byDir: map[string]foundConfig{}}
}

func ruleNames(rules []*Rule) []string {
	out := make([]string, len(rules))
	for i, r := range rules {
		out[i] = r.Name
	}
	return out
}

// For gives the configuration of a file, which need not exist; never nil
// without an error. Errors are *ConfigError, or what ReadFile gives.
func (c *Configs) For(file string) (*Config, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	f := c.forDir(filepath.Dir(file))
	return f.config, f.err
}

func (c *Configs) forDir(dir string) foundConfig {
	if f, ok := c.byDir[dir]; ok {
		return f
	}
	f := c.look(dir)
	c.byDir[dir] = f
	return f
}

func (c *Configs) look(dir string) foundConfig {
	path := filepath.Join(dir, ConfigName)
	if c.files.Exists(path) {
		config, err := c.Load(path)
		return foundConfig{config, err}
	}
	up := filepath.Dir(dir)
	if up == dir || slices.ContainsFunc(roots, func(r string) bool { return c.files.Exists(filepath.Join(dir, r)) }) {
		return foundConfig{config: &Config{}}
	}
	return c.forDir(up)
}

// Load reads one configuration and those that it extends.
func (c *Configs) Load(path string) (*Config, error) {
	config := &Config{}
	if err := c.load(config, path, nil); err != nil {
		return nil, err
	}
	return config, nil
}

func (c *Configs) load(into *Config, path string, from []string) error {
	data, err := c.files.ReadFile(path)
	if err != nil {
		return err
	}
	r, err := readConfig(path, data, c.rules)
	if err != nil {
		return err
	}
	from = append(from, path)
	for _, base := range r.extends {
		base = filepath.FromSlash(base)
		if !filepath.IsAbs(base) {
			base = filepath.Join(r.dir, base)
		}
		if slices.Contains(from, base) {
			return &ConfigError{path, r.extendsLine, "extends comes round to " + filepath.Base(base) + " again"}
		}
		if err := c.load(into, base, from); err != nil {
			if errors.Is(err, fs.ErrNotExist) {
				return &ConfigError{path, r.extendsLine, "there is no " + filepath.ToSlash(base) + " to extend"}
			}
			return err
		}
	}
	into.layers = append(into.layers, r.layer)
	return nil
}
