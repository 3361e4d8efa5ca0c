/** What the editor calls: starts the server and binds the commands. */
import * as vscode from "vscode";
import { newPattern } from "./new_pattern";
import { OtherTermsView } from "./other_terms";
import { followPatternInFront } from "./pattern_in_front";
import { openRules } from "./rules_file";
import { Session, type Shown } from "./session";
import { goToSlip } from "./slips";
import { TallyView } from "./tally";

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const own = new Map<string, Shown>();
  const session = new Session(context, own);
  const tally = new TallyView(session);
  const otherTerms = new OtherTermsView(session);
  // A code lens asks the server to show a tally; here it is shown as a table.
  own.set("workeven.showTally", ([uri, piece]) => tally.open(vscode.Uri.parse(String(uri)), typeof piece === "string" ? piece : undefined));

  const commands: Record<string, () => unknown> = {
    newPattern: () => newPattern(context, session),
    openTally: () => tally.open(),
    openOtherTerms: () => otherTerms.open(),
    nextSlip: () => goToSlip(true),
    previousSlip: () => goToSlip(false),
    openRules,
    restartServer: () => session.restart(),
    showLog: () => session.showLog(),
    welcome: () => vscode.commands.executeCommand("workbench.action.openWalkthrough", `${context.extension.id}#welcome`),
  };
  for (const [name, run] of Object.entries(commands)) context.subscriptions.push(vscode.commands.registerCommand(`workeven.${name}`, run));
  context.subscriptions.push(
    session,
    tally,
    otherTerms,
    followPatternInFront(),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration("workeven.server.path")) void session.restart();
    }),
  );
  await session.start();
}
