/** The rules of a folder: its configuration, opened or begun. */
import * as vscode from "vscode";
import { patternInFront } from "./pattern_in_front";

const begun = `# The rules for the patterns in this folder and those below it; the editor and
# the command both go by them. A rule is "off", or a "hint", "information", a
# "warning" or an "error".

[rules]
# total-missing = "error"
`;

export async function openRules(): Promise<void> {
  const [first, ...others] = vscode.workspace.workspaceFolders ?? [];
  const pattern = others.length > 0 ? patternInFront()?.uri : undefined;
  const folder = (pattern && vscode.workspace.getWorkspaceFolder(pattern)) ?? first;
  if (folder === undefined) {
    void vscode.window.showInformationMessage("Open the folder of your patterns first: rules are kept beside them, in .workeven.toml.");
    return;
  }
  const file = vscode.Uri.joinPath(folder.uri, ".workeven.toml");
  const there = await vscode.workspace.fs.stat(file).then(
    () => true,
    () => false,
  );
  const document = await vscode.workspace.openTextDocument(there ? file : file.with({ scheme: "untitled" }));
  const editor = await vscode.window.showTextDocument(document);
  if (!there && document.getText() === "") await editor.edit((edit) => edit.insert(new vscode.Position(0, 0), begun));
}
