package terms

import (
	"slices"
	"strconv"
	"strings"
)

// HookMark is a hook's letter and number as a text gives them.
type HookMark struct {
	// Letters are one or more capitals: "E", or "MN" for M/N.
	Letters string
	// Number is in digits, with ".5" for a half.
	Number string
	steel  bool
	uk     bool
}

func (m HookMark) empty() bool { return m.Letters == "" && m.Number == "" }

// String writes the mark as charts print it: "M/N-13", "K-10½", "steel 7".
func (m HookMark) String() string {
	letters := strings.Join(strings.Split(m.Letters, ""), "/")
	number := strings.Replace(m.Number, ".5", "½", 1)
	switch {
	case m.steel:
		return "steel " + number
	case m.uk:
		return "UK " + number
	case letters == "" || number == "":
		return letters + number
	}
	return letters + "-" + number
}

// hooks are those that bear the mark.
func (m HookMark) hooks() []Hook {
	if m.uk {
		return HookByUK(m.Number)
	}
	var found []Hook
	for _, h := range hooks {
		own, _, ok := readMark(h.US)
		if !ok || m.steel && !h.Steel || m.Number != "" && m.Number != own.Number {
			continue
		}
		if strings.ContainsFunc(m.Letters, func(r rune) bool { return !strings.ContainsRune(own.Letters, r) }) {
			continue
		}
		found = append(found, h)
	}
	return found
}

func (m HookMark) agrees(mm float64) Verdict {
	v := NoSuchHook
	for _, h := range m.hooks() {
		switch {
		case sameSize(h.MM, mm):
			return HookAgree
		case slices.ContainsFunc(h.Others, func(o float64) bool { return sameSize(o, mm) }):
			v = HookVaries
		case v == NoSuchHook:
			v = HookDiffers
		}
	}
	return v
}

// HookText is what a text says of one hook.
type HookText struct {
	// MM is the size where the text states it in mm, else 0.
	MM float64
	// Mark is the letter and number, empty where the text gives none.
	Mark HookMark
	// Fits are the hooks that the mark may mean, or without a mark the hooks of
	// the stated size. For a bare number they are the US yarn hook, the steel
	// hook and, last, the hook of as many mm.
	Fits []Hook
}

// Size is the size in mm: as stated, or of the one hook that the mark can mean;
// false where that is in doubt.
func (t HookText) Size() (float64, bool) {
	switch {
	case t.MM > 0:
		return t.MM, true
	case len(t.Fits) == 1 && len(t.Fits[0].Others) == 0:
		return t.Fits[0].MM, true
	}
	return 0, false
}

// Verdict judges the mark against the millimetres where both are given, and
// says HookAgree where only one is.
func (t HookText) Verdict() Verdict {
	switch {
	case t.Mark.empty():
		return HookAgree
	case len(t.Fits) == 0:
		return NoSuchHook
	case t.MM == 0:
		return HookAgree
	}
	return t.Mark.agrees(t.MM)
}

// idle are words that may stand in a hook's text and say nothing of its size.
var idle = map[string]bool{"us": true, "size": true, "hook": true, "crochet": true, "no": true, "number": true, "can": true, "or": true, "metric": true}

// ParseHook reads "3.5 mm", "E-4", "E-4 (3.5 mm)", "E/4 / 3.5mm", "US G-6",
// "steel 7", "UK 9" or a bare "7". It is false where the text is not that of
// one hook: no size, two sizes in mm, two marks, other words.
func ParseHook(text string) (HookText, bool) {
	var t HookText
	clean := strings.NewReplacer("½", ".5", " 1/2", ".5", "-1/2", ".5", "\u00a0", " ", "(", " ", ")", " ", "[", " ", "]", " ", "#", " ", ";", " ", "=", " ", "–", "-", "‑", "-").Replace(strings.ToLower(text))
	bare := true
	for clean = trimHook(clean); clean != ""; clean = trimHook(clean) {
		if n, rest, ok := readNumber(clean); ok {
			if after, isMM := unit(rest); isMM {
				mm, err := strconv.ParseFloat(n, 64)
				if err != nil || mm <= 0 || t.MM > 0 && t.MM != mm {
					return HookText{}, false
				}
				t.MM, clean = mm, after
				continue
			}
		}
		word, rest := clean, ""
		if i := strings.IndexFunc(clean, func(r rune) bool { return r < 'a' || r > 'z' }); i >= 0 {
			word, rest = clean[:i], clean[i:]
		}
		switch {
		case word == "steel":
			t.Mark.steel, bare, clean = true, false, rest
			continue
		case word == "uk":
			t.Mark.uk, bare, clean = true, false, rest
			continue
		case idle[word]:
			bare, clean = bare && word != "us", strings.TrimPrefix(rest, ".")
			continue
		}
		m, rest, ok := readMark(clean)
		if !ok || !t.Mark.empty() {
			return HookText{}, false
		}
		t.Mark.Letters, t.Mark.Number, clean = m.Letters, m.Number, rest
	}
	switch {
	case !t.Mark.empty():
		t.Fits = t.Mark.hooks()
		if mm, err := strconv.ParseFloat(t.Mark.Number, 64); err == nil && bare && t.Mark.Letters == "" && t.MM == 0 && !strings.HasPrefix(t.Mark.Number, "0") {
			t.Fits = append(t.Fits, HookByMM(mm)...)
		}
	case t.MM > 0:
		t.Fits = HookByMM(t.MM)
	}
	return t, t.MM > 0 || !t.Mark.empty()
}

func trimHook(s string) string { return strings.TrimLeft(s, " \t/-,:.") }

// unit passes "mm" by.
func unit(s string) (rest string, ok bool) {
	s = strings.TrimLeft(s, " -")
	for _, u := range []string{"millimetres", "millimeters", "mm"} {
		if rest, ok := strings.CutPrefix(s, u); ok && (rest == "" || rest[0] < 'a' || rest[0] > 'z') {
			return strings.TrimPrefix(rest, "."), true
		}
	}
	return s, false
}

// readNumber reads digits, with a decimal point or comma.
func readNumber(s string) (number, rest string, ok bool) {
	i, point := 0, false
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || !point && i > 0 && (s[i] == '.' || s[i] == ',') && i+1 < len(s) && s[i+1] >= '0' && s[i+1] <= '9') {
		point = point || s[i] < '0'
		i++
	}
	return strings.Replace(s[:i], ",", ".", 1), s[i:], i > 0
}

// readMark reads letters with slashes between, then a number: "m/n-13".
func readMark(s string) (m HookMark, rest string, ok bool) {
	s = strings.Replace(strings.ToLower(s), "½", ".5", 1)
	for isLetter(s, 0) && !isLetter(s, 1) {
		m.Letters += strings.ToUpper(s[:1])
		s = s[1:]
		if len(s) > 1 && s[0] == '/' && isLetter(s, 1) {
			s = s[1:]
		}
	}
	after := s
	if m.Letters != "" {
		after = strings.TrimLeft(s, " /-.")
	}
	if n, rest, ok := readNumber(after); ok {
		// "E / 3.5 mm": the number is the size.
		if _, isMM := unit(rest); !isMM {
			m.Number, s = n, rest
		}
	}
	ok = !m.empty() && !isLetter(s, 0)
	return m, s, ok
}

func isLetter(s string, i int) bool { return i < len(s) && s[i] >= 'a' && s[i] <= 'z' }
