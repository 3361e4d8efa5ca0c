// What a server announces, and what of it a session has not used. Which message
// belongs to which capability is known to the client library, so a feature that
// is new to the server is missed here without anybody having noted it down.
import * as lsp from 'vscode-languageserver-protocol/node';

/** Each message of the library that belongs to a capability: [method, path, whether the client sends it]. */
const messages = Object.values(lsp)
  .filter((m) => m?.method && m.capabilities?.server)
  .map((m) => [m.method, m.capabilities.server, m.messageDirection !== 'serverToClient']);

/** Announced values that are no feature by themselves, or that session.mjs needs to work at all. */
const settled = ['positionEncoding', 'textDocumentSync.change', 'diagnosticProvider.identifier', 'workspace.workspaceFolders.supported'];

const at = (tree, path) => path.split('.').reduce((x, key) => x?.[key], tree);

/** The paths of what is announced: true, a number, a string, or each value of a list. */
function leaves(tree, path = '') {
  if (Array.isArray(tree)) return tree.map((v) => `${path}=${v}`);
  if (tree !== null && typeof tree === 'object') return Object.entries(tree).flatMap(([k, v]) => leaves(v, path ? `${path}.${k}` : k));
  if (tree === false || tree === null || tree === undefined) return [];
  return [typeof tree === 'string' ? `${path}=${tree}` : path];
}

/**
 * What is announced and was not used: methods, values of lists, and capabilities
 * that this test knows nothing of.
 * @param announced the capabilities that the server answered with
 * @param registrations those that it registered later
 * @param covered the methods that were used
 * @param values the values of lists that were used, as valuesOf names them
 */
export function missing(announced, registrations, covered, values) {
  const out = new Set();
  const methods = messages.filter(([, path, sent]) => sent && at(announced, path));
  for (const [method] of methods) if (!covered.has(method)) out.add(method);
  for (const r of registrations) if (!covered.has(r.method)) out.add(r.method);
  for (const leaf of leaves(announced)) {
    const path = leaf.split('=')[0];
    if (settled.includes(path) || values.has(leaf) || methods.some(([, p]) => p === path)) continue;
    out.add(leaf);
  }
  return [...out].sort();
}

/** The announced values that one request and its answer made use of, as path=value. */
export function valuesOf(method, params, answer) {
  const list = (path, values) => values.filter((v) => v !== undefined && v !== null).map((v) => `${path}=${v}`);
  const [, provider] = messages.find(([m]) => m === method) ?? [];
  const out = [];
  for (let of = provider; of && params?.workDoneToken !== undefined; of = of.slice(0, Math.max(of.lastIndexOf('.'), 0))) out.push(`${of}.workDoneProgress`);
  switch (method) {
    case 'textDocument/completion':
      return [...out, ...list('completionProvider.triggerCharacters', [params.context?.triggerCharacter])];
    case 'textDocument/signatureHelp':
      return [...out, ...list(`signatureHelpProvider.${params.context?.isRetrigger ? 'retriggerCharacters' : 'triggerCharacters'}`, [params.context?.triggerCharacter])];
    case 'textDocument/onTypeFormatting':
      return [...out, ...list('documentOnTypeFormattingProvider.firstTriggerCharacter', [params.ch]), ...list('documentOnTypeFormattingProvider.moreTriggerCharacter', [params.ch])];
    case 'workspace/executeCommand':
      return [...out, ...list('executeCommandProvider.commands', [params.command])];
    case 'textDocument/codeAction':
      return [...out, ...list('codeActionProvider.codeActionKinds', (answer ?? []).map((a) => a.kind))];
    case 'workspace/textDocumentContent':
      return [...out, ...list('workspace.textDocumentContent.schemes', [new URL(params.uri).protocol.slice(0, -1)])];
    default:
      return out;
  }
}
