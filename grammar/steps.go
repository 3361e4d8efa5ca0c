package grammar

import "workeven/grammar/terms"

// Count is a number as the pattern writes it. Where none is written its span
// is empty and N is what the wording implies. It is a type of its own so that
// one number for each size can be told here later.
type Count struct {
	N int32
	Span
}

// Name is a name the pattern gives: a piece, a yarn, an own stitch.
type Name struct {
	Text string
	Span
}

// Ref names a stitch: a glossary spelling, or words that an own stitch or
// nothing at all answers to.
type Ref struct {
	// Phrase indexes the glossary's spellings plus one; 0 where the words are in no glossary.
	Phrase int32
	Name
}

// Known is the glossary's stitch in a system, or nil.
func (r Ref) Known(sys terms.System) *terms.Stitch {
	if r.Phrase == 0 {
		return nil
	}
	return PhraseAt(r.Phrase - 1).In(sys)
}

// Loop says which loop or part of the stitch below is worked into.
type Loop uint8

// Loops.
const (
	LoopUnsaid Loop = iota
	LoopBack
	LoopFront
	LoopBoth
	LoopBump
	LoopPost
)

// StepKind is what a step does.
type StepKind uint8

// The kinds of step.
const (
	StepWork      StepKind = iota // stitches: sc 3, 2 sc in next st, ch 2, 6 sc in magic ring
	StepBracket                   // (…) x 6, (…) in next st, (…) around
	StepStar                      // *…; rep from * …
	StepSkip                      // sk 2, sk next ch-2 sp
	StepJoin                      // join with sl st to first sc; join A to Head between Rnds 2 and 3
	StepTurn                      // turn
	StepLeave                     // leave remaining 4 sts unworked
	StepRepeat                    // rep Rnds 8-9, as Rnd 5
	StepOtherSide                 // working along other side of ch
	StepYarn                      // with B, change to B
	StepMarker                    // pm, move marker
	StepEven                      // work even
	StepLoops                     // in BLO, for what follows
	StepStanding                  // counts as dc; skipped 3 ch count as dc
	StepDoNot                     // do not join, do not turn
	StepFastenOff                 // fasten off
)

// FillKind says how far a step or repeat goes where no count says it.
type FillKind uint8

// Fills.
const (
	FillNone   FillKind = iota
	FillAround          // around
	FillAcross          // across
	FillEnd             // to end
	FillToLast          // to last 3 sts, around to last 3 sts
)

// Fill goes on to the end of the edge, or to the last stitches of it.
type Fill struct {
	Kind FillKind
	Span
	// Last is what a FillToLast stops before.
	Last *Last
}

// Last is so many stitches or spaces at the end of an edge.
type Last struct {
	Count Count
	Unit  Unit
}

// Left is how many stitches or spaces a fill stops before; unwritten where it goes to the end.
func (f *Fill) Left() Count {
	if f.Last == nil {
		return Count{}
	}
	return f.Last.Count
}

// Unit is what Left counts.
func (f *Fill) Unit() Unit {
	if f.Last == nil {
		return Unit{}
	}
	return f.Last.Unit
}

// Unit is what a place counts: stitches, spaces, chains, or one kind of stitch.
type Unit struct {
	Kind UnitKind
	// Chains is the length of a chain space, 0 for any. Of a UnitTerm it is the
	// space that its stitch holds: the ch-1 sp of a V-stitch.
	Chains int32
	Span
	// Term is the stitch of a UnitTerm.
	Term *Ref
}

// Ref is the stitch that is counted; the zero Ref where it is no certain one.
func (u Unit) Ref() Ref {
	if u.Term == nil {
		return Ref{}
	}
	return *u.Term
}

// UnitKind is what a Unit counts.
type UnitKind uint8

// Units.
const (
	UnitNone   UnitKind = iota
	UnitSt              // st
	UnitSpace           // sp, ch-2 sp
	UnitChain           // ch
	UnitTerm            // dc, bob
	UnitLoop            // free loop
	UnitRowEnd          // row end
)

// PlaceKind says which places a stitch goes into.
type PlaceKind uint8

// Places.
const (
	PlaceNext      PlaceKind = iota // next 3 sts
	PlaceEach                       // each st around
	PlaceEachNext                   // each of next 3 sts
	PlaceSame                       // same st
	PlaceFirst                      // first st
	PlaceLast                       // last 2 sts
	PlaceOne                        // one st: what an own stitch is worked into
	PlaceAny                        // any st
	PlaceNth                        // 2nd ch from hook; 3rd st
	PlaceTop                        // top of turning ch
	PlaceTurning                    // turning ch
	PlaceRing                       // ring
	PlaceMagicRing                  // magic ring
	PlaceFree                       // free loops of Rnd 5
	PlaceOther                      // other side of next 3 ch
	PlaceUnworked                   // unworked sts of Row 3
	PlacePiece                      // a piece that is worked onto: join A to Head
)

// Place is where a stitch goes. Count is the number of units where one is said.
type Place struct {
	Kind     PlaceKind
	Loop     Loop
	Each     bool // of PlaceFree, PlaceOther and PlaceUnworked: each of them
	FromHook bool
	Count    Count
	Unit     Unit
	Fill     Fill
	// Source is where the place lies; nil for the edge below.
	Source *Source
	Span
}

// Source is where a place lies that is not on the edge below.
type Source struct {
	// Of is the piece whose stitches are meant, Nth which copy of it (0: the
	// next, BothCopies: each of two).
	Of  Name
	Nth int32
	// Rnd is the round or row whose loops or stitches are meant; 0 if none.
	Rnd Count
	// Below is how many rounds further down a long stitch reaches.
	Below Count
}

