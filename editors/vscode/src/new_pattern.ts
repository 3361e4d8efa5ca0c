/** A new pattern from a template: a page that is not saved yet and comes out as it stands. */
import { readFile } from "node:fs/promises";
import * as path from "node:path";
import * as vscode from "vscode";
import { inOtherTerms } from "./other_terms";
import type { Session } from "./session";

const templates = [
  { file: "toy.crochet", label: "A toy", detail: "Parts worked in rounds, stuffed, and sewn together" },
  { file: "flat.crochet", label: "A flat piece", detail: "One part worked in rows, back and forth" },
];

export async function newPattern(context: vscode.ExtensionContext, session: Session): Promise<void> {
  const chosen = await vscode.window.showQuickPick(templates, { title: "New pattern", placeHolder: "What is it going to be?" });
  if (chosen === undefined) return;
  const content = await readFile(path.join(context.extensionPath, "templates", chosen.file), "utf8");
  const document = await vscode.workspace.openTextDocument({ language: "crochet", content });
  if (vscode.workspace.getConfiguration("workeven").get("newPattern.terms") === "UK") await toUK(document, session);
  await vscode.window.showTextDocument(document);
}

/** The templates are in US terms; the server knows what each stitch is called in UK terms. */
async function toUK(document: vscode.TextDocument, session: Session): Promise<void> {
  const shown = await inOtherTerms(session, document.uri);
  if (shown === undefined) {
    void vscode.window.showWarningMessage("The server is not running, so the new pattern is in US terms.");
    return;
  }
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, new vscode.Range(0, 0, document.lineCount, 0), shown.text);
  await vscode.workspace.applyEdit(edit);
}
