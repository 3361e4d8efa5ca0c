package lsp

import (
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/grammar"
	"workeven/lint"
)

// allow offers comments that allow a finding: where it stands, and in the whole file.
func (o *offered) allow(f *lint.Finding) []action {
	var out []action
	for _, way := range []struct {
		title string
		edit  lint.Edit
	}{
		{"Allow " + f.Rule + " here with a comment", o.allowHere(f)},
		{"Allow " + f.Rule + " in the whole file with a comment", o.allowEverywhere(f.Rule)},
	} {
		edits := []lint.Edit{way.edit}
		after := o.tried(edits)
		if after != nil && countRule(after.Findings, f.Rule) < countRule(o.Findings(), f.Rule) {
			out = append(out, action{title: way.title, kind: protocol.CodeActionKindQuickFix, edits: edits, finding: f})
		}
	}
	return out
}

// allowHere puts the comment at the end of the statement, or above one that has
// a comment of another kind.
func (o *offered) allowHere(f *lint.Finding) lint.Edit {
	at := o.File.LineAt(f.Start)
	line, start := o.File.Lines[at], o.File.Start(at)
	if !line.Note.Written() {
		return lint.Edit{Start: start + len(line.Text), End: start + len(line.Text), New: "  // allow: " + f.Rule}
	}
	if note := line.Note.In(line.Text); isAllowing(note) {
		return oneMore(start+int(line.Note.Start), note, f.Rule)
	}
	return lint.Edit{Start: start, End: start, New: "// allow: " + f.Rule + "\n"}
}

// allowEverywhere puts the comment before all that the file says, or adds to
// the one that stands somewhere.
func (o *offered) allowEverywhere(rule string) lint.Edit {
	first := -1
	for at, l := range o.File.Lines {
		switch l.Node.(type) {
		case grammar.Comment:
			if note := l.Note.In(l.Text); saysFirst(note, "allow file:") {
				return oneMore(o.File.Start(at)+int(l.Note.Start), note, rule)
			}
		case grammar.Blank:
			continue
		}
		if first < 0 {
			first = o.File.Start(at)
		}
	}
	return lint.Edit{Start: first, End: first, New: "// allow file: " + rule + "\n"}
}

// oneMore names one more rule in a comment that begins at a byte.
func oneMore(start int, note, rule string) lint.Edit {
	names, _, _ := strings.Cut(note, "--")
	at := start + len(strings.TrimRight(names, " \t"))
	return lint.Edit{Start: at, End: at, New: ", " + rule}
}

// isAllowing says whether a comment allows rules in its own statement.
func isAllowing(note string) bool { return saysFirst(note, "allow:") }

// saysFirst says whether a comment begins with some words.
func saysFirst(note, words string) bool {
	rest := strings.TrimLeft(note, "/ \t")
	return len(rest) >= len(words) && strings.EqualFold(rest[:len(words)], words)
}

func countRule(found []lint.Finding, rule string) (n int) {
	for i := range found {
		if found[i].Rule == rule {
			n++
		}
	}
	return n
}

// listYarn offers to list a yarn that is worked with and stands in no Yarn
// line. It is taken to be as thick as the others.
func (o *offered) listYarn(f *lint.Finding) (action, bool) {
	if f.Rule != "undeclared-yarn" {
		return action{}, false
	}
	key, colour := o.Slice(f.Start, f.End), "color"
	if o.Pattern().Header.System.String() == "UK" {
		colour = "colour"
	}
	new := "Yarn " + key + ": " + colour + " " + key
	behind := o.lineBehind(func(n grammar.Node) bool {
		y, ok := n.(*grammar.Yarn)
		if ok && y.Weight.Written() {
			new = "Yarn " + key + ": " + colour + " " + key + ", " + y.Weight.Text
		}
		return ok
	})
	edits := []lint.Edit{{Start: behind, End: behind, New: "\n" + new}}
	after := o.tried(edits)
	if after == nil || countRule(after.Findings, f.Rule) >= countRule(o.Findings(), f.Rule) {
		return action{}, false
	}
	return action{title: "List yarn " + key, kind: protocol.CodeActionKindQuickFix, edits: edits, finding: f}, true
}

