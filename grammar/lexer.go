package grammar

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// lexed appends the tokens of a statement's text from byte offset at on; the
// last one is EOF. Lexing never fails: what belongs nowhere is Illegal.
func lexed(toks []Token, text string, at int) []Token {
	s := scanner{text: text, at: at, vocab: vocab()}
	for {
		t := s.next()
		toks = append(toks, t)
		if t.Kind == EOF {
			return toks
		}
	}
}

type scanner struct {
	text  string
	at    int
	vocab *vocabulary
	fold  [64]byte
}

func (s *scanner) next() Token {
	for {
		s.blanks()
		start := s.at
		if start >= len(s.text) {
			return Token{EOF, 0, Span{int32(len(s.text)), int32(len(s.text))}}
		}
		c := s.text[start]
		var t Token
		switch {
		case isLetter(c):
			t = s.word()
		case isDigit(c):
			t = s.number()
		case c < utf8.RuneSelf:
			t = s.symbol()
		default:
			t = s.wide()
		}
		if t.Kind == EOF {
			continue // a dropped word
		}
		t.Span = Span{int32(start), int32(s.at)}
		return t
	}
}

// blanks passes white space, the line ends of continued statements, and comments.
func (s *scanner) blanks() {
	for s.at < len(s.text) {
		c := s.text[s.at]
		switch {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			s.at++
		case c == '/' && isComment(s.text, s.at):
			n := strings.IndexByte(s.text[s.at:], '\n')
			if n < 0 {
				s.at = len(s.text)
				return
			}
			s.at += n
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(s.text[s.at:])
			if !unicode.IsSpace(r) && r != '\u200b' && r != '\ufeff' {
				return
			}
			s.at += n
		default:
			return
		}
	}
}

// isComment says whether a private comment starts at a place: two slashes at
// the start or after white space.
func isComment(text string, at int) bool {
	if !strings.HasPrefix(text[at:], "//") {
		return false
	}
	if at == 0 {
		return true
	}
	r, _ := utf8.DecodeLastRuneInString(text[:at])
	return unicode.IsSpace(r)
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

// wordEnd is where the letters and digits of a word that starts at i end; an
// apostrophe inside belongs to it.
func (s *scanner) wordEnd(i int) int {
	for i < len(s.text) {
		c := s.text[i]
		switch {
		case isLetter(c) || isDigit(c):
			i++
		case c == '\'' && i+1 < len(s.text) && isLetter(s.text[i+1]):
			i++
		case c < utf8.RuneSelf:
			return i
		default:
			r, n := utf8.DecodeRuneInString(s.text[i:])
			if r == '’' && i+n < len(s.text) && isLetter(s.text[i+n]) || r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsMark(r) || isPicture(r)) {
				i += n
				continue
			}
			return i
		}
	}
	return i
}

// isPicture says whether a character is a picture, or joins pictures to one:
// names have such. Signs that word processors put for x are none.
func isPicture(r rune) bool {
	switch r {
	case '✕', '✖':
		return false
	case '\u200d': // joins two to one
		return true
	}
	return unicode.Is(unicode.So, r) || r >= 0x1f000 && unicode.Is(unicode.Sk, r)
}

// folded is the word from i to j in lower case, for look-ups; long ones are no word of ours.
func (s *scanner) folded(i, j int) []byte {
	if j-i > len(s.fold) {
		return nil
	}
	b := s.fold[:j-i]
	for k := range b {
		c := s.text[i+k]
		if c >= 'A' && c <= 'Z' {
			c |= 0x20
		}
		b[k] = c
	}
	return b
}

// match finds the longest entry that starts with the word from i to j, and where it ends.
func (s *scanner) match(i, j int) (entry, int, bool) {
	entries := s.vocab.starts.entries(s.folded(i, j))
	if len(entries) == 0 {
		return entry{}, 0, false
	}
	next := s.second(j)
	for _, e := range entries {
		if len(e.rest) > 0 && e.rest[0][0] != next {
			continue
		}
		if end, ok := s.matchRest(e.rest, j); ok {
			return e, end, true
		}
	}
	return entry{}, 0, false
}

// second is the first byte, in lower case, of the word that follows a place.
func (s *scanner) second(i int) byte {
	for i < len(s.text) && (s.text[i] == ' ' || s.text[i] == '\t') {
		i++
	}
	i += dash(s.text[i:])
	if strings.HasPrefix(s.text[i:], "\u00a0") {
		i += len("\u00a0")
	}
	if i >= len(s.text) {
		return 0
	}
	if c := s.text[i]; c >= 'A' && c <= 'Z' {
		return c | 0x20
	}
	return s.text[i]
}

