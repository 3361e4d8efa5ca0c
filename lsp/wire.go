package lsp

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"strconv"
	"sync"

	"go.lsp.dev/jsonrpc2"
)

const (
	// mostBytes is how large one message may be; a longer one is passed over.
	mostBytes = 256 << 20
	// keptBytes is how large a buffer is kept for the next message; greatBytes
	// how much is made room for before the bytes are there.
	keptBytes, greatBytes = 64 << 10, 8 << 20
	// mostHeader is how long a line of a header may be; of a longer one the rest
	// is passed over.
	mostHeader = 64 << 10
)

// wire is the stream of messages to and from the client. It hands on only what
// is a message: one that is no JSON, or no request, is answered and passed over,
// for the library would end the connection over it. What stands between messages,
// such as a line that a start script printed, is passed over too.
type wire struct {
	in  *bufio.Reader
	out io.Writer
	// closes are the streams, where they can be closed.
	closes []io.Closer
	// tap is shown every message, "<-" coming and "->" going; nil for none.
	tap func(way string, message []byte)
	// ended is called when nothing more can be read; nil for nobody.
	ended func()

	read    []byte
	writing sync.Mutex // one message is written at a time
	written []byte
}

func newWire(in io.Reader, out io.Writer) *wire {
	w := &wire{in: bufio.NewReaderSize(in, mostHeader), out: out}
	for _, s := range []any{in, out} {
		if c, ok := s.(io.Closer); ok {
			w.closes = append(w.closes, c)
		}
	}
	return w
}

// ReadFrame is the body of the next sound message; it holds until the next
// call. The library asks for it by this name.
func (w *wire) ReadFrame(ctx context.Context) ([]byte, int64, error) {
	body, length, err := w.next(ctx)
	if err != nil && w.ended != nil {
		w.ended()
	}
	return body, length, err
}

func (w *wire) next(ctx context.Context) ([]byte, int64, error) {
	for {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		length, err := w.header()
		if err != nil {
			return nil, 0, err
		}
		if length > mostBytes {
			w.refuse(ctx, jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "this message is longer than %d MB", mostBytes>>20))
			if _, err := io.CopyN(io.Discard, w.in, length); err != nil {
				return nil, 0, cut(err)
			}
			continue
		}
		body, err := w.body(int(length))
		if err != nil {
			return nil, 0, cut(err)
		}
		if w.tap != nil {
			w.tap("<-", body)
		}
		if bad := sound(body); bad != nil {
			w.refuse(ctx, bad)
			continue
		}
		return body, length, nil
	}
}

// body reads the bytes of a message.
func (w *wire) body(length int) ([]byte, error) {
	switch {
	case length > greatBytes: // they may never come
		var b bytes.Buffer
		_, err := io.CopyN(&b, w.in, int64(length))
		return b.Bytes(), err
	case length > keptBytes:
		b := make([]byte, length)
		_, err := io.ReadFull(w.in, b)
		return b, err
	case length > cap(w.read):
		w.read = make([]byte, length)
	}
	_, err := io.ReadFull(w.in, w.read[:length])
	return w.read[:length], err
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
		line, err := w.in.ReadSlice('\n')
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			return 0, err
		}
		line = bytes.TrimRight(line, "\r\n")
		if len(line) == 0 && length > 0 {
			return length, nil
		}
		if n, ok := contentLength(line); ok {
			length = n
		}
	}
}

// contentLength reads a line of a header. The name may stand behind other words:
// where a header before had a wrong length, what is left of its message has no
// line end, and the next header begins on the same line.
func contentLength(line []byte) (int64, bool) {
	const name = "content-length"
	colon := bytes.LastIndexByte(line, ':')
	head := bytes.TrimRight(line[:max(colon, 0)], " \t")
	from := len(head) - len(name)
	if from < 0 || !bytes.EqualFold(head[from:], []byte(name)) || from > 0 && head[from-1] == '-' {
		return 0, false
	}
	n, err := strconv.ParseInt(string(bytes.TrimSpace(line[colon+1:])), 10, 64)
	return n, err == nil
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
func (w *wire) refuse(ctx context.Context, why *jsonrpc2.Error) {
	_, _ = w.Write(ctx, jsonrpc2.NewResponse(jsonrpc2.ID{}, nil, why))
}

// Read is the next sound message; a batch has none, and ReadFrame is asked for first.
func (w *wire) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	body, n, err := w.ReadFrame(ctx)
	if err != nil {
		return nil, 0, err
	}
	m, err := jsonrpc2.DecodeMessage(body)
	return m, n, err
}

// Write sends one message.
func (w *wire) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
	return w.send(ctx, func(to []byte) []byte { return jsonrpc2.AppendMessage(to, m) })
}

// WriteFrame sends a body that is encoded already. The library asks for it by
// this name.
func (w *wire) WriteFrame(ctx context.Context, body []byte) (int64, error) {
	return w.send(ctx, func(to []byte) []byte { return append(to, body...) })
}

// headerRoom is how long a header can be: its name, twenty digits, two line ends.
const headerRoom = len("Content-Length: ") + 20 + len("\r\n\r\n")

func (w *wire) send(ctx context.Context, appendBody func([]byte) []byte) (int64, error) {
	w.writing.Lock()
	defer w.writing.Unlock()
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	buf := appendBody(append(w.written[:0], make([]byte, headerRoom)...))
	body := buf[headerRoom:]
	if w.tap != nil {
		w.tap("->", body)
	}
	header := append(strconv.AppendInt([]byte("Content-Length: "), int64(len(body)), 10), "\r\n\r\n"...)
	start := headerRoom - len(header)
	copy(buf[start:], header)
	w.written = nil
	if cap(buf) <= keptBytes {
		w.written = buf
	}
	n, err := w.out.Write(buf[start:])
	return int64(n), err
}

func (w *wire) Close() error {
	var errs []error
	for _, c := range w.closes {
		errs = append(errs, c.Close())
	}
	return errors.Join(errs...)
}

var _ jsonrpc2.Stream = (*wire)(nil)
