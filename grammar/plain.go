package grammar

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar of what stands behind a round's label. It is the readable
// specification of the steps; the reader of steps_read.go gives the same trees
// faster, and FuzzPlainEqualsRead holds the two equal.
//
// Alternatives are tried in the order they stand in. "(?= …)" and "(?! …)" look
// ahead without taking anything; the fields that hold only a look ahead are
// never filled. Tokens are what a production took, for its span. What a grammar
// cannot nicely say is said where the trees are made, in plain_lower.go: that
// brackets pair and hold something, where a comma may be missing, that a loop
// is said once.

var roundParser = sync.OnceValue(func() *participle.Parser[roundLine] {
	return participle.MustBuild[roundLine](participle.Lexer(definition{}), participle.UseLookahead(participle.MaxLookahead))
})

// roundLine is what stands behind "Rnd 3:": the steps, the total, and steps
// behind the total that make nothing.
type roundLine struct {
	Steps stepList    `parser:"@@"`
	Total *roundTotal `parser:"( @@"`
	After stepList    `parser:"@@ )?"`
}

// stepList is steps in the order they are worked.
type stepList struct {
	Steps []*listedStep `parser:"( Comma | Semicolon | Stop | 'then' | 'and' )* @@*"`
}

// listedStep is a step and what parts it from the next one.
type listedStep struct {
	Step   oneStep     `parser:"@@"`
	Ending *repeatEnds `parser:"( ( Comma | Semicolon )? 'ending with' @@ )?"`
	Colon  bool        `parser:"( @Colon"`
	Apart  bool        `parser:"| @( Comma | Semicolon | Stop | 'then' | 'and' )+ )?"`
}

// spreadStep is what may follow stitches that go all along the edge without a
// comma: "increasing 6 sts evenly".
type spreadStep struct {
	Sign shapingAhead `parser:"@@ Number 'st'? 'evenly'"`
}

// repeatEnds is what a repeat ends with: a step, or those of a bracket.
type repeatEnds struct {
	Step  *oneStep   `parser:"@@"`
	Group *bracketed `parser:"| @@"`
}

// placedFirst is stitches whose place stands before them: "in next ch-2 sp, work
// (2 dc, ch 2, 2 dc)".
type placedFirst struct {
	Ahead  *placeAhead `parser:"'in' (?= @@ )"`
	Place  anyPlace    `parser:"@@ ( Comma | Colon )? 'work'"`
	Slip   *slipStep   `parser:"( @@"`
	Stitch *stitchStep `parser:"| @@"`
	Group  *bracketed  `parser:"| @@ )"`
}

// placeAhead is what a place that stands first begins with.
type placeAhead struct {
	Sign bool `parser:"@( 'next' | 'each' | 'same' | 'first' | 'last' | 'any' | 'top' | 'turning ch' | 'base of' | Ordinal | 'sp' | ChSpace | 'st' | 'ch' (?! Number ) )"`
}

// oneStep is one thing to do.
type oneStep struct {
	Tokens    []lexer.Token
	Slip      *slipStep       `parser:"@@"`
	Stitches  *stitchStep     `parser:"| @@"`
	Counted   *countedBracket `parser:"| @@"`
	Standing  *standingNote   `parser:"| @@"`
	Bracket   *bracketStep    `parser:"| 'rep'? @@"`
	Star      *starStep       `parser:"| @@"`
	Skip      *skipStep       `parser:"| @@"`
	Join      *joinStep       `parser:"| @@"`
	Turn      bool            `parser:"| @'turn'"`
	FastenOff *fastenOffStep  `parser:"| @@"`
	DoNot     *doNotStep      `parser:"| @@"`
	Leave     *leaveStep      `parser:"| @@"`
	Marker    *markerStep     `parser:"| @@"`
	Yarn      *yarnStep       `parser:"| @@"`
	Rounds    *roundsStep     `parser:"| @@"`
	Even      *evenStep       `parser:"| @@"`
	OtherSide *otherSideStep  `parser:"| @@"`
	Looped    *loopedStep     `parser:"| @@"`
	Placed    *placedFirst    `parser:"| @@"`
	Source    *sourceStep     `parser:"| @@"`
	Loops     *loopsStep      `parser:"| @@"`
	Work      *oneStep        `parser:"| 'work' (?= Term | Number | Open | Star | 'blo' | 'flo' | 'both loops' | 'back bump' ) @@"`
	Make      *oneStep        `parser:"| 'make' ( 'with' (?! Word ) )? @@"`
}

