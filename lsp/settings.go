package lsp

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/lint"
)

// settings are what the user set in the editor. They say how the server
// behaves; how severe a rule is stands in the configuration file, which the
// editor and the command share.
type settings struct {
	// Config is a configuration to use in place of the nearest one; Isolated
	// leaves all of them out.
	Config   string `json:"config"`
	Isolated bool   `json:"isolated"`
	// LogLevel is from which level on lines are logged; empty for the one that
	// the server was started with.
	LogLevel string `json:"logLevel"`
	// sections are the settings of single features.
	sections map[string]any
}

// settingsKeys are those of the struct; sectionReaders read the others.
var (
	settingsKeys   = []string{"config", "isolated", "logLevel"}
	sectionReaders = map[string]func(json.RawMessage) (any, error){}
)

// section is a part of the settings that one feature has for itself: an object
// under its name, whose fields stay as they are in standard where the user sets
// nothing. A feature's file calls it once, at package level, and reads its
// settings from the view that a request sees.
func section[T any](name string, standard T) func(*view) T {
	sectionReaders[name] = func(raw json.RawMessage) (any, error) {
		v := standard
		if err := json.Unmarshal(raw, &v); err != nil {
			return nil, inTheirWords(err)
		}
		return v, strange(raw, v)
	}
	return func(v *view) T {
		if set, ok := v.settings.sections[name].(T); ok {
			return set
		}
		return standard
	}
}

// readSettings reads what a client sends, by itself or under "workeven". What
// cannot be read is told, and left as it is by default.
func (s *Server) readSettings(raw []byte) *settings {
	out := &settings{sections: map[string]any{}}
	var keys map[string]json.RawMessage
	if json.Unmarshal(raw, &keys) != nil {
		return out // null, or nothing
	}
	if own, ok := keys[source]; ok {
		keys = nil
		if json.Unmarshal(own, &keys) != nil {
			return out
		}
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		if err := out.read(key, keys[key]); err != nil {
			s.log.Warn("a setting is passed over", "key", key, "why", err)
		}
	}
	return out
}

func (x *settings) read(key string, raw json.RawMessage) error {
	if read := sectionReaders[key]; read != nil {
		v, err := read(raw)
		if v != nil {
			x.sections[key] = v
		}
		return err
	}
	switch key {
	case "config":
		return inTheirWords(json.Unmarshal(raw, &x.Config))
	case "isolated":
		return inTheirWords(json.Unmarshal(raw, &x.Isolated))
	case "logLevel":
		return inTheirWords(json.Unmarshal(raw, &x.LogLevel))
	}
	return noSuchSetting("no such setting", key, append(slices.Collect(maps.Keys(sectionReaders)), settingsKeys...))
}

func noSuchSetting(what, key string, known []string) error {
	message := "there is " + what
	if near := lint.Nearest(key, known); near != "" {
		message += "; did you mean " + near + "?"
	}
	return errors.New(message)
}

// inTheirWords says in the words of the settings what a value should have been.
func inTheirWords(err error) error {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) {
		return err
	}
	name := wrong.Field
	if name == "" {
		name = "it"
	}
	switch wrong.Type.Kind() {
	case reflect.Bool:
		return errors.New(name + " is true or false")
	case reflect.String:
		return errors.New(name + " is a text in quotes")
	}
	if wrong.Type.Kind() == reflect.Struct {
		return errors.New(name + " is a group of settings in braces")
	}
	return errors.New(name + " is a number")
}

// strange tells of the first setting of a section that the section has not.
func strange(raw json.RawMessage, section any) error {
	var keys map[string]json.RawMessage
	t := reflect.TypeOf(section)
	if json.Unmarshal(raw, &keys) != nil || t.Kind() != reflect.Struct {
		return nil
	}
	var known []string
	for i := range t.NumField() {
		known = append(known, t.Field(i).Tag.Get("json"))
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		if !slices.Contains(known, key) {
			return noSuchSetting("no "+key+" in it", key, known)
		}
	}
	return nil
}

// follow does at once what settings ask for.
func (s *Server) follow(x *settings) {
	level := s.opts.Level
	if x.LogLevel != "" {
		if l, err := ParseLevel(x.LogLevel); err != nil {
			s.log.Warn("a setting is passed over", "key", "logLevel", "why", err)
		} else {
			level = l
		}
	}
	s.logs.level.Set(level)
}

// pullSettings asks the client for the settings; null leaves those as they are
// that it sent before.
func (s *Server) pullSettings(ctx context.Context) {
	if !s.client.configures {
		return
	}
	turn := s.asked.Add(1)
	got, err := s.remote.Configuration(ctx, &protocol.ConfigurationParams{Items: []protocol.ConfigurationItem{{Section: new(source)}}})
	if err != nil {
		s.log.Warn("the client gave no settings", "why", err)
		return
	}
	s.setting.Lock()
	defer s.setting.Unlock()
	if len(got) == 1 && turn > s.heard { // an older answer may be read later
		s.heard = turn
		s.set(got[0])
	}
}

// set takes new settings over; null is none.
func (s *Server) set(raw []byte) {
	if text := strings.TrimSpace(string(raw)); text == "" || text == "null" {
		return
	}
	x := s.readSettings(raw)
	s.follow(x)
	s.reconfigure(func(v *view) { v.settings = x })
	s.refreshDiagnostics()
	s.refreshShown()
}

