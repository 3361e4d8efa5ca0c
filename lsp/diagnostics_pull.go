package lsp

import (
	"context"
	"hash/fnv"
	"runtime"
	"strconv"
	"sync"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

var _ = offer(func(s *Server, c *protocol.ServerCapabilities) {
	if s.client.pulls {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: new(source), WorkspaceDiagnostics: true, WorkDoneProgressOptions: protocol.WorkDoneProgressOptions{WorkDoneProgress: new(true)}}
	}
})

// Diagnostic answers with what is wrong with a document, or that nothing has
// changed since the client asked last.
func (s *Server) Diagnostic(ctx context.Context, p *protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	list, err := s.diagnosed(s.seen(ctx), p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	defer s.idle()
	id := resultID(list)
	if p.PreviousResultID != nil && *p.PreviousResultID == id {
		return &protocol.RelatedUnchangedDocumentDiagnosticReport{UnchangedDocumentDiagnosticReport: unchanged(id)}, nil
	}
	return &protocol.RelatedFullDocumentDiagnosticReport{FullDocumentDiagnosticReport: full(id, list)}, nil
}

// diagnosed is what is wrong with a document that is open or a file.
func (s *Server) diagnosed(v *view, doc uri.URI) ([]protocol.Diagnostic, error) {
	if _, wrong := v.wrong[doc]; wrong || isConfig(doc) {
		return v.faults(doc), nil
	}
	if snap := v.docs[doc]; snap != nil {
		return s.diagnostics(snap), nil
	}
	if doc.IsFile() {
		if list, ok := s.closed.diagnosed(s, v, v.pathOf(doc)); ok {
			return list, nil
		}
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is neither open nor a file", doc)
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
	v := *s.seen(ctx)
	known := map[uri.URI]string{}
	for _, r := range p.PreviousResultIds {
		known[r.URI] = r.Value
	}
	bar := s.progress(ctx, p.WorkDoneToken, "Checking patterns")
	defer bar.end()
	docs := s.toReport(ctx, &v, known)
	reports := make([]protocol.WorkspaceDocumentDiagnosticReport, len(docs))
	todo := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range todo {
				reports[i] = s.reportOn(&v, docs[i], known)
				if p.PartialResultToken != nil {
					s.partial(ctx, p.PartialResultToken, report(reports[i]))
				}
			}
		})
	}
	for i := range docs {
		if ctx.Err() != nil {
			break
		}
		todo <- i
		bar.at(i, len(docs))
	}
	close(todo)
	wait.Wait()
	switch {
	case ctx.Err() != nil:
		return nil, protocol.ErrRequestCancelled
	case p.PartialResultToken != nil:
		return report(), nil
	}
	return report(reports...), nil
}

// report is a report of those documents that there is one on.
func report(reports ...protocol.WorkspaceDocumentDiagnosticReport) *protocol.WorkspaceDiagnosticReport {
	out := &protocol.WorkspaceDiagnosticReport{Items: []protocol.WorkspaceDocumentDiagnosticReport{}}
	for _, r := range reports {
		if r != nil {
			out.Items = append(out.Items, r)
		}
	}
	return out
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
		v.rulesOf(path) // which notes what is wrong with its configuration
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

// reportOn is one document's part of a workspace report; nil where there is none.
func (s *Server) reportOn(v *view, doc uri.URI, known map[uri.URI]string) protocol.WorkspaceDocumentDiagnosticReport {
	defer s.survive("checking " + string(doc))
	var version *int32
	if snap := v.docs[doc]; snap != nil {
		version = &snap.Version
	}
	list, err := s.diagnosed(v, doc)
	if err != nil {
		list = []protocol.Diagnostic{} // it has gone
	}
	id := resultID(list)
	if known[doc] == id {
		return &protocol.WorkspaceUnchangedDocumentDiagnosticReport{UnchangedDocumentDiagnosticReport: unchanged(id), URI: doc, Version: version}
	}
	return &protocol.WorkspaceFullDocumentDiagnosticReport{FullDocumentDiagnosticReport: full(id, list), URI: doc, Version: version}
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
