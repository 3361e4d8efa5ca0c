package grammar

import (
	"sort"
	"strings"

	"workeven/grammar/terms"
)

// The steps are printed from their tree. Where the tree holds what a wording
// means but not the wording ("same st as join"), the words are printed from
// the tokens, each in its canonical spelling.

func (p *printer) round(n *Round) string {
	out := p.steps(n.Steps)
	if last := len(n.Steps) - 1; n.Total != nil && last >= 0 && n.Steps[last].Kind == StepLoops {
		out += "," // else the total were what is worked in them
	}
	if n.Total != nil {
		out += " " + p.total(n.Total)
	}
	if len(n.After) > 0 {
		out += ", " + p.steps(n.After)
	}
	return out
}

func (p *printer) total(t *Total) string {
	parts := make([]string, 0, len(t.Parts))
	for i := range t.Parts {
		x := &t.Parts[i]
		out := p.digits(x.Count)
		switch {
		case x.Unit.Kind == UnitSt && len(t.Parts) > 1, x.Unit.Kind == UnitSpace, x.Unit.Kind == UnitLoop:
			out += " " + p.words(p.in(x.Unit.Span), x.Count.N != 1)
		case x.Unit.Kind == UnitTerm:
			out += " " + p.stitches(x.Unit.Ref(), x.Count.N != 1)
		case x.Unit.Kind == UnitChain:
			out += " ch"
		}
		parts = append(parts, out)
	}
	return "(" + strings.Join(parts, ", ") + ")"
}

// in gives the tokens of a span.
func (p *printer) in(s Span) []Token {
	at := func(offset int32) int {
		return sort.Search(len(p.toks), func(i int) bool { return p.toks[i].Start >= offset || p.toks[i].Kind == EOF })
	}
	if !s.Written() {
		return nil
	}
	return p.toks[at(s.Start):at(s.End)]
}

// said gives the tokens of a step, from behind "start with" and "work" on.
func (p *printer) said(s *Step) []Token {
	toks := p.in(s.Span)
	for len(toks) > 1 && (toks[0].is(KeyMake) || toks[0].is(KeyWork)) {
		if toks[0].is(KeyMake) && toks[1].is(KeyWith) && len(toks) > 2 {
			toks = toks[1:]
		}
		toks = toks[1:]
	}
	return toks
}

// first is the first token of a span; EOF for one that is not written.
func (p *printer) first(s Span) Token {
	if toks := p.in(s); len(toks) > 0 {
		return toks[0]
	}
	return Token{}
}

// ahead is the token before a span.
func (p *printer) ahead(s Span) Token {
	i := sort.Search(len(p.toks), func(i int) bool { return p.toks[i].Start >= s.Start })
	if i == 0 {
		return Token{}
	}
	return p.toks[i-1]
}

// behind is the token behind a span.
func (p *printer) behind(s Span) Token {
	i := sort.Search(len(p.toks), func(i int) bool { return p.toks[i].Start >= s.End })
	return p.toks[min(i, len(p.toks)-1)]
}

func has(toks []Token, k Key) bool {
	for _, t := range toks {
		if t.is(k) {
			return true
		}
	}
	return false
}

func (p *printer) steps(list []Step) string {
	var b strings.Builder
	for i := 0; i < len(list); i++ {
		if i > 0 {
			b.WriteString(p.between(&list[i-1], &list[i]))
		}
		b.WriteString(p.step(&list[i]))
		if g := list[i].Group; g != nil && g.Ending > 0 {
			ends := list[i+1 : i+1+int(g.Ending)]
			b.WriteString(", ending with " + p.ending(ends))
			i += len(ends)
		}
	}
	return b.String()
}

// ending prints what a repeat ends with, in a bracket where it is several steps.
func (p *printer) ending(list []Step) string {
	switch out := p.steps(list); {
	case len(list) == 1:
		return out
	case height(list)%2 == 1:
		return "[" + out + "]"
	default:
		return "(" + out + ")"
	}
}

// between is what stands between two steps. A yarn that follows its stitches
// without a comma belongs to them for a reader: "sc 3 with B".
func (p *printer) between(a, b *Step) string {
	switch {
	case b.Kind == StepOtherSide, a.Kind == StepJoin && a.Form:
		return "; "
	case b.Kind == StepYarn && b.Span.Start > a.Span.End && len(p.in(Span{a.Span.End, b.Span.Start})) == 0:
		return " "
	}
	return ", "
}

