//go:build unix

package main

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"workeven/lint"
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

// What cannot be read or written is told by name, and the rest is gone on with.
// The causes here stop everyone, the superuser too.
func TestWhatCannotBeReadOrWritten(t *testing.T) {
	// As long as a name may be, which leaves no room for that of the copy which is written first.
	long := strings.Repeat("a", 255-len(lint.Extension)) + lint.Extension
	b := newBench(t, map[string]string{long: "WRONG", "c.crochet": "WRONG"})
	require.NoError(t, os.Symlink("b.crochet", "b.crochet"))
	r := b.run(concise("--fix", long, "b.crochet", "c.crochet")...)
	assert.Equal(t, 2, r.code)
	assert.Contains(t, r.err, "workeven: "+long+": ")
	assert.Contains(t, r.err, syscall.ENAMETOOLONG.Error())
	assert.Contains(t, r.err, "workeven: b.crochet: "+syscall.ELOOP.Error())
	assert.Equal(t, "WRONG", b.text(long))
	assert.Contains(t, r.out, long+":1:1: error", "what was not written is still found")
	assert.NotEqual(t, "WRONG", b.text("c.crochet"), "the rest is mended")

	_, err := os.ReadFile("b.crochet")
	require.Error(t, err)
	folder, err := (&app{}).read(target{name: "a folder", path: t.TempDir()})
	assert.Empty(t, folder)
	assert.EqualError(t, err, "a folder: "+syscall.EISDIR.Error())
	for cause, want := range map[error]string{
		&fs.PathError{Op: "open", Path: "a", Err: syscall.EACCES}: "you may not read or write this",
		&fs.PathError{Op: "open", Path: "a", Err: syscall.ENOENT}: "there is no such file or folder",
		&fs.PathError{Op: "read", Path: "a", Err: syscall.EIO}:    syscall.EIO.Error(),
		io.ErrUnexpectedEOF: "unexpected EOF",
	} {
		assert.Equal(t, want, reason(cause))
	}
}
