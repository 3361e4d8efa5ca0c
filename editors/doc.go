// Package editors makes the files by which editors color the notation: the
// TextMate grammar (VS Code, Sublime Text and others), the syntax definition of
// Kate, the syntax file of Vim and Neovim, and the keywords of Emacs. All of them
// come from one source, the glossary, the labels and the words of the notation,
// through the rules of statements.go; each has an emitter of its own.
//
// `go generate ./editors` writes the files, and a test fails when one is stale.
// The folders below hold what else each editor needs to start the server.
//
// It must not know how a pattern is counted, what is wrong with it, or how the
// server speaks. Coloring goes by the words of one statement alone: whether a
// stitch of the pattern's own is meant, say, is for the server's semantic tokens.
package editors

//go:generate go test . -run Generated -update
