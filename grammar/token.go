package grammar

import "workeven/grammar/terms"

// Kind is the class of a token.
type Kind uint8

// The classes of token. Every byte of a statement belongs to one of them or is
// white space, a comment, or the article "the".
const (
	EOF       Kind = iota
	Illegal        // a character that the notation has no use for
	Number         // digits, or a number word up to twelve
	Ordinal        // 2nd, third
	TimesWord      // once, twice, thrice: a number of times in one word
	ChSpace        // ch-2 sp; Value is the chains, 0 where not said
	Term           // a stitch of the glossary, of one or more words; Value indexes phrases
	Keyword        // a word of the notation itself; Value is a Key
	Word           // any other word: a name, an own stitch, a slip of the pen
	Open           // ( [ {
	Close          // ) ] }
	Comma
	Semicolon
	Stop  // .
	Colon // :
	Star  // *
	Stars // **
	Dash  // - and its longer sisters
	Equals
	Slash
	Hash  // a colour: # and its digits
	Quote // straight or curly
)

var kindNames = [...]string{
	"EOF", "Illegal", "Number", "Ordinal", "TimesWord", "ChSpace", "Term", "Keyword", "Word", "Open", "Close",
	"Comma", "Semicolon", "Stop", "Colon", "Star", "Stars", "Dash", "Equals", "Slash", "Hash", "Quote",
}

func (k Kind) String() string { return kindNames[k] }

// Span is a run of bytes of a statement's text. An empty one means "not written".
type Span struct{ Start, End int32 }

// Written says whether the span holds anything.
func (s Span) Written() bool { return s.End > s.Start }

// To spans from the start of one to the end of another.
func (s Span) To(t Span) Span { return Span{s.Start, max(s.End, t.End)} }

// In cuts the span out of its statement's text.
func (s Span) In(text string) string {
	n := int32(len(text))
	return text[min(s.Start, n):min(max(s.Start, s.End), n)]
}

// Token is one token of a statement.
type Token struct {
	Kind  Kind
	Value int32
	Span
}

// Phrase is a spelling of the glossary as the lexer knows it.
type Phrase struct {
	// Spelling is folded, see terms.Key.
	Spelling string
	terms.Phrase
}

// MaxCount bounds every number read: a larger one is read as this.
const MaxCount = 1_000_000_000
