// A client that can do little: it is told diagnostics, and takes plain text.
import { drive } from './drive.mjs';

drive('a client that is told diagnostics', { textDocument: { publishDiagnostics: { versionSupport: true } } }, false);
