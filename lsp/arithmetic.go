package lsp

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
	"workeven/lint"
)

// mostShown is how many rounds or steps a table on a page has at most.
const mostShown = 60

func count(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.FormatInt(n, 10) + " " + many
}

func stitchCount(n int64) string { return count(n, "stitch", "stitches") }

func number(n int64) string { return strconv.FormatInt(n, 10) }

// had is how many stitches a round is worked into; false where that is not
// known, or where it begins a piece or goes into something other than the round
// below, such as loops that were left free.
func had(r *fabric.Round) (int64, bool) {
	if r.Start || r.In == nil || r.In.Unknown || goesElsewhere(r.Node.Steps) {
		return 0, false
	}
	return r.In.Stitches(), true
}

// slip is the round's slip in counting, or nil.
func slip(r *fabric.Round) *fabric.Problem {
	if i := slices.IndexFunc(r.Problems, fabric.Problem.Counting); i >= 0 {
		return &r.Problems[i]
	}
	return nil
}

// ofTotal says whether a slip is the total's alone: the words come out.
func ofTotal(x *fabric.Problem) bool {
	return x.Kind == fabric.TotalDiffers || x.Kind == fabric.TotalPartDiffers
}

// inAll is how many stitches the rounds of a statement make together; false
// where that is not known, or the rounds do not come out.
func inAll(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) (int64, bool) {
	if x := slip(r); x != nil && !ofTotal(x) {
		return 0, false
	}
	return p.InAll(piece, r)
}

// madeOf lists what stands on the edge that a round made: "12 dc, 6 ch-2 sps".
func madeOf(r *fabric.Round) string {
	made := strings.Join(r.Standing(), ", ")
	var parts []string
	for _, s := range r.Groups {
		parts = append(parts, s.String())
	}
	if len(parts) > 0 {
		made += "; worked as " + strings.Join(parts, ", ")
	}
	return made
}

// roundPage is the arithmetic of one statement of rounds.
func roundPage(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) page {
	var out page
	if !r.Known {
		text := ": what its words make cannot be worked out"
		if n, ok := p.StatedStitches(r.Node.Total); ok {
			text += "; its total, " + number(n) + ", is taken for it"
		}
		out.head(r.Name(), text+".")
		return out
	}
	if x := slip(r); x != nil && !ofTotal(x) {
		if strings.HasPrefix(x.Message, fabric.RoundName(r.Node.Row, 0)[:4]) {
			out.say(x.Message + ".") // it names the round itself
		} else {
			out.head(r.Name(), ": "+x.Message+".")
		}
		out.add(stepTable(p, piece, r))
		return out
	}
	last := ""
	if r.RoundsWorked > 1 {
		last = "the last of them "
	}
	made := fmt.Sprintf("%smakes %s", last, stitchCount(r.Makes))
	if n, ok := had(r); ok {
		first := "works "
		if r.RoundsWorked > 1 {
			first = "the first works "
		}
		worked := fmt.Sprintf("%d of the %s", r.Takes, stitchCount(n))
		switch {
		case r.Takes == n:
			worked = "all " + stitchCount(n)
		case r.Takes == 0 && !stitchesOnly(r.In):
			worked = "into the spaces between the " + stitchCount(n)
		}
		out.head(r.Name(), fmt.Sprintf(": %s%s below and %s (%s).", first, worked, made, changed(r.Makes-n)))
	} else {
		out.head(r.Name(), ": "+made+".")
	}
	if what := madeOf(r); what != "" {
		out.say("Made of " + what + ".")
	}
	if x := slip(r); x != nil {
		out.say(sentence(x.Message) + ".")
	}
	if r.RoundsWorked > 1 {
		if n, ok := inAll(p, piece, r); ok {
			out.say(fmt.Sprintf("%d %s, %s in all.", r.RoundsWorked, rounds(r, r.RoundsWorked), stitchCount(n)))
		}
	}
	out.add(stepTable(p, piece, r))
	return out
}

// changed says by how much a round grows or shrinks.
func changed(n int64) string {
	if n == 0 {
		return "even"
	}
	return fmt.Sprintf("%+d", n)
}

