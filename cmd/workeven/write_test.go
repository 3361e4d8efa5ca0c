//go:build unix

package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Both commands that write keep a file's mode, and a link stays a link.
func TestWritingKeepsModeAndLinks(t *testing.T) {
	for name, args := range map[string][]string{"lint --fix": {"lint", "--fix"}, "fmt -w": {"fmt", "-w"}} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t, map[string]string{"real/a.crochet": "\ufeffNote: WRONG\r\nRnd 1: (sc, inc) × 6\r\n", "links/": ""})
			require.NoError(t, os.Chmod("real/a.crochet", 0o640))
			require.NoError(t, os.Symlink(filepath.Join("..", "real", "a.crochet"), "links/a.crochet"))
			r := b.run(append(args, "links/a.crochet")...)
			require.Equal(t, 0, r.code, r.err)
			info, err := os.Lstat("links/a.crochet")
			require.NoError(t, err)
			assert.NotZero(t, info.Mode()&os.ModeSymlink)
			info, err = os.Stat("real/a.crochet")
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o640), info.Mode())
			assert.NotEqual(t, "\ufeffNote: WRONG\r\nRnd 1: (sc, inc) × 6\r\n", b.text("real/a.crochet"))
			assert.Regexp(t, "^\ufeff.*\r\n.*\r\n$", b.text("real/a.crochet"))
			left, err := os.ReadDir("real")
			require.NoError(t, err)
			assert.Len(t, left, 1, "nothing is left lying about")
		})
	}
}

func TestLinksAreFollowedOnce(t *testing.T) {
	b := newBench(t, map[string]string{"p/a.crochet": "WRONG"})
	require.NoError(t, os.Symlink("a.crochet", "p/b.crochet"))
	require.NoError(t, os.Symlink("gone.crochet", "p/c.crochet"))
	require.NoError(t, os.Symlink("..", "p/loop"))
	assert.Equal(t, "p/a.crochet:1:1: error WRONG is found [total-differs]\n", b.run(concise("p")...).out)
	r := b.run(concise("p/c.crochet")...)
	assert.Equal(t, 2, r.code)
}

func TestWhatMayNotBeReadOrWritten(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may read and write everything")
	}
	b := newBench(t, map[string]string{"a.crochet": "WRONG", "b.crochet": "WRONG"})
	require.NoError(t, os.Chmod("a.crochet", 0o444))
	require.NoError(t, os.Chmod("b.crochet", 0o000))
	r := b.run(concise("--fix")...)
	assert.Equal(t, 2, r.code)
	assert.Contains(t, r.err, "a.crochet: you may not read or write this")
	assert.Contains(t, r.err, "b.crochet: you may not read or write this")
	assert.Equal(t, "WRONG", b.text("a.crochet"))
	assert.Contains(t, r.out, "a.crochet:1:1: error", "what was not written is still found")
}
