// What the extension is made of, held against the server without an editor.
import assert from "node:assert/strict";
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { test } from "node:test";
import { findServer } from "../src/find_server.ts";
import { Restarts } from "../src/restarts.ts";
import { step } from "../src/step.ts";

const folder = path.resolve(import.meta.dirname, "..");
const server = process.env.WORKEVEN_SERVER;
assert.ok(server, "WORKEVEN_SERVER is not set: start the test with test/run");
const read = (name) => JSON.parse(readFileSync(path.join(folder, name), "utf8"));

/** Asserts that the linter finds nothing, not even a hint, and the formatter would change nothing. */
function clean(text) {
  for (const args of [["lint", "--error-on", "hint", "--stdin-filename", "x.crochet", "-"], ["fmt", "--diff", "--stdin-filename", "x.crochet", "-"]]) {
    const { status, stdout, stderr } = spawnSync(server, args, { input: text, encoding: "utf8" });
    assert.equal(status, 0, `workeven ${args[0]} of\n${text}\nsays\n${stdout}${stderr}`);
    if (args[0] === "fmt") assert.equal(stdout, "", text);
  }
}

for (const name of readdirSync(path.join(folder, "templates"))) {
  test(`the template ${name} comes out as it stands`, () => clean(readFileSync(path.join(folder, "templates", name), "utf8")));
}

/** A snippet as it stands when it is put in and nothing is changed. */
function expand(body) {
  const said = new Map();
  const lines = body.join("\n").replace(/\$\{(\d+)(?::([^}]*)|\|([^|}]*)\|)\}/g, (_, n, text, choice) => {
    if (!said.has(n)) said.set(n, text ?? choice.split(",")[0]);
    return said.get(n);
  });
  return lines.replace(/\$([1-9]\d*)/g, (_, n) => said.get(n) ?? assert.fail(`$${n} is nowhere given`)).replace(/\n?\$0/, "");
}

const header = "Pattern: Try\nTerms: US\nGauge: 24 sts x 26 rnds = 10 cm in sc\nHook: 3.0 mm\nYarn A: fern, light (3), 50 g / 125 m\nNotion: yarn needle\n\n";
const rounds = "Piece: Part (make 1)\nWorked: in a spiral\nWith: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n";
const rows = "Piece: Part (make 1)\nWorked: in rows\nWith: A\nRow 1: ch 11, sc in 2nd ch from hook, sc in each ch across, turn (10)\nRow 2: ch 1, sc across, turn (10)\n";
const end = "\nFasten off and weave in the ends.\n";
const body = "Piece: Body (make 1)\nWorked: in a spiral\nWith: A\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnds 3-4: sc in each st around (12)\nFasten off.\n\n";
/** Where each snippet is put in: the text before and after it. */
const places = {
  "New pattern": ["", "\n"],
  "Part in rounds": [header + body, "\n\nAssembly:\nSew: Part to Body, between Rnds 2 and 3\n"],
  "Part in rows": [header, "\n"],
  "Round": [header + rounds, end],
  "Even rounds": [header + rounds + "Rnd 3: (sc, inc) x 6 (18)\n", end],
  "Row": [header + rows, end],
  "Even rows": [header + rows, end],
  "Making up": [header + body + "Piece: Arm (make 2)\nWorked: in a spiral\nWith: A\nRnd 1: 5 sc in magic ring (5)\nRnds 2-3: sc in each st around (5)\nFasten off, leaving a 15 cm tail for sewing.\n\n", "\n"],
};
for (const [name, { body }] of Object.entries(read("snippets/crochet.json"))) {
  test(`the snippet "${name}" is taken as it is put in`, () => {
    assert.ok(places[name], "no place is known for this snippet");
    clean(places[name].join(expand(body)));
  });
}

test("words are what a maker takes for one", () => {
  const { pattern, flags } = read("language-configuration.json").wordPattern;
  const words = (text) => text.match(new RegExp(pattern, `g${flags}`));
  assert.deepEqual(words("(2 dc, ch-2, V-st) in ch-2 sp, sc2tog, 2nd ch; 3-dc cl x 6, 3.5 mm, Föhre"), ["2", "dc", "ch-2", "V-st", "in", "ch-2", "sp", "sc2tog", "2nd", "ch", "3-dc", "cl", "x", "6", "3.5", "mm", "Föhre"]);
  assert.deepEqual(words("Rnds 6-9:"), ["Rnds", "6", "9"]);
});

