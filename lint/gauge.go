package lint

import (
	"workeven/fabric"
	"workeven/grammar"
)

// swatch is a gauge as lengths: of one stitch in width, and of one round in
// height, both in millimetres; 0 where the gauge does not say.
type swatch struct {
	wide, tall float64
	stitch     *fabric.Stitch // nil where the gauge names none
}

func swatchOf(pattern *fabric.Pattern, g *grammar.Gauge) swatch {
	s := swatch{}
	if g.Sts.N > 0 && g.Over.MM > 0 {
		s.wide = g.Over.MM / float64(g.Sts.N)
	}
	if down := g.Down.MM; g.Rnds.N > 0 {
		if down == 0 {
			down = g.Over.MM
		}
		s.tall = down / float64(g.Rnds.N)
	}
	if g.Stitch.Written() {
		s.stitch = pattern.Find(g.Stitch)
	}
	return s
}

// isA says whether a stitch is the glossary's of that name.
func isA(s *fabric.Stitch, id string) bool { return s != nil && s.Of != nil && s.Of.ID == id }

// stitchWidth is how wide a stitch of the pattern is in millimetres: by its
// first gauge that gives one, else 0.
func (f *facts) stitchWidth() float64 {
	for _, g := range f.gauges {
		if s := swatchOf(f.pattern, g.node); s.wide > 0 {
			return s.wide
		}
	}
	return 0
}

// tall is how tall a stitch is, as a multiple of its width: by the pattern's
// gauge in that stitch, else by the glossary.
func (f *facts) tall(s *fabric.Stitch) float64 {
	if s == nil || s.Of == nil {
		return 0
	}
	for _, g := range f.gauges {
		if w := swatchOf(f.pattern, g.node); w.wide > 0 && w.tall > 0 && w.stitch == s {
			return w.tall / w.wide
		}
	}
	return s.Of.Tall
}
