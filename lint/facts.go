package lint

import (
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// on is a statement's node with the statement's index.
type on[T any] struct {
	at   int
	node T
}

// facts is what several rules need to know of a whole file. The shared walk
// gathers it, statement by statement; rules that ask for what may stand further
// down wait for the end of the walk.
type facts struct {
	pattern *fabric.Pattern
	// title and terms are the Pattern and Terms lines, making the Assembly line; -1 without one.
	title, terms, making int
	// first is the first statement of all, header the last one before the pieces.
	first, header int
	yarns         []on[*grammar.Yarn]
	notions       []on[*grammar.Notion]
	hooks         []on[*grammar.Hook]
	gauges        []on[*grammar.Gauge]
	sizes         []on[*grammar.Size]
	cautions      []on[*grammar.Text]
	// comments are the statements with a private comment.
	comments []int
	// texts are the statements that say something in free words.
	texts []int
	// hurts are those of them that speak of what hurts.
	hurts []hurt
	isToy *bool // see toy
	// stirred is set by a statement that tells more than what its part's shape
	// does: facts have to see it again even where its piece has not changed.
	stirred bool
	yarnUses
	wordUses
	thingUses
	partFacts
}

// newFacts begins to gather. What an earlier check has heard of names and words
// is taken over from its facts, which nothing may hold on to; old may be nil.
func newFacts(pattern *fabric.Pattern, old *facts) *facts {
	var heard *hearing
	if old != nil {
		heard = old.hearing
		old.release()
	}
	return factsWith(pattern, hearingOf(heard, pattern))
}

func factsWith(pattern *fabric.Pattern, h *hearing) *facts {
	f := &facts{pattern: pattern, title: -1, terms: -1, making: -1, first: -1, header: -1}
	f.wordUses = newWordUses(pattern)
	f.partFacts = newPartFacts(pattern, h)
	return f
}

// line takes in one statement that is not blank.
func (f *facts) line(at int, l *grammar.Line) {
	if _, round := l.Node.(*grammar.Round); !round || l.Note.Written() {
		f.stirred = true
	}
	if l.Note.Written() {
		f.comments = append(f.comments, at)
	}
	if f.first < 0 {
		if _, comment := l.Node.(grammar.Comment); !comment {
			f.first = at
		}
	}
	switch n := l.Node.(type) {
	case grammar.Comment, grammar.Bad, *grammar.Round, *grammar.Piece:
		return
	case grammar.Assembly:
		f.making, f.cur = at, nil
		return
	case *grammar.Action:
		f.texts = append(f.texts, at)
		f.action(at, n)
	case *grammar.Sew:
		f.texts = append(f.texts, at)
		f.sew(at, n)
	case *grammar.PlaceThing:
		f.texts = append(f.texts, at)
		f.place(at, n)
	case *grammar.Embroider:
		f.texts = append(f.texts, at)
		f.embroidered(at, n)
	case *grammar.With:
		for _, y := range n.Yarns {
			f.useYarn(at, y)
		}
		if cur := f.cur; cur != nil {
			cur.with = cur.with || len(n.Yarns) > 0
		}
		if n.Hook != nil {
			f.hooks = append(f.hooks, on[*grammar.Hook]{at, n.Hook})
		}
	case *grammar.OwnStitch:
		f.stitches(at, n.Steps)
	default:
		f.headerLine(at, l.Node)
	}
	if f.cur == nil && f.making < 0 && len(f.parts) == 0 {
		f.header = at
	}
}

func (f *facts) headerLine(at int, node grammar.Node) {
	switch n := node.(type) {
	case *grammar.Text:
		f.texts = append(f.texts, at)
		switch n.Label {
		case grammar.LabelPattern:
			if f.title < 0 {
				f.title = at
			}
		case grammar.LabelCaution:
			f.cautions = append(f.cautions, on[*grammar.Text]{at, n})
		}
	case *grammar.Terms:
		if f.terms < 0 {
			f.terms = at
		}
	case *grammar.Yarn:
		f.yarns = append(f.yarns, on[*grammar.Yarn]{at, n})
	case *grammar.Notion:
		f.notions = append(f.notions, on[*grammar.Notion]{at, n})
	case *grammar.Hook:
		f.hooks = append(f.hooks, on[*grammar.Hook]{at, n})
	case *grammar.Gauge:
		f.gauges = append(f.gauges, on[*grammar.Gauge]{at, n})
		f.word(at, n.Stitch)
	case *grammar.Size:
		f.sizes = append(f.sizes, on[*grammar.Size]{at, n})
	case *grammar.TurningChain:
		for _, r := range n.Rules {
			f.word(at, r.Stitch)
		}
	}
}

// round takes in one statement of rounds.
func (f *facts) round(at int, r *fabric.Round) {
	f.partRound(r)
	f.hanging(r)
	f.roundWords(at, r)
}

// roundWords takes in what a round says besides what it does to its part's shape.
func (f *facts) roundWords(at int, r *fabric.Round) {
	f.stitches(at, r.Node.Steps)
	f.stitches(at, r.Node.After)
	if t := r.Node.Total; t != nil {
		for i := range t.Parts {
			f.word(at, t.Parts[i].Unit.Ref())
		}
	}
}

// stitches takes in steps: the words that name stitches, yarns, markers, parts.
func (f *facts) stitches(at int, steps []grammar.Step) {
	for i := range steps {
		s := &steps[i]
		f.word(at, s.Stitch)
		f.word(at, s.Fill.Unit().Ref())
		if s.Standing() != nil {
			f.word(at, s.Standing().As)
		}
		for j := range s.Places {
			p := &s.Places[j]
			f.word(at, p.Unit.Ref())
			f.word(at, p.Fill.Unit().Ref())
			if p.Of().Written() {
				f.stirred = true
				f.workedInto(at, s, p)
			}
		}
		switch s.Kind {
		case grammar.StepYarn:
			f.useYarn(at, s.Yarn())
		case grammar.StepJoin:
			if s.Yarn().Written() {
				f.stirred = true // whether it names a part hangs on the other parts
				if f.named(s.Yarn().Text) == nil {
					f.useYarn(at, s.Yarn())
				}
			}
		case grammar.StepMarker:
			f.stirred = true
			f.marker(at, s.Span, f.pattern.File.Lines[at].Text)
		}
		if s.Group != nil {
			f.stitches(at, s.Group.Steps)
		}
	}
}

// said is a statement's text without its private comments.
func (f *facts) said(at int) string { return f.pattern.File.Lines[at].Said() }

// worked says whether the file has any round.
func (f *facts) worked() bool {
	for _, p := range f.pattern.Pieces {
		if len(p.Rounds) > 0 {
			return true
		}
	}
	return false
}

// yarnUses are the yarns that pieces, steps and actions name.
type yarnUses struct {
	used     map[string]bool
	usedList []on[grammar.Name]
	// usedHere are those of the piece in hand.
	usedHere map[string]bool
	// keys are what was folded so far: every part names a yarn, and few there are.
	keys map[string]string
}

func (u *yarnUses) key(name string) string {
	k, folded := u.keys[name]
	if !folded {
		if u.keys == nil {
			u.keys = map[string]string{}
		}
		k = grammar.YarnKey(name)
		u.keys[name] = k
	}
	return k
}

func (f *facts) useYarn(at int, n grammar.Name) {
	k := f.yarnUses.key(n.Text)
	if k == "" {
		return
	}
	f.stirred = meet(&f.usedHere, k) || f.stirred
	if meet(&f.used, k) {
		f.usedList = append(f.usedList, on[grammar.Name]{at, n})
	}
}

// embroidered takes in the yarn of "mouth in CC", where its key is written as keys
// are; what is said in other words is free.
func (f *facts) embroidered(at int, n *grammar.Embroider) {
	text := f.pattern.File.Lines[at].Text
	what := strings.TrimRight(n.What.In(text), " \t")
	start := strings.LastIndexAny(what, " \t") + 1
	before := strings.Fields(strings.ToLower(what[:start]))
	if k := len(before); k == 0 || before[k-1] != "in" && before[k-1] != "with" && before[k-1] != "yarn" || !likeKey(what[start:]) {
		return
	}
	f.useYarn(at, grammar.Name{Text: what[start:], Span: grammar.Span{Start: n.What.Start + int32(start), End: n.What.Start + int32(len(what))}})
}

// likeKey says whether a word looks like the key of a yarn: A, MC, CC2.
func likeKey(word string) bool {
	letters := strings.TrimRight(word, "0123456789")
	return len(letters) > 0 && len(letters) <= 2 && len(word)-len(letters) <= 1 && strings.Trim(letters, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// meet takes a word into a set, and says whether it is new there.
func meet(set *map[string]bool, word string) bool {
	if (*set)[word] {
		return false
	}
	if *set == nil {
		*set = map[string]bool{}
	}
	(*set)[word] = true
	return true
}

// wordUses are the words for stitches that only one of the two systems has,
// and the first uses of the pattern's own.
type wordUses struct {
	pattern *fabric.Pattern
	// known holds for each spelling of the glossary met so far whose it is.
	known []whose
	// native says whether a word was met that only the pattern's system has.
	native  bool
	foreign []on[grammar.Ref]
	// own are the first uses of the pattern's own stitches; nil where it defines none.
	own map[string]on[grammar.Ref]
	// ownHere are those of the piece in hand.
	ownHere map[string]bool
}

type whose uint8

const (
	unmet whose = iota
	both
	native
	foreign
)

func newWordUses(pattern *fabric.Pattern) wordUses {
	u := wordUses{pattern: pattern}
	if len(pattern.Own) > 0 {
		u.own = map[string]on[grammar.Ref]{}
	}
	return u
}

func (f *facts) word(at int, r grammar.Ref) {
	u := &f.wordUses
	if !r.Written() {
		return
	}
	if u.own != nil {
		if s := u.pattern.Find(r); s == nil || s.Own {
			f.useOwn(at, r)
			return
		}
	}
	if r.Phrase == 0 {
		return
	}
	i := int(r.Phrase)
	for len(u.known) <= i {
		u.known = append(u.known, make([]whose, i+1-len(u.known))...)
	}
	if u.known[i] == unmet {
		u.known[i] = u.whose(r)
	}
	switch u.known[i] {
	case native:
		u.native = true
	case foreign:
		f.stirred = true
		u.foreign = append(u.foreign, on[grammar.Ref]{at, r})
	}
}

func (u *wordUses) whose(r grammar.Ref) whose {
	sys := u.pattern.Header.System
	switch {
	case r.Known(sys) == nil:
		return foreign
	case r.Known(sys.Other()) == nil:
		return native
	}
	return both
}

func (f *facts) useOwn(at int, r grammar.Ref) {
	k := terms.Key(r.Text)
	f.stirred = meet(&f.ownHere, k) || f.stirred
	for _, k := range []string{k, strings.TrimSuffix(k, "s")} {
		if _, met := f.own[k]; !met {
			f.own[k] = on[grammar.Ref]{at, r}
		}
	}
}
