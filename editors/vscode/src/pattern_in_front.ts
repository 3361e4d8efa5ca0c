/** The pattern that the user is at, which the commands are for. */
import * as vscode from "vscode";

let last: vscode.TextDocument | undefined;

/** Keeps in mind which pattern was in front last: a page such as the welcome, which has buttons for it, covers it. */
export function followPatternInFront(): vscode.Disposable {
  note(vscode.window.activeTextEditor);
  return vscode.window.onDidChangeActiveTextEditor(note);
}

/** The pattern in front, or the last that was; tells the user where there is none. */
export function patternInFront(): vscode.TextDocument | undefined {
  note(vscode.window.activeTextEditor); // its language may have been chosen since
  if (last !== undefined && !last.isClosed) return last;
  void vscode.window.showInformationMessage("Open a pattern first, a file whose name ends in .crochet.");
  return undefined;
}

function note(editor: vscode.TextEditor | undefined): void {
  const document = editor?.document;
  if (document?.languageId === "crochet" && (document.uri.scheme === "file" || document.uri.scheme === "untitled")) last = document;
}
