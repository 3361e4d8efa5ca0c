package main

import (
	"strings"

	"workeven/testdata/long"
)

// What a key touches besides a round in the midst of a part.
const (
	lastRoundKey = "in the last round of a part, which then comes out otherwise"
	makingKey    = "in the making up"
	headerKey    = "in the header"
)

var otherKeys = []string{lastRoundKey, makingKey, headerKey}

// crochet is a clean pattern of so many lines. Its slip is a digit of the total
// of a round in the middle, of the kind that a maker mistypes.
func crochet(lines int) document {
	text := long.Pattern(lines)
	d := document{language: "crochet", file: "bench.crochet", lines: strings.Split(text, "\n")}
	middle := strings.Count(text[:long.Middle(text)], "\n")
	in := func(line, what string) place { return d.find(middle, line, what) }
	d.slip = in("Rnd 19:", "(24)").change("(25)")
	d.others = []otherKey{
		{lastRoundKey, in("Rnd 22:", "6 (6)").change("5 (5)")},
		{makingKey, d.find(middle, "Sew: Stair", "9 and 10").change("9 and 100")},
		{headerKey, d.find(0, "Hook:", " mm").change("")},
	}
	d.hover = in("Rnd 18:", "dec")
	d.complete = in("Rnd 20:", "sc in next 2")
	return d
}
