package fabric

import (
	"workeven/grammar"
	"workeven/grammar/terms"
)

// body is a bracket worked in one place, as if it were one stitch.
type body struct {
	group  *grammar.Group
	stitch *Stitch
}

// groupStep works a bracket or a star.
func (w *worker) groupStep(s *grammar.Step) {
	g := s.Group
	loop := w.loop
	if s.Loop != grammar.LoopUnsaid {
		w.loop = s.Loop
	}
	w.depth++
	switch {
	case len(s.Places) > 0 && g.Times.Kind != grammar.TimesNone && apart(&s.Places[0]):
		w.goTo(&s.Places[0], s.Span)
		if !w.dead {
			w.repeatTimes(s, w.timesOf(s))
		}
	case len(s.Places) > 0:
		w.inPlaces(s, w.asStitch(s), 1)
	case g.Times.Kind == grammar.TimesFill:
		w.repeatFill(s)
	default:
		w.repeatTimes(s, w.timesOf(s))
	}
	w.depth--
	w.loop = loop
}

// apart says whether a place is a run of stitches somewhere else, rather than
// one place that all of a bracket goes into.
func apart(p *grammar.Place) bool {
	return p.Kind == grammar.PlaceFree || p.Kind == grammar.PlaceUnworked || p.Kind == grammar.PlaceOther || p.Of().Written()
}

// timesOf is how often a repeat with a count is worked in all.
func (w *worker) timesOf(s *grammar.Step) int64 {
	n := int64(s.Group.Times.Count.N)
	switch s.Group.Times.Kind {
	case grammar.TimesMore:
		return n + 1
	case grammar.TimesUnclear:
		all := n + 1
		more := w.p.sayMoreTimes(n)
		if w.alt {
			all, more = n, w.p.sayTimesInAll(n)
		}
		w.problem(Problem{Kind: TwoReadings, Span: s.Group.Times.Span, Message: w.p.sayTimesUnclear(n),
			Plain: []Repair{{Span: s.Group.Times.Span, New: more, Title: w.p.sayWrite(more)}}})
		return all
	}
	return n
}

// asStitch is what a bracket leaves when it is worked in one place.
func (w *worker) asStitch(s *grammar.Step) *Stitch {
	for _, b := range w.bodies {
		if b.group == s.Group {
			return b.stitch
		}
	}
	st := &Stitch{Name: s.Group.Inner.In(w.text), Takes: 1, Leaves: []Item{}}
	times := int64(1)
	if s.Group.Times.Kind == grammar.TimesTotal {
		times = w.timesOf(s)
	}
	st.within = w.withinOf(s.Group.Steps, times, nil)
	for ; times > 0 && !w.dead; times-- {
		st.Leaves = w.leavesOf(s.Group.Steps, st.Leaves)
		if len(st.Leaves) > maxItems {
			w.tooLong()
		}
		if len(st.Leaves) == 1 && times > 1 {
			st.Leaves[0].N *= times
			break
		}
	}
	for _, i := range st.Leaves {
		if i.Kind == Stitches {
			st.Makes += i.N
		}
	}
	w.bodies = append(w.bodies, body{s.Group, st})
	return st
}

// withinOf counts the stitches among steps that leave none or several on the
// edge, such as picots and shells; a chain and a slip stitch back are a picot.
func (w *worker) withinOf(steps []grammar.Step, times int64, into []StitchCount) []StitchCount {
	var before *Stitch
	for i := range steps {
		s := &steps[i]
		switch s.Kind {
		case grammar.StepWork:
			st := w.find(s.Stitch)
			switch {
			case st == nil:
			case st.kind() == terms.Slip && before != nil && before.kind() == terms.Chain:
				into = append(into, StitchCount{w.p.book.picot(), times})
			case st.kind() != terms.Chain && (st.Leaves != nil || st.Makes == 0 && st.Takes == 0):
				into = append(into, StitchCount{st, mul(times, int64(s.Count.N))})
			}
			before = st
		case grammar.StepBracket, grammar.StepStar:
			into = w.withinOf(s.Group.Steps, mul(times, w.timesOf(s)), into)
			before = nil
		}
	}
	return into
}

