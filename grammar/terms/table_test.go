package terms

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The Craft Yarn Council's crochet abbreviations that name a stitch (2018
// edition, from a copy), each with our ID for it.
var councilList = map[string]string{
	"bo": "bob", "BPdc": "bpdc", "BPdtr": "bpdtr", "BPhdc": "bphdc", "BPsc": "bpsc", "BPtr": "bptr", "ch": "ch", "CL": "3-dc cl",
	"dc": "dc", "dc2tog": "dc2tog", "dec": "dec", "dtr": "dtr", "edc": "edc", "ehdc": "ehdc", "esc": "esc", "etr": "etr",
	"FPdc": "fpdc", "FPdtr": "fpdtr", "FPhdc": "fphdc", "FPsc": "fpsc", "FPtr": "fptr", "hdc": "hdc", "hdc2tog": "hdc2tog", "inc": "inc",
	"pc": "pc", "ps": "puff", "puff": "puff", "sc": "sc", "sc2tog": "sc2tog", "sh": "shell", "sl st": "sl st", "tr": "tr", "tr2tog": "tr2tog", "trtr": "trtr",
}

func TestCouncilAbbreviations(t *testing.T) {
	for abbr, id := range councilList {
		s := Find(US, abbr)
		require.NotNil(t, s, abbr)
		assert.Equal(t, id, s.ID, abbr)
		assert.True(t, strings.HasPrefix(s.Source, council), "%s: %s", id, s.Source)
	}
	// Only these rows claim the Council as their source.
	for _, s := range Stitches() {
		if strings.HasPrefix(s.Source, council) {
			assert.Contains(t, councilList, councilSpelling(s.ID), s.ID)
		}
	}
	for id := range listed {
		assert.NotNil(t, ByID(id), id)
	}
}

func councilSpelling(id string) string {
	for abbr, have := range councilList {
		if have == id {
			return abbr
		}
	}
	return ""
}

// Published tables of US and UK terms: woolandcrafts.co.uk, okeydokeys.com,
// interweave.com (2017), funcrochetdesigns.com (ttr), and a UK publisher's list
// of 2015 (dc2tog tr2tog FPtr htr dtr).
var publishedShift = []Pair{
	{"chain", "chain"}, {"ch", "ch"}, {"slip stitch", "slip stitch"}, {"sl st", "ss"},
	{"sc", "dc"}, {"single crochet", "double crochet"},
	{"hdc", "htr"}, {"half double", "half treble"},
	{"dc", "tr"}, {"double crochet", "treble"},
	{"tr", "dtr"}, {"treble", "double treble"},
	{"dtr", "trtr"}, {"dtr", "ttr"}, {"double treble", "triple treble"},
	{"trtr", "qtr"}, {"trtr", "quadtr"}, {"triple treble", "quadruple treble"},
	{"yo", "yoh"}, {"yo", "yrh"}, {"gauge", "tension"}, {"skip", "miss"}, {"fasten off", "fasten off"},
	{"sc2tog", "dc2tog"}, {"hdc2tog", "htr2tog"}, {"dc2tog", "tr2tog"}, {"FPdc", "FPtr"}, {"FPdc", "raised treble front"},
}

func TestCheckMapTakesPublishedTables(t *testing.T) {
	assert.Empty(t, CheckMap(publishedShift))
}

func TestCheckMapRefusesWrongTables(t *testing.T) {
	tests := []struct {
		pair Pair
		want string
	}{
		// As printed at quiltloom.com/uk-vs-us-crochet-terminology.
		{Pair{"double crochet", "single crochet"}, `There is no UK "single crochet"; US "double crochet" is UK "treble crochet".`},
		{Pair{"half double crochet", "half double crochet"}, `There is no UK "half double crochet"; US "half double crochet" is UK "half treble crochet".`},
		// A search and replace one name after the other, not all at once.
		{Pair{"sc", "dtr"}, `US "sc" is UK "dc", not "dtr".`},
		{Pair{"dc", "dc"}, `US "dc" is UK "tr", not "dc".`},
		{Pair{"htr", "htr"}, `There is no US "htr"; UK "htr" is US "hdc".`},
		{Pair{"knit", "purl"}, `Neither US "knit" nor UK "purl" is a stitch.`},
	}
	for _, tt := range tests {
		assert.Equal(t, []string{tt.want}, CheckMap([]Pair{{"sc", "dc"}, tt.pair, {"dc", "tr"}}))
	}
}

