package lsp

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// offers shows the actions offered at words of a line, and what each makes of
// the lines that it changes.
func (e *editor) offers(text, head string) string {
	e.t.Helper()
	before := linesOf(text)
	where, _ := e.placed(text, head)
	var b strings.Builder
	for _, a := range e.actionsAt(at("shown.crochet"), where.Position) {
		full, err := e.resolved(a)
		require.NoError(e.t, err, a.Title)
		fmt.Fprintf(&b, "%s\n", a.Title)
		after := linesOf(afterEdit(e.t, text, full.Edit))
		first, same := 0, 0
		for first < min(len(before), len(after)) && before[first] == after[first] {
			first++
		}
		for same < min(len(before), len(after))-first && before[len(before)-1-same] == after[len(after)-1-same] {
			same++
		}
		for i := first; i < len(after)-same; i++ {
			fmt.Fprintf(&b, "  %d: %s\n", i+1, after[i])
		}
	}
	return orNothing(b.String())
}

// afterTextEdits is a text with edits carried out.
func afterTextEdits(t testing.TB, text string, edits []protocol.TextEdit) string {
	t.Helper()
	return afterEdit(t, text, &protocol.WorkspaceEdit{Changes: map[uri.URI][]protocol.TextEdit{at("shown.crochet"): edits}})
}

// tidied shows what formatting takes out and puts in: "format", or "format 3-5"
// for these lines; ␠ is a blank at a line's end. Formatted once more, nothing changes.
func (e *editor) tidied(text, head string) string {
	e.t.Helper()
	ask := func(doc protocol.TextDocumentIdentifier) (edits []protocol.TextEdit, err error) {
		if head == "format" {
			return reply[[]protocol.TextEdit](e, protocol.MethodTextDocumentFormatting, &protocol.DocumentFormattingParams{TextDocument: doc})
		}
		var from, to uint32
		_, err = fmt.Sscanf(head, "format %d-%d", &from, &to)
		require.NoError(e.t, err, head)
		lines := protocol.Range{Start: protocol.Position{Line: from - 1}, End: protocol.Position{Line: to}}
		return reply[[]protocol.TextEdit](e, protocol.MethodTextDocumentRangeFormatting, &protocol.DocumentRangeFormattingParams{TextDocument: doc, Range: lines})
	}
	edits, err := ask(shownDocument())
	require.NoError(e.t, err)
	var b strings.Builder
	for _, x := range edits {
		for i, line := range linesOf(textIn(text, x.Range)) {
			fmt.Fprintf(&b, "%d -%s\n", int(x.Range.Start.Line)+i+1, toItsEnd(line))
		}
		for _, line := range linesOf(x.NewText) {
			fmt.Fprintf(&b, "%d +%s\n", x.Range.Start.Line+1, toItsEnd(line))
		}
	}
	if head == "format" {
		again, err := ask(e.inAnother(afterTextEdits(e.t, text, edits)))
		require.NoError(e.t, err)
		assert.Empty(e.t, again, "what is formatted stays as it is")
	}
	return orNothing(b.String())
}

// toItsEnd is a line behind a blank, with the blanks at its end to be seen.
func toItsEnd(line string) string {
	words := strings.TrimRight(line, " \t")
	if line = words + strings.Repeat("␠", len(line)-len(words)); line == "" {
		return ""
	}
	return " " + line
}

// inAnother opens a document of its own.
func (e *editor) inAnother(text string) protocol.TextDocumentIdentifier {
	e.t.Helper()
	doc := at(fmt.Sprintf("typed-%d.crochet", e.opened()))
	e.type_(doc, text)
	return protocol.TextDocumentIdentifier{URI: doc}
}

// entered shows what Enter before the words of a place does besides the new
// line, at the line's end where the words are none.
func (e *editor) entered(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	x := newIndex(text, utf16Units)
	here := x.offset(where.Position)
	if strings.Contains(head, `""`) {
		_, here = x.bounds(int(where.Position.Line))
	}
	newline := "\n"
	if strings.Contains(text, "\r\n") {
		newline = "\r\n"
	}
	text = text[:here] + newline + text[here:]
	p := &protocol.DocumentOnTypeFormattingParams{TextDocument: e.inAnother(text), Position: protocol.Position{Line: where.Position.Line + 1}, Ch: "\n"}
	edits, err := reply[[]protocol.TextEdit](e, protocol.MethodTextDocumentOnTypeFormatting, p)
	require.NoError(e.t, err)
	var b strings.Builder
	for _, edit := range edits {
		require.Equal(e.t, edit.Range.Start.Line, edit.Range.End.Line)
		fmt.Fprintf(&b, "%d: «%s» becomes «%s»\n", edit.Range.Start.Line+1, textIn(text, edit.Range), edit.NewText)
	}
	return orNothing(b.String())
}

// complaints shows what is wrong: the words of it, its rule with its page, the
// message, and the places that it speaks of besides.
func (e *editor) complaints(text, _ string) string {
	e.t.Helper()
	severities := map[protocol.DiagnosticSeverity]string{
		protocol.DiagnosticSeverityError: "error", protocol.DiagnosticSeverityWarning: "warning",
		protocol.DiagnosticSeverityInformation: "information", protocol.DiagnosticSeverityHint: "hint",
	}
	unnecessary := protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	var b strings.Builder
	for _, d := range e.published(at("shown.crochet"), 1) {
		require.Contains(e.t, severities, d.Severity)
		fmt.Fprintf(&b, "%s  %s %s, %s\n  %s\n", withMarks(text, d.Range), severities[d.Severity], d.Code, d.CodeDescription.Href, d.Message)
		if assert.ObjectsAreEqual(unnecessary, d.Tags) {
			b.WriteString("  unnecessary\n")
		}
		for _, r := range d.RelatedInformation {
			fmt.Fprintf(&b, "    %s:\n", r.Message)
			for line := range strings.Lines(withMarks(text, r.Location.Range)) {
				b.WriteString("    " + line)
			}
		}
	}
	return orNothing(b.String())
}
