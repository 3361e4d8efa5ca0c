package lsp

import (
	"context"
	"slices"
	"strings"

	"github.com/pmezard/go-difflib/difflib"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/grammar"
	"workeven/lint"
)

// The kinds of action that are the server's own, under those of the protocol:
// an editor may be set to carry the first out whenever a file is saved.
const (
	kindFixAll     = protocol.CodeActionKindSourceFixAll + ".workeven"
	kindOtherTerms = protocol.CodeActionKindSource + ".otherTerms.workeven"
)

var _ = offer(func(s *Server, c *protocol.ServerCapabilities) {
	c.CodeActionProvider = &protocol.CodeActionOptions{
		CodeActionKinds: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix, protocol.CodeActionKindRefactorRewrite, kindFixAll, kindOtherTerms},
		ResolveProvider: new(s.resolvesActions()),
	}
})

// action is one edit that is offered. Every one of them was tried before: the
// round comes out with it, or nothing is found that was not.
type action struct {
	title     string
	kind      protocol.CodeActionKind
	preferred bool
	edits     []lint.Edit
	// finding is what a quick fix mends.
	finding *lint.Finding
}

// offered is what actions are asked for: the bytes from start to end, and the
// statements that these touch.
type offered struct {
	*Snapshot
	ctx         context.Context
	start, end  int
	first, last int
	only        []protocol.CodeActionKind
	// unasked is set where the editor only wants to know whether to show a mark.
	unasked bool
}

// mostTouched is of how many statements a selection is looked at; mostAllowed
// in how many of them each finding may be allowed by itself.
const (
	mostTouched = 200
	mostAllowed = 10
)

// wants says whether the client asked for a kind, or for one that it belongs
// to. What concerns the whole source is not looked for unasked. Where an editor
// asks by itself, for a mark beside the line, other wordings are no reason for
// one unless they are of something that was selected.
func (o *offered) wants(kind protocol.CodeActionKind) bool {
	if len(o.only) == 0 {
		switch kind {
		case kindFixAll, kindOtherTerms:
			return false
		case protocol.CodeActionKindRefactorRewrite:
			return !o.unasked || o.start < o.end
		}
		return true
	}
	return slices.ContainsFunc(o.only, func(k protocol.CodeActionKind) bool {
		return k == "" || kind == k || strings.HasPrefix(string(kind), string(k)+".")
	})
}

// CodeAction offers repairs and other ways to write what stands at a place.
func (s *Server) CodeAction(ctx context.Context, p *protocol.CodeActionParams) ([]protocol.CommandOrCodeAction, error) {
	snap, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	o := newOffered(ctx, snap, p.Range, p.Context.Only)
	o.unasked = p.Context.TriggerKind == protocol.CodeActionTriggerKindAutomatic
	actions := o.actions()
	out := make([]protocol.CommandOrCodeAction, 0, len(actions))
	for i := range actions {
		a := s.codeAction(snap, &actions[i])
		if s.resolvesActions() {
			data, err := protocol.Marshal(&actionData{URI: snap.URI, Version: snap.Version, Range: p.Range})
			if err != nil {
				return nil, err
			}
			a.Edit, a.Data = nil, data
		}
		out = append(out, a)
	}
	return out, ctx.Err()
}

// actionData is how an action is found again when the client takes it.
type actionData struct {
	URI     uri.URI        `json:"uri"`
	Version int32          `json:"version"`
	Range   protocol.Range `json:"range"`
}