func TestNamesRoundTrip(t *testing.T) {
	ids, abbrs, fulls := map[string]bool{}, map[System]map[string]string{US: {}, UK: {}}, map[System]map[string]string{US: {}, UK: {}}
	for _, s := range Stitches() {
		assert.False(t, ids[s.ID], "%s twice", s.ID)
		ids[s.ID] = true
		assert.Equal(t, s.ID, s.US.Abbr)
		assert.Same(t, s, ByID(s.ID))
		for _, sys := range []System{US, UK} {
			n := s.In(sys)
			require.NotEmpty(t, n.Abbr, s.ID)
			require.NotEmpty(t, n.Full, s.ID)
			assert.Empty(t, abbrs[sys][Key(n.Abbr)], "%s and another are both %s", s.ID, n.Abbr)
			assert.Empty(t, fulls[sys][Key(n.Full)], "%s and another are both %s", s.ID, n.Full)
			abbrs[sys][Key(n.Abbr)], fulls[sys][Key(n.Full)] = s.ID, s.ID

			there, ok := Counterpart(sys, n.Abbr)
			require.True(t, ok, n.Abbr)
			back, ok := Counterpart(sys.Other(), there)
			require.True(t, ok, there)
			assert.Equal(t, n.Abbr, back)
			there, ok = Counterpart(sys, n.Full)
			require.True(t, ok, n.Full)
			back, ok = Counterpart(sys.Other(), there)
			require.True(t, ok, there)
			assert.Contains(t, []string{n.Full, n.Abbr}, back)
		}
	}
}

func TestEachSpellingNamesOneStitch(t *testing.T) {
	for _, sys := range []System{US, UK} {
		seen := map[string]*Stitch{}
		for _, s := range Stitches() {
			for spelling := range s.In(sys).spellings() {
				k := Key(spelling)
				require.NotEmpty(t, k, s.ID)
				if other := seen[k]; other != nil && other != s {
					t.Errorf("%s %q is both %s and %s", sys, spelling, other.ID, s.ID)
				}
				seen[k] = s
				assert.Same(t, s, Find(sys, strings.ToUpper(spelling)))
			}
		}
	}
}

// htr, half treble and qtr never occur in US terms, sc never in UK ones:
// published comparisons of the two (beautybady, interweave 2017).
func TestSystemsKeepTheirOwnWords(t *testing.T) {
	foreign := map[System][]string{
		US: {"htr", "half treble", "qtr", "quadtr", "quadruple", "quad", "ttr", "raised"},
		UK: {"sc", "single", "hdc", "half double"},
	}
	for sys, words := range foreign {
		for _, spelling := range Words(sys) {
			for _, w := range words {
				assert.NotContains(t, " "+Key(spelling)+" ", " "+w+" ", sys)
				if !strings.Contains(w, " ") && len(w) < 6 {
					assert.NotContains(t, lettersOnly(spelling), w, "%s %s", sys, spelling)
				}
			}
		}
	}
	for _, spelling := range []string{"htr", "half treble", "qtr"} {
		assert.Nil(t, Find(US, spelling), spelling)
	}
	for _, spelling := range []string{"sc", "single crochet", "sc2tog", "hdc", "fsc", "esc"} {
		assert.Nil(t, Find(UK, spelling), spelling)
	}
}

// lettersOnly is an abbreviation without its counts, "hdc tog"; empty for a
// spelling with a longer word, in which short ones may stand by chance.
func lettersOnly(spelling string) string {
	words := strings.FieldsFunc(Key(spelling), func(r rune) bool { return r < 'a' || r > 'z' })
	if slices.ContainsFunc(words, func(w string) bool { return len(w) > 6 }) {
		return ""
	}
	return strings.Join(words, " ")
}

