package fabric

import (
	"fmt"
	"strconv"
	"strings"

	"workeven/grammar"
)

// Every sentence of this package stands in this file, so that a catalogue in
// another language has one place to replace.

func digits(n int64) string { return strconv.FormatInt(n, 10) }

func plural(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return digits(n) + " " + many
}

func sts(n int64) string { return plural(n, "stitch", "stitches") }

func isAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func hasWord(text, word string) bool {
	for _, f := range strings.Fields(strings.ToLower(text)) {
		if f == word {
			return true
		}
	}
	return false
}

// RoundName is "Rnd 5" or "Row 5".
func RoundName(row bool, label int64) string { return RoundWord(row) + " " + digits(label) }

// RoundWord is the word before its number.
func RoundWord(row bool) string {
	if row {
		return "Row"
	}
	return "Rnd"
}

func (w *worker) name() string { return RoundName(w.row, w.label) }

// belowName names what is worked into.
func (w *worker) belowName() string {
	switch {
	case w.freeMain > 0:
		return "the free loops of " + RoundName(w.st.row, w.freeMain)
	case w.chain != nil && (!w.onEdge || w.st.edge == nil):
		return "the chain"
	case w.st.label > 0:
		return RoundName(w.st.row, w.st.label)
	}
	return "the round below"
}

func (w *worker) thing(n int64) string {
	if w.chain != nil && (!w.onEdge || w.st.edge == nil) {
		return plural(n, "chain", "chains")
	}
	return sts(n)
}

func (p *Pattern) sayTooLong(name string) string {
	return name + " is too long to work out: it makes more than any maker could work"
}

func (p *Pattern) sayUnknown(r grammar.Ref) string {
	m := strconv.Quote(r.Text) + " is no stitch of the glossary and is not defined in this pattern"
	if near, ok := p.nearTo(r.Text); ok {
		m += "; was " + strconv.Quote(near) + " meant?"
	}
	return m
}

func (p *Pattern) sayNothingBelow(name string) string {
	return name + " has nothing to work into: begin with a magic ring, a chain or foundation stitches"
}

func (p *Pattern) sayStandingUnsaid(n int32, first *Stitch) string {
	return fmt.Sprintf("makers read a starting ch %d before %s in two ways: it counts as a stitch, or it does not; say which", n, first.Name)
}

func (p *Pattern) saySkippedUnsaid(base *Stitch) string {
	return "makers read chains skipped before " + base.Name + " in two ways: they count as a stitch, or they do not; say which"
}

func (p *Pattern) sayWriteStanding(note string) string { return "write" + note }

func (p *Pattern) sayNoChain(name string) string {
	return name + " works into a chain, but there is no chain here to work into"
}

func (p *Pattern) sayChainShort(nth, has int64) string {
	return fmt.Sprintf("there is no chain %d from the hook: the chain has %s", nth, plural(has, "chain", "chains"))
}

func (p *Pattern) sayNoFoundation(name string) string {
	return name + " works along the other side of a chain, but the piece does not begin with one"
}

func (p *Pattern) sayOtherUsed(name string) string {
	return name + " works along the other side of the chain, which was worked already"
}

func (p *Pattern) sayNoSpace(w *worker, chains int32) string {
	what := "chain space"
	if chains > 0 {
		what = SpaceName(chains)
	}
	has := map[int32]int64{}
	var order []int32
	edge := w.main.items
	for _, i := range edge {
		if i.Kind == Space {
			if has[i.Chains] == 0 {
				order = append(order, i.Chains)
			}
			has[i.Chains] += i.N
		}
	}
	if len(order) == 0 {
		return fmt.Sprintf("%s works into a %s, but %s has none", w.name(), what, w.belowName())
	}
	var list []string
	for _, c := range order {
		list = append(list, SpaceCount{c, has[c]}.String())
	}
	if has[chains] > 0 || chains == 0 {
		return fmt.Sprintf("%s works into one more %s than are left of the %s of %s", w.name(), what, strings.Join(list, " and "), w.belowName())
	}
	return fmt.Sprintf("%s works into a %s, but %s has %s", w.name(), what, w.belowName(), strings.Join(list, " and "))
}

func (p *Pattern) sayNotThatStitch(w *worker, asked *Stitch, k *walk) string {
	for j := k.i; j < len(k.items); j++ {
		if i := k.items[j]; i.Kind == Stitches && i.Stitch != nil {
			return fmt.Sprintf("%s works into a %s, but the next stitch of %s is a %s", w.name(), asked.Name, w.belowName(), i.Stitch.Name)
		}
	}
	return fmt.Sprintf("%s works into a %s, but none is left in %s", w.name(), asked.Name, w.belowName())
}

func (p *Pattern) sayNotItsSpace(w *worker, asked *Stitch, chains int32) string {
	has, ok := asked.middle()
	if !ok {
		return fmt.Sprintf("%s works into the %s of a %s, which has no space", w.name(), spaceName(chains), asked.Name)
	}
	return fmt.Sprintf("%s works into the %s of a %s, which has a %s", w.name(), spaceName(chains), asked.Name, spaceName(has))
}

