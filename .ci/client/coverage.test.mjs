// That a feature can be missed: the list of what is not covered is not empty by nature.
import assert from 'node:assert/strict';
import test from 'node:test';
import { missing } from './coverage.mjs';

const none = new Set();

test('what is announced and not used is told', () => {
  const announced = {
    positionEncoding: 'utf-16', textDocumentSync: { openClose: true, change: 2 }, hoverProvider: true, monikerProvider: false,
    completionProvider: { triggerCharacters: ['(', ','], resolveProvider: true }, executeCommandProvider: { commands: ['workeven.one'] },
    semanticTokensProvider: { legend: { tokenTypes: ['keyword'], tokenModifiers: [] }, full: { delta: true } },
  };
  const used = new Set(['textDocument/didOpen', 'textDocument/didChange', 'textDocument/hover', 'textDocument/completion']);
  assert.deepEqual(missing(announced, [{ method: 'workspace/didChangeWatchedFiles' }], used, new Set(['completionProvider.triggerCharacters=('])), [
    'completionItem/resolve', 'completionProvider.triggerCharacters=,', 'executeCommandProvider.commands=workeven.one',
    'semanticTokensProvider.legend.tokenTypes=keyword', 'textDocument/didClose', 'textDocument/semanticTokens/full',
    'textDocument/semanticTokens/full/delta', 'workspace/didChangeWatchedFiles', 'workspace/executeCommand',
  ]);
});

test('a capability that the library does not know is told', () => {
  assert.deepEqual(missing({ hoverProvider: true, experimental: { yarnProvider: true } }, [], new Set(['textDocument/hover']), none), ['experimental.yarnProvider']);
  assert.deepEqual(missing({ hoverProvider: { workDoneProgress: true } }, [], new Set(['textDocument/hover']), none), ['hoverProvider.workDoneProgress']);
});

test('nothing is told where all was used', () => {
  assert.deepEqual(missing({ hoverProvider: true }, [], new Set(['textDocument/hover']), none), []);
});
