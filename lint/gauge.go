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
