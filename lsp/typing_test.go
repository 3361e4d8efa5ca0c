package lsp

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// mostProposed is how many proposals the test data show.
const mostProposed = 9

// typed shows what stands beside a line that is being typed.
func (e *editor) typed(text, head string) string {
	e.t.Helper()
	var n int
	var line string
	_, err := fmt.Sscanf(head, "type %d %q", &n, &line)
	require.NoError(e.t, err, head)
	lines := strings.Split(text, "\n")
	for len(lines) < n {
		lines = append(lines, "")
	}
	lines[n-1] = line
	text = strings.Join(lines, "\n")
	doc := at(fmt.Sprintf("typed-%d.crochet", e.opened()))
	e.type_(doc, text)
	pos := protocol.Position{Line: uint32(n - 1), Character: uint32(len(line))}

	var b strings.Builder
	hints := &protocol.InlayHintParams{Range: protocol.Range{Start: protocol.Position{Line: pos.Line}, End: pos}}
	hints.TextDocument.URI = doc
	got, err := e.server.InlayHint(e.ctx, hints)
	require.NoError(e.t, err)
	for _, h := range got {
		fmt.Fprintf(&b, "hint «%s»\n", labelOfHint(h))
	}
	ask := &protocol.CompletionParams{}
	ask.TextDocument.URI, ask.Position = doc, pos
	list, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, ask)
	require.NoError(e.t, err)
	shown := list.Items
	if word := strings.ToLower(wordAt(line)); word != "" { // as a client filters
		shown = slices.DeleteFunc(slices.Clone(shown), func(i protocol.CompletionItem) bool {
			return !strings.HasPrefix(strings.ToLower(filterOf(&i)), strings.ToLower(replacedBy(&i, line)))
		})
	}
	for _, i := range shown[:min(len(shown), mostProposed)] {
		detail, _ := i.Detail.Get()
		fmt.Fprintf(&b, "%s\n", strings.TrimRight("  "+i.Label+" · "+detail, " ·"))
	}
	if more := len(shown) - mostProposed; more > 0 {
		fmt.Fprintf(&b, "  and %d more\n", more)
	}
	sig := &protocol.SignatureHelpParams{}
	sig.TextDocument.URI, sig.Position = doc, pos
	help, err := reply[*protocol.SignatureHelp](e, protocol.MethodTextDocumentSignatureHelp, sig)
	require.NoError(e.t, err)
	if help != nil {
		fmt.Fprintf(&b, "signature %s\n", help.Signatures[0].Label)
	}
	return b.String()
}

// opened counts the documents that a test has opened.
func (e *editor) opened() int {
	typedDocs++
	return typedDocs
}

var typedDocs int

func wordAt(line string) string { return line[len(strings.TrimRightFunc(line, isWordRune)):] }

func filterOf(i *protocol.CompletionItem) string {
	if f, ok := i.FilterText.Get(); ok {
		return f
	}
	return i.Label
}

// replacedBy is what of the line a proposal takes the place of, up to its end.
func replacedBy(i *protocol.CompletionItem, line string) string {
	edit := i.TextEdit.(*protocol.TextEdit)
	return line[min(int(edit.Range.Start.Character), len(line)):]
}

