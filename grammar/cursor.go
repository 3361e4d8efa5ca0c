package grammar

// cursor goes along the tokens of a statement, which end with an EOF.
type cursor struct {
	toks []Token
	i    int
}

func (t Token) is(k Key) bool { return t.Kind == Keyword && t.Value == int32(k) }

func (c *cursor) peek() Token { return c.toks[c.i] }

func (c *cursor) ahead(n int) Token {
	return c.toks[min(c.i+n, len(c.toks)-1)]
}

func (c *cursor) take() Token {
	t := c.toks[c.i]
	if t.Kind != EOF {
		c.i++
	}
	return t
}

// at says whether a keyword stands here, and accept passes it.
func (c *cursor) at(k Key) bool { return c.peek().is(k) }

func (c *cursor) accept(k Key) bool {
	if c.at(k) {
		c.i++
		return true
	}
	return false
}
