package lsp

import (
	"regexp"
	"sync"
)

// lazily compiles an expression when it is first asked for: the other commands
// of the program start without.
func lazily(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}
