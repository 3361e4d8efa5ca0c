package grammar

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMeantBy(t *testing.T) {
	pieces := map[string]bool{"leg": true, "box": true, "leaf": true, "knife": true, "body": true, "the end": true, "left arm": true}
	known := func(key string) bool { return pieces[key] }
	for words, want := range map[string]struct {
		key, span    string
		all, changed bool
	}{
		"Leg":            {"leg", "Leg", false, false},
		"Legs":           {"leg", "Leg", true, false},
		"the Leg":        {"leg", "Leg", false, false},
		"the Legs":       {"leg", "Leg", true, false},
		"Both  legs":     {"leg", "leg", true, false},
		"each Leg":       {"leg", "Leg", true, false},
		"all the Boxes":  {"box", "Box", true, false},
		"Leaves":         {"leaf", "Leaves", true, true},
		"Knives":         {"knife", "Knives", true, true},
		"every Body":     {"body", "Body", true, false},
		"Bodies":         {"body", "Bodies", true, true},
		"The End":        {"the end", "The End", false, false},
		"Left-Arm":       {"left arm", "Left-Arm", false, false},
		"left\n  arm":    {"left arm", "left\n  arm", false, false},
		"both":           {},
		"Leg warmer":     {},
		"several Legs":   {},
		"":               {},
		"the":            {},
		"each and every": {},
	} {
		got, ok := MeantBy(words, known)
		assert.Equal(t, want.key != "", ok, "%q", words)
		assert.Equal(t, want.key, got.Key, "%q", words)
		assert.Equal(t, want.span, got.In(words), "%q", words)
		assert.Equal(t, []bool{want.all, want.changed}, []bool{got.All, got.Changed}, "%q", words)
	}
}

func TestNamesIn(t *testing.T) {
	for words, want := range map[string][]string{
		"Head":                         {"Head"},
		"Left Arm, Right Arm and Tail": {"Left Arm", "Right Arm", "Tail"},
		"Head & Body + Tail":           {"Head", "Body", "Tail"},
		"Head, and Body":               {"Head", "Body"},
		"Sand":                         {"Sand"},
		"":                             nil,
	} {
		var got []string
		for _, s := range NamesIn(words) {
			got = append(got, s.In(words))
		}
		assert.Equal(t, want, got, "%q", words)
	}
}

func TestYarnKey(t *testing.T) {
	for s, want := range map[string]string{"A": "a", "Yarn A": "a", "color fern": "fern", "colour  Fern": "fern", "MC": "mc"} {
		assert.Equal(t, want, YarnKey(s))
	}
}
