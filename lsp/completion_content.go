package lsp

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// content proposes what can stand behind a label.
func (c *completing) content(label, content string) {
	typed := strings.TrimLeft(content, " \t")
	kind := protocol.CompletionItemKindEnumMember
	switch label {
	case "terms":
		c.words(kind, "US", "UK")
	case "skill", "level":
		for _, l := range terms.Levels() {
			c.add(kind, c.word, l.Name, spelled(c.system(), l.Says))
		}
	case "worked":
		for _, w := range []string{"in a spiral", "in joined rounds", "in rows"} {
			c.add(kind, typed, w, workedDetails[w])
		}
	case "turning":
		c.turningChain(content)
	case "with":
		c.yarns()
	case "size", "finished":
		c.size(content)
	case "yarn":
		c.yarn(content)
	case "hook":
		c.hooks(typed)
	case "notion", "notions":
		c.notions(typed)
	case "sew", "attach":
		c.sewing(content)
	case "place":
		c.placing(content)
	case "embroider":
		c.embroidering(content)
	case "rnd", "rnds", "round", "rounds", "row", "rows", "r":
		c.steps(content)
	case "stitch":
		if _, body, ok := strings.Cut(content, "="); ok {
			c.inSteps(body)
		}
	case "gauge", "tension":
		c.gauge(content, typed)
	case "piece":
		if name, _, ok := strings.Cut(content, "("); !ok && strings.HasSuffix(content, " ") && strings.TrimSpace(name) != "" {
			c.phrases(protocol.CompletionItemKindKeyword, "", "(make 1)", "(make 2)")
		} else if ok {
			c.phrases(protocol.CompletionItemKindKeyword, lastPart(content, "("), "make 1)", "make 2)")
		}
	}
}

var workedDetails = map[string]string{
	"in a spiral": "each round goes on into the next, without a join", "in joined rounds": "each round is closed with a sl st", "in rows": "the work is turned after each row",
}

// turningChain proposes what is said of chains that begin a row, of the taller
// stitches one by one, or of all.
func (c *completing) turningChain(content string) {
	kind := protocol.CompletionItemKindEnumMember
	typed := lastPart(content, ",")
	if !strings.Contains(content, ",") {
		c.phrases(kind, typed, "does not count", "counts")
	}
	for _, id := range []string{"dc", "hdc", "sc", "tr"} {
		name := terms.ByID(id).Abbr(c.system())
		counts := []string{" counts", " does not"}
		if id == "sc" {
			slices.Reverse(counts)
		}
		for _, how := range counts {
			c.add(kind, typed, name+how, "")
		}
	}
}

func (c *completing) size(content string) {
	typed := lastPart(content, ",")
	number := strings.TrimRight(typed, "abcdefghijklmnopqrstuvwxyz ")
	if number == "" {
		return
	}
	for _, unit := range []string{"cm", "in"} {
		for _, way := range []string{"tall", "wide", "across", "around", "long"} {
			c.add(protocol.CompletionItemKindUnit, typed, number+" "+unit+" "+way, "")
		}
	}
}

func (c *completing) gauge(content, typed string) {
	if ends(content, "in ") {
		for _, s := range terms.Stitches() {
			if s.Kind == terms.Plain && s.Loop == terms.BothLoops && s.Post == terms.NoPost {
				c.stitch(s)
			}
		}
		return
	}
	sc := terms.ByID("sc").Abbr(c.system())
	if typed == "" {
		item := c.add(protocol.CompletionItemKindUnit, typed, "24 sts x 26 rnds = 10 cm in "+sc, "count those of your own swatch")
		if c.snippets {
			writes(item, "${1:24} sts x ${2:26} rnds = 10 cm in ${3:"+sc+"}")
			item.InsertTextFormat = protocol.InsertTextFormatSnippet
		}
		return
	}
	c.words(protocol.CompletionItemKindKeyword, "sts x ", "rnds = 10 cm in ", "rows = 10 cm in ")
}

