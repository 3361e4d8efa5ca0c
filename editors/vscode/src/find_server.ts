/**
 * Where the server is. Knows files and folders, but nothing of the editor, so
 * that it is tested without one.
 */
import * as fs from "node:fs";
import * as path from "node:path";

export interface Places {
  /** The user's setting; empty where it is not set. */
  setting: string;
  /** The folder of the extension, which has the server in `server`. */
  extension: string;
  /** The value of PATH. */
  path: string;
  /** The user's home folder, which `~` stands for. */
  home: string;
  platform: NodeJS.Platform;
}

/** A server to start, or what keeps one from being started, in a designer's words. */
export type Found = { program: string; from: "setting" | "extension" | "PATH" } | { problem: string };

export function findServer(at: Places): Found {
  const name = at.platform === "win32" ? "workeven.exe" : "workeven";
  if (at.setting !== "") {
    const program = at.setting.replace(/^~(?=$|[/\\])/, at.home);
    return isProgram(program, at.platform)
      ? { program, from: "setting" }
      : { problem: `The setting workeven.server.path names ${at.setting}, and there is no program of that name. Correct it, or empty it to use the server inside the extension.` };
  }
  const inside = path.join(at.extension, "server", name);
  if (fs.existsSync(inside)) {
    allowRunning(inside, at.platform);
    return { program: inside, from: "extension" };
  }
  for (const folder of at.path.split(path.delimiter)) {
    const program = path.join(folder, name);
    if (folder !== "" && isProgram(program, at.platform)) return { program, from: "PATH" };
  }
  return {
    problem:
      "workeven's server was not found, so patterns are colored but not counted. It is not in the setting workeven.server.path, not inside this extension, and not on the PATH. " +
      `Install the extension's file that is made for this computer (its name has ${at.platform}-${process.arch} in it), or install the workeven command and name it in the setting.`,
  };
}

function isProgram(file: string, platform: NodeJS.Platform): boolean {
  try {
    if (!fs.statSync(file).isFile()) return false;
    if (platform !== "win32") fs.accessSync(file, fs.constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Some ways of installing lose the mark that a file may be run. */
function allowRunning(file: string, platform: NodeJS.Platform): void {
  if (platform === "win32" || isProgram(file, platform)) return;
  try {
    fs.chmodSync(file, 0o755);
  } catch {
    // A folder that is not the user's: starting the server says what is wrong.
  }
}
