package lsp

import (
	"context"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// stdio makes every editor of the tests talk to a process of the real binary:
//
//	go build -o /somewhere/workeven ./cmd/workeven && go test ./lsp -stdio /somewhere/workeven
//
// TestOfTheRealBinary runs the tests of the features so.
var stdio = flag.String("stdio", "", "the `binary` to test, over its standard input and output; by default the server runs in the test")

func TestMain(m *testing.M) {
	flag.Parse()
	if *stdio == "" {
		os.Exit(m.Run())
	}
	dir, err := os.MkdirTemp("", "workeven")
	if err != nil {
		panic(err)
	}
	root, start = dir, overStdio
	code := m.Run()
	_ = os.RemoveAll(dir)
	os.Exit(code)
}

// overStdio runs a process of the binary. The files of the test are in the
// folder while it runs.
func overStdio(ctx context.Context, t testing.TB, files *disk) served {
	files.real = true
	t.Cleanup(func() {
		require.NoError(t, os.RemoveAll(root))
		require.NoError(t, os.Mkdir(root, 0o777))
	})
	r := served{code: make(chan int, 1), log: &lockedBuffer{}}
	cmd := exec.CommandContext(ctx, *stdio, "lsp", "--stdio", "--log-level", "debug")
	cmd.Stderr = r.log
	var err error
	r.raw, err = cmd.StdinPipe()
	require.NoError(t, err)
	// A pipe of our own: cmd's would be closed when the process ends, with what
	// it said last still in it.
	out, fromServer, err := os.Pipe()
	require.NoError(t, err)
	r.out, cmd.Stdout = out, fromServer
	require.NoError(t, cmd.Start())
	_ = fromServer.Close()
	go func() {
		err := cmd.Wait()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			r.code <- -1
			return
		}
		r.code <- cmd.ProcessState.ExitCode()
	}()
	return r
}

// inProcess are the tests that ask the server for what only one in a test has,
// such as the text of a document, and some that need no server.
var inProcess = []string{
	"WhatTheLibraryGetsWrong", "LostEdit", "EditThatPanics", "DocumentsComeAndGo", "ClosingFrees",
	"IncrementalIsCold", "ChangesOfOneMessageFollowOneAnother", "OpenedAgain", "SpellingsOfAnAddress",
	"SettingsAskedForTwice", "ReportIsCanceled", "Wire.*", "Positions.*", "PlacesOfEveryPattern", "OffersEverywhere", "HoverEvery.*", "ServerOnRandomScripts",
	"EveryActionHolds", "NamesAgain", "TypingThePatterns",
}

// The tests of the features hold for the binary that editors start, too.
func TestOfTheRealBinary(t *testing.T) {
	if *stdio != "" {
		return // this is that run
	}
	binary := filepath.Join(t.TempDir(), "workeven.exe")
	build := exec.CommandContext(t.Context(), "go", "build", "-o", binary, "workeven/cmd/workeven")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	self, err := os.Executable()
	require.NoError(t, err)
	again := exec.CommandContext(t.Context(), self, "-test.skip", "^Test("+strings.Join(inProcess, "|")+")$", "-test.run", "^Test", "-stdio", binary)
	said, err = again.CombinedOutput()
	require.NoError(t, err, "%s", said)
}
