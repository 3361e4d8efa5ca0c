package terms

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	pullN    = regexp.MustCompile(`^yarn over, pull through (\d+) loops?$`)
	pullAll  = regexp.MustCompile(`^yarn over, pull through (?:all (\d+) loops|both loops)$`)
	sameMany = regexp.MustCompile(`^work the same (?:(\d+) more times in the same stitch|.*each of the (\d+) stitches after it)$`)
	stitches = regexp.MustCompile(`(?i)\b(single|double|treble|crochet|sc|hdc|dc|htr|tr)\b`)
)

// after follows one motion by its words alone: the loops that must be on the
// hook after it. The motions before it are the leg that "the same" repeats.
func after(t *testing.T, id, do string, loops int) int {
	t.Helper()
	if m := pullN.FindStringSubmatch(do); m != nil {
		n, _ := strconv.Atoi(m[1])
		require.Less(t, n, loops+1, "%s: %s", id, do)
		return loops - n + 1
	}
	if m := pullAll.FindStringSubmatch(do); m != nil {
		n := 2
		if m[1] != "" {
			n, _ = strconv.Atoi(m[1])
		}
		require.Equal(t, n, loops, "%s: all loops, but another number is on the hook: %s", id, do)
		return 1
	}
	if m := sameMany.FindStringSubmatch(do); m != nil {
		n, _ := strconv.Atoi(m[1] + m[2])
		return loops + n*(loops-1)
	}
	switch {
	case strings.HasPrefix(do, "work the same"):
		return loops + loops - 1
	case do == "yarn over", strings.HasPrefix(do, "pull up a loop"), strings.HasPrefix(do, "catch the loop"):
		return loops + 1
	case do == "yarn over, pull through the stitch and both loops on the hook":
		require.Equal(t, 2, loops, id)
		return 1
	case do == "take the hook out of its loop":
		require.Equal(t, 1, loops, id)
		return 0
	case do == "yarn over, pull through the loop on the hook", do == "yarn over, pull through the stitch and the loop on the hook":
		require.Equal(t, 1, loops, "%s: %s", id, do)
		return 1
	case strings.HasPrefix(do, "insert the hook"), strings.HasPrefix(do, "pass the next stitch by"), strings.HasPrefix(do, "lay the yarn"):
		return loops
	}
	t.Errorf("%s: no known motion: %s", id, do)
	return -1
}

func TestHowFollowsLoopByLoop(t *testing.T) {
	for _, s := range Stitches() {
		// These two are not told motion by motion: inc and dec because the stitch
		// is the piece's, inv dec because its loops are the stitches' own.
		if s.Base == "" && (s.Kind == Increase || s.Kind == Decrease) || s.ID == "inv dec" {
			continue
		}
		how := s.How()
		require.NotEmpty(t, how, s.ID)
		loops := 1
		if s.Kind == Ring {
			loops = 0
		}
		for _, m := range how {
			loops = after(t, s.ID, m.Do, loops)
			require.Equal(t, loops, m.Loops, "%s: %s", s.ID, m.Do)
		}
		assert.Equal(t, 1, loops, s.ID)
	}
}

func TestHowEndsWithOneLoopAndNamesNoStitch(t *testing.T) {
	for _, s := range Stitches() {
		how := s.How()
		assert.Equal(t, 1, how[len(how)-1].Loops, s.ID)
		for _, m := range how {
			assert.NotRegexp(t, stitches, m.Do, "%s would read wrong in the other system", s.ID)
		}
		if s.Kind == Decrease || s.Kind == Cluster && s.ID != "pc" && !strings.Contains(s.ID, "popcorn") {
			last := how[len(how)-1]
			before := how[len(how)-2].Loops
			want := []string{"yarn over, pull through all " + strconv.Itoa(before) + " loops", "yarn over, pull through both loops", "yarn over, pull through the stitch and both loops on the hook"}
			assert.True(t, slices.Contains(want, last.Do), "%s ends with %s", s.ID, last.Do)
		}
	}
}

// How many loops the last movement closes: common practice. A dc cluster or
// 2tog leaves one loop a leg and the first; an hdc leaves two a leg.
func TestLoopsClosedTogether(t *testing.T) {
	for id, want := range map[string]int{
		"sc2tog": 3, "sc3tog": 4, "sc5tog": 6, "hdc2tog": 5, "hdc3tog": 7, "dc2tog": 3, "dc5tog": 6, "tr3tog": 4, "fpdc2tog": 3,
		"3-dc cl": 4, "bob": 6, "puff": 7, "5-hdc puff": 11, "3-tr cl": 4, "hdc": 3, "inv dec": 2,
	} {
		how := ByID(id).How()
		assert.Equal(t, want, how[len(how)-2].Loops, id)
	}
}

