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
	c.SignatureHelpProvider = &protocol.SignatureHelpOptions{TriggerCharacters: []string{",", "(", " ", ":"}, RetriggerCharacters: []string{")", "*"}}
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
// open counts as worked once. Nil where no part of that can be counted.
func (s *Snapshot) upTo(at, from, in int) *fabric.Round {
	r, _ := s.countable(at, from, in)
	return r
}

// mostShortened is how often a round is worked at most to find how much of it
// can be counted.
const mostShortened = 6

// countable is as much of the round on a line, up to a byte, as can be read and
// counted, and where that ends; nil where nothing can.
func (s *Snapshot) countable(at, from, in int) (*fabric.Round, int) {
	text := s.File.Lines[at].Text
	start := s.File.Start(at)
	tried := 0
	for steps := text[from:in]; strings.TrimSpace(steps) != ""; steps = shortened(steps) {
		head := text[:from] + " " + strings.TrimRight(unclosed(steps), " \t\r\n,;.")
		n, ok := grammar.ParseLine(head, 1).Node.(*grammar.Round)
		if !ok || n.Broken || len(n.Steps) == 0 {
			continue
		}
		if _, _, r := s.with(start, start+len(text), head); r != nil && r.Known {
			return r, from + len(steps)
		}
		if tried++; tried == mostShortened {
			break
		}
	}
	return nil, from
}

// shortened leaves out what stands last in steps: a total that is begun, what
// follows a bracket, then the bracket's own marks, and else the last step.
func shortened(steps string) string {
	steps = strings.TrimRight(steps, " \t\r\n,;.")
	if at := totalBegun(steps); at >= 0 {
		return steps[:at]
	}
	comma, bracket := strings.LastIndexAny(steps, ",;."), strings.LastIndexAny(steps, ")]}")
	switch {
	case bracket < comma || bracket < 0:
		return steps[:max(comma, 0)]
	case bracket < len(steps)-1:
		return steps[:bracket+1]
	}
	return steps[:bracket] // the bracket is open then, and counts as worked once
}

// totalBegun is where a bracket is opened last with nothing but a number in it,
// or -1.
func totalBegun(steps string) int {
	at := strings.LastIndexAny(steps, "([{")
	if at < 0 || strings.Trim(steps[at+1:], "0123456789 ") != "" {
		return -1
	}
	return at
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
	if upTo == nil || takes == 0 && makes == 0 {
		return fmt.Sprintf("%s: %d to work", whole.Name(), below)
	}
	label := fmt.Sprintf("%s: %s, %d made", whole.Name(), workedOf(takes, below), makes)
	if x := slip(upTo); x != nil && x.Kind == fabric.RepeatDoesNotFit {
		label += ", but the repeat does not come out"
	}
	return label
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
	var spans []protocol.ParameterInformationLabelTuple
	for i := range r.Node.Steps {
		step := &r.Node.Steps[i]
		if i > 0 {
			sig.Label += ", "
		}
		text := strings.Join(strings.Fields(step.Span.In(r.Line.Text)), " ")
		spans = append(spans, protocol.ParameterInformationLabelTuple{utf16Len(sig.Label), utf16Len(sig.Label + text)})
		sig.Label += text
		info := protocol.ParameterInformation{Label: protocol.String(text)}
		if x, ok := says[step]; ok {
			info.Documentation = protocol.String(takesMakes(x.Takes, x.Makes))
		}
		if step.Span.Start <= cursor {
			active = protocol.NewNullable(uint32(i))
		}
		out = append(out, info)
	}
	// A step is named by its words, which every client takes, and by its place
	// only where its words stand in the label more than once. Emacs 30.1 takes
	// such a place for one further on, and fails on the last if it is documented.
	for i := range out {
		if strings.Count(sig.Label, string(out[i].Label.(protocol.String))) > 1 {
			out[i].Label = spans[i]
			if spans[i][1] == utf16Len(sig.Label) {
				out[i].Documentation = nil
			}
		}
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
