package lsp

import (
	"context"

	"go.lsp.dev/protocol"
)

// progress tells the client how far a long piece of work has come. Without a
// token it tells nothing.
type progress struct {
	s     *Server
	ctx   context.Context
	token protocol.ProgressToken
	said  int
}

func (s *Server) progress(ctx context.Context, token protocol.ProgressToken, title string) *progress {
	p := &progress{s: s, ctx: ctx, token: token}
	p.send(ctx, &protocol.WorkDoneProgressBegin{Kind: "begin", Title: title, Cancellable: new(true), Percentage: new(uint32(0))})
	return p
}

func (p *progress) send(ctx context.Context, value any) {
	if p.token != nil {
		p.s.partial(ctx, p.token, value)
	}
}

// at says that so many of all are done; it speaks up at every tenth.
func (p *progress) at(done, all int) {
	if tenth := 10 * done / all; tenth > p.said {
		p.said = tenth
		p.send(p.ctx, &protocol.WorkDoneProgressReport{Kind: "report", Percentage: new(uint32(10 * tenth))})
	}
}

// end takes the bar away, of canceled work too.
func (p *progress) end() { p.send(p.s.life, &protocol.WorkDoneProgressEnd{Kind: "end"}) }