// BothCopies stands for the two copies of a piece that is made twice.
const BothCopies = -1

// Of is the piece whose stitches are meant; unwritten for the piece's own.
func (p *Place) Of() Name {
	if p.Source == nil {
		return Name{}
	}
	return p.Source.Of
}

// OfNth is which copy of the piece is meant; 0 for the next, or BothCopies.
func (p *Place) OfNth() int32 {
	if p.Source == nil {
		return 0
	}
	return p.Source.Nth
}

// Rnd is the round or row whose loops or stitches are meant; 0 if none.
func (p *Place) Rnd() Count {
	if p.Source == nil {
		return Count{}
	}
	return p.Source.Rnd
}

// Below is how many rounds further down a long stitch reaches.
func (p *Place) Below() Count {
	if p.Source == nil {
		return Count{}
	}
	return p.Source.Below
}

func (p *Place) source() *Source {
	if p.Source == nil {
		p.Source = &Source{}
	}
	return p.Source
}

// TimesKind says how a repeat's number is to be taken.
type TimesKind uint8

// Repeats.
const (
	TimesNone    TimesKind = iota
	TimesTotal             // x 6, 6 times, 6 times in total
	TimesMore              // 5 more times: 6 in all
	TimesUnclear           // rep from * 5 times: 5 more, or 5 in all?
	TimesFill              // around, to last 3 sts
)

// Times is how often a repeat is worked.
type Times struct {
	Kind  TimesKind
	Count Count
	Fill  Fill
	Span
}

// Standing is what a starting chain or skipped chains are said to stand for.
type Standing struct {
	// Not is set by "does not count".
	Not bool
	// As is the stitch it counts as, where one is named.
	As Ref
	// Chains is the space it makes besides: "counts as dc and ch 1".
	Chains Count
	// Skipped is set where the note speaks of skipped chains.
	Skipped bool
	// Throughout is set where it holds from there on: "here and throughout".
	Throughout bool
	Span
}

// Rounds is a range of rounds or rows that a step points to.
type Rounds struct {
	From, To Count
	Row      bool
	// Last counts back: "rep last 2 rnds".
	Last bool
	Span
}

// Step is one thing to do. Which fields are filled depends on Kind.
type Step struct {
	Kind StepKind
	// Loop and LoopSpan apply to the stitch, bracket or all that follows.
	Loop Loop
	// Tog marks stitches worked together: 5 dc tog in one st.
	Tog bool
	// Evenly spreads the step over the whole edge: inc 6 evenly, sc 30 evenly around.
	Evenly bool
	// Before marks a count written before its stitch.
	Before bool
	// Form marks a join that forms a ring; With one whose step is a change of yarn to come.
	Form bool
	// Stitch and Count: sc 3. Count of a Skip or Leave is the stitches.
	Count  Count
	Span   Span
	Stitch Ref
	Places []Place
	Fill   Fill
	// Group is what a bracket or star holds.
	Group *Group
	// Detail is what few steps say; nil for most.
	Detail *Detail
}

// Detail is what a step says that few steps do.
type Detail struct {
	LoopSpan Span
	// Standing may follow a chain or a first stitch.
	Standing *Standing
	// Yarn is the yarn changed to or joined.
	Yarn Name
	// Rounds is what StepRepeat repeats, or the neighbours a piece is joined between.
	Rounds *Rounds
}

// LoopSpan is where the step says which loop; unwritten where it does not.
func (s *Step) LoopSpan() Span {
	if s.Detail == nil {
		return Span{}
	}
	return s.Detail.LoopSpan
}

// Standing is what a chain or first stitch is said to stand for, or nil.
func (s *Step) Standing() *Standing {
	if s.Detail == nil {
		return nil
	}
	return s.Detail.Standing
}

// Yarn is the yarn changed to or joined; unwritten without one.
func (s *Step) Yarn() Name {
	if s.Detail == nil {
		return Name{}
	}
	return s.Detail.Yarn
}

// Rounds is what a StepRepeat repeats, or the neighbours a piece is joined between, or nil.
func (s *Step) Rounds() *Rounds {
	if s.Detail == nil {
		return nil
	}
	return s.Detail.Rounds
}

func (s *Step) detail() *Detail {
	if s.Detail == nil {
		s.Detail = &Detail{}
	}
	return s.Detail
}

// setLoop says which loop is worked into, and where that is written.
func (s *Step) setLoop(loop Loop, at Span) {
	if s.Loop = loop; at.Written() {
		s.detail().LoopSpan = at
	}
}

// Group is a bracket, or a star and its repeat.
type Group struct {
	Steps []Step
	Times Times
	// Stop is how many steps stand before **; -1 without one. EndAt says that
	// the last repeat ends there.
	Stop  int
	EndAt bool
	// Ending is how many of the steps behind the repeat are what it ends with:
	// "ending with sc 2".
	Ending int32
	// Inner spans the steps.
	Inner Span
}

// Total is a stated total: (24), or (12 dc, 6 ch-2 sps).
type Total struct {
	Parts []Part
	Span
}

// Part is one number of a total. Its unit is UnitNone for a bare number.
type Part struct {
	Count Count
	Unit  Unit
}

// Bare is the number of stitches that a total states as such, and whether it states one.
func (t *Total) Bare() (Count, bool) {
	if t != nil {
		for _, p := range t.Parts {
			if p.Unit.Kind == UnitNone || p.Unit.Kind == UnitSt {
				return p.Count, true
			}
		}
	}
	return Count{}, false
}
