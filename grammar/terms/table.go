package terms

import "strconv"

// Where the rows come from.
const (
	council = "Craft Yarn Council abbreviations, 2018 edition (from a copy)"
	trade   = "common practice"
	memory  = "from memory"
)

// listed are the rows whose abbreviation is on the Craft Yarn Council's list,
// if not always under the spelling that is our ID.
var listed = map[string]bool{
	"ch": true, "sl st": true, "sc": true, "hdc": true, "dc": true, "tr": true, "dtr": true, "trtr": true, "inc": true, "dec": true,
	"sc2tog": true, "hdc2tog": true, "dc2tog": true, "tr2tog": true, "esc": true, "ehdc": true, "edc": true, "etr": true,
	"fpsc": true, "fphdc": true, "fpdc": true, "fptr": true, "fpdtr": true, "bpsc": true, "bphdc": true, "bpdc": true, "bptr": true, "bpdtr": true,
	"3-dc cl": true, "bob": true, "pc": true, "puff": true, "shell": true,
}

// table builds the glossary: the plain stitches, and every form that follows
// from one of them by a rule, so that no count or name is typed twice.
func table() []*Stitch {
	b := builder{rows: make([]*Stitch, 0, 256)}
	b.add(Stitch{Kind: Chain, US: same("ch", "chain", "chain stitch", "chain st"), Yarn: chainYarn})
	for _, s := range bases {
		b.plain(s)
	}
	b.shaping()
	for _, s := range bases {
		b.forms(s)
	}
	b.textured()
	b.add(Stitch{
		Kind: Ring, US: same("magic ring", "magic ring", "mr", "magic circle", "magic loop", "adjustable ring", "adjustable loop", "sliding loop"),
		Yarn: 2, Source: "yarn " + memory,
	})
	return b.rows
}

type builder struct{ rows []*Stitch }

// add appends a row; a stitch without UK names goes by the same ones. What is
// set as its source is kept as a remark on where the name comes from.
func (b *builder) add(s Stitch) {
	if s.UK.Abbr == "" {
		s.UK = s.US
	}
	s.ID = s.US.Abbr
	origin := trade
	if listed[s.ID] {
		origin = council
	}
	switch {
	case s.Source == "":
		s.Source = origin
	case s.Source != memory:
		s.Source = origin + "; " + s.Source
	}
	b.rows = append(b.rows, &s)
}

func same(abbr, full string, also ...string) Name { return Name{abbr, full, also} }

// row starts a row that is made of a plain stitch.
func (s base) row(k Kind, takes, makes int) Stitch {
	return Stitch{
		Kind: k, Takes: takes, Makes: makes, Height: s.height, Counts: s.counts, Base: s.us.abbr, Legs: 1,
		Yarn: s.yarn, Tall: s.tall, work: s.work,
	}
}

func (b *builder) plain(s base) {
	r := s.row(Plain, 1, 1)
	if s.work.slip {
		r.Kind = Slip
	}
	r.Base, r.Legs = "", 0
	r.US, r.UK = s.us.name(), s.uk.name()
	b.add(r)
}

func (s stem) name() Name {
	return Name{s.abbr, s.fulls[0], append(s.fulls[1:len(s.fulls):len(s.fulls)], s.also...)}
}

// spelling is one way to build a name on a stem: an affix before and after.
type spelling struct{ before, after string }

// with builds a name: the abbreviation in each of the short ways, the full
// names in each of the long ones, the canonical way first.
func (s stem) with(short, long []spelling) Name {
	n := Name{Abbr: short[0].before + s.abbr + short[0].after, Full: long[0].before + s.fulls[0] + long[0].after}
	n.Also = make([]string, 0, len(short)+len(long)*len(s.fulls)-2)
	for _, w := range short[1:] {
		n.Also = append(n.Also, w.before+s.abbr+w.after)
	}
	for i, full := range s.fulls {
		for j, w := range long {
			if i+j > 0 {
				n.Also = append(n.Also, w.before+full+w.after)
			}
		}
	}
	return n
}

// named adds a row under the names that both systems build in the same ways.
func (b *builder) named(r Stitch, s base, short, long []spelling) {
	r.US, r.UK = s.us.with(short, long), s.uk.with(short, long)
	b.add(r)
}

