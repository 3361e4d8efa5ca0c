package lsp

import (
	"hash/maphash"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// closedFiles are the patterns of the workspace that are not open. It keeps
// what was found in them, and the trees of some: a workspace may hold thousands.
type closedFiles struct {
	mu      sync.Mutex
	reports map[string]closedReport
	held    map[string]*Snapshot
	// size is how many bytes of text the held ones have.
	size int
}

// mostHeld is how many bytes of text closed files may hold at most.
const mostHeld = 4 << 20

// closedReport is what was found in a text under some rules.
type closedReport struct {
	sum  uint64
	by   ruling
	list []protocol.Diagnostic
}

var hashSeed = maphash.MakeSeed()

// diagnosed is what is wrong with a file; false where it cannot be read.
func (c *closedFiles) diagnosed(s *Server, v *view, path string) ([]protocol.Diagnostic, bool) {
	data, err := s.opts.Files.ReadFile(path)
	if err != nil {
		c.forget(path)
		return nil, false
	}
	sum := maphash.Bytes(hashSeed, data)
	c.mu.Lock()
	known, ok := c.reports[path]
	c.mu.Unlock()
	if ok && known.sum == sum && known.by == v.ruling() {
		return known.list, true
	}
	list := s.diagnostics(s.fresh(v, path, data))
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.reports == nil {
		c.reports = map[string]closedReport{}
	}
	c.reports[path] = closedReport{sum, v.ruling(), list}
	return list, true
}

// read is the present snapshot of a file; nil where it cannot be read.
func (c *closedFiles) read(s *Server, v *view, path string) *Snapshot {
	data, err := s.opts.Files.ReadFile(path)
	if err != nil {
		c.forget(path)
		return nil
	}
	c.mu.Lock()
	held := c.held[path]
	c.mu.Unlock()
	if held != nil && held.by == v.ruling() && held.Text() == string(data) {
		return held
	}
	snap := s.fresh(v, path, data)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.release(path)
	if c.size+len(data) <= mostHeld {
		if c.held == nil {
			c.held = map[string]*Snapshot{}
		}
		c.held[path] = snap
		c.size += len(data)
	}
	return snap
}

// fresh is a snapshot of a file that was read.
func (s *Server) fresh(v *view, path string, data []byte) *Snapshot {
	own := *v // what is wrong with a configuration is noted elsewhere
	return own.rule(newSnapshot(uri.File(path), 0, path, string(data), s.enc))
}

func (c *closedFiles) forget(path string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.reports, path)
	c.release(path)
}

func (c *closedFiles) release(path string) {
	if held := c.held[path]; held != nil {
		c.size -= len(held.Text())
		delete(c.held, path)
	}
}
