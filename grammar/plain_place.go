package grammar

import (
	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"workeven/grammar/terms"
)

// The places of the grammar: where stitches go, what is counted, how far to go.

// placeList is where stitches go: "in next st and in each ch across".
type placeList struct {
	First firstPlace   `parser:"@@"`
	More  []*morePlace `parser:"@@*"`
	Alone *loopAlone   `parser:"(?! 'and' 'in' (?! @@ ) )"`
}

// slipPlaceList is where slip stitches go; they may go "to" a place.
type slipPlaceList struct {
	To    *placed      `parser:"( 'to' (?! 'join' | 'form ring' | 'end' ) @@"`
	First *firstPlace  `parser:"| @@ )"`
	More  []*morePlace `parser:"@@*"`
	Alone *loopAlone   `parser:"(?! 'and' 'in' (?! @@ ) )"`
}

// firstPlace is a place behind its stitch: "in next st", "next 3 sts", "around
// post of next dc"; or a loop alone: "in BLO".
type firstPlace struct {
	Tokens []lexer.Token
	Loop   *loopAlone  `parser:"'in' @@"`
	In     *placed     `parser:"| ( 'in' | 'over' | 'on' ) @@"`
	Start  *placeStart `parser:"| (?! 'top' | 'turning ch' ) (?= @@ )"`
	Bare   *placed     `parser:"  @@"`
	Ahead  *placeStart `parser:"| 'around' (?! ( 'first' | Ordinal ) Word ) (?= 'post' | @@ )"`
	Post   *placed     `parser:"  @@"`
}

// morePlace is a further place: "and in next st", "and next st".
type morePlace struct {
	Tokens []lexer.Token
	Loop   *loopAlone  `parser:"'in' @@"`
	Alone  *loopAlone  `parser:"| ( 'in' | 'over' | 'and' 'in' (?! @@ ) )"`
	In     *placed     `parser:"  @@"`
	Start  *placeStart `parser:"| 'and' (?= @@ )"`
	And    *placed     `parser:"  @@"`
	Ahead  *placeStart `parser:"| 'around' (?! ( 'first' | Ordinal ) Word ) (?= 'post' | @@ )"`
	Post   *placed     `parser:"  @@"`
}

// placeStart is a word that only a place begins with.
type placeStart struct {
	Word string `parser:"@( Ordinal | 'next' | 'each' | 'same' | 'first' | 'last' | 'any' | 'top' | 'turning ch' | 'base of' )"`
}

// loopAlone is a loop that names no place of its own: "in BLO around".
type loopAlone struct {
	Loop  loopMark    `parser:"@@"`
	Ahead *placeStart `parser:"(?! 'of' | 'st' | @@ )"`
}

// placed is a place, or two kinds of thing that are each worked into: "each dc
// and ch-1 sp around".
type placed struct {
	Some *somePlace `parser:"@@"`
	Each *eachPlace `parser:"| @@"`
	Also *alsoEach  `parser:"  @@?"`
}

// anyPlace is one place.
type anyPlace struct {
	Some *somePlace `parser:"@@"`
	Each *eachPlace `parser:"| @@"`
}

// somePlace is all places but "each st": "next 3 sts", "BLO of next st", "each of
// next 3 sts", "first st of Rnd 2", "2nd ch from hook".
type somePlace struct {
	Tokens  []lexer.Token
	OfRound *loopsOfRound `parser:"  @@"`
	Loop    *loopMark     `parser:"| ( @@ 'of'? )?"`
	Post    bool          `parser:"  ( @'post' 'of'? )?"`
	Next    *countedUnits `parser:"  ( 'next' @@"`
	First   *countedUnits `parser:"  | 'first' @@"`
	Last    *countedUnits `parser:"  | 'last' @@"`
	Any     *countedUnits `parser:"  | 'any' @@"`
	Each    *eachCounted  `parser:"  | @@"`
	Same    *samePlace    `parser:"  | @@"`
	Base    *basePlace    `parser:"  | @@"`
	Nth     *nthPlace     `parser:"  | @@"`
	Top     *topPlace     `parser:"  | @@"`
	Turning bool          `parser:"  | @'turning ch'"`
	Ring    bool          `parser:"  | @'ring'"`
	Magic   bool          `parser:"  | @'magic ring'"`
	Left    *leftPlaces   `parser:"  | @@"`
	Rest    *restPlaces   `parser:"  | @@"`
	Other   *otherPlaces  `parser:"  | @@"`
	Counted *countedUnits `parser:"  | (?= Number ) @@"`
	Within  *spaceWithin  `parser:"  | @@"`
	Unit    *unitName     `parser:"  | @@ )"`
	Of      *placeOf      `parser:"  @@?"`
	Below   *roundsBelow  `parser:"  @@?"`
}

