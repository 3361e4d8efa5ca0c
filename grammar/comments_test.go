package grammar

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A private comment inside a continued statement is no part of what it says.
func TestCommentInsideIsNotSaid(t *testing.T) {
	for text, want := range map[string]string{
		"Piece: Café // the largest\n  (make 2)":                "Café",
		"Piece: Café // größer\r\n  Noir // x":                  "Café Noir",
		"Note: hello // stuffing\n  world":                      "hello world",
		"Yarn A: fern // eyes: 2\n  green, light (3)":           "fern green",
		"Stitch: tuft // mine = x\n  = 3 dc together in one st": "tuft",
		"Sew: Leg // ab\n  left x 2 to Body":                    "Leg left",
		"Sew: Leg to Body; with // ef\n  whip stitch":           "with whip stitch",
		"Fasten off, // z\n  leaving a tail":                    "leaving a tail",
		"Notion: yarn // zz\n  needle":                          "yarn needle",
	} {
		l := ParseLine(text, 2)
		assert.Empty(t, l.Faults, text)
		var got Name
		switch n := l.Node.(type) {
		case *Piece:
			got = n.Name
		case *Text:
			got = n.Content
		case *Yarn:
			got = n.Name
		case *OwnStitch:
			got = n.Abbr
		case *Sew:
			got = n.Part
			if len(n.Where) > 0 {
				got = n.Where[0].Text
			}
		case *Action:
			got = n.Rest
		case *Notion:
			got = n.Thing
		}
		assert.Equal(t, want, spaced(got.Text), text)
		assert.NotContains(t, got.Text, "//")
		assert.True(t, strings.HasPrefix(got.In(text), want[:3]) && strings.HasSuffix(got.In(text), want[len(want)-3:]), "%q stands at %q", want, got.In(text))
		assert.Equal(t, text, l.Text, "the statement keeps its comment")
		assert.Len(t, l.Said(), len(text)-int(l.Note.End-l.Note.Start))
	}
}

func TestSaid(t *testing.T) {
	for text, want := range map[string]string{
		"Rnd 1: sc":                          "Rnd 1: sc",
		"Rnd 1: sc // a":                     "Rnd 1: sc ",
		"Rnd 1: sc // a\n  inc // b":         "Rnd 1: sc     \n  inc ",
		"Rnd 1: sc,\n  // a // b\r\n  inc":   "Rnd 1: sc,\n           \r\n  inc",
		"Note: https://a.example // x\n  it": "Note: https://a.example     \n  it",
		"  // alone":                         "  ",
	} {
		l := ParseLine(text, int32(strings.Count(text, "\n"))+1)
		assert.Equal(t, want, l.Said(), text)
	}
}

func TestHasComment(t *testing.T) {
	l := ParseLine("Rnd 1: sc, // a\n  inc, sc // b", 2)
	assert.True(t, l.HasComment(Span{7, 22}))
	assert.False(t, l.HasComment(Span{18, 25}))
	assert.False(t, l.HasComment(Span{}))
}
