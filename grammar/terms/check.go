package terms

import "fmt"

// Pair is one line of a table of US and UK terms.
type Pair struct{ US, UK string }

// OtherWords are the words besides stitch names in which the two systems
// differ, or which tables list although they agree. Sources: published tables
// of terms; that British patterns say miss where US ones say skip is common
// practice, and as old as the printed pattern.
var OtherWords = []Pair{
	{"gauge", "tension"},
	{"skip", "miss"},
	{"sk", "miss"},
	{"yarn over", "yarn over hook"},
	{"yarn over", "yarn round hook"},
	{"yo", "yoh"},
	{"yo", "yrh"},
	{"fasten off", "fasten off"},
}

// Counterpart is what the other system calls a stitch: the abbreviation for a
// spelling no longer than the abbreviation, else the full name. It reports false where the first system
// knows no such stitch.
func Counterpart(from System, spelling string) (string, bool) {
	s := Find(from, spelling)
	if s == nil {
		return "", false
	}
	if len(Key(spelling)) <= len(Key(s.Abbr(from))) {
		return s.Abbr(from.Other()), true
	}
	return s.In(from.Other()).Full, true
}

// Other is the other system.
func (s System) Other() System {
	if s == UK {
		return US
	}
	return UK
}

// CheckMap says which lines of a table of terms are wrong, one message each, in
// the order of the table; none for a table that can be trusted. Tables that
// leave some names unshifted are really published, so one has to be checked
// before it is used.
func CheckMap(pairs []Pair) []string {
	var wrong []string
	for _, p := range pairs {
		if m := p.wrong(); m != "" {
			wrong = append(wrong, m)
		}
	}
	return wrong
}

func (p Pair) wrong() string {
	for _, w := range OtherWords {
		if Key(w.US) == Key(p.US) && Key(w.UK) == Key(p.UK) {
			return ""
		}
	}
	us, uk := Find(US, p.US), Find(UK, p.UK)
	switch {
	case us == nil && uk == nil:
		return fmt.Sprintf("Neither US %q nor UK %q is a stitch.", p.US, p.UK)
	case us == nil:
		is, _ := Counterpart(UK, p.UK)
		return fmt.Sprintf("There is no US %q; UK %q is US %q.", p.US, p.UK, is)
	case uk == nil:
		is, _ := Counterpart(US, p.US)
		return fmt.Sprintf("There is no UK %q; US %q is UK %q.", p.UK, p.US, is)
	case us != uk:
		is, _ := Counterpart(US, p.US)
		return fmt.Sprintf("US %q is UK %q, not %q.", p.US, is, p.UK)
	}
	return ""
}
