// Runs every case with one kind of client, from initialize to exit.
import assert from 'node:assert/strict';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, describe, test } from 'node:test';
import { cases } from './cases.mjs';
import { missing } from './coverage.mjs';
import { Session } from './session.mjs';

/** rich says whether the client takes more than the least, which some cases look at. */
export function drive(name, capabilities, rich) {
  describe(name, () => {
    let folder, s;
    before(async () => {
      folder = await mkdtemp(path.join(tmpdir(), 'workeven-client-'));
      s = await Session.begin(folder, capabilities);
      s.rich = rich;
    });
    after(async () => {
      s?.process.kill();
      await rm(folder, { recursive: true, force: true });
    });
    for (const [title, run] of Object.entries(cases)) {
      test(title, { timeout: 60_000 }, () => run(s));
    }
    test('every capability that the server announces is covered', () => {
      assert.deepEqual(missing(s.announced, s.registrations, s.covered, s.values), [], 'a feature that no case uses: add one to cases.mjs');
    });
    test('diagnostics are pushed or pulled, never both', () => {
      assert.equal(s.announced.diagnosticProvider !== undefined, s.pulls);
      assert.equal(s.count('textDocument/publishDiagnostics') > 0, !s.pulls);
    });
    test('what only such a client can do was asked of it', () => {
      for (const method of ['client/registerCapability', 'workspace/configuration', 'window/showDocument', 'workspace/diagnostic/refresh', 'workspace/inlayHint/refresh']) {
        assert.equal(s.count(method) > 0, rich, method);
      }
    });
    test('shutdown and exit', { timeout: 60_000 }, async () => {
      assert.equal(await s.end(), 0);
    });
  });
}
