package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net/textproto"
	"strconv"
	"sync"
	"time"
)

// message is any message of the protocol, with when it came in.
type message struct {
	ID     json.RawMessage `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  json.RawMessage `json:"error"`
	at     time.Time
}

// wire frames messages. Several goroutines may write.
type wire struct {
	in  *bufio.Reader
	mu  sync.Mutex
	out io.Writer
}

func newWire(in io.Reader, out io.Writer) *wire {
	return &wire{in: bufio.NewReaderSize(in, 1<<20), out: out}
}

// read waits for the next message. Its time is taken when all of it is there
// and before it is decoded: that is the client's own work.
func (w *wire) read() (message, error) {
	header, err := textproto.NewReader(w.in).ReadMIMEHeader()
	if err != nil {
		return message{}, err
	}
	n, err := strconv.Atoi(header.Get("Content-Length"))
	if err != nil {
		return message{}, err
	}
	body := make([]byte, n)
	if _, err := io.ReadFull(w.in, body); err != nil {
		return message{}, err
	}
	at := time.Now()
	var m message
	err = json.Unmarshal(body, &m)
	m.at = at
	return m, err
}

// frame is a message ready to be written. What is sent is made beforehand, so
// that encoding it is not measured.
func frame(m map[string]any) []byte {
	m["jsonrpc"] = "2.0"
	body, err := json.Marshal(m)
	if err != nil {
		panic(err) // it is made here, of plain values
	}
	return append([]byte(fmt.Sprintf("Content-Length: %d\r\n\r\n", len(body))), body...)
}

// write sends frames at one go, and gives the time right before.
func (w *wire) write(frames ...[]byte) (time.Time, error) {
	var all []byte
	for _, f := range frames {
		all = append(all, f...)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	began := time.Now()
	_, err := w.out.Write(all)
	return began, err
}
