package lsp

import (
	"context"
	"reflect"
	"regexp"
	"strings"
	"sync"

	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// OtherTermsResult is what the command workeven.otherTerms answers.
type OtherTermsResult struct {
	// Text is the whole pattern in the other system's stitch names.
	Text string `json:"text"`
	// Terms is the system that Text is written in: "US" or "UK".
	Terms string `json:"terms"`
}

// The command workeven.otherTerms takes the address of a pattern, open or a
// file, and answers an [OtherTermsResult]. It changes nothing. The text is for
// reading: names that the other system does not have stay as they are.
var _ = command("workeven.otherTerms", func(ctx context.Context, s *Server, args []protocol.LSPAny) (any, error) {
	doc, err := s.patternMeant(ctx, "workeven.otherTerms", args)
	if err != nil {
		return nil, err
	}
	edits, to := inOtherTerms(doc.Pattern())
	text, _ := lint.Apply(doc.Text(), doc.withLineEnds(edits))
	return OtherTermsResult{Text: text, Terms: to.String()}, nil
})

// inOtherTerms are the edits that write a pattern in the other system's stitch
// names, in its free text too, and say so in its Terms line.
func inOtherTerms(p *fabric.Pattern) (edits []lint.Edit, to terms.System) {
	f, from := p.File, p.Header.System
	to = from.Other()
	edits = append(edits, termsLine(f, to))
	edit := func(at int, s grammar.Span, new string) {
		if s.In(f.Lines[at].Text) != new {
			start := f.Start(at)
			edits = append(edits, lint.Edit{Start: start + int(s.Start), End: start + int(s.End), New: new})
		}
	}
	free := func(at int, s grammar.Span) { edit(at, s, inFreeText(from, s.In(f.Lines[at].Text))) }
	for at, l := range f.Lines {
		eachRef(l.Node, func(r grammar.Ref) {
			if r.Phrase != 0 && r.Written() && !ownStitch(p, r) {
				edit(at, r.Span, otherSpelling(from, r.Span.In(l.Text)))
			}
		})
		switch n := l.Node.(type) {
		case *grammar.Text:
			switch n.Label {
			case grammar.LabelAbbreviation, grammar.LabelNote, grammar.LabelCaution:
				free(at, n.Content.Span)
			}
		case *grammar.Action:
			if len(n.Where) == 0 {
				free(at, n.Rest.Span)
			}
		case *grammar.Sew:
			eachFree(n.Where, func(s grammar.Span) { free(at, s) })
		case *grammar.PlaceThing:
			eachFree(n.Where, func(s grammar.Span) { free(at, s) })
		case *grammar.Embroider:
			eachFree(n.Where, func(s grammar.Span) { free(at, s) })
		}
	}
	return edits, to
}

// termsLine is the edit that says which system's names a pattern is in: in its
// Terms line, or in a new one behind the title.
func termsLine(f *grammar.File, to terms.System) lint.Edit {
	for at, l := range f.Lines {
		if t, ok := l.Node.(*grammar.Terms); ok {
			start := f.Start(at)
			if t.Value.Written() {
				return lint.Edit{Start: start + int(t.Value.Start), End: start + int(t.Value.End), New: to.String()}
			}
			end := start + int(said(l).End)
			return lint.Edit{Start: end, End: end, New: " " + to.String()}
		}
	}
	if at := titleAt(f); at >= 0 {
		end := f.Start(at) + len(f.Lines[at].Text)
		return lint.Edit{Start: end, End: end, New: "\nTerms: " + to.String()}
	}
	start := len(f.Text()) - len(strings.TrimPrefix(f.Text(), "\ufeff"))
	return lint.Edit{Start: start, End: start, New: "Terms: " + to.String() + "\n"}
}

func ownStitch(p *fabric.Pattern, r grammar.Ref) bool {
	s := p.Find(r)
	return s != nil && s.Own
}

func eachFree(where []grammar.Where, show func(grammar.Span)) {
	for i := range where {
		if where[i].Kind == grammar.WhereFree {
			show(where[i].Text.Span)
		}
	}
}

var refType = reflect.TypeFor[grammar.Ref]()

// eachRef shows every stitch name that a statement's tree holds.
func eachRef(node grammar.Node, show func(grammar.Ref)) {
	switch n := node.(type) {
	case *grammar.Round, *grammar.OwnStitch, *grammar.Gauge, *grammar.TurningChain, *grammar.With:
		eachRefIn(reflect.ValueOf(n), show)
	}
}

func eachRefIn(v reflect.Value, show func(grammar.Ref)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			eachRefIn(v.Elem(), show)
		}
	case reflect.Slice:
		for i := range v.Len() {
			eachRefIn(v.Index(i), show)
		}
	case reflect.Struct:
		if v.Type() == refType {
			show(v.Interface().(grammar.Ref))
			return
		}
		for i := range v.NumField() {
			eachRefIn(v.Field(i), show)
		}
	}
}