// leavesOf lists what steps leave that are all worked in one place.
func (w *worker) leavesOf(steps []grammar.Step, items []Item) []Item {
	for i := range steps {
		s := &steps[i]
		switch s.Kind {
		case grammar.StepWork:
			st := w.find(s.Stitch)
			if st == nil {
				continue
			}
			n := int64(s.Count.N)
			switch {
			case st.kind() == terms.Chain:
				items = appendItem(items, Item{Kind: Space, N: 1, Chains: s.Count.N})
			case st.kind() == terms.Slip && len(items) > 0 && items[len(items)-1].Kind == Space:
				items = items[:len(items)-1] // a picot spelled out
			case s.Tog:
				items = appendItem(items, Item{Kind: Stitches, Stitch: st, N: 1})
			case st.Leaves != nil:
				for range min(n, 100) {
					for _, l := range st.Leaves {
						items = appendItem(items, l)
					}
				}
			default:
				items = appendItem(items, Item{Kind: Stitches, Stitch: st.on(w.mainStitch), N: n * st.Makes})
			}
		case grammar.StepBracket, grammar.StepStar:
			times := min(w.timesOf(s), 1000)
			inner := w.leavesOf(s.Group.Steps, []Item{})
			for range times {
				for _, l := range inner {
					items = appendItem(items, l)
				}
				if len(items) > maxItems {
					w.tooLong()
					return items
				}
			}
		}
	}
	return items
}

// repeatTimes works a repeat a number of times. Repeats that do the same along
// a run of like stitches are multiplied, not walked.
func (w *worker) repeatTimes(s *grammar.Step, n int64) {
	if g := s.Group; g.EndAt && g.Stop >= 0 && n > 0 {
		n--
		defer func() { w.run(g.Steps[:g.Stop]) }()
	}
	for done := int64(0); done < n && !w.dead && !(w.bound > 0 && w.demand != met); {
		before := w.save()
		w.run(s.Group.Steps)
		done++
		if done < n && w.bound == 0 {
			done += w.multiply(before, n-done, 0)
		}
	}
}

// multiply takes a repeat that was just worked once as worked up to most times
// more, where it does the same each time; limit stitches are to be left. It
// says how many times that was.
func (w *worker) multiply(before snapshot, most, limit int64) int64 {
	if w.dead || w.local != before.local || most <= 0 || w.uses != before.uses || w.turns != before.turns {
		return 0
	}
	k, was := &w.main, &before.main
	if w.local != nil {
		k, was = w.local, &before.localCopy
	}
	took, got := w.takes-before.takes, w.gained-before.gained
	times := int64(0)
	switch {
	case k.i == was.i && k.off == was.off && len(k.items) == len(was.items) && (k.endless || got == 0):
		times = most // nothing below to run out of, or nothing left of it
	case was.i < len(was.items) && was.items[was.i].Kind != Space && took > 0 && took == got && sameRun(was, k, took):
		room := was.items[was.i].N - was.off - took
		room -= max(limit-(k.left-room), 0)
		times = min(max(room, 0)/took, most)
	}
	if most := max(took, w.makes-before.makes, 1); times > manyStitches/most {
		w.tooLong()
		return 0
	}
	if times <= 0 || !w.repeatOut(before, times) {
		return 0
	}
	w.takes += took * times
	w.gained += got * times
	w.over += (w.over - before.over) * times
	w.freed += (w.freed - before.freed) * times
	for i := range w.groups {
		was := int64(0)
		if i < len(before.groups) {
			was = before.groups[i].N
		}
		w.groups[i].N += (w.groups[i].N - was) * times
	}
	if got > 0 && !k.endless {
		k.advance(took * times)
		k.left -= took * times
	}
	return times
}

// sameRun says whether a walk moved took stitches within one run.
func sameRun(was, now *walk, took int64) bool {
	if len(was.items) != len(now.items) || was.items[was.i].N-was.off < took {
		return false
	}
	return now.i == was.i && now.off == was.off+took || now.i == was.i+1 && now.off == 0 && was.off+took == was.items[was.i].N
}

