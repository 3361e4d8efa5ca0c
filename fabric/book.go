package fabric

import (
	"strconv"
	"strings"
	"sync"

	"workeven/grammar"
	"workeven/grammar/terms"
)

// book finds stitches by what a pattern calls them: its own first, then the
// glossary in the pattern's terms.
type book struct {
	sys terms.System
	own map[string]*Stitch
	// names are the own stitches' names, to find a likely spelling among.
	names []string
}

// glossary holds the glossary's stitches in one system, made once.
type glossary struct {
	byID map[string]*Stitch
}

var glossaries = [2]func() *glossary{
	sync.OnceValue(func() *glossary { return newGlossary(terms.US) }),
	sync.OnceValue(func() *glossary { return newGlossary(terms.UK) }),
}

func newGlossary(sys terms.System) *glossary {
	g := &glossary{byID: map[string]*Stitch{}}
	for _, t := range terms.Stitches() {
		g.byID[t.ID] = &Stitch{Name: t.Abbr(sys), Of: t, Takes: int64(t.Takes), Makes: int64(t.Makes)}
	}
	for _, s := range g.byID {
		switch s.Of.Kind {
		case terms.Increase, terms.Decrease:
			s.Plain = g.byID[s.Of.Base]
		case terms.Foundation:
			s.Plain = g.byID[s.Of.Base]
		case terms.Group:
			s.Leaves = g.leaves(s.Of.Body)
		}
	}
	return g
}

// leaves works out what the body of a group, in US abbreviations, leaves on
// the edge. Bodies hold plain stitches and chains only.
func (g *glossary) leaves(body string) []Item {
	steps, ok := grammar.ReadSteps(body)
	if !ok {
		return nil
	}
	var items []Item
	for i := range steps {
		t := steps[i].Stitch.Known(terms.US)
		switch {
		case t == nil:
		case t.Kind == terms.Chain:
			items = appendItem(items, Item{Kind: Space, N: 1, Chains: steps[i].Count.N})
		default:
			items = appendItem(items, Item{Kind: Stitches, Stitch: g.byID[t.ID], N: int64(steps[i].Count.N)})
		}
	}
	return items
}

func (b *book) glossary() *glossary { return glossaries[b.sys]() }

// byID is the glossary's stitch in the book's terms.
func (b *book) byID(id string) *Stitch { return b.glossary().byID[id] }

// find resolves a name; nil where no glossary and no definition knows it.
func (b *book) find(r grammar.Ref) *Stitch {
	if len(b.own) > 0 {
		k := terms.Key(r.Text)
		if s := b.own[k]; s != nil {
			return s
		}
		if s := b.own[strings.TrimSuffix(k, "s")]; s != nil {
			return s
		}
	}
	if t := r.Known(b.sys); t != nil {
		return b.byID(t.ID)
	}
	// A word of the other terms is a slip of its own; it still counts as what it names there.
	if t := r.Known(b.sys.Other()); t != nil {
		return b.byID(t.ID)
	}
	return b.together(r.Text)
}

// together reads "dc7tog" and the like, beyond those that the glossary spells out.
func (b *book) together(name string) *Stitch {
	k := strings.ReplaceAll(terms.Key(name), " ", "")
	k, ok := strings.CutSuffix(k, "tog")
	if !ok {
		return nil
	}
	i := len(k)
	for i > 0 && k[i-1] >= '0' && k[i-1] <= '9' {
		i--
	}
	n, err := strconv.Atoi(k[i:])
	base := terms.Find(b.sys, k[:i])
	if err != nil || n < 2 || n > 99 || base == nil {
		return nil
	}
	plain := b.byID(base.ID)
	return &Stitch{Name: k + "tog", Of: b.byID("sc2tog").Of, Takes: int64(n), Makes: 1, Plain: plain}
}

// on is the stitch that stands on the edge after one is worked, given the
// piece's main stitch.
func (s *Stitch) on(main *Stitch) *Stitch {
	switch {
	case s.Plain != nil:
		return s.Plain
	case s.Of != nil && s.Of.Base == "" && (s.Of.Kind == terms.Increase || s.Of.Kind == terms.Decrease):
		return main
	}
	return s
}

// kind is the glossary's kind; an own stitch is a Cluster.
func (s *Stitch) kind() terms.Kind {
	if s.Of == nil {
		return terms.Cluster
	}
	return s.Of.Kind
}

// loop is the loop a stitch goes through: the one said, or its own.
func (s *Stitch) loop(said grammar.Loop) grammar.Loop {
	if said == grammar.LoopUnsaid && s.Of != nil {
		switch s.Of.Loop {
		case terms.BackLoop:
			return grammar.LoopBack
		case terms.FrontLoop:
			return grammar.LoopFront
		}
	}
	return said
}

// base is the plain stitch that another is a form of, or itself.
func (s *Stitch) base(b *book) *Stitch {
	if s.Of != nil && s.Of.Base != "" && s.Of.Kind != terms.Group {
		if p := b.byID(s.Of.Base); p != nil {
			return p
		}
	}
	return s
}

// answers says whether a stitch on the edge is what a place asks for: itself,
// or a form of it, such as a post stitch for its plain one.
func (s *Stitch) answers(asked *Stitch) bool {
	if s == nil || asked == nil || s == asked {
		return true
	}
	return s.Of != nil && asked.Of != nil && s.Of.Base == asked.Of.ID && s.Of.Kind != terms.Group
}
