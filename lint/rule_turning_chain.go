package lint

import (
	"fmt"
	"slices"

	"workeven/fabric"
	"workeven/grammar"
)

var _ = declare(Rule{
	Name:     "turning-chain",
	Severity: Warning,
	Summary:  "A starting chain that does not suit its stitch, or counts in one row and not in another",
	Why: "A starting chain lifts the hook to the height of the first stitch, and stands for that stitch or does not. Too short, it pulls the edge in; counted here and not there, " +
		"or counted with its first stitch worked into as well, it makes the piece a stitch wider or narrower in every row.",
	Repair: "The length that suits the stitch, or the note that says what the chain stands for.",
	Bad:    "Piece: Strap\nWorked: in rows\nRow 1: ch 14, dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across (12)\nRow 2: ch 1 (counts as dc), turn, dc in next 11 sts (12)\n",
	Good:   "Piece: Strap\nWorked: in rows\nRow 1: ch 14, dc in 4th ch from hook (skipped 3 ch count as dc), dc in each ch across (12)\nRow 2: ch 3 (counts as dc), turn, dc in next 11 sts (12)\n",
	Start: func(p *Pass) Visits {
		t := turningChain{p}
		return Visits{Round: t.round, End: t.compare, Reads: readsShapes}
	},
})

type turningChain struct{ *Pass }

// chainUse is a round whose starting chain is held against those before it.
type chainUse struct {
	round *fabric.Round
	// late is set where its part had a chain, not only skipped ones, before the
	// same stitch further up.
	late bool
}

func (t turningChain) round(piece *fabric.Piece, r *fabric.Round) {
	s := r.Stands
	if !s.Present || s.Stitch == nil || s.Stitch.Of == nil || s.Stitch.Of.Height == 0 || !s.Span.Written() {
		return
	}
	if slices.ContainsFunc(r.Node.Steps, func(s grammar.Step) bool { return s.Kind == grammar.StepRepeat }) {
		return // its chain stands in the round that it repeats
	}
	for _, x := range r.Problems {
		if x.Counting() || x.Kind == fabric.TwoReadings && overlaps(x.Span, s.Span) {
			return // what the chain stands for is asked there already
		}
	}
	at := lineOf(piece, r)
	if t.unsuited(at, r) || t.drifts(at, r) {
		return
	}
	t.note(r)
}

// note keeps a round for comparing, unless its part has one already that stands
// for the same under the same conditions: one finding a part is enough.
func (t turningChain) note(r *fabric.Round) {
	part, s := t.facts().cur, r.Stands
	late := false
	for _, x := range part.chains {
		was := x.round.Stands
		late = late || was.Stitch == s.Stitch && !was.Skipped
	}
	for _, x := range part.chains {
		was := x.round.Stands
		was.Span = s.Span
		if was == s && x.late == late {
			return
		}
	}
	part.chains = append(part.chains, chainUse{r, late})
}

// compare holds the chains of the file against how each stitch's was first taken.
func (t turningChain) compare() {
	type standing struct {
		at    int
		round *fabric.Round
	}
	first := map[*fabric.Stitch]standing{}
	for _, part := range t.facts().parts {
		told := map[*fabric.Stitch]bool{}
		for _, x := range part.chains {
			r, s := x.round, x.round.Stands
			at := lineOf(part.piece, r)
			was, seen := first[s.Stitch]
			if !seen || was.round.Stands.Skipped && !s.Skipped {
				first[s.Stitch] = standing{at, r} // a chain tells more than skipped ones
			}
			if !seen || told[s.Stitch] {
				continue
			}
			if m := sayUnlike(was.round, r); m != "" {
				told[s.Stitch] = true
				f := t.Report(at, s.Span, m)
				f.Related = append(f.Related, t.related(was.at, was.round.Stands.Span, sayChainThere(was.round.Stands)))
			}
		}
	}
}

// rise is the part of a starting chain that lifts the work, without the space
// that it makes besides.
func rise(s fabric.StandingChain) int64 { return s.Chains - s.Space }

func overlaps(a, b grammar.Span) bool { return a.Start < b.End && b.Start < a.End }

// unsuited reports a chain of the wrong length: more than one chain short of
// what tables of turning chains give for its stitch, or, where it makes no
// space besides, longer.
func (t turningChain) unsuited(at int, r *fabric.Round) bool {
	s, suits := r.Stands, int64(r.Stands.Stitch.Of.Height)
	short := rise(s) < suits-1 || suits == 1 && rise(s) < 1
	long := rise(s) > suits && !s.Skipped && s.Said
	if !short && !long {
		return false
	}
	f := t.Report(at, s.Span, saySuits(r, suits))
	if c := chainCount(r.Node.Steps); c.Written() && !s.Skipped && int64(c.N) == s.Chains {
		f.Fixes = t.rightLength(at, c, suits)
	}
	return true
}

