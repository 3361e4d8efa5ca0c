package lint

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/grammar/terms"
)

// The parts of speech of the rules' messages. Every sentence stands in a say
// function of its rule's file.

func stitches(n int64) string { return Number(int(n), "stitch", "stitches") }

func times(n int64) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.FormatInt(n, 10) + " times"
}

func isAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// quoted sets a word of the pattern apart; a very long one is cut.
func quoted(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:57]) + "..."
	}
	return strconv.Quote(s)
}

// listed joins words: "A", "A and B", "A, B and C".
func listed(words []string) string { return joined(words, " and ") }

// either joins words to choose from: "A, B or C".
func either(words []string) string { return joined(words, " or ") }

func joined(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// rounds names a range: "Rnd 5", "Rnds 6-9".
func rounds(row bool, from, to int64) string {
	if from == to {
		return fabric.RoundName(row, from)
	}
	name := "Rnds "
	if row {
		name = "Rows "
	}
	return name + strconv.FormatInt(from, 10) + "-" + strconv.FormatInt(to, 10)
}

// several says whether a statement is of more than one round, and takes a verb
// in the plural.
func several(r *fabric.Round) bool { return r.Node.To.N > r.Node.From.N }

func roundsOf(row bool) string {
	if row {
		return "rows"
	}
	return "rounds"
}

// number writes a measure without needless digits.
func number(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(x, 'f', 2, 64), "0"), ".")
}

// centimetres writes a length in millimetres for a reader: "9 cm", "4.4 cm".
func centimetres(mm float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(mm/10, 'f', 1, 64), ".0") + " cm"
}

func counted(c grammar.Count) string { return strconv.FormatInt(int64(c.N), 10) }

func sayWrite(what string) string { return "write " + quoted(what) }

func sayChange(old, new string) string {
	return fmt.Sprintf("change %s to %s", quoted(old), quoted(new))
}

func sayAddLine(line string) string { return "add the line " + quoted(line) }

func sayDidYouMean(near string) string { return "; was " + quoted(near) + " meant?" }

// partName is a piece's name for a message; one without a Piece line has none.
func partName(piece *fabric.Piece) string {
	if piece.Node == nil || piece.Name == "" {
		return "this part"
	}
	return piece.Name
}

// neighbors spells the word as the pattern's system does.
func neighbors(sys terms.System) string {
	if sys == terms.UK {
		return "neighbours"
	}
	return "neighbors"
}

// mostNames is among how many names of a pattern a close one is looked for.
const mostNames = 200

// nearestName is the name of the pattern that another one is likeliest to
// stand for, whatever the case; empty where none is close.
func nearestName(name string, known []string) string {
	if len(known) > mostNames {
		return "" // looking through them for every slip would take too long
	}
	var lower []string
	for _, k := range known {
		lower = append(lower, strings.ToLower(k))
	}
	if i := slices.Index(lower, Nearest(name, lower)); i >= 0 {
		return known[i]
	}
	return ""
}
