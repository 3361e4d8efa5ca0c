package lsp

import (
	"fmt"
	"strings"

	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// word explains a single word where its statement could not be read, or says
// nothing of it: a stitch by the glossary, a name that the pattern gives, and
// else what is wrong with the line.
func (e *explainer) word() bool {
	if e.inProse() {
		return false
	}
	if _, text := e.line.Node.(*grammar.Text); text && !e.inAbbreviation() {
		return false
	}
	for _, tok := range grammar.Tokens(e.line.Text) {
		if !e.on(tok.Span) {
			continue
		}
		name := grammar.Name{Text: tok.In(e.line.Text), Span: tok.Span}
		switch tok.Kind {
		case grammar.Term:
			return e.stitch(grammar.Ref{Phrase: tok.Value + 1, Name: name})
		case grammar.ChSpace:
			return e.found(tok.Span, spacePage(tok.Value))
		case grammar.Word:
			if e.ownWord(name) || e.yarnCalled(name.Text) != nil && e.yarn(name) || e.piece(name.Text, name.Span) {
				return true
			}
		case grammar.Comma, grammar.Semicolon, grammar.Stop, grammar.Colon, grammar.Open, grammar.Close:
			return false
		}
	}
	return e.fault()
}

// ownWord explains a stitch of the pattern's own by its name alone.
func (e *explainer) ownWord(name grammar.Name) bool {
	key := terms.Key(name.Text)
	for _, own := range e.p.Own {
		if own.Stitch != nil && (terms.Key(own.Node.Abbr.Text) == key || terms.Key(own.Node.Full.Text) == key) {
			return e.found(name.Span, stitchPage(e.p, nil, own.Stitch))
		}
	}
	return false
}

// inAbbreviation says whether the place is in what an Abbreviation line
// explains, before its equals sign.
func (e *explainer) inAbbreviation() bool {
	n, ok := e.line.Node.(*grammar.Text)
	if !ok || n.Label != grammar.LabelAbbreviation {
		return false
	}
	head, _, ok := strings.Cut(n.Content.Text, "=")
	return ok && e.on(grammar.Span{Start: n.Content.Start, End: n.Content.Start + int32(len(head))})
}

// fault tells why a line cannot be read; the place may be anywhere in it.
func (e *explainer) fault() bool {
	if len(e.line.Faults) == 0 {
		return false
	}
	f := e.line.Faults[0]
	for _, x := range e.line.Faults {
		if e.on(x.Span) {
			f = x
		}
	}
	span := grammar.Span{End: saidEnd(e.line)}
	if e.on(f.Span) {
		span = f.Span
	}
	var p page
	p.say(sentence(f.Message) + ".")
	return e.on(span) && e.found(span, p)
}

// spacePage explains a chain space, its chains 0 where the pattern does not say.
func spacePage(chains int32) page {
	var p page
	switch chains {
	case 0:
		p.say("A chain space: the gap under chains of the round or row below. The hook goes under them, not into one.")
	case 1:
		p.say("A ch-1 space: the gap under 1 chain of the round or row below. The hook goes under the chain, not into it.")
	default:
		p.say(fmt.Sprintf("A ch-%d space: the gap under %d chains of the round or row below. The hook goes under them, not into one.", chains, chains))
	}
	return p
}

// strangePage tells of a word in the place of a stitch that no glossary holds.
func (e *explainer) strangePage(name string) page {
	var p page
	near, ok := e.p.Nearest(name)
	if !ok {
		p.head(name, ": no stitch of that name is known. Define it in a Stitch: line.")
		return p
	}
	p.head(name, ": no stitch of that name is known; "+near+" may be meant.")
	if s := terms.Find(e.p.Header.System, near); s != nil {
		p.explain(lint.ExplainStitch(s, e.p.Header.System))
	}
	return p
}

// foreignPage tells of a stitch under the name that only the other terms have.
func (e *explainer) foreignPage(name string, s *terms.Stitch) page {
	var p page
	sys := e.p.Header.System
	p.head(name, fmt.Sprintf(": a %s word, and these are %s terms, in which it is %s.", sys.Other(), sys, s.Abbr(sys)))
	p.explain(lint.ExplainStitch(s, sys))
	return p
}