// stitchStep is stitches: "sc 3", "2 sc in next st", "sc BLO around", "6 sc in
// magic ring".
type stitchStep struct {
	Stitch countedStitch `parser:"@@"`
	Places *placeList    `parser:"@@?"`
	Tail   stitchTail    `parser:"@@"`
}

// slipStep is slip stitches, which may go "to" a place, and which "to join" and
// "to form ring" make a join.
type slipStep struct {
	Ahead  *loopMark      `parser:"(?= ( Number 'x'? @@? )? 'sl st' )"`
	Stitch countedStitch  `parser:"@@"`
	Places *slipPlaceList `parser:"@@?"`
	Join   *slipJoin      `parser:"@@?"`
	Tail   stitchTail     `parser:"@@"`
}

// slipJoin is "to join", "to form ring" or both.
type slipJoin struct {
	Ring bool `parser:"'to' ( @'form ring'"`
	Join bool `parser:"| @'join'"`
	Both bool `parser:"( 'to'? @'form ring' )? )"`
}

// countedStitch is a stitch with the count before it or behind it, and what is
// said of how it is worked: "sc BLO 3", "5 dc tog", "inc 6 evenly".
type countedStitch struct {
	Before  lexer.Token  `parser:"( @Number ( 'x' (?= Term | Word ) )?"`
	Front   *loopMark    `parser:"  @@?"`
	Counted *stitchName  `parser:"  @@"`
	Loop    *loopMark    `parser:"  @@?"`
	Stitch  *stitchName  `parser:"| @@ ("`
	Count   *countBehind `parser:"    @@"`
	Behind  *loopMark    `parser:"    @@?"`
	Then    *loopMark    `parser:"  | @@"`
	Times   *countBehind `parser:"    @@? )? )"`
	Tog     bool         `parser:"@'together'?"`
	Evenly  bool         `parser:"@'evenly'?"`
}

// stitchName is a stitch of the glossary, or words for one of the pattern's own.
type stitchName struct {
	Tokens []lexer.Token
	Words  []string `parser:"@( Term | Word+ Term? )"`
}

// countBehind is "3", "3 times", "3 sts", "x 3", "twice".
type countBehind struct {
	N lexer.Token `parser:"@Number ( 'x' | 'st' )? | 'x' @Number | @TimesWord"`
}

// stitchTail is what may follow the places: how far to go, whose stitches to go
// around, and once more how the stitch is worked.
type stitchTail struct {
	Tokens []lexer.Token
	Tog    bool        `parser:"@'together'?"`
	Loop   *loopMark   `parser:"@@?"`
	Evenly bool        `parser:"@'evenly'?"`
	Fill   *fillWords  `parser:"( @@"`
	Spread *spreadStep `parser:"  ( (?! @@ ) (?= ( 'first' | 'both' | Ordinal )? ( Word | Term ) )"`
	Piece  *pieceCopy  `parser:"    @@ )? )?"`
	Spaced bool        `parser:"@'evenly'?"`
	In     *loopMark   `parser:"( 'in' @@ (?! 'of' ) )?"`
}

// pieceCopy is a piece that is gone around, or which of its copies.
type pieceCopy struct {
	Tokens []lexer.Token
	First  bool        `parser:"( @'first'"`
	Both   bool        `parser:"| @'both'"`
	Nth    lexer.Token `parser:"| @Ordinal )?"`
	Name   pieceName   `parser:"@@"`
}

// loopMark is a loop or part of the stitch below: BLO, FLO, both loops, back bump.
type loopMark struct {
	Mark lexer.Token `parser:"@( 'blo' | 'flo' | 'both loops' | 'back bump' )"`
}

// loopedStep is stitches, or a bracket, and the loop that all of it is worked in:
// "BLO sc 12", "in FLO (sc, inc) x 6".
type loopedStep struct {
	Loop     loopFirst    `parser:"@@"`
	Slip     *slipStep    `parser:"( @@"`
	Stitches *stitchStep  `parser:"| @@"`
	Bracket  *bracketStep `parser:"| @@ )"`
}

