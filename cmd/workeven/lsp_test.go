package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/textproto"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asCommand makes a run of the test binary a run of the command.
const asCommand = "WORKEVEN_TEST_AS_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		main()
	}
	os.Exit(m.Run())
}

// session is a process of the server, and its streams.
type session struct {
	t   *testing.T
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func startServer(t *testing.T, args ...string) *session {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	s := &session{t: t, cmd: exec.Command(self, append([]string{"lsp"}, args...)...)}
	s.cmd.Env = append(os.Environ(), asCommand+"=1")
	s.in, err = s.cmd.StdinPipe()
	require.NoError(t, err)
	out, err := s.cmd.StdoutPipe()
	require.NoError(t, err)
	s.out = bufio.NewReader(out)
	require.NoError(t, s.cmd.Start())
	t.Cleanup(func() { _ = s.cmd.Process.Kill() })
	return s
}

func (s *session) send(body string) {
	s.t.Helper()
	_, err := fmt.Fprintf(s.in, "Content-Length: %d\r\n\r\n%s", len(body), body)
	require.NoError(s.t, err)
}

// next is the next message that is a request's answer or of a method.
func (s *session) next(id int, method string) map[string]any {
	s.t.Helper()
	for {
		header, err := textproto.NewReader(s.out).ReadMIMEHeader()
		require.NoError(s.t, err)
		n, err := strconv.Atoi(header.Get("Content-Length"))
		require.NoError(s.t, err)
		body := make([]byte, n)
		_, err = io.ReadFull(s.out, body)
		require.NoError(s.t, err)
		var m map[string]any
		require.NoError(s.t, json.Unmarshal(body, &m))
		if method != "" && m["method"] == method || method == "" && m["method"] == nil && m["id"] == float64(id) {
			return m
		}
	}
}

func (s *session) exitCode() int {
	s.t.Helper()
	done := make(chan error, 1)
	go func() {
		_, _ = io.Copy(io.Discard, s.out)
		done <- s.cmd.Wait()
	}()
	select {
	case err := <-done:
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			return exit.ExitCode()
		}
		require.NoError(s.t, err)
		return 0
	case <-time.After(20 * time.Second):
		require.FailNow(s.t, "the server does not end")
		return -1
	}
}

func (s *session) begin() {
	s.send(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}`)
	r := s.next(1, "")
	info := r["result"].(map[string]any)["serverInfo"].(map[string]any)
	assert.Equal(s.t, "workeven", info["name"])
	assert.Equal(s.t, version(), info["version"])
	s.send(`{"jsonrpc":"2.0","method":"initialized","params":{}}`)
}

// A session of the process, from initialize to exit; its input stays open.
func TestServerProcess(t *testing.T) {
	for _, args := range [][]string{nil, {"--stdio"}, {"--stdio", "--log-level", "error"}} {
		s := startServer(t, args...)
		s.begin()
		dir := t.TempDir()
		uri := "file://" + filepath.ToSlash(filepath.Join("/", dir, "a.crochet"))
		text, err := json.Marshal(broken)
		require.NoError(t, err)
		s.send(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"` + uri + `","languageId":"crochet","version":1,"text":` + string(text) + `}}}`)
		found := s.next(0, "textDocument/publishDiagnostics")["params"].(map[string]any)["diagnostics"].([]any)
		rules := map[any]bool{}
		for _, d := range found {
			rules[d.(map[string]any)["code"]] = true
		}
		assert.True(t, rules["total-differs"], "%v", rules)
		s.send(`{"jsonrpc":"2.0","id":2,"method":"shutdown"}`)
		r := s.next(2, "")
		assert.Contains(t, r, "result")
		assert.Nil(t, r["result"])
		s.send(`{"jsonrpc":"2.0","method":"exit"}`)
		assert.Equal(t, 0, s.exitCode())
	}
}

func TestServerProcessEnds(t *testing.T) {
	t.Run("exit without shutdown", func(t *testing.T) {
		s := startServer(t)
		s.begin()
		s.send(`{"jsonrpc":"2.0","method":"exit"}`)
		assert.Equal(t, 1, s.exitCode())
	})
	t.Run("the editor went away", func(t *testing.T) {
		s := startServer(t)
		s.begin()
		require.NoError(t, s.in.Close())
		assert.Equal(t, 1, s.exitCode())
	})
	t.Run("wrong use", func(t *testing.T) {
		for _, args := range [][]string{{"lsp", "a.crochet"}, {"lsp", "--log-level", "loud"}, {"lsp", "--port", "1"}} {
			assert.Equal(t, 2, real("", args...).code, "%v", args)
		}
	})
}