func (p *Pattern) sayNoTurning(w *worker) string {
	return fmt.Sprintf("%s works into a turning chain, but none of %s counts as a stitch", w.name(), w.belowName())
}

func (p *Pattern) sayNoRing(name string) string {
	return name + " works into a ring, but there is none: the round below closed it"
}

func (p *Pattern) sayNoFreeLoops(w *worker, label int64) string {
	at := w.below.numbered(label)
	if label > 0 && at < 0 {
		return fmt.Sprintf("%s works into loops of %s, but this part has no %s before it", w.name(), RoundName(w.st.row, label), RoundName(w.st.row, label))
	}
	if label == 0 {
		return w.name() + " works into free loops, but no round before it left any"
	}
	r := w.below.at(at)
	return fmt.Sprintf("%s works into free loops of %s, but %s left none free: the round above was worked through both loops", w.name(), RoundName(r.Node.Row, label), RoundName(r.Node.Row, label))
}

func (p *Pattern) sayFreeLoopsUsed(w *worker, label int64) string {
	of := "the free loops"
	if label > 0 {
		of += " of " + RoundName(w.st.row, label)
	}
	return fmt.Sprintf("%s works into %s, which were worked into already", w.name(), of)
}

func (p *Pattern) sayNoUnworked(w *worker, label int64) string {
	if label == 0 {
		return w.name() + " works into unworked stitches, but no row before it left any"
	}
	return fmt.Sprintf("%s works into unworked stitches of %s, which left none", w.name(), RoundName(w.row, label))
}

func (p *Pattern) sayNoPiece(name string) string {
	return "there is no part called " + strconv.Quote(name) + " before this one"
}

func (p *Pattern) sayPieceUsed(piece *Piece) string {
	return fmt.Sprintf("every stitch of %s is used already: it is made %s", piece.Name, plural(max(piece.Make, 1), "time", "times"))
}

func (p *Pattern) sayNotBoth(piece *Piece) string {
	return fmt.Sprintf("\"both\" is said of a part that is made twice, and %s is made %s", piece.Name, plural(max(piece.Make, 1), "time", "times"))
}

func (p *Pattern) sayPieceShort(name string, count, has int64, piece string) string {
	return fmt.Sprintf("%s works into %s of %s, which has only %d", name, sts(count), piece, has)
}

func (p *Pattern) sayEachOrOver(n int64, st *Stitch, count int64, place *grammar.Place) string {
	return fmt.Sprintf("makers read this in two ways: %d %s in each of the next %d, which makes %d, or %d over all %d", n, st.Name, count, n*count, n, count)
}

func (p *Pattern) sayWriteEach() string { return "write \"each of\"" }

func (p *Pattern) sayWrite(what string) string { return "write " + strconv.Quote(what) }

func (p *Pattern) sayDecOver(st *Stitch, count, times int64) string {
	return fmt.Sprintf("makers read this in two ways: %s over the %d stitches, or one over all %d", plural(times, st.Name, st.Name+"s"), count, count)
}

func (p *Pattern) sayMoreTimes(n int64) string {
	switch n {
	case 1:
		return "once more"
	case 2:
		return "twice more"
	}
	return digits(n) + " more times"
}

func (p *Pattern) sayTimesInAll(n int64) string { return plural(n, "time", "times") + " in total" }

func (p *Pattern) sayTimesUnclear(n int64) string {
	return fmt.Sprintf("makers read %s in two ways: %d more, which makes %d in all, or %d in all; say \"more\" or \"in total\"", plural(n, "time", "times"), n, n+1, n)
}

func (p *Pattern) sayIncEnd(n, left int64) string {
	return fmt.Sprintf("makers read this in two ways: %d increases one after another, which leaves %s unworked, or %d spaced evenly", n, sts(max(left, 0)), n)
}

func (p *Pattern) sayNeverEnds(name string) string {
	return name + " repeats what takes no stitches, so it never comes to an end; say how many times it is worked"
}

func (p *Pattern) sayDoesNotFit(w *worker, f repeatFit) string {
	switch {
	case f.spaces && f.takes == 0 && f.each > 0 && f.ahead%f.each > 0:
		return p.sayOver(w.name(), plural(f.each, "chain space", "chain spaces"), f.each, f.ahead, "the ", w.belowName())
	case f.takes > 0 && f.spaces:
		return fmt.Sprintf("%s runs out of chain spaces of %s in the middle of its last repeat", w.name(), w.belowName())
	case f.avail < 0:
		return fmt.Sprintf("%s is to leave more stitches than there are of %s", w.name(), w.belowName())
	case f.takes <= 0 || f.avail%f.takes == 0:
		return fmt.Sprintf("%s has a repeat that does not come out evenly over %s", w.name(), w.belowName())
	}
	all := ""
	if f.avail == w.avail {
		all = "the "
	}
	return p.sayOver(w.name(), w.thing(f.takes), f.takes, f.avail, all, w.belowName())
}

