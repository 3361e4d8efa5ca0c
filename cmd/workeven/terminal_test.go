package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestProgressIsShownInLongRunsOnly(t *testing.T) {
	var out bytes.Buffer
	p := &progress{w: &out, total: 3, start: time.Now().Add(time.Hour)}
	p.step()
	p.clear()
	assert.Empty(t, out.String(), "the run has only begun")
	p.start = time.Now().Add(-time.Hour)
	p.step()
	assert.Equal(t, "\r\x1b[K2 of 3 files", out.String())
	p.clear()
	p.clear()
	assert.Equal(t, "\r\x1b[K2 of 3 files\r\x1b[K", out.String())
	p.last = time.Time{}
	p.step()
	assert.True(t, strings.HasSuffix(out.String(), "files\r\x1b[K"), "the last file is not announced: its findings follow")

	off := &progress{total: 3, start: time.Now().Add(-time.Hour)}
	off.step()
	off.clear()
	assert.False(t, off.shown, "off a terminal")
}

// The hooks that pre-commit runs are command lines that this command knows.
func TestHooksAreKnownCommands(t *testing.T) {
	data, err := os.ReadFile("../../.pre-commit-hooks.yaml")
	require.NoError(t, err)
	hooks := 0
	for line := range strings.Lines(string(data)) {
		entry, ok := strings.CutPrefix(strings.TrimSpace(line), "entry: workeven ")
		if !ok {
			continue
		}
		hooks++
		cmd, rest, err := (&app{}).root().Find(strings.Fields(entry))
		require.NoError(t, err, entry)
		assert.NoError(t, cmd.ParseFlags(rest), entry)
		assert.True(t, cmd.Flags().Changed("force-exclude"), "pre-commit names files that a configuration excludes: %s", entry)
	}
	assert.Equal(t, 4, hooks)
}