// lineBehind is the byte behind the last statement of a kind, or where there is
// none behind the last of those that say what the pattern is.
func (o *offered) lineBehind(like func(grammar.Node) bool) int {
	at, found := 0, false
	for i, l := range o.File.Lines {
		if like(l.Node) {
			at, found = i, true
			continue
		}
		switch l.Node.(type) {
		case *grammar.Yarn, *grammar.Hook, *grammar.Gauge, *grammar.Size, *grammar.Terms, *grammar.Skill, *grammar.Text:
			if !found && len(o.Pattern().Pieces) > 0 && i < o.Pattern().Pieces[0].At {
				at = i
			}
		}
	}
	return o.File.Start(at) + len(o.File.Lines[at].Text)
}

// listThing offers to list a thing that is placed somewhere and stands in no
// Notion line, as many of it as are placed.
func (o *offered) listThing(f *lint.Finding) (action, bool) {
	if f.Rule != "materials" || len(f.Fixes) > 0 {
		return action{}, false
	}
	name, _ := placed(o.File.Lines[o.File.LineAt(f.Start)].Node)
	one := singular(name)
	if one == "" {
		return action{}, false
	}
	n := int32(0)
	for _, l := range o.File.Lines {
		if what, times := placed(l.Node); singular(what) == one {
			n += times
			if n > 1 && what != one {
				name = what // the plural
			}
		}
	}
	line := "Notion: " + name
	if n > 0 {
		line = "Notion: " + number(int64(n)) + " " + name
	}
	behind := o.lineBehind(func(n grammar.Node) bool { _, ok := n.(*grammar.Notion); return ok })
	edits := []lint.Edit{{Start: behind, End: behind, New: "\n" + line}}
	after := o.tried(edits)
	if after == nil || countRule(after.Findings, f.Rule) >= countRule(o.Findings(), f.Rule) {
		return action{}, false
	}
	return action{title: "Add the line \"" + line + "\"", kind: protocol.CodeActionKindQuickFix, preferred: true, edits: edits, finding: f}, true
}

// placed is the thing that a statement puts on a part, and how many of it.
func placed(n grammar.Node) (string, int32) {
	switch x := n.(type) {
	case *grammar.PlaceThing:
		return x.Thing.Text, x.Count.N
	case *grammar.Action:
		if x.Verb == grammar.VerbInsert {
			return x.Thing.Text, x.Count.N
		}
	}
	return "", 0
}

func singular(name string) string { return strings.TrimSuffix(strings.ToLower(name), "s") }

// takeAway offers to take away a line that nothing in the pattern needs. It is
// not the likeliest repair: the use may be what was forgotten.
func (o *offered) takeAway(f *lint.Finding) []action {
	at := o.File.LineAt(f.Start)
	l, start := o.File.Lines[at], o.File.Start(at)
	switch l.Node.(type) {
	case *grammar.Yarn, *grammar.Notion, *grammar.OwnStitch:
	default:
		return nil
	}
	end := start + len(l.Text)
	if at+1 < len(o.File.Lines) {
		end = o.File.Start(at + 1)
	}
	edits := []lint.Edit{{Start: start, End: end}}
	after := o.tried(edits)
	if after == nil || countRule(after.Findings, f.Rule) >= countRule(o.Findings(), f.Rule) {
		return nil
	}
	return []action{{title: "Take the line away", kind: protocol.CodeActionKindQuickFix, edits: edits, finding: f}}
}

// numberingRule is the rule that renumbering mends.
const numberingRule = "numbering"

// renumber offers to number the rounds of a piece in order, where they are not,
// with all that points to them.
func (o *offered) renumber() []action {
	p := o.Pattern()
	for _, piece := range p.Pieces {
		if piece.At > o.last || piece.At+len(piece.Lines) <= o.first {
			continue
		}
		r := renumbering{offered: o, piece: piece}
		r.labels()
		if len(r.edits) == 0 {
			return nil
		}
		r.references()
		after := o.tried(r.edits)
		if after == nil || countRule(after.Findings, numberingRule) > countRule(o.Findings(), numberingRule) {
			return nil
		}
		what := "rounds"
		if len(piece.Rounds) > 0 && piece.Rounds[0].Node.Row {
			what = "rows"
		}
		title := "Renumber the " + what
		if piece.Name != "" {
			title += " of " + piece.Name
		}
		return []action{{title: title, kind: protocol.CodeActionKindRefactorRewrite, edits: r.edits}}
	}
	return nil
}

// edit replaces a span of a statement.
func (s *Snapshot) edit(statement int, span grammar.Span, new string) lint.Edit {
	start := s.File.Start(statement)
	return lint.Edit{Start: start + int(span.Start), End: start + int(span.End), New: new}
}

// sameWords says whether two texts differ in nothing but white space.
func sameWords(a, b string) bool { return slices.Equal(strings.Fields(a), strings.Fields(b)) }
