package lsp

import (
	"strconv"
	"strings"

	"github.com/rivo/uniseg"
	"go.lsp.dev/protocol"

	"workeven/lint"
)

// page is a short text that a client shows beside the pattern: blocks, written
// as Markdown or as plain text, whichever the client reads.
type page []block

// block is one paragraph, list, table or piece of a pattern.
type block struct {
	// head is set off at the start of a paragraph.
	head, text string
	list       []string
	// rows are a table, its first row the names of the columns.
	rows [][]string
	code string
}

func (p *page) say(text string)            { p.put(block{text: text}) }
func (p *page) head(head, text string)     { p.put(block{head: head, text: text}) }
func (p *page) steps(list []string)        { p.put(block{list: list}) }
func (p *page) table(rows [][]string)      { p.put(block{rows: rows}) }
func (p *page) pattern(code string)        { p.put(block{code: code}) }
func (p *page) put(b block)                { *p = append(*p, b) }
func (p *page) add(q page)                 { *p = append(*p, q...) }
func (p *page) explain(e lint.Explanation) { p.add(explained(e)) }

// explained is a term of the trade.
func explained(e lint.Explanation) page {
	var p page
	p.head(e.Name, e.Rest)
	for _, s := range e.Says {
		p.say(s)
	}
	if len(e.How) > 0 {
		p.steps(e.How)
	}
	if e.Source != "" {
		p.say("Source: " + e.Source + ".")
	}
	return p
}

// content is the page as a client takes it, by what it said of hovers.
func (c *client) content(p page) *protocol.MarkupContent {
	if c.TextDocument != nil && c.TextDocument.Hover != nil {
		return p.as(c.TextDocument.Hover.ContentFormat)
	}
	return p.as(nil)
}

// as is the page in the first of the formats that is known, and else as text.
func (p page) as(formats []protocol.MarkupKind) *protocol.MarkupContent {
	for _, kind := range formats {
		switch kind {
		case protocol.MarkupKindMarkdown:
			return &protocol.MarkupContent{Kind: kind, Value: p.markdown()}
		case protocol.MarkupKindPlainText:
			return &protocol.MarkupContent{Kind: kind, Value: p.plain()}
		}
	}
	return &protocol.MarkupContent{Kind: protocol.MarkupKindPlainText, Value: p.plain()}
}

// markdown writes blocks apart from each other by empty lines.
func (p page) markdown() string {
	var parts []string
	for _, b := range p {
		var s strings.Builder
		switch {
		case b.list != nil:
			for i, item := range b.list {
				s.WriteString(strconv.Itoa(i+1) + ". " + escaped(item) + "\n")
			}
		case b.rows != nil:
			for i, row := range b.rows {
				s.WriteByte('|')
				for _, cell := range row {
					s.WriteString(" " + escaped(cell) + " |")
				}
				s.WriteByte('\n')
				if i == 0 {
					s.WriteString("|" + strings.Repeat(" --- |", len(row)) + "\n")
				}
			}
		case b.code != "":
			s.WriteString("```crochet\n" + strings.ReplaceAll(strings.TrimRight(b.code, "\n"), "```", "'''") + "\n```")
		default:
			if b.head != "" {
				s.WriteString("**" + escaped(b.head) + "**")
			}
			s.WriteString(escaped(b.text))
		}
		parts = append(parts, strings.TrimRight(s.String(), "\n"))
	}
	return strings.Join(parts, "\n\n")
}

// plain writes each block on lines of its own.
func (p page) plain() string {
	var s strings.Builder
	for _, b := range p {
		switch {
		case b.list != nil:
			for i, item := range b.list {
				s.WriteString("  " + strconv.Itoa(i+1) + ". " + item + "\n")
			}
		case b.rows != nil:
			s.WriteString(columns(b.rows))
		case b.code != "":
			s.WriteString("  " + strings.ReplaceAll(strings.TrimRight(b.code, "\n"), "\n", "\n  ") + "\n")
		default:
			s.WriteString(b.head + b.text + "\n")
		}
	}
	return strings.TrimRight(s.String(), "\n")
}

// columns sets the cells of a table under each other.
func columns(rows [][]string) string {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], uniseg.StringWidth(cell))
		}
	}
	var s strings.Builder
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += "  " + cell + strings.Repeat(" ", wide[i]-uniseg.StringWidth(cell))
		}
		s.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return s.String()
}

// escaped keeps a text of the pattern from being read as Markdown. A line of
// its own stays one.
func escaped(text string) string {
	var s strings.Builder
	for _, r := range text {
		switch {
		case strings.ContainsRune("\\`*_{}[]<>|#~&", r):
			s.WriteByte('\\')
			s.WriteRune(r)
		case r == '\n' || r == '\r' || r == '\t':
			s.WriteByte(' ')
		default:
			s.WriteRune(r)
		}
	}
	return s.String()
}