func (p *printer) step(s *Step) string {
	switch s.Kind {
	case StepWork:
		return p.work(s)
	case StepBracket:
		return p.bracket(s)
	case StepStar:
		return p.star(s)
	case StepSkip:
		return p.skip(s)
	case StepJoin:
		return p.join(s)
	case StepTurn:
		return "turn"
	case StepLeave:
		return p.leave(s)
	case StepRepeat:
		return p.repeat(s)
	case StepOtherSide:
		return p.otherSide(s)
	case StepYarn, StepMarker:
		return p.yarnOrMarker(s)
	case StepEven:
		out := "work even"
		if s.Stitch.Written() {
			out += " in " + p.stitch(s.Stitch)
		}
		return out + p.fill(&s.Fill)
	case StepLoops:
		return "in " + loopWord(s.Loop)
	case StepStanding:
		return p.standing(s.Standing())
	case StepDoNot:
		return p.doNot(s)
	}
	if y := s.Yarn(); y.Written() {
		return "fasten off " + p.yarn(y.Text)
	}
	return "fasten off"
}

// stitch prints a stitch by the glossary's abbreviation in the file's terms;
// the pattern's own and unknown ones as they are written. A cluster whose legs
// are not said is left so: the pattern's may have more or fewer.
func (p *printer) stitch(r Ref) string {
	written := spaced(r.Text)
	k := terms.Key(r.Text)
	s := r.Known(p.sys)
	if s == nil || p.own[k] || p.own[strings.TrimSuffix(k, "s")] {
		return written
	}
	abbr := s.Abbr(p.sys)
	switch {
	case p.own[terms.Key(abbr)]:
		return written
	case s.Kind == terms.Cluster && isDigit(abbr[0]) && !isDigit(written[0]):
		return strings.ToLower(written)
	}
	return abbr
}

// stitches prints more than one of a stitch: an abbreviation stays as it is,
// a word such as shell or picot takes an s.
func (p *printer) stitches(r Ref, many bool) string {
	out := p.stitch(r)
	if s := r.Known(p.sys); many && s != nil && (s.Kind == terms.Group || s.Kind == terms.Picot) && out == s.Abbr(p.sys) {
		return out + "s"
	}
	return out
}

func loopWord(l Loop) string {
	switch l {
	case LoopBack:
		return "BLO"
	case LoopFront:
		return "FLO"
	case LoopBump:
		return "back bump"
	}
	return "both loops"
}

// work prints stitches: sc 3, 3 sc, BLO sc in next 3 sts, 2 sc in each st around.
func (p *printer) work(s *Step) string {
	var out []string
	add := func(words ...string) { out = append(out, words...) }
	loop := ""
	if s.Loop != LoopUnsaid {
		loop = loopWord(s.Loop)
	}
	if loop != "" && s.LoopSpan().Start < s.Stitch.Start {
		add(loop)
		loop = ""
	}
	if s.Before {
		add(p.digits(s.Count))
	}
	add(p.stitches(s.Stitch, s.Before && s.Count.N != 1))
	if !s.Before && s.Count.Written() {
		if p.ahead(s.Count.Span).is(KeyX) || p.behind(s.Count.Span).is(KeyX) || p.first(s.Count.Span).Kind == TimesWord {
			add("x")
		}
		add(p.digits(s.Count))
		if t := p.behind(s.Count.Span); s.Evenly && t.is(KeySt) {
			add(p.spell(t, s.Count.N != 1))
		}
	}
	if loop != "" && len(s.Places) > 0 && s.LoopSpan().Start < s.Places[0].Span.Start {
		add(loop)
		loop = ""
	}
	if s.Tog {
		add("together")
	}
	if s.Evenly {
		add("evenly")
	}
	if loop != "" && len(s.Places) == 0 {
		add("in", loop)
		loop = ""
	}
	line := strings.Join(out, " ") + p.places(s.Places)
	if loop != "" && s.LoopSpan().Start < s.Fill.Span.Start {
		line += " in " + loop
		loop = ""
	}
	line += p.fill(&s.Fill)
	if loop != "" {
		line += " in " + loop
	}
	if s.Standing() != nil {
		line += " " + p.standing(s.Standing())
	}
	return line
}

// height is how deep brackets nest in steps.
func height(list []Step) int {
	h := 0
	for i := range list {
		if g := list[i].Group; g != nil {
			n := height(g.Steps)
			if list[i].Kind == StepBracket {
				n++
			}
			h = max(h, n)
		}
	}
	return h
}

