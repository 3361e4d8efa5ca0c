package grammar

import (
	"io"
	"sync"

	"github.com/alecthomas/participle/v2/lexer"

	"workeven/grammar/terms"
)

// definition feeds participle from our own scanner. White space, comments and
// articles never reach it, and it never fails: what belongs nowhere is an
// Illegal token.
type definition struct{}

// tokenType is participle's number for a class of token.
func tokenType(k Kind) lexer.TokenType {
	if k == EOF {
		return lexer.EOF
	}
	return lexer.EOF - lexer.TokenType(k)
}

// Symbols names every class of token. It is asked for at every parse.
func (definition) Symbols() map[string]lexer.TokenType { return symbols() }

var symbols = sync.OnceValue(func() map[string]lexer.TokenType {
	m := map[string]lexer.TokenType{}
	for k, name := range kindNames {
		m[name] = tokenType(Kind(k))
	}
	return m
})

// Lex reads a statement from a reader.
func (d definition) Lex(filename string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return d.LexString(filename, string(text))
}

// LexString reads a statement.
func (definition) LexString(_, text string) (lexer.Lexer, error) {
	return &tokens{scanner{text: text, vocab: vocab()}}, nil
}

type tokens struct{ scanner }

// spoken are the stitches that the grammar speaks of, whatever their spelling.
var spoken = map[terms.Kind]string{terms.Chain: "ch", terms.Slip: "sl st", terms.Ring: "magic ring"}

// Next gives the next token: words of the notation and the few stitches that
// the grammar itself speaks of in their canonical spelling, all else as
// written. Its offset is in bytes.
func (s *tokens) Next() (lexer.Token, error) {
	t := s.scanner.next()
	value := t.In(s.text)
	switch t.Kind {
	case Keyword:
		value = Key(t.Value).String()
	case Term:
		if s := PhraseAt(t.Value).US; s != nil && spoken[s.Kind] != "" {
			value = spoken[s.Kind]
		}
	}
	return lexer.Token{Type: tokenType(t.Kind), Value: value, Pos: lexer.Position{Offset: int(t.Start), Line: 1, Column: int(t.Start) + 1}}, nil
}