// refreshShown has the client ask again for what it shows in the text, which
// settings may have changed.
func (s *Server) refreshShown() {
	for _, again := range []struct {
		can bool
		ask func(context.Context) error
	}{
		{s.client.refreshesHints, s.remote.InlayHintRefresh},
		{s.client.refreshesLenses, s.remote.CodeLensRefresh},
		{s.client.refreshesTokens, s.remote.SemanticTokensRefresh},
	} {
		if again.can {
			s.background("a refresh", func(ctx context.Context) { _ = again.ask(ctx) })
		}
	}
}

// DidChangeConfiguration takes settings as they come, or asks for them.
func (s *Server) DidChangeConfiguration(_ context.Context, p *protocol.DidChangeConfigurationParams) error {
	if s.client.configures {
		s.background("asking for settings", s.pullSettings)
		return nil
	}
	s.set(p.Settings)
	return nil
}

func (s *Server) newConfigs() *lint.Configs { return lint.NewConfigs(s.opts.Files) }

// reconfigure reads every configuration anew, after an edit of the state, and
// has the documents checked again whose rules that changes; checks says whether
// there are such.
func (s *Server) reconfigure(edit func(*view)) (checks bool) {
	var docs []uri.URI
	s.change(func(v *view) {
		if edit != nil {
			edit(v)
		}
		v.configs, v.wrong = s.newConfigs(), nil
		v.docs = maps.Clone(v.docs)
		for doc, snap := range v.docs {
			now := v.rule(snap)
			if !sameRules(now.Rules, snap.Rules) {
				docs = append(docs, doc)
			}
			v.docs[doc] = now
		}
	})
	s.pusher.changed(docs...)
	return len(docs) > 0
}

// rereadUnwatched reads the configurations anew where no one tells of changes.
func (s *Server) rereadUnwatched() {
	if !s.client.watches && s.reconfigure(nil) {
		s.refreshDiagnostics()
	}
}

// ruling is what a snapshot's rules were made from.
type ruling struct {
	configs  *lint.Configs
	settings *settings
}

func (v *view) ruling() ruling { return ruling{v.configs, v.settings} }

// rule gives a snapshot the rules of the state. It is called on a state that
// is being made, and notes there what is wrong with the configuration.
func (v *view) rule(snap *Snapshot) *Snapshot {
	if snap.by == v.ruling() {
		return snap
	}
	n := *snap
	n.Path = v.pathOf(snap.URI) // that of an unsaved one is another when the folders change
	if rules := v.rulesOf(n.Path); !sameRules(rules, snap.Rules) {
		n = *n.ruled(rules)
	}
	n.by = v.ruling()
	return &n
}

func sameRules(a, b lint.Options) bool {
	return a.NoFixes == b.NoFixes && maps.Equal(a.Off, b.Off) && maps.Equal(a.Severity, b.Severity)
}

// rulesOf are the rules for a file, as the command would have them, but that
// repairs are left out. Where a configuration does not hold, the rules are as
// they are without one.
func (v *view) rulesOf(path string) lint.Options {
	opts := lint.Options{NoFixes: true}
	config, err := v.configOf(path)
	if err != nil {
		v.blame(path, err)
		return opts
	}
	opts.Off, opts.Severity = config.Levels(path)
	return opts
}

func (v *view) configOf(path string) (*lint.Config, error) {
	switch named := v.settings.Config; {
	case v.settings.Isolated || path == "":
		return &lint.Config{}, nil
	case named != "":
		if !filepath.IsAbs(named) && len(v.folders) > 0 {
			named = filepath.Join(v.folders[0].path, named)
		}
		return v.configs.Load(named)
	}
	return v.configs.For(path)
}

// blame notes an error with the configuration that it is in.
func (v *view) blame(path string, err error) {
	at, line, message := filepath.Join(filepath.Dir(path), lint.ConfigName), 0, err.Error()
	if v.settings.Config != "" {
		at = v.settings.Config
	}
	var bad *lint.ConfigError
	if errors.As(err, &bad) {
		at, line, message = bad.Path, bad.Line, bad.Message
	}
	v.wrong = maps.Clone(v.wrong)
	if v.wrong == nil {
		v.wrong = map[uri.URI]fault{}
	}
	v.wrong[uri.File(at)] = fault{max(line-1, 0), message}
}

// fault is what is wrong with a configuration, with its line, from 0.
type fault struct {
	line    int
	message string
}

// faults are the diagnostics of a configuration file; never nil.
func (v *view) faults(doc uri.URI) []protocol.Diagnostic {
	f, ok := v.wrong[doc]
	if !ok {
		return []protocol.Diagnostic{}
	}
	at := protocol.Position{Line: uint32(f.line)}
	return []protocol.Diagnostic{{
		Range:    protocol.Range{Start: at, End: protocol.Position{Line: at.Line + 1}},
		Severity: protocol.DiagnosticSeverityError,
		Code:     protocol.String("configuration"),
		Source:   protocol.NewOptional(source),
		Message:  protocol.String(f.message),
	}}
}

// toldOf tells of configurations that have come to be wrong, and takes back
// what was said of those that are right again.
func (s *Server) toldOf(before, after *view) {
	for doc, f := range after.wrong {
		if before.wrong[doc] != f {
			s.tell(doc.FsPath() + ": " + f.message + "; the rules are used as they are without it")
			s.pusher.changed(doc)
		}
	}
	for doc := range before.wrong {
		if _, still := after.wrong[doc]; !still {
			s.pusher.changed(doc)
		}
	}
}
