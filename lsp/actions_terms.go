package lsp

import (
	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
)

// otherTerms offers to write all of the pattern in the other system's stitch
// names, where it makes the same stitches then: from its title and its Terms
// line, or from anywhere as an action on the whole source.
func (o *offered) otherTerms(kind protocol.CodeActionKind) []action {
	if kind == protocol.CodeActionKindRefactorRewrite && !o.atTerms() {
		return nil
	}
	p := o.Pattern()
	edits, to := inOtherTerms(p)
	after := o.tried(edits)
	if after == nil || !sameWork(p, after.Pattern) || after.Pattern.Header.System != to {
		return nil
	}
	return []action{{title: "Write the pattern in " + to.String() + " terms", kind: kind, edits: edits}}
}

// atTerms says whether the title or the Terms line is touched.
func (o *offered) atTerms() bool {
	if at := titleAt(o.File); o.first <= at && at <= o.last {
		return true
	}
	for _, l := range o.File.Lines[o.first : min(o.last, o.first+mostTouched)+1] {
		if _, ok := l.Node.(*grammar.Terms); ok {
			return true
		}
	}
	return false
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
