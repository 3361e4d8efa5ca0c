package lsp

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

var _ = offer(func(_ *Server, c *protocol.ServerCapabilities) {
	c.CompletionProvider = &protocol.CompletionOptions{TriggerCharacters: []string{" ", ":", "(", ","}, ResolveProvider: new(true)}
})

// Completion proposes what can stand at a place.
func (s *Server) Completion(ctx context.Context, p *protocol.CompletionParams) (protocol.CompletionResult, error) {
	snap, err := s.at(ctx, p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	c := newCompleting(snap, snap.Offset(p.Position))
	c.propose()
	return &protocol.CompletionList{Items: c.items}, nil
}

// completing is one request: what stands before the cursor, and the proposals.
type completing struct {
	*Snapshot
	at     int    // the statement
	cursor int    // in the file
	before string // of the statement, up to the cursor
	word   string // the letters before the cursor
	items  []protocol.CompletionItem
}

func newCompleting(snap *Snapshot, cursor int) *completing {
	at, line, _ := snap.Statement(cursor)
	start := snap.File.Start(at)
	if cursor > start+len(line.Text) { // on the empty line behind the last one, which is no statement
		at, start = at+1, strings.LastIndexByte(snap.Text()[:cursor], '\n')+1
	}
	c := &completing{Snapshot: snap, at: at, cursor: cursor, before: snap.Text()[start:cursor]}
	c.word = c.before[len(strings.TrimRightFunc(c.before, isWordRune)):]
	return c
}

func isWordRune(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r >= 0x80
}

// add proposes a text in place of the last bytes before the cursor.
func (c *completing) add(kind protocol.CompletionItemKind, replaced, label, detail string) *protocol.CompletionItem {
	item := protocol.CompletionItem{
		Label: label, Kind: kind, SortText: protocol.NewOptional(fmt.Sprintf("%04d", len(c.items))),
		TextEdit: &protocol.TextEdit{Range: c.Range(c.cursor-len(replaced), c.cursor), NewText: label},
	}
	if detail != "" {
		item.Detail = protocol.NewOptional(detail)
	}
	c.items = append(c.items, item)
	return &c.items[len(c.items)-1]
}

// words proposes each of several words in place of the one before the cursor.
func (c *completing) words(kind protocol.CompletionItemKind, words ...string) {
	for _, w := range words {
		c.add(kind, c.word, w, "")
	}
}

func (c *completing) propose() {
	if i := strings.LastIndex(c.before, "//"); i >= 0 && (i == 0 || c.before[i-1] == ' ' || c.before[i-1] == '\t') {
		if names := c.before[i:]; isAllowing(names) && !strings.Contains(names, "--") {
			for _, r := range lint.Rules() {
				c.add(protocol.CompletionItemKindEnumMember, c.word, r.Name, r.Summary)
			}
		}
		return
	}
	label, content, ok := strings.Cut(c.before, ":")
	if !ok {
		if name, rest, more := strings.Cut(c.before, " "); more {
			c.action(strings.ToLower(name), rest)
			if !strings.EqualFold(name, "rnd") && !strings.EqualFold(name, "row") {
				return
			}
		}
		c.lineStart()
		return
	}
	name, _, _ := strings.Cut(strings.TrimSpace(label), " ")
	c.content(strings.ToLower(name), content)
}

// action proposes what follows the verb of an action line.
func (c *completing) action(verb, rest string) {
	switch {
	case verb == "change" && ends(rest, "to "), verb == "join":
		c.yarns()
	case verb == "insert" || verb == "place":
		c.placing(rest)
	}
}

// ends says whether a text ends in some words, whatever their case, up to the
// word that is being typed.
func ends(text string, words ...string) bool {
	text = strings.ToLower(strings.TrimRightFunc(text, isWordRune))
	for _, w := range words {
		if text == w || strings.HasSuffix(text, " "+w) || strings.HasSuffix(text, ","+w) || strings.HasSuffix(text, "("+w) {
			return true
		}
	}
	return false
}

// verbs begin an action line.
var verbs = []string{"Fasten off.", "Stuff firmly.", "Stuff lightly.", "Do not stuff.", "Do not fasten off.", "Change to ", "Join ", "Turn.", "Close ", "Weave in ends.", "Block.", "Insert "}

// lineStart proposes the next round, likely ones worked out, and the labels
// that can stand here.
func (c *completing) lineStart() {
	p := c.Pattern()
	typed := c.before
	if piece, last := c.below(); piece != nil {
		name := fabric.RoundName(nextIsRow(piece, last), nextNumber(last))
		item := c.add(protocol.CompletionItemKindKeyword, typed, name+": ", "the next one")
		item.Preselect = protocol.NewOptional(true)
		for _, r := range c.likely(piece, last) {
			item := c.add(protocol.CompletionItemKindSnippet, typed, name+": "+r.words, r.what)
			item.FilterText = protocol.NewOptional(name + ": " + r.words)
		}
	}
	for _, l := range grammar.Labels() {
		switch l {
		case "Yarn":
			c.add(protocol.CompletionItemKindKeyword, typed, "Yarn "+nextYarn(p)+": ", "")
		case "Assembly":
			c.add(protocol.CompletionItemKindKeyword, typed, "Assembly:", "opens the making up")
		case "Rnd", "Row", "Rnds", "Rows":
			if piece, last := c.below(); piece != nil && strings.HasSuffix(l, "s") && nextIsRow(piece, last) == (l == "Rows") {
				n := nextNumber(last)
				c.add(protocol.CompletionItemKindKeyword, typed, l+" "+strconv.FormatInt(n, 10)+"-"+strconv.FormatInt(n+1, 10)+": ", "several alike")
			}
		default:
			c.add(protocol.CompletionItemKindKeyword, typed, l+": ", "")
		}
	}
	for _, v := range verbs {
		c.add(protocol.CompletionItemKindEvent, typed, v, "")
	}
}

// nextYarn is the first letter that no yarn has.
func nextYarn(p *fabric.Pattern) string {
	for letter := 'A'; letter <= 'Z'; letter++ {
		taken := false
		for _, y := range p.Header.Yarns {
			taken = taken || y.Key.Text == string(letter)
		}
		if !taken {
			return string(letter)
		}
	}
	return "A"
}

// content proposes what can stand behind a label.
func (c *completing) content(label, content string) {
	switch label {
	case "terms":
		c.words(protocol.CompletionItemKindEnumMember, "US", "UK")
	case "skill", "level":
		for _, l := range terms.Levels() {
			c.add(protocol.CompletionItemKindEnumMember, c.word, l.Name, l.Says)
		}
	case "worked":
		typed := strings.TrimLeft(content, " ")
		for _, w := range []string{"in a spiral", "in joined rounds", "in rows"} {
			c.add(protocol.CompletionItemKindEnumMember, typed, w, "")
		}
	case "turning":
		c.words(protocol.CompletionItemKindEnumMember, "counts", "does not count", "dc counts", "sc does not")
	case "with":
		c.yarns()
	case "yarn":
		if strings.Contains(content, ",") {
			for _, w := range terms.Weights() {
				c.add(protocol.CompletionItemKindUnit, c.word, fmt.Sprintf("%s (%d)", strings.ToLower(w.Name), w.Number), strings.Join(w.Types, ", "))
			}
		}
	case "hook":
		typed := strings.TrimLeft(content, " ")
		for _, h := range terms.Hooks() {
			if h.US != "" && !h.Steel {
				c.add(protocol.CompletionItemKindUnit, typed, fmt.Sprintf("%s (%g mm)", h.US, h.MM), "")
			}
		}
	case "notion", "notions":
		for _, m := range commonThings {
			c.add(protocol.CompletionItemKindValue, c.word, m, "")
		}
	case "sew", "attach":
		c.sewing(content)
	case "place":
		c.placing(content)
	case "embroider":
		if ends(content, "on ") && !strings.Contains(content, ",") {
			c.pieces()
		} else if strings.Contains(content, ",") {
			c.places(content)
		}
	case "rnd", "rnds", "round", "rounds", "row", "rows", "r":
		c.steps(content)
	case "stitch":
		if _, body, ok := strings.Cut(content, "="); ok {
			c.inSteps(body)
		}
	case "gauge", "tension":
		if ends(content, "in ") {
			c.stitches()
		}
	}
}

// commonThings are what patterns list besides yarn and hook (common practice).
var commonThings = []string{"2 safety eyes, 6 mm", "toy stuffing", "yarn needle", "stitch marker", "embroidery thread", "buttons", "sewing needle", "scissors"}

func (c *completing) yarns() {
	for _, y := range c.Pattern().Header.Yarns {
		c.add(protocol.CompletionItemKindColor, c.word, y.Key.Text, y.Name.Text)
	}
}

func (c *completing) pieces() {
	for _, p := range c.Pattern().Pieces {
		if p.Name == "" {
			continue
		}
		detail := ""
		if last := p.Last(); last != nil && last.Out != nil && !last.Out.Unknown {
			detail = "ends with " + lint.Number(int(last.Out.Stitches()), "stitch", "stitches")
		}
		c.add(protocol.CompletionItemKindClass, c.word, p.Name, detail)
	}
}

func (c *completing) sewing(content string) {
	switch {
	case strings.Contains(content, ","):
		c.places(content)
	case strings.TrimSpace(strings.TrimSuffix(content, c.word)) == "", ends(content, "to "):
		c.pieces()
	case strings.HasSuffix(content, " "):
		c.words(protocol.CompletionItemKindKeyword, "to")
	}
}

func (c *completing) placing(content string) {
	switch {
	case strings.Contains(content, ",") || ends(content, "between ", "at ", "over "):
		c.places(content)
	case ends(content, "on "):
		c.pieces()
	default:
		for _, n := range c.Pattern().Header.Notions {
			words := n.Thing.Text
			if n.Count.Written() {
				words = strconv.Itoa(int(n.Count.N)) + " " + words
			}
			c.add(protocol.CompletionItemKindValue, strings.TrimLeft(content, " "), words, "")
		}
	}
}

// places proposes where something goes on a piece.
func (c *completing) places(content string) {
	if ends(content, "in line with ") {
		c.pieces()
		return
	}
	typed := strings.TrimLeft(content[strings.LastIndex(content, ",")+1:], " ")
	kind := protocol.CompletionItemKindReference
	if piece := c.sewnOnto(content); piece != nil {
		last := piece.Last()
		if n := last.Node.To.N; n >= 2 {
			c.add(kind, typed, fmt.Sprintf("between Rnds %d and %d", n/2, n/2+1), piece.Name+" has "+strconv.Itoa(int(n)))
			c.add(kind, typed, fmt.Sprintf("over Rnds %d-%d", max(n/3, 1), max(2*n/3, 2)), "")
			c.add(kind, typed, fmt.Sprintf("at Rnd %d", n), "")
		}
	}
	for _, w := range []string{"3 sts apart", "across 5 sts", "in line with ", "at front", "at back", "at top", "at bottom", "at left", "at right", "centred", "evenly", "open edge"} {
		c.add(kind, typed, w, "")
	}
}

// sewnOnto is the piece behind "to" or "on", where it has rounds.
func (c *completing) sewnOnto(content string) *fabric.Piece {
	head, _, _ := strings.Cut(content, ",")
	for _, word := range []string{" to ", " on "} {
		if i := strings.LastIndex(head, word); i >= 0 {
			if p := c.Pattern().Named(strings.TrimSpace(head[i+len(word):])); p != nil && p.Last() != nil && !p.Last().Node.Row {
				return p
			}
		}
	}
	return nil
}