// proposalsHold holds what must be true of every proposal: that it has an edit on the
// line and around the cursor, that they come in order, and that a round offered
// whole comes out in the pattern, worked anew from its text.
func proposalsHold(t *testing.T, snap *Snapshot, cursor int, items []protocol.CompletionItem) {
	t.Helper()
	at := snap.Position(cursor)
	last := ""
	for i := range items {
		x := &items[i]
		edit, ok := x.TextEdit.(*protocol.TextEdit)
		if !assert.True(t, ok, "%q has no edit", x.Label) {
			continue
		}
		order, _ := x.SortText.Get()
		assert.Less(t, last, order, "%q is out of order", x.Label)
		last = order
		assert.NotEmpty(t, x.Label)
		assert.Equal(t, at.Line, edit.Range.Start.Line, x.Label)
		assert.Equal(t, at.Line, edit.Range.End.Line, x.Label)
		assert.LessOrEqual(t, edit.Range.Start.Character, at.Character, x.Label)
		assert.GreaterOrEqual(t, edit.Range.End.Character, at.Character, x.Label)
		var d proposalData
		if len(x.Data) == 0 || protocol.Unmarshal(x.Data, &d) != nil || d.Line == "" {
			continue
		}
		start, end := snap.Bytes(edit.Range)
		after, ok := lint.Apply(snap.Text(), []lint.Edit{{Start: start, End: end, New: edit.NewText}})
		require.True(t, ok)
		p := fabric.Work(grammar.Parse(after))
		_, r := p.RoundAt(p.File.LineAt(start))
		if !assert.NotNil(t, r, "%q is no round", x.Label) {
			continue
		}
		stated, said := p.StatedStitches(r.Node.Total)
		assert.True(t, r.Known && said, "%q cannot be counted in\n%s", x.Label, r.Line.Text)
		assert.Equal(t, r.Makes, stated, "%s", r.Line.Text)
		assert.Empty(t, r.Problems, "%s", r.Line.Text)
		assert.NotEmpty(t, d.page(snap), x.Label)
	}
}

// Every demo pattern is typed from an empty file, word by word. At each word
// what is proposed is sound, and what the pattern says next is among it: labels
// at the beginning of a line, stitches, yarns and pieces where they are named.
func TestTypingThePatterns(t *testing.T) {
	for path, text := range demos(t) {
		if strings.Contains(path, "broken") {
			continue
		}
		whole := grammar.Parse(text)
		sys := fabric.Work(whole).Header.System
		for i, l := range whole.Lines {
			start := whole.Start(i)
			for k, tok := range grammar.Tokens(l.Text) {
				if k > 0 && (i+k)%7 != 0 && !strings.Contains(path, "snail") {
					continue // there is enough of it
				}
				cursor := start + int(tok.Start)
				snap := newSnapshot(at("a.crochet"), 1, "", text[:cursor], utf8Bytes)
				c := newCompleting(snap, cursor)
				c.propose()
				proposalsHold(t, snap, cursor, c.items)
				x := hintsIn{doc: snap, set: hints{true, true, true, true}}
				for _, h := range x.statement(min(i, len(snap.File.Lines)-1)) {
					assert.NotContains(t, h.label(), "%!", "%s", l.Text)
				}
				if want := wanted(l, k, tok, sys); want != "" {
					assert.True(t, slices.ContainsFunc(c.items, func(i protocol.CompletionItem) bool { return strings.HasPrefix(i.Label, want) }), "%s: %q is not proposed behind %q", path, want, text[start:cursor])
				}
			}
		}
	}
}

// Wherever a text breaks off, all that is shown beside it can be asked for.
func TestTypingAnywhere(t *testing.T) {
	for path, text := range demos(t) {
		step := 211
		if strings.Contains(path, "broken") {
			step = 149
		}
		for cut := step / 2; cut < len(text); cut += step {
			snap := newSnapshot(at("a.crochet"), 1, "", text[:cut], utf8Bytes)
			c := newCompleting(snap, cut)
			c.propose()
			proposalsHold(t, snap, cut, c.items)
			at, _, _ := snap.Statement(cut)
			x := hintsIn{doc: snap, set: hints{true, true, true, true}}
			for _, h := range x.statement(at) {
				assert.NotEmpty(t, h.label())
				assert.NotEmpty(t, h.page().plain(), "%s: %s", path, h.label())
				assert.LessOrEqual(t, int(h.at), len(snap.File.Lines[at].Text))
			}
			if e := explainerAt(snap, cut-1); len(e.page) > 0 {
				assert.NotEmpty(t, e.page.markdown())
			}
		}
	}
}

