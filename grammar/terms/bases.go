package terms

// stem is a plain stitch's name in one system, as other names are built on it:
// "dc" in "dc2tog", "double crochet" in "double crochet 2 together".
type stem struct {
	abbr string
	// fulls are the full names, the canonical one first.
	fulls []string
	// also are spellings that no other name is built on.
	also []string
}

// base is a plain stitch, from which its other forms are derived.
type base struct {
	us, uk stem
	work   recipe
	height int
	counts Standing
	yarn   float64
	tall   float64
}

// bases are the plain stitches from the shortest up. The UK names stand one
// step above the US ones; that they do is what the whole glossary derives from.
//
// Heights and what counts: published tables of turning chains, which agree on
// 0 to 6 chains and on all but hdc counting or not. The 1918 Handbook of Wool
// Knitting and Crochet gives the same 1 to 5 chains under the older names.
//
// Yarn: hdc and dc as one maker measured one-row strips (10.6, 15.7 and 20.4 in
// of yarn an inch, worsted, 5 mm hook), so a guide and no standard; tr from
// memory, dtr and trtr by the same step on; sl st from memory.
//
// Tall: sc is the mean of eight published gauges, dc of two; the rest are from
// memory.
var bases = []base{
	{
		us: stem{"sl st", []string{"slip stitch"}, []string{"ss", "slst", "sl stitch", "slip st"}}, uk: stem{"sl st", []string{"slip stitch"}, []string{"ss", "slst", "sl stitch", "slip st"}},
		work: recipe{slip: true}, yarn: 0.5, tall: 0.35,
	}, {
		us: stem{"sc", []string{"single crochet"}, nil}, uk: stem{"dc", []string{"double crochet"}, nil},
		height: 1, counts: NotCounted, yarn: 1, tall: 0.89,
	}, {
		us: stem{"hdc", []string{"half double crochet"}, []string{"half double", "half dc"}}, uk: stem{"htr", []string{"half treble crochet", "half treble"}, []string{"half tr"}},
		work: recipe{overs: 1, gathered: true}, height: 2, counts: Asked, yarn: 1.48, tall: 1.3,
	}, {
		us: stem{"dc", []string{"double crochet"}, nil}, uk: stem{"tr", []string{"treble crochet", "treble"}, nil},
		work: recipe{overs: 1}, height: 3, counts: Counted, yarn: 1.92, tall: 1.61,
	}, {
		us: stem{"tr", []string{"treble crochet", "treble"}, []string{"triple crochet", "trc"}}, uk: stem{"dtr", []string{"double treble crochet", "double treble"}, nil},
		work: recipe{overs: 2}, height: 4, counts: Counted, yarn: 2.5, tall: 2.45,
	}, {
		us: stem{"dtr", []string{"double treble crochet", "double treble"}, nil}, uk: stem{"trtr", []string{"triple treble crochet", "triple treble"}, []string{"ttr", "tr tr"}},
		work: recipe{overs: 3}, height: 5, counts: Counted, yarn: 3.1, tall: 3.2,
	}, {
		us: stem{"trtr", []string{"triple treble crochet", "triple treble"}, []string{"tr tr"}}, uk: stem{"qtr", []string{"quadruple treble crochet", "quadruple treble"}, []string{"quadtr", "quad tr", "quad treble"}},
		work: recipe{overs: 4}, height: 6, counts: Counted, yarn: 3.7, tall: 4,
	},
}

// chainYarn is the yarn of one chain: 4.8 in of yarn an inch of foundation
// chain against 10.6 for single crochet, from the same one maker's strips.
const chainYarn = 0.45

// openYarn is the part of its yarn that a stitch takes when it is left
// unfinished, as in 2tog and clusters: from memory.
const openYarn = 0.8