// shaping is what follows the piece's main stitch, and the two forms for toys.
func (b *builder) shaping() {
	sc := bases[1]
	b.add(Stitch{Kind: Increase, US: same("inc", "increase", "increasing"), Takes: 1, Makes: 2, Legs: 2, Yarn: 2})
	b.add(Stitch{Kind: Decrease, US: same("dec", "decrease", "decreasing"), Takes: 2, Makes: 1, Legs: 2, Yarn: 2 * openYarn})
	up := sc.row(Increase, 1, 2)
	up.Source = memory
	up.US, up.Legs, up.Yarn, up.work.invisible = same("inv inc", "invisible increase", "invinc", "invisible inc"), 2, 2, true
	b.add(up)
	down := sc.row(Decrease, 2, 1)
	down.US, down.Legs, down.Yarn, down.work.invisible = same("inv dec", "invisible decrease", "invdec", "invisible dec", "inv decrease"), 2, 2*openYarn, true
	b.add(down)
}

// forms are the forms that one plain stitch takes on its own.
func (b *builder) forms(s base) {
	r := s.row(Increase, 1, 2)
	r.Legs, r.Yarn = 2, 2*s.yarn
	b.named(r, s, []spelling{{"", " inc"}, {"", " increase"}}, []spelling{{"", " increase"}})

	togs := 5
	if s.work.slip {
		togs = 2
	}
	for n := 2; n <= togs; n++ {
		b.together(s, n, NoPost)
	}
	if !s.work.slip {
		r = s.row(Plain, 1, 1)
		r.Source = "height " + memory
		r.work.extended = true
		r.Height, r.Yarn, r.Tall = s.height+1, s.yarn+chainYarn, s.tall+0.35
		if r.Height < 4 {
			r.Counts = Asked
		}
		b.named(r, s, []spelling{{"e", ""}, {"ext ", ""}, {"extended ", ""}}, []spelling{{"extended ", ""}})
	}
	kind := Plain
	if s.work.slip {
		kind = Slip
	}
	for _, p := range []Post{FrontPost, BackPost} {
		r = s.row(kind, 1, 1)
		r.Post = p
		side := p.side()
		r.US = s.us.with(postShort(p, ""), []spelling{{side + " post ", ""}})
		r.UK = s.uk.with(postShort(p, ""), []spelling{{side + " post ", ""}, {"raised ", " " + side}})
		b.add(r)
	}
	if !s.work.slip {
		b.together(s, 2, FrontPost)
		b.together(s, 2, BackPost)
	}
	for _, l := range []Loop{BackLoop, FrontLoop} {
		r = s.row(kind, 1, 1)
		r.Loop = l
		short, long := "bl", "back loop "
		if l == FrontLoop {
			short, long = "fl", "front loop "
		}
		b.named(r, s, []spelling{{short, ""}}, []spelling{{long, ""}})
	}
}

func (p Post) side() string {
	if p == FrontPost {
		return "front"
	}
	return "back"
}

func postShort(p Post, after string) []spelling {
	return []spelling{{p.side()[:1] + "p", after}, {p.side()[:1] + "p ", after}, {p.side() + " post ", after}}
}

var numberWords = [...]string{2: "two", 3: "three", 4: "four", 5: "five"}

// together is sc2tog and its like: one stitch over n.
func (b *builder) together(s base, n int, p Post) {
	r := s.row(Decrease, n, 1)
	r.Legs, r.Yarn, r.Post = n, float64(n)*openYarn*s.yarn, p
	count := strconv.Itoa(n)
	if p != NoPost {
		b.named(r, s, postShort(p, count+"tog"), []spelling{{p.side() + " post ", " " + count + " together"}})
		return
	}
	short := []spelling{{"", count + "tog"}, {"", " " + count + "tog"}, {"", " " + count + " tog"}, {"", count + "together"}, {"", " " + count + " together"}}
	long := []spelling{{"", " " + count + " together"}, {"", " " + numberWords[n] + " together"}}
	if n == 2 {
		short = append(short, spelling{"", " dec"}, spelling{"", " decrease"})
		long = append(long, spelling{"", " decrease"})
	}
	b.named(r, s, short, long)
}