test("the server knows every setting that it is sent", async () => {
  const { properties } = read("package.json").contributes.configuration;
  const keys = readFileSync(path.join(folder, "src/server_settings.ts"), "utf8").match(/const keys = \[(.*)\]/)[1].match(/\w+/g);
  const sent = {};
  for (const [name, { default: value }] of Object.entries(properties)) {
    const [, key, field] = name.split(".");
    if (!keys.includes(key)) continue;
    if (field) (sent[key] ??= {})[field] = value;
    else sent[key] = value;
  }
  assert.deepEqual(Object.keys(sent).sort(), [...keys].sort(), "a setting of the server has no entry in package.json");
  const log = await logOf({ ...sent, logLevel: "warn" });
  assert.equal(log, "");
  assert.match(await logOf({ hint: {} }), /a setting is passed over/, "the log says nothing of a setting that there is not");
});

/** What a server logs that is sent some settings. */
async function logOf(initializationOptions) {
  const child = spawn(server, ["lsp", "--log-level", "warn"], { stdio: "pipe" });
  let log = "";
  child.stderr.on("data", (text) => (log += text));
  child.stdout.resume();
  for (const message of [
    { id: 1, method: "initialize", params: { processId: null, rootUri: null, capabilities: {}, initializationOptions } },
    { method: "initialized", params: {} },
    { id: 2, method: "shutdown" },
    { method: "exit" },
  ]) {
    const text = JSON.stringify({ jsonrpc: "2.0", ...message });
    child.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  }
  child.stdin.end();
  await new Promise((done) => child.on("close", done));
  return log;
}

test("the server is looked for in the setting, then inside, then on the PATH", () => {
  const dir = mkdtempSync(path.join(tmpdir(), "workeven-find-"));
  try {
    const program = (at, mode = 0o755) => {
      mkdirSync(path.dirname(path.join(dir, at)), { recursive: true });
      writeFileSync(path.join(dir, at), "");
      chmodSync(path.join(dir, at), mode);
      return path.join(dir, at);
    };
    const at = { setting: "", extension: path.join(dir, "ext"), path: [path.join(dir, "none"), path.join(dir, "bin")].join(path.delimiter), home: dir, platform: "linux" };
    assert.match(findServer(at).problem, /not in the setting workeven\.server\.path, not inside this extension, and not on the PATH/);
    const onPath = program("bin/workeven");
    assert.deepEqual(findServer(at), { program: onPath, from: "PATH" });
    const inside = program("ext/server/workeven", 0o644);
    assert.deepEqual(findServer(at), { program: inside, from: "extension" });
    assert.equal(statSync(inside).mode & 0o111, 0o111, "a server that lost the mark may be run again");
    const set = program("mine/we");
    assert.deepEqual(findServer({ ...at, setting: set }), { program: set, from: "setting" });
    assert.deepEqual(findServer({ ...at, setting: "~/mine/we" }), { program: set, from: "setting" });
    assert.match(findServer({ ...at, setting: "/no/such" }).problem, /names \/no\/such, and there is no program/);
    const exe = program("ext/server/workeven.exe", 0o644);
    assert.deepEqual(findServer({ ...at, platform: "win32" }), { program: exe, from: "extension" });
  } finally {
    rmSync(dir, { recursive: true });
  }
});

test("a server is started again a few times, and later again", () => {
  const r = new Restarts(2, 1000);
  assert.deepEqual([0, 10, 20, 900].map((at) => r.died(at)), [true, true, false, false]);
  assert.equal(r.died(2000), true);
  r.forget();
  assert.equal(r.died(2001), true);
});

test("stepping begins again at the other end", () => {
  const from = (here, forward) => step([2, 5, 9], (p) => p - here, forward);
  assert.deepEqual([0, 2, 5, 9, 12].map((h) => from(h, true)), [2, 5, 9, 2, 2]);
  assert.deepEqual([0, 2, 5, 9, 12].map((h) => from(h, false)), [9, 9, 2, 5, 9]);
  assert.equal(step([], () => 0, true), undefined);
});

test("the packed file holds the server and nothing that it can do without", () => {
  const { stdout } = spawnSync("unzip", ["-Z1", process.env.WORKEVEN_VSIX], { encoding: "utf8" });
  const files = stdout.trim().split("\n").map((f) => f.replace("extension/", ""));
  for (const need of ["server/workeven", "dist/extension.js", "syntaxes/crochet.tmLanguage.json", "LICENSE.txt", "readme.md", "images/icon.png"]) assert.ok(files.includes(need), `${need} is not packed`);
  assert.deepEqual(files.filter((f) => /node_modules|\.ts$|\.map$|^test|^src/.test(f)), []);
});
