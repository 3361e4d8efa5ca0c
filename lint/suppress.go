package lint

import (
	"slices"
	"strings"

	"workeven/grammar"
)

// allowance is one rule that a comment allows.
type allowance struct {
	rule string
	// at is the statement of the comment, comment and name what to point at in it.
	at            int
	comment, name grammar.Span
	// over is the statement that it allows in: wholeFile, or nowhere.
	over int
	// alone is set where the comment names no other rule.
	alone bool
	// loose is set where the colon is missing.
	loose bool
	used  bool
}

const (
	wholeFile = -1
	nowhere   = -2
)

// allowances reads the comments that begin with "allow". One at the end of a
// statement allows there; one on a line of its own allows in the next statement.
func allowances(f *grammar.File, comments []int) []allowance {
	var all []allowance
	next, until := 0, 0 // the statement behind a comment, and behind all others before it
	for _, at := range comments {
		l := f.Lines[at]
		names, file, loose, ok := allowText(l.Note.In(l.Text))
		if !ok {
			continue
		}
		over := at
		if _, own := l.Node.(grammar.Comment); own {
			if at >= until {
				if next = nextStatement(f, at); next == nowhere {
					until = len(f.Lines)
				} else {
					until = next
				}
			}
			over = next
		}
		if file {
			over = wholeFile
		}
		a := allowance{at: at, comment: l.Note, over: over, alone: len(names) <= 1, loose: loose}
		if len(names) == 0 {
			a.over = nowhere
			all = append(all, a)
		}
		for _, n := range names {
			a.name = grammar.Span{Start: n.Start + l.Note.Start, End: n.End + l.Note.Start}
			a.rule = strings.ToLower(a.name.In(l.Text))
			if loose {
				a.over = nowhere
			}
			all = append(all, a)
		}
	}
	return all
}

// nextStatement is the first statement behind a comment line that says anything.
func nextStatement(f *grammar.File, at int) int {
	for i := at + 1; i < len(f.Lines); i++ {
		switch f.Lines[i].Node.(type) {
		case grammar.Blank, grammar.Comment:
		default:
			return i
		}
	}
	return nowhere
}

// allowText reads "// allow: a, b -- reason" and "// allow file: a", and gives
// where the names stand. A comment without the colon counts as loose where it
// names a rule, and as prose where it does not.
func allowText(comment string) (names []grammar.Span, file, loose, ok bool) {
	rest, ok := cutWord(strings.TrimLeft(comment, "/"), "allow")
	if !ok {
		return nil, false, false, false
	}
	if r, is := cutWord(rest, "file"); is {
		rest, file = r, true
	}
	rest, colon := strings.CutPrefix(strings.TrimLeft(rest, " \t"), ":")
	at := len(comment) - len(rest)
	body, _, _ := strings.Cut(rest, "--")
	for part := range strings.SplitSeq(body, ",") {
		if word := strings.TrimSpace(part); word != "" {
			start := at + strings.Index(part, word)
			names = append(names, grammar.Span{Start: int32(start), End: int32(start + len(word))})
		}
		at += len(part) + 1
	}
	if !colon && (len(names) == 0 || RuleNamed(names[0].In(comment)) == nil) {
		return nil, false, false, false
	}
	return names, file, !colon, true
}

// cutWord takes a word off the front of a text, whatever its case.
func cutWord(s, word string) (rest string, ok bool) {
	s = strings.TrimLeft(s, " \t")
	if len(s) < len(word) || !strings.EqualFold(s[:len(word)], word) {
		return s, false
	}
	rest = s[len(word):]
	if rest != "" && rest[0] != ' ' && rest[0] != '\t' && rest[0] != ':' {
		return s, false
	}
	return rest, true
}

type allowedIn struct {
	rule string
	over int
}

// suppress leaves out findings that are allowed, and marks what allowed them.
func suppress(f *grammar.File, all []allowance, found []Finding) []Finding {
	by := map[allowedIn][]*allowance{}
	for i := range all {
		k := allowedIn{all[i].rule, all[i].over}
		by[k] = append(by[k], &all[i])
	}
	return slices.DeleteFunc(found, func(x Finding) bool {
		gone := false
		for _, over := range [...]int{wholeFile, f.LineAt(x.Start)} {
			if list := by[allowedIn{x.Rule, over}]; len(list) > 0 && !gone {
				list[0].used, gone = true, true // a second one allows nothing more
			}
		}
		return gone
	})
}

// allowed leaves out the findings that comments allow, and reports on comments
// that allow nothing. ran holds the rules that ran; about those that did not,
// nothing can be said.
func (w *walk) allowed(ran map[string]bool) {
	f := w.facts.pattern.File
	all := allowances(f, w.facts.comments)
	if len(all) == 0 {
		return
	}
	*w.found = suppress(f, all, *w.found)
	if w.suppression == nil {
		return
	}
	n := len(*w.found)
	for i := range all {
		w.suppression.judge(&all[i], ran)
	}
	own := suppress(f, all, slices.Clone((*w.found)[n:]))
	*w.found = append((*w.found)[:n], own...)
}
