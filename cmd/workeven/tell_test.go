package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/grammar/terms"
	"workeven/lint"
)

// The commands that only tell: rules, terms, explain, version, help.
func TestTelling(t *testing.T) {
	table{
		{name: "no command", args: nil, code: 0, has: []string{"workeven lint snail.crochet"}},
		{name: "version", args: []string{"version"}, code: 0, has: []string{"workeven ", "go1."}},
		{name: "--version", args: []string{"--version"}, code: 0, has: []string{"workeven "}},
		{name: "completion", args: []string{"completion", "bash"}, code: 0, has: []string{"workeven"}},
		{name: "completion of formats", args: []string{"__complete", "lint", "--format", "j"}, code: 0, has: []string{"json\n"}},
		{name: "completion of files", args: []string{"__complete", "lint", ""}, code: 0, has: []string{"crochet\n"}},
		{name: "completion of what can be explained", args: []string{"__complete", "explain", "hd"}, code: 0, has: []string{"hdc\n"}},
		{name: "terms", args: []string{"terms"}, code: 0, has: []string{"TAKES", "half double crochet"}},
		{name: "a stitch", args: []string{"explain", "hdc"}, code: 0, has: []string{"half double crochet (US terms); in UK terms htr, half treble", "Takes 1 stitch of the round below and makes 1 stitch.", "   1. "}},
		{name: "a stitch in several words", args: []string{"explain", "half", "double", "crochet"}, code: 0, has: []string{"hdc, half double crochet"}},
		{name: "a word of both systems", args: []string{"explain", "dc"}, code: 0, has: []string{"(US terms); in UK terms tr, treble", "(UK terms); in US terms sc, single"}},
		{name: "a hook", args: []string{"explain", "G-6"}, code: 0, has: []string{"A hook of 4 mm, US G-6, UK 8."}},
		{name: "a yarn weight", args: []string{"explain", "worsted"}, code: 0, has: []string{"medium (4): a yarn weight."}},
		{name: "a level", args: []string{"explain", "easy"}, code: 0, has: []string{"easy: a level of skill"}},
		{name: "a near word", args: []string{"explain", "hdcc"}, code: 2, has: []string{"2>did you mean hdc?"}},
		{name: "no near word", args: []string{"explain", "qqqqqqqq"}, code: 2, has: []string{"2>`workeven terms` and `workeven rules` list them"}},
		{name: "nothing to explain", args: []string{"explain"}, code: 2},
		{name: "words where none are wanted", args: []string{"rules", "x"}, code: 2},
	}.run(t)
}

func TestRulesAreToldFromTheRegistry(t *testing.T) {
	b := newBench(t, nil)
	var told struct{ Rules []jsonRule }
	require.NoError(t, json.Unmarshal([]byte(b.run("rules", "--format", "json").out), &told))
	assert.Len(t, told.Rules, len(lint.Rules()))
	text := b.run("rules").out
	assert.Equal(t, len(lint.Rules())+1, strings.Count(text, "\n"))
	for _, r := range lint.Rules() {
		assert.Contains(t, text, r.Name)
		assert.Contains(t, b.run("explain", r.Name).out, r.Why)
	}
	assert.True(t, json.Valid([]byte(b.run("rules", "--schema").out)))
}

func TestTermsAsJSON(t *testing.T) {
	b := newBench(t, nil)
	var told struct{ Terms []jsonTerm }
	require.NoError(t, json.Unmarshal([]byte(b.run("terms", "--format", "json").out), &told))
	require.Len(t, told.Terms, len(terms.Stitches()))
	for i, s := range terms.Stitches() {
		assert.Equal(t, s.UK.Abbr, told.Terms[i].UK.Abbr)
		assert.Equal(t, s.Takes, told.Terms[i].Takes)
		assert.NotNil(t, told.Terms[i].US.Also)
	}
}

func TestEveryCommandHasAnExampleOnAPattern(t *testing.T) {
	for _, cmd := range (&app{}).root().Commands() {
		assert.Contains(t, cmd.Example, ".crochet", cmd.Name())
		assert.NotEmpty(t, cmd.Short, cmd.Name())
	}
}
