package editors

// Files are the generated files by their path below this folder, with slashes.
func Files() map[string][]byte {
	return map[string][]byte{
		"vscode/syntaxes/crochet.tmLanguage.json": textMateJSON(),
		"sublime/crochet.tmLanguage":              textMatePlist(),
		"kate/crochet.xml":                        kateSyntax(),
		"vim/syntax/crochet.vim":                  vimSyntax(),
		"emacs/crochet-keywords.el":               emacsKeywords(),
	}
}