func rounds(r *fabric.Round, n int64) string {
	switch {
	case r.Node.Row && n == 1:
		return "row"
	case r.Node.Row:
		return "rows"
	case n == 1:
		return "round"
	}
	return "rounds"
}

// stepTable shows what the steps of a round take and make, a row each, and
// their sum; for a round of one bracket or star the sum of its repeats.
func stepTable(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) page {
	steps := r.Node.Steps
	if len(steps) == 0 || len(steps) == 1 && steps[0].Group == nil {
		return nil
	}
	by := explainedSteps(p, piece, r)
	if len(steps) == 1 {
		return repeatSum(by[&steps[0]])
	}
	rows := [][]string{{"step", "takes", "makes"}}
	takes, makes := int64(0), int64(0)
	for i := range steps {
		x, ok := by[&steps[i]]
		if !ok || x.Takes == 0 && x.Makes == 0 {
			continue
		}
		takes, makes = takes+x.Takes, makes+x.Makes
		if len(rows) < mostShown {
			rows = append(rows, []string{oneLine(steps[i].Span.In(r.Line.Text)), number(x.Takes), number(x.Makes)})
		}
	}
	if len(rows) < 3 {
		return nil
	}
	var out page
	out.table(append(rows, []string{"all", number(takes), number(makes)}))
	return out
}

// explainedSteps is what the steps of a round's own line do, where they were worked.
func explainedSteps(p *fabric.Pattern, piece *fabric.Piece, r *fabric.Round) map[*grammar.Step]fabric.StepResult {
	results := p.Explain(piece, r)
	out := make(map[*grammar.Step]fabric.StepResult, len(results))
	for _, x := range results {
		if x.To >= 0 && (r.Known || allKnown(p, x.Step)) {
			out[x.Step] = x
		}
	}
	return out
}

// allKnown says whether every stitch of a step is one that can be counted.
func allKnown(p *fabric.Pattern, s *grammar.Step) bool {
	if s.Stitch.Written() && p.Find(s.Stitch) == nil {
		return false
	}
	if s.Group != nil {
		for i := range s.Group.Steps {
			if !allKnown(p, &s.Group.Steps[i]) {
				return false
			}
		}
	}
	return true
}

// oneLine is a text of the pattern without the line ends in it, cut where it is long.
func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

// once is what one repeat of a bracket or star takes and makes; of one that is
// worked into places, what it does in one of them. False where that is not known.
func once(x fabric.StepResult) (takes, makes, times int64, ok bool) {
	s := x.Step
	switch {
	case s == nil || s.Group == nil:
		return 0, 0, 0, false
	case x.Each > 0 || x.EachMakes > 0:
		return x.Each, x.EachMakes, x.Repeats, true
	case len(s.Places) > 0 && x.Takes > 0 && x.Makes%x.Takes == 0:
		return 1, x.Makes / x.Takes, x.Takes, true
	case len(s.Places) > 0 && x.Takes == 0 && x.Makes > 0: // in a space
		return 0, x.Makes, 1, true
	}
	return 0, 0, 0, false
}

// repeatPage is the arithmetic of a bracket or star.
func repeatPage(r *fabric.Round, x fabric.StepResult) page {
	takes, makes, _, ok := once(x)
	if !ok {
		return nil
	}
	var out page
	what := "one repeat"
	switch {
	case x.Each != 0 || x.EachMakes != 0:
	case takes == 0:
		out.head(oneLine(x.Step.Span.In(r.Line.Text)), ": makes "+stitchCount(makes)+".")
		return out
	default:
		what = "in one place it"
	}
	out.head(strings.TrimRight(oneLine(x.Step.Group.Inner.In(r.Line.Text)), "; "), fmt.Sprintf(": %s takes %s and makes %d.", what, stitchCount(takes), makes))
	out.add(repeatSum(x))
	if x.Takes > 0 && !r.Start && !elsewhere(x.Step) {
		out.say(fmt.Sprintf("It stands on %s of the %s below.", stitchesFrom(x.From, x.To), rounds(r, 1)))
	}
	return out
}