// loopFirst is a loop that stands before its stitch: "BLO", "in BLO", "working
// in BLO".
type loopFirst struct {
	Tokens []lexer.Token
	Loop   loopMark `parser:"( 'work'? ( 'in' | 'on' | 'along' ) )? @@"`
}

// loopsStep is a loop for all that follows: "in BLO:".
type loopsStep struct {
	Loop loopFirst `parser:"@@ (?! Term | Word | Number (?! 'x' Open ) | Open (?! 'counts' | 'does not count' | 'skipped' ) )"`
}

// sourceStep is the loops of a round, or a ring, that all that follows is worked
// into: "working in free loops of Rnd 5".
type sourceStep struct {
	Loop  *loopMark `parser:"'work'? ( 'in' | 'on' | 'along' ) (?= 'free loops' | 'ring' | 'magic ring' | @@ 'of' ( 'rnd' | 'row' ) )"`
	Place somePlace `parser:"@@"`
}

// countedBracket is a repeat with its count before it: "6 x (sc, inc)".
type countedBracket struct {
	N     lexer.Token `parser:"@Number 'x'"`
	Group bracketed   `parser:"@@"`
}

// bracketStep is a bracket that is repeated, or worked in one place: "(sc 2,
// inc) x 6", "(…) around", "(sc, hdc, sc) in next st".
type bracketStep struct {
	Group  bracketed     `parser:"@@"`
	Times  *bracketTimes `parser:"( @@"`
	Inside *placeList    `parser:"  ( (?= 'in' ) @@ )?"`
	Places *placeList    `parser:"| @@ )"`
}

// bracketed is the steps in a bracket of any kind.
type bracketed struct {
	Tokens []lexer.Token
	Steps  stepList `parser:"Open (?! 'counts' | 'does not count' | 'skipped' ) @@ Close"`
}

// bracketTimes is how often a bracket is worked: "x 6", "rep 6 times", "* 6",
// "x 6 around", "to last 3 sts".
type bracketTimes struct {
	Tokens []lexer.Token
	Sign   lexer.Token `parser:"( Star @Number"`
	Count  *countTimes `parser:"| ( Comma? 'rep' )? @@ ) ( 'around' | 'across' )?"`
	Fill   *fillWords  `parser:"| ( Comma? 'rep' )? @@"`
}

// countTimes is a number of times: "x 6", "6 times in all", "twice more", "5
// more times".
type countTimes struct {
	Tokens []lexer.Token
	N      lexer.Token `parser:"( 'x' @Number | @Number 'x' | @TimesWord )"`
	More   bool        `parser:"( @'more'"`
	Total  bool        `parser:"| @'total' | @( 'in' 'each' ) (?= EOF | Comma | Semicolon | Stop | Open | Close ) )?"`
	Extra  lexer.Token `parser:"| @Number 'more' 'x'?"`
}

// starStep is a repeat between a star and its "rep from *": "*sc 2, inc; rep
// from * around, ending last rep at **". A second star may close it instead:
// "*sc 2, inc* x 6".
type starStep struct {
	Body   starBody    `parser:"Star @@"`
	Closed bool        `parser:"( @Star ( ( Comma | Semicolon )? 'rep'"`
	Again  *fromStar   `parser:"  @@? )?"`
	Rep    bool        `parser:"| @'rep' (?! Open )"`
	From   *fromStar   `parser:"  @@? ) ( Comma (?= 'around' | 'across' | Number ( 'x' | 'more' ) | TimesWord ) )?"`
	Count  *countTimes `parser:"( @@"`
	Fill   *fillWords  `parser:"| @@ )?"`
	EndAt  bool        `parser:"( ( Comma | Semicolon )? @'ending last rep at' Stars )?"`
}

// starBody is the steps between the stars; ** marks where the last repeat ends.
type starBody struct {
	Tokens []lexer.Token
	First  starList `parser:"@@"`
	Stop   bool     `parser:"( @Stars"`
	Second starList `parser:"@@ )?"`
}

