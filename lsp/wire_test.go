package lsp

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
			got, err := io.ReadAll(w)
			require.NoError(t, err)
			assert.True(t, strings.HasSuffix(string(got), frame(sane)), "%q", got)
			assert.Contains(t, out.String(), test.refused)
			assert.Equal(t, test.refused == "", out.Len() == 0)
		})
	}
}

func TestWireSaysWhereItWasCut(t *testing.T) {
	_, err := io.ReadAll(newWire(strings.NewReader("Content-Length: 100\r\n\r\n{"), io.Discard))
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

// Whatever bytes come, the library gets sound messages only, and reading ends.
func FuzzWire(f *testing.F) {
	f.Add([]byte(frame(sane) + frame("{")))
	f.Add([]byte("Content-Length: 99999999999\r\n\r\n{}"))
	f.Add([]byte(frame("[]")))
	f.Fuzz(func(t *testing.T, in []byte) {
		w := newWire(bytes.NewReader(in), io.Discard)
		for {
			body, err := w.next()
			if err != nil {
				return
			}
			if bad := sound(body); bad != nil {
				t.Fatalf("handed on %q: %v", body, bad)
			}
		}
	})
}
