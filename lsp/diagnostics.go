package lsp

import (
	"context"
	"slices"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/lint"
)

// source is what diagnostics are signed with.
const source = "workeven"

var severities = [...]protocol.DiagnosticSeverity{
	lint.Hint:        protocol.DiagnosticSeverityHint,
	lint.Information: protocol.DiagnosticSeverityInformation,
	lint.Warning:     protocol.DiagnosticSeverityWarning,
	lint.Error:       protocol.DiagnosticSeverityError,
}

// diagnostics are the findings of a document in the protocol's form, as much
// of it as the client takes; never nil.
func (s *Server) diagnostics(snap *Snapshot) []protocol.Diagnostic {
	findings := snap.Findings()
	out := make([]protocol.Diagnostic, len(findings))
	for i := range findings {
		out[i] = s.diagnostic(snap, &findings[i])
	}
	return out
}

// diagnosticData is what a client keeps of a diagnostic for its own use: the
// rule, and its page, which workeven.showPage takes.
type diagnosticData struct {
	Rule string  `json:"rule"`
	Page uri.URI `json:"page"`
}

// diagnostic is one finding in the protocol's form.
func (s *Server) diagnostic(snap *Snapshot, f *lint.Finding) protocol.Diagnostic {
	d := protocol.Diagnostic{
		Range:    snap.Range(f.Start, f.End),
		Severity: severities[f.Severity],
		Code:     protocol.String(f.Rule),
		Source:   protocol.NewOptional(source),
		Message:  protocol.String(f.Message),
	}
	if s.client.describes {
		d.CodeDescription = protocol.CodeDescription{Href: rulePage(f.Rule)}
	}
	if s.client.keeps {
		d.Data = encoded(&diagnosticData{f.Rule, rulePage(f.Rule)})
	}
	if s.client.tags && f.Unused {
		d.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if s.client.relates {
		for _, r := range f.Related {
			d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{
				Location: protocol.Location{URI: snap.URI, Range: snap.Range(r.Start, r.End)},
				Message:  r.Message,
			})
		}
	}
	return d
}

// pusher publishes diagnostics from the background, to clients that do not ask
// for them. It takes the version that is the latest when it gets to a document:
// versions in between are passed over, the last one never is.
type pusher struct {
	s     *Server
	mu    sync.Mutex
	dirty []uri.URI
	wake  chan struct{}
}

func newPusher(s *Server) *pusher {
	p := &pusher{s: s, wake: make(chan struct{}, 1)}
	s.background("publishing", p.run)
	return p
}

// changed has a document looked at that was opened, changed or closed.
func (p *pusher) changed(docs ...uri.URI) {
	if p.s.client.pulls || len(docs) == 0 {
		return
	}
	p.mu.Lock()
	for _, d := range docs {
		if !slices.Contains(p.dirty, d) {
			p.dirty = append(p.dirty, d)
		}
	}
	p.mu.Unlock()
	select {
	case p.wake <- struct{}{}:
	default:
	}
}

func (p *pusher) next() (uri.URI, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.dirty) == 0 {
		return "", false
	}
	doc := p.dirty[0]
	p.dirty = slices.Delete(p.dirty, 0, 1)
	return doc, true
}

func (p *pusher) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-p.wake:
		}
		for doc, ok := p.next(); ok && ctx.Err() == nil; doc, ok = p.next() {
			p.publish(ctx, doc)
		}
		p.s.idle()
	}
}

// publish tells the client what is wrong with a document: of a closed one,
// nothing. Nothing too where that cannot be found out, for what was said of an
// earlier version would be wrong.
func (p *pusher) publish(ctx context.Context, doc uri.URI) {
	out := &protocol.PublishDiagnosticsParams{URI: doc, Diagnostics: []protocol.Diagnostic{}}
	v := p.s.view.Load()
	if snap := v.docs[doc]; snap != nil {
		func() {
			defer p.s.survive("checking " + string(doc))
			out.Diagnostics = p.s.diagnostics(snap)
		}()
		if p.s.client.versions {
			out.Version = protocol.NewOptional(snap.Version)
		}
	} else {
		out.Diagnostics = v.faults(doc)
	}
	if err := p.s.remote.PublishDiagnostics(ctx, out); err != nil && ctx.Err() == nil {
		p.s.log.Warn("diagnostics of "+string(doc)+" could not be sent", "why", err)
	}
}
