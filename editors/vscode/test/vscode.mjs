// The real editor: code-server with the packed extension, in Debian's Chromium.
// Knows how the editor is started and looked at, and nothing of what is tested.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createWriteStream, readFileSync } from "node:fs";
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";

const need = (name) => process.env[name] ?? (() => { throw new Error(`${name} is not set: start the test with test/run`); })();

/** Everything that was installed for the test, outside the checkout. */
const installed = path.join(need("WORKEVEN_VSCODE"), "node_modules");
const { chromium } = createRequire(path.join(installed, "x.js"))("playwright-core");

export const here = import.meta.dirname;
export const out = need("WORKEVEN_OUT");
export const root = path.resolve(here, "../../..");
export const snail = readFileSync(path.join(root, "testdata/patterns/snail.crochet"), "utf8");

const settings = {
  "workbench.startupEditor": "none",
  "workbench.colorTheme": "Default Light Modern",
  "workbench.tips.enabled": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "chat.disableAIFeatures": true,
  "security.workspace.trust.enabled": false,
  "files.autoSave": "off",
  "telemetry.telemetryLevel": "off",
  "update.mode": "none",
  "extensions.autoCheckUpdates": false,
  "extensions.ignoreRecommendations": true,
  "editor.minimap.enabled": false,
  "editor.fontFamily": "'DejaVu Sans Mono'",
  "editor.fontSize": 13,
  "git.enabled": false,
};

/** The address space has no fixed port to itself on a shared machine. */
async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address();
  server.close();
  await once(server, "close");
  return port;
}

