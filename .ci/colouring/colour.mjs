// Prints how a TextMate grammar colors files, by VS Code's own tokenizer:
// node colour.mjs GRAMMAR FILE...
// One line a token: file, line, start, end, scopes; the places in UTF-16 units
// from 0. After every line that nothing continues it checks that the state is the
// one that a file begins with: a line left in an open rule would color the next.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import oniguruma from "vscode-oniguruma";
import textmate from "vscode-textmate";

const { loadWASM, OnigScanner, OnigString } = oniguruma;
const { INITIAL, Registry, parseRawGrammar } = textmate;
const wasm = createRequire(import.meta.url).resolve("vscode-oniguruma/release/onig.wasm");
await loadWASM(readFileSync(wasm).buffer);
const [path, ...files] = process.argv.slice(2);
const registry = new Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new OnigScanner(patterns),
    createOnigString: (text) => new OnigString(text),
  }),
  loadGrammar: async () => parseRawGrammar(readFileSync(path, "utf8"), path.endsWith(".json") ? path : "grammar.plist"),
});
const grammar = await registry.loadGrammar("source.crochet");
const probe = "Rnd 7: sc 6 (6)";
const tokens = (line, state) => JSON.stringify(grammar.tokenizeLine(line, state).tokens);
const fresh = tokens(probe, INITIAL);
let failed = false;
const out = [];
for (const file of files) {
  let state = INITIAL;
  const lines = readFileSync(file, "utf8").split(/\r?\n/);
  lines.forEach((line, i) => {
    const done = grammar.tokenizeLine(line, state);
    for (const t of done.tokens) {
      out.push([file, i + 1, t.startIndex, Math.min(t.endIndex, line.length), t.scopes.join(" ")].join("\t"));
    }
    state = done.ruleStack;
    if (tokens(probe, state) !== fresh) {
      console.error(`${file}:${i + 1}: a rule is left open behind this line`);
      failed = true;
    }
  });
}
process.stdout.write(out.join("\n") + "\n");
process.exitCode = failed ? 1 : 0;
