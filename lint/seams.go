package lint

// Seam is how often the making up sews a piece on, in all: to every copy of what
// bears it.
type Seam struct {
	// Sewn is set where it does at all, Open where its words leave the number to
	// the maker: "evenly".
	Sewn, Open bool
	Times      int64
}

// Seams are those of a pattern's pieces, in their order.
func (c *Checked) Seams() []Seam {
	f := c.recall()
	if f == nil { // another has them
		w := walk{facts: newFacts(c.Pattern, nil), found: new([]Finding), now: &Checked{Pattern: c.Pattern, opts: Options{NoFixes: true}}}
		w.run(c.Pattern, &keptChecks{list: c.pieces}, everywhere)
		f = w.facts
	}
	seams := make([]Seam, len(f.all))
	for i := range f.all {
		p := &f.all[i]
		times, known := p.sewnTimes(f.hearing, true)
		seams[i] = Seam{Sewn: len(p.sewn) > 0, Open: !known, Times: times}
	}
	c.facts.Store(f)
	return seams
}
