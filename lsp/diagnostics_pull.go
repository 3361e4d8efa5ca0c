package lsp

import (
	"context"
	"hash/fnv"
	"runtime"
	"strconv"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

var _ = offer(func(s *Server, c *protocol.ServerCapabilities) {
	if s.client.pulls {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: new(source), WorkspaceDiagnostics: true}
	}
})

// Diagnostic answers with what is wrong with a document, or that nothing has
// changed since the client asked last.
func (s *Server) Diagnostic(ctx context.Context, p *protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	list, err := s.diagnosed(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	id := resultID(list)
	if p.PreviousResultID != nil && *p.PreviousResultID == id {
		return &protocol.RelatedUnchangedDocumentDiagnosticReport{UnchangedDocumentDiagnosticReport: unchanged(id)}, nil
	}
	return &protocol.RelatedFullDocumentDiagnosticReport{FullDocumentDiagnosticReport: full(id, list)}, nil
}

// diagnosed is what is wrong with a document that is open or a file.
func (s *Server) diagnosed(ctx context.Context, doc uri.URI) ([]protocol.Diagnostic, error) {
	v := s.seen(ctx)
	if _, wrong := v.wrong[doc]; wrong || isConfig(doc) {
		return v.faults(doc), nil
	}
	snap, err := s.at(ctx, doc)
	if err != nil {
		if snap = s.closed.read(s, v, v.pathOf(doc)); snap == nil || !doc.IsFile() {
			return nil, err
		}
	}
	return s.diagnostics(snap), nil
}

// resultID names a list of diagnostics by what it says, so that an edit which
// changes none of them counts as no change.
func resultID(list []protocol.Diagnostic) string {
	h := fnv.New64a()
	for i := range list {
		_, _ = h.Write(encoded(&list[i]))
	}
	return strconv.FormatUint(h.Sum64(), 36)
}

func full(id string, list []protocol.Diagnostic) protocol.FullDocumentDiagnosticReport {
	return protocol.FullDocumentDiagnosticReport{Kind: string(protocol.DocumentDiagnosticReportKindFull), ResultID: &id, Items: list}
}

func unchanged(id string) protocol.UnchangedDocumentDiagnosticReport {
	return protocol.UnchangedDocumentDiagnosticReport{Kind: string(protocol.DocumentDiagnosticReportKindUnchanged), ResultID: id}
}

// DiagnosticWorkspace answers with what is wrong with every pattern of the
// workspace, open or not. A client that takes partial results is given them as
// they come, and a client that shows progress is told of it.
func (s *Server) DiagnosticWorkspace(ctx context.Context, p *protocol.WorkspaceDiagnosticParams) (*protocol.WorkspaceDiagnosticReport, error) {
	v := s.seen(ctx)
	known := map[uri.URI]string{}
	for _, r := range p.PreviousResultIds {
		known[r.URI] = r.Value
	}
	bar := s.progress(ctx, p.WorkDoneToken, "Checking patterns")
	defer bar.end()
	docs := s.toReport(ctx, v, known)
	out := make(chan protocol.WorkspaceDocumentDiagnosticReport, len(docs))
	todo := make(chan uri.URI)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for doc := range todo {
				s.reportOn(ctx, v, doc, known, out)
			}
		})
	}
	for i, doc := range docs {
		if ctx.Err() != nil {
			break
		}
		todo <- doc
		bar.at(i, len(docs))
	}
	close(todo)
	wait.Wait()
	close(out)
	if ctx.Err() != nil {
		return nil, protocol.ErrRequestCancelled
	}
	report := &protocol.WorkspaceDiagnosticReport{Items: []protocol.WorkspaceDocumentDiagnosticReport{}}
	for r := range out {
		report.Items = append(report.Items, r)
	}
	if p.PartialResultToken != nil {
		s.partial(ctx, p.PartialResultToken, report)
		return &protocol.WorkspaceDiagnosticReport{Items: []protocol.WorkspaceDocumentDiagnosticReport{}}, nil
	}
	return report, nil
}

// toReport lists what a report is about: the files of the workspace, what is
// open besides, configurations that do not hold, and what was reported before
// and is there no more.
func (s *Server) toReport(ctx context.Context, v *view, known map[uri.URI]string) []uri.URI {
	var docs []uri.URI
	listed := map[uri.URI]bool{}
	add := func(doc uri.URI) {
		if !listed[doc] {
			listed[doc] = true
			docs = append(docs, doc)
		}
	}
	for _, path := range s.patterns(ctx, v) {
		add(uri.File(path))
	}
	for doc := range v.docs {
		add(doc)
	}
	for doc := range v.wrong {
		add(doc)
	}
	for doc := range known {
		add(doc)
	}
	return docs
}

// reportOn makes one document's part of a workspace report.
func (s *Server) reportOn(ctx context.Context, v *view, doc uri.URI, known map[uri.URI]string, out chan<- protocol.WorkspaceDocumentDiagnosticReport) {
	defer s.survive("checking " + string(doc))
	var version *int32
	if snap := v.docs[doc]; snap != nil {
		version = &snap.Version
	}
	list, err := s.diagnosed(ctx, doc)
	if err != nil {
		list = []protocol.Diagnostic{} // it has gone
	}
	id := resultID(list)
	if known[doc] == id {
		out <- &protocol.WorkspaceUnchangedDocumentDiagnosticReport{UnchangedDocumentDiagnosticReport: unchanged(id), URI: doc, Version: version}
		return
	}
	out <- &protocol.WorkspaceFullDocumentDiagnosticReport{FullDocumentDiagnosticReport: full(id, list), URI: doc, Version: version}
}

// partial sends a part of a result ahead of it.
func (s *Server) partial(ctx context.Context, token protocol.ProgressToken, part any) {
	if err := s.remote.Progress(ctx, &protocol.ProgressParams{Token: token, Value: encoded(part)}); err != nil {
		s.log.Debug("a partial result could not be sent", "why", err)
	}
}

// refreshDiagnostics has a client ask again that asks for diagnostics.
func (s *Server) refreshDiagnostics() {
	if s.client.pulls && s.client.refreshesDiagnostics && s.phase.at.Load() == running {
		s.background("a refresh", func(ctx context.Context) { _ = s.remote.DiagnosticRefresh(ctx) })
	}
}

// closedFiles keeps what patterns that are not open came to, by path.
type closedFiles struct {
	mu    sync.Mutex
	files map[string]*Snapshot
}

// read is the present snapshot of a file; nil where it cannot be read.
func (c *closedFiles) read(s *Server, v *view, path string) *Snapshot {
	data, err := s.opts.Files.ReadFile(path)
	c.mu.Lock()
	defer c.mu.Unlock()
	if err != nil {
		delete(c.files, path)
		return nil
	}
	snap := c.files[path]
	switch {
	case snap == nil:
		snap = newSnapshot(uri.File(path), 0, path, string(data), s.enc)
	case snap.Text() != string(data):
		snap = snap.rewritten(0, string(data))
	}
	config := *v // a fault of the configuration is noted with the open documents
	snap = config.rule(snap)
	if c.files == nil {
		c.files = map[string]*Snapshot{}
	}
	c.files[path] = snap
	return snap
}
