/** The pattern in the other terms: a read-only page beside it that follows the typing. */
import * as path from "node:path";
import * as vscode from "vscode";
import { patternInFront } from "./pattern_in_front";
import { onPatternEdited, tellNoServer } from "./refresh";
import type { Session } from "./session";

export const termsScheme = "workeven-terms";

interface OtherTerms {
  text: string;
  terms: "US" | "UK";
}

/** Asks the server for a pattern in the other terms. */
export async function inOtherTerms(session: Session, of: vscode.Uri): Promise<OtherTerms | undefined> {
  return session.ask<OtherTerms>("workeven.otherTerms", session.address(of));
}

export class OtherTermsView implements vscode.TextDocumentContentProvider, vscode.Disposable {
  private readonly changes = new vscode.EventEmitter<vscode.Uri>();
  readonly onDidChange = this.changes.event;
  private readonly disposables: vscode.Disposable[];

  constructor(private readonly session: Session) {
    this.disposables = [
      this.changes,
      vscode.workspace.registerTextDocumentContentProvider(termsScheme, this),
      onPatternEdited((pattern) => {
        for (const { uri } of vscode.workspace.textDocuments) {
          if (uri.scheme === termsScheme && uri.query === pattern.toString()) this.changes.fire(uri);
        }
      }),
    ];
  }

  async provideTextDocumentContent(page: vscode.Uri): Promise<string> {
    const shown = await inOtherTerms(this.session, vscode.Uri.parse(page.query));
    return shown?.text ?? "// The server is not running, so the pattern cannot be shown in the other terms.\n";
  }

  async open(): Promise<void> {
    const pattern = patternInFront()?.uri;
    if (pattern === undefined) return;
    const shown = await inOtherTerms(this.session, pattern);
    if (shown === undefined) return tellNoServer();
    const name = `${path.posix.basename(pattern.path, ".crochet")} (${shown.terms} terms).crochet`;
    const page = vscode.Uri.from({ scheme: termsScheme, path: `/${name}`, query: pattern.toString() });
    await vscode.window.showTextDocument(page, { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true, preview: true });
  }

  dispose(): void {
    for (const d of this.disposables) d.dispose();
  }
}