func (s *scanner) matchRest(rest []string, at int) (int, bool) {
	for k, want := range rest {
		i := at
		for i < len(s.text) && (s.text[i] == ' ' || s.text[i] == '\t') {
			i++
		}
		if i == at {
			i += dash(s.text[i:])
		}
		if strings.HasPrefix(s.text[i:], "\u00a0") {
			i += len("\u00a0")
		}
		if i == at && !isDigit(s.text[at-1]) {
			return 0, false
		}
		j := s.wordEnd(i)
		got := s.folded(i, j)
		if string(got) != want && !(k == len(rest)-1 && plural(got, want)) {
			return 0, false
		}
		at = j
	}
	return at, true
}

// dash is how many bytes the hyphen or dash at the start of a text has, 0 where
// none stands there. Word processors write several.
func dash(text string) int {
	if text == "" || text[0] < utf8.RuneSelf && text[0] != '-' {
		return 0
	}
	switch r, n := utf8.DecodeRuneInString(text); r {
	case '-', '–', '—', '‐', '‑', '‒', '−':
		return n
	}
	return 0
}

// plural says whether a word is another with an s or es.
func plural(got []byte, want string) bool {
	n := len(want)
	return n > 1 && len(got) > n && string(got[:n]) == want && (string(got[n:]) == "s" || string(got[n:]) == "es")
}

func (s *scanner) word() Token {
	start := s.at
	end := s.wordEnd(start)
	if t, ok := s.chSpace(start, end); ok {
		return t
	}
	if e, to, ok := s.match(start, end); ok {
		s.at = to
		if e.kind == Keyword && Key(e.value) == KeyTurningCh {
			s.turningChLength()
		}
		return Token{Kind: e.kind, Value: e.value}
	}
	w := s.folded(start, end)
	if dropped[string(w)] && (end-start > 1 || s.text[start] == 'a') {
		s.at = end
		return Token{Kind: EOF}
	}
	// A plural of a term ("bobbles"), of one word.
	for cut := 1; cut <= 2 && len(w) > cut+1; cut++ {
		if w[len(w)-1] == 's' && (cut == 1 || w[len(w)-2] == 'e') {
			if e, to, ok := s.match(start, end-cut); ok && e.kind == Term && to == end-cut {
				s.at = end
				return Token{Kind: Term, Value: e.value}
			}
		}
	}
	// A count written against its word: sc3, ch4, x6.
	letters := start
	for letters < end && !isDigit(s.text[letters]) {
		letters++
	}
	if letters < end && allDigits(s.text[letters:end]) {
		if e, to, ok := s.match(start, letters); ok && to == letters && (e.kind == Term || Key(e.value) == KeyX || Key(e.value) == KeyRnd) {
			s.at = letters
			return Token{Kind: e.kind, Value: e.value}
		}
	}
	// An unknown word keeps its hyphens.
	for end < len(s.text)-1 && s.text[end] == '-' && isLetter(s.text[end+1]) {
		end = s.wordEnd(end + 1)
	}
	s.at = end
	return Token{Kind: Word}
}

func allDigits(w string) bool {
	for i := range len(w) {
		if !isDigit(w[i]) {
			return false
		}
	}
	return true
}

// turningChLength passes the length that may follow: "beg ch-3".
func (s *scanner) turningChLength() {
	i := s.at
	if i < len(s.text) && s.text[i] == '-' && i+1 < len(s.text) && isDigit(s.text[i+1]) {
		s.at = i + 1
		s.digits()
	}
}

// chSpace reads "ch-2 sp", "ch 2 space", "ch2sp", "ch sp", "chain-5 loop".
func (s *scanner) chSpace(start, end int) (Token, bool) {
	letters := start
	for letters < end && isLetter(s.text[letters]) {
		letters++
	}
	switch string(s.folded(start, letters)) {
	case "ch", "chain":
	default:
		return Token{}, false
	}
	i, n := letters, int32(0)
	hyphen := dash(s.text[i:])
	if i += hyphen; hyphen == 0 && i < len(s.text) && s.text[i] == ' ' {
		i++
	}
	digits := i
	for i < len(s.text) && isDigit(s.text[i]) {
		n = min(n*10+int32(s.text[i]-'0'), MaxCount/10)
		i++
	}
	j, ok := s.spaceWord(i, i > digits)
	if ok {
		s.at = j
		return Token{Kind: ChSpace, Value: n}, true
	}
	// "ch-3" as a step is "ch 3": pass the hyphen by.
	if hyphen > 0 && i > digits && isDigit(s.text[digits]) {
		if e, to, ok := s.match(start, letters); ok {
			s.at = max(to, digits)
			return Token{Kind: e.kind, Value: e.value}, true
		}
	}
	return Token{}, false
}

