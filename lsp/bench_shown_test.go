package lsp

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/testdata/long"
)

// BenchmarkShown is the time of what an editor asks for while one reads and
// types, at the client, over pipes: a hover, the hints of 60 lines, proposals,
// the signature. Each is asked in turn at places all over the pattern. The bars
// at 20,000 lines are 2, 3 and 5 ms for the 95th of a hundred.
func BenchmarkShown(b *testing.B) {
	for _, lines := range []int{1000, 20000} {
		text := long.Pattern(lines)
		x := newIndex(text, utf16Units)
		doc := at("bench.crochet")
		places := func(words string, behind int) (out []protocol.Position) {
			for part, from := len(text)/50, 0; from < len(text) && len(out) < 50; from += part {
				i := strings.Index(text[from:], words)
				if i < 0 {
					break
				}
				out = append(out, x.position(from+i+behind))
			}
			return out
		}
		hover := func(e *editor, at protocol.Position) error {
			p := &protocol.HoverParams{}
			p.TextDocument.URI, p.Position = doc, at
			got, err := e.server.Hover(e.ctx, p)
			if err == nil && got == nil {
				return fmt.Errorf("nothing at %v", at)
			}
			return err
		}
		complete := func(e *editor, at protocol.Position) error {
			p := &protocol.CompletionParams{}
			p.TextDocument.URI, p.Position = doc, at
			got, err := reply[*protocol.CompletionList](e, protocol.MethodTextDocumentCompletion, p)
			if err == nil && len(got.Items) == 0 {
				return fmt.Errorf("nothing at %v", at)
			}
			return err
		}
		for _, kind := range []struct {
			name   string
			places []protocol.Position
			ask    func(e *editor, at protocol.Position) error
		}{
			{"hover on a stitch", places("inc in next st", 0), hover},
			{"hover on a bracket", places(") x 6", 3), hover},
			{"hover on a round", places("Rnd 8:", 1), hover},
			{"hover on a total", places("(42)\nRnd", 1), hover},
			{"hover on a part", places("Piece: Tower", 8), hover},
			{"hover on the yarn", places("Yarn A", 5)[:1], hover},
			{"hover on the title", places("Pattern", 1)[:1], hover},
			{"hints of 60 lines", places("Piece", 0), func(e *editor, at protocol.Position) error {
				p := &protocol.InlayHintParams{Range: protocol.Range{Start: at, End: protocol.Position{Line: at.Line + 60}}}
				p.TextDocument.URI = doc
				got, err := e.server.InlayHint(e.ctx, p)
				if err == nil && len(got) == 0 {
					return fmt.Errorf("no hints at %v", at)
				}
				return err
			}},
			{"completion in a round", places(": (sc", 2), complete},
			{"completion behind a bracket", places(", inc, sc in next 2", len(", inc, ")), complete},
			{"completion at a line's start", places("Rnd 20", 0), complete},
			{"completion of the next round", places("\n\nPiece: Stair", 1), complete},
			{"signature", places(", inc, sc in next 2", len(", inc, ")), func(e *editor, at protocol.Position) error {
				p := &protocol.SignatureHelpParams{}
				p.TextDocument.URI, p.Position = doc, at
				got, err := reply[*protocol.SignatureHelp](e, protocol.MethodTextDocumentSignatureHelp, p)
				if err == nil && got == nil {
					return fmt.Errorf("nothing at %v", at)
				}
				return err
			}},
		} {
			b.Run(fmt.Sprintf("%d/%s", lines, kind.name), func(b *testing.B) {
				e := connectWith(b, nil, nil)
				e.begin(reading(protocol.MarkupKindMarkdown))
				e.type_(doc, text)
				e.published(doc, 1)
				var took []time.Duration
				b.ReportAllocs()
				b.ResetTimer()
				for i := 0; b.Loop(); i++ {
					began := time.Now()
					require.NoError(b, kind.ask(e, kind.places[i%len(kind.places)]))
					took = append(took, time.Since(began))
				}
				reportTimes(b, took)
			})
		}
	}
}