// bracket prints "(…) x 6", "(…) in next st", "(…) around". Brackets that nest
// are [ ] and ( ) in turn, the innermost ( ).
func (p *printer) bracket(s *Step) string {
	g := s.Group
	out := "(" + p.steps(g.Steps) + ")"
	if height(g.Steps)%2 == 1 {
		out = "[" + out[1:len(out)-1] + "]"
	}
	loop := ""
	switch {
	case s.Loop == LoopUnsaid:
	case s.LoopSpan().Start < g.Inner.Start:
		out = loopWord(s.Loop) + " " + out
	default:
		loop = " in " + loopWord(s.Loop)
	}
	switch g.Times.Kind {
	case TimesNone:
	case TimesFill:
		out += p.fill(&g.Times.Fill)
	default:
		out += " x " + p.digits(g.Times.Count)
	}
	if len(s.Places) > 0 && s.LoopSpan().Start > s.Places[0].Span.Start {
		out += p.places(s.Places) + loop
	} else {
		out += loop + p.places(s.Places)
	}
	if s.Standing() != nil {
		out += " " + p.standing(s.Standing())
	}
	return out
}

// star prints "*…; rep from * …".
func (p *printer) star(s *Step) string {
	g := s.Group
	out := "*" + p.steps(g.Steps)
	if n := g.Stop; n == 0 {
		out = "* **, " + p.steps(g.Steps)
	} else if n > 0 {
		out = "*" + p.steps(g.Steps[:n]) + "**"
		if n < len(g.Steps) {
			out += p.between(&g.Steps[n-1], &g.Steps[n]) + p.steps(g.Steps[n:])
		}
	}
	out += "; rep from *"
	x := &g.Times
	n := p.digits(x.Count)
	times := n + " times"
	if x.Count.N == 1 {
		times = n + " time"
	}
	switch {
	case x.Kind == TimesFill:
		out += p.fill(&x.Fill)
	case x.Kind == TimesMore && x.Count.N == 1:
		out += " once more"
	case x.Kind == TimesMore && x.Count.N == 2:
		out += " twice more"
	case x.Kind == TimesMore:
		out += " " + n + " more times"
	case x.Kind == TimesTotal:
		out += " " + times + " in total"
	default:
		out += " " + times
	}
	if g.EndAt {
		out += ", ending last rep at **"
	}
	return out
}

func (p *printer) skip(s *Step) string {
	if len(s.Places) == 0 {
		return "sk " + p.digits(s.Count)
	}
	return "sk " + p.place(&s.Places[0])
}

// leave prints "leave remaining 4 sts unworked", or "next" or "last" where that
// is written.
func (p *printer) leave(s *Step) string {
	toks := p.said(s)
	which, unit := "remaining", "sts"
	if s.Count.N == 1 {
		unit = "st"
	}
	for i, t := range toks[1:] {
		switch {
		case t.is(KeyNext) && i == 0, t.is(KeyLast) && i == 0:
			which = Key(t.Value).String()
		case t.is(KeyRemaining), t.is(KeyUnworked), t.is(KeyNext), t.is(KeyLast), t.Kind == Number:
		case t.Kind == Term || t.Kind == Word || t.Kind == ChSpace || t.Kind == Keyword && !t.is(KeySt):
			unit = p.spell(t, s.Count.N != 1)
		}
	}
	if s.Count.Written() {
		unit = p.digits(s.Count) + " " + unit
	}
	return "leave " + which + " " + unit + " unworked"
}

// join prints the many ways to join.
func (p *printer) join(s *Step) string {
	toks := p.said(s)
	if !toks[0].is(KeyJoin) && !toks[0].is(KeyFormRing) { // sl st to join
		if s.Form {
			return p.work(s) + " to form ring"
		}
		return p.work(s) + " to join"
	}
	out, form := "join", s.Form
	if toks[0].is(KeyFormRing) {
		out, form = "form ring", false
	}
	switch {
	case s.Yarn().Written():
		out += " " + p.yarn(s.Yarn().Text)
	case has(toks, KeyYarn):
		out += " yarn"
	}
	if s.Stitch.Written() {
		out += " with " + p.stitch(s.Stitch)
	}
	for i := range s.Places {
		x := &s.Places[i]
		if x.Kind == PlacePiece {
			out += " to " + x.Of().Text
			continue
		}
		before := p.ahead(x.Span)
		slips := s.Stitch.Phrase > 0 && isKind(s.Stitch.Phrase-1, terms.Slip)
		switch {
		case before.is(KeyTo), slips && !s.Yarn().Written() && before.is(KeyIn) && x.Kind != PlaceRing && x.Kind != PlaceMagicRing:
			out += " to "
		case before.is(KeyOver), before.is(KeyAround):
			out += " " + p.spell(before, false) + " "
		default:
			out += " in "
		}
		out += p.place(x)
	}
	if s.Rounds() != nil {
		row := p.first(s.Rounds().Span).is(KeyRow)
		out += " between " + p.rounds(row, s.Rounds().From, s.Rounds().To, " and ")
	}
	if form {
		out += " to form ring"
	}
	return out
}

