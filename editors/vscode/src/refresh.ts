/** Views of a pattern that follow it while it is typed. */
import * as vscode from "vscode";

const pause = 150; // ms after the last key

/** Calls `changed` with the address of each pattern that was edited, a moment after the last edit. */
export function onPatternEdited(changed: (uri: vscode.Uri) => void): vscode.Disposable {
  const waiting = new Map<string, NodeJS.Timeout>();
  const listener = vscode.workspace.onDidChangeTextDocument(({ document }) => {
    const key = document.uri.toString();
    if (document.languageId !== "crochet") return;
    clearTimeout(waiting.get(key));
    waiting.set(
      key,
      setTimeout(() => {
        waiting.delete(key);
        changed(document.uri);
      }, pause),
    );
  });
  return new vscode.Disposable(() => {
    listener.dispose();
    for (const timer of waiting.values()) clearTimeout(timer);
  });
}

export function tellNoServer(): void {
  void vscode.window.showWarningMessage("workeven's server is not running, so this cannot be shown.", "Start again").then((chosen) => {
    if (chosen !== undefined) void vscode.commands.executeCommand("workeven.restartServer");
  });
}
