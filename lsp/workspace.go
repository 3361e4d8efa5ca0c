package lsp

import (
	"context"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/lint"
)

// folder is one folder of the workspace.
type folder struct {
	uri  uri.URI
	path string
}

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.Workspace.WorkspaceFolders = &protocol.WorkspaceFoldersServerCapabilities{
		Supported: new(true), ChangeNotifications: protocol.Boolean(true),
	}
})

// foldersOf are the folders that a session begins with: those of the workspace,
// or the one root of older clients.
func foldersOf(p *protocol.InitializeParams) []folder {
	if list, ok := p.WorkspaceFolders.Get(); ok {
		return addFolders(nil, list)
	}
	if p.RootURI != nil {
		return addFolders(nil, []protocol.WorkspaceFolder{{URI: *p.RootURI}})
	}
	if root, ok := p.RootPath.Get(); ok && root != "" {
		return []folder{{uri.File(root), filepath.Clean(root)}}
	}
	return nil
}

// addFolders takes in the folders that are on a disk.
func addFolders(folders []folder, list []protocol.WorkspaceFolder) []folder {
	for _, f := range list {
		if f.URI.IsFile() && !slices.ContainsFunc(folders, func(g folder) bool { return g.uri == f.URI }) {
			folders = append(folders, folder{f.URI, filepath.Clean(f.URI.FsPath())})
		}
	}
	return folders
}

// pathOf is the path that a document's configuration is looked up by: the
// file's own, or for one that is on no disk that of a file in the first folder.
// Empty where there is no folder either.
func (v *view) pathOf(doc uri.URI) string {
	if doc.IsFile() {
		return filepath.Clean(doc.FsPath())
	}
	if len(v.folders) == 0 {
		return ""
	}
	name := path.Base("/" + doc.Path())
	if !strings.HasSuffix(name, lint.Extension) {
		name += lint.Extension
	}
	return filepath.Join(v.folders[0].path, name)
}

// isConfig says whether a document is a configuration and no pattern.
func isConfig(doc uri.URI) bool { return path.Base(doc.Path()) == lint.ConfigName }

// DidChangeWorkspaceFolders follows the folders.
func (s *Server) DidChangeWorkspaceFolders(_ context.Context, p *protocol.DidChangeWorkspaceFoldersParams) error {
	s.reconfigure(func(v *view) {
		v.folders = slices.DeleteFunc(slices.Clone(v.folders), func(f folder) bool {
			return slices.ContainsFunc(p.Event.Removed, func(g protocol.WorkspaceFolder) bool { return g.URI == f.uri })
		})
		v.folders = addFolders(v.folders, p.Event.Added)
	})
	s.refreshDiagnostics()
	return nil
}

// register asks to be told of changed files and settings.
func (s *Server) register(ctx context.Context) {
	var list []protocol.Registration
	if s.client.watches {
		list = append(list, protocol.Registration{ID: "files", Method: protocol.MethodWorkspaceDidChangeWatchedFiles, RegisterOptions: encoded(&protocol.DidChangeWatchedFilesRegistrationOptions{
			Watchers: []protocol.FileSystemWatcher{{GlobPattern: protocol.Pattern("**/*.toml")}, {GlobPattern: protocol.Pattern("**/*" + lint.Extension)}},
		})})
	}
	if s.client.tellsOfSettings {
		list = append(list, protocol.Registration{ID: "settings", Method: protocol.MethodWorkspaceDidChangeConfiguration, RegisterOptions: []byte(`{"section":"` + source + `"}`)})
	}
	if len(list) == 0 {
		return
	}
	if err := s.remote.RegisterCapability(ctx, &protocol.RegistrationParams{Registrations: list}); err != nil {
		s.log.Warn("the client does not tell of changed files", "why", err)
	}
}

func encoded(v any) protocol.LSPAny {
	raw, err := protocol.Marshal(v)
	if err != nil {
		panic(err) // the types are the protocol's own
	}
	return raw
}

// DidChangeWatchedFiles reads the configurations anew when one has changed. A
// pattern that is not open may have changed too.
func (s *Server) DidChangeWatchedFiles(_ context.Context, p *protocol.DidChangeWatchedFilesParams) error {
	again := false
	for _, c := range p.Changes {
		again = again || strings.HasSuffix(c.URI.Path(), ".toml")
		if c.Type == protocol.FileChangeTypeDeleted && c.URI.IsFile() {
			s.closed.forget(filepath.Clean(c.URI.FsPath()))
		}
	}
	if again {
		s.reconfigure(nil)
	}
	s.refreshDiagnostics()
	return nil
}

// patterns lists the files of the workspace that the command would check there,
// each once, as the command does: hidden folders are passed by, and what the
// configuration excludes.
func (s *Server) patterns(ctx context.Context, v *view) []string {
	var found []string
	seen := map[string]bool{}
	for _, f := range v.folders {
		s.walk(ctx, v, f.path, func(path string) {
			if !seen[path] {
				seen[path] = true
				found = append(found, path)
			}
		})
	}
	return found
}

func (s *Server) walk(ctx context.Context, v *view, dir string, found func(path string)) {
	entries, err := s.opts.Files.ReadDir(dir)
	if err != nil {
		s.log.Debug("a folder cannot be read", "folder", dir, "why", err)
		return
	}
	for _, e := range entries {
		at := filepath.Join(dir, e.Name())
		switch {
		case ctx.Err() != nil:
			return
		case e.IsDir():
			if !lint.PassedBy(e.Name()) {
				s.walk(ctx, v, at, found)
			}
		case !e.Type().IsRegular() && e.Type()&fs.ModeSymlink == 0:
			// A pipe or a device: to read it might never end.
		default:
			config, err := v.configOf(at)
			if err != nil {
				config = &lint.Config{}
			}
			if config.Includes(at) && !config.Excludes(at) {
				found(at)
			}
		}
	}
}