func (p *printer) repeat(s *Step) string {
	x := s.Rounds()
	toks := p.in(s.Span)
	if x.Last {
		word := KeyRnd.String()
		if has(toks, KeyRow) {
			word = KeyRow.String()
		}
		if !x.From.Written() {
			return "rep last " + word
		}
		if x.From.N != 1 {
			word += "s"
		}
		return "rep last " + p.digits(x.From) + " " + word
	}
	word := "as "
	if has(toks, KeyRep) {
		word = "rep "
	}
	return word + p.rounds(has(toks, KeyRow), x.From, x.To, "-")
}

// otherSide prints "working along other side of ch", or of what is named.
func (p *printer) otherSide(s *Step) string {
	toks := p.said(s)
	name := "ch"
	for i, t := range toks {
		if t.is(KeyOf) && i+1 < len(toks) {
			last := toks[len(toks)-1]
			if !isChain(last) && !last.is(KeyTurningCh) {
				name = spaced(Span{toks[i+1].Start, last.End}.In(p.text))
			}
			break
		}
	}
	return "working along other side of " + name
}

// yarnOrMarker prints "with B", "change to B", "pm" and "move marker", with
// where that is done.
func (p *printer) yarnOrMarker(s *Step) string {
	out := p.spell(p.said(s)[0], false)
	if s.Kind == StepYarn {
		out += " " + p.yarn(s.Yarn().Text)
	}
	for i := range s.Places {
		out += " in " + p.place(&s.Places[i])
	}
	return out
}

func (p *printer) doNot(s *Step) string {
	toks := p.said(s)
	out := "do not"
	if strings.EqualFold(toks[0].In(p.text), "without") {
		out = "without"
	}
	for _, t := range toks[1:] {
		out += " " + p.spell(t, false)
	}
	return out
}

// standing prints "(counts as dc and ch 1)", "(skipped 3 ch count as dc)".
func (p *printer) standing(x *Standing) string {
	toks := p.in(x.Span)
	out, verb := "(", "counts"
	if x.Skipped {
		out, verb = "(skipped ", "count"
		for i, t := range toks {
			if t.is(KeySkipped) {
				out += p.skippedWhat(toks[i+1:])
			}
		}
	}
	switch {
	case x.Not && x.Skipped:
		verb = "do not count"
	case x.Not:
		verb = "does not count"
	}
	out += verb
	as := -1
	for i, t := range toks {
		if t.is(KeyAs) {
			as = i
		}
	}
	chains := ""
	if x.Chains.Written() {
		chains = "ch sp"
		if x.Chains.N > 0 {
			chains = "ch " + p.digits(x.Chains)
		}
	}
	switch {
	case as < 0:
	case x.As.Written():
		out += " as " + p.stitch(x.As)
	case has(toks[as:], KeySt):
		out += " as a st"
	case chains != "":
		out += " as " + chains
		chains = ""
	}
	if chains != "" {
		out += " and " + chains
	}
	switch {
	case !has(toks, KeyThroughout):
	case strings.HasSuffix(out, "counts"): // "counts here" is a word of its own
		out += " throughout"
	default:
		out += " " + KeyThroughout.String()
	}
	return out + ")"
}

// skippedWhat prints "3 ch " from behind "skipped".
func (p *printer) skippedWhat(toks []Token) string {
	out := ""
	if len(toks) > 0 && toks[0].Kind == Number {
		out, toks = p.spell(toks[0], false)+" ", toks[1:]
	}
	switch {
	case len(toks) > 0 && isChain(toks[0]):
		out += "ch "
	case len(toks) > 0 && toks[0].is(KeySt):
		out += p.spell(toks[0], p.writtenMany(toks[0])) + " "
	}
	return out
}
