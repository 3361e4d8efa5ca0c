package grammar

// Tokens are the tokens of a statement's text in order, without an EOF at the
// end. Lexing never fails: what belongs nowhere is Illegal. White space,
// comments and the words that change nothing are passed over.
func Tokens(text string) []Token {
	toks := lexed(nil, text, 0)
	return toks[:len(toks)-1]
}
