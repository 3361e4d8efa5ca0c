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
	h := hearingOf(c.heard(), c.Pattern)
	w := walk{facts: newFacts(c.Pattern, h), found: new([]Finding), now: &Checked{Pattern: c.Pattern, opts: Options{NoFixes: true}}}
	w.run(c.Pattern, &keptChecks{list: c.pieces}, everywhere)
	seams := make([]Seam, len(w.facts.all))
	for i := range w.facts.all {
		p := &w.facts.all[i]
		times, known := p.sewnTimes(h, true)
		seams[i] = Seam{Sewn: len(p.sewn) > 0, Open: !known, Times: times}
	}
	w.facts.release()
	c.hearing.Store(h)
	return seams
}
