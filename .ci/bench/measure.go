package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

// The measures, in the order in which a session takes them.
const (
	openFresh      = "open"
	change         = "change"
	hoverAtRest    = "hover"
	hoverAfterKey  = "hover after a key"
	hintsAtRest    = "hints"
	hintsAfterKey  = "hints after a key"
	completeAtRest = "completion"
	completeAfter  = "completion after a key"
)

// pace is how much is measured.
type pace struct {
	warm, samples int           // of each measure in a session
	opens         int           // further sessions that only open
	budget        time.Duration // after which a measure ends with what it has
	least         int           // samples that it takes all the same
	gap           time.Duration // between two samples
	limit         time.Duration // after which no answer is a failure
}

// result is what one server did on one length of document.
type result struct {
	took     map[string][]time.Duration
	failures map[string][]error
	peak     int64
}

func newResult() *result {
	return &result{took: map[string][]time.Duration{}, failures: map[string][]error{}}
}

// run takes every measure in one session, and the opening in some more.
func (r *result) run(s *server, doc document, base string, p pace) {
	for range p.opens {
		if x := r.open(s, doc, base, p); x != nil {
			x.end()
		}
	}
	x := r.open(s, doc, base, p)
	if x == nil {
		return
	}
	defer x.end()
	x.settle(p)
	r.repeat(change, p, func() (time.Duration, error) { return x.change(p.limit) })
	r.otherKeys(x, p)
	for _, m := range []struct {
		has           bool
		atRest, after string
		method        string
		params        any
		answers       func(json.RawMessage) error
	}{
		{s.hover, hoverAtRest, hoverAfterKey, "textDocument/hover", x.at(doc.hover), something},
		{s.hints, hintsAtRest, hintsAfterKey, "textDocument/inlayHint", x.sixtyLines(), several},
		{s.completion, completeAtRest, completeAfter, "textDocument/completion", x.at(doc.complete), several},
	} {
		if !m.has {
			continue
		}
		r.repeat(m.atRest, p, func() (time.Duration, error) { return x.answered(p.limit, m.method, m.params, m.answers) })
		r.repeat(m.after, p, func() (time.Duration, error) {
			key := x.toggle()
			took, err := x.answered(p.limit, m.method, m.params, m.answers, key)
			if err != nil {
				return 0, err
			}
			return took, x.awaited(p.limit)
		})
	}
	r.peak = max(r.peak, peak(x.mark))
}

// otherKeys takes the measures of slips of other kinds, with that of the
// document out of the way.
func (r *result) otherKeys(x *session, p pace) {
	usual := x.doc.slip
	for _, k := range append(x.doc.others, otherKey{"", usual}) {
		if x.slipped {
			if _, err := x.change(p.limit); err != nil {
				r.fail(k.measure, err)
				return
			}
		}
		x.doc.slip = k.slip
		if k.measure != "" {
			r.repeat(k.measure, p, func() (time.Duration, error) { return x.change(p.limit) })
		}
	}
}

// open starts a session, and measures from opening the document, which has its
// slip, to the diagnostics that show it; nil where that fails.
func (r *result) open(s *server, doc document, base string, p pace) *session {
	x, err := start(s, doc, base, p.limit)
	if err != nil {
		r.fail(openFresh, err)
		return nil
	}
	x.version, x.slipped = 1, true
	opening := note("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": x.uri(), "languageId": doc.language, "version": 1, "text": doc.text(true)}})
	took, err := x.shown(p.limit, opening)
	if err != nil {
		r.fail(openFresh, err)
		x.end()
		return nil
	}
	r.took[openFresh] = append(r.took[openFresh], took)
	return x
}

func (r *result) fail(measure string, err error) {
	r.failures[measure] = append(r.failures[measure], err)
}

// repeat takes one measure over and over. Three failures end it.
func (r *result) repeat(measure string, p pace, once func() (time.Duration, error)) {
	began, failed := time.Now(), 0
	for i := range p.warm + p.samples {
		if i >= p.warm+p.least && time.Since(began) > p.budget {
			return
		}
		took, err := once()
		switch {
		case err != nil:
			r.fail(measure, err)
			if failed++; failed == 3 {
				return
			}
		case i >= p.warm:
			r.took[measure] = append(r.took[measure], took)
		}
		time.Sleep(p.gap)
	}
}

