import { type ChildProcess, spawn } from "node:child_process";

/** A program of the system and what it is given. */
export type CommandLine = readonly [program: string, ...args: string[]];

/** The system's own way to open an address in the browser a person uses. */
export function openerOf(platform: NodeJS.Platform, address: string): CommandLine {
  if (platform === "darwin") return ["open", address];
  // `start` is a word of the command interpreter; what it takes first in quotes is a window's title
  if (platform === "win32") return ["cmd", "/c", "start", "", address];
  return ["xdg-open", address];
}

/** a program that could not open the address has said so by then */
const longestMs = 5000;

/** How to open an address; the system and the way to start a program are this machine's where left out. */
export interface WindowOptions {
  readonly platform?: NodeJS.Platform;
  readonly start?: (program: string, args: readonly string[]) => Pick<ChildProcess, "once" | "unref">;
}

/**
 * Opens an address in the person's browser. Where that does not succeed, they still have the address.
 *
 * @returns why it was not opened, or undefined where the system took it
 */
export function showInBrowser(
  address: string,
  { platform = process.platform, start = apart }: WindowOptions = {},
): Promise<string | undefined> {
  const [program, ...args] = openerOf(platform, address);
  return new Promise((resolve) => {
    try {
      const opener = start(program, args);
      opener.once("error", (error) => resolve(`${program} can't be started (${error.message})`));
      opener.once("exit", (code, signal) =>
        resolve(code === 0 ? undefined : `${program} ended with ${signal ?? code}`),
      );
      opener.unref();
      // one that stays with the browser has opened it
      setTimeout(() => resolve(undefined), longestMs).unref();
    } catch (error) {
      resolve(`${program} can't be started (${error instanceof Error ? error.message : String(error)})`);
    }
  });
}

/** a process that outlives this one, and prints nothing into its terminal */
function apart(program: string, args: readonly string[]): ChildProcess {
  return spawn(program, args, { stdio: "ignore", detached: true, windowsHide: true });
}