func (t turningChain) rightLength(at int, c grammar.Count, suits int64) []Fix {
	new := fmt.Sprint(suits)
	return []Fix{fix(sayChange("ch "+counted(c), "ch "+new), false, t.edit(at, c.Span, new))}
}

// chainCount is the number of the chain that a round starts with.
func chainCount(steps []grammar.Step) grammar.Count {
	for i := range steps {
		switch steps[i].Kind {
		case grammar.StepTurn, grammar.StepYarn, grammar.StepMarker, grammar.StepLoops, grammar.StepJoin:
		case grammar.StepWork:
			return steps[i].Count
		default:
			return grammar.Count{}
		}
	}
	return grammar.Count{}
}

// drifts reports a row that grows or shrinks by its starting chain without a
// total to show that it is meant.
func (t turningChain) drifts(at int, r *fabric.Round) bool {
	if !r.Node.Row || r.Node.Total != nil || r.Stands.Skipped {
		return false
	}
	steps := r.Node.Steps
	for i := range steps {
		s := &steps[i]
		first := len(s.Places) > 0 && s.Places[0].Kind == grammar.PlaceFirst
		switch s.Kind {
		case grammar.StepTurn, grammar.StepYarn, grammar.StepMarker, grammar.StepLoops, grammar.StepStanding:
			continue
		case grammar.StepSkip:
			if first && !r.Stands.Counted {
				t.Report(at, s.Span, sayLosesOne(r))
				return true
			}
		case grammar.StepWork:
			if known := t.Pattern.Find(s.Stitch); known != nil && known.Of != nil && known.Of.ID == "ch" {
				continue
			}
			if first && r.Stands.Counted && s.Count.N == 1 {
				t.Report(at, s.Span, sayGainsOne(r))
				return true
			}
		}
		return false
	}
	return false
}

func saySuits(r *fabric.Round, suits int64) string {
	s := r.Stands
	name := s.Stitch.Name
	if s.Skipped {
		skips, its := "skips", "its"
		if several(r) {
			skips, its = "skip", "their"
		}
		return fmt.Sprintf("%s %s %s before %s first %s, which is as tall as %s", r.Name(), skips, Number(int(s.Chains), "chain", "chains"), its, name, Number(int(suits), "chain", "chains"))
	}
	if s.Chains < suits {
		return fmt.Sprintf("ch %d is too short for %s, which is as tall as %s: the edge will pull in", s.Chains, name, Number(int(suits), "chain", "chains"))
	}
	return fmt.Sprintf("ch %d is too tall for %s, which is as tall as %s; if it makes a space besides, say so", s.Chains, name, Number(int(suits), "chain", "chains"))
}

// sayUnlike says how a round's starting chain is at odds with an earlier one
// before the same stitch; empty where it is not. A shorter chain that does not
// count, where a longer one does, begins a decrease and is let pass if said.
func sayUnlike(was, now *fabric.Round) string {
	a, b := was.Stands, now.Stands
	name := b.Stitch.Name
	switch {
	case a.Counted != b.Counted && (rise(a) == rise(b) || !a.Said || !b.Said):
		m := fmt.Sprintf("the chain before %s %s as a stitch in %s, and %s in %s", name, sayCounts(a.Counted), was.Name(), sayCounts(b.Counted), now.Name())
		if !b.Said {
			m += ", where nothing is said"
		}
		return m
	case a.Counted == b.Counted && rise(a) != rise(b) && !a.Skipped && !b.Skipped:
		begins := "begins"
		if several(was) {
			begins = "begin"
		}
		return fmt.Sprintf("%s %s with ch %d before %s, %s with ch %d", was.Name(), begins, rise(a), name, now.Name(), rise(b))
	}
	return ""
}

func sayCounts(counted bool) string {
	if counted {
		return "counts"
	}
	return "does not count"
}

func sayChainThere(s fabric.StandingChain) string {
	if s.Skipped {
		return fmt.Sprintf("the skipped chains: %s", sayCounts(s.Counted))
	}
	return fmt.Sprintf("ch %d: %s", s.Chains, sayCounts(s.Counted))
}

func sayLosesOne(r *fabric.Round) string {
	return fmt.Sprintf("the starting chain of %s does not count as a stitch, and the first stitch is skipped: such rows lose one each", r.Name())
}

func sayGainsOne(r *fabric.Round) string {
	return fmt.Sprintf("the starting chain of %s counts as its first stitch, and that stitch is worked into as well: such rows gain one each", r.Name())
}
