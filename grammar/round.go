package grammar

import (
	"strconv"
	"strings"
)

// readRound reads "Rnds 6-9 (RS): steps (total)".
func readRound(c content) (Node, []Fault) {
	n := c.in.round()
	n.Row, n.Label = c.row, c.head
	fault := n.readLabel(c.text, c.head)
	steps, total, after, faults := stepsInto(c.in, c.text, c.from, c.to)
	n.Steps, n.Total, n.After = steps, total, after
	n.Broken = len(faults) > 0
	if len(faults) == 0 && len(steps) == 0 {
		n.Broken = true
		what := "round"
		if c.row {
			what = "row"
		}
		faults = append(faults, Fault{Span: c.head, Message: "this " + what + " has no steps; write what is worked, such as " + strconv.Quote("sc around (24)")})
	}
	if fault != nil {
		faults = append([]Fault{*fault}, faults...)
	}
	return n, faults
}

// readLabel reads the numbers and side of a round's label.
func (n *Round) readLabel(text string, head Span) *Fault {
	i, end := int(head.Start), int(head.End)
	for i < end && isLetter(text[i]) {
		i++
	}
	word := text[head.Start:i]
	if i < end && text[i] == '.' {
		i++ // "Rnd. 2"
	}
	from, i := labelNumber(text, i, end)
	if !from.Written() {
		return &Fault{Span: head, Message: "a number is missing after " + strconv.Quote(word) + ", such as " + strconv.Quote(word+" 3:")}
	}
	n.From, n.To = from, Count{N: from.N}
	i = skipBlanks(text, i, end)
	if j, ok := rangeSign(text, i, end); ok {
		to, k := labelNumber(text, secondWord(text, j, end), end)
		if !to.Written() {
			return &Fault{Span: Span{int32(i), int32(end)}, Message: "the range has no second number, such as " + strconv.Quote(word+" 3-6:")}
		}
		n.To, i = to, skipBlanks(text, k, end)
	}
	if i == end {
		return nil
	}
	rest := strings.TrimSpace(text[i:end])
	switch strings.ToUpper(strings.Trim(rest, "()[], ")) {
	case "":
	case "RS", "RIGHT SIDE":
		n.Side = SideRight
	case "WS", "WRONG SIDE":
		n.Side = SideWrong
	default:
		return &Fault{Span: Span{int32(i), int32(end)}, Message: "found " + strconv.Quote(rest) + " after the number; only (RS) or (WS) can stand there"}
	}
	return nil
}

func skipBlanks(text string, i, end int) int {
	for i < end {
		switch {
		case isSpace(text[i]):
			i++
		case strings.HasPrefix(text[i:end], "\u00a0"):
			i += len("\u00a0")
		default:
			return i
		}
	}
	return i
}

func labelNumber(text string, i, end int) (Count, int) {
	i = skipBlanks(text, i, end)
	start, n := i, int64(0)
	for i < end && isDigit(text[i]) {
		n = min(n*10+int64(text[i]-'0'), MaxCount)
		i++
	}
	return Count{int32(n), Span{int32(start), int32(i)}}, i
}

// secondWord passes the word that may stand before the second number as well:
// "R5-R6", "Rnd 5 to Rnd 6".
func secondWord(text string, i, end int) int {
	start := skipBlanks(text, i, end)
	j := start
	for j < end && isLetter(text[j]) {
		j++
	}
	switch strings.ToLower(text[start:j]) {
	case "r", "rnd", "rnds", "round", "rounds", "row", "rows":
	default:
		return i
	}
	if j < end && text[j] == '.' {
		j++
	}
	return j
}

// rangeSign passes what stands between the numbers of a range.
func rangeSign(text string, i, end int) (int, bool) {
	for _, sign := range []string{"-", "–", "—", "‐", "‑", "−", "to ", "and ", "& ", "&"} {
		if strings.HasPrefix(text[i:end], sign) {
			return i + len(sign), true
		}
	}
	return i, false
}

// RepeatsSeveral says whether a statement repeats several rounds, each with a
// total of its own where it stands first.
func (n *Round) RepeatsSeveral() bool {
	for i := range n.Steps {
		if x := n.Steps[i].Rounds(); n.Steps[i].Kind == StepRepeat && x != nil && (x.To.N != x.From.N || x.Last && x.From.N > 1) {
			return true
		}
	}
	return false
}
