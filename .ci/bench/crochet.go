package main

import (
	"strings"

	"workeven/testdata/long"
)

// crochet is a clean pattern of so many lines. Its slip is a digit of the total
// of a round in the middle, of the kind that a maker mistypes.
func crochet(lines int) document {
	text := long.Pattern(lines)
	d := document{language: "crochet", file: "bench.crochet", lines: strings.Split(text, "\n")}
	middle := strings.Count(text[:long.Middle(text)], "\n")
	in := func(line, what string) place { return d.find(middle, line, what) }
	d.slip = in("Rnd 19:", "(24)").change("(25)")
	d.hover = in("Rnd 18:", "dec")
	d.complete = in("Rnd 20:", "sc in next 2")
	return d
}
