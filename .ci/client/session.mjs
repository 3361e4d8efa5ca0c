// A session of the real client library with the real server, over its standard
// input and output. What is asked, and what came of it, is kept for coverage.mjs.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { pathToFileURL } from 'node:url';
import path from 'node:path';
import * as lsp from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { valuesOf } from './coverage.mjs';

const patience = 30_000; // ms for any one answer

export class Session {
  /** Methods whose answers were looked at, and the values of lists that were used. */
  covered = new Set();
  values = new Set();
  registrations = [];
  /** What the server asked or told, by method. */
  heard = new Map();
  #waiting = new Set();
  #documents = new Map();
  #published = new Map();

  /** Starts a server and begins a session in a folder. settings are what it is given when it asks. */
  static async begin(folder, capabilities, settings = {}) {
    const binary = process.env.WORKEVEN;
    assert.ok(binary, 'WORKEVEN must name the server to test; .ci/client/run builds one');
    const s = new Session();
    s.folder = folder;
    s.settings = settings;
    s.process = spawn(binary, ['lsp', '--stdio'], { cwd: folder, stdio: ['pipe', 'pipe', 'inherit'] });
    await once(s.process, 'spawn');
    s.ended = once(s.process, 'exit');
    s.connection = lsp.createProtocolConnection(new lsp.StreamMessageReader(s.process.stdout), new lsp.StreamMessageWriter(s.process.stdin));
    s.pulls = capabilities.textDocument?.diagnostic !== undefined;
    s.#answerTheServer();
    s.connection.listen();
    await s.ask(lsp.InitializeRequest.type, {
      processId: process.pid, clientInfo: { name: 'client test' }, rootUri: pathToFileURL(folder).href,
      workspaceFolders: [{ uri: pathToFileURL(folder).href, name: 'patterns' }], capabilities,
    }, (r) => {
      assert.equal(r.serverInfo.name, 'workeven');
      assert.match(r.serverInfo.version, /\d/);
      s.announced = r.capabilities;
    });
    await s.tell(lsp.InitializedNotification.type, {});
    return s;
  }

