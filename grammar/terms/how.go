package terms

import (
	"fmt"
	"slices"
	"strings"
)

// recipe is how the plain stitch under a form is worked; the rest follows from
// the form's kind, loop, post and legs.
type recipe struct {
	// overs is how often the yarn goes over the hook before it is inserted.
	overs int
	// gathered stitches come off the hook all at once (hdc).
	gathered bool
	// extended ones have a chain at the foot.
	extended bool
	// long ones are pulled up from a round further down.
	long      bool
	slip      bool
	invisible bool
	// popped ones are closed through the top of the first leg (popcorn).
	popped bool
}

// How lists the movements of the hook, from one loop on it to one loop on it;
// a magic ring starts with none. It names no other stitch than the chain, so
// that it reads the same in both systems.
func (s *Stitch) How() []Motion {
	h := hand{loops: 1}
	w := s.work
	switch s.Kind {
	case Chain:
		h.chain()
	case Slip, Plain:
		h.whole(w, s.into("next stitch"))
	case Increase:
		h.increase(s)
	case Decrease:
		h.decrease(s)
	case Cluster:
		h.cluster(s)
	case Group:
		h.group(s)
	case Picot:
		for range s.Legs {
			h.chain()
		}
		h.do("insert the hook in the stitch that the chains stand on", 0)
		h.do("yarn over, pull through the stitch and the loop on the hook", 0)
	case Crossed:
		h.do("pass the next stitch by", 0)
		h.whole(w, "in the stitch after it")
		h.do("work the same in the stitch that was passed by", 0)
	case Foundation:
		h.whole(w, fmt.Sprintf("under two loops of the chain at the foot of the last stitch (for the first: chain %d, then in the first of them)", s.Height+1))
	case Ring:
		h.loops = 0
		h.do("lay the yarn round two fingers, over its own tail", 0)
		h.do("insert the hook under the ring", 0)
		h.do("pull up a loop", 1)
		h.chain()
	}
	return h.motions
}

// into says where the hook goes for a stitch worked in a loop or round a post.
func (s *Stitch) into(where string) string {
	switch {
	case s.work.long:
		return "in the round below the " + where + ", as far down as the pattern says"
	case s.Loop == BackLoop:
		return "under the back loop of the " + where
	case s.Loop == FrontLoop:
		return "under the front loop of the " + where
	case s.Post == FrontPost:
		return "from the front round the post of the " + where + ", and out to the front"
	case s.Post == BackPost:
		return "from the back round the post of the " + where + ", and out to the back"
	}
	return "in the " + where
}

// hand is a hook at work: the loops on it, and what it has done.
type hand struct {
	loops   int
	motions []Motion
}

func (h *hand) do(what string, change int) {
	h.loops += change
	h.motions = append(h.motions, Motion{what, h.loops})
}

func (h *hand) chain() { h.do("yarn over, pull through the loop on the hook", 0) }

// pull takes n loops off the hook and leaves one.
func (h *hand) pull(n int) {
	what := fmt.Sprintf("%d loops", n)
	switch {
	case n == h.loops && n == 2:
		what = "both loops"
	case n == h.loops:
		what = "all " + what
	}
	h.do("yarn over, pull through "+what, 1-n)
}

// open starts a leg: all of a stitch up to its first loops.
func (h *hand) open(w recipe, where string) {
	for range w.overs {
		h.do("yarn over", 1)
	}
	h.do("insert the hook "+where, 0)
	if w.long {
		h.do("pull up a loop as tall as the round in work", 1)
	} else {
		h.do("pull up a loop", 1)
	}
	if w.extended {
		h.do("yarn over, pull through 1 loop", 0)
	}
}

// leg works a stitch and leaves its last loops on the hook.
func (h *hand) leg(w recipe, where string) {
	h.open(w, where)
	if w.gathered {
		return
	}
	for range w.overs {
		h.pull(2)
	}
}

// whole works a stitch to its end.
func (h *hand) whole(w recipe, where string) {
	if w.slip {
		h.do("insert the hook "+where, 0)
		h.do("yarn over, pull through the stitch and the loop on the hook", 0)
		return
	}
	h.leg(w, where)
	h.pull(h.loops)
}

// again works the leg so far again in the same stitch, each time leaving change
// more loops.
func (h *hand) again(times int, change int) {
	if times == 1 {
		h.do("work the same once more in the same stitch", change)
		return
	}
	h.do(fmt.Sprintf("work the same %d more times in the same stitch", times), times*change)
}

// along works the leg so far again over the stitches that follow.
func (h *hand) along(s *Stitch, change int) {
	where, n := "in", s.Legs-1
	if s.Post != NoPost {
		where = "round the post of"
	}
	if n == 1 {
		h.do("work the same "+where+" the stitch after it", change)
		return
	}
	h.do(fmt.Sprintf("work the same %s each of the %d stitches after it", where, n), n*change)
}

func (h *hand) increase(s *Stitch) {
	switch {
	case s.work.invisible:
		h.whole(s.work, "under the front loop of the next stitch")
		h.whole(s.work, "under both loops of the same stitch")
	case s.Base == "":
		h.do("work the stitch in use in the next stitch", 0)
		h.do("work it again in the same stitch", 0)
	default:
		h.whole(s.work, "in the next stitch")
		h.again(s.Legs-1, 0)
	}
}

func (h *hand) decrease(s *Stitch) {
	switch {
	case s.work.invisible:
		h.do("insert the hook under the front loop of the next stitch", 1)
		h.do("insert the hook under the front loop of the stitch after it", 1)
		h.pull(2)
		h.pull(2)
	case s.Base == "":
		h.do("work the stitch in use in the next stitch, and leave its last loop on the hook", 1)
		h.do("work the same in the stitch after it", 1)
		h.pull(h.loops)
	case s.work.slip:
		h.leg(s.work, "in the next stitch")
		h.do("insert the hook in the stitch after it", 0)
		h.do("yarn over, pull through the stitch and both loops on the hook", -1)
	default:
		h.leg(s.work, s.into("next stitch"))
		h.along(s, h.loops-1)
		h.pull(h.loops)
	}
}

func (h *hand) cluster(s *Stitch) {
	if !s.work.popped {
		h.leg(s.work, "in the next stitch")
		h.again(s.Legs-1, h.loops-1)
		h.pull(h.loops)
		return
	}
	h.whole(s.work, "in the next stitch")
	h.again(s.Legs-1, 0)
	h.do("take the hook out of its loop", -1)
	h.do("insert the hook from the front under the top of the first of them", 0)
	h.do("catch the loop again, and pull it through the top", 1)
}

// group works the stitches of a Body; where it is not all of one stitch, a
// chain stands between two.
func (h *hand) group(s *Stitch) {
	h.whole(s.work, "in the next stitch")
	if !strings.Contains(s.Body, ",") {
		h.again(s.Legs-1, 0)
		return
	}
	first := slices.Clone(h.motions)
	h.chain()
	first[s.work.overs].Do = "insert the hook in the same stitch"
	h.motions = append(h.motions, first...)
}