// yarn proposes what a Yarn line goes on with: the weight, then what a ball is.
func (c *completing) yarn(content string) {
	parts := strings.Split(content, ",")
	typed := strings.TrimLeft(parts[len(parts)-1], " ")
	if len(parts) < 2 {
		return
	}
	weighed := false
	for _, part := range parts[1 : len(parts)-1] {
		name, _, _ := strings.Cut(part, "(")
		weighed = weighed || len(terms.WeightByName(strings.TrimSpace(name))) > 0
	}
	switch {
	case !weighed:
		for _, w := range terms.Weights() {
			text := fmt.Sprintf("%s (%d)", strings.ToLower(w.Name), w.Number)
			item := c.add(protocol.CompletionItemKindUnit, typed, text, strings.Join(w.Types, ", "))
			foundBy(item, text+" "+strings.Join(w.Types, " "))
		}
	case strings.Contains(content, " m") || strings.Contains(content, " yd"):
		c.phrases(protocol.CompletionItemKindUnit, typed, "2 balls", "3 balls", "4 balls")
	default:
		for _, ball := range []string{"50 g / 125 m", "50 g / 85 m", "100 g / 170 m", "25 g / 110 m"} {
			c.add(protocol.CompletionItemKindUnit, typed, ball, "what the band of the ball says")
		}
	}
}

// hooks proposes the sizes: by millimetres, with the letter that goes with them
// where US terms are used.
func (c *completing) hooks(typed string) {
	for _, h := range terms.Hooks() {
		if h.Steel {
			continue
		}
		mm := strconv.FormatFloat(h.MM, 'f', -1, 64) + " mm"
		label, detail := mm, ""
		switch {
		case c.system() == terms.UK && h.UK != "":
			detail = "UK " + h.UK
		case c.system() == terms.US && h.US != "":
			label = h.US + " (" + mm + ")"
		}
		item := c.add(protocol.CompletionItemKindUnit, typed, label, detail)
		if label != mm {
			foundBy(item, mm+" "+label)
			if typed != "" && strings.HasPrefix(strings.ToLower(label), strings.ToLower(typed)) {
				foundBy(item, label)
			}
		}
	}
}

// commonThings are what patterns list besides yarn and hook (common practice).
var commonThings = []string{"2 safety eyes, 6 mm", "toy stuffing", "yarn needle", "stitch marker", "embroidery thread", "buttons", "sewing needle", "scissors"}

// notions proposes what the pattern uses and does not list, then the common things.
func (c *completing) notions(typed string) {
	var used []string
	tried := 0
	for _, f := range c.Findings() {
		if f.Rule != "materials" || tried == mostMaterials {
			continue
		}
		tried++
		for _, x := range c.Repaired(f.Start, f.End) {
			if x.Rule != f.Rule {
				continue
			}
			for _, fix := range x.Fixes {
				for _, e := range fix.Edits {
					if line, ok := strings.CutPrefix(strings.TrimSpace(e.New), "Notion: "); ok && !slices.Contains(used, line) {
						used = append(used, line)
						c.add(protocol.CompletionItemKindValue, typed, line, "used, and not listed yet")
					}
				}
			}
		}
	}
	for _, thing := range commonThings {
		if !c.lists(thing) && !slices.ContainsFunc(used, func(x string) bool { return sameThing(thing, x) }) {
			c.add(protocol.CompletionItemKindValue, typed, thing, "")
		}
	}
}

// lists says whether another line lists a thing already.
func (c *completing) lists(thing string) bool {
	for at, l := range c.File.Lines {
		if n, ok := l.Node.(*grammar.Notion); ok && at != c.at && sameThing(thing, n.Thing.Text) {
			return true
		}
	}
	return false
}

// sameThing says whether a common thing is what a pattern calls by a name:
// "2 safety eyes, 6 mm" is what "eyes" are.
func sameThing(thing, name string) bool {
	bare := func(s string) string {
		s, _, _ = strings.Cut(strings.TrimLeft(strings.ToLower(s), "0123456789 "), ",")
		return s
	}
	a, b := bare(thing), bare(name)
	return b != "" && (strings.Contains(a, b) || strings.Contains(b, a))
}

// mostMaterials is how many things that are not listed are looked for.
const mostMaterials = 8

// yarns proposes the yarns by their letters; they are found by their names too.
func (c *completing) yarns() {
	for _, y := range c.Pattern().Header.Yarns {
		if y.Key.Text == "" {
			continue
		}
		detail := y.Name.Text
		if y.Weight.Text != "" {
			detail += ", " + y.Weight.Text
		}
		item := c.add(protocol.CompletionItemKindColor, c.word, y.Key.Text, strings.TrimPrefix(detail, ", "))
		foundBy(item, y.Key.Text+" "+y.Name.Text)
		c.told(item, proposalData{Yarn: y.Key.Text})
	}
}