// toggle puts the slip in or takes it out again, and is the message of it.
func (x *session) toggle() []byte {
	from, to := x.doc.slip.text, x.doc.slip.by
	if x.slipped {
		from, to = to, from
	}
	x.slipped = !x.slipped
	x.version++
	edit := map[string]any{"text": x.doc.text(x.slipped)}
	if !x.full {
		edit = map[string]any{"range": spanOf(x.doc.slip.line, x.doc.slip.column, x.doc.slip.line, x.doc.slip.column+len(from)), "text": to}
	}
	return note("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": x.uri(), "version": x.version}, "contentChanges": []any{edit}})
}

func (x *session) change(limit time.Duration) (time.Duration, error) {
	return x.shown(limit, x.toggle())
}

// shown sends a message and measures until diagnostics say of the slip what is
// so with the document then. Diagnostics of an older text do not count: they
// say the opposite, or carry an older version.
func (x *session) shown(limit time.Duration, what []byte) (time.Duration, error) {
	for len(x.published) > 0 {
		<-x.published
	}
	if x.server.pull {
		return x.pulled(limit, what)
	}
	began, err := x.wire.write(what)
	if err != nil {
		return 0, err
	}
	return x.await(began, limit)
}

func (x *session) await(began time.Time, limit time.Duration) (time.Duration, error) {
	late := time.After(limit)
	for {
		select {
		case s := <-x.published:
			if s.slipped == x.slipped && (s.version == nil || *s.version >= x.version) {
				return s.at.Sub(began), nil
			}
		case <-x.dead:
			return 0, errors.New("the server has ended")
		case <-late:
			return 0, fmt.Errorf("no diagnostics that show the change in %v", limit)
		}
	}
}

// awaited waits until a change shows that went out with something else.
func (x *session) awaited(limit time.Duration) error {
	if x.server.pull {
		_, err := x.pulled(limit)
		return err
	}
	_, err := x.await(time.Now(), limit)
	return err
}

// pulled asks for diagnostics, with what at the same go, until they show it.
func (x *session) pulled(limit time.Duration, what ...[]byte) (time.Duration, error) {
	began := time.Now()
	for time.Since(began) < limit {
		m, took, err := x.ask(limit, "textDocument/diagnostic", map[string]any{"textDocument": map[string]any{"uri": x.uri()}}, what...)
		if err != nil {
			return 0, err
		}
		if what != nil {
			began = m.at.Add(-took)
		}
		what = nil
		var report struct{ Items []diagnostic }
		if err := json.Unmarshal(m.Result, &report); err != nil {
			return 0, err
		}
		if x.shows(report.Items) == x.slipped {
			return m.at.Sub(began), nil
		}
	}
	return 0, fmt.Errorf("no diagnostics that show the change in %v", limit)
}

// settle lets the server come to rest after opening.
func (x *session) settle(p pace) {
	for {
		select {
		case <-x.published:
		case <-time.After(20 * p.gap):
			return
		}
	}
}

// answered measures a request; frames before go out at the same go.
func (x *session) answered(limit time.Duration, method string, params any, answers func(json.RawMessage) error, before ...[]byte) (time.Duration, error) {
	m, took, err := x.ask(limit, method, params, before...)
	if err != nil {
		return 0, err
	}
	if err := answers(m.Result); err != nil {
		return 0, fmt.Errorf("%s: %w", method, err)
	}
	return took, nil
}

var errEmpty = errors.New("the answer is empty")

func something(answer json.RawMessage) error {
	if s := strings.TrimSpace(string(answer)); s == "" || s == "null" {
		return errEmpty
	}
	return nil
}

// several is for lists, which completion may wrap.
func several(answer json.RawMessage) error {
	var wrapped struct{ Items []json.RawMessage }
	if json.Unmarshal(answer, &wrapped) == nil && len(wrapped.Items) > 0 {
		return nil
	}
	var list []json.RawMessage
	if json.Unmarshal(answer, &list) == nil && len(list) > 0 {
		return nil
	}
	return errEmpty
}

func (x *session) at(p place) any {
	return map[string]any{"textDocument": map[string]any{"uri": x.uri()}, "position": position(p.line, p.column+1)}
}

// sixtyLines asks for the hints of as many lines as a window shows.
func (x *session) sixtyLines() any {
	first := max(x.doc.slip.line-30, 0)
	return map[string]any{"textDocument": map[string]any{"uri": x.uri()}, "range": spanOf(first, 0, first+60, 0)}
}

func position(line, character int) map[string]any {
	return map[string]any{"line": line, "character": character}
}

func spanOf(line, character, endLine, endCharacter int) map[string]any {
	return map[string]any{"start": position(line, character), "end": position(endLine, endCharacter)}
}
