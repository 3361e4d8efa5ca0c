package editors

// class is what a stretch of a pattern is, as far as its words tell.
type class string

const (
	plain     class = ""
	label     class = "label"
	title     class = "title"
	setting   class = "setting"
	text      class = "text"
	stitch    class = "stitch"
	ownStitch class = "ownStitch"
	word      class = "word"
	repeat    class = "repeat"
	action    class = "action"
	number    class = "number"
	unit      class = "unit"
	total     class = "total"
	operator  class = "operator"
	bracket   class = "bracket"
	colour    class = "color"
	yarn      class = "yarn"
	piece     class = "piece"
	comment   class = "comment"
	directive class = "directive"
	ruleName  class = "rule"
)

// look is what a class is called in each editor.
type look struct {
	class class
	// scope is the TextMate scope. Those that the server's semantic tokens also
	// mark begin as the scopes that the VS Code extension gives these tokens, so
	// that no color changes when the server answers.
	scope string
	// link is the standard highlight group of Vim that the class's own is linked to.
	link string
	// style is the default style of Kate.
	style string
	// face is the face of Emacs's font-lock.
	face string
}

var looks = []look{
	{label, "entity.name.tag.label.crochet", "Statement", "dsKeyword", "font-lock-keyword-face"},
	{title, "string.unquoted.title.crochet", "Title", "dsSpecialString", "font-lock-string-face"},
	{setting, "keyword.control.setting.crochet", "Special", "dsConstant", "font-lock-constant-face"},
	{text, "string.unquoted.text.crochet", "String", "dsString", "font-lock-string-face"},
	{stitch, "support.function.stitch.crochet", "Function", "dsFunction", "font-lock-function-name-face"},
	{ownStitch, "entity.name.function.stitch.crochet", "Define", "dsImport", "font-lock-function-name-face"},
	{word, "keyword.control.word.crochet", "Keyword", "dsBuiltIn", "font-lock-builtin-face"},
	{repeat, "keyword.control.repeat.crochet", "Repeat", "dsControlFlow", "font-lock-builtin-face"},
	{action, "keyword.control.action.crochet", "Statement", "dsControlFlow", "font-lock-keyword-face"},
	{number, "constant.numeric.count.crochet", "Number", "dsDecVal", "font-lock-constant-face"},
	{unit, "keyword.other.unit.crochet", "Type", "dsDataType", "font-lock-type-face"},
	{total, "constant.numeric.total.crochet", "Constant", "dsBaseN", "font-lock-warning-face"},
	{operator, "keyword.operator.repeat.crochet", "Operator", "dsOperator", "font-lock-builtin-face"},
	{bracket, "punctuation.section.brackets.crochet", "Delimiter", "dsOperator", ""},
	{colour, "constant.numeric.color.crochet", "Constant", "dsBaseN", "font-lock-constant-face"},
	{yarn, "variable.other.yarn.crochet", "Identifier", "dsVariable", "font-lock-variable-name-face"},
	{piece, "entity.name.type.piece.crochet", "Structure", "dsAttribute", "font-lock-type-face"},
	{comment, "comment.line.double-slash.crochet", "Comment", "dsComment", "font-lock-comment-face"},
	{directive, "keyword.other.directive.crochet", "PreProc", "dsAnnotation", "font-lock-preprocessor-face"},
	{ruleName, "constant.other.rule.crochet", "SpecialComment", "dsCommentVar", "font-lock-preprocessor-face"},
}

func lookOf(c class) look {
	for _, l := range looks {
		if l.class == c {
			return l
		}
	}
	return look{}
}
