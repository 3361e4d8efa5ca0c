import * as vscode from "vscode";

/** The settings that are the server's; the others are the extension's own. */
const keys = ["hints", "config", "isolated", "logLevel"] as const;

/** What the server is told of the settings, under the names that it knows them by. */
export function serverSettings(scope?: vscode.Uri): Record<string, unknown> {
  const all = vscode.workspace.getConfiguration("workeven", scope ?? null);
  return Object.fromEntries(keys.map((key) => [key, all.get(key)]));
}