// baseNames are the words that the names of stitches are built of, one system's
// beside the other's: UK names stand one step above the US ones. British
// patterns mostly leave the crochet out behind a treble (common practice), so
// of two names on one side of a pair the first is what the other becomes.
var baseNames = [...]terms.Pair{
	{US: "single crochet", UK: "double crochet"}, {US: "sc", UK: "dc"},
	{US: "half double crochet", UK: "half treble"}, {US: "half double crochet", UK: "half treble crochet"},
	{US: "half double", UK: "half treble"}, {US: "hdc", UK: "htr"},
	{US: "double crochet", UK: "treble"}, {US: "double crochet", UK: "treble crochet"}, {US: "dc", UK: "tr"},
	{US: "treble crochet", UK: "double treble crochet"}, {US: "treble", UK: "double treble"}, {US: "tr", UK: "dtr"},
	{US: "double treble crochet", UK: "triple treble crochet"}, {US: "double treble", UK: "triple treble"}, {US: "dtr", UK: "trtr"},
	{US: "triple treble crochet", UK: "quadruple treble crochet"}, {US: "triple treble", UK: "quadruple treble"}, {US: "trtr", UK: "qtr"},
}

// otherSpelling is a spelling of a stitch in the other system, built as the
// spelling in the first is; names that mean the same in both stay as they are.
func otherSpelling(from terms.System, spelling string) string {
	s := terms.Find(from, spelling)
	if s == nil || terms.Find(from.Other(), spelling) == s {
		return spelling
	}
	if word := rebuilt(from, spelling); terms.Find(from.Other(), word) == s {
		return word
	}
	word, _ := terms.Counterpart(from, spelling)
	return word
}

// rebuilt puts the other system's words in the place of those that a spelling
// is built of.
func rebuilt(from terms.System, spelling string) string {
	replacing, otherBase := baseFinders()
	return replacing[from].ReplaceAllStringFunc(spelling, func(word string) string {
		new := otherBase[from][strings.ToLower(word)]
		switch {
		case word == strings.ToLower(word):
			return new
		case word == strings.ToUpper(word):
			return strings.ToUpper(new)
		}
		return strings.ToUpper(new[:1]) + new[1:]
	})
}

// baseFinders find the base words in a spelling, the longest at a place, and say
// what each is in the other system.
var baseFinders = sync.OnceValues(func() (find [2]*regexp.Regexp, other [2]map[string]string) {
	for _, from := range []terms.System{terms.US, terms.UK} {
		var words []string
		other[from] = map[string]string{}
		for _, b := range baseNames {
			word, new := b.US, b.UK
			if from == terms.UK {
				word, new = new, word
			}
			if other[from][word] == "" {
				words = append(words, word)
				other[from][word] = new
			}
		}
		find[from] = regexp.MustCompile(`(?i)` + strings.Join(words, "|"))
		find[from].Longest()
	}
	return find, other
})

// longestName is how many words the name of a stitch has at most.
const longestName = 5

// freeWords are words of free text; stitchWords are those of them that make a
// name plain enough to be taken for a stitch among other words.
var (
	freeWords   = lazily(`[\pL\pN]+(?:-[\pL\pN]+)*`)
	stitchWords = lazily(`(?i)crochet|treble|(?:^|[^a-z])(?:fp|bp|f|e|x)?(?:sc|hdc|dc|htr|tr|dtr|trtr|qtr)(?:$|[^a-z]|s$|[0-9]+tog$)`)
)

// inFreeText writes the stitch names in a line of free text in the other
// system, the longest names first.
func inFreeText(from terms.System, text string) string {
	words := freeWords().FindAllStringIndex(text, -1)
	var b strings.Builder
	done := 0
	for i := 0; i < len(words); {
		n, new := phraseAt(from, text, words[i:])
		if n > 0 {
			b.WriteString(text[done:words[i][0]] + new)
			done = words[i+n-1][1]
		}
		i += max(n, 1)
	}
	return b.String() + text[done:]
}

// phraseAt is the stitch name that some words of a text begin with, as the
// other system has it, and how many words it takes: 0 where there is none.
func phraseAt(from terms.System, text string, words [][]int) (n int, new string) {
	for n := min(longestName, len(words)); n > 0; n-- {
		phrase := text[words[0][0]:words[n-1][1]]
		if strings.ContainsAny(phrase, ",;:.()[]=\n") || !stitchWords().MatchString(phrase) {
			continue
		}
		for _, end := range []string{"", "s"} {
			one, ok := strings.CutSuffix(phrase, end)
			if ok && terms.Find(from, one) != nil {
				return n, otherSpelling(from, one) + end
			}
		}
	}
	return 0, ""
}
