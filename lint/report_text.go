package lint

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/fatih/color"
	"github.com/rivo/uniseg"
)

const (
	// excerptWidth is how many columns of a source line are shown at most, and
	// excerptLead how many of them before the place, where the line is cut.
	excerptWidth, excerptLead = 120, 40
	// excerptBytes bounds what is looked at to either side of a place, so that
	// a line as long as a file costs no more than any other.
	excerptBytes = 8 * excerptWidth
	tabStop      = 8
	ellipsis     = "…"
)

// palette gives each part of a text report its colour.
type palette struct {
	severity                  [len(severityNames)]*color.Color
	place, gutter, help, rule *color.Color
}

// newPalette is made for each report: whether there is colour is the caller's
// to say, and the library would otherwise decide it for the whole process.
func newPalette(colour bool) palette {
	paint := func(attrs ...color.Attribute) *color.Color {
		c := color.New(attrs...)
		if colour {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		return c
	}
	return palette{
		severity: [...]*color.Color{
			Hint: paint(color.FgCyan), Information: paint(color.FgBlue, color.Bold),
			Warning: paint(color.FgYellow, color.Bold), Error: paint(color.FgRed, color.Bold),
		},
		place: paint(color.Bold), gutter: paint(color.FgHiBlack), help: paint(color.FgGreen), rule: paint(color.FgHiBlack),
	}
}

// AppendText adds a report for a person to read: for each finding its place,
// severity, message and rule, the source line with the place marked under it,
// the other places it speaks of, and what would mend it.
func AppendText(dst []byte, r Report, colour bool) []byte {
	if len(r.Findings) == 0 {
		return dst
	}
	places, file, p := NewPlaces(r.Text), printable(r.File, false), newPalette(colour)
	for _, f := range r.Findings {
		at := places.At(f.Start)
		dst = append(dst, p.place.Sprint(string(appendPlace(nil, file, at)))...)
		dst = append(dst, " "+p.severity[f.Severity].Sprint(f.Severity.String())+" "+printable(f.Message, false)+" "+p.rule.Sprint("["+f.Rule+"]")+"\n"...)
		number := strconv.Itoa(at.Line)
		edge := func(label string) string {
			return p.gutter.Sprint(strings.Repeat(" ", max(5-len(label), 0)) + label + " |")
		}
		source, lead, marks := excerpt(places, f.Start, f.End)
		dst = append(dst, edge(number)+" "+source+"\n"...)
		dst = append(dst, edge(strings.Repeat(" ", len(number)))+" "+lead+p.severity[f.Severity].Sprint(marks)+"\n"...)
		for _, rel := range f.Related {
			dst = append(dst, "note: "...)
			dst = appendPlace(dst, file, places.At(rel.Start))
			dst = append(dst, " "+printable(rel.Message, false)+"\n"...)
		}
		for _, x := range f.Fixes {
			dst = append(dst, p.help.Sprint("help:")+" "+printable(x.Title, false)+"\n"...)
		}
		dst = append(dst, '\n')
	}
	return dst
}

// cell is one character as a person sees it.
type cell struct {
	text    string
	at, end int // byte offsets in the line
	width   int // columns
}

// excerpt gives the line that a range starts on, cut to the width where it is
// long, the blank up to the range, and the marks that go under the range, with
// a remark where it goes on below. Tabs stay tabs, so that both lines agree on
// any terminal.
func excerpt(places *Places, start, end int) (source, lead, marks string) {
	from, to := places.At(start), places.At(end)
	line, lineStart := places.Line(from.Line)
	s := min(max(start-lineStart, 0), len(line))
	e := min(max(end-lineStart, s), len(line))
	cells, cutLeft, cutRight := window(line, s)
	var src, blank, under strings.Builder
	if cutLeft {
		src.WriteString(ellipsis)
		blank.WriteByte(' ')
	}
	for _, c := range cells {
		src.WriteString(c.text)
		switch {
		case c.end <= s && c.text == "\t":
			blank.WriteByte('\t')
		case c.end <= s:
			blank.WriteString(strings.Repeat(" ", c.width))
		case c.at < e && c.text == "\t":
			under.WriteByte('\t')
		case c.at < e:
			under.WriteString(strings.Repeat("^", c.width))
		}
	}
	if cutRight {
		src.WriteString(ellipsis)
	}
	marks = strings.TrimRight(under.String(), "\t")
	lead = blank.String() + marks[:len(marks)-len(strings.TrimLeft(marks, "\t"))]
	marks = strings.TrimLeft(marks, "\t")
	if marks == "" {
		marks = "^"
	}
	if to.Line > from.Line+1 || to.Line == from.Line+1 && to.Column > 1 {
		marks += " " + ellipsis + " to line " + strconv.Itoa(to.Line)
	}
	return src.String(), lead, marks
}

// window picks the part of a line to show: all of it where it fits, else the
// columns around a byte offset.
func window(line string, at int) (cells []cell, cutLeft, cutRight bool) {
	lo, hi := max(at-excerptBytes, 0), min(at+excerptBytes, len(line))
	for lo > 0 && !utf8.RuneStart(line[lo]) {
		lo--
	}
	for hi < len(line) && !utf8.RuneStart(line[hi]) {
		hi++
	}
	cells = cellsOf(line[lo:hi], lo)
	first := 0
	if lo > 0 || hi < len(line) || widthOf(cells) > excerptWidth {
		width, i := 0, 0
		for i < len(cells) && cells[i].at < at {
			width += cells[i].width
			i++
		}
		for first < i && width > excerptLead {
			width -= cells[first].width
			first++
		}
	}
	last, width := first, 0
	for last < len(cells) && width+cells[last].width <= excerptWidth {
		width += cells[last].width
		last++
	}
	cutLeft = lo > 0 || first > 0
	cutRight = hi < len(line) || last < len(cells)
	return cells[first:last], cutLeft, cutRight
}

func widthOf(cells []cell) (width int) {
	for _, c := range cells {
		width += c.width
	}
	return width
}

// cellsOf splits a piece of a line into what a person sees as characters.
func cellsOf(s string, at int) []cell {
	out := make([]cell, 0, len(s))
	state, column := -1, 0
	for len(s) > 0 {
		var cluster string
		var width int
		if c := s[0]; c < utf8.RuneSelf && (len(s) == 1 || s[1] < utf8.RuneSelf) {
			cluster, s, width, state = s[:1], s[1:], 1, -1
		} else {
			cluster, s, width, state = uniseg.FirstGraphemeClusterInString(s, state)
		}
		text := printable(cluster, true)
		switch {
		case text == "\t":
			width = tabStop - column%tabStop
		case text != cluster:
			width = uniseg.StringWidth(text)
		}
		out = append(out, cell{text, at, at + len(cluster), width})
		at += len(cluster)
		column += width
	}
	return out
}
