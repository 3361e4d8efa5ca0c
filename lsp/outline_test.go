package lsp

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

func here() protocol.TextDocumentIdentifier {
	return protocol.TextDocumentIdentifier{URI: at("hat.crochet")}
}

func TestDocumentSymbol(t *testing.T) {
	tree := protocol.ClientCapabilities{TextDocument: &protocol.TextDocumentClientCapabilities{DocumentSymbol: &protocol.DocumentSymbolClientCapabilities{HierarchicalDocumentSymbolSupport: new(true)}}}
	e := open(t, tree, nil)
	e.type_(at("hat.crochet"), hat)
	got, err := e.server.DocumentSymbol(e.ctx, &protocol.DocumentSymbolParams{TextDocument: here()})
	require.NoError(t, err)
	list, ok := got.(protocol.DocumentSymbolSlice)
	require.True(t, ok)
	var lines []string
	var write func(list []protocol.DocumentSymbol, deep int, in protocol.Range)
	write = func(list []protocol.DocumentSymbol, deep int, in protocol.Range) {
		for _, x := range list {
			line := strings.Repeat("  ", deep) + x.Name
			if x.Detail != nil {
				line += " | " + *x.Detail
			}
			lines = append(lines, line)
			assert.True(t, within(in, x.Range) && within(x.Range, x.SelectionRange), "%s is inside what holds it", x.Name)
			write(x.Children, deep+1, x.Range)
		}
	}
	write(list, 0, protocol.Range{End: protocol.Position{Line: 1000}})
	assert.Equal(t, []string{
		"Harbor Hat", "  A | navy", "  B | foam", "  knot | sea knot",
		"  Crown | make 1", "    Rnd 1 | (6)", "    Rnd 2 | (12)", "    Rnd 3 | (12)", "    Rnd 4 | (12)", "    Rnd 5 | (12)",
		"  Leaf | make 2", "    Rnd 1 | (6)", "    Rnd 2 | (12)",
		"  Making up", "    Sew: Leaf x 2 to Crown, in line with Leaf", "    Place: 2 buttons on Crown, at Rnd 3", "    Embroider: a wave on both Leaves; toward the Crown", "    Attach: each Leaf to Crown",
	}, lines)

	flat := opened(t, hat)
	got, err = flat.server.DocumentSymbol(flat.ctx, &protocol.DocumentSymbolParams{TextDocument: here()})
	require.NoError(t, err)
	info, ok := got.(protocol.SymbolInformationSlice)
	require.True(t, ok, "a list for a client that takes no tree")
	assert.Len(t, info, len(lines))
}

// within says whether a range holds another.
func within(a, b protocol.Range) bool {
	after := func(p, q protocol.Position) bool {
		return p.Line > q.Line || p.Line == q.Line && p.Character >= q.Character
	}
	return after(b.Start, a.Start) && after(a.End, b.End)
}

func TestWorkspaceSymbol(t *testing.T) {
	e := open(t, protocol.ClientCapabilities{}, map[string]string{"toys/snail.crochet": shell})
	e.type_(at("hat.crochet"), hat)
	for query, want := range map[string][]string{
		"":     {"Harbor Hat", "A (navy)", "B (foam)", "knot (sea knot)", "Crown", "Leaf", "Shell"},
		"sh":   {"Shell"},
		"LEF":  {"Leaf"},
		"foam": {"B (foam)"},
		"zz":   nil,
	} {
		got, err := e.server.Symbols(e.ctx, &protocol.WorkspaceSymbolParams{Query: query})
		require.NoError(t, err)
		var names []string
		if list, ok := got.(protocol.WorkspaceSymbolSlice); ok {
			for _, x := range list {
				names = append(names, x.Name)
			}
		} else if info, ok := got.(protocol.SymbolInformationSlice); ok {
			for _, x := range info {
				names = append(names, x.Name)
			}
		}
		assert.Equal(t, want, names, "query %q", query)
	}
}

func TestFolding(t *testing.T) {
	const text = "// one\n// two\nPattern: Bag\nTerms: US\n\nPiece: Base\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st\n  around (12)\n\nAssembly:\nSew: Base to Base\n"
	e := opened(t, text)
	got, err := e.server.FoldingRanges(e.ctx, &protocol.FoldingRangeParams{TextDocument: here()})
	require.NoError(t, err)
	type fold struct {
		from, to uint32
		kind     protocol.FoldingRangeKind
	}
	var folds []fold
	for _, x := range got {
		folds = append(folds, fold{x.StartLine, x.EndLine, x.Kind})
	}
	assert.Equal(t, []fold{
		{2, 3, protocol.FoldingRangeKindRegion}, {5, 8, protocol.FoldingRangeKindRegion}, {10, 11, protocol.FoldingRangeKindRegion},
		{0, 1, protocol.FoldingRangeKindComment}, {7, 8, ""},
	}, folds)
}

func TestSelectionRange(t *testing.T) {
	e := opened(t, hat)
	for _, c := range []struct {
		words string
		nth   int
		want  []string
	}{
		{"(sc, knot", 1, []string{"knot", "sc, knot", "(sc, knot) x 6", "(sc, knot) x 6, change to navy", "Rnd 3: (sc, knot) x 6, change to navy (12)"}},
		{"Sew: Leaf", 1, []string{"Leaf", "Sew: Leaf x 2 to Crown, in line with Leaf"}},
	} {
		got, err := e.server.SelectionRange(e.ctx, &protocol.SelectionRangeParams{TextDocument: here(), Positions: []protocol.Position{spot(t, hat, c.words, c.nth)}})
		require.NoError(t, err)
		require.Len(t, got, 1)
		var words []string
		x := newIndex(hat, utf16Units)
		last := &got[0]
		for r := last; r != nil; r = r.Parent {
			assert.True(t, within(r.Range, last.Range), "each is inside the next")
			words = append(words, hat[x.offset(r.Range.Start):x.offset(r.Range.End)])
			last = r
		}
		require.Len(t, words, len(c.want)+2, "the piece or making up, and the file, are around it: %q", words)
		assert.Equal(t, c.want, words[:len(c.want)])
		assert.Equal(t, hat, words[len(words)-1])
	}
}