  #answerTheServer() {
    const c = this.connection;
    c.onRequest(lsp.ConfigurationRequest.type, (p) => this.#hear('workspace/configuration', p, p.items.map((i) => (i.section === 'workeven' ? this.settings : null))));
    c.onRequest(lsp.RegistrationRequest.type, (p) => {
      this.registrations.push(...p.registrations);
      this.#hear('client/registerCapability', p);
    });
    c.onRequest(lsp.ShowDocumentRequest.type, (p) => this.#hear('window/showDocument', p, { success: true }));
    c.onNotification(lsp.PublishDiagnosticsNotification.type, (p) => {
      this.#published.set(p.uri, p);
      this.#hear('textDocument/publishDiagnostics', p);
    });
    c.onNotification(lsp.ShowMessageNotification.type, (p) => this.#hear('window/showMessage', p));
    // Whatever else it asks for is answered with null.
    c.onRequest((method, p) => this.#hear(method, p, null));
    c.onNotification((method, p) => this.#hear(method, p));
    c.onUnhandledProgress((p) => this.#hear(`$/progress ${p.token}`, p.value));
  }

  #hear(method, params, reply = null) {
    if (!this.heard.has(method)) this.heard.set(method, []);
    this.heard.get(method).push(params ?? {}); // some carry nothing
    for (const look of this.#waiting) look();
    return reply;
  }

  /** Waits until found() gives something, which is looked at anew whenever the server says something. */
  async until(what, found) {
    let look, late;
    try {
      return await new Promise((resolve, reject) => {
        look = () => {
          const x = found();
          if (x !== undefined && x !== false) resolve(x);
        };
        late = setTimeout(() => reject(new Error(`waited in vain for ${what}; heard: ${[...this.heard.keys()].join(', ')}`)), patience);
        this.#waiting.add(look);
        look();
      });
    } finally {
      clearTimeout(late);
      this.#waiting.delete(look);
    }
  }

  /** Waits for what the server says by a method, counted from a moment: since = s.count(method). */
  said(method, since = 0, holds = () => true) {
    return this.until(method, () => (this.heard.get(method) ?? []).slice(since).find(holds));
  }

  count(method) { return (this.heard.get(method) ?? []).length; }

  /** Sends a request and gives its answer. check asserts what is in it; only then the request counts as covered. */
  async ask(type, params, check) {
    assert.equal(typeof check, 'function', `${type.method} must say what is to be in the answer`);
    let late;
    const answer = await Promise.race([
      this.connection.sendRequest(type, params),
      new Promise((_, reject) => { late = setTimeout(() => reject(new Error(`${type.method}: no answer`)), patience); }),
    ]).finally(() => clearTimeout(late));
    await check(answer);
    if (params?.workDoneToken !== undefined) {
      const seen = (this.heard.get(`$/progress ${params.workDoneToken}`) ?? []).map((v) => v.kind);
      assert.deepEqual([seen[0], seen.at(-1)], ['begin', 'end'], `${type.method} shows how far it has come`);
    }
    this.covered.add(type.method);
    for (const v of valuesOf(type.method, params, answer)) this.values.add(v);
    return answer;
  }

  /** Asks for what must be refused, and gives the error. */
  async refused(type, params) {
    return assert.rejects(this.connection.sendRequest(type, params), lsp.ResponseError);
  }

  /** Sends a notification. It counts as covered where the case goes on to call took(). */
  async tell(type, params) { await this.connection.sendNotification(type, params); }
  took(...types) { for (const t of types) this.covered.add(t.method); }

  uri(name) { return pathToFileURL(path.join(this.folder, name)).href; }

  async open(name, text) {
    const doc = new Doc(this, TextDocument.create(this.uri(name), 'crochet', 1, text));
    this.#documents.set(doc.uri, doc);
    await this.tell(lsp.DidOpenTextDocumentNotification.type, { textDocument: { uri: doc.uri, languageId: 'crochet', version: 1, text } });
    return doc;
  }

  async close(doc) {
    this.#published.delete(doc.uri);
    await this.tell(lsp.DidCloseTextDocumentNotification.type, { textDocument: { uri: doc.uri } });
  }

  /** The diagnostics of a document as it is now, published or asked for as the client is. */
  async diagnosed(doc) {
    if (this.pulls) {
      const report = await this.ask(lsp.DocumentDiagnosticRequest.type, { textDocument: { uri: doc.uri } }, (r) => assert.equal(r.kind, 'full'));
      return report.items;
    }
    const p = await this.until(`diagnostics of version ${doc.version}`, () => {
      const p = this.#published.get(doc.uri);
      return p?.version === doc.version && p;
    });
    return p.diagnostics;
  }

  /** What was published last of an address; undefined where nothing was since it was closed. */
  published(uri) { return this.#published.get(uri); }

  /** Ends the session in order, and gives the exit code. */
  async end() {
    await this.ask(lsp.ShutdownRequest.type, undefined, (r) => assert.equal(r, null));
    await this.refused(lsp.HoverRequest.type, { textDocument: { uri: this.uri('a.crochet') }, position: { line: 0, character: 0 } });
    await this.tell(lsp.ExitNotification.type, undefined);
    const late = setTimeout(() => this.process.kill(), patience);
    const [code] = await this.ended;
    clearTimeout(late);
    this.connection.dispose();
    return code;
  }
}

/** A document as the client has it. Positions are in UTF-16, as the library counts. */
export class Doc {
  constructor(session, text) {
    this.session = session;
    this.document = text;
  }

  get uri() { return this.document.uri; }
  get version() { return this.document.version; }
  get text() { return this.document.getText(); }
  get id() { return { uri: this.uri }; }
  get whole() { return this.span(0, this.text.length); }

  offset(what, after = '') {
    const from = this.text.indexOf(after);
    assert.ok(from >= 0, `the text has no ${after}`);
    const at = this.text.indexOf(what, from + after.length);
    assert.ok(at >= 0, `the text has no ${what} after ${after}`);
    return at;
  }

  span(start, end) { return { start: this.document.positionAt(start), end: this.document.positionAt(end) }; }

  /** Where a piece of text stands, the first one behind another. */
  range(what, after) {
    const at = this.offset(what, after);
    return this.span(at, at + what.length);
  }

  /** The place in it, so many characters along. */
  at(what, after, along = 1) { return this.document.positionAt(this.offset(what, after) + along); }
  endOf(what, after) { return this.range(what, after).end; }
  place(what, after, along) { return { textDocument: this.id, position: this.at(what, after, along) }; }

  /** The text that a range spans. */
  in(range) { return this.document.getText(range); }

  /** The text after edits: a list, or a workspace edit of this document alone. */
  after(edit) {
    if (Array.isArray(edit)) return TextDocument.applyEdits(this.document, edit);
    const byUri = edit.changes ? Object.entries(edit.changes) : edit.documentChanges.map((c) => [c.textDocument.uri, c.edits]);
    assert.deepEqual(byUri.map(([uri]) => uri), [this.uri], 'only this document is edited');
    return TextDocument.applyEdits(this.document, byUri[0][1]);
  }

  /** Types: replaces a piece of text by another. */
  async type(what, by, after) { await this.change([{ range: this.range(what, after), text: by }]); }

  async change(changes) {
    TextDocument.update(this.document, changes, this.version + 1);
    await this.session.tell(lsp.DidChangeTextDocumentNotification.type, { textDocument: { uri: this.uri, version: this.version }, contentChanges: changes });
  }
}
