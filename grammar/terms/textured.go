package terms

import "strconv"

// textured adds the stitches made of several legs or several stitches, and the
// rest of the forms that only some plain stitches have.
func (b *builder) textured() {
	sc, hdc, dc, tr := bases[1], bases[2], bases[3], bases[4]
	for _, s := range []base{sc, hdc, dc, tr} {
		b.foundation(s)
	}
	for _, s := range []base{hdc, dc, tr} {
		for n := 2; n <= 6; n++ {
			b.cluster(s, n)
		}
	}
	for n := 3; n <= 6; n++ {
		r := dc.legs(Cluster, n, 1)
		b.counted(r, dc, n, n == 5, own{"bob", "bobble", []string{"bo", "bob st", "bobble st", "bobble stitch"}}, "bobble", "bob")
	}
	for n := 3; n <= 6; n++ {
		r := dc.legs(Cluster, n, 1)
		r.work.popped, r.Yarn = true, float64(n)*dc.yarn+chainYarn
		b.counted(r, dc, n, n == 5, own{"pc", "popcorn", []string{"pop", "pc st", "pop st", "popcorn st", "popcorn stitch"}}, "popcorn", "pc")
	}
	for n := 3; n <= 5; n++ {
		r := hdc.legs(Cluster, n, 1)
		b.counted(r, hdc, n, n == 3, own{"puff", "puff stitch", []string{"ps", "puff st"}}, "puff", "puff st")
	}
	b.groups(dc)
	for n := 2; n <= 5; n++ {
		b.picot(n)
	}
	for _, s := range []base{sc, hdc, dc, tr} {
		b.crossed(s)
	}
	for _, s := range []base{sc, hdc, dc} {
		b.spike(s)
	}
}

// legs starts a row of n legs of a plain stitch in one place.
func (s base) legs(k Kind, n, makes int) Stitch {
	r := s.row(k, 1, makes)
	r.Legs, r.Yarn = n, float64(n)*s.yarn
	if k == Cluster {
		r.Yarn *= openYarn
	}
	return r
}

// own is a name that a stitch has besides the counted one, the same in both systems.
type own struct {
	abbr, full string
	also       []string
}

// counted adds a stitch named by its legs, "3-dc bobble". The usual one goes
// by its own name first.
func (b *builder) counted(r Stitch, s base, n int, usual bool, o own, words ...string) {
	for _, sys := range []System{US, UK} {
		st, before := s.us, strconv.Itoa(n)
		if sys == UK {
			st = s.uk
		}
		short := make([]spelling, 0, len(words))
		for _, w := range words {
			short = append(short, spelling{before + "-", " " + w})
		}
		name := st.with(short, []spelling{{before + " ", " " + words[0]}})
		if usual {
			name = Name{o.abbr, o.full, append(append([]string{name.Abbr, name.Full}, name.Also...), o.also...)}
		}
		if sys == UK {
			r.UK = name
		} else {
			r.US = name
		}
	}
	b.add(r)
}

func (b *builder) cluster(s base, n int) {
	r := s.legs(Cluster, n, 1)
	before := strconv.Itoa(n)
	short := []spelling{{before + "-", " cl"}, {before + "-", " cluster"}}
	if n == 3 {
		short = append(short, spelling{"", " cl"}, spelling{"", " cluster"})
	}
	long := []spelling{{before + " ", " cluster"}}
	r.US, r.UK = s.us.with(short, long), s.uk.with(short, long)
	if s.us.abbr == "dc" && n == 3 {
		r.Source = "that a bare cl has 3 legs is " + trade
		r.US.Also = append(r.US.Also, "cl", "cluster", "cl st", "cluster st", "cluster stitch")
		r.UK.Also = append(r.UK.Also, "cl", "cluster", "cl st", "cluster st", "cluster stitch")
	}
	b.add(r)
}

func (b *builder) foundation(s base) {
	r := s.row(Foundation, 0, 1)
	r.work.extended, r.Yarn = true, s.yarn+chainYarn
	b.named(r, s, []spelling{{"f", ""}, {"foundation ", ""}}, []spelling{{"foundation ", ""}})
}

func (b *builder) groups(s base) {
	for n := 3; n <= 9; n++ {
		r := s.legs(Group, n, n)
		r.Body = strconv.Itoa(n) + " " + s.us.abbr
		if n == 5 {
			r.Source = "that it has 5 is " + trade
		}
		b.counted(r, s, n, n == 5, own{"shell", "shell stitch", []string{"sh", "shell st"}}, "shell")
	}
	fan := s.legs(Group, 7, 7)
	fan.Source = "that it has 7 is " + memory + ", and makers differ: a pattern has to say what its fan is"
	fan.Body = "7 " + s.us.abbr
	fan.US = same("fan", "fan stitch", "fan st")
	b.add(fan)
	v := s.legs(Group, 2, 2)
	v.Body, v.Yarn = s.us.abbr+", ch 1, "+s.us.abbr, 2*s.yarn+chainYarn
	v.US = same("V-st", "V-stitch", "vst")
	b.add(v)
}

func (b *builder) picot(chains int) {
	n := strconv.Itoa(chains)
	name := same("ch-"+n+" picot", "chain "+n+" picot", n+"-ch picot")
	if chains == 3 {
		name = same("picot", "picot stitch", "ch-3 picot", "chain 3 picot", "3-ch picot", "picot st")
	}
	b.add(Stitch{Kind: Picot, US: name, Base: "ch", Legs: chains, Yarn: float64(chains)*chainYarn + bases[0].yarn, Source: memory})
}

func (b *builder) crossed(s base) {
	r := s.row(Crossed, 2, 2)
	r.Legs, r.Yarn = 2, 2*s.yarn
	short := []spelling{{"crossed ", ""}}
	r.US, r.UK = s.us.with(short, short), s.uk.with(short, short)
	if s.us.abbr == "dc" {
		r.US.Also = append(r.US.Also, "x-st", "cross st", "crossed st")
		r.UK.Also = append(r.UK.Also, "x-st", "cross st", "crossed st")
	}
	b.add(r)
}

func (b *builder) spike(s base) {
	r := s.row(Plain, 1, 1)
	r.Source = "yarn " + memory
	r.work.long, r.Yarn = true, 1.5*s.yarn
	ways := []spelling{{"spike ", ""}, {"long ", ""}}
	r.US, r.UK = s.us.with(ways, ways), s.uk.with(ways, ways)
	if s.us.abbr == "sc" {
		r.US.Also = append(r.US.Also, "spike st", "spike stitch", "spike")
		r.UK.Also = append(r.UK.Also, "spike st", "spike stitch", "spike")
	}
	b.add(r)
}
