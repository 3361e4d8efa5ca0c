package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
)

// server is one to be measured, and how it is driven. Each is set so that it
// waits for nothing where it lets itself be set so, and is asked for
// diagnostics where it answers sooner than it publishes.
type server struct {
	name, version string
	command       []string
	// driven says in the document what is set, and what is checked.
	driven string
	pull   bool
	// apart is set for one whose processes find each other by a file, so that a
	// new session does not meet the daemon of the one before.
	apart bool
	// hover, hints and completion say which of those it has.
	hover, hints, completion bool
	// otherKeys is set where the document has slips of other kinds.
	otherKeys bool
	// options are sent with initialize, settings by section when they are asked
	// for; both know the root folder's address.
	options  func(root string) any
	settings func(root string) map[string]any
}

func none(string) any                  { return nil }
func noSettings(string) map[string]any { return map[string]any{} }

// ours is the server of this checkout. Its settings are those it begins with.
func ours(binary string, pull bool) *server {
	s := &server{name: "workeven", version: "of this checkout", command: []string{binary, "lsp", "--stdio"},
		driven: "as it is, diagnostics published; all rules on",
		hover:  true, hints: true, completion: true, otherKeys: true, options: none, settings: noSettings}
	if pull {
		s.name, s.pull, s.driven = "workeven, asked", true, "as it is, diagnostics asked for; all rules on"
	}
	return s
}

// peers are those that .ci/bench/run puts into a folder.
func peers(cache string) ([]*server, error) {
	modules := filepath.Join(cache, "node_modules")
	bin := func(name string) string { return filepath.Join(modules, ".bin", name) }
	biome := filepath.Join(modules, "@biomejs", fmt.Sprintf("cli-%s-%s", runtime.GOOS, map[string]string{"amd64": "x64", "arm64": "arm64"}[runtime.GOARCH]), "biome")
	all := []*server{
		{name: "gopls", command: []string{filepath.Join(cache, "gopls"), "serve"}, version: "0.23.0",
			driven: "`diagnosticsDelay: 0s`; parameter names as hints; type checks a Go package of one file",
			hover:  true, hints: true, completion: true,
			options:  func(string) any { return goplsSettings },
			settings: func(string) map[string]any { return map[string]any{"gopls": goplsSettings} }},
		{name: "oxlint", command: []string{bin("oxlint"), "--lsp"}, version: packageVersion(modules, "oxlint"),
			driven: "`run: onType`; its standard rules on JavaScript; no hover, hints or completion",
			options: func(root string) any {
				return []any{map[string]any{"workspaceUri": root, "options": map[string]any{"run": "onType"}}}
			},
			settings: func(string) map[string]any {
				return map[string]any{"oxc_language_server": map[string]any{"run": "onType"}}
			}},
		{name: "biome", command: []string{biome, "lsp-proxy"}, version: packageVersion(modules, "@biomejs/biome"),
			apart:   true,
			driven:  "its standard rules on the same JavaScript; it publishes after a delay that no setting was found for; no hover, hints or completion",
			options: none, settings: noSettings},
		{name: "vscode-json", command: []string{bin("vscode-json-language-server"), "--stdio"}, version: packageVersion(modules, "vscode-langservers-extracted"),
			driven: "diagnostics asked for, which passes its delay by; JSON against a schema; no hints",
			pull:   true, hover: true, completion: true,
			options:  func(string) any { return map[string]any{"provideFormatter": false} },
			settings: jsonSettings},
		{name: "yaml", command: []string{bin("yaml-language-server"), "--stdio"}, version: packageVersion(modules, "yaml-language-server"),
			driven: "YAML against the same schema; it publishes 200 ms after the last change, which is fixed; no hints",
			hover:  true, completion: true, options: none, settings: yamlSettings},
	}
	for _, s := range all {
		if _, err := os.Stat(s.command[0]); err != nil {
			return nil, fmt.Errorf("%s is not there: .ci/bench/run installs it: %w", s.name, err)
		}
	}
	return all, nil
}

var goplsSettings = map[string]any{
	"diagnosticsDelay": "0s",
	"hints":            map[string]any{"parameterNames": true, "assignVariableTypes": true, "rangeVariableTypes": true},
}

func jsonSettings(root string) map[string]any {
	return map[string]any{
		"json": map[string]any{"validate": map[string]any{"enable": true}, "schemas": []any{map[string]any{"fileMatch": []string{"*.json"}, "url": root + "/schema.json"}}},
		"http": map[string]any{},
	}
}

func yamlSettings(root string) map[string]any {
	return map[string]any{
		"yaml": map[string]any{"validate": true, "hover": true, "completion": true, "schemaStore": map[string]any{"enable": false, "url": ""}, "schemas": map[string]any{root + "/schema.json": []string{"*.yaml"}}},
		"http": map[string]any{},
	}
}
