package fabric

// Spoken is another place that a problem's message speaks of.
type Spoken struct {
	Kind SpokenKind
	// Label is the number of the round that SpokenRound and the like mean.
	Label int64
	// Piece is the other piece that SpokenPiece and SpokenMake mean, by name.
	Piece string
}

// SpokenKind says what kind of place is spoken of.
type SpokenKind uint8

// What messages speak of.
const (
	// SpokenBelow is the round that is worked into, SpokenSpaces its chain spaces
	// and SpokenStanding its stitches, each by its name.
	SpokenBelow SpokenKind = iota
	SpokenSpaces
	SpokenStanding
	// SpokenNothing is nothing but the round itself.
	SpokenNothing
	// SpokenRound is a round further down in the piece: SpokenLoops for the sake of
	// its loops, SpokenWorked since it worked what is asked for, SpokenStart since
	// the piece begins with it.
	SpokenRound
	SpokenLoops
	SpokenWorked
	SpokenStart
	// SpokenPiece is another piece's last round, SpokenMake how often it is made.
	SpokenPiece
	SpokenMake
)

// speaksOf is what a message of the round speaks of that names what it is worked
// into, as belowName does.
func (w *worker) speaksOf(s Spoken) Spoken {
	if s.Kind > SpokenStanding {
		return s
	}
	switch {
	case w.freeMain > 0:
		return Spoken{Kind: SpokenLoops, Label: w.freeMain}
	case w.chain != nil && (!w.onEdge || w.st.edge == nil):
		return Spoken{Kind: SpokenNothing}
	}
	return s
}

// beginning is the round that the piece begins with.
func (w *worker) beginning() Spoken {
	if w.below.count() == 0 {
		return Spoken{Kind: SpokenNothing}
	}
	return w.spoken(SpokenStart, int64(w.below.at(0).Node.From.N))
}

// spoken is a round before this one; one that is not there, or this one itself,
// is nothing.
func (w *worker) spoken(kind SpokenKind, label int64) Spoken {
	if label == w.label || w.below.numbered(label) < 0 {
		return Spoken{Kind: SpokenNothing}
	}
	return Spoken{Kind: kind, Label: label}
}

// loopsUsedBy is the number of the round that last worked into the free loops
// of a round, or of any where that is 0.
func (w *worker) loopsUsedBy(label int64) int64 {
	by := w.label
	for _, f := range w.freeUsed {
		if label == 0 || f.label == label {
			return by
		}
	}
	switch {
	case label > 0:
		latest := int64(-1)
		w.st.free.of(label, func(x looseLoops) {
			if x.used > 0 && x.by > latest {
				latest = x.by
			}
		})
		by = max(latest, 0)
	case w.st.free != nil:
		by = w.st.free.last.by
	}
	return by
}
