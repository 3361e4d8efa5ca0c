package terms

// Level is how hard a pattern is said to be.
type Level struct {
	// Name is the term in use for projects now.
	Name string
	// Older is the term of the earlier list of skill levels.
	Older string
	// Says is what a pattern of that level may ask for.
	Says   string
	Source string
}

const levelSource = "Craft Yarn Council project levels, 2018 (as a maker confirmed them with the Council); older skill levels from a shop's list"

var levels = []Level{
	{"basic", "beginner", "basic stitches; at most plain increases and decreases", levelSource},
	{"easy", "easy", "simple stitch patterns, simple color changes, simple shaping", levelSource},
	{"intermediate", "intermediate", "a range of techniques, lace or color patterns, more shaping", levelSource},
	{"complex", "experienced", "stitch patterns, color and shaping that are complex, several at once", levelSource},
}

// Levels are the four project levels, the easiest first.
func Levels() []Level { return append([]Level(nil), levels...) }

// LevelByName finds a level by its present or older name. Suggest is the
// present name where an older one was used, else empty; ok is false for a word
// that is no level. "Advanced" is taken for the hardest (common practice).
func LevelByName(name string) (l Level, suggest string, ok bool) {
	key := Key(name)
	if key == "advanced" {
		key = "experienced"
	}
	for _, l := range levels {
		if key == l.Name {
			return l, "", true
		}
	}
	for _, l := range levels {
		if key == l.Older {
			return l, l.Name, true
		}
	}
	return Level{}, "", false
}
