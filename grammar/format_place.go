package grammar

import (
	"slices"
	"strconv"
	"strings"
)

// places prints where a stitch or a bracket is worked, with a blank before.
func (p *printer) places(list []Place) string {
	out := ""
	for i := range list {
		x := &list[i]
		t := p.first(x.Span)
		switch before := p.ahead(x.Span); {
		case x.Fill.Kind != FillNone && x.Fill.Span.Start < x.Span.Start && x.Of().Written(): // around Leg
			out += p.fill(&x.Fill)
			for _, t := range p.in(Span{x.Span.Start, x.Of().Start}) { // first, both
				out += " " + p.spell(t, false)
			}
			out += " " + x.Of().Text
			continue
		case t.is(KeyAround):
		case before.is(KeyOver):
			out += " over"
		case before.is(KeyTo) && i == 0:
			out += " to"
		case i > 0 && x.Kind == PlaceEach && list[i-1].Kind == PlaceEach && !t.is(KeyEach): // each st and ch-1 sp
			out += " and"
		case i > 0 && !p.first(list[i-1].Span).is(KeyAround):
			out += " and in"
		default:
			out += " in"
		}
		out += " " + p.place(x)
	}
	return out
}

// corner is passed by as the articles are, but tells a maker where a space is.
const corner = "corner"

// place prints a place, from behind its "in".
func (p *printer) place(x *Place) string {
	toks := p.in(x.Span)
	implied := x.Unit.Kind == UnitSt && !x.Unit.Written() && !has(toks, KeyBase)
	var out []string
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		next := Token{}
		if i+1 < len(toks) {
			next = toks[i+1]
		}
		if implied && !opensPlace(t) && !(i == 0 && t.is(KeyAround)) {
			out = append(out, impliedUnit(x, toks))
			implied = false
		}
		switch {
		case x.Of().Written() && t.Start >= x.Of().Start && t.Start < x.Of().End:
			if t.Start == x.Of().Start {
				out = append(out, x.Of().Text)
			}
			continue
		case x.Fill.Written() && t.Start >= x.Fill.Start:
			if t.Start == x.Fill.Start {
				out = append(out, strings.TrimSpace(p.fill(&x.Fill)))
			}
			continue
		case t.Kind == Number && x.Kind == PlaceOne:
			out = append(out, "one")
			continue
		}
		if gap := strings.ToLower(p.text[p.ahead(t.Span).End:t.Start]); slices.Contains(strings.Fields(gap), corner) {
			out = append(out, corner)
		}
		out = append(out, p.spell(t, p.many(toks, i)))
		switch {
		case isLoop(t), t.is(KeyPost) && !x.Unit.holds(t), t.is(KeyTop), t.is(KeyEach):
			if next.is(KeyOf) {
				i++
				next = Token{}
				if i+1 < len(toks) {
					next = toks[i+1]
				}
			}
			if !t.is(KeyEach) && !x.Unit.holds(t) || next.is(KeyNext) || next.is(KeyFirst) || next.is(KeyLast) || next.Kind == Number {
				out = append(out, "of")
			}
		}
	}
	if implied {
		out = append(out, impliedUnit(x, toks))
	}
	return strings.Join(out, " ")
}

func (s Span) holds(t Token) bool { return t.Start >= s.Start && t.Start < s.End }

// opensPlace says whether a token stands before the unit of a place.
func opensPlace(t Token) bool {
	if t.Kind == Number || isLoop(t) {
		return true
	}
	for _, k := range []Key{KeyPost, KeyTop, KeyEach, KeyNext, KeyFirst, KeyLast, KeySame, KeyAny, KeyRemaining, KeyUnworked, KeySkipped} {
		if t.is(k) {
			return true
		}
	}
	return false
}

func impliedUnit(x *Place, toks []Token) string {
	if x.Count.Written() && x.Count.N != 1 || x.Kind == PlaceUnworked && !x.Count.Written() && !has(toks, KeyEach) {
		return "sts"
	}
	return "st"
}

// many says whether the thing that token i names is more than one: by the
// number before it, or as it is written.
func (p *printer) many(toks []Token, i int) bool {
	for j := i - 1; j >= 0; j-- {
		switch t := toks[j]; {
		case t.Kind == Number:
			return t.Value != 1
		case t.is(KeyEach), t.is(KeySame):
			return false
		case t.is(KeyOf), t.is(KeyRemaining), t.is(KeyUnworked), t.is(KeySkipped), t.Kind == Term:
			continue
		}
		break
	}
	return p.writtenMany(toks[i])
}

func (p *printer) writtenMany(t Token) bool {
	return strings.HasSuffix(strings.ToLower(t.In(p.text)), "s")
}

func (p *printer) words(toks []Token, many bool) string {
	out := make([]string, 0, len(toks))
	for _, t := range toks {
		out = append(out, p.spell(t, many))
	}
	return strings.Join(out, " ")
}

// spell prints one token in its canonical spelling.
func (p *printer) spell(t Token, many bool) string {
	s := ""
	if many {
		s = "s"
	}
	switch t.Kind {
	case Number:
		return p.digits(Count{t.Value, t.Span})
	case Ordinal:
		return strconv.Itoa(int(t.Value)) + ordinalEnd(t.Value)
	case ChSpace:
		if t.Value == 0 {
			return "ch sp" + s
		}
		return "ch-" + strconv.Itoa(int(t.Value)) + " sp" + s
	case Term:
		return p.stitches(Ref{t.Value + 1, Name{t.In(p.text), t.Span}}, many)
	case Keyword:
	default:
		return t.In(p.text)
	}
	switch k := Key(t.Value); k {
	case KeySt, KeySp, KeyLoop, KeyPost, KeyBump, KeyRowEnd:
		return k.String() + s
	case KeyFreeLoops:
		return "free loop" + s
	case KeyRnd, KeyRow:
		if n := p.behind(t.Span); n.Kind == Number {
			return strings.ToUpper(k.String()[:1]) + k.String()[1:]
		}
		return k.String() + s
	case KeyBLO, KeyFLO:
		return strings.ToUpper(k.String())
	case KeyOn:
		return "in"
	default:
		return k.String()
	}
}

func ordinalEnd(n int32) string {
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			return "st"
		case 2:
			return "nd"
		case 3:
			return "rd"
		}
	}
	return "th"
}

// fill prints how far a step or repeat goes, with a blank before.
func (p *printer) fill(f *Fill) string {
	switch f.Kind {
	case FillAround:
		return " around"
	case FillAcross:
		return " across"
	case FillEnd:
		return " to end"
	case FillToLast:
		left, unit := f.Left(), f.Unit()
		if !unit.Written() {
			return " to turning ch"
		}
		many := left.N != 1
		if !left.Written() {
			return " to last " + p.words(p.in(unit.Span), many)
		}
		return " to last " + p.digits(left) + " " + p.words(p.in(unit.Span), many)
	}
	return ""
}
