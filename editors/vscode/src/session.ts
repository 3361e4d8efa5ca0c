/**
 * The running server: started, watched, started again. Knows nothing of the
 * views and commands that ask it.
 */
import * as os from "node:os";
import * as vscode from "vscode";
import { CloseAction, ErrorAction, LanguageClient, State, TransportKind, type Middleware } from "vscode-languageclient/node";
import { findServer } from "./find_server";
import { Restarts } from "./restarts";
import { serverSettings } from "./server_settings";

/** What the server reads and answers for: patterns in files and those not saved yet. */
export const patterns = [
  { language: "crochet", scheme: "file" },
  { language: "crochet", scheme: "untitled" },
];

/** Runs a command that the server asks the editor for, in place of asking the server. */
export type Shown = (args: unknown[]) => Thenable<unknown>;

/** A client whose errors go to the log: what the user has to know, the session says in its own words. */
class QuietClient extends LanguageClient {
  override error(message: string, data?: unknown): void {
    super.error(message, data, false);
  }
}

export class Session implements vscode.Disposable {
  private client: LanguageClient | undefined;
  private again: NodeJS.Timeout | undefined;
  private readonly log = vscode.window.createOutputChannel("workeven", { log: true });
  private readonly restarts = new Restarts(4, 3 * 60_000);
  private readonly status = vscode.languages.createLanguageStatusItem("workeven.server", { language: "crochet" });

  /** `own` are the commands of the server that the extension shows itself, by name. */
  constructor(
    private readonly context: vscode.ExtensionContext,
    private readonly own: ReadonlyMap<string, Shown>,
  ) {
    this.status.name = "workeven";
    this.say("Not started", vscode.LanguageStatusSeverity.Warning);
  }

  showLog(): void {
    this.log.show();
  }

  async start(): Promise<void> {
    const found = findServer({
      setting: vscode.workspace.getConfiguration("workeven").get("server.path", "").trim(),
      extension: this.context.extensionPath,
      path: process.env["PATH"] ?? "",
      home: os.homedir(),
      platform: process.platform,
    });
    if ("problem" in found) {
      this.say("No server", vscode.LanguageStatusSeverity.Error);
      void this.tell(found.problem);
      return;
    }
    this.log.info(`server: ${found.program} (${found.from})`);
    const client = new QuietClient(
      "workeven",
      "workeven",
      { command: found.program, args: ["lsp"], transport: TransportKind.stdio },
      {
        documentSelector: patterns,
        outputChannel: this.log,
        initializationOptions: serverSettings(),
        initializationFailedHandler: () => false,
        errorHandler: {
          error: () => ({ action: ErrorAction.Continue, handled: true }),
          closed: () => {
            this.lost(client, "it ended");
            return { action: CloseAction.DoNotRestart, handled: true };
          },
        },
        markdown: { isTrusted: false, supportHtml: false },
        middleware: this.middleware(),
      },
    );
    this.client = client;
    try {
      await client.start();
      this.say(`Server ${client.initializeResult?.serverInfo?.version ?? ""}`.trim(), vscode.LanguageStatusSeverity.Information);
    } catch (why) {
      this.lost(client, why instanceof Error ? why.message : String(why));
    }
  }

  async restart(): Promise<void> {
    this.restarts.forget();
    await this.stop();
    await this.start();
  }

  /** Asks the server to carry a command out; undefined where no server runs. */
  async ask<T>(command: string, ...args: unknown[]): Promise<T | undefined> {
    if (this.client?.state !== State.Running) return undefined;
    return this.client.sendRequest<T>("workspace/executeCommand", { command, arguments: args });
  }

  /** The address of a document as the server knows it. */
  address(uri: vscode.Uri): string {
    return this.client?.code2ProtocolConverter.asUri(uri) ?? uri.toString();
  }

  dispose(): void {
    void this.stop();
    this.status.dispose();
    this.log.dispose();
  }

  private async stop(): Promise<void> {
    clearTimeout(this.again);
    const client = this.client;
    this.client = undefined;
    if (client?.needsStop()) await client.dispose().catch((why: unknown) => this.log.warn(`the server did not stop in order: ${String(why)}`));
  }

  /**
   * Starts another server in the place of one that is gone, be it while it
   * started or later, unless too many have gone of late.
   */
  private lost(client: LanguageClient, why: string): void {
    if (client !== this.client) return; // it was told already, or another took its place
    this.client = undefined;
    this.log.warn(`the server is gone: ${why}`);
    if (this.restarts.died(Date.now())) {
      this.say("Server starts again", vscode.LanguageStatusSeverity.Warning);
      this.again = setTimeout(() => void this.start(), 200);
      return;
    }
    this.say("Server stopped", vscode.LanguageStatusSeverity.Error);
    void this.tell(`workeven's server ended ${this.restarts.most + 1} times within three minutes and is not started again by itself. The last time: ${why}.`);
  }

  private middleware(): Middleware {
    return {
      workspace: {
        // Only the server's own settings go to it, whatever else the section holds.
        configuration: (params) => params.items.map((item) => serverSettings(item.scopeUri === undefined ? undefined : vscode.Uri.parse(item.scopeUri))),
      },
      window: {
        // Pages of the server are opened as a reader wants them, not as their source.
        showDocument: async (params, token, next) => {
          const uri = vscode.Uri.parse(params.uri);
          if (uri.scheme !== "workeven") return next(params, token);
          await vscode.commands.executeCommand("vscode.open", uri);
          return { success: true };
        },
      },
      executeCommand: (command, args, next) => this.own.get(command)?.(args) ?? next(command, args),
    };
  }

  private say(text: string, severity: vscode.LanguageStatusSeverity): void {
    this.status.text = text;
    this.status.severity = severity;
    this.status.command = severity === vscode.LanguageStatusSeverity.Information ? { title: "Show the log", command: "workeven.showLog" } : { title: "Start again", command: "workeven.restartServer" };
  }

  private async tell(message: string): Promise<void> {
    const choices = { "Open the setting": () => vscode.commands.executeCommand("workbench.action.openSettings", "workeven.server.path"), "Try again": () => this.restart(), "Show the log": () => this.showLog() };
    const chosen = await vscode.window.showErrorMessage(message, ...(Object.keys(choices) as (keyof typeof choices)[]));
    if (chosen !== undefined) await choices[chosen]();
  }
}
