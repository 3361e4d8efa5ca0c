package lsp

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"

	"workeven/fabric"
	"workeven/grammar"
	"workeven/lint"
)

// everyPattern is the demo patterns, their broken twins, each of them in the
// other terms, and some with what these lack, by name.
func everyPattern(t testing.TB) map[string]string {
	t.Helper()
	texts := map[string]string{
		"rows":         "Pattern: Strip\nTerms: US\nTurning chain: sc does not count\nPiece: Strip\nRow 1 (RS): ch 11, sc in 2nd ch from hook, sc in each ch across (10)\nRow 2 (WS): ch 1, turn, sc, sc, dec, sc, sc, dec, sc, sc (8)\nRow 3: ch 1, turn, sc across (8)\nRow 4: ch 1, turn, sc across (8)\nRows 5-6: rep Row 4 (8)\nRow 7: ch 1, turn, inc 2 evenly across (10)\n",
		"own stitches": hat,
		"stitches":     "Terms: UK\nTurning chain: tr counts, dc does not\nPiece: Cup\nWorked: in joined rounds\nRnd 1: 6 dc in magic ring, join (6)\nRnd 2: ch 1, inc 6, sl st in first st (12)\nRnd 3: with B, ch 1, (dc, inc) x 6, sl st to join (18)\nRnd 4: ch 3, tr, tr inc, (tr 2, tr inc) x 5, join (24)\nRnd 5: ch 3, tr 2, tr2tog, tr 14, tr2tog, tr 3, join (22)\nRnd 6: ch 1, dc 10, htr 2, dc2tog, dc2tog, dc 6, join (20)\nRnds 7-9: rep Rnd 6\n",
		"abbreviated":  "Terms: US\nPiece: Ball\nRnd 1: 6 sc in mr (6)\nRnd 2: 2 sc in next 6 sts (12)\nRnd 3: sc, inc, sc, inc, sc, inc, sc, inc, sc, inc, sc, inc (18)\nRnd 4: as Rnd 3 (27)\nRnd 5: work even\nRnd 6: work even (27)\nRnd 7: [sc,inv dec] nine times [18 sts]\nRnd 9: sc around = 18\n",
	}
	folder := filepath.Join("..", "testdata", "patterns")
	for _, glob := range []string{"*.crochet", filepath.Join("broken", "*.crochet")} {
		paths, err := filepath.Glob(filepath.Join(folder, glob))
		require.NoError(t, err)
		require.Len(t, paths, 5)
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			name, err := filepath.Rel(folder, path)
			require.NoError(t, err)
			texts[filepath.ToSlash(name)] = string(data)
		}
	}
	others := map[string]string{}
	for name, text := range texts {
		edits, _ := inOtherTerms(plainSnapshot(text).Pattern())
		other, ok := lint.Apply(text, edits)
		require.True(t, ok, name)
		others[name+" in other terms"] = other
	}
	for name, text := range others {
		texts[name] = text
	}
	return texts
}

func plainSnapshot(text string) *Snapshot {
	return newSnapshot(at("a.crochet"), 1, "", text, utf16Units)
}

// comesTo is what the pieces of a pattern come to, however they are written:
// rounds, stitches in all and at the end, and how many of each stitch, by the
// glossary's names.
func comesTo(p *fabric.Pattern) (out []map[string]int64) {
	for _, piece := range p.Pieces {
		sum := map[string]int64{}
		for _, r := range piece.Rounds {
			n, _ := p.InAll(piece, r)
			sum["rounds"] += r.RoundsWorked
			sum["stitches"] += n
			for _, s := range r.Stitches {
				name := s.Stitch.Name
				if s.Stitch.Of != nil {
					name = s.Stitch.Of.ID
				}
				sum["of "+name] += s.N * r.RoundsWorked
			}
		}
		if last := piece.Last(); last != nil && last.Meant != nil {
			sum["at the end"] = last.Meant.Stitches()
		}
		out = append(out, sum)
	}
	return out
}

// hasSlip says whether something is wrong in a statement.
func hasSlip(snap *Snapshot, at int) bool {
	return slices.ContainsFunc(snap.Findings(), func(f lint.Finding) bool {
		return snap.File.LineAt(f.Start) == at && f.Severity >= lint.Warning
	})
}

