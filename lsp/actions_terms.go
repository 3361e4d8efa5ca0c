package lsp

import (
	"reflect"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// otherTerms offers, from the head of the pattern, to write all of it in the
// other system's stitch names.
func (o *offered) otherTerms() []action {
	p := o.Pattern()
	at := -1
	for i, l := range o.File.Lines {
		if _, ok := l.Node.(*grammar.Terms); ok {
			at = i
			break
		}
		if len(p.Pieces) > 0 && i >= p.Pieces[0].At {
			break
		}
	}
	if at < 0 || o.first > at || o.last < at {
		return nil
	}
	from := p.Header.System
	to := from.Other()
	n := o.File.Lines[at].Node.(*grammar.Terms)
	if len(o.File.Lines[at].Faults) > 0 || n.System != from {
		return nil
	}
	edits := []lint.Edit{o.edit(at, n.Value.Span, to.String())}
	for i, l := range o.File.Lines {
		eachRef(reflect.ValueOf(l.Node), func(r grammar.Ref) {
			if r.Phrase == 0 || !r.Written() || ownStitch(p, r) {
				return
			}
			if word, ok := terms.Counterpart(from, r.Text); ok && word != r.Text {
				edits = append(edits, o.edit(i, r.Span, word))
			}
		})
		if t, ok := l.Node.(*grammar.Text); ok && t.Label == grammar.LabelAbbreviation {
			if words := translated(from, t.Content.Text); words != t.Content.Text {
				edits = append(edits, o.edit(i, t.Content.Span, words))
			}
		}
	}
	after := o.tried(edits)
	if after == nil || !sameWork(p, after.Pattern) {
		return nil
	}
	return []action{{title: "Write the pattern in " + to.String() + " terms", kind: protocol.CodeActionKindRefactorRewrite, edits: edits}}
}

func ownStitch(p *fabric.Pattern, r grammar.Ref) bool {
	s := p.Find(r)
	return s != nil && s.Own
}

var refType = reflect.TypeFor[grammar.Ref]()

// eachRef shows every stitch name that a statement's tree holds.
func eachRef(v reflect.Value, show func(grammar.Ref)) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			eachRef(v.Elem(), show)
		}
	case reflect.Slice:
		for i := range v.Len() {
			eachRef(v.Index(i), show)
		}
	case reflect.Struct:
		if v.Type() == refType && v.CanInterface() {
			show(v.Interface().(grammar.Ref))
			return
		}
		for i := range v.NumField() {
			eachRef(v.Field(i), show)
		}
	}
}

// longestName is how many words the name of a stitch has at most.
const longestName = 5

// translated writes the stitch names in a line of free text in the other
// system, the longest names first.
func translated(from terms.System, text string) string {
	words := strings.Split(text, " ")
	var out []string
	for len(words) > 0 {
		n, word := 1, words[0]
		for k := min(longestName, len(words)); k > 0; k-- {
			phrase := strings.Join(words[:k], " ")
			name := strings.TrimRight(phrase, ",;.:)=")
			if other, ok := terms.Counterpart(from, name); ok && name == strings.TrimSpace(name) {
				n, word = k, other+phrase[len(name):]
				break
			}
		}
		out, words = append(out, word), words[n:]
	}
	return strings.Join(out, " ")
}

// sameWork says whether two patterns make the same stitches, whatever these are called.
func sameWork(a, b *fabric.Pattern) bool {
	if len(a.Pieces) != len(b.Pieces) {
		return false
	}
	for i, p := range a.Pieces {
		q := b.Pieces[i]
		if len(p.Rounds) != len(q.Rounds) {
			return false
		}
		for k, r := range p.Rounds {
			s := q.Rounds[k]
			if r.Known != s.Known || r.Takes != s.Takes || r.Makes != s.Makes || len(r.Stitches) != len(s.Stitches) {
				return false
			}
			for j, x := range r.Stitches {
				y := s.Stitches[j]
				if x.N != y.N || (x.Stitch == nil) != (y.Stitch == nil) || x.Stitch != nil && x.Stitch.Of != y.Stitch.Of {
					return false
				}
			}
		}
	}
	return true
}