// repeatOut appends what was made since a snapshot so many times more.
func (w *worker) repeatOut(before snapshot, times int64) bool {
	var delta []Item
	if n := len(before.out); n > 0 {
		last := w.out[n-1]
		last.N -= before.lastN
		delta = appendItem(delta, last)
	}
	for _, i := range w.out[len(before.out):] {
		delta = appendItem(delta, i)
	}
	if len(delta) == 0 {
		return true
	}
	if len(delta) == 1 {
		i := delta[0]
		i.N *= times
		w.put(i)
		return true
	}
	if times > maxItems/int64(len(delta)) {
		w.tooLong()
		return false
	}
	for range times {
		for _, i := range delta {
			w.put(i)
		}
	}
	return true
}

// repeatFit is what is known of a repeat that does not come out.
type repeatFit struct {
	span         grammar.Span
	avail        int64
	takes, makes int64
	// spaces is set where it runs out of chain spaces, of which it works into so
	// many each time; ahead is how many there are for it.
	spaces      bool
	each, ahead int64
}

// repeatFill works a repeat as often as the edge allows, which must come out exactly.
func (w *worker) repeatFill(s *grammar.Step) {
	g, fill := s.Group, &s.Group.Times.Fill
	if !w.hasSource() {
		w.nothingBelow(s.Span)
		return
	}
	if w.source().endless {
		w.run(g.Steps)
		w.unknown = true
		return
	}
	limit, spaces := int64(fill.Left().N), int64(0)
	if fill.Unit().Kind == grammar.UnitSpace {
		limit, spaces = 0, limit
	}
	chains := fill.Unit().Chains
	if g.Ending > 0 && fill.Kind != grammar.FillToLast {
		limit, spaces, chains = w.endingTakes(w.rest[:min(int(g.Ending), len(w.rest))])
	}
	fit := repeatFit{span: s.Span, avail: w.source().left - limit, ahead: w.source().spacesAhead(chains) - spaces}
	for reps := 0; !w.dead; reps++ {
		k := w.source()
		if spaces > 0 && k.spacesAhead(chains) <= spaces {
			return
		}
		if k.left == limit && (limit > 0 || k.i >= len(k.items)) {
			return
		}
		before := w.save()
		w.demand = met
		w.quiet++
		ended := w.runOnce(g, limit)
		w.quiet--
		if w.dead {
			return
		}
		k = w.source()
		if w.demand == met && k.left >= limit {
			if ended {
				return
			}
			if took := w.takes - before.takes; reps == 0 || fit.takes == 0 {
				fit.takes, fit.makes = took, w.makes-before.makes
			}
			if reps == 0 {
				fit.each = fit.ahead + spaces - k.spacesAhead(chains)
			}
			if k.vague && w.takes == before.takes {
				w.unknown = true // how many spaces there are is not known
				k.left, k.i = 0, len(k.items)
				return
			}
			if w.gained == before.gained {
				w.dead, w.unknown = true, true
				w.problem(Problem{Kind: RepeatDoesNotFit, Span: s.Span, Message: w.p.sayNeverEnds(w.name()), Of: Spoken{Kind: SpokenNothing}})
				return
			}
			if g.Stop < 0 {
				w.multiply(before, manyStitches, limit)
			}
			continue
		}
		why, gained, after := w.demand, w.gained-before.gained, k.left
		if reps == 0 {
			fit.takes, fit.makes = w.takes-before.takes, w.makes-before.makes
		}
		w.restore(before)
		w.demand = met
		if gained == 0 && after == w.source().left && reps > 0 {
			return // nothing of what the repeat begins with is left
		}
		if why == noSpace && reps == 0 {
			w.run(g.Steps) // say which place is not there
			return
		}
		fit.spaces = why == noSpace
		w.doesNotFit(fit)
		w.part(g, limit)
		return
	}
}