// sayOver says how many of what a repeat goes over are over, and how many would fit.
func (p *Pattern) sayOver(name, each string, takes, avail int64, all, below string) string {
	rem := avail % takes
	low := avail - rem
	fits := digits(low + takes)
	if low > 0 {
		fits = fmt.Sprintf("%d or %d", low, low+takes)
	}
	return fmt.Sprintf("%s repeats %s over %s%d of %s; %d %s over, %s would fit", name, each, all, avail, below, rem, isAre(rem), fits)
}

func (p *Pattern) sayNoRoundToRepeat(rep *grammar.Step) string {
	if rep.Rounds().Last {
		return "there are not so many rounds before this one to repeat"
	}
	return "this repeats a round that does not stand before it in this part"
}

func (p *Pattern) sayPartDiffers(r *Round, part grammar.Part, right int64) string {
	name := part.Unit.Ref().Text
	switch part.Unit.Kind {
	case grammar.UnitSpace:
		name = "chain spaces"
		if part.Unit.Chains > 0 {
			name = SpaceName(part.Unit.Chains) + "s"
		}
	case grammar.UnitLoop:
		name = "loops"
	case grammar.UnitChain:
		name = "chains"
	}
	return fmt.Sprintf("%s %s %d %s; the total says %d", r.Name(), r.verb("makes", "make"), right, name, part.Count.N)
}

func (p *Pattern) sayTooMany(w *worker) string {
	has := w.takes - w.over
	return fmt.Sprintf("%s works %s, but %s has only %d; %d too many", w.name(), w.thing(w.takes), w.belowName(), has, w.over)
}

func (p *Pattern) sayLeft(w *worker) string {
	all := w.takes + w.main.left
	return fmt.Sprintf("%s works %d of the %s of %s; %d %s left", w.name(), w.takes, w.thing(all), w.belowName(), w.main.left, isAre(w.main.left))
}

func (p *Pattern) sayChainLeft(w *worker, left int64) string {
	return fmt.Sprintf("%s turns to the other side of the chain with %s still unworked on the first", w.name(), plural(left, "chain", "chains"))
}

func (p *Pattern) saySpacesLeft(w *worker, n int64) string {
	return fmt.Sprintf("%s leaves %s of %s unworked", w.name(), plural(n, "chain space", "chain spaces"), w.belowName())
}

func (p *Pattern) sayLeavesFewer(w *worker) string {
	return fmt.Sprintf("%s is to leave %s, but only %d %s left of %s", w.name(), sts(int64(w.leftSaid.N)), w.main.left, isAre(w.main.left), w.belowName())
}

func (p *Pattern) sayLeavesMore(w *worker) string {
	return fmt.Sprintf("%s is to leave %s, but %d %s left of %s", w.name(), sts(int64(w.leftSaid.N)), w.main.left, isAre(w.main.left), w.belowName())
}

func (p *Pattern) sayTotalDiffers(r *Round, stated int64, why verdict) string {
	m := fmt.Sprintf("%s %s %s by %s words; the total says %d", r.Name(), r.verb("makes", "make"), sts(r.Makes), r.verb("its", "their"), stated)
	switch why {
	case totalWrong:
		m += fmt.Sprintf("; the total is the likelier slip, since what follows works from %d", r.Makes)
	case wordsWrong:
		m += fmt.Sprintf("; the words are the likelier slip, since what follows works from %d", stated)
	}
	return m
}

func (p *Pattern) sayWordsLikelier(message string, stated int64) string {
	return fmt.Sprintf("%s; the words are the likelier slip, since what follows works from %d", message, stated)
}

func (p *Pattern) sayChainsCounted(r *Round, stated int64) string {
	return fmt.Sprintf("%s %s %s; %d comes out only if chains are counted too; give them apart, such as (%d sts, …)", r.Name(), r.verb("makes", "make"), sts(r.Makes), stated, r.Makes)
}

func (p *Pattern) sayChange(old, new string) string {
	return "change " + strconv.Quote(old) + " to " + strconv.Quote(new)
}

func (p *Pattern) sayAdd(what string) string { return "add " + strconv.Quote(what) }

// Name is "Rnd 5" or "Rnds 6-9", as a label says it.
func (r *Round) Name() string {
	name := RoundWord(r.Node.Row)
	if r.many() {
		return name + "s " + digits(int64(r.Node.From.N)) + "-" + digits(int64(r.Node.To.N))
	}
	return name + " " + digits(int64(r.Node.From.N))
}

// many says whether the statement covers more than one round.
func (r *Round) many() bool { return r.Node.To.N > r.Node.From.N }

// verb is a word that goes with the round's name.
func (r *Round) verb(one, several string) string {
	if r.many() {
		return several
	}
	return one
}
