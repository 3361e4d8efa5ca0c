package lsp

import (
	"fmt"
	"strings"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// symbolKinds are the kinds of symbols by the names that the protocol has for them.
var symbolKinds = map[protocol.SymbolKind]string{
	protocol.SymbolKindModule: "module", protocol.SymbolKindNamespace: "namespace", protocol.SymbolKindClass: "class", protocol.SymbolKindMethod: "method",
	protocol.SymbolKindFunction: "function", protocol.SymbolKindVariable: "variable", protocol.SymbolKindEvent: "event",
}

// outlined shows the outline: each entry's lines, kind, name and detail, and the
// line that it leads to where that is not its first.
func (e *editor) outlined(text, _ string) string {
	e.t.Helper()
	tree, err := reply[[]protocol.DocumentSymbol](e, protocol.MethodTextDocumentDocumentSymbol, &protocol.DocumentSymbolParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	var b strings.Builder
	var write func(list []protocol.DocumentSymbol, indent string)
	write = func(list []protocol.DocumentSymbol, indent string) {
		for _, x := range list {
			require.Contains(e.t, symbolKinds, x.Kind, x.Name)
			fmt.Fprintf(&b, "%s%s %s «%s»", indent, linesOfRange(x.Range), symbolKinds[x.Kind], x.Name)
			if x.Detail != nil {
				b.WriteString(" " + *x.Detail)
			}
			if to := x.SelectionRange.Start.Line; to != x.Range.Start.Line {
				fmt.Fprintf(&b, ", leads to %d", to+1)
			}
			if name := textIn(text, x.SelectionRange); name != x.Name {
				fmt.Fprintf(&b, ", written %q", name)
			}
			b.WriteString("\n")
			write(x.Children, indent+"  ")
		}
	}
	write(tree, "")
	return orNothing(b.String())
}

// linesOfRange are the first and the last line of a range.
func linesOfRange(r protocol.Range) string {
	if r.Start.Line == r.End.Line {
		return fmt.Sprint(r.Start.Line + 1)
	}
	return fmt.Sprintf("%d-%d", r.Start.Line+1, r.End.Line+1)
}

// folds shows the ranges that fold: their lines, and what they are to the protocol.
func (e *editor) folds(_, _ string) string {
	e.t.Helper()
	list, err := reply[[]protocol.FoldingRange](e, protocol.MethodTextDocumentFoldingRange, &protocol.FoldingRangeParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintln(&b, strings.TrimSpace(fmt.Sprintf("%d-%d %s", f.StartLine+1, f.EndLine+1, f.Kind)))
	}
	return orNothing(b.String())
}

// selected shows what is selected around a place, from the inside out; of what
// goes over several lines the numbers of the lines, and how it begins and ends.
func (e *editor) selected(text, head string) string {
	e.t.Helper()
	where, _ := e.placed(text, head)
	list, err := reply[[]protocol.SelectionRange](e, protocol.MethodTextDocumentSelectionRange, &protocol.SelectionRangeParams{TextDocument: where.TextDocument, Positions: []protocol.Position{where.Position}})
	require.NoError(e.t, err)
	require.Len(e.t, list, 1)
	var b strings.Builder
	for x := &list[0]; x != nil; x = x.Parent {
		if x.Range.Start.Line == x.Range.End.Line {
			b.WriteString(textIn(text, x.Range) + "\n")
		} else {
			lines := linesOf(textIn(text, x.Range))
			fmt.Fprintln(&b, strings.TrimSpace(fmt.Sprintf("%s: %s … %s", linesOfRange(x.Range), lines[0], lines[len(lines)-1])))
		}
	}
	return b.String()
}

// lenses shows what stands above lines, and the command that it leads to.
func (e *editor) lenses(text, _ string) string {
	e.t.Helper()
	list, err := reply[[]protocol.CodeLens](e, protocol.MethodTextDocumentCodeLens, &protocol.CodeLensParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	var b strings.Builder
	for _, x := range list {
		require.NotEmpty(e.t, x.Command.Command, "it comes with its command")
		require.Contains(e.t, e.result.Capabilities.ExecuteCommandProvider.Commands, x.Command.Command)
		var args []string
		for _, a := range x.Command.Arguments {
			args = append(args, strings.ReplaceAll(string(a), string(at("shown.crochet")), "shown.crochet"))
		}
		fmt.Fprintf(&b, "%s  %s\n  %s %s\n", withMarks(text, x.Range), x.Command.Title, x.Command.Command, strings.Join(args, " "))
	}
	return orNothing(b.String())
}

// links shows the addresses that can be followed, and where they lead.
func (e *editor) links(text, _ string) string {
	e.t.Helper()
	type link struct {
		Range   protocol.Range `json:"range"`
		Target  string         `json:"target"` // the library would read an address as another
		Tooltip string         `json:"tooltip"`
	}
	list, err := reply[[]link](e, protocol.MethodTextDocumentDocumentLink, &protocol.DocumentLinkParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	var b strings.Builder
	for _, x := range list {
		require.NotEmpty(e.t, x.Target, "it comes with its target")
		fmt.Fprintf(&b, "%s  %s\n", withMarks(text, x.Range), x.Target)
		if x.Tooltip != "" {
			fmt.Fprintf(&b, "  %s\n", x.Tooltip)
		}
	}
	return orNothing(b.String())
}

// colours shows the colors that stand in the pattern: red, green, blue, each of
// 255, and how the same color is written anew.
func (e *editor) colours(text, _ string) string {
	e.t.Helper()
	list, err := reply[[]protocol.ColorInformation](e, protocol.MethodTextDocumentDocumentColor, &protocol.DocumentColorParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	var b strings.Builder
	for _, x := range list {
		assert.Equal(e.t, 1.0, x.Color.Alpha, "yarn is opaque")
		fmt.Fprintf(&b, "%s  %.4g %.4g %.4g\n", withMarks(text, x.Range), x.Color.Red*255, x.Color.Green*255, x.Color.Blue*255)
		b.WriteString(e.presented(text, x.Range, x.Color))
	}
	return orNothing(b.String())
}

// picked shows the line of a place when a color has been picked for the one
// there: "pick 7 "#7C9A5B" 255 128 0".
func (e *editor) picked(text, head string) string {
	e.t.Helper()
	where, more := e.placed(text, head)
	var c protocol.Color
	_, err := fmt.Sscan(more, &c.Red, &c.Green, &c.Blue)
	require.NoError(e.t, err, head)
	c.Red, c.Green, c.Blue, c.Alpha = c.Red/255, c.Green/255, c.Blue/255, 1
	list, err := reply[[]protocol.ColorInformation](e, protocol.MethodTextDocumentDocumentColor, &protocol.DocumentColorParams{TextDocument: shownDocument()})
	require.NoError(e.t, err)
	for _, x := range list {
		if x.Range.Start == where.Position {
			return e.presented(text, x.Range, c)
		}
	}
	return "nothing\n"
}

// presented are the ways to write a color, each with its line as it becomes.
func (e *editor) presented(text string, r protocol.Range, c protocol.Color) string {
	e.t.Helper()
	list, err := reply[[]protocol.ColorPresentation](e, protocol.MethodTextDocumentColorPresentation, &protocol.ColorPresentationParams{TextDocument: shownDocument(), Range: r, Color: c})
	require.NoError(e.t, err)
	require.NotEmpty(e.t, list)
	var b strings.Builder
	for _, p := range list {
		after := afterTextEdits(e.t, text, []protocol.TextEdit{p.TextEdit})
		fmt.Fprintf(&b, "  %s: %s\n", p.Label, linesOf(after)[r.Start.Line])
	}
	return b.String()
}
