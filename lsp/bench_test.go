package lsp

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/testdata/long"
)

// BenchmarkChange is the time from a key to the diagnostics that show it, at
// the client, over pipes. It reports the middle and the 95th of a hundred.
func BenchmarkChange(b *testing.B) {
	for _, lines := range []int{1000, 20000} {
		text := long.Pattern(lines)
		find := func(what string, from int) (int, int) {
			at := from + strings.Index(text[from:], what)
			require.GreaterOrEqual(b, at, from)
			return at, at + len(what)
		}
		half := long.Middle(text)
		round, _ := find("sc 3 (42)", half)
		piece, _ := find("Piece: Tower", half)
		total, _ := find("90000 g", 0)
		kinds := []struct {
			name string
			at   int // of the key
			on   string
			off  string
		}{
			{"a key in a round", round + 4, "1", "0"},
			{"a new line", piece, "\n", ""},
			{"a part's name", piece + len("Piece: Tower "), "7", ""},
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
				reportTimes(b, took)
			})
		}
	}
}

// BenchmarkOpen is the time from opening a document to its diagnostics.
func BenchmarkOpen(b *testing.B) {
	text := long.Pattern(20000)
	e := benchEditor(b)
	for i := 0; b.Loop(); i++ {
		doc := at(fmt.Sprintf("%d.crochet", i))
		e.type_(doc, text)
		e.published(doc, 1)
		require.NoError(b, e.server.DidClose(e.ctx, &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: doc}}))
		e.published(doc, 0)
	}
}

// reportTimes says the middle one and the 95th of a hundred.
func reportTimes(b *testing.B, took []time.Duration) {
	b.Helper()
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2])/1e6, "p50-ms")
	b.ReportMetric(float64(took[len(took)*95/100])/1e6, "p95-ms")
}

func benchEditor(b *testing.B) *editor {
	b.Helper()
	e := connectWith(b, nil, nil)
	e.begin(pushing())
	return e
}
