package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const shell = `Pattern: Moss the Snail
Terms: US

Piece: Shell (make 1)
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (13)
Rnds 3-4: sc around
Rnd 5: (dc, ch 1, sk next st) around (6 dc, 6 ch-1 sps)

Piece: Feeler (make 2)
Row 1: ch 5, sc in 2nd ch from hook, sc in next 3 ch (4)
`

func TestTallyJSON(t *testing.T) {
	const want = `{"file":"snail.crochet","pieces":[{"name":"Shell","make":1,"line":4,"rounds":[` +
		`{"label":"Rnd 1","from":1,"to":1,"line":5,"takes":0,"makes":6,"stated":6,"stitches":{"sc":6},"spaces":{}},` +
		`{"label":"Rnd 2","from":2,"to":2,"line":6,"takes":6,"makes":12,"stated":13,"stitches":{"sc":12},"spaces":{}},` +
		`{"label":"Rnds 3-4","from":3,"to":4,"line":7,"takes":12,"makes":12,"stated":null,"stitches":{"sc":12},"spaces":{}},` +
		`{"label":"Rnd 5","from":5,"to":5,"line":8,"takes":12,"makes":6,"stated":6,"stitches":{"dc":6},"spaces":{"ch-1 sp":6}}]},` +
		`{"name":"Feeler","make":2,"line":10,"rounds":[` +
		`{"label":"Row 1","from":1,"to":1,"line":11,"takes":0,"makes":4,"stated":4,"stitches":{"sc":4},"spaces":{}}]}]}` + "\n"
	table{
		{name: "a pattern", files: map[string]string{"snail.crochet": shell}, args: []string{"tally", "--format", "json", "snail.crochet"}, code: 0, out: want},
		{name: "byte-order mark and CRLF", stdin: "\ufeffPiece: A\r\n\r\nRnd 1: 6 sc in magic ring\r\n", args: []string{"tally", "--format", "json", "-"}, code: 0,
			out: `{"file":"<stdin>","pieces":[{"name":"A","make":1,"line":1,"rounds":[{"label":"Rnd 1","from":1,"to":1,"line":3,"takes":0,"makes":6,"stated":null,"stitches":{"sc":6},"spaces":{}}]}]}` + "\n"},
		{name: "no piece", stdin: "Pattern: Hat\n", args: []string{"tally", "--format", "json", "-"}, code: 0, out: `{"file":"<stdin>","pieces":[]}` + "\n"},
		{name: "an object a line for each file", files: map[string]string{"b.crochet": "", "a.crochet": ""}, args: []string{"tally", "--format", "json"}, code: 0,
			out: `{"file":"a.crochet","pieces":[]}` + "\n" + `{"file":"b.crochet","pieces":[]}` + "\n"},
		{name: "what cannot be worked out is null", stdin: "Piece: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: (sc 2, !! (9)\n", args: []string{"tally", "--format", "json", "-"}, code: 0,
			has: []string{`"takes":null,"makes":null,"stated":9`, "2>1 place cannot be read"}},
	}.run(t)
}

func TestTallyText(t *testing.T) {
	b := newBench(t, map[string]string{"snail.crochet": shell})
	r := b.run("tally")
	require.Equal(t, 0, r.code)
	require.Equal(t, `snail.crochet

Shell (make 1)
  round     takes  makes  stated           of
  Rnd 1     0      6      6                6 sc
  Rnd 2     6      12     13      differs  12 sc
  Rnds 3-4  12     12     -                12 sc
  Rnd 5     12     6      6                6 dc, 6 ch-1 sps

Feeler (make 2)
  round  takes  makes  stated    of
  Row 1  0      4      4         4 sc

`, r.out)
	require.Equal(t, 2, b.run("tally", "gone.crochet").code)
}
