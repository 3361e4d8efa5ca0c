package lsp

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"strconv"
	"strings"
	"sync"

	"go.lsp.dev/jsonrpc2"
)

// mostBytes is how large one message may be; a longer one is passed over.
const mostBytes = 256 << 20

// wire is the pair of streams to the client. It hands on only what is a
// message: one that is no JSON, or no request, is answered and passed over, for
// the library would end the connection over it. What stands between messages,
// such as a line that a start script printed, is passed over too.
type wire struct {
	in  *bufio.Reader
	out io.Writer
	// closes are the streams, where they can be closed.
	closes []io.Closer
	// tap is shown every message, "<-" coming and "->" going; nil for none.
	tap func(way string, message []byte)

	mu   sync.Mutex // one message is written at a time
	head bytes.Buffer
	rest []byte // of the message that is being handed on
}

func newWire(in io.Reader, out io.Writer) *wire {
	w := &wire{in: bufio.NewReaderSize(in, 64<<10), out: out}
	for _, s := range []any{in, out} {
		if c, ok := s.(io.Closer); ok {
			w.closes = append(w.closes, c)
		}
	}
	return w
}

// Read hands messages on, each with a header of its own.
func (w *wire) Read(p []byte) (int, error) {
	if len(w.rest) == 0 {
		body, err := w.next()
		if err != nil {
			return 0, err
		}
		w.head.Reset()
		w.head.WriteString("Content-Length: " + strconv.Itoa(len(body)) + "\r\n\r\n")
		w.head.Write(body)
		w.rest = w.head.Bytes()
	}
	n := copy(p, w.rest)
	w.rest = w.rest[n:]
	return n, nil
}

// next is the body of the next sound message.
func (w *wire) next() ([]byte, error) {
	for {
		length, err := w.header()
		if err != nil {
			return nil, err
		}
		if length > mostBytes {
			w.refuse(jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "this message is longer than %d MB", mostBytes>>20))
			if _, err := io.CopyN(io.Discard, w.in, length); err != nil {
				return nil, cut(err)
			}
			continue
		}
		var body bytes.Buffer
		if _, err := io.CopyN(&body, w.in, length); err != nil {
			return nil, cut(err)
		}
		if w.tap != nil {
			w.tap("<-", body.Bytes())
		}
		if bad := sound(body.Bytes()); bad != nil {
			w.refuse(bad)
			continue
		}
		return body.Bytes(), nil
	}
}

// cut is the error of a stream that ends inside a message.
func cut(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

// header reads up to the blank line behind a Content-Length.
func (w *wire) header() (int64, error) {
	length := int64(-1)
	for {
		line, err := w.in.ReadString('\n')
		if err != nil {
			return 0, err
		}
		line = strings.TrimRight(line, "\r\n")
		if line == "" && length > 0 {
			return length, nil
		}
		if name, value, ok := strings.Cut(line, ":"); ok && strings.EqualFold(strings.TrimSpace(name), "content-length") {
			n, err := strconv.ParseInt(strings.TrimSpace(value), 10, 64)
			if err == nil {
				length = n
			}
		}
	}
}

// sound says what is wrong with a message as such; nil where nothing is.
func sound(body []byte) *jsonrpc2.Error {
	trimmed := bytes.TrimLeft(body, " \t\r\n")
	var err error
	if len(trimmed) > 0 && trimmed[0] == '[' {
		_, err = jsonrpc2.ScanRequestViews(body)
	} else {
		_, err = jsonrpc2.ScanMessageView(body)
	}
	if err == nil {
		return nil
	}
	var wire *jsonrpc2.Error
	if errors.As(err, &wire) {
		return wire
	}
	return jsonrpc2.ErrParse
}

// refuse answers a message that cannot be handed on; whose it was is not known.
func (w *wire) refuse(why *jsonrpc2.Error) {
	body, err := jsonrpc2.EncodeMessage(jsonrpc2.NewResponse(jsonrpc2.ID{}, nil, why))
	if err != nil {
		return
	}
	_, _ = w.Write(append([]byte("Content-Length: "+strconv.Itoa(len(body))+"\r\n\r\n"), body...))
}

// Write takes one whole message with its header.
func (w *wire) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.tap != nil {
		_, body, _ := bytes.Cut(p, []byte("\r\n\r\n"))
		w.tap("->", body)
	}
	return w.out.Write(p)
}

func (w *wire) Close() error {
	var errs []error
	for _, c := range w.closes {
		errs = append(errs, c.Close())
	}
	return errors.Join(errs...)
}

var _ io.ReadWriteCloser = (*wire)(nil)

// stream frames messages over the wire for the library.
func (w *wire) stream() jsonrpc2.Stream { return jsonrpc2.NewStream(w) }
