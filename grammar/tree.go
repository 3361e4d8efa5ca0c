package grammar

import "workeven/grammar/terms"

// Node is what one statement says. Every node's spans are offsets into its own
// line's text, so that an unchanged line keeps its tree through an edit.
type Node interface{ node() }

// Blank is an empty line. Comment is a line that is all comment.
type (
	Blank   struct{}
	Comment struct{}
	// Bad is a line that begins with nothing a line may begin with.
	Bad struct{}
)

// TextLabel is a label whose content is free text.
type TextLabel uint8

// Labels with free text.
const (
	LabelPattern TextLabel = iota
	LabelDesigner
	LabelVersion
	LabelAbbreviation
	LabelNote
	LabelCaution
)

// Text is a statement of free text.
type Text struct {
	Label   TextLabel
	Content Name
}

// Terms says which system the stitch names are in.
type Terms struct {
	System terms.System
	Value  Name
}

// Skill is the level of the pattern, by the Craft Yarn Council's words or the older ones.
type Skill struct{ Level Name }

// Length is a measure as written, with its size in millimetres.
type Length struct {
	Value float64
	Unit  string // mm, cm, m, in, yd
	MM    float64
	Span
}

// Size is the stated finished size: "9 cm tall", "20 x 30 cm", "45 cm around".
type Size struct {
	Dims    []Dim
	Content Name
}

// Dim is one measure and what it measures: tall, high, wide, long, deep, across, around, "" unsaid.
type Dim struct {
	Length
	Way string
}

// Gauge is stitches and rounds over a length, and the yarn its swatch uses.
type Gauge struct {
	Sts, Rnds Count
	// Over and Down are the width and height measured; Down equals Over where one is given.
	Over, Down Length
	Stitch     Ref
	// Uses is the yarn in the swatch; zero if unsaid.
	Uses Length
	Span
}

// Hook is a hook as written: a letter or number, millimetres, or both.
type Hook struct {
	Letter Name
	Size   Length
	Span
}

// TurningChain says once what starting chains stand for.
type TurningChain struct {
	// All is set by "counts" or "does not count" without a stitch.
	All   bool
	Not   bool
	Rules []ChainRule
	Span
}

// ChainRule is one stitch's part of a TurningChain.
type ChainRule struct {
	Stitch Ref
	Not    bool
}

// Yarn declares a yarn by its letter or word.
type Yarn struct {
	Key    Name
	Name   Name
	Colour Name // #7C9A5B
	Weight Name // words and number as written
	Number Count
	Grams  Count
	Metres Length
	Balls  Count
	Span
}

// Notion is a thing needed besides yarn and hook: "2 safety eyes, 6 mm".
type Notion struct {
	Count Count
	Thing Name
	Size  Length
	Span
}

// OwnStitch defines a stitch of the pattern's own.
type OwnStitch struct {
	Abbr Name
	// Full is the name in brackets.
	Full Name
	// Steps are what it is worked as; or Takes and Makes say what it does.
	Steps        []Step
	Takes, Makes Count
	Defined      bool
	Span
}

// Piece opens a part.
type Piece struct {
	Name Name
	Make Count
}

// Mode is how a piece is worked.
type Mode uint8

// Modes.
const (
	ModeUnsaid Mode = iota
	ModeSpiral
	ModeJoined
	ModeRows
)

// Worked says how a piece is worked.
type Worked struct {
	Mode  Mode
	Value Name
}

// With says which yarns, and which hook, a piece is worked with.
type With struct {
	Yarns []Name
	Hook  *Hook
}

// Side is the side of the fabric that faces the maker.
type Side uint8

// Sides.
const (
	SideUnsaid Side = iota
	SideRight
	SideWrong
)

// Round is a round or row, or a range of them.
type Round struct {
	Row      bool
	From, To Count
	Side     Side
	// Label spans "Rnds 6-9 (RS)".
	Label Span
	Steps []Step
	Total *Total
	// After are steps behind the total that make nothing: turn, fasten off.
	After []Step
	// Broken is set where the steps did not parse: what they make is unknown.
	Broken bool
}

// Verb is what an action line does.
type Verb uint8

// Verbs.
const (
	VerbFastenOff Verb = iota
	VerbStuff
	VerbDoNotStuff
	VerbDoNotFastenOff
	VerbChangeTo
	VerbJoin
	VerbTurn
	VerbClose
	VerbLeave
	VerbWeaveIn
	VerbCut
	VerbBrush
	VerbBlock
	VerbMove
	VerbPlaceMarker
	VerbContinue
	VerbInsert
)

// Action is a line that begins with a verb.
type Action struct {
	Verb Verb
	// Rest is the text behind the verb.
	Rest Name
	// Yarn is the yarn changed to or joined, where one is named.
	Yarn Name
	// Count and Thing are what is inserted: "Insert 2 safety eyes between …".
	Count Count
	Thing Name
	Where []Where
}

// Assembly opens the making up.
type Assembly struct{}

// Sew joins parts of one piece to another; Attach is the same.
type Sew struct {
	Attach bool
	Part   Name
	Times  Count
	To     Name
	Where  []Where
}

// PlaceThing puts notions on a part: "2 safety eyes on Body, …".
type PlaceThing struct {
	Count Count
	Thing Name
	On    Name
	Where []Where
}

// Embroider works something on a part.
type Embroider struct {
	What  Name
	On    Name
	Where []Where
}

// WhereKind is one way to say where.
type WhereKind uint8

// Ways to say where.
const (
	WhereBetween  WhereKind = iota // between Rnds 2 and 3
	WhereAt                        // at Rnd 5
	WhereOver                      // over Rnds 4-9
	WhereApart                     // 3 sts apart
	WhereAcross                    // across 5 sts
	WhereInLine                    // in line with Shell
	WhereSide                      // at front
	WhereCentred                   // centred
	WhereEvenly                    // evenly
	WhereOpenEdge                  // open edge
	WhereFree                      // ; free text
)

// Where is one part of a placement.
type Where struct {
	Kind     WhereKind
	From, To Count
	Row      bool
	Count    Count
	Part     Name
	Text     Name
	Span
}

func (Blank) node()         {}
func (Comment) node()       {}
func (Bad) node()           {}
func (*Text) node()         {}
func (*Terms) node()        {}
func (*Skill) node()        {}
func (*Size) node()         {}
func (*Gauge) node()        {}
func (*Hook) node()         {}
func (*TurningChain) node() {}
func (*Yarn) node()         {}
func (*Notion) node()       {}
func (*OwnStitch) node()    {}
func (*Piece) node()        {}
func (*Worked) node()       {}
func (*With) node()         {}
func (*Round) node()        {}
func (*Action) node()       {}
func (Assembly) node()      {}
func (*Sew) node()          {}
func (*PlaceThing) node()   {}
func (*Embroider) node()    {}