// endingTakes is how many stitches what a repeat ends with takes, and into how
// many spaces of which length it is worked. It is worked out on an edge that
// has whatever is asked for.
func (w *worker) endingTakes(ending []grammar.Step) (stitches, spaces int64, chains int32) {
	t := newWorker()
	t.p, t.piece, t.below, t.st, t.label, t.row = w.p, w.piece, w.below, w.st, w.label, w.row
	t.mainStitch, t.text, t.steps, t.uses, t.depth, t.quiet = w.mainStitch, w.text, ending, w.uses, 1, 1
	t.budget = w.budget
	t.main, t.onEdge = walk{items: []Item{{Kind: Stitches, N: manyStitches}}, left: manyStitches, vague: true}, true
	t.run(ending)
	stitches, w.budget = t.takes, t.budget
	t.release()
	for i := range ending {
		for j := range ending[i].Places {
			if p := &ending[i].Places[j]; p.Unit.Kind == grammar.UnitSpace && p.Kind != grammar.PlaceSame {
				spaces, chains = spaces+int64(p.Count.N), p.Unit.Chains
			}
		}
	}
	return stitches, spaces, chains
}

// runOnce works a repeat once. Where it may end at ** and does, the rest is
// left out, and true returned.
func (w *worker) runOnce(g *grammar.Group, limit int64) bool {
	if g.Stop < 0 || !g.EndAt {
		w.run(g.Steps)
		return false
	}
	w.run(g.Steps[:g.Stop])
	if w.demand != met {
		return false
	}
	k := w.source()
	if k.left == limit && (limit > 0 || k.i >= len(k.items)) {
		return true
	}
	// Does a whole further repeat begin? If not, this was the last.
	before := w.save()
	w.run(g.Steps[g.Stop:])
	middle := w.save()
	gained := w.gained
	w.run(g.Steps[:g.Stop])
	last := w.demand != met && w.gained == gained || w.demand != met && before.demand == met && middle.demand != met
	w.restore(before)
	if last {
		w.demand = met
		return true
	}
	w.run(g.Steps[g.Stop:])
	return false
}

// part works a last repeat as far as the stitches go.
func (w *worker) part(g *grammar.Group, limit int64) {
	if limit == 0 {
		w.bound++
		w.quiet++
		w.run(g.Steps)
		w.quiet--
		w.bound--
		w.demand = met
		return
	}
	for i := range g.Steps {
		before := w.save()
		w.quiet++
		w.step(&g.Steps[i], g.Steps[i+1:])
		w.quiet--
		if w.demand != met || w.source().left < limit {
			w.restore(before)
			w.demand = met
			return
		}
	}
}

// doesNotFit reports a repeat that does not come out.
func (w *worker) doesNotFit(f repeatFit) {
	w.misfit = true
	of := Spoken{}
	if f.spaces {
		of.Kind = SpokenSpaces
	}
	w.problem(Problem{Kind: RepeatDoesNotFit, Span: f.span, Message: w.p.sayDoesNotFit(w, f), Of: of})
}

// skip passes stitches, chains or spaces by.
func (w *worker) skip(s *grammar.Step) {
	if !w.hasSource() {
		w.nothingBelow(s.Span)
		return
	}
	n := int64(s.Count.N)
	if len(s.Places) == 0 {
		w.pass(n)
		return
	}
	p := &s.Places[0]
	switch {
	case p.Kind == grammar.PlaceFirst && w.stood:
		if n > 1 {
			w.pass(n - 1)
		}
		w.stood = true
	case p.Unit.Kind == grammar.UnitSpace:
		k := w.source()
		for range min(n, maxSteps) {
			if !k.space(p.Unit.Chains) {
				w.noPlace(p.Span, w.p.sayNoSpace(w, p.Unit.Chains), Spoken{Kind: SpokenSpaces})
				return
			}
			w.gained++
		}
	case p.Unit.Kind == grammar.UnitChain && !w.source().atChains() && w.source().atSpace():
		w.source().space(0)
		w.gained++
	case p.Kind == grammar.PlaceTurning:
		w.pass(1)
	default:
		w.pass(n)
	}
}

// pass uses stitches up without working them.
func (w *worker) pass(n int64) { w.skipped += w.take(n) }
