/** The tally of a pattern as a table beside it that follows the typing. */
import { randomBytes } from "node:crypto";
import * as path from "node:path";
import MarkdownIt from "markdown-it";
import * as vscode from "vscode";
import { patternInFront } from "./pattern_in_front";
import { onPatternEdited, tellNoServer } from "./refresh";
import type { Session } from "./session";

const markdown = new MarkdownIt({ html: false, linkify: false });

export class TallyView implements vscode.Disposable {
  private readonly panels = new Map<string, vscode.WebviewPanel>();
  private readonly edits: vscode.Disposable;

  constructor(private readonly session: Session) {
    this.edits = onPatternEdited((pattern) => void this.refresh(pattern));
  }

  /** Shows the tally of a pattern, of the one in front if none is given, at a piece if one is named. */
  async open(pattern = patternInFront()?.uri, piece?: string): Promise<void> {
    if (pattern === undefined) return;
    const key = pattern.toString();
    const html = await this.html(pattern);
    if (html === undefined) return tellNoServer();
    let panel = this.panels.get(key);
    if (panel === undefined) {
      panel = vscode.window.createWebviewPanel(
        "workeven.tally",
        `Tally: ${path.posix.basename(pattern.path, ".crochet")}`,
        { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
        { enableScripts: true, enableFindWidget: true, localResourceRoots: [] },
      );
      this.panels.set(key, panel);
      panel.onDidDispose(() => this.panels.delete(key));
      panel.webview.html = frame(html, piece);
    } else {
      panel.reveal(undefined, true);
      await panel.webview.postMessage({ html, piece });
    }
  }

  dispose(): void {
    this.edits.dispose();
    for (const panel of this.panels.values()) panel.dispose();
  }

  private async refresh(pattern: vscode.Uri): Promise<void> {
    const panel = this.panels.get(pattern.toString());
    const html = panel && (await this.html(pattern));
    if (html !== undefined) await panel?.webview.postMessage({ html });
  }

  private async html(pattern: vscode.Uri): Promise<string | undefined> {
    const tally = await this.session.ask<{ markdown: string }>("workeven.tally", this.session.address(pattern));
    return tally && markdown.render(tally.markdown);
  }
}

/** The page that the tables stand in. They are put in anew with each edit, so that the reader's place is kept. */
function frame(html: string, piece: string | undefined): string {
  const nonce = randomBytes(16).toString("base64");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'nonce-${nonce}'">
<style>
body { font: var(--vscode-font-size)/1.5 var(--vscode-font-family); padding: 0 1.5em 2em; max-width: 60em; }
h1 { font-size: 1.5em; font-weight: 600; margin: 1em 0 0.2em; }
h1 + p { color: var(--vscode-descriptionForeground); margin-top: 0; }
h2 { font-size: 1.15em; font-weight: 600; margin: 1.6em 0 0.4em; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
th, td { padding: 0.15em 0.9em 0.15em 0; border-bottom: 1px solid var(--vscode-editorWidget-border, #8884); text-align: left; vertical-align: baseline; }
th { color: var(--vscode-descriptionForeground); font-weight: 500; position: sticky; top: 0; background: var(--vscode-editor-background); }
td:nth-child(n+2):nth-child(-n+4), th:nth-child(n+2):nth-child(-n+4) { text-align: right; min-width: 3.2em; }
td:last-child, th:last-child { padding-left: 1em; }
tr:hover td { background: var(--vscode-list-hoverBackground); }
tr.differs td { color: var(--vscode-errorForeground); }
</style>
</head>
<body>
<main>${html}</main>
<script nonce="${nonce}">
const main = document.querySelector("main");
function mark(piece) {
  for (const row of main.querySelectorAll("tr")) row.classList.toggle("differs", row.textContent.includes("differs"));
  const heads = [...main.querySelectorAll("h2")];
  heads.find((h) => piece && h.textContent.startsWith(piece))?.scrollIntoView();
}
addEventListener("message", ({ data }) => { main.innerHTML = data.html; mark(data.piece); });
mark(${JSON.stringify(piece ?? "").replace(/</g, "\\u003c")});
</script>
</body>
</html>`;
}