// loopsOfRound is "FLO of Rnd 5": the loops of that round that are free.
type loopsOfRound struct {
	Loop  loopMark    `parser:"@@ 'of'?"`
	Round lexer.Token `parser:"( 'rnd' | 'row' ) @Number"`
}

// countedUnits is "3 sts", "2 free loops", "4 unworked sts", "st", or nothing
// where stitches are meant.
type countedUnits struct {
	N     lexer.Token `parser:"@Number?"`
	Free  bool        `parser:"( @'free loops'"`
	Left  bool        `parser:"| @( 'unworked' | 'remaining' | 'skipped' )"`
	Those *unitName   `parser:"  @@?"`
	Unit  *unitName   `parser:"| @@ )?"`
}

// eachCounted is "each of next 3 sts", "each of last 2 sts", "each unworked st".
type eachCounted struct {
	Next    *countedUnits `parser:"'each' (?! 'of' ( Word | EOF ) ) 'of'? ( ( 'next' | 'first' | 'remaining' (?= Number ) ) @@"`
	Last    *countedUnits `parser:"| 'last' @@"`
	Free    bool          `parser:"| @'free loops'"`
	Loop    *loopMark     `parser:"| @@ (?= 'of' ( 'rnd' | 'row' ) )"`
	Left    bool          `parser:"| @( 'unworked' | 'skipped' )"`
	Those   *unitName     `parser:"  @@?"`
	Counted *countedUnits `parser:"| (?= Number ) @@ )"`
}

// eachPlace is all of them: "each st around", "each remaining st", "remaining
// sts", "each st of Leg".
type eachPlace struct {
	Tokens []lexer.Token
	Loop   *loopMark    `parser:"( @@ 'of'? )?"`
	Post   bool         `parser:"( @'post' 'of'? )?"`
	Slip   *slipForFill `parser:"( 'each' (?! 'of' ( Word | EOF ) ) 'of'? ( 'remaining' (?! 'loop' ) )? | 'remaining' ) (?! @@ )"`
	Unit   *unitName    `parser:"@@?"`
	Fill   *fillWords   `parser:"( @@"`
	Of     *placeOf     `parser:"  @@?"`
	From   *placeOf     `parser:"| @@"`
	Then   *fillWords   `parser:"  @@? )?"`
	Below  *roundsBelow `parser:"@@?"`
}

// alsoEach is the second kind of thing that is worked into: "and ch-1 sp around".
type alsoEach struct {
	Unit unitName   `parser:"'and' (?= 'sp' | ChSpace | 'st' | 'ch' (?! Number ) ) @@"`
	Fill *fillWords `parser:"@@?"`
}

// samePlace is "same st", "same st as join".
type samePlace struct {
	Unit *unitName `parser:"'same' @@?"`
	As   bool      `parser:"( @'as' ( 'join' | 'last' | 'first' | 'st' | 'turning ch' Number? | 'ch' Number? | Term )* )?"`
}

// basePlace is "base of turning ch".
type basePlace struct {
	Base  bool       `parser:"@'base of'"`
	Chain *chainName `parser:"@@?"`
}

// nthPlace is "2nd ch from hook", "3rd st", "3rd ch of turning ch".
type nthPlace struct {
	Nth  lexer.Token `parser:"@Ordinal"`
	Unit unitName    `parser:"@@"`
	Hook bool        `parser:"( @( 'from' 'hook' )"`
	Top  *chainName  `parser:"| 'of' @@ )?"`
}

// topPlace is "top of turning ch", "top of next st".
type topPlace struct {
	Chain *chainName `parser:"'top' 'of'? ( 'first' | 'last' | 'same' | 'next' )? ( @@"`
	Unit  *unitName  `parser:"| @@ )?"`
}

// leftPlaces is what earlier rounds left: "free loops", "unworked sts".
type leftPlaces struct {
	Free lexer.Token `parser:"@'free loops'"`
	Left bool        `parser:"| @( 'unworked' | 'skipped' )"`
	Unit *unitName   `parser:"  @@?"`
}

// restPlaces is "remaining 7 sts", "remaining sts of Row 3".
type restPlaces struct {
	N    lexer.Token `parser:"'remaining' @Number"`
	Unit *unitName   `parser:"  @@?"`
	Sts  *unitName   `parser:"| 'remaining' @@? (?= 'of' ( 'rnd' | 'row' ) )"`
}

// otherPlaces is "other side of next 3 ch".
type otherPlaces struct {
	Some bool        `parser:"'other side' 'of'? ( 'each' 'of'? )? @( 'next' | 'first' | 'last' )?"`
	N    lexer.Token `parser:"@Number?"`
	Unit unitName    `parser:"@@"`
}

