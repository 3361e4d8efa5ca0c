package fabric

import (
	"fmt"
	"strconv"
	"strings"
)

// SpaceName is what a chain space of so many chains is called: "ch-2 sp".
func SpaceName(chains int32) string { return fmt.Sprintf("ch-%d sp", chains) }

// String is "12 dc", "12 shells", "12 (sc, ch 2, sc)".
func (c StitchCount) String() string {
	name := c.Stitch.Name
	switch {
	case strings.Contains(name, ","):
		name = "(" + name + ")"
	case c.N != 1 && c.Stitch.pluralTaken():
		name += "s"
	}
	return strconv.FormatInt(c.N, 10) + " " + name
}

// pluralTaken says whether a stitch's short name is a word that takes an s, as
// shell, V-st and picot do, and dc and fpdc do not.
func (s *Stitch) pluralTaken() bool {
	switch {
	case strings.HasSuffix(s.Name, "-st"):
		return true
	case s.Of != nil:
		first, _, _ := strings.Cut(s.Of.US.Full, " ")
		return len(s.Name) > 3 && first == s.Name
	}
	return len(s.Name) > 3 && !strings.ContainsAny(s.Name, "0123456789") && strings.ContainsAny(s.Name[1:], "aeiou")
}

// String is "1 ch-2 sp", "6 ch-2 sps".
func (c SpaceCount) String() string {
	return plural(c.N, SpaceName(c.Chains), SpaceName(c.Chains)+"s")
}

// Standing lists what stands on the edge that a round made: "12 dc", "6 ch-2 sps".
func (r *Round) Standing() []string {
	var list []string
	for _, s := range r.Stitches {
		list = append(list, s.String())
	}
	for _, s := range r.Spaces {
		list = append(list, s.String())
	}
	return list
}

// RightTotal is what the round's total has to say, without brackets: "24", or
// "12 dc, 12 ch-1 sps" where it has spaces. It is empty where that is not known.
func (r *Round) RightTotal() string {
	switch {
	case !r.Known:
		return ""
	case len(r.Spaces) == 0:
		return strconv.FormatInt(r.Makes, 10)
	}
	return strings.Join(r.Standing(), ", ")
}