// repeatSum is what all repeats of a bracket or star come to.
func repeatSum(x fabric.StepResult) page {
	takes, makes, times, ok := once(x)
	if !ok {
		return nil
	}
	var out page
	text := fmt.Sprintf("Takes %d and makes %d in all", x.Takes, x.Makes)
	if times > 0 && x.Takes == times*takes && x.Makes == times*makes {
		text = fmt.Sprintf("Takes %d × %d = %d, makes %d × %d = %d", times, takes, x.Takes, times, makes, x.Makes)
	}
	if x.Step.Group.EndAt {
		text += "; the last repeat ends early"
	}
	out.say(text + ".")
	return out
}

// measures writes lengths in the units that the pattern's gauge is in.
type measures struct{ inches bool }

func measuresOf(p *fabric.Pattern) measures {
	for _, g := range p.Header.Gauges {
		if g.Over.Unit != "" {
			return measures{g.Over.Unit == "in"}
		}
	}
	return measures{}
}

func short(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

func (m measures) bare(mm float64) string {
	if m.inches {
		return short(mm / 25.4)
	}
	return short(mm / 10)
}

func (m measures) unit() string {
	if m.inches {
		return "in"
	}
	return "cm"
}

func (m measures) length(mm float64) string { return m.bare(mm) + " " + m.unit() }

// yarn writes a length of yarn, rounded up to whole metres or yards.
func (m measures) yarn(metres float64) string {
	if m.inches {
		return number(int64(math.Ceil(metres/0.9144))) + " yd"
	}
	return number(int64(math.Ceil(metres))) + " m"
}

// size says how large one copy of a piece is: "8.7 cm wide, 12 cm high".
func (m measures) size(s fabric.Size) string {
	switch {
	case s.Rows:
		return fmt.Sprintf("%s × %s %s", m.bare(s.Width), m.bare(s.Height), m.unit())
	case s.Disc:
		return m.length(max(s.Diameter, s.Width)) + " across"
	}
	if laid(s) {
		return fmt.Sprintf("%s across, %s deep laid flat", m.length(max(s.Diameter, s.Width)), m.length(s.Along))
	}
	return fmt.Sprintf("%s across, %s high", m.length(max(s.Diameter, s.Width)), m.length(s.Height))
}

// laid says whether a piece is measured laid flat, as a hat or a bag is: it is
// not stuffed, and longer along its fabric than it stands high.
func laid(s fabric.Size) bool { return !s.Stuffed && s.Along > 1.2*s.Height }

// pieceFacts are what a piece comes to.
type pieceFacts struct {
	rounds, rows, stitches int64
	// sure is set where every round comes out, counted where each can at least
	// be worked: then the yarn is known too.
	sure, counted bool

	yarns []fabric.YarnUse
	size  fabric.Size
	sized bool
}

func factsOf(p *fabric.Pattern, piece *fabric.Piece) pieceFacts {
	f := pieceFacts{sure: !piece.Broken, counted: !piece.Broken}
	f.rounds, f.rows = roundsWorked(piece)
	for _, r := range piece.Rounds {
		n, ok := inAll(p, piece, r)
		f.stitches, f.sure, f.counted = f.stitches+n, f.sure && ok, f.counted && r.Known
	}
	f.yarns = fabric.YarnOf(p, piece)
	f.size, f.sized = fabric.SizeOf(p, piece)
	return f
}

// forAll says that something is of all copies of a piece; empty for one.
func forAll(piece *fabric.Piece) string {
	switch {
	case piece.Make > 2:
		return " for all " + number(piece.Make)
	case piece.Make == 2:
		return " for both"
	}
	return ""
}

// piecePage is a piece's table.
func piecePage(p *fabric.Pattern, piece *fabric.Piece) page {
	f, m := factsOf(p, piece), measuresOf(p)
	var out page
	name := piece.Name
	if name == "" {
		name = "This part"
	}
	out.head(name, fmt.Sprintf(": make %d.", max(piece.Make, 1)))
	facts := [][]string{{"of one", ""}}
	if f.rounds > 0 || f.rows == 0 {
		facts = append(facts, []string{"rounds", number(f.rounds)})
	}
	if f.rows > 0 {
		facts = append(facts, []string{"rows", number(f.rows)})
	}
	stitches := number(f.stitches)
	if !f.sure {
		stitches = "not known: not every round comes out"
	}
	facts = append(facts, []string{"stitches", stitches})
	if f.sized {
		size := m.size(f.size)
		if f.size.Stuffed {
			size += ", stuffed"
		}
		facts = append(facts, []string{"size", "about " + size})
	}
	out.table(facts)
	for _, u := range f.yarns {
		if !f.counted {
			out.say(fmt.Sprintf("%s: at least %s%s.", yarnNamed(u.Key), m.yarn(u.Mean), forAll(piece)))
			continue
		}
		out.say(fmt.Sprintf("%s: about %s%s (%s to %s).", yarnNamed(u.Key), m.yarn(u.Mean), forAll(piece), m.yarn(u.Low), m.yarn(u.High)))
	}
	if len(piece.Rounds) == 0 {
		return out
	}
	rows := [][]string{{"round", "takes", "makes", "of"}}
	for _, r := range piece.Rounds[:min(len(piece.Rounds), mostShown)] {
		takes, makes := "?", "?"
		if r.Known {
			takes, makes = number(r.Takes), number(r.Makes)
		}
		rows = append(rows, []string{r.Name(), takes, makes, madeOf(r)})
	}
	out.table(rows)
	if more := len(piece.Rounds) - mostShown; more > 0 {
		out.say(fmt.Sprintf("And %s more.", count(int64(more), "line of rounds", "lines of rounds")))
	}
	return out
}

// stitchPage explains a stitch as the pattern uses it, in a piece whose main
// stitch an increase or decrease follows; the piece may be nil.
func stitchPage(p *fabric.Pattern, piece *fabric.Piece, s *fabric.Stitch) page {
	sys := p.Header.System
	switch {
	case s.Of != nil && s.Plain != nil && s.Plain.Of != nil && s.Of.Abbr(sys) != s.Name && s.Of.Kind == terms.Decrease: // dc7tog and the like, beyond the glossary
		return explained(togetherOf(s, sys))
	case s.Of != nil:
		e := lint.ExplainStitch(s.Of, sys)
		if s.Of.Base == "" && piece != nil && piece.Main != nil && piece.Main.Of != nil {
			if form := s.Of.Of(piece.Main.Of.ID); form != nil && form != s.Of {
				e.Says = append(e.Says, "In this part it is worked in "+piece.Main.Name+":")
				e.How = lint.ExplainStitch(form, sys).How
			}
		}
		return explained(e)
	}
	var out page
	out.head(s.Name, fmt.Sprintf(": a stitch of this pattern's own. It takes %s and makes %s.", stitchCount(s.Takes), stitchCount(s.Makes)))
	for _, own := range p.Own {
		if own.Stitch == s {
			out.pattern(own.Line.Text)
			break
		}
	}
	return out
}

// togetherOf explains a decrease over more stitches than those of the glossary.
func togetherOf(s *fabric.Stitch, sys terms.System) lint.Explanation {
	two := terms.ByID(s.Plain.Of.ID + "2tog")
	e := lint.Explanation{Name: s.Name, Rest: fmt.Sprintf(", %s worked together; in %s terms %s%dtog", count(s.Takes, s.Plain.Of.In(sys).Full, s.Plain.Of.In(sys).Full), sys.Other(), s.Plain.Of.Abbr(sys.Other()), s.Takes)}
	e.Says = []string{fmt.Sprintf("Takes %s of the round below and makes 1 stitch.", stitchCount(s.Takes))}
	if two != nil {
		more := *two
		more.Legs, more.Takes = int(s.Takes), int(s.Takes)
		e.How, e.Source = lint.ExplainStitch(&more, sys).How, two.Source
	}
	return e
}

// termsPage says what a Terms line does.
func termsPage(sys terms.System) page {
	var out page
	sc, dc := terms.ByID("sc"), terms.ByID("dc")
	out.head(sys.String()+" terms", fmt.Sprintf(": %s is %s and %s is %s; in %s terms they are called %s and %s.",
		sc.In(sys).Abbr, sc.In(sys).Full, dc.In(sys).Abbr, dc.In(sys).Full, sys.Other(), sc.In(sys.Other()).Full, dc.In(sys.Other()).Full))
	return out
}

// sentence begins a text with a capital.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