// Turning chains: a table at dummies.com (0 to 5, all count but sc), crochetforall.com
// (trtr 6), a German lesson with the same 0 to 5, and the Handbook of Wool Knitting
// and Crochet, 1918 (Project Gutenberg 26113), which has 1 to 5 chains for the same
// stitches under their older names. That makers differ on hdc: a readers' forum.
func TestTurningChains(t *testing.T) {
	tests := []struct {
		id     string
		height int
		counts Standing
	}{
		{"sl st", 0, NotCounted}, {"sc", 1, NotCounted}, {"hdc", 2, Asked}, {"dc", 3, Counted},
		{"tr", 4, Counted}, {"dtr", 5, Counted}, {"trtr", 6, Counted},
		{"dc2tog", 3, Counted}, {"fpdc", 3, Counted}, {"sc inc", 1, NotCounted}, {"bob", 3, Counted}, {"puff", 2, Asked},
	}
	for _, tt := range tests {
		s := ByID(tt.id)
		require.NotNil(t, s, tt.id)
		assert.Equal(t, tt.height, s.Height, tt.id)
		assert.Equal(t, tt.counts, s.Counts, tt.id)
	}
}

// What a stitch takes and makes. Bobble, popcorn and puff count 1 to 1:
// lindadeancrochet.com, squishyandco.com; sc3tog takes 3: common practice; a
// foundation stitch needs no chain: a handbook's glossary; picot: from memory.
func TestTakesAndMakes(t *testing.T) {
	tests := []struct {
		us           string
		takes, makes int
		legs         int
		base         string
	}{
		{"ch", 0, 0, 0, ""}, {"sl st", 1, 1, 0, ""}, {"sc", 1, 1, 0, ""}, {"trtr", 1, 1, 0, ""},
		{"inc", 1, 2, 2, ""}, {"dec", 2, 1, 2, ""}, {"dc inc", 1, 2, 2, "dc"}, {"dc dec", 2, 1, 2, "dc"},
		{"sc2tog", 2, 1, 2, "sc"}, {"sc 3 tog", 3, 1, 3, "sc"}, {"dc5together", 5, 1, 5, "dc"}, {"double crochet 2 together", 2, 1, 2, "dc"},
		{"invisible decrease", 2, 1, 2, "sc"}, {"inv inc", 1, 2, 2, "sc"},
		{"bobble", 1, 1, 5, "dc"}, {"3-dc bobble", 1, 1, 3, "dc"}, {"ps", 1, 1, 3, "hdc"}, {"popcorn", 1, 1, 5, "dc"}, {"3 dc cluster", 1, 1, 3, "dc"}, {"cl", 1, 1, 3, "dc"},
		{"sh", 1, 5, 5, "dc"}, {"7-dc shell", 1, 7, 7, "dc"}, {"fan", 1, 7, 7, "dc"}, {"V-stitch", 1, 2, 2, "dc"},
		{"picot", 0, 0, 3, "ch"}, {"ch-3 picot", 0, 0, 3, "ch"}, {"ch-4 picot", 0, 0, 4, "ch"},
		{"fpdc", 1, 1, 1, "dc"}, {"back post tr", 1, 1, 1, "tr"}, {"fpdc2tog", 2, 1, 2, "dc"}, {"blsc", 1, 1, 1, "sc"}, {"esc", 1, 1, 1, "sc"},
		{"fsc", 0, 1, 1, "sc"}, {"crossed dc", 2, 2, 2, "dc"}, {"x-st", 2, 2, 2, "dc"}, {"spike st", 1, 1, 1, "sc"}, {"long sc", 1, 1, 1, "sc"},
		{"MR", 0, 0, 0, ""}, {"adjustable loop", 0, 0, 0, ""},
	}
	for _, tt := range tests {
		s := Find(US, tt.us)
		require.NotNil(t, s, tt.us)
		assert.Equal(t, []int{tt.takes, tt.makes, tt.legs}, []int{s.Takes, s.Makes, s.Legs}, tt.us)
		assert.Equal(t, tt.base, s.Base, tt.us)
	}
}

