package main

import (
	"strings"
	"testing"
	"time"
)

// Diagnostics of an older text do not end a measure: not those that say the
// opposite, nor those that carry an older version.
func TestStaleDiagnosticsDoNotCount(t *testing.T) {
	old, now := 6, 7
	began := time.Now()
	x := &session{version: 7, slipped: true, published: make(chan state, 10), dead: make(chan struct{})}
	x.published <- state{began.Add(1 * time.Millisecond), false, nil}
	x.published <- state{began.Add(2 * time.Millisecond), true, &old}
	x.published <- state{began.Add(3 * time.Millisecond), false, &now}
	x.published <- state{began.Add(4 * time.Millisecond), true, &now}
	took, err := x.await(began, time.Minute)
	if err != nil || took != 4*time.Millisecond {
		t.Errorf("the measure ends after %v, %v", took, err)
	}
	close(x.dead)
	if _, err := x.await(began, time.Minute); err == nil {
		t.Error("a server that has ended is no answer")
	}
}

func TestEmptyAnswersAreFailures(t *testing.T) {
	for answer, ok := range map[string]bool{`null`: false, `[]`: false, `{"items":[]}`: false, `[{}]`: true, `{"isIncomplete":false,"items":[{}]}`: true} {
		if err := several([]byte(answer)); (err == nil) != ok {
			t.Errorf("several(%s) = %v", answer, err)
		}
	}
	for answer, ok := range map[string]bool{`null`: false, ``: false, `{"contents":"sc"}`: true} {
		if err := something([]byte(answer)); (err == nil) != ok {
			t.Errorf("something(%s) = %v", answer, err)
		}
	}
}

func TestQuantile(t *testing.T) {
	var took []time.Duration
	for i := 100; i > 0; i-- {
		took = append(took, time.Duration(i))
	}
	for share, want := range map[float64]time.Duration{0: 1, 0.5: 50, 0.95: 95, 1: 100} {
		if got := quantile(took, share); got != want {
			t.Errorf("quantile %v is %v, not %v", share, got, want)
		}
	}
	if got := quantile(took[:3], 0.5); got != 99 {
		t.Errorf("the middle of 98, 99 and 100 is not %v", got)
	}
}

// The report says of each bar whether it is kept, and has a row for a server
// only where it has the feature.
func TestReport(t *testing.T) {
	b := newBench([]*server{ours("workeven", false), {name: "other"}}, nil)
	for _, lines := range lengths {
		for _, s := range b.servers {
			r := newResult()
			for _, m := range s.measures() {
				r.took[m] = []time.Duration{3 * time.Millisecond}
			}
			r.peak = 81e6
			b.results[s.name][lines] = r
		}
	}
	text := b.document(machine{}, pace{}, 1)
	for _, row := range []string{
		"| a key to published diagnostics, 20,000 lines, p50 | 2 ms | 3.00 ms | **not kept** |",
		"| a key to published diagnostics, 20,000 lines, p95 | 5 ms | 3.00 ms | kept |",
		"| memory, 20,000 lines | 80 MB | 81 MB | **not kept** |",
		"| other | 3.00 | 3.00 | 3.00 | 1 | 3.00 | 3.00 | 3.00 | 1 |",
		"| change | 3.00 | 3.00 | 1.00 |",
	} {
		if !strings.Contains(text, row) {
			t.Errorf("the report has no row %q:\n%s", row, text)
		}
	}
	if n := strings.Count(text, "| other | 3.00"); n != 2 {
		t.Errorf("the other server has %d rows of times; it has only diagnostics", n)
	}
	if err := b.failed(); err != nil {
		t.Error(err)
	}
	delete(b.results["other"][1000].took, change)
	if err := b.failed(); err == nil || !strings.Contains(err.Error(), "nothing was measured") {
		t.Errorf("a measure without an answer is told of: %v", err)
	}
}
