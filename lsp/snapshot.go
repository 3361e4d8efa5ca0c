package lsp

import (
	"strings"
	"sync"
	"sync/atomic"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

// Snapshot is one document at one version: its text, its tree, what it works out
// to and what is wrong with it. It is a value, and safe to use from several
// goroutines: the working and the linting are done once, when first asked for.
type Snapshot struct {
	URI     uri.URI
	Version int32
	// Path is the file's; of an unsaved document the one that it would have in
	// the first folder of the workspace.
	Path string
	File *grammar.File
	// Rules are how the configuration has the rules, repairs left out.
	Rules lint.Options

	by    ruling
	lines *index
	// last is the last version of the document that was linted, shared by all
	// its snapshots: what has not changed since is not worked again.
	last    *atomic.Pointer[lint.Checked]
	checked func() *lint.Checked
	// named are the names in it, found when first asked for; lastNamed those of
	// the last version that was asked for them.
	named     func() *names
	lastNamed *atomic.Pointer[names]
}

// newSnapshot reads a document; its rules are set when it is put into a state.
func newSnapshot(doc uri.URI, version int32, path, text string, enc encoding) *Snapshot {
	s := &Snapshot{URI: doc, Version: version, Path: path, File: grammar.Parse(text), lines: newIndex(text, enc), last: new(atomic.Pointer[lint.Checked]), lastNamed: new(atomic.Pointer[names])}
	s.lazily()
	return s
}

func (s *Snapshot) lazily() {
	s.named = sync.OnceValue(func() *names {
		n := s.lastNamed.Load().again(s.File)
		s.lastNamed.Store(n)
		return n
	})
	s.checked = sync.OnceValue(func() *lint.Checked {
		c := lint.Recheck(s.last.Load(), s.File, s.Rules)
		s.last.Store(c)
		return c
	})
}

// replaced is the document with the bytes from start to end replaced.
func (s *Snapshot) replaced(version int32, start, end int, new string) *Snapshot {
	n := *s
	n.Version = version
	n.File = grammar.Splice(s.File, start, end, new)
	n.lines = s.lines.splice(start, end, new, n.File.Rope())
	n.lazily()
	return &n
}

// rewritten is the document with all its text replaced.
func (s *Snapshot) rewritten(version int32, text string) *Snapshot {
	n := *s
	n.Version = version
	n.File = grammar.Reparse(s.File, strings.Clone(text))
	n.lines = newIndex(n.File.Text(), s.lines.enc)
	n.lazily()
	return &n
}

// ruled is the document under other rules.
func (s *Snapshot) ruled(rules lint.Options) *Snapshot {
	n := *s
	n.Rules = rules
	n.lazily()
	return &n
}

// Text is the whole text.
func (s *Snapshot) Text() string { return s.File.Text() }

// Len is how many bytes the text has.
func (s *Snapshot) Len() int { return s.File.Rope().Len() }

// Slice is the text from one byte to another.
func (s *Snapshot) Slice(start, end int) string { return s.File.Rope().Slice(start, end) }

// Pattern is what the text works out to.
func (s *Snapshot) Pattern() *fabric.Pattern { return s.checked().Pattern }

// Findings is what is wrong with it, without repairs, in order of place.
func (s *Snapshot) Findings() []lint.Finding { return s.checked().Findings }

// Repaired are the findings that touch the bytes from start to end, with the
// repairs that hold.
func (s *Snapshot) Repaired(start, end int) []lint.Finding {
	return s.checked().Repaired(start, end)
}

// Offset is the byte that a position stands before, clamped to the text.
func (s *Snapshot) Offset(p protocol.Position) int { return s.lines.offset(p) }

// Bytes are the bytes of a range, in order even where the range runs backwards.
func (s *Snapshot) Bytes(r protocol.Range) (start, end int) {
	start, end = s.Offset(r.Start), s.Offset(r.End)
	return min(start, end), max(start, end)
}

// Position is where a byte stands.
func (s *Snapshot) Position(offset int) protocol.Position { return s.lines.position(offset) }

// Range is where the bytes from start to end stand.
func (s *Snapshot) Range(start, end int) protocol.Range {
	return protocol.Range{Start: s.Position(start), End: s.Position(end)}
}

// Span is where a span of a statement stands, the statement given by its index.
func (s *Snapshot) Span(statement int, span grammar.Span) protocol.Range {
	start := s.File.Start(statement)
	return s.Range(start+int(span.Start), start+int(span.End))
}

// Statement is the statement at a byte, its index in the file, and the byte's
// offset in its text; an offset behind its end is that of its line end.
func (s *Snapshot) Statement(offset int) (statement int, line *grammar.Line, in int) {
	statement = s.File.LineAt(offset)
	line = s.File.Lines[statement]
	return statement, line, min(max(offset-s.File.Start(statement), 0), len(line.Text))
}