// Every plain stitch has its forms.
func TestEachPlainStitchHasItsForms(t *testing.T) {
	for _, id := range []string{"sc", "hdc", "dc", "tr", "dtr", "trtr"} {
		for _, form := range []string{
			id + " inc", id + "2tog", id + "3tog", id + "4tog", id + "5tog", "e" + id,
			"fp" + id, "bp" + id, "fp" + id + "2tog", "bp" + id + "2tog", "bl" + id, "fl" + id,
		} {
			s := ByID(form)
			require.NotNil(t, s, form)
			assert.Equal(t, id, s.Base, form)
			assert.Positive(t, s.Tall, form)
		}
	}
	assert.Equal(t, BackLoop, ByID("bldc").Loop)
	assert.Equal(t, FrontLoop, ByID("fldc").Loop)
	assert.Equal(t, FrontPost, ByID("fpdc2tog").Post)
	assert.Equal(t, BackPost, ByID("bptr").Post)
}

func TestRowsHoldTogether(t *testing.T) {
	for _, s := range Stitches() {
		if s.Base != "" {
			require.NotNil(t, ByID(s.Base), s.ID)
			assert.Empty(t, ByID(s.Base).Base, "%s is made of %s, which is no plain stitch", s.ID, s.Base)
		}
		assert.Positive(t, s.Yarn, s.ID)
		assert.NotEmpty(t, s.Source, s.ID)
		if s.Kind != Group {
			assert.Empty(t, s.Body, s.ID)
			continue
		}
		made := 0
		for part := range strings.SplitSeq(s.Body, ", ") {
			count, of, found := strings.Cut(part, " ")
			switch {
			case !found:
				made++
				assert.Equal(t, s.Base, part, s.ID)
			case count != "ch":
				n, err := strconv.Atoi(count)
				require.NoError(t, err, s.ID)
				made += n
				assert.Equal(t, s.Base, of, s.ID)
			}
		}
		assert.Equal(t, s.Makes, made, s.ID)
	}
}

func TestOfTheMainStitch(t *testing.T) {
	tests := []struct{ id, main, want string }{
		{"inc", "sc", "sc inc"}, {"dec", "hdc", "hdc2tog"}, {"dec", "dc", "dc2tog"},
		{"dc inc", "sc", "dc inc"}, {"inv dec", "hdc", "inv dec"}, {"sc", "dc", "sc"}, {"dec", "bob", "dec"}, {"inc", "", "inc"},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, ByID(tt.id).Of(tt.main).ID, "%s of %s", tt.id, tt.main)
	}
}

// One maker's strips (windchilde.com): inches of yarn an inch of one row, in
// worsted with a 5 mm hook: sc 10.6, hdc 15.7, dc 20.4, foundation chain 4.8,
// foundation sc 16.
func TestYarnAgainstMeasuredStrips(t *testing.T) {
	for id, inches := range map[string]float64{"sc": 10.6, "hdc": 15.7, "dc": 20.4, "ch": 4.8} {
		assert.InDelta(t, inches/10.6, ByID(id).Yarn, 0.01, id)
	}
	assert.InDelta(t, 16/10.6, ByID("fsc").Yarn, 0.07)
	assert.Greater(t, ByID("dtr").Yarn, ByID("tr").Yarn)
	assert.InDelta(t, 2*ByID("dc").Yarn, ByID("dc inc").Yarn, 1e-9)
	assert.InDelta(t, 1.6, ByID("sc2tog").Yarn, 1e-9)
}

// Gauges over 4 in, stitches by rows, from free leaflets of yarn makers
// (PAC0116-030195M, CAC0126-035092M, BRC0125-027114M, BRC0502-029618M,
// CAC0502-029057M, BRC0234-030779M, PAC0125-000240M, CAC0135-001742M,
// BRC0125-003704M) and one handbook example.
func TestTallAgainstPublishedGauges(t *testing.T) {
	gauges := map[string][][2]float64{
		"sc": {{22, 24}, {13, 15}, {12, 14}, {10, 11}, {10, 10}, {8, 9}, {7, 8}, {5, 6}},
		"dc": {{13, 8}, {8, 5}},
	}
	for id, list := range gauges {
		sum := 0.0
		for _, g := range list {
			sum += g[0] / g[1]
		}
		assert.InDelta(t, sum/float64(len(list)), ByID(id).Tall, 0.01, id)
	}
	last := 0.0
	for _, b := range bases {
		assert.Greater(t, b.tall, last, b.us.abbr)
		last = b.tall
	}
}

func BenchmarkBuild(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		build()
	}
}