// starList is steps up to the star that closes them.
type starList struct {
	Steps []*listedStep `parser:"( Comma | Semicolon | Stop | 'then' | 'and' )* ( (?! Star ) @@ )*"`
}

// fromStar is "from *", "from * to **".
type fromStar struct {
	From bool `parser:"@'from' ( Star | Stars ) ( 'to' ( Star | Stars ) )?"`
}

// standingNote says what a starting chain or skipped chains stand for, in
// brackets or bare: "(counts as dc and ch 1)".
type standingNote struct {
	Tokens []lexer.Token
	Note   *standing `parser:"Open @@"`
	Later  bool      `parser:"( Comma @'here and throughout' )? Close"`
	Bare   *standing `parser:"| @@"`
}

// standing is "skipped 3 ch count as dc here and throughout".
type standing struct {
	Skipped bool      `parser:"( @'skipped' Number? 'ch'? 'st'? )?"`
	Not     bool      `parser:"( @'does not count' | 'counts' )"`
	Early   bool      `parser:"@'here and throughout'?"`
	As      *standsAs `parser:"( 'as' @@ )? (?! 'as' )"`
	Late    bool      `parser:"@'here and throughout'?"`
}

// standsAs is "first dc", "st", "dc and ch 1", "ch-2 sp".
type standsAs struct {
	Stitch *stitchName  `parser:"'first'? Number? 'first'? ( ( (?! 'ch' ) @@ 'st'? | 'st' )"`
	Beside *spaceBeside `parser:"  @@?"`
	Space  *chainSpace  `parser:"| @@ )"`
}

// spaceBeside is the chain space that is made as well: "and ch 1", ", 1 ch".
type spaceBeside struct {
	N     lexer.Token `parser:"Comma? ( 'and' | 'with' )? ( @Number 'ch'"`
	Space *chainSpace `parser:"| @@ )"`
}

// chainSpace is "ch-2 sp", "ch 2", "ch".
type chainSpace struct {
	Space lexer.Token `parser:"@ChSpace"`
	Chain lexer.Token `parser:"| @'ch'"`
	N     lexer.Token `parser:"  @Number? 'sp'?"`
}

// skipStep is "sk 2", "sk next 2 sts", "sk turning ch", "sk ch-2 sp".
type skipStep struct {
	N       lexer.Token `parser:"'sk' ( @Number"`
	Counted *unitName   `parser:"  @@?"`
	Place   *somePlace  `parser:"| (?= 'next' | 'first' | 'last' | 'same' | 'base of' ) @@"`
	Turning bool        `parser:"| @'turning ch'"`
	Unit    *unitName   `parser:"| @@ )"`
}

// leaveStep is "leave remaining 4 sts unworked".
type leaveStep struct {
	N    lexer.Token `parser:"'leave' ( 'remaining' | 'next' | 'last' )* @Number? 'remaining'*"`
	Unit *unitName   `parser:"@@? 'unworked'?"`
}

// joinStep joins a round, a ring, a yarn, or a piece onto another: "join with
// sl st to first sc", "join B in any st", "join A to Head between Rnds 2 and 3".
type joinStep struct {
	Ring    bool         `parser:"( 'join' | @'form ring' ) 'yarn'?"`
	Yarn    lexer.Token  `parser:"@Word? 'rnd'?"`
	With    *joinWith    `parser:"@@?"`
	To      bool         `parser:"( 'to' @'form ring'"`
	Piece   *joinedPiece `parser:"| ( 'in' | 'to' | 'on' | 'over' | 'around' ) ( @@"`
	Place   *anyPlace    `parser:"  | @@ ) )?"`
	Between *roundRange  `parser:"( 'between' @@ )?"`
	Again   *joinWith    `parser:"@@?"`
	ToRing  bool         `parser:"@( 'to' 'form ring' )?"`
	Last    bool         `parser:"@'form ring'?"`
}

// joinWith is the stitch or the yarn that a join is made with.
type joinWith struct {
	Stitch lexer.Token `parser:"'with' ( @Term"`
	Yarn   lexer.Token `parser:"| @Word )"`
}

