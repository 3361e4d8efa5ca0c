package lsp

import (
	"context"
	"fmt"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.SignatureHelpProvider = &protocol.SignatureHelpOptions{TriggerCharacters: []string{",", "(", ":"}, RetriggerCharacters: []string{" ", ")", "*"}}
})

// SignatureHelp tells inside a round how much of the one below is worked up to
// the cursor, what is left, and which step the cursor is in.
func (s *Server) SignatureHelp(ctx context.Context, p *protocol.SignatureHelpParams) (*protocol.SignatureHelp, error) {
	snap, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	at, line, in := snap.Statement(snap.Offset(p.Position))
	_, ok := line.Node.(*grammar.Round)
	end := len(line.Text)
	if line.Note.Written() {
		end = int(line.Note.Start)
	}
	colon := strings.IndexByte(line.Text, ':')
	if !ok || colon < 0 || in <= colon || in > end {
		return nil, nil
	}
	piece, r := snap.Pattern().RoundAt(at)
	if r == nil {
		return nil, nil
	}
	sig := &protocol.SignatureInformation{Label: worked(r, snap.upTo(at, colon+1, in))}
	sig.Parameters, sig.ActiveParameter = stepsOf(snap.Pattern(), piece, r, int32(in), sig)
	return &protocol.SignatureHelp{Signatures: []protocol.SignatureInformation{*sig}, ActiveSignature: new(uint32(0))}, nil
}

// upTo works the round on a line up to a byte of it: a bracket that is still
// open counts as worked once. Nil where no part of that can be read.
func (s *Snapshot) upTo(at, from, in int) *fabric.Round {
	text := s.File.Lines[at].Text
	start := s.File.Start(at)
	steps := unclosed(text[from:in])
	for {
		head := text[:from] + " " + strings.TrimRight(steps, " \t\r\n,;.")
		if strings.TrimSpace(steps) == "" {
			return nil
		}
		if m, ok := grammar.ParseLine(head, 1).Node.(*grammar.Round); ok && !m.Broken {
			p := fabric.Rework(s.Pattern(), grammar.Splice(s.File, start, start+len(text), head))
			if _, r := p.RoundAt(at); r != nil && r.Known {
				return r
			}
			return nil
		}
		cut := strings.LastIndexAny(steps, ",;.")
		steps = steps[:max(cut, 0)]
	}
}

// unclosed leaves brackets and stars out that are not closed.
func unclosed(steps string) string {
	out := []byte(steps)
	var open []int
	for i, c := range out {
		switch c {
		case '(', '[', '{':
			open = append(open, i)
		case ')', ']', '}':
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		}
	}
	for _, i := range open {
		out[i] = ' '
	}
	if i := strings.LastIndexByte(steps, '*'); i >= 0 && !strings.Contains(steps, "rep") {
		out[i] = ' '
	}
	return string(out)
}

// worked says how far a round has come.
func worked(whole, upTo *fabric.Round) string {
	takes, makes := int64(0), int64(0)
	if upTo != nil {
		takes, makes = upTo.Takes, upTo.Makes
	}
	if whole.Start || whole.In == nil || whole.In.Unknown {
		return fmt.Sprintf("%s: %d made", whole.Name(), makes)
	}
	below := whole.In.Stitches()
	left := fmt.Sprintf("%d left", below-takes)
	if takes > below {
		left = fmt.Sprintf("%d too many", takes-below)
	}
	return fmt.Sprintf("%s: %d of %d worked, %s, %d made", whole.Name(), takes, below, left, makes)
}

// stepsOf adds the steps of a round to the label, each a parameter that tells
// what it takes and makes; the active one is that of the cursor.
func stepsOf(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round, cursor int32, sig *protocol.SignatureInformation) ([]protocol.ParameterInformation, protocol.Nullable[uint32]) {
	var out []protocol.ParameterInformation
	active := protocol.Nullable[uint32]{}
	if r.Node.Broken {
		return nil, active
	}
	says := map[*grammar.Step]fabric.StepResult{}
	for _, x := range p.Explain(piece, r) {
		says[x.Step] = x
	}
	sig.Label += " · "
	for i := range r.Node.Steps {
		step := &r.Node.Steps[i]
		if i > 0 {
			sig.Label += ", "
		}
		from := utf16Len(sig.Label)
		sig.Label += strings.Join(strings.Fields(step.Span.In(r.Line.Text)), " ")
		info := protocol.ParameterInformation{Label: protocol.ParameterInformationLabelTuple{from, utf16Len(sig.Label)}}
		if x, ok := says[step]; ok {
			info.Documentation = protocol.String(takesMakes(x.Takes, x.Makes))
		}
		if step.Span.Start <= cursor {
			active = protocol.NewNullable(uint32(i))
		}
		out = append(out, info)
	}
	return out, active
}

// utf16Len is the length of a text in UTF-16 units, which the protocol counts
// parameters by whatever the encoding of positions is.
func utf16Len(s string) (n uint32) {
	for _, r := range s {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}