func TestColours(t *testing.T) {
	e := opened(t, hat+"Yarn C: rust #C30\nYarn D: odd #12\n")
	got, err := e.server.DocumentColor(e.ctx, &protocol.DocumentColorParams{TextDocument: here()})
	require.NoError(t, err)
	require.Len(t, got, 3, "a color of two digits is none")
	assert.Equal(t, "3 #203050", shown(hat, got[0].Range))
	assert.InDelta(t, 0x20/255.0, got[0].Color.Red, 1e-9)
	for i, want := range []string{"#203050", "#EEEEEE", "#CC3300"} {
		p, err := e.server.ColorPresentation(e.ctx, &protocol.ColorPresentationParams{TextDocument: here(), Color: got[i].Color, Range: got[i].Range})
		require.NoError(t, err)
		require.Len(t, p, 1)
		assert.Equal(t, want, p[0].TextEdit.NewText)
		assert.Equal(t, got[i].Range, p[0].TextEdit.Range)
	}
}

func TestLinks(t *testing.T) {
	const text = "Note: see https://example.org/a_(b), or (https://example.org/c).\nPiece: Base // http://example.com\nNote: https:// is none\n"
	e := opened(t, text)
	got, err := e.server.DocumentLink(e.ctx, &protocol.DocumentLinkParams{TextDocument: here()})
	require.NoError(t, err)
	var words, targets []string
	for _, x := range got {
		require.NotNil(t, x.Target)
		words = append(words, shown(text, x.Range))
		targets = append(targets, string(*x.Target))
	}
	assert.Equal(t, []string{"1 https://example.org/a_(b)", "1 https://example.org/c", "2 http://example.com"}, words)
	assert.Equal(t, []string{"https://example.org/a_%28b%29", "https://example.org/c", "http://example.com/"}, targets, "as the library for addresses writes them")
}

func TestCodeLens(t *testing.T) {
	snail, err := os.ReadFile("../testdata/patterns/snail.crochet")
	require.NoError(t, err)
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"snail", string(snail), []string{"3 pieces, 4 made; 25 rounds in all", "made 1, sewn 1; 11 rounds, 18 stitches at the end", "made 1; 4 rounds, 26 stitches at the end", "made 2, sewn 2; 5 rounds, 4 stitches at the end"}},
		{"every copy", "Piece: Arm (make 2)\nRow 1: ch 5, sc in 2nd ch from hook and in each ch across (4)\nAssembly:\nSew: both Arms to Body\n", []string{"made 2, sewn 2; 1 row, 4 stitches at the end"}},
		{"open", "Piece: Fin (make 5)\nAssembly:\nSew: Fin to Body, evenly\n", []string{"made 5, sewn on"}},
		{"each bearer", "Piece: Leg (make 2)\nPiece: Toe (make 6)\nAssembly:\nSew: Toe x 3 to Leg\n", []string{"made 2", "made 6, sewn 6"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := opened(t, c.text)
			got, err := e.server.CodeLens(e.ctx, &protocol.CodeLensParams{TextDocument: here()})
			require.NoError(t, err)
			var titles []string
			for _, x := range got {
				titles = append(titles, x.Command.Title)
				assert.Equal(t, showTally, x.Command.Command)
				assert.NotEmpty(t, x.Command.Arguments)
			}
			assert.Equal(t, c.want, titles)
		})
	}
}

// Whatever a pattern holds, places lie inside their statements, marks follow
// one another, and selections grow up to the whole file.
func TestPlacesOfEveryPattern(t *testing.T) {
	files, err := filepath.Glob("../testdata/patterns/*.crochet")
	require.NoError(t, err)
	broken, err := filepath.Glob("../testdata/patterns/broken/*.crochet")
	require.NoError(t, err)
	texts := map[string]string{
		"odd": "Piece:\nWith:\nYarn:\nStitch: = sc\nRnd : \nSew: to \nRnd 1: (sc\n  of // é\nJoin\nPlace: x on Legs and\nYarn A:\nYarn A: A\nPiece: Leg\nPiece: leg\n",
	}
	for _, f := range append(files, broken...) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[f] = string(data)
		texts[f+" cut"] = strings.ReplaceAll(string(data), ", ", "\n  ")
	}
	require.Greater(t, len(texts), 10)
	for name, text := range texts {
		doc := newSnapshot(at("x.crochet"), 1, "", text, utf16Units)
		n := namesOf(doc.File)
		assert.NotEmpty(t, n.all, name)
		for _, m := range n.all {
			assert.True(t, m.span.Written() && int(m.span.End) <= len(doc.File.Lines[m.at].Text), "%s: statement %d, %v", name, m.at, m.span)
			assert.Contains(t, m.of.places, m)
		}
		for i, l := range doc.File.Lines {
			last := int32(0)
			for _, m := range marksOf(n, i, l) {
				assert.True(t, last <= m.Start && m.Start < m.End && int(m.End) <= len(l.Text), "%s: %q, mark %v behind %d", name, l.Text, m.Span, last)
				last = m.End
			}
		}
		for offset := 0; offset <= len(text); offset += 7 {
			spans := growing(n, offset)
			assert.Equal(t, [2]int{0, len(text)}, spans[len(spans)-1], name)
		}
		assert.NotEmpty(t, treeOf(doc, outline(doc.File)), name)
	}
}