// Yarn overs before the hook goes in: common practice, one more for each step up
// from dc. Where it goes: by the stitch's loop or post.
func TestYarnOversAndPlace(t *testing.T) {
	tests := []struct {
		id    string
		overs int
		into  string
	}{
		{"sc", 0, "in the next stitch"}, {"hdc", 1, "in the next stitch"}, {"dc", 1, "in the next stitch"}, {"tr", 2, "in the next stitch"},
		{"dtr", 3, "in the next stitch"}, {"trtr", 4, "in the next stitch"}, {"trtr5tog", 4, "in the next stitch"}, {"edtr", 3, "in the next stitch"},
		{"fldc", 1, "under the front loop of the next stitch"}, {"blsl st", 0, "under the back loop of the next stitch"},
		{"fpdc", 1, "from the front round the post of the next stitch, and out to the front"},
		{"bptr2tog", 2, "from the back round the post of the next stitch, and out to the back"},
		{"spike sc", 0, "in the round below the next stitch, as far down as the pattern says"},
	}
	for _, tt := range tests {
		overs, into := 0, ""
		for _, m := range ByID(tt.id).How() {
			place, found := strings.CutPrefix(m.Do, "insert the hook ")
			if found {
				into = place
				break
			}
			assert.Equal(t, "yarn over", m.Do, tt.id)
			overs++
		}
		assert.Equal(t, tt.overs, overs, tt.id)
		assert.Equal(t, tt.into, into, tt.id)
	}
}

func TestHowOfOneOfEach(t *testing.T) {
	tests := []struct {
		id   string
		want []Motion
	}{
		{"tr", []Motion{
			{"yarn over", 2},
			{"yarn over", 3},
			{"insert the hook in the next stitch", 3},
			{"pull up a loop", 4},
			{"yarn over, pull through 2 loops", 3},
			{"yarn over, pull through 2 loops", 2},
			{"yarn over, pull through both loops", 1},
		}},
		{"blsc", []Motion{
			{"insert the hook under the back loop of the next stitch", 1},
			{"pull up a loop", 2},
			{"yarn over, pull through both loops", 1},
		}},
		{"ehdc", []Motion{
			{"yarn over", 2},
			{"insert the hook in the next stitch", 2},
			{"pull up a loop", 3},
			{"yarn over, pull through 1 loop", 3},
			{"yarn over, pull through all 3 loops", 1},
		}},
		{"sc3tog", []Motion{
			{"insert the hook in the next stitch", 1},
			{"pull up a loop", 2},
			{"work the same in each of the 2 stitches after it", 4},
			{"yarn over, pull through all 4 loops", 1},
		}},
		{"pc", []Motion{
			{"yarn over", 2},
			{"insert the hook in the next stitch", 2},
			{"pull up a loop", 3},
			{"yarn over, pull through 2 loops", 2},
			{"yarn over, pull through both loops", 1},
			{"work the same 4 more times in the same stitch", 1},
			{"take the hook out of its loop", 0},
			{"insert the hook from the front under the top of the first of them", 0},
			{"catch the loop again, and pull it through the top", 1},
		}},
		{"V-st", []Motion{
			{"yarn over", 2},
			{"insert the hook in the next stitch", 2},
			{"pull up a loop", 3},
			{"yarn over, pull through 2 loops", 2},
			{"yarn over, pull through both loops", 1},
			{"yarn over, pull through the loop on the hook", 1},
			{"yarn over", 2},
			{"insert the hook in the same stitch", 2},
			{"pull up a loop", 3},
			{"yarn over, pull through 2 loops", 2},
			{"yarn over, pull through both loops", 1},
		}},
		{"fsc", []Motion{
			{"insert the hook under two loops of the chain at the foot of the last stitch (for the first: chain 2, then in the first of them)", 1},
			{"pull up a loop", 2},
			{"yarn over, pull through 1 loop", 2},
			{"yarn over, pull through both loops", 1},
		}},
		{"crossed sc", []Motion{
			{"pass the next stitch by", 1},
			{"insert the hook in the stitch after it", 1},
			{"pull up a loop", 2},
			{"yarn over, pull through both loops", 1},
			{"work the same in the stitch that was passed by", 1},
		}},
		{"inv dec", []Motion{
			{"insert the hook under the front loop of the next stitch", 2},
			{"insert the hook under the front loop of the stitch after it", 3},
			{"yarn over, pull through 2 loops", 2},
			{"yarn over, pull through both loops", 1},
		}},
		{"dec", []Motion{
			{"work the stitch in use in the next stitch, and leave its last loop on the hook", 2},
			{"work the same in the stitch after it", 3},
			{"yarn over, pull through all 3 loops", 1},
		}},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, ByID(tt.id).How(), tt.id)
	}
}