// Every edit that is offered anywhere in any pattern was worked through: the
// text still parses as it did, no slip is found that was not, a repair takes
// its own finding away, and another wording makes what the first one made.
func TestEveryActionHolds(t *testing.T) {
	kinds := map[protocol.CodeActionKind]int{}
	for name, text := range everyPattern(t) {
		snap := plainSnapshot(text)
		rules := lint.Options{NoFixes: true}
		before, faults := lint.Check(snap.File, rules), len(snap.File.Faults())
		for at, l := range snap.File.Lines {
			start := snap.File.Start(at)
			seen := map[string]bool{}
			for _, in := range []int{0, len(l.Text) / 3, 2 * len(l.Text) / 3, len(l.Text)} {
				pos := snap.Position(start + in)
				for _, a := range newOffered(t.Context(), snap, protocol.Range{Start: pos, End: pos}, nil).actions() {
					if seen[string(a.kind)+a.title] {
						continue
					}
					seen[string(a.kind)+a.title] = true
					kinds[a.kind]++
					about := name + ", " + l.Text + ": " + a.title
					after, ok := lint.Apply(text, a.edits)
					require.True(t, ok, about)
					require.NotEqual(t, text, after, about)
					file := grammar.Parse(after)
					found := lint.Check(file, rules)
					assert.LessOrEqual(t, len(file.Faults()), faults, "%s: it parses as before", about)
					for _, from := range []lint.Severity{lint.Error, lint.Warning} {
						assert.LessOrEqual(t, slipsIn(found, from), slipsIn(before, from), "%s: no slip is found that was not, but %q", about, newIn(before, found))
					}
					if a.kind == protocol.CodeActionKindQuickFix {
						assert.Less(t, countRule(found, a.finding.Rule), countRule(before, a.finding.Rule), "%s: it mends %s", about, a.finding.Rule)
					} else if !hasSlip(snap, at) {
						assert.Equal(t, comesTo(snap.Pattern()), comesTo(fabric.Work(file)), "%s: it makes the same", about)
					}
				}
			}
		}
	}
	assert.Greater(t, kinds[protocol.CodeActionKindQuickFix], 100)
	assert.Greater(t, kinds[protocol.CodeActionKindRefactorRewrite], 100)
}

// newIn is what was found in the second list alone.
func newIn(before, found []lint.Finding) (out []string) {
	was := messages(before)
	for _, m := range messages(found) {
		if !slices.Contains(was, m) {
			out = append(out, m)
		}
	}
	return out
}

func messages(found []lint.Finding) (out []string) {
	for _, f := range found {
		out = append(out, f.Rule+": "+f.Message)
	}
	return out
}

// A pattern written in the other system and back is what it was, letter for
// letter, and makes the same stitches in between.
func TestTermsThereAndBack(t *testing.T) {
	for name, text := range everyPattern(t) {
		if strings.Contains(name, "broken") || strings.HasSuffix(name, "in other terms") || name == "abbreviated" {
			continue
		}
		snap := plainSnapshot(text)
		edits, to := inOtherTerms(snap.Pattern())
		other, ok := lint.Apply(text, edits)
		require.True(t, ok, name)
		there := plainSnapshot(other)
		assert.Equal(t, to, there.Pattern().Header.System, name)
		assert.True(t, sameWork(snap.Pattern(), there.Pattern()), name)
		assert.Len(t, there.Findings(), len(snap.Findings()), "%s: %v", name, messages(there.Findings()))
		o := newOffered(t.Context(), snap, protocol.Range{}, []protocol.CodeActionKind{protocol.CodeActionKindSource})
		list := o.otherTerms(kindOtherTerms)
		require.Len(t, list, 1, name)
		assert.Equal(t, "Write the pattern in "+to.String()+" terms", list[0].title)
		edits, _ = inOtherTerms(there.Pattern())
		back, ok := lint.Apply(other, edits)
		require.True(t, ok, name)
		assert.Equal(t, text, back, name)
	}
}
