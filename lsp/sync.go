package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.TextDocumentSync = &protocol.TextDocumentSyncOptions{
		OpenClose: new(true),
		Change:    new(protocol.TextDocumentSyncKindIncremental),
		Save:      protocol.Boolean(true),
	}
})

// DidOpen takes a document in. One that is open already is opened anew.
func (s *Server) DidOpen(_ context.Context, p *protocol.DidOpenTextDocumentParams) error {
	d := &p.TextDocument
	s.rereadUnwatched()
	if !isConfig(d.URI) {
		doc := uri.URI(strings.Clone(string(d.URI)))
		s.put(newSnapshot(doc, d.Version, s.view.Load().pathOf(doc), strings.Clone(d.Text), s.enc))
	}
	return nil
}

// DidChange carries edits out in their order.
func (s *Server) DidChange(_ context.Context, p *protocol.DidChangeTextDocumentParams) error {
	doc, version := p.TextDocument.URI, p.TextDocument.Version
	if isConfig(doc) {
		return nil
	}
	defer func() {
		if r := recover(); r != nil {
			s.lose(doc)
			panic(r)
		}
	}()
	v := s.view.Load()
	snap := v.docs[doc]
	for _, c := range p.ContentChanges {
		switch c := c.(type) {
		case *protocol.TextDocumentContentChangePartial:
			if snap == nil {
				return fmt.Errorf("%w: %s is changed and not open", jsonrpc2.ErrInvalidParams, doc)
			}
			start, end := snap.Bytes(c.Range)
			snap = snap.replaced(version, start, end, c.Text)
		case *protocol.TextDocumentContentChangeWholeDocument:
			if snap == nil { // one whose edit was lost comes back
				doc = uri.URI(strings.Clone(string(doc)))
				snap = newSnapshot(doc, version, v.pathOf(doc), strings.Clone(c.Text), s.enc)
			} else {
				snap = snap.rewritten(version, c.Text)
			}
		}
	}
	if snap == nil {
		return nil
	}
	if snap.Version != version { // no change but of the version
		same := *snap
		same.Version = version
		snap = &same
	}
	s.put(snap)
	return nil
}

// lostEdit loses the document whose edit could not be read.
func (s *Server) lostEdit(params []byte) {
	var p struct {
		TextDocument struct {
			URI uri.URI `json:"uri"`
		} `json:"textDocument"`
	}
	if json.Unmarshal(params, &p) == nil {
		s.lose(p.TextDocument.URI)
	}
}

// lose lets a document go whose edit was not carried out: what is known of its
// text is no longer what the client has.
func (s *Server) lose(doc uri.URI) {
	if s.view.Load().docs[doc] != nil {
		s.drop(doc)
		s.tell(fmt.Sprintf("workeven could not read an edit of %s; close and open it to have it checked again", doc))
	}
}

// DidSave reads the configuration again where nothing else would tell of a
// change of it.
func (s *Server) DidSave(_ context.Context, p *protocol.DidSaveTextDocumentParams) error {
	if p.Text != nil {
		if snap := s.view.Load().docs[p.TextDocument.URI]; snap != nil && snap.Text() != *p.Text {
			s.put(snap.rewritten(snap.Version, *p.Text))
		}
	}
	s.rereadUnwatched()
	return nil
}

// DidClose lets a document go, and takes back what was said of it.
func (s *Server) DidClose(_ context.Context, p *protocol.DidCloseTextDocumentParams) error {
	s.drop(p.TextDocument.URI)
	return nil
}

// put makes a snapshot the present one of its document.
func (s *Server) put(snap *Snapshot) {
	s.change(func(v *view) {
		v.docs = maps.Clone(v.docs)
		if v.docs == nil {
			v.docs = map[uri.URI]*Snapshot{}
		}
		v.docs[snap.URI] = v.rule(snap)
	})
	s.pusher.changed(snap.URI)
}

func (s *Server) drop(doc uri.URI) {
	s.change(func(v *view) {
		v.docs = maps.Clone(v.docs)
		delete(v.docs, doc)
	})
	s.pusher.changed(doc)
}
