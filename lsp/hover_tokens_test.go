package lsp

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// demos are the demo patterns and their broken twins, by path.
func demos(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, glob := range []string{"*.crochet", filepath.Join("broken", "*.crochet")} {
		paths, err := filepath.Glob(filepath.Join("..", "testdata", "patterns", glob))
		require.NoError(t, err)
		require.NotEmpty(t, paths)
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			out[filepath.ToSlash(path)] = string(data)
		}
	}
	return out
}

// hovers shows the beginning of what is told of each token of a text.
func hovers(text string) string {
	doc := newSnapshot(at("shown.crochet"), 1, "", text, utf8Bytes)
	var b strings.Builder
	last := ""
	for i, l := range doc.File.Lines {
		for _, tok := range grammar.Tokens(l.Text) {
			e := explainerAt(doc, doc.File.Start(i)+int(tok.Start))
			if isMark(tok.Kind) || len(e.page) == 0 {
				continue
			}
			first, _, _ := strings.Cut(strings.TrimSpace(e.page.plain()), "\n")
			told := fmt.Sprintf("%d [%s] %s\n", doc.Position(doc.File.Start(i)).Line+1, oneLine(e.span.In(l.Text)), first)
			if told != last {
				b.WriteString(told)
			}
			last = told
		}
	}
	return b.String()
}

// isMark says whether a token says nothing by itself.
func isMark(k grammar.Kind) bool {
	switch k {
	case grammar.Open, grammar.Close, grammar.Comma, grammar.Semicolon, grammar.Stop, grammar.Colon, grammar.Dash, grammar.Equals, grammar.Slash, grammar.Quote:
		return true
	}
	return false
}

// isProse says whether a token is one of the words that a pattern leaves free:
// who made it, its version, what a note or a caution says, what an abbreviation
// stands for, and the words behind a semicolon in the making up.
func isProse(l *grammar.Line, tok grammar.Token) bool {
	within := func(s grammar.Span) bool { return s.Start <= tok.Start && tok.End <= s.End }
	free := func(list []grammar.Where) bool {
		for _, w := range list {
			if w.Kind == grammar.WhereFree && within(w.Span) {
				return true
			}
		}
		return false
	}
	switch n := l.Node.(type) {
	case *grammar.Text:
		if n.Label == grammar.LabelPattern {
			return false
		}
		start := n.Content.Start
		if head, _, ok := strings.Cut(n.Content.Text, "="); ok && n.Label == grammar.LabelAbbreviation {
			start += int32(len(head))
		}
		return tok.Start >= start
	case *grammar.Sew:
		return free(n.Where)
	case *grammar.PlaceThing:
		return free(n.Where)
	case *grammar.Embroider:
		return free(n.Where)
	}
	return false
}

// Every token of the demo patterns and of their broken twins is explained, by
// something that is about it; only marks and free words are not.
func TestHoverEveryToken(t *testing.T) {
	for path, text := range demos(t) {
		doc := newSnapshot(at("a.crochet"), 1, "", text, utf8Bytes)
		explained := 0
		for i, l := range doc.File.Lines {
			for _, tok := range grammar.Tokens(l.Text) {
				word := tok.In(l.Text)
				e := explainerAt(doc, doc.File.Start(i)+int(tok.Start))
				if isMark(tok.Kind) || isProse(l, tok) {
					continue
				}
				if !assert.NotEmpty(t, e.page, "%s:%d %q in %q", path, i, word, l.Text) {
					continue
				}
				explained++
				assert.True(t, e.span.Start <= tok.Start && tok.End <= e.span.End, "%s: the answer for %q is about %q", path, word, e.span.In(l.Text))
				said := strings.ToLower(e.page.plain())
				assert.NotEmpty(t, said)
				assert.NotContains(t, said, "%!", "%s: %q", path, word)
				assert.NotContains(t, said, "`", "%s: %q", path, word)
				if _, round := l.Node.(*grammar.Round); !round || tok.Kind != grammar.Term {
					continue
				}
				// A stitch is called by its full name, in the terms of the pattern.
				phrase := grammar.PhraseAt(tok.Value)
				sys := doc.Pattern().Header.System
				st := phrase.In(sys)
				if st == nil {
					st = phrase.In(sys.Other())
				}
				if e.span == tok.Span {
					assert.Contains(t, said, strings.ToLower(st.In(sys).Full), "%s:%d %q", path, i, l.Text)
					assert.Contains(t, said, strings.ToLower(st.In(sys.Other()).Full), "%s:%d %q", path, i, l.Text)
				}
			}
		}
		assert.Greater(t, explained, 100, path)
	}
}

// A stitch is told of in both terms, how it is worked, what it takes and makes,
// how tall its chain is, and where that comes from.
func TestHoverOnEveryStitch(t *testing.T) {
	for _, sys := range []terms.System{terms.US, terms.UK} {
		for _, s := range terms.Stitches() {
			name := s.In(sys)
			if name.Abbr == "" {
				continue
			}
			text := "Terms: " + sys.String() + "\nPiece: A\nRnd 1: 6 " + terms.ByID("sc").Abbr(sys) + " in magic ring (6)\nRnd 2: " + name.Abbr + "\n"
			doc := newSnapshot(at("a.crochet"), 1, "", text, utf8Bytes)
			e := explainerAt(doc, strings.LastIndex(text, name.Abbr))
			said := e.page.plain()
			assert.Contains(t, said, name.Full, name.Abbr)
			if other := s.In(sys.Other()); other.Full != "" {
				assert.Contains(t, said, other.Full, name.Abbr)
			}
			assert.Contains(t, said, "Source: ", name.Abbr)
			if len(s.How()) > 0 && s.Base != "" {
				assert.Contains(t, said, s.How()[0].Do, name.Abbr)
			}
			if s.Height > 0 {
				assert.Contains(t, said, number(int64(s.Height))+" ch", name.Abbr)
			}
			assert.Contains(t, said, "Takes ", name.Abbr)
			assert.NotContains(t, said, "`", name.Abbr)
		}
	}
}

func TestEveryLabelIsExplained(t *testing.T) {
	for _, name := range grammar.Labels() {
		for _, sys := range []terms.System{terms.US, terms.UK} {
			p := labelPage(sys, name)
			if !assert.Len(t, p, 2, name) {
				continue
			}
			line := grammar.ParseLine(p[1].code, 1)
			assert.Empty(t, line.Faults, "the line shown for %s must be one that parses: %s", name, p[1].code)
			if _, round := line.Node.(*grammar.Round); !round {
				assert.Equal(t, name, labelOf(line.Node), p[1].code)
			}
			if sys == terms.UK {
				assert.NotContains(t, p.plain(), "color")
				assert.NotRegexp(t, `\bsc\b`, p.plain())
			}
		}
	}
	assert.Len(t, labelHelps, len(grammar.Labels()), "and nothing else is")
}

func TestEveryActionIsExplained(t *testing.T) {
	for verb := grammar.VerbFastenOff; verb <= grammar.VerbInsert; verb++ {
		assert.NotEmpty(t, verbWords[verb], "%d", verb)
	}
	assert.Len(t, verbWords, int(grammar.VerbInsert)+1)
}