// joinedPiece is the piece that another is worked onto.
type joinedPiece struct {
	Name pieceName `parser:"(?= Word | (?! 'ch' | 'magic ring' ) Term ( 'between' | Word ) ) @@"`
}

// fastenOffStep is "fasten off", "fasten off A".
type fastenOffStep struct {
	Off  bool        `parser:"@'fasten off'"`
	Yarn lexer.Token `parser:"@Word?"`
}

// doNotStep is "do not turn", "without joining".
type doNotStep struct {
	Not bool `parser:"@'do not' ( 'turn' | 'join' | 'fasten off' | Word )*"`
}

// markerStep is "pm", "move marker", "pm in first st".
type markerStep struct {
	Marker bool      `parser:"@( 'pm' | 'move marker' )"`
	Place  *anyPlace `parser:"( ( 'in' | 'on' ) @@ )?"`
}

// yarnStep is "with B", "change to B in last st".
type yarnStep struct {
	With   lexer.Token `parser:"'with' 'yarn'? @( Word | Term | Keyword )"`
	Change lexer.Token `parser:"| 'change to' 'yarn'? @( Word | Term | Keyword )"`
	Ahead  *placeStart `parser:"  ( 'in' (?= @@ )"`
	Place  *anyPlace   `parser:"    @@ )?"`
}

// roundsStep repeats rounds: "rep Rnds 8-9", "rep last 2 rnds", "work as Rnd 5".
type roundsStep struct {
	Last   bool        `parser:"( 'rep' | 'same' 'as' | 'work'? 'as' ) ( @'last'"`
	N      lexer.Token `parser:"  @Number?"`
	Row    bool        `parser:"  ( 'rnd' | @'row' )"`
	Rounds *roundRange `parser:"| @@ )"`
}

// roundRange is "Rnd 5", "Rnds 8-9", "Rnds 2 and 3".
type roundRange struct {
	Tokens []lexer.Token
	Row    bool        `parser:"( 'rnd' | @'row' )"`
	From   lexer.Token `parser:"@Number"`
	To     lexer.Token `parser:"( ( Dash | 'to' | 'and' ) @Number )?"`
}

// evenStep is "work even", "work even in sc around".
type evenStep struct {
	Even   bool        `parser:"'work' @'even'"`
	Stitch *stitchName `parser:"( 'in' @@ )?"`
	Fill   *fillWords  `parser:"@@?"`
}

// otherSideStep is "working along other side of ch".
type otherSideStep struct {
	Side bool `parser:"( 'work'? ( 'in' | 'on' | 'along' ) )? @'other side' ( 'of' ( Word | Term | 'turning ch' | 'first' )* )?"`
}

// roundTotal is the stated total: "(18)", "= 18", "- 18 sts", "18 sts", "(12 dc,
// 6 ch-2 sps)". The kind of bracket is free. "(3 sc), rep 6 times" is a repeat.
type roundTotal struct {
	Tokens []lexer.Token
	Signed *totalParts `parser:"( Equals | Dash ) (?= Number | 'total' ) @@"`
	Bare   *totalParts `parser:"| (?= Number 'st' ) @@ (?= Stop? EOF )"`
	Braced *totalParts `parser:"| Open @@ Close (?= EOF | Stop | Semicolon | Comma (?! 'rep' (?! 'from' | 'rnd' | 'row' | 'last' | Open ) ) | 'turn' | 'join' | 'fasten off' | 'change to' | 'do not' | 'pm' )"`
}

// totalParts is one number, or one for each kind of thing counted.
type totalParts struct {
	First totalPart   `parser:"@@"`
	More  []totalPart `parser:"( ( Comma | Semicolon | 'and' )+ (?= Number | 'total' ) @@ )*"`
}

// totalPart is "18", "18 sts", "total: 12 dc".
type totalPart struct {
	N    lexer.Token `parser:"( 'total' | Equals | Colon )* @Number"`
	Unit *totalUnit  `parser:"@@? 'total'*"`
}

// totalUnit is what a part of a total counts.
type totalUnit struct {
	Tokens []lexer.Token
	Words  []string `parser:"@( 'st' | 'sp' | 'loop' | ChSpace | 'ch' ( 'st' | 'loop' )? | Term 'st'? | Word+ Term? 'st'? )"`
}
