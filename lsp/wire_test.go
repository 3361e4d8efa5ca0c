package lsp

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
)

func frame(body string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) }

const sane = `{"jsonrpc":"2.0","method":"initialized","params":{}}`

func TestWirePassesOverWhatIsNoMessage(t *testing.T) {
	tests := []struct{ name, in, refused string }{
		{"a message", "", ""},
		{"no JSON", frame("{nonsense"), "-32700"},
		{"JSON that is no message", frame(`{"jsonrpc":"2.0"}`), "-326"},
		{"a bare number", frame("7"), "-32700"},
		{"a broken batch", frame("[{]"), "-326"},
		{"a line of a start script", "loading settings\n", ""},
		{"a bad length", "Content-Length: many\r\n\r\n", ""},
		{"other headers", "Content-Type: application/vscode-jsonrpc; charset=utf-8\r\n", ""},
		{"bare line feeds", strings.ReplaceAll(frame(sane), "\r", ""), ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var out bytes.Buffer
			w := newWire(strings.NewReader(test.in+frame(sane)), &out)
			var last string
			for {
				body, _, err := w.ReadFrame(t.Context())
				if err != nil {
					require.ErrorIs(t, err, io.EOF)
					break
				}
				last = string(body)
			}
			assert.Equal(t, sane, last)
			assert.Contains(t, out.String(), test.refused)
			assert.Equal(t, test.refused == "", out.Len() == 0)
		})
	}
}

// A message beyond all bounds is answered and passed over, not held in memory.
func TestWirePassesOverWhatIsTooLong(t *testing.T) {
	var out bytes.Buffer
	long := io.LimitReader(zeros{}, mostBytes+1)
	w := newWire(io.MultiReader(strings.NewReader(fmt.Sprintf("Content-Length: %d\r\n\r\n", mostBytes+1)), long, strings.NewReader(frame(sane))), &out)
	body, _, err := w.ReadFrame(t.Context())
	require.NoError(t, err)
	assert.Equal(t, sane, string(body))
	assert.Contains(t, out.String(), "this message is longer than 256 MB")
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

func TestContentLength(t *testing.T) {
	for line, want := range map[string]int64{
		"Content-Length: 7": 7, "content-length:7": 7, "CONTENT-LENGTH : 7 ": 7,
		`{"jsonrpc":"2.0"}Content-Length: 7`: 7, "loading settingsContent-Length: 7": 7,
	} {
		n, ok := contentLength([]byte(line))
		assert.True(t, ok, line)
		assert.Equal(t, want, n, line)
	}
	for _, line := range []string{"", ":", "Content-Length", "Content-Length: ", "Content-Length: 7.5", "Content-Length: 99999999999999999999", "X-Content-Length: 7", "Content-Type: 7", `{"a":"Content-Length: x"}`} {
		_, ok := contentLength([]byte(line))
		assert.False(t, ok, line)
	}
}

func TestWireSaysWhereItWasCut(t *testing.T) {
	_, _, err := newWire(strings.NewReader("Content-Length: 100\r\n\r\n{"), io.Discard).ReadFrame(t.Context())
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

// Messages of all sizes come and go as they are.
func TestWireCarriesAnySize(t *testing.T) {
	for _, n := range []int{1, keptBytes - 60, keptBytes, keptBytes + 1, greatBytes + 1} {
		var out bytes.Buffer
		w := newWire(&out, &out)
		for range 2 {
			text := `"` + strings.Repeat("x", n) + `"`
			_, err := w.Write(t.Context(), jsonrpc2.NewNotification("m", jsonrpc2.RawMessage(text)))
			require.NoError(t, err)
			m, _, err := w.Read(t.Context())
			require.NoError(t, err)
			require.Equal(t, text, string(m.(*jsonrpc2.Notification).Params()))
		}
		_, err := w.WriteFrame(t.Context(), []byte(sane))
		require.NoError(t, err)
		body, _, err := w.ReadFrame(t.Context())
		require.NoError(t, err)
		assert.Equal(t, sane, string(body))
	}
}

// Whatever bytes come, the library gets sound messages only, and reading ends.
func FuzzWire(f *testing.F) {
	f.Add([]byte(frame(sane) + frame("{")))
	f.Add([]byte("Content-Length: 99999999999\r\n\r\n{}"))
	f.Add([]byte(frame("[]")))
	f.Fuzz(func(t *testing.T, in []byte) {
		w := newWire(bytes.NewReader(in), io.Discard)
		for {
			body, _, err := w.ReadFrame(t.Context())
			if err != nil {
				return
			}
			if bad := sound(body); bad != nil {
				t.Fatalf("handed on %q: %v", body, bad)
			}
		}
	})
}
