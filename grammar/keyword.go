package grammar

// Key is a word of the notation itself, whatever its spelling.
type Key int32

// The words of the notation.
const (
	KeyNone Key = iota
	KeyIn
	KeyEach
	KeyNext
	KeySame
	KeyFirst
	KeyLast
	KeyAny
	KeySt
	KeySp
	KeyLoop
	KeyOf
	KeyFrom
	KeyTo
	KeyAnd
	KeyThen
	KeyWith
	KeyAs
	KeyOver
	KeyUntil
	KeyAround
	KeyAcross
	KeyEnd
	KeyRnd
	KeyRow
	KeyRep
	KeyMore
	KeyX
	KeyEvenly
	KeySk
	KeyLeave
	KeyUnworked
	KeyRemaining
	KeyJoin
	KeyTurn
	KeyDoNot
	KeyBLO
	KeyFLO
	KeyBothLoops
	KeyBump
	KeyFreeLoops
	KeyPost
	KeyTop
	KeyTurningCh
	KeyRing
	KeyFormRing
	KeyHook
	KeyTog
	KeyPlaceMarker
	KeyMoveMarker
	KeyChangeTo
	KeyCounts
	KeyNotCounts
	KeySkipped
	KeyThroughout
	KeyWork
	KeyEven
	KeyAlong
	KeyOtherSide
	KeyOn
	KeyFastenOff
	KeyTotal
	KeyEndingAt
	KeyEndingWith
	KeyBoth
	KeyBetween
	KeyBelow
	KeyBase
	KeyMake
	KeyRowEnd
	KeyYarn
	KeyTakes
	KeyMakes
	keyCount
)

// keywords gives each word its canonical spelling first, then the others that
// are accepted. All are folded as terms.Key folds.
var keywords = [keyCount][]string{
	KeyIn:          {"in", "into", "inside", "within"},
	KeyEach:        {"each", "every", "all"},
	KeyNext:        {"next", "foll", "following", "nxt"},
	KeySame:        {"same"},
	KeyFirst:       {"first", "1st", "beg", "beginning"},
	KeyLast:        {"last"},
	KeyAny:         {"any"},
	KeySt:          {"st", "sts", "stitch", "stitches", "stiches"},
	KeySp:          {"sp", "sps", "space", "spaces"},
	KeyLoop:        {"loop", "loops", "lp", "lps"},
	KeyOf:          {"of"},
	KeyFrom:        {"from"},
	KeyTo:          {"to"},
	KeyAnd:         {"and", "&", "+"},
	KeyThen:        {"then"},
	KeyWith:        {"with", "using"},
	KeyAs:          {"as"},
	KeyOver:        {"over"},
	KeyUntil:       {"until"},
	KeyAround:      {"around", "round and round", "to end of rnd", "to end of round", "all around", "all the way around", "all way around"},
	KeyAcross:      {"across", "to end of row", "all across"},
	KeyEnd:         {"end"},
	KeyRnd:         {"rnd", "rnds", "round", "rounds"},
	KeyRow:         {"row", "rows"},
	KeyRep:         {"rep", "repeat", "reps", "repeating"},
	KeyMore:        {"more"},
	KeyX:           {"x", "times", "time"},
	KeyEvenly:      {"evenly", "evenly spaced", "spaced evenly"},
	KeySk:          {"sk", "skip", "miss"},
	KeyLeave:       {"leave", "leaving"},
	KeyUnworked:    {"unworked"},
	KeyRemaining:   {"remaining", "rem", "rest of", "rest"},
	KeyJoin:        {"join", "joining"},
	KeyTurn:        {"turn"},
	KeyDoNot:       {"do not", "don't", "don’t", "without"},
	KeyBLO:         {"blo", "bl", "back loop", "back loops", "back loop only", "back loops only", "back lp", "back lps", "back lp only", "back lps only", "tbl", "through back loop", "through back loops", "through back loops only"},
	KeyFLO:         {"flo", "fl", "front loop", "front loops", "front loop only", "front loops only", "front lp", "front lps", "front lp only", "front lps only", "tfl", "through front loop", "through front loops"},
	KeyBothLoops:   {"both loops", "both lps"},
	KeyBump:        {"back bump", "back bumps", "back hump", "back humps", "back ridge", "bump", "bumps"},
	KeyFreeLoops:   {"free loops", "free loop", "free lps", "unused loops", "unused loop", "free front loop", "free back loop", "unused front loop", "unused back loop", "unworked loops", "unworked loop", "free front loops", "free back loops", "unused front loops", "unused back loops", "unworked front loops", "unworked back loops", "remaining front loops", "remaining back loops", "remaining loops", "front free loops", "back free loops"},
	KeyPost:        {"post", "posts"},
	KeyTop:         {"top", "tops"},
	KeyTurningCh:   {"turning ch", "turning chain", "tch", "t ch", "turning chs", "beg ch", "beginning ch", "beginning chain", "starting ch", "starting chain", "start ch"},
	KeyRing:        {"ring", "centre ring", "center ring", "loop ring"},
	KeyFormRing:    {"form ring", "form a ring", "make a ring"},
	KeyHook:        {"hook"},
	KeyTog:         {"together", "tog"},
	KeyPlaceMarker: {"pm", "place marker", "place a marker", "place stitch marker"},
	KeyMoveMarker:  {"move marker", "move marker up", "slip marker", "sm", "sl m"},
	KeyChangeTo:    {"change to", "change colour to", "change color to", "switch to", "changing to"},
	KeyCounts:      {"counts", "count", "counted", "counting"},
	KeyNotCounts:   {"does not count", "do not count", "doesn't count", "don't count", "doesn’t count", "don’t count", "not counted", "not counting"},
	KeySkipped:     {"skipped", "missed"},
	KeyThroughout:  {"here and throughout", "throughout", "now and throughout", "here and on"},
	KeyWork:        {"work", "working", "worked"},
	KeyEven:        {"even"},
	KeyAlong:       {"along", "down"},
	KeyOtherSide:   {"other side", "opposite side", "second side", "other edge"},
	KeyOn:          {"on", "onto"},
	KeyFastenOff:   {"fasten off", "finish off"},
	KeyTotal:       {"total", "in total", "altogether", "total of"},
	KeyEndingAt:    {"ending last rep at", "ending last repeat at", "end last rep at", "end last repeat at", "ending at", "ending final rep at", "ending last rep"},
	KeyEndingWith:  {"ending with", "end with", "ends with"},
	KeyBoth:        {"both"},
	KeyBetween:     {"between"},
	KeyBelow:       {"below"},
	KeyBase:        {"base of", "at base of", "st at base of", "stitch at base of"},
	KeyMake:        {"make", "start", "begin"},
	KeyRowEnd:      {"row end", "row ends", "end of each row", "side of row", "side of rows", "row edge", "row edges"},
	KeyYarn:        {"yarn", "color", "colour", "new yarn", "new color", "new colour"},
	KeyTakes:       {"takes"},
	KeyMakes:       {"makes"},
}

// dropped are words that change nothing: the formatter leaves them out. A yarn
// may be called A, so the article is dropped only in lower case.
var dropped = map[string]bool{"the": true, "a": true, "an": true, "for": true, "corner": true}

// numberWords are the number words that a count may be written in.
var numberWords = map[string]int32{
	"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}

// ordinalWords are the ordinals written as words; "first" is a keyword.
var ordinalWords = map[string]int32{
	"second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12,
}

var timesWords = map[string]int32{"once": 1, "twice": 2, "thrice": 3}

func (k Key) String() string {
	if k <= KeyNone || k >= keyCount {
		return ""
	}
	return keywords[k][0]
}