// wanted is what must be among the proposals before a token; empty where it is
// for the maker to say.
func wanted(l *grammar.Line, k int, tok grammar.Token, sys terms.System) string {
	within := func(s grammar.Span) bool { return s.Start == tok.Start }
	word := tok.In(l.Text)
	name := labelOf(l.Node)
	if k == 0 && name != "" {
		return name
	}
	switch n := l.Node.(type) {
	case *grammar.Round:
		if k == 0 {
			return fabric.RoundName(n.Row, int64(n.From.N))[:3]
		}
		if tok.Kind == grammar.Term && n.Total != nil && tok.End < n.Total.Span.Start {
			if s := grammar.PhraseAt(tok.Value).In(sys); s != nil && word == s.Abbr(sys) {
				return wantedStitch(l, tok, word)
			}
		}
	case *grammar.With:
		if len(n.Yarns) > 0 && within(n.Yarns[0].Span) {
			return word
		}
	case *grammar.Sew:
		if within(n.Part.Span) || within(n.To.Span) {
			return word
		}
	case *grammar.PlaceThing:
		if within(n.On.Span) {
			return word
		}
	case *grammar.Skill, *grammar.Terms:
		if k > 1 {
			return word
		}
	case *grammar.Action:
		if k == 0 {
			return word
		}
		if within(n.Yarn.Span) {
			return word
		}
	}
	return ""
}

// wantedStitch leaves out stitches that say where another goes: "first sc".
func wantedStitch(l *grammar.Line, tok grammar.Token, word string) string {
	before := strings.TrimRight(l.Text[:tok.Start], " ")
	for _, place := range []string{"first", "next", "in", "each", "last", "as", "and", "with", "hook", "sp", "skipped", "of"} {
		if strings.HasSuffix(before, " "+place) {
			return ""
		}
	}
	return word
}

// A client that fills in gaps is given them; another is not.
func TestCompletionSnippets(t *testing.T) {
	for _, can := range []bool{true, false} {
		caps := pushing()
		caps.TextDocument.Completion = &protocol.CompletionClientCapabilities{CompletionItem: &protocol.ClientCompletionItemOptions{SnippetSupport: new(can)}}
		e := open(t, caps, nil)
		e.type_(at("a.crochet"), "Pattern: A\nTerms: UK\n")
		p := &protocol.CompletionParams{}
		p.TextDocument.URI, p.Position = at("a.crochet"), protocol.Position{Line: 2}
		list, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, p)
		require.NoError(t, err)
		filled := 0
		for _, i := range list.Items {
			text := i.TextEdit.(*protocol.TextEdit).NewText
			if i.InsertTextFormat == protocol.InsertTextFormatSnippet {
				filled++
				assert.Contains(t, text, "${1:")
			} else {
				assert.NotContains(t, text, "${")
			}
			assert.NotContains(t, text, "%")
		}
		assert.Equal(t, can, filled > 0)
	}
}

// Proposals are told about as the client reads, and those of a text that has
// changed not at all.
func TestCompletionResolveFormats(t *testing.T) {
	for _, format := range []protocol.MarkupKind{protocol.MarkupKindMarkdown, protocol.MarkupKindPlainText} {
		caps := pushing()
		caps.TextDocument.Completion = &protocol.CompletionClientCapabilities{CompletionItem: &protocol.ClientCompletionItemOptions{DocumentationFormat: []protocol.MarkupKind{format}}}
		e := open(t, caps, nil)
		doc := at("a.crochet")
		e.type_(doc, snailHead+snailBody)
		p := &protocol.CompletionParams{}
		p.TextDocument.URI, p.Position = doc, protocol.Position{Line: uint32(strings.Count(snailHead+snailBody, "\n"))}
		list, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, p)
		require.NoError(t, err)
		told := 0
		for i := range list.Items {
			x, err := reply[*protocol.CompletionItem](e, protocol.MethodCompletionItemResolve, &list.Items[i])
			require.NoError(t, err)
			if doc, ok := x.Documentation.(*protocol.MarkupContent); ok {
				told++
				assert.Equal(t, format, doc.Kind)
				assert.Equal(t, format == protocol.MarkupKindMarkdown, strings.Contains(doc.Value, "**"), doc.Value)
			}
		}
		assert.Greater(t, told, 5)
		i := slices.IndexFunc(list.Items, func(i protocol.CompletionItem) bool { return strings.HasPrefix(i.Label, "Rnd 3: sc") })
		require.GreaterOrEqual(t, i, 0)
		e.change(doc, 2, part(0, 0, 0, 0, "// "))
		x, err := reply[*protocol.CompletionItem](e, protocol.MethodCompletionItemResolve, &list.Items[i])
		require.NoError(t, err)
		assert.Nil(t, x.Documentation, "it would tell of another text")
	}
}