func (s *scanner) digits() int32 {
	n := int64(0)
	for s.at < len(s.text) && isDigit(s.text[s.at]) {
		n = min(n*10+int64(s.text[s.at]-'0'), MaxCount)
		s.at++
	}
	return int32(n)
}

func (s *scanner) number() Token {
	start := s.at
	n := s.digits()
	end := s.at
	if word := s.wordEnd(end); word > end {
		switch string(s.folded(end, word)) {
		case "st", "nd", "rd", "th":
			s.at = word
			if n == 1 {
				return Token{Kind: Keyword, Value: int32(KeyFirst)}
			}
			return Token{Kind: Ordinal, Value: n}
		}
	}
	// "3-dc cl" is one stitch; "2-ch sp" a space.
	if e, to, ok := s.match(start, end); ok && len(e.rest) > 0 {
		s.at = to
		return Token{Kind: e.kind, Value: e.value}
	}
	if t, ok := s.spaceFirst(end, n); ok {
		return t
	}
	return Token{Kind: Number, Value: n}
}

// spaceFirst reads the rest of "2-ch sp".
func (s *scanner) spaceFirst(at int, n int32) (Token, bool) {
	d := dash(s.text[at:])
	i := s.wordEnd(at + d)
	if w := string(s.folded(at+d, i)); d == 0 || w != "ch" && w != "chain" {
		return Token{}, false
	}
	j, ok := s.spaceWord(i, true)
	if !ok {
		return Token{}, false
	}
	s.at = j
	return Token{Kind: ChSpace, Value: n}, true
}

// spaceWord finds the end of a word for a space, behind a blank or hyphen
// where one may stand.
func (s *scanner) spaceWord(i int, apart bool) (int, bool) {
	if apart && i < len(s.text) {
		if d := dash(s.text[i:]); d > 0 {
			i += d
		} else if s.text[i] == ' ' {
			i++
		}
	}
	j := s.wordEnd(i)
	switch string(s.folded(i, j)) {
	case "sp", "sps", "space", "spaces", "lp", "lps", "loop", "loops":
		return j, true
	}
	return i, false
}

func (s *scanner) symbol() Token {
	c := s.text[s.at]
	s.at++
	switch c {
	case '(', '[', '{':
		return Token{Kind: Open}
	case ')', ']', '}':
		return Token{Kind: Close}
	case ',':
		return Token{Kind: Comma}
	case ';':
		return Token{Kind: Semicolon}
	case '.':
		return Token{Kind: Stop}
	case ':':
		return Token{Kind: Colon}
	case '*':
		if s.at < len(s.text) && s.text[s.at] == '*' {
			s.at++
			return Token{Kind: Stars}
		}
		return Token{Kind: Star}
	case '-':
		return Token{Kind: Dash}
	case '=':
		return Token{Kind: Equals}
	case '/':
		return Token{Kind: Slash}
	case '&', '+':
		return Token{Kind: Keyword, Value: int32(KeyAnd)}
	case '"', '\'':
		return Token{Kind: Quote}
	case '#':
		for s.at < len(s.text) && (isDigit(s.text[s.at]) || isLetter(s.text[s.at])) {
			s.at++
		}
		return Token{Kind: Hash}
	}
	return Token{Kind: Illegal}
}

func (s *scanner) wide() Token {
	r, n := utf8.DecodeRuneInString(s.text[s.at:])
	switch r {
	case '×', '✕', '✖', '∗':
		s.at += n
		if r == '∗' {
			return Token{Kind: Star}
		}
		return Token{Kind: Keyword, Value: int32(KeyX)}
	case '–', '—', '‐', '‑', '‒', '−':
		s.at += n
		return Token{Kind: Dash}
	case '“', '”', '„', '‘', '’', '″', '′':
		s.at += n
		return Token{Kind: Quote}
	}
	if r != utf8.RuneError && (unicode.IsLetter(r) || isPicture(r)) {
		s.at = s.wordEnd(s.at)
		return Token{Kind: Word}
	}
	s.at += n
	return Token{Kind: Illegal}
}
