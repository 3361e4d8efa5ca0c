package main

import (
	"fmt"
	"strings"
)

// document is a text to be opened, and where in it each measure is taken.
// Columns count from 0 and all text there is ASCII, so that a byte is a
// character in every encoding.
type document struct {
	language, file string
	lines          []string
	// slip is a small edit that puts something wrong where nothing was.
	slip edit
	// others are slips of other kinds, by the measure that they are for.
	others []otherKey
	// hover and complete are where those are asked for; hints are asked for the
	// sixty lines around the slip.
	hover, complete place
	// beside are further files of the folder, by name.
	beside map[string]string
}

type otherKey struct {
	measure string
	slip    edit
}

// place is a piece of text in one line.
type place struct {
	line, column int
	text         string
}

// edit replaces the text of a place by another.
type edit struct {
	place
	by string
}

func (p place) change(by string) edit { return edit{p, by} }

// find is what, in the first line after from that begins with begins.
func (d *document) find(from int, begins, what string) place {
	for i := from; i < len(d.lines); i++ {
		if strings.HasPrefix(strings.TrimLeft(d.lines[i], " \t"), begins) {
			if at := strings.Index(d.lines[i], what); at >= 0 {
				return place{i, at, what}
			}
		}
	}
	panic(fmt.Sprintf("%s has no %q in a line %q from line %d on", d.file, what, begins, from))
}

// text is the whole document, with its slip or without.
func (d *document) text(slipped bool) string {
	if !slipped {
		return strings.Join(d.lines, "\n")
	}
	lines := append([]string(nil), d.lines...)
	s := d.slip
	l := lines[s.line]
	lines[s.line] = l[:s.column] + s.by + l[s.column+len(s.text):]
	return strings.Join(lines, "\n")
}

// numbered is a text of so many lines or a few less: head, then block over and
// over with its number for %[1]d, then foot. It gives the line at which the
// block in the middle begins.
func numbered(lines int, head, block, foot string) (text []string, middle int) {
	count := func(s string) int { return strings.Count(s, "\n") }
	blocks := (lines - count(head) - count(foot)) / count(block)
	var b strings.Builder
	b.WriteString(head)
	for i := range blocks {
		fmt.Fprintf(&b, block, i)
	}
	b.WriteString(foot)
	return strings.Split(b.String(), "\n"), count(head) + blocks/2*count(block)
}
