package lint

import (
	"cmp"
	"hash/fnv"
	"slices"
	"strings"
)

// maxChecks bounds how often FixAll works a text through.
const maxChecks = 100

// FixAll applies the safe repairs of a text's findings, and those of the text
// that results, until none is left. A repair that makes the number of errors
// rise is taken back and not tried again. It returns the text, how many
// repairs hold, and what is still found in it. Line ends stay of the text's kind.
func FixAll(text string, check func(text string) []Finding) (fixed string, applied int, rest []Finding) {
	f := fixer{check: check, text: text, found: check(text), checks: 1, crlf: endsCRLF(text)}
	seen := map[[16]byte]bool{hashOf(text): true}
	for f.checks < maxChecks {
		batch := f.choose()
		if len(batch) == 0 {
			break
		}
		held := f.round(batch)
		applied += held
		sum := hashOf(f.text)
		if held > 0 && seen[sum] {
			break // two repairs undo each other
		}
		seen[sum] = true
	}
	if f.text == text {
		applied = 0
	}
	return f.text, applied, f.found
}

// hashOf tells texts apart. It guards against no one, and so needs none of the
// packages for secrets, which take time to start.
func hashOf(text string) (sum [16]byte) {
	h := fnv.New128a()
	h.Write([]byte(text))
	h.Sum(sum[:0])
	return sum
}

type fixer struct {
	check   func(string) []Finding
	text    string
	found   []Finding
	checks  int
	crlf    bool
	refused []repair
}

// repair is a safe fix that may be tried; its edits are in order of place.
type repair struct {
	rule, title string
	edits       []Edit
}

// same tells whether two repairs are one and the same, the text being as it is.
func (r repair) same(o repair) bool {
	return r.rule == o.rule && r.title == o.title && slices.Equal(r.edits, o.edits)
}

// choose takes the safe repairs that keep out of each other's way.
func (f *fixer) choose() []repair {
	var out []repair
	var taken []Edit // in order of place
	for _, x := range f.found {
		fix, ok := safeFix(x)
		if !ok {
			continue
		}
		r := repair{x.Rule, fix.Title, f.ordered(fix.Edits)}
		if r.edits == nil || slices.ContainsFunc(f.refused, r.same) || slices.ContainsFunc(r.edits, func(e Edit) bool { return meets(taken, e) }) {
			continue
		}
		for _, e := range r.edits {
			i, _ := slices.BinarySearchFunc(taken, e, byPlace)
			taken = slices.Insert(taken, i, e)
		}
		out = append(out, r)
	}
	return out
}

func byPlace(a, b Edit) int { return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End)) }

// ordered sorts edits and gives them the text's line ends; nil where they
// overlap, leave the text or change nothing.
func (f *fixer) ordered(edits []Edit) []Edit {
	out := slices.SortedStableFunc(slices.Values(edits), byPlace)
	at, changes := 0, false
	for i := range out {
		e := &out[i]
		if e.Start < at || e.End < e.Start || e.End > len(f.text) {
			return nil
		}
		if f.crlf {
			e.New = strings.ReplaceAll(strings.ReplaceAll(e.New, "\r\n", "\n"), "\n", "\r\n")
		}
		at = e.End
		changes = changes || f.text[e.Start:e.End] != e.New
	}
	if !changes {
		return nil
	}
	return out
}

// meets tells whether an edit overlaps or touches one of those taken.
func meets(taken []Edit, e Edit) bool {
	i, _ := slices.BinarySearchFunc(taken, e, byPlace)
	return i < len(taken) && taken[i].Start <= e.End || i > 0 && taken[i-1].End >= e.Start
}

// round tries a batch of repairs on the text, all at once and, where errors
// rise, by halves. It returns how many hold.
func (f *fixer) round(batch []repair) int {
	base, held := f.text, []Edit(nil)
	var refused []repair
	n, errs := 0, countErrors(f.found)
	var try func([]repair)
	try = func(part []repair) {
		if len(part) == 0 || f.checks >= maxChecks {
			return
		}
		edits := slices.Clone(held)
		for _, r := range part {
			edits = append(edits, r.edits...)
		}
		text, _ := Apply(base, edits)
		found := f.check(text)
		f.checks++
		if e := countErrors(found); e <= errs {
			held, f.text, f.found, errs = edits, text, found, e
			n += len(part)
			return
		}
		if len(part) == 1 {
			refused = append(refused, part[0])
			return
		}
		try(part[:len(part)/2])
		try(part[len(part)/2:])
	}
	try(batch)
	f.refused = shift(append(f.refused, refused...), held)
	return n
}

// shift moves repairs to where their places went when edits were applied.
func shift(repairs []repair, edits []Edit) []repair {
	if len(edits) == 0 {
		return repairs
	}
	moved := func(at int) int {
		by := 0
		for _, e := range edits {
			if e.End <= at {
				by += len(e.New) - (e.End - e.Start)
			}
		}
		return at + by
	}
	out := make([]repair, len(repairs))
	for i, r := range repairs {
		r.edits = slices.Clone(r.edits)
		for k, e := range r.edits {
			r.edits[k].Start, r.edits[k].End = moved(e.Start), moved(e.End)
		}
		out[i] = r
	}
	return out
}

func countErrors(fs []Finding) (n int) {
	for _, f := range fs {
		if f.Severity == Error {
			n++
		}
	}
	return n
}

// endsCRLF tells whether a text's first line ends in a carriage return and a line feed.
func endsCRLF(text string) bool {
	i := strings.IndexByte(text, '\n')
	return i > 0 && text[i-1] == '\r'
}
