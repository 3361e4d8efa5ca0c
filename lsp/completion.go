package lsp

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/grammar"
	"workeven/lint"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.CompletionProvider = &protocol.CompletionOptions{TriggerCharacters: []string{" ", ":", "(", ")", ",", "*"}, ResolveProvider: new(true)}
})

// Completion proposes what can stand at a place.
func (s *Server) Completion(ctx context.Context, p *protocol.CompletionParams) (protocol.CompletionResult, error) {
	snap, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	c := newCompleting(snap, snap.Offset(p.Position))
	c.snippets = s.client.snippets()
	c.propose()
	if c.items == nil {
		c.items = []protocol.CompletionItem{}
	}
	return &protocol.CompletionList{Items: c.items}, nil
}

func (c *client) snippets() bool {
	t := c.TextDocument
	return t != nil && t.Completion != nil && t.Completion.CompletionItem != nil && is(t.Completion.CompletionItem.SnippetSupport)
}

// completing is one request: what stands before the cursor, and the proposals.
type completing struct {
	*Snapshot
	at     int    // the statement
	start  int    // of the statement, in the file
	cursor int    // in the file
	before string // of the statement, up to the cursor
	word   string // the letters before the cursor
	rest   string // of the line, behind the cursor
	items  []protocol.CompletionItem
	// snippets is set where the client fills in a proposal with places to type in.
	snippets bool
}

func newCompleting(snap *Snapshot, cursor int) *completing {
	at, line, _ := snap.Statement(cursor)
	start := snap.File.Start(at)
	if cursor > start+len(line.Text) { // on the empty line behind the last one, which is no statement
		at = at + 1
		start, _ = snap.lines.bounds(snap.lines.line(cursor))
	}
	c := &completing{Snapshot: snap, at: at, start: start, cursor: cursor, before: snap.Slice(start, cursor)}
	c.word = c.before[len(strings.TrimRightFunc(c.before, isWordRune)):]
	_, end := snap.lines.bounds(snap.lines.line(cursor))
	c.rest = snap.Slice(cursor, end)
	return c
}

func isWordRune(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r >= 0x80
}

// add proposes a text in place of the last bytes before the cursor. Proposals
// are shown in the order in which they are added.
func (c *completing) add(kind protocol.CompletionItemKind, replaced, label, detail string) *protocol.CompletionItem {
	end := c.cursor
	if replaced != "" && replaced == c.word { // in the middle of a word all of it goes
		end += len(c.rest) - len(strings.TrimLeftFunc(c.rest, isWordRune))
	}
	item := protocol.CompletionItem{
		Label: label, Kind: kind, SortText: protocol.NewOptional(fmt.Sprintf("%04d", len(c.items))),
		TextEdit: &protocol.TextEdit{Range: c.Range(c.cursor-len(replaced), end), NewText: label},
	}
	if detail != "" {
		item.Detail = protocol.NewOptional(detail)
	}
	c.items = append(c.items, item)
	return &c.items[len(c.items)-1]
}

// words proposes each of several words in place of the one before the cursor.
func (c *completing) words(kind protocol.CompletionItemKind, words ...string) {
	for _, w := range words {
		c.add(kind, c.word, w, "")
	}
}

// phrases proposes each of several phrases in place of what is typed of it.
func (c *completing) phrases(kind protocol.CompletionItemKind, typed string, phrases ...string) {
	for _, w := range phrases {
		c.add(kind, typed, w, "")
	}
}

// writes has a proposal write something else than its label.
func writes(item *protocol.CompletionItem, text string) {
	item.TextEdit.(*protocol.TextEdit).NewText = text
}

// foundBy has a proposal be found by other words than its label.
func foundBy(item *protocol.CompletionItem, words string) {
	item.FilterText = protocol.NewOptional(words)
}

func (c *completing) propose() {
	if i := strings.LastIndex(c.before, "//"); i >= 0 && (i == 0 || c.before[i-1] == ' ' || c.before[i-1] == '\t') {
		c.comment(c.before[i:])
		return
	}
	label, content, ok := strings.Cut(c.before, ":")
	if !ok {
		c.lineStart()
		return
	}
	name, _, _ := strings.Cut(strings.TrimSpace(label), " ")
	c.content(strings.ToLower(name), content)
}

// comment proposes the rules that a comment can allow: those first that find
// something here.
func (c *completing) comment(comment string) {
	if words := strings.ToLower(strings.TrimLeft(comment, "/ \t")); !strings.HasPrefix(words, "allow") || !strings.Contains(words, ":") {
		if strings.TrimLeft(comment, "/ ") == c.word {
			c.add(protocol.CompletionItemKindKeyword, c.word, "allow: ", "do not report a rule here")
		}
		return
	}
	if strings.Contains(comment, "--") {
		return
	}
	var here, others []*lint.Rule
	found := c.foundHere()
	for _, r := range lint.Rules() {
		if slices.Contains(found, r.Name) {
			here = append(here, r)
		} else {
			others = append(others, r)
		}
	}
	for _, r := range append(here, others...) {
		item := c.add(protocol.CompletionItemKindEnumMember, c.word, r.Name, r.Summary)
		c.told(item, proposalData{Rule: r.Name})
	}
}

// foundHere are the rules that find something on the cursor's statement or, where
// it is all comment, on the next one.
func (c *completing) foundHere() []string {
	if c.at >= len(c.File.Lines) {
		return nil
	}
	last := c.at
	if _, alone := c.File.Lines[c.at].Node.(grammar.Comment); alone && last+1 < len(c.File.Lines) {
		last++
	}
	from, to := c.File.Start(c.at), c.File.Start(last)+len(c.File.Lines[last].Text)
	var names []string
	for _, f := range c.Findings() {
		if f.Start < to && f.End > from {
			names = append(names, f.Rule)
		}
	}
	return names
}

// ends says whether a text ends in some words, whatever their case, up to the
// word that is being typed.
func ends(text string, words ...string) bool {
	text = strings.ToLower(strings.TrimRightFunc(text, isWordRune))
	for _, w := range words {
		if text == w || strings.HasSuffix(text, " "+w) || strings.HasSuffix(text, ","+w) || strings.HasSuffix(text, "("+w) {
			return true
		}
	}
	return false
}

// lastPart is what was typed behind the last of some marks, without the blanks
// before it.
func lastPart(content, marks string) string {
	return strings.TrimLeft(content[strings.LastIndexAny(content, marks)+1:], " \t")
}
