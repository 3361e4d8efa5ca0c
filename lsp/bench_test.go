package lsp

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// longPattern is a clean pattern of so many lines, in parts of twenty rounds,
// as .ci/generate writes it.
func longPattern(lines int) string {
	var b strings.Builder
	b.WriteString("Pattern: Bench\nTerms: US\nSkill: easy\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3.0 mm\nYarn A: fern, light (3), 99000 g / 250000 m\n")
	for i := range lines - 6 {
		switch n := i % 21; {
		case n == 0:
			fmt.Fprintf(&b, "Piece: Part %d (make 1)\n", i/21)
		case n == 1:
			b.WriteString("Rnd 1: 6 sc in magic ring (6)\n")
		case n == 2:
			b.WriteString("Rnd 2: inc in each st around (12)\n")
		case n < 10 && n%2 == 1:
			fmt.Fprintf(&b, "Rnd %d: *sc in next %d sts, inc in next st; rep from * around (%d)\n", n, n-2, 6*n)
		case n < 10:
			fmt.Fprintf(&b, "Rnd %d: (sc %d, inc, sc in next %d sts) x 6 (%d)\n", n, n/2-1, n/2-1, 6*n)
		case n%3 == 0:
			fmt.Fprintf(&b, "Rnd %d: (sc 3, inc, sc in next 2 sts, sc in each of next 2 sts, dec, sc) x 4, sc 10 (54)\n", n)
		default:
			fmt.Fprintf(&b, "Rnd %d: sc in each of next 20 sts, sc in next 34 sts (54)\n", n)
		}
	}
	return b.String()
}

// BenchmarkChange is the time from a key to the diagnostics that show it, at
// the client, over pipes. It reports the middle and the 95th of a hundred.
func BenchmarkChange(b *testing.B) {
	for _, lines := range []int{1000, 20000} {
		text := longPattern(lines)
		find := func(what string, from int) (int, int) {
			at := from + strings.Index(text[from:], what)
			require.GreaterOrEqual(b, at, from)
			return at, at + len(what)
		}
		half := len(text) / 2
		round, _ := find("sc 10 (54)", half)
		piece, _ := find("Piece: Part", half)
		total, _ := find("99000 g", 0)
		kinds := []struct {
			name string
			at   int // of the key
			on   string
			off  string
		}{
			{"a key in a round", round + 4, "1", "0"},
			{"a new line", piece, "\n", ""},
			{"a part's name", piece + len("Piece: Part "), "7", ""},
			{"a key in the header", total, "8", "9"},
		}
		for _, kind := range kinds {
			b.Run(fmt.Sprintf("%d/%s", lines, kind.name), func(b *testing.B) {
				e := benchEditor(b)
				doc := at("bench.crochet")
				e.type_(doc, text)
				e.published(doc, 1)
				x := newIndex(text, utf16Units)
				var took []time.Duration
				version, was := int32(1), 0
				if kind.off != "" {
					was = 1
				}
				b.ResetTimer()
				for b.Loop() {
					version++
					new := kind.on
					if version%2 == 1 {
						new = kind.off
					}
					from := x.position(kind.at)
					to := from
					to.Character += uint32(was)
					if kind.on == "\n" && version%2 == 1 {
						to = protocol.Position{Line: from.Line + 1}
					}
					began := time.Now()
					e.change(doc, version, &protocol.TextDocumentContentChangePartial{Range: protocol.Range{Start: from, End: to}, Text: new})
					e.published(doc, version)
					took = append(took, time.Since(began))
					was = len(new)
				}
				slices.Sort(took)
				b.ReportMetric(float64(took[len(took)/2])/1e6, "p50-ms")
				b.ReportMetric(float64(took[len(took)*95/100])/1e6, "p95-ms")
			})
		}
	}
}

// BenchmarkOpen is the time from opening a document to its diagnostics.
func BenchmarkOpen(b *testing.B) {
	text := longPattern(20000)
	e := benchEditor(b)
	for i := 0; b.Loop(); i++ {
		doc := at(fmt.Sprintf("%d.crochet", i))
		e.type_(doc, text)
		e.published(doc, 1)
		require.NoError(b, e.server.DidClose(e.ctx, &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}}))
		e.published(doc, 0)
	}
}

func benchEditor(b *testing.B) *editor {
	b.Helper()
	e := connectWith(b, nil, nil)
	e.begin(pushing())
	return e
}
