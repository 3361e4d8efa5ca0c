package grammar

import (
	"sort"
	"strings"
)

// Rope is a text in parts. An edit makes new those that it touches and keeps
// the others, so that a key in a long file does not copy all of it. It is a
// value: nothing changes it once made.
type Rope struct {
	parts []string
	// starts are where the parts begin, in bytes.
	starts []int
	len    int
}

// Parts that edits make hold so many bytes at most, and at least a quarter of
// it where there is as much.
const partSize = 16 << 10

// NewRope is a rope of one part.
func NewRope(s string) Rope { return Rope{parts: []string{s}, starts: []int{0}, len: len(s)} }

// Len is its length in bytes.
func (t Rope) Len() int { return t.len }

// String is the whole text.
func (t Rope) String() string {
	if len(t.parts) == 1 {
		return t.parts[0]
	}
	return strings.Join(t.parts, "")
}

// part is the index of the part that holds a byte; the last one's for the end.
func (t Rope) part(at int) int {
	return sort.Search(len(t.starts), func(i int) bool { return t.starts[i] > at }) - 1
}

// Slice is the text from start to end.
func (t Rope) Slice(start, end int) string {
	if start >= end {
		return ""
	}
	i := t.part(start)
	if from := t.starts[i]; end <= from+len(t.parts[i]) {
		return t.parts[i][start-from : end-from]
	}
	var b strings.Builder
	b.Grow(end - start)
	for at := start; at < end; i++ {
		from := t.starts[i]
		to := min(end, from+len(t.parts[i]))
		b.WriteString(t.parts[i][at-from : to-from])
		at = to
	}
	return b.String()
}

// splice is the text with the bytes from start to end replaced by new.
func (t Rope) splice(start, end int, new string) Rope {
	first, last := t.part(start), t.part(end)
	// What is left of a part on either side goes with what is new, but no more of
	// it than a part may hold.
	left := max(t.starts[first], start-partSize/2)
	right := min(t.starts[last]+len(t.parts[last]), end+partSize/2)
	middle := t.Slice(left, start) + new + t.Slice(end, right)
	if len(middle) < partSize/4 && last+1 < len(t.parts) && len(t.parts[last+1]) <= partSize {
		last++
		right = t.starts[last] + len(t.parts[last])
		middle = t.Slice(left, start) + new + t.Slice(end, right)
	}
	room := len(t.parts) + 2 + 2*len(middle)/partSize
	n := Rope{parts: make([]string, 0, room), starts: make([]int, 0, room), len: t.starts[first]}
	n.parts, n.starts = append(n.parts, t.parts[:first]...), append(n.starts, t.starts[:first]...)
	n.add(t.parts[first][:left-t.starts[first]])
	for len(middle) > partSize {
		n.add(middle[:partSize/2])
		middle = middle[partSize/2:]
	}
	n.add(middle)
	n.add(t.parts[last][right-t.starts[last]:])
	for _, p := range t.parts[last+1:] {
		n.add(p)
	}
	if len(n.parts) == 0 {
		return NewRope("")
	}
	return n
}

// add puts a part behind the others.
func (t *Rope) add(part string) {
	if part != "" {
		t.parts, t.starts = append(t.parts, part), append(t.starts, t.len)
		t.len += len(part)
	}
}
