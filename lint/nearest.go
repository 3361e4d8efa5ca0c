package lint

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// Nearest is the known word that a mistyped one is likeliest to stand for, or
// empty where none is close.
func Nearest(word string, known []string) string {
	best, least := "", max(len(word)/3, 1)+1
	for _, k := range known {
		if d := levenshtein.ComputeDistance(strings.ToLower(word), k); d < least {
			best, least = k, d
		}
	}
	return best
}

// meant is the end of a message that names the nearest known word, or lists
// them where none is near.
func meant(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return "; did you mean " + near + "?"
	}
	return "; known are " + strings.Join(known, ", ")
}
