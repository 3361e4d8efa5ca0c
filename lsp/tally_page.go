package lsp

import (
	"context"
	"fmt"
	"hash/fnv"
	"path"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"workeven/fabric"
	"workeven/lint"
)

// TallyResult is what the command workeven.tally answers.
type TallyResult struct {
	// Markdown is the tally of the pattern: a heading and a table a piece, a row
	// for each statement of rounds.
	Markdown string `json:"markdown"`
}

// The command workeven.tally takes the address of a pattern, open or a file, and
// answers a [TallyResult].
var _ = command("workeven.tally", func(ctx context.Context, s *Server, args []protocol.LSPAny) (any, error) {
	doc, err := s.patternMeant(ctx, "workeven.tally", args)
	if err != nil {
		return nil, err
	}
	text, _ := tallyOf(doc)
	return TallyResult{Markdown: text}, nil
})

const showTally = "workeven.showTally"

// The command showTally takes the address of an open pattern and, if
// only one piece is meant, its name. Where the client shows pages it is sent to
// the one of the tally, at the piece; else it is told the tally in a message.
var _ = command(showTally, func(ctx context.Context, s *Server, args []protocol.LSPAny) (any, error) {
	doc, err := s.patternMeant(ctx, showTally, args[:min(len(args), 1)])
	if err != nil {
		return nil, err
	}
	var name string
	if len(args) > 2 || len(args) == 2 && protocol.Unmarshal(args[1], &name) != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s takes the address of a pattern and the name of a piece", showTally)
	}
	text, rows := tallyOf(doc)
	if s.client.reads && s.client.showsDocuments {
		p := &protocol.ShowDocumentParams{URI: tallyPage(doc.URI), TakeFocus: new(true)}
		if row, ok := rows[name]; ok {
			at := protocol.Position{Line: row}
			p.Selection = &protocol.Range{Start: at, End: at}
		}
		_, err := s.remote.ShowDocument(ctx, p)
		return nil, err
	}
	if err := s.remote.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: tallyMessage(doc, name)}); err != nil {
		return nil, err
	}
	return TallyResult{Markdown: text}, nil
})

// patternMeant is the pattern that a command's one argument addresses: an open
// one, or else a file.
func (s *Server) patternMeant(ctx context.Context, name string, args []protocol.LSPAny) (*Snapshot, error) {
	var doc uri.URI
	if len(args) != 1 || protocol.Unmarshal(args[0], &doc) != nil || doc == "" {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s takes the address of a pattern", name)
	}
	if snap, err := s.at(ctx, doc); err == nil {
		return snap, nil
	}
	if doc.IsFile() && path.Ext(doc.Path()) == lint.Extension {
		if snap := s.closed.read(s, s.seen(ctx), doc.FsPath()); snap != nil {
			return snap, nil
		}
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is not open, and no pattern that can be read", doc)
}

func init() { pages["tally"] = tallyPageText }

// tallyPage is where the tally of an open pattern is shown. Its name tells two
// files of one name apart.
func tallyPage(doc uri.URI) uri.URI { return pageURI("tally", tallyPageName(doc)) }

func tallyPageName(doc uri.URI) string {
	h := fnv.New32a()
	h.Write([]byte(doc))
	name := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, strings.TrimSuffix(path.Base("/"+doc.Path()), lint.Extension))
	return fmt.Sprintf("%s-%08x", name, h.Sum32())
}

func tallyPageText(s *Server, name string) string {
	for doc, snap := range s.view.Load().docs {
		if tallyPageName(doc) == name {
			text, _ := tallyOf(snap)
			return text
		}
	}
	return ""
}

// tallyOf writes the tally of a pattern as Markdown, and says on which line of
// it, from 0, each piece begins.
func tallyOf(doc *Snapshot) (text string, rows map[string]uint32) {
	p := doc.Pattern()
	var b strings.Builder
	row := uint32(0)
	put := func(line string) {
		b.WriteString(line + "\n")
		row++
	}
	title := "Tally"
	if at := titleAt(doc.File); at >= 0 {
		title = escaped(oneLine(symbolOf(at, doc.File.Lines[at]).name))
	}
	put("# " + title)
	put("")
	put(wholeTally(p) + ".")
	rows = map[string]uint32{}
	for _, piece := range p.Pieces {
		put("")
		if _, known := rows[piece.Name]; !known {
			rows[piece.Name] = row
		}
		put(fmt.Sprintf("## %s (make %d)", escaped(nameOf(piece)), max(piece.Make, 1)))
		if len(piece.Rounds) == 0 {
			continue
		}
		put("")
		for i, cells := range tallyRows(p, piece) {
			for k, cell := range cells {
				cells[k] = escaped(cell)
			}
			put("| " + strings.Join(cells, " | ") + " |")
			if i == 0 {
				put("| :--- | ---: | ---: | ---: | :--- |")
			}
		}
	}
	return b.String(), rows
}

// tallyRows are the rounds of a piece: what each takes, makes and says that it
// makes, and of what. A total that the words do not make is marked.
func tallyRows(p *fabric.Pattern, piece *fabric.Piece) [][]string {
	rows := [][]string{{"Round", "Takes", "Makes", "Total", "Of"}}
	if piece.Last().Node.Row {
		rows[0][0] = "Row"
	}
	for _, r := range piece.Rounds {
		takes, makes, total := "?", "?", "–"
		if r.Known {
			takes, makes = number(r.Takes), number(r.Makes)
		}
		if n, ok := p.StatedStitches(r.Node.Total); ok {
			total = number(n)
			if r.Known && n != r.Makes {
				total += ", differs"
			}
		}
		rows = append(rows, []string{r.Name(), takes, makes, total, madeOf(r)})
	}
	return rows
}

// mostInMessage is how many lines a message has at most.
const mostInMessage = 40

// tallyMessage is the tally of one piece, or of all where none has the name, as
// plain text.
func tallyMessage(doc *Snapshot, name string) string {
	p := doc.Pattern()
	pieces := p.Pieces
	for i, piece := range p.Pieces {
		if name != "" && piece.Name == name {
			pieces = p.Pieces[i : i+1]
			break
		}
	}
	var b strings.Builder
	b.WriteString(wholeTally(p) + "\n")
	for _, piece := range pieces {
		fmt.Fprintf(&b, "%s (make %d)\n", nameOf(piece), max(piece.Make, 1))
		if len(piece.Rounds) > 0 {
			b.WriteString(columns(tallyRows(p, piece)))
		}
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if more := len(lines) - mostInMessage; more > 0 {
		lines = append(lines[:mostInMessage], "and "+count(int64(more), "line", "lines")+" more")
	}
	return strings.Join(lines, "\n")
}

// nameOf is what a piece is called; one without a name is the pattern's only one.
func nameOf(piece *fabric.Piece) string {
	if piece.Name == "" {
		return "Piece"
	}
	return piece.Name
}
