package grammar

import (
	"regexp"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/ebnf"
)

// The reference is in the form that participle's own reader of EBNF takes, and
// defines each name that it uses once.
func TestEBNF(t *testing.T) {
	text := EBNF()
	g, err := ebnf.ParseString(text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	defined := map[string]int{}
	for _, p := range g.Productions {
		defined[p.Production]++
	}
	for name, n := range defined {
		if n > 1 {
			t.Errorf("%s is defined %d times", name, n)
		}
	}
	words := regexp.MustCompile(`"[^"]*"|//.*`)
	for _, name := range regexp.MustCompile(`\b[A-Z]\w+`).FindAllString(words.ReplaceAllString(text, ""), -1) {
		if defined[name] == 0 {
			t.Errorf("%s is used and never defined", name)
		}
	}
	if defined["RoundLine"] == 0 || defined["CountTimes"] == 0 || defined["GaugeLine"] == 0 || len(defined) < 80 {
		t.Errorf("only %d productions", len(defined))
	}
	// What is laid out on lines is still the grammar that participle prints.
	for _, s := range statementGrammars() {
		for line := range strings.Lines(strings.ReplaceAll(s.grammar.String(), "slipForFill", "SlipForFill")) {
			if want := squeezed(line); !strings.Contains(squeezed(text), want) {
				t.Errorf("%s is laid out as something else", want)
			}
		}
	}
}

// squeezed is an EBNF without its blanks and brackets, which the layout may change.
func squeezed(s string) string {
	return strings.NewReplacer(" ", "", "\n", "", "(", "", ")", "").Replace(s)
}

// Every label is either free text, by the head, or has a grammar.
func TestEBNFHasEveryLabel(t *testing.T) {
	text := EBNF()
	for _, l := range Labels() {
		if !regexp.MustCompile(`(?m)^// .*\b` + l + `\b`).MatchString(text) {
			t.Errorf("%s has no grammar", l)
		}
	}
}