/** An editor with the extension installed and a folder of patterns, `files` by name. */
export class Editor {
  static async start(files, { viewport = { width: 1280, height: 860 }, user = {}, scale = 1 } = {}) {
    const e = new Editor();
    e.home = await mkdtemp(path.join(tmpdir(), "workeven-vscode-"));
    e.folder = path.join(e.home, "patterns");
    e.extensions = path.join(e.home, "extensions");
    const data = path.join(e.home, "data");
    await mkdir(path.join(data, "User"), { recursive: true });
    await mkdir(e.extensions);
    await mkdir(e.folder);
    await mkdir(out, { recursive: true });
    for (const [name, text] of Object.entries(files)) await writeFile(path.join(e.folder, name), text);
    await writeFile(path.join(data, "User/settings.json"), JSON.stringify({ ...settings, ...user }));
    await mkdir(path.join(e.folder, ".vscode"));
    e.port = await freePort();
    const config = path.join(e.home, "config.yaml");
    await writeFile(config, `bind-addr: 127.0.0.1:${e.port}\nauth: none\ncert: false\n`);
    e.log = createWriteStream(path.join(out, "code-server.log"), { flags: "a" });
    const dirs = ["--config", config, "--user-data-dir", data, "--extensions-dir", e.extensions];
    // It installs with no network at all.
    const install = e.run([...dirs, "--install-extension", need("WORKEVEN_VSIX")], ["unshare", "--net"]);
    const [code] = await once(install, "exit");
    if (code !== 0) throw new Error(`the extension was not installed: exit ${code}; see code-server.log`);
    e.server = e.run([
      ...dirs, "--disable-telemetry", "--disable-update-check", "--disable-workspace-trust",
      "--disable-getting-started-override", "--ignore-last-opened",
    ]);
    await e.answers();
    e.browser = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--force-color-profile=srgb"],
    });
    const context = await e.browser.newContext({ viewport, deviceScaleFactor: scale });
    await context.grantPermissions(["clipboard-read", "clipboard-write"], { origin: `http://127.0.0.1:${e.port}` });
    // code-server's own service worker claims every page, web views too, and those then wait for ever for theirs.
    await context.addInitScript(() => {
      const workers = globalThis.navigator.serviceWorker;
      const register = workers?.register.bind(workers);
      if (register) workers.register = (at, ...more) => (String(at).includes("/_static/") ? new Promise(() => {}) : register(at, ...more));
    });
    e.page = await context.newPage();
    e.page.setDefaultTimeout(60_000);
    return e;
  }

  /** Sets what is set for the folder. The editor watches that file, the user's own it does not here. */
  set(more) {
    return writeFile(path.join(this.folder, ".vscode/settings.json"), JSON.stringify(more));
  }

  /** Runs code-server, by itself or by the command of `within`. */
  run(args, within = []) {
    const [program, ...words] = [...within, process.execPath, path.join(installed, "code-server/out/node/entry.js"), ...args];
    const child = spawn(program, words, {
      env: {
        PATH: "/usr/local/sbin:/usr/sbin:/usr/bin:/sbin:/bin",
        HOME: this.home, LANG: "C.UTF-8", EXTENSIONS_GALLERY: '{"serviceUrl":""}',
      },
      stdio: ["ignore", "pipe", "pipe"],
      cwd: this.home,
    });
    child.stdout.pipe(this.log, { end: false });
    child.stderr.pipe(this.log, { end: false });
    return child;
  }

  async answers() {
    for (let tries = 0; tries < 900; tries++) {
      if (this.server.exitCode !== null) throw new Error(`code-server ended with ${this.server.exitCode}; see code-server.log`);
      const ok = await fetch(`http://127.0.0.1:${this.port}/healthz`).then((r) => r.ok, () => false);
      if (ok) return;
      await new Promise((done) => setTimeout(done, 100));
    }
    throw new Error("code-server does not answer");
  }

  /** Opens a pattern of the folder in a fresh window. */
  async open(name) {
    const at = `http://127.0.0.1:${this.port}/`;
    const file = `vscode-remote://127.0.0.1:${this.port}${this.folder}/${name}`;
    await this.page.goto(`${at}?folder=${encodeURIComponent(this.folder)}&payload=${encodeURIComponent(JSON.stringify([["openFile", file]]))}`, { waitUntil: "commit", timeout: 180_000 });
    await this.page.locator(".view-lines").first().waitFor({ timeout: 180_000 });
  }

  /** Runs a command of the palette by the words that it is listed under. */
  async command(title) {
    await this.page.keyboard.press("F1");
    const input = this.page.locator(".quick-input-widget input");
    await input.waitFor();
    await input.fill(`>${title}`);
    const row = this.page.locator(".quick-input-list .monaco-list-row").filter({ hasText: title }).first();
    await row.waitFor();
    await row.click();
  }

  /** Puts the cursor on a line, and into a column where one is given, both from 1. */
  async goTo(line, column = 1) {
    await this.page.keyboard.press("Control+g");
    const input = this.page.locator(".quick-input-widget input");
    await input.waitFor();
    await input.fill(`:${line},${column}`);
    await this.page.keyboard.press("Enter");
    await input.waitFor({ state: "hidden" });
  }

  /** A line on the screen, found by what it begins with. Its text holds the hints too. */
  line(begin, editor = ".editor-instance") {
    const at = new RegExp("^" + begin.replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replace(/ /g, "[ \\u00a0]"));
    return this.page.locator(`${editor} .view-line`).filter({ hasText: at }).first();
  }

  async shot(name, options = {}) {
    await this.page.screenshot({ path: path.join(out, `${name}.png`), ...options });
  }

  async stop() {
    await this.browser?.close();
    if (this.server?.exitCode === null) {
      this.server.kill("SIGTERM");
      await once(this.server, "exit");
    }
    this.log?.end();
    await rm(this.home, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}

/** Waits until a question has a true answer, and gives it; says what it waited for where it never has. */
export async function until(what, ask, patience = 60_000) {
  const end = Date.now() + patience;
  let last;
  for (;;) {
    try {
      last = await ask();
      if (last) return last;
    } catch (why) {
      last = why;
    }
    if (Date.now() > end) throw new Error(`waited ${patience / 1000} s in vain for ${what}; last: ${last}`);
    await new Promise((done) => setTimeout(done, 50));
  }
}

