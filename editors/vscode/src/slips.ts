/** Going from slip to slip. */
import * as vscode from "vscode";
import { patternInFront } from "./pattern_in_front";
import { step } from "./step";

/** Puts the cursor on the next or previous slip of the pattern in front, and shows what is said of it. */
export async function goToSlip(forward: boolean): Promise<void> {
  const pattern = patternInFront();
  if (pattern === undefined) return;
  const active = vscode.window.activeTextEditor;
  const editor = active?.document === pattern ? active : await vscode.window.showTextDocument(pattern);
  const starts = vscode.languages
    .getDiagnostics(editor.document.uri)
    .filter((d) => d.source === "workeven" && d.severity !== vscode.DiagnosticSeverity.Hint)
    .map((d) => d.range.start)
    .sort((a, b) => a.compareTo(b));
  const from = editor.selection.active;
  const to = step(starts, (p) => p.compareTo(from), forward);
  if (to === undefined) {
    void vscode.window.setStatusBarMessage("No slips in this pattern.", 4000);
    return;
  }
  editor.selection = new vscode.Selection(to, to);
  editor.revealRange(new vscode.Range(to, to), vscode.TextEditorRevealType.InCenterIfOutsideViewport);
  await vscode.commands.executeCommand("editor.action.showHover");
}