// placeOf is whose stitches are meant: "of Rnd 5", "of Leg", "of first Leg", "of turning ch".
type placeOf struct {
	Round lexer.Token `parser:"'of' ( ( 'rnd' | 'row' ) @Number"`
	Chain *chainName  `parser:"| @@"`
	Piece *pieceOf    `parser:"| @@ )"`
}

// spaceWithin is the space that a shell or the like holds: "ch-1 sp of next V-st".
type spaceWithin struct {
	Space unitName   `parser:"(?= ChSpace | 'sp' ) @@"`
	Ahead groupAhead `parser:"'of' (?= ( 'next' | 'each' | 'first' | 'last' ) Number? @@ )"`
	Some  *somePlace `parser:"( @@"`
	Each  *eachPlace `parser:"| @@ )"`
}

// pieceOf is a piece, or which of its copies.
type pieceOf struct {
	First bool        `parser:"(?! Number | 'of' ) ( @'first' | 'same' | 'next'"`
	Nth   lexer.Token `parser:"| @Ordinal )?"`
	Name  pieceName   `parser:"@@"`
}

// roundsBelow is how far down a long stitch reaches: "2 rnds below".
type roundsBelow struct {
	N     lexer.Token `parser:"( @Number? ( 'rnd' | 'row' ) )?"`
	Below bool        `parser:"@'below'"`
}

// pieceName is a piece's name, up to a sign or a word of the notation.
type pieceName struct {
	Tokens []lexer.Token
	Words  []string `parser:"( @Word | @Term | @Number (?! 'x' ) | @'of' (?= Word | Term ) )+"`
}

// chainName is "turning ch", "beg ch-3", "ch 3".
type chainName struct {
	Words []string `parser:"@( 'turning ch' | 'ch' ) Number?"`
}

// unitName is what is counted: sts, ch, ch-2 sp, dc.
type unitName struct {
	Tokens []lexer.Token
	Words  []string `parser:"@( ChSpace | 'st' | 'sp' | 'loop' | 'post' | 'turning ch' | 'row end' | ( 'back bump' | Term | Word ) 'st'? )"`
}

// fillWords is how far a step goes: "around", "to end", "around to last 3 sts".
type fillWords struct {
	Tokens []lexer.Token
	Around bool        `parser:"( @'around'"`
	Across bool        `parser:"| @'across' )"`
	ToLast *fillToLast `parser:"( @@ | 'to' 'end' )?"`
	End    bool        `parser:"| @( 'to' 'end' ) ( 'of' ( 'rnd' | 'row' )? )?"`
	Last   *fillToLast `parser:"| @@"`
}

// fillToLast is "to last 3 sts", "to turning ch", "until 3 sts remain".
type fillToLast struct {
	N       lexer.Token `parser:"'to' 'last' @Number?"`
	Unit    *unitName   `parser:"  @@"`
	Turning bool        `parser:"| 'to' @'turning ch'"`
	Until   lexer.Token `parser:"| 'until' @Number"`
	Rest    *unitName   `parser:"  @@ ( 'remaining' | Word )?"`
}

// groupAhead is a shell, a V-stitch or another stitch of the glossary that
// leaves several.
type groupAhead struct{}

// Parse takes such a stitch; participle.NextMatch where none stands here.
func (*groupAhead) Parse(lex *lexer.PeekingLexer) error {
	word := lex.Peek()
	if word.Type != tokenType(Term) {
		return participle.NextMatch
	}
	toks := lexed(nil, word.Value, 0)
	if toks[0].Kind != Term || !isKind(toks[0].Value, terms.Group) {
		return participle.NextMatch
	}
	lex.Next()
	return nil
}

// shapingAhead is an increase or a decrease of the glossary.
type shapingAhead struct{}

// Parse takes such a stitch; participle.NextMatch where none stands here.
func (*shapingAhead) Parse(lex *lexer.PeekingLexer) error {
	word := lex.Peek()
	if word.Type != tokenType(Term) {
		return participle.NextMatch
	}
	if t := lexed(nil, word.Value, 0)[0]; t.Kind != Term || !shapes(t) {
		return participle.NextMatch
	}
	lex.Next()
	return nil
}

// slipForFill is a word that ends its place and is nearly "around" or "across".
type slipForFill struct{}

// Parse takes such a word; participle.NextMatch where none stands here.
func (*slipForFill) Parse(lex *lexer.PeekingLexer) error {
	word, start := *lex.Peek(), lex.MakeCheckpoint()
	if word.Type != tokenType(Word) {
		return participle.NextMatch
	}
	lex.Next()
	switch lex.Peek().Value {
	case KeyAround.String(), KeyAcross.String(), KeyTo.String(), KeyUntil.String(), KeyOf.String():
	default:
		if nearFill(word.Value) {
			return nil
		}
	}
	lex.LoadCheckpoint(start)
	return participle.NextMatch
}
