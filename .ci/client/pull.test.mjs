// A client that can do what today's editors can: it asks for diagnostics, for
// details when they are looked at, and is asked for its settings.
import { drive } from './drive.mjs';

const lazily = (...properties) => ({ resolveSupport: { properties } });
const markdown = ['markdown', 'plaintext'];

drive('a client that asks for diagnostics', {
  general: { positionEncodings: ['utf-16'] },
  window: { workDoneProgress: true, showDocument: { support: true } },
  workspace: {
    configuration: true, workspaceFolders: true, applyEdit: true, workspaceEdit: { documentChanges: true }, textDocumentContent: {},
    didChangeConfiguration: { dynamicRegistration: true }, didChangeWatchedFiles: { dynamicRegistration: true },
    diagnostics: { refreshSupport: true }, inlayHint: { refreshSupport: true }, codeLens: { refreshSupport: true }, semanticTokens: { refreshSupport: true },
  },
  textDocument: {
    diagnostic: { relatedInformation: true, codeDescriptionSupport: true, tagSupport: { valueSet: [1, 2] } },
    synchronization: { didSave: true },
    hover: { contentFormat: markdown },
    completion: { contextSupport: true, completionItem: { snippetSupport: true, documentationFormat: markdown, ...lazily('documentation', 'detail') } },
    signatureHelp: { contextSupport: true, signatureInformation: { documentationFormat: markdown, activeParameterSupport: true } },
    definition: { linkSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    codeAction: { dataSupport: true, isPreferredSupport: true, codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'refactor', 'source'] } }, ...lazily('edit') },
    rename: { prepareSupport: true },
    foldingRange: { lineFoldingOnly: true },
    inlayHint: lazily('tooltip'),
    semanticTokens: { requests: { full: { delta: true }, range: true }, tokenTypes: [], tokenModifiers: [], formats: ['relative'] },
  },
}, true);