// CodeActionResolve gives the edits of an action that the client takes. One
// that was offered for another text than the present one is refused.
func (s *Server) CodeActionResolve(ctx context.Context, a *protocol.CodeAction) (*protocol.CodeAction, error) {
	var d actionData
	if a.Kind == nil || len(a.Data) == 0 || protocol.Unmarshal(a.Data, &d) != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%q is no action of this server", a.Title)
	}
	snap := s.seen(ctx).docs[d.URI]
	if snap == nil || snap.Version != d.Version {
		return nil, protocol.ErrContentModified
	}
	o := newOffered(ctx, snap, d.Range, []protocol.CodeActionKind{*a.Kind})
	for _, x := range o.actions() {
		if x.title == a.Title {
			return s.codeAction(snap, &x), nil
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return nil, protocol.ErrContentModified // other rules are in force by now
}

func (s *Server) resolvesActions() bool {
	t := s.client.TextDocument
	return t != nil && t.CodeAction != nil && is(t.CodeAction.DataSupport) &&
		slices.Contains(t.CodeAction.ResolveSupport.Properties, "edit")
}

// codeAction is an action in the protocol's form, edits included.
func (s *Server) codeAction(snap *Snapshot, a *action) *protocol.CodeAction {
	out := &protocol.CodeAction{Title: a.title, Kind: new(a.kind), Edit: s.workspaceEdit(snap, a.edits)}
	if a.preferred {
		out.IsPreferred = new(true)
	}
	if a.finding != nil {
		out.Diagnostics = []protocol.Diagnostic{s.diagnostic(snap, a.finding)}
	}
	return out
}

// workspaceEdit is edits of one document, for the version they were made for
// where the client heeds versions.
func (s *Server) workspaceEdit(snap *Snapshot, edits []lint.Edit) *protocol.WorkspaceEdit {
	list := snap.textEdits(edits)
	w := s.client.Workspace
	if w == nil || w.WorkspaceEdit == nil || !is(w.WorkspaceEdit.DocumentChanges) {
		return &protocol.WorkspaceEdit{Changes: map[uri.URI][]protocol.TextEdit{snap.URI: list}}
	}
	change := &protocol.TextDocumentEdit{}
	change.TextDocument.URI, change.TextDocument.Version = snap.URI, new(snap.Version)
	for i := range list {
		change.Edits = append(change.Edits, &list[i])
	}
	return &protocol.WorkspaceEdit{DocumentChanges: []protocol.DocumentChange{change}}
}

// textEdits are edits in the protocol's form, with the line ends of the text.
func (s *Snapshot) textEdits(edits []lint.Edit) []protocol.TextEdit {
	out := make([]protocol.TextEdit, 0, len(edits))
	for _, e := range s.withLineEnds(edits) {
		out = append(out, protocol.TextEdit{Range: s.Range(e.Start, e.End), NewText: e.New})
	}
	return out
}

// withLineEnds are edits whose line ends are those of the text.
func (s *Snapshot) withLineEnds(edits []lint.Edit) []lint.Edit {
	if s.lineEnd() == "\n" {
		return edits
	}
	edits = slices.Clone(edits)
	for i := range edits {
		edits[i].New = strings.ReplaceAll(strings.ReplaceAll(edits[i].New, "\r\n", "\n"), "\n", "\r\n")
	}
	return edits
}

// lineEnd is how the lines of the text end, by its first.
func (s *Snapshot) lineEnd() string { return s.File.LineEnd() }

func newOffered(ctx context.Context, snap *Snapshot, r protocol.Range, only []protocol.CodeActionKind) *offered {
	o := &offered{Snapshot: snap, ctx: ctx, only: only}
	o.start, o.end = snap.Bytes(r)
	o.first, o.last = snap.File.LineAt(o.start), snap.File.LineAt(o.end)
	o.last = min(o.last, o.first+mostTouched)
	return o
}

// actions are all that is offered, likeliest first, each edit once. No two of a
// kind have the same title: by that the one taken is found again.
func (o *offered) actions() []action {
	var all []action
	if o.wants(protocol.CodeActionKindQuickFix) {
		all = append(all, o.repairs()...)
	}
	if o.wants(protocol.CodeActionKindRefactorRewrite) {
		all = append(all, o.rewrites()...)
	}
	if o.wants(kindFixAll) {
		all = append(all, o.fixAll()...)
	}
	if o.wants(kindOtherTerms) {
		all = append(all, o.otherTerms(kindOtherTerms)...)
	}
	var out []action
	taken := map[string]bool{}
	for _, a := range all {
		if slices.ContainsFunc(out, func(b action) bool {
			return (b.kind == a.kind || a.kind == protocol.CodeActionKindRefactorRewrite) && slices.Equal(a.edits, b.edits)
		}) {
			continue
		}
		if key := string(a.kind) + a.title; taken[key] && len(a.edits) > 0 {
			a.title += " in line " + number(int64(o.Position(a.edits[0].Start).Line)+1)
		}
		if key := string(a.kind) + a.title; !taken[key] {
			taken[key] = true
			out = append(out, a)
		}
	}
	return out
}

// repairs are the linter's for all that it finds in the statements touched:
// the total to write among them, wherever in the round the cursor stands.
func (o *offered) repairs() []action {
	from := o.File.Start(o.first)
	to := o.File.Start(o.last) + len(o.File.Lines[o.last].Text)
	var out, allows []action
	found := o.Repaired(from, to)
	for i := range found {
		if o.ctx.Err() != nil {
			return nil
		}
		f := &found[i]
		if at := o.File.LineAt(f.Start); at < o.first || at > o.last {
			continue
		}
		best := true
		for _, fix := range f.Fixes {
			out = append(out, action{title: titled(fix.Title), kind: protocol.CodeActionKindQuickFix, preferred: best, edits: fix.Edits, finding: f})
			best = false
		}
		if a, ok := o.listYarn(f); ok {
			a.preferred = best
			out = append(out, a)
		}
		if a, ok := o.listThing(f); ok {
			out = append(out, a)
		}
		if f.Rule == numberingRule {
			for _, a := range o.renumber() {
				a.kind, a.finding = protocol.CodeActionKindQuickFix, f // not preferred: a round may have been left out
				out = append(out, a)
			}
		}
		if f.Unused && best {
			out = append(out, o.takeAway(f)...)
		}
		if o.last-o.first < mostAllowed {
			allows = append(allows, o.allow(f)...)
		}
	}
	return append(out, allows...)
}

func (o *offered) rewrites() []action {
	var out []action
	if o.first == o.last {
		out = append(out, o.total()...)
		out = append(out, o.plainly()...)
		out = append(out, o.gather()...)
		out = append(out, o.spread()...)
		out = append(out, o.spellOut()...)
		out = append(out, o.split()...)
	}
	out = append(out, o.join()...)
	out = append(out, o.renumber()...)
	return append(out, o.otherTerms(protocol.CodeActionKindRefactorRewrite)...)
}

// fixAll carries out every safe repair, and those that then come up.
func (o *offered) fixAll() []action {
	rules := o.Rules
	rules.NoFixes = false
	text, n, _ := lint.FixAll(o.Text(), func(text string) []lint.Finding { return lint.Check(grammar.Parse(text), rules) })
	if n == 0 {
		return nil
	}
	return []action{{title: "Carry out all safe repairs", kind: kindFixAll, preferred: true, edits: lineEdits(o.Text(), text)}}
}

// mostCompared is of how many lines a difference is looked for line by line.
const mostCompared = 4000

// lineEdits turn one text into another, line by line, so that the cursor and
// the folds of an editor stay where they are.
func lineEdits(old, new string) []lint.Edit {
	a, b := strings.SplitAfter(old, "\n"), strings.SplitAfter(new, "\n")
	at := 0
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		at, a, b = at+len(a[0]), a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if len(a)+len(b) > mostCompared {
		return []lint.Edit{{Start: at, End: at + len(strings.Join(a, "")), New: strings.Join(b, "")}}
	}
	starts := []int{at}
	for _, l := range a {
		starts = append(starts, starts[len(starts)-1]+len(l))
	}
	var out []lint.Edit
	for _, op := range difflib.NewMatcher(a, b).GetOpCodes() {
		if op.Tag != 'e' {
			out = append(out, lint.Edit{Start: starts[op.I1], End: starts[op.I2], New: strings.Join(b[op.J1:op.J2], "")})
		}
	}
	return out
}

// tried is the document with edits carried out, checked again; nil where they
// overlap, or a slip is found that was not. Hints are none: a repeat that was
// written out can be written as a repeat.
func (s *Snapshot) tried(edits []lint.Edit) *lint.Checked {
	edits = slices.SortedFunc(slices.Values(s.withLineEnds(edits)), func(a, b lint.Edit) int { return b.Start - a.Start })
	f, before := s.File, s.Len()
	if len(edits) > mostSpliced {
		text, ok := lint.Apply(s.Text(), edits)
		if !ok {
			return nil
		}
		f, edits = grammar.Reparse(f, text), nil
	}
	for _, e := range edits {
		if e.End > before || e.Start > e.End {
			return nil
		}
		f, before = grammar.Splice(f, e.Start, e.End, e.New), e.Start
	}
	after := lint.Recheck(s.checked(), f, s.Rules)
	for _, from := range []lint.Severity{lint.Error, lint.Warning} {
		if slipsIn(after.Findings, from) > slipsIn(s.Findings(), from) {
			return nil
		}
	}
	return after
}

// mostSpliced is for how many edits it is quicker to splice each into a file
// than to read it again.
const mostSpliced = 8

// slipsIn counts what is found from some severity on.
func slipsIn(found []lint.Finding, from lint.Severity) (n int) {
	for i := range found {
		if found[i].Severity >= from {
			n++
		}
	}
	return n
}

// titled makes a title of a repair's words.
func titled(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
