// Every feature of the server, used once through the client library. Each case
// is given a session, and works on documents of its own. What is asserted are
// counts, edits and places, not the wording of pages.
import assert from 'node:assert/strict';
import { rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import * as lsp from 'vscode-languageserver-protocol/node';
import { but, hat, lace, moon, slipped, snail } from './patterns.mjs';

const codes = (diagnostics) => diagnostics.map((d) => d.code);
const text = (content) => (typeof content === 'string' ? content : Array.isArray(content) ? content.map(text).join('\n') : content.value);
const label = (hint) => (typeof hint.label === 'string' ? hint.label : hint.label.map((p) => p.value).join(''));
const items = (answer) => (Array.isArray(answer) ? answer : answer.items);
const flat = (symbols) => symbols.flatMap((s) => [s, ...flat(s.children ?? [])]);

export const cases = {
  async 'edits, and the diagnostics that follow them'(s) {
    const doc = await s.open('sync.crochet', snail);
    assert.deepEqual(await s.diagnosed(doc), [], 'the snail is clean');
    await doc.type('(24)', '(25)', 'Rnd 4:');
    const [slip] = await s.diagnosed(doc);
    assert.equal(slip.code, 'total-differs');
    assert.equal(slip.source, 'workeven');
    assert.equal(slip.severity, lsp.DiagnosticSeverity.Error);
    assert.equal(doc.in(slip.range), '(25)');
    assert.match(text(slip.message), /24.*25/s);
    if (s.rich) {
      assert.match(slip.codeDescription.href, /total-differs/);
      assert.equal(slip.relatedInformation[0].location.range.start.line, doc.at('Rnd 3:').line, 'the round below is shown');
    }
    // Several edits in one message, each on the text that the one before leaves; then a whole text.
    const at = doc.range('(25)', 'Rnd 4:');
    await doc.change([{ range: at, text: '' }, { range: { start: at.start, end: at.start }, text: '(24)' }]);
    assert.deepEqual(await s.diagnosed(doc), []);
    await doc.change([{ text: slipped }]);
    assert.deepEqual(codes(await s.diagnosed(doc)), ['total-differs']);
    await s.tell(lsp.DidSaveTextDocumentNotification.type, { textDocument: doc.id });
    await s.close(doc);
    if (!s.pulls) assert.deepEqual((await s.until('an empty list', () => s.published(doc.uri))).diagnostics, [], 'closing takes back what was said');
    await s.refused(lsp.HoverRequest.type, doc.place('inc', 'Rnd 4:'));
    s.took(lsp.DidOpenTextDocumentNotification.type, lsp.DidChangeTextDocumentNotification.type, lsp.DidSaveTextDocumentNotification.type, lsp.DidCloseTextDocumentNotification.type);
  },

  async 'places behind characters of two units'(s) {
    assert.equal(s.announced.positionEncoding, 'utf-16');
    const doc = await s.open('moon.crochet', moon);
    const unsewn = async () => (await s.diagnosed(doc)).map((d) => doc.in(d.range));
    assert.ok(!(await unsewn()).includes('(make 2)'));
    await doc.type('2', 'two', '(make ');
    await doc.type('two', '3', '(make ');
    await s.ask(lsp.InlayHintRequest.type, { textDocument: doc.id, range: doc.whole }, (hints) => {
      const piece = hints.find((h) => h.position.line === doc.at('Piece').line);
      assert.deepEqual(piece.position, doc.endOf('(make 3)'), 'the hint stands behind the line');
    });
    await s.ask(lsp.CodeLensRequest.type, { textDocument: doc.id }, (lenses) => {
      assert.ok(lenses.some((l) => /made 3/.test(l.command?.title ?? '')), 'the edit came to where it was typed');
    });
    await doc.type('Rnd 2: inc x 6 (12)', 'Rnd 2: inc x 6 (13) // 😀');
    assert.ok((await unsewn()).includes('(13)'));
    await doc.type('(13) // 😀', '(12) // 😀😀');
    assert.ok(!(await unsewn()).some((x) => /1[23]/.test(x)));
  },

  async hints(s) {
    const doc = await s.open('hints.crochet', but(snail, ['Rnd 4: (sc 2, inc) x 6', 'Rnd 4: (sc 2, inc) x 5']));
    const line = (what) => doc.at(what, 'Piece: Shell').line;
    const hints = await s.ask(lsp.InlayHintRequest.type, { textDocument: doc.id, range: doc.whole }, (hints) => {
      const on = (what) => hints.filter((h) => h.position.line === line(what)).map(label);
      assert.ok(on('Rnd 1:').includes('→ 6'));
      assert.ok(on('Rnd 2:').includes('→ 12 (+6)'));
      assert.ok(on('Rnd 3:').includes('2 → 3'), 'what one repeat takes and makes');
      assert.ok(on('Rnd 4:').some((l) => /15 of 18 worked, 3 left/.test(l)), `${on('Rnd 4:')}`);
      assert.ok(on('Rnds 6-9:').some((l) => /4 rounds.*120/.test(l)), `${on('Rnds 6-9:')}`);
    });
    const total = hints.find((h) => label(h) === '→ 12 (+6)');
    assert.deepEqual(total.position, doc.endOf('(12)'));
    await s.ask(lsp.InlayHintResolveRequest.type, total, (h) => assert.match(text(h.tooltip), /12 stitches/));
    const few = doc.range('Rnd 2: inc in each st around (12)');
    await s.ask(lsp.InlayHintRequest.type, { textDocument: doc.id, range: few }, (some) => {
      assert.ok(some.length > 0 && some.every((h) => h.position.line === few.start.line), 'only those of the range');
    });
  },

  async hover(s) {
    const doc = await s.open('hover.crochet', snail);
    const shown = (what, after, check) => s.ask(lsp.HoverRequest.type, doc.place(what, after), (h) => {
      assert.equal(h.contents.kind, s.rich ? 'markdown' : 'plaintext');
      check(text(h.contents), h.range && doc.in(h.range));
    });
    await shown('dec', 'Rnd 10:', (page, range) => {
      assert.match(page, /decrease/i);
      assert.equal(range, 'dec');
    });
    await shown('(24)', 'Rnd 10:', (page) => assert.match(page, /24/));
    await shown('x 6', 'Rnd 10:', (page) => assert.match(page, /5.*4/s));
    await shown('3.0 mm', 'Hook:', (page) => assert.match(page, /mm/));
    await doc.type('(24)', '(23)', 'Rnd 10:');
    await shown('(23)', 'Rnd 10:', (page) => assert.match(page, /23/)); // sent right behind the edit
  },

  async completion(s) {
    const doc = await s.open('completion.crochet', but(snail, ['Rnd 5: *sc in next 3 sts, inc; rep from * around (30)', 'Rnd 5: ']));
    const asked = (position, context) => ({ textDocument: doc.id, position, context });
    const invoked = { triggerKind: lsp.CompletionTriggerKind.Invoked };
    const next = await s.ask(lsp.CompletionRequest.type, asked(doc.endOf('Rnd 5: '), invoked), (answer) => {
      const texts = items(answer).map((i) => i.textEdit?.newText ?? i.insertText ?? i.label);
      assert.ok(texts.some((t) => /\(30\)/.test(t)), 'the next round at the piece\'s own rate, with its total');
      assert.ok(texts.some((t) => /\(24\)/.test(t)), 'an even round');
    });
    const round = items(next).find((i) => /\(30\)/.test(i.textEdit?.newText ?? i.insertText ?? ''));
    const done = doc.after([{ range: round.textEdit.range ?? round.textEdit.replace, newText: round.textEdit.newText }]);
    const tried = await s.open('completed.crochet', done);
    assert.deepEqual(await s.diagnosed(tried), [], 'the proposed round comes out');
    const stitch = await s.ask(lsp.CompletionRequest.type, asked(doc.at('sc', 'Rnd 10: (', 2), invoked), (answer) => {
      assert.ok(items(answer).some((i) => i.label === 'sc'));
    });
    await s.ask(lsp.CompletionResolveRequest.type, items(stitch).find((i) => i.label === 'sc'), (i) => {
      assert.match(text(i.documentation), /single crochet/);
    });
    const begun = await s.open('begun.crochet', but(snail, ['Hook: 3.0 mm', 'Hook: #'], ['Rnd 5: *sc in next 3 sts, inc; rep from * around (30)', 'Rnd 5: *'], ['Rnd 11: (sc 2, dec) x 6 (18)', 'Rnd 11: (sc 2, dec)']));
    const behind = { '#': 'Hook: #', ':': 'Rnd 5:', ' ': 'Rnd 5: ', '*': 'Rnd 5: *', '(': 'Rnd 11: (', ',': 'Rnd 11: (sc 2,', ')': 'Rnd 11: (sc 2, dec)' };
    for (const triggerCharacter of s.announced.completionProvider.triggerCharacters) {
      const position = begun.endOf(behind[triggerCharacter] ?? assert.fail(`no place for ${triggerCharacter}`));
      await s.ask(lsp.CompletionRequest.type, { textDocument: begun.id, position, context: { triggerKind: lsp.CompletionTriggerKind.TriggerCharacter, triggerCharacter } }, (answer) => {
        assert.ok(items(answer).length > 0, `something fits behind "${triggerCharacter}"`);
      });
    }
  },

  async 'signature help'(s) {
    const doc = await s.open('signature.crochet', but(snail, ['Rnd 4: (sc 2, inc) x 6 (24)', 'Rnd 4: sc 5, (sc, inc) x 3, *sc']));
    const told = (position, context, check) => s.ask(lsp.SignatureHelpRequest.type, { textDocument: doc.id, position, context }, check);
    const about = (help) => help.signatures.map((x) => `${x.label}\n${x.documentation ? text(x.documentation) : ''}`).join('\n');
    await told(doc.endOf('sc 5,'), { triggerKind: lsp.SignatureHelpTriggerKind.Invoked, isRetrigger: false }, (help) => {
      assert.match(about(help), /5 of 18/);
      assert.match(about(help), /13 left/);
    });
    const { triggerCharacters, retriggerCharacters } = s.announced.signatureHelpProvider;
    const behind = { ',': 'sc 5,', '(': 'sc 5, (', ':': 'Rnd 4:', ' ': 'sc 5, ', ')': '(sc, inc)', '*': 'x 3, *' };
    for (const [list, isRetrigger] of [[triggerCharacters, false], [retriggerCharacters, true]]) {
      for (const triggerCharacter of list) {
        const at = doc.endOf(behind[triggerCharacter] ?? assert.fail(`no place for ${triggerCharacter}`), '(18)');
        await told(at, { triggerKind: lsp.SignatureHelpTriggerKind.TriggerCharacter, triggerCharacter, isRetrigger }, (help) => assert.match(about(help), /18/));
      }
    }
  },

  async 'code actions'(s) {
    const doc = await s.open('actions.crochet', slipped);
    const diagnostics = await s.diagnosed(doc);
    const taken = async (document, action) => {
      const whole = action.edit ?? (await s.ask(lsp.CodeActionResolveRequest.type, action, (a) => assert.ok(a.edit, `${action.title} has an edit`))).edit;
      return document.after(whole);
    };
    const offered = (document, range, context, holds) => s.ask(lsp.CodeActionRequest.type, { textDocument: document.id, range, context }, (list) => {
      assert.ok(list.some(holds), `offered are: ${list.map((a) => a.title).join(' | ')}`);
    });
    const isRepair = (a) => a.kind === lsp.CodeActionKind.QuickFix && a.title.includes('(24)');
    const repairs = await offered(doc, diagnostics[0].range, { diagnostics }, isRepair);
    assert.equal(await taken(doc, repairs.find(isRepair)), snail, 'the repair makes the pattern come out');
    if (s.rich) await s.ask(lsp.CodeActionResolveRequest.type, repairs.find(isRepair), (a) => assert.equal(doc.after(a.edit), snail));
    const isRewrite = (a) => a.kind === lsp.CodeActionKind.RefactorRewrite && /repeat out/.test(a.title);
    const rewrites = await offered(doc, doc.range('dec', 'Rnd 10:'), { diagnostics: [], only: [lsp.CodeActionKind.RefactorRewrite] }, () => true);
    assert.ok(rewrites.every((a) => a.kind.startsWith('refactor.rewrite')), 'only what was asked for');
    const repeat = await offered(doc, doc.range('(sc 2, dec)', 'Rnd 11:'), { diagnostics: [] }, isRewrite);
    assert.match(await taken(doc, repeat.find(isRewrite)), /Rnd 11: sc 2, dec, sc 2, dec/);
    for (const kind of s.announced.codeActionProvider.codeActionKinds.filter((k) => k.startsWith('source.'))) {
      const of = await s.open(`${kind}.crochet`, kind.includes('fixAll') ? slipped : snail);
      const list = await offered(of, of.whole, { diagnostics: [], only: [kind] }, (a) => a.kind === kind);
      assert.notEqual(await taken(of, list.find((a) => a.kind === kind)), of.text);
    }
  },

  async 'names: definition, references, highlights, rename'(s) {
    const doc = await s.open('names.crochet', snail);
    const ranges = (list) => list.map((x) => doc.in(x.range));
    await s.ask(lsp.DefinitionRequest.type, doc.place('Shell', 'Assembly:'), (answer) => {
      const [d] = [answer].flat();
      assert.equal((d.targetSelectionRange ?? d.targetRange ?? d.range).start.line, doc.at('Piece: Shell').line);
    });
    await s.ask(lsp.ReferencesRequest.type, { ...doc.place('Body', 'Piece: '), context: { includeDeclaration: true } }, (list) => {
      assert.deepEqual(ranges(list), ['Body', 'Body', 'Body', 'Body']);
    });
    await s.ask(lsp.ReferencesRequest.type, { ...doc.place('Body', 'Piece: '), context: { includeDeclaration: false } }, (list) => assert.equal(list.length, 3));
    await s.ask(lsp.DocumentHighlightRequest.type, doc.place('Feeler', 'Sew: '), (list) => {
      assert.deepEqual(list.map((h) => [doc.in(h.range), h.kind]), [['Feeler', lsp.DocumentHighlightKind.Write], ['Feeler', lsp.DocumentHighlightKind.Read]]);
    });
    if (s.rich) {
      await s.ask(lsp.PrepareRenameRequest.type, doc.place('Feeler', 'Sew: '), (r) => assert.equal(doc.in(r.range ?? r), 'Feeler'));
      await s.ask(lsp.PrepareRenameRequest.type, doc.place('firmly', 'Stuff '), (r) => assert.equal(r, null));
    }
    await s.ask(lsp.RenameRequest.type, { ...doc.place('Feeler', 'Piece: '), newName: 'Horn' }, (edit) => {
      assert.equal(doc.after(edit), snail.replaceAll('Feeler', 'Horn'));
    });
    await s.ask(lsp.RenameRequest.type, { ...doc.place('B', 'With: ', 0), newName: 'MC' }, (edit) => {
      assert.equal(doc.after(edit), snail.replace('Yarn B:', 'Yarn MC:').replace('With: B', 'With: MC'));
    });
    await s.refused(lsp.RenameRequest.type, { ...doc.place('Feeler', 'Piece: '), newName: 'Shell' });
  },

  async 'outline, folding, selection'(s) {
    const doc = await s.open('outline.crochet', snail);
    await s.ask(lsp.DocumentSymbolRequest.type, { textDocument: doc.id }, (list) => {
      const names = flat(list).map((x) => x.name);
      for (const name of ['Moss the Snail', 'Shell', 'Body', 'Feeler', 'A', 'B', 'Rnd 11']) assert.ok(names.includes(name), `${name} is in ${names}`);
      assert.equal(list.length < names.length, s.rich, 'a tree for a client that takes one');
    });
    await s.ask(lsp.FoldingRangeRequest.type, { textDocument: doc.id }, (list) => {
      const body = doc.at('Piece: Body').line;
      assert.ok(list.some((f) => f.startLine === body && f.endLine === doc.at('Fasten off.\n', 'Piece: Body').line));
    });
    await s.ask(lsp.SelectionRangeRequest.type, { textDocument: doc.id, positions: [doc.at('inc', 'Rnd 4: ')] }, ([r]) => {
      const grown = [];
      for (let x = r; x; x = x.parent) grown.push(doc.in(x.range));
      assert.equal(grown[0], 'inc');
      assert.ok(grown.includes('(sc 2, inc) x 6'), `${grown}`);
      assert.equal(grown.at(-1).trim(), snail.trim());
      for (let i = 1; i < grown.length; i++) assert.ok(grown[i].length > grown[i - 1].length);
    });
  },

  async 'colours and links'(s) {
    const doc = await s.open('shown.crochet', snail);
    const [fern] = await s.ask(lsp.DocumentColorRequest.type, { textDocument: doc.id }, (list) => {
      assert.deepEqual(list.map((c) => doc.in(c.range)), ['#7C9A5B', '#D9C7A3']);
      assert.equal(Math.round(list[0].color.green * 255), 0x9a);
    });
    await s.ask(lsp.ColorPresentationRequest.type, { textDocument: doc.id, range: fern.range, color: { red: 1, green: 0.5, blue: 0, alpha: 1 } }, (list) => {
      assert.match(list[0].textEdit?.newText ?? list[0].label, /^#FF80?7?F?00$/i);
    });
    const told = await s.open('linked.crochet', moon);
    await s.ask(lsp.DocumentLinkRequest.type, { textDocument: told.id }, (list) => {
      assert.deepEqual(list.map((l) => told.in(l.range)), ['https://example.org/wool'], 'behind a character of two units');
      assert.match(list[0].target, /^https:\/\/example\.org\/wool$/);
    });
  },

  async 'lenses and commands'(s) {
    const doc = await s.open('lenses.crochet', snail);
    await s.ask(lsp.CodeLensRequest.type, { textDocument: doc.id }, (lenses) => {
      const feeler = lenses.find((l) => l.range.start.line === doc.at('Piece: Feeler').line);
      assert.match(feeler.command.title, /made 2/);
      assert.match(feeler.command.title, /sewn 2/);
      assert.equal(feeler.command.command, 'workeven.showTally');
      assert.deepEqual(feeler.command.arguments, [doc.uri, 'Feeler']);
    });
    const run = (command, args, check) => s.ask(lsp.ExecuteCommandRequest.type, { command, arguments: args }, check);
    const rule = `workeven:/rules/total-differs.md`;
    await s.ask(lsp.TextDocumentContentRequest.type, { uri: rule }, (page) => assert.match(page.text, /^# total-differs/));
    const showsNow = async (command, args, holds) => {
      const since = s.count('window/showDocument');
      await run(command, args, async (r) => {
        if (s.rich) assert.ok(holds(await s.said('window/showDocument', since)), `${command} shows a page`);
        else assert.ok(r, `${command} gives the page`);
      });
    };
    await showsNow('workeven.showPage', [rule], (p) => p.uri === rule);
    await run('workeven.tally', [doc.uri], (r) => assert.match(r.markdown, /Rnd 2 \| 6 \| 12/));
    await showsNow('workeven.showTally', [doc.uri, 'Body'], (p) => /^workeven:\/tally\//.test(p.uri) && p.selection.start.line > 0);
    await run('workeven.otherTerms', [doc.uri], (r) => {
      assert.equal(r.terms, 'UK');
      assert.match(r.text, /Terms: UK/);
      assert.match(r.text, /Rnd 1: 6 dc in magic ring \(6\)/);
    });
    await s.refused(lsp.ExecuteCommandRequest.type, { command: 'workeven.nothing', arguments: [] });
  },

  async 'semantic tokens'(s) {
    const { legend } = s.announced.semanticTokensProvider;
    const seen = new Map();
    const decoded = (doc, data) => {
      const out = [];
      let line = 0, character = 0;
      for (let i = 0; i < data.length; i += 5) {
        line += data[i];
        character = data[i] ? data[i + 1] : character + data[i + 1];
        const word = doc.in({ start: { line, character }, end: { line, character: character + data[i + 2] } });
        const type = legend.tokenTypes[data[i + 3]];
        const modifiers = legend.tokenModifiers.filter((_, bit) => data[i + 4] & (1 << bit));
        out.push(`${type} ${word}`);
        for (const value of [`tokenTypes=${type}`, ...modifiers.map((m) => `tokenModifiers=${m}`)]) seen.set(value, word);
      }
      return out;
    };
    const doc = await s.open('tokens.crochet', but(snail, ['Piece: Body (make 1)', 'Piece: Body (make 1) // 😀 the body']));
    const full = await s.ask(lsp.SemanticTokensRequest.type, { textDocument: doc.id }, (r) => {
      const words = decoded(doc, r.data);
      for (const word of ['function sc', 'property Rnd', 'number 6', 'class Shell']) assert.ok(words.some((w) => w.startsWith(word)), `${word} is marked; marked are ${words.slice(60, 90).join(', ')}`);
      assert.ok(words.some((w) => w === 'comment // 😀 the body'), 'lengths count in UTF-16');
    });
    await doc.type('inc', 'sc 2', 'Rnd 2: ');
    await s.ask(lsp.SemanticTokensDeltaRequest.type, { textDocument: doc.id, previousResultId: full.resultId }, async (delta) => {
      assert.ok(delta.edits, 'only what has changed');
      const data = [...full.data];
      for (const e of [...delta.edits].sort((a, b) => b.start - a.start)) data.splice(e.start, e.deleteCount, ...(e.data ?? []));
      const again = await s.ask(lsp.SemanticTokensRequest.type, { textDocument: doc.id }, (r) => assert.notEqual(r.resultId, full.resultId));
      assert.deepEqual(data, again.data);
    });
    const line = doc.range('Rnd 11: (sc 2, dec) x 6 (18)');
    await s.ask(lsp.SemanticTokensRangeRequest.type, { textDocument: doc.id, range: line }, (r) => {
      const words = decoded(doc, r.data);
      assert.ok(words.includes('function dec') && !words.includes('class Shell'), 'only those of the range');
    });
    for (const other of [hat, lace]) {
      const more = await s.open(`tokens-${other.length}.crochet`, other);
      await s.ask(lsp.SemanticTokensRequest.type, { textDocument: more.id }, (r) => assert.ok(decoded(more, r.data).length > 100));
    }
    for (const [value, word] of seen) {
      assert.ok(word, value);
      s.values.add(`semanticTokensProvider.legend.${value}`);
    }
  },

  async formatting(s) {
    const options = { tabSize: 2, insertSpaces: true };
    const untidy = but(snail, ['Rnd 4: (sc 2, inc) x 6 (24)', 'Rnd 4:   (sc  2,inc)  x 6   (24)'], ['Rnd 11: (sc 2, dec) x 6 (18)', 'Rnd 11: ( sc 2 ,dec ) x 6 (18)']);
    const doc = await s.open('untidy.crochet', untidy);
    await s.ask(lsp.DocumentFormattingRequest.type, { textDocument: doc.id, options }, (edits) => assert.equal(doc.after(edits), snail));
    const one = but(untidy, ['Rnd 4:   (sc  2,inc)  x 6   (24)', 'Rnd 4: (sc 2, inc) x 6 (24)']);
    const range = doc.range('Rnd 4:   (sc');
    await s.ask(lsp.DocumentRangeFormattingRequest.type, { textDocument: doc.id, range, options }, (edits) => assert.equal(doc.after(edits), one));
    await s.ask(lsp.DocumentRangesFormattingRequest.type, { textDocument: doc.id, ranges: [range, doc.range('Rnd 11: (')], options }, (edits) => assert.equal(doc.after(edits), snail));
    const typed = await s.open('typed.crochet', but(snail, ['Rnd 11: (sc 2, dec) x 6 (18)\n', 'Rnd 11: (sc 2, dec) x 6 (18)\n\n']));
    const position = { line: typed.at('Rnd 11:').line + 1, character: 0 };
    const ch = s.announced.documentOnTypeFormattingProvider.firstTriggerCharacter;
    await s.ask(lsp.DocumentOnTypeFormattingRequest.type, { textDocument: typed.id, position, ch, options }, (edits) => {
      assert.match(typed.after(edits), /\(18\)\nRnd 12: ?\nFasten off/, 'the label of the next round');
    });
  },

  async 'the workspace: symbols, folders, watched files, settings'(s) {
    const names = (list) => list.map((x) => x.name);
    await writeFile(path.join(s.folder, 'lying.crochet'), 'Terms: US\nPiece: Anchor (make 1)\nRnd 1: 6 sc in magic ring (7)\n');
    await s.ask(lsp.WorkspaceSymbolRequest.type, { query: 'anch' }, (list) => assert.deepEqual(names(list), ['Anchor'], 'a file that is not open'));
    if (s.pulls) {
      const report = await s.ask(lsp.WorkspaceDiagnosticRequest.type, { identifier: 'workeven', previousResultIds: [], workDoneToken: 'all patterns' }, (r) => {
        const lying = r.items.find((i) => i.uri === s.uri('lying.crochet'));
        assert.ok(codes(lying.items).includes('total-differs'));
      });
      const known = report.items.filter((i) => i.resultId).map((i) => ({ uri: i.uri, value: i.resultId }));
      await s.ask(lsp.WorkspaceDiagnosticRequest.type, { identifier: 'workeven', previousResultIds: known }, (r) => assert.ok(r.items.every((i) => i.kind === 'unchanged'), 'nothing has changed since'));
    }
    const folder = { uri: s.uri('elsewhere'), name: 'elsewhere' };
    await s.tell(lsp.DidChangeWorkspaceFoldersNotification.type, { event: { added: [folder], removed: [{ uri: s.uri(''), name: 'patterns' }] } });
    await s.ask(lsp.WorkspaceSymbolRequest.type, { query: 'anch' }, (list) => assert.deepEqual(names(list ?? []), []));
    await s.tell(lsp.DidChangeWorkspaceFoldersNotification.type, { event: { added: [{ uri: s.uri(''), name: 'patterns' }], removed: [folder] } });
    await s.ask(lsp.WorkspaceSymbolRequest.type, { query: 'anch' }, (list) => assert.deepEqual(names(list), ['Anchor']));
    s.took(lsp.DidChangeWorkspaceFoldersNotification.type);

    const doc = await s.open('ruled.crochet', slipped);
    assert.deepEqual(codes(await s.diagnosed(doc)), ['total-differs']);
    const config = path.join(s.folder, '.workeven.toml');
    const rules = async (then) => {
      const changed = { changes: [{ uri: s.uri('.workeven.toml'), type: lsp.FileChangeType.Changed }] };
      const before = s.published(doc.uri);
      await s.tell(lsp.DidChangeWatchedFilesNotification.type, changed);
      if (!s.pulls) await s.until('diagnostics by the new rules', () => s.published(doc.uri) !== before);
      assert.deepEqual((await s.diagnosed(doc)).map((d) => d.severity), then);
    };
    await writeFile(config, '[rules]\ntotal-differs = "hint"\n');
    await rules([lsp.DiagnosticSeverity.Hint]);
    await rm(config);
    await rules([lsp.DiagnosticSeverity.Error]);
    s.took(lsp.DidChangeWatchedFilesNotification.type);

    const totals = (hints) => hints.map(label).filter((l) => l.startsWith('→')).length;
    const asked = { textDocument: doc.id, range: doc.whole };
    for (const shown of [false, true]) {
      s.settings = { hints: { totals: shown } };
      const since = s.count('workspace/inlayHint/refresh');
      await s.tell(lsp.DidChangeConfigurationNotification.type, { settings: s.rich ? null : { workeven: s.settings } });
      if (s.rich) await s.said('workspace/inlayHint/refresh', since);
      await s.ask(lsp.InlayHintRequest.type, asked, (hints) => assert.equal(totals(hints) > 0, shown, 'the setting holds'));
    }
    s.took(lsp.DidChangeConfigurationNotification.type);
  },
};
