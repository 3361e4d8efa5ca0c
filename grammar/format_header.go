package grammar

import (
	"strconv"
	"strings"
)

// length prints a measure: its digits as they are written, "3.0 mm".
func (p *printer) length(l Length) string {
	s := l.In(p.text)
	i := 0
	for i < len(s) && (isDigit(s[i]) || s[i] == '.') {
		i++
	}
	s = strings.TrimRight(s[:i], ".")
	if v, err := strconv.ParseFloat(s, 64); err != nil || v != l.Value {
		s = strconv.FormatFloat(l.Value, 'f', -1, 64)
	}
	return s + " " + l.Unit
}

// gauge prints "24 sts x 26 rnds = 10 cm in sc, uses 9.5 m".
func (p *printer) gauge(n *Gauge) string {
	out := ""
	if n.Sts.Written() {
		named := p.behind(n.Sts.Span)
		if !named.is(KeySt) && named.Start != n.Stitch.Start { // a stitch is named twice
			return p.tidy(n.Span)
		}
		out = p.digits(n.Sts) + " sts"
		if n.Sts.N == 1 {
			out = p.digits(n.Sts) + " st"
		}
	}
	if n.Rnds.Written() {
		if out != "" {
			out += " x "
		}
		out += p.digits(n.Rnds) + " " + p.spell(p.behind(n.Rnds.Span), n.Rnds.N != 1)
	}
	switch {
	case n.Over.Value == n.Down.Value && n.Over.Unit == n.Down.Unit:
		out += " = " + p.length(n.Over)
	case n.Over.Unit == n.Down.Unit:
		over := p.length(n.Over)
		out += " = " + strings.TrimSuffix(over, " "+n.Over.Unit) + " x " + p.length(n.Down)
	default:
		out += " = " + p.length(n.Over) + " x " + p.length(n.Down)
	}
	if n.Stitch.Written() {
		out += " in " + p.stitch(n.Stitch)
	}
	if n.Uses.Written() {
		out += ", uses " + p.length(n.Uses)
	}
	return out
}

// hook prints "E-4 (3.5 mm)" or a part of it, and as it is written what says more.
func (p *printer) hook(h *Hook, whole Span) string {
	size := h.Size.Span
	for _, t := range p.in(whole) {
		switch {
		case h.Letter.holds(t), size.holds(t):
		case t.Kind == Open, t.Kind == Close, t.Kind == Comma, t.Kind == Slash, t.Kind == Equals, t.is(KeyHook):
		default:
			return p.tidy(whole)
		}
	}
	letter := plainly(h.Letter.Text)
	switch {
	case strings.EqualFold(letter, "steel"):
		return p.tidy(whole)
	case letter == "":
		return p.length(h.Size)
	case !size.Written():
		return letter
	}
	return letter + " (" + p.length(h.Size) + ")"
}

func (p *printer) turningChain(n *TurningChain) string {
	if n.All {
		if n.Not {
			return "does not count"
		}
		return "counts"
	}
	rules := make([]string, 0, len(n.Rules))
	for i, r := range n.Rules {
		verb := " counts"
		switch {
		case r.Not && i == 0:
			verb = " does not count"
		case r.Not:
			verb = " does not"
		}
		rules = append(rules, p.stitch(r.Stitch)+verb)
	}
	return strings.Join(rules, ", ")
}

// notion prints "2 safety eyes, 6 mm", and what is said behind the size.
func (p *printer) notion(n *Notion) string {
	whole := Span{n.Thing.Start, n.Span.End}
	out := ""
	if n.Count.Written() {
		out = p.digits(n.Count) + " "
	}
	if !n.Size.Written() {
		return out + p.tidy(whole)
	}
	rest := Span{n.Size.End, n.Span.End}
	if toks := p.in(rest); len(toks) > 0 && toks[0].Kind == Close {
		rest.Start = toks[0].End
	}
	out += p.tidy(n.Thing.Span) + ", " + p.length(n.Size)
	switch more := p.tidy(rest); {
	case more == "":
	case strings.ContainsAny(more[:1], ",;."):
		out += more
	default:
		out += " " + more
	}
	return out
}

// ownStitch prints "bob (bobble) = 5 dc together in one st" and "spike sc, takes 1, makes 1".
func (p *printer) ownStitch(n *OwnStitch) string {
	out := spaced(n.Abbr.Text)
	if n.Full.Written() {
		out += " (" + spaced(n.Full.Text) + ")"
	}
	if len(n.Steps) > 0 {
		return out + " = " + p.steps(n.Steps)
	}
	if n.Takes.Written() {
		out += ", takes " + p.digits(n.Takes)
	}
	if n.Makes.Written() {
		out += ", makes " + p.digits(n.Makes)
	}
	return out
}

func (p *printer) with(n *With) string {
	var items []string
	for _, y := range n.Yarns {
		items = append(items, p.yarn(y.Text))
	}
	if n.Hook != nil {
		items = append(items, "hook "+p.hook(n.Hook, Span{}))
	}
	return strings.Join(items, ", ")
}

func (p *printer) wheres(list []Where) string {
	out := ""
	for i := range list {
		x := &list[i]
		if x.Kind == WhereFree {
			if x.Text.Written() {
				out += "; " + p.tidy(x.Text.Span)
			}
			continue
		}
		out += ", "
		if strings.HasPrefix(strings.ToLower(x.In(p.text)), "about") {
			out += "about "
		}
		out += p.where(x)
	}
	return out
}

func (p *printer) where(x *Where) string {
	sts := p.digits(x.Count) + " sts"
	if x.Count.N == 1 {
		sts = p.digits(x.Count) + " st"
	}
	switch x.Kind {
	case WhereBetween:
		return "between " + p.rounds(x.Row, x.From, x.To, " and ")
	case WhereOver:
		return "over " + p.rounds(x.Row, x.From, x.To, "-")
	case WhereAt:
		return "at " + p.rounds(x.Row, x.From, x.To, "-")
	case WhereApart:
		return sts + " apart"
	case WhereAcross:
		return "across " + sts
	case WhereInLine:
		return "in line with " + tight(x.Part.Text)
	case WhereSide:
		return "at " + strings.ToLower(plainly(x.Text.Text))
	case WhereCentred:
		return "centred"
	case WhereEvenly:
		return "evenly"
	}
	return "open edge"
}
