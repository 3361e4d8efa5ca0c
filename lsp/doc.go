// Package lsp is the language server: crochet patterns checked in an editor
// while they are written. It speaks the Language Server Protocol 3.18 and is
// the only package that knows it; inside, a place is a byte offset and a pattern
// a value of the packages below. It must not know how to count a stitch, nor
// what is wrong with a pattern: fabric and lint do. It opens no file, process
// or stream by itself: what it needs is in [Options].
//
// # The order of things
//
// Serve reads messages in the order of the wire (wire.go, conn.go).
// Notifications run where they are read, so edits never pass one another; a
// request is released to run by the side, with the state (view) that it arrived
// at, so it sees exactly the edits sent before it. A notification must therefore
// not wait for the client: ask it something only within Server.background. An
// error of a notification is logged and an error or panic of a request is its
// answer; the server goes on.
//
// The state is immutable. Server.change makes a new one under a lock; nothing
// that hangs on a view is ever written to again. The documents in it are
// Snapshots, whose working and linting are done once, when first asked for,
// and take over whatever has not changed since the version before.
//
// # How to add a feature
//
// One file a feature; it needs no edit of another. The method is the protocol's,
// as protocol.Server declares it, on *Server; it hides the one of
// protocol.UnimplementedServer. The capability is added to the table:
//
//	var _ = offer(func(s *Server, c *protocol.ServerCapabilities) {
//		c.HoverProvider = protocol.Boolean(true) // s.client says what the client can do
//	})
//
//	func (s *Server) Hover(ctx context.Context, p *protocol.HoverParams) (*protocol.Hover, error) {
//		doc, err := s.at(ctx, p.TextDocument.URI)
//		if err != nil {
//			return nil, err
//		}
//		...
//	}
//
// What such a file uses:
//
//   - s.at(ctx, uri) is the document as it was when the request arrived.
//     s.seen(ctx) is the whole state: docs, folders, settings, configs.
//
//   - Snapshot: Text, File (tree), Pattern() (worked), Findings() (without
//     repairs), Repaired(start, end) (with repairs, only those that touch a
//     place), Offset and Bytes from the protocol's positions, Position, Range
//     and Span back to them, Statement(offset) for the line at a place. Never
//     compute a column by hand: the encoding is negotiated.
//
//   - s.diagnostic(snap, &finding) is a finding as the client was told it.
//
//   - ctx is done when the client cancels: look at it in loops over a whole
//     workspace; a feature that works on one document need not. Return ctx.Err().
//
//   - An error for the client is a *jsonrpc2.Error with a code; any other
//     becomes an internal error.
//
//   - command(name, run) adds a workspace command, pages[folder] a kind of page
//     (see pages.go), section(name, standard) settings of the feature's own:
//
//     var hintSettings = section("hints", hints{Totals: true}) // at package level
//     hintSettings(s.seen(ctx)).Totals                         // in a request
//
//   - s.tell shows the user a message, s.log logs, s.progress(ctx, token, title)
//     shows how far a long piece of work has come.
//
//   - Results of thousands of elements are quicker encoded by hand: append
//     protocol.AppendMarshal of each to a jsonrpc2.RawMessage. Such a method
//     cannot have the signature of protocol.Server: register it with raw.
//
// What is kept of a decoded message must be cloned (strings.Clone): its strings
// share one piece of memory with the whole message.
//
// Tests type into a server over pipes: see editor_test.go. All but those named in
// process_test.go run a second time against the real binary.
package lsp
