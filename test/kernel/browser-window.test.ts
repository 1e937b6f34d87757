import { EventEmitter } from "node:events";
import { expect, it } from "vitest";
import { openerOf, showInBrowser } from "../../kernel-lib/src/kernel/browser-window.js";

const address = "http://127.0.0.1:20123/?token=abc";

/** a start that only notes what was asked for, and ends as told */
function started(end: readonly [event: "exit" | "error", ...told: unknown[]]) {
  const asked: string[][] = [];
  const start = (program: string, args: readonly string[]) => {
    asked.push([program, ...args]);
    const child = Object.assign(new EventEmitter(), { unref: () => undefined });
    setImmediate(() => child.emit(...end));
    return child as never;
  };
  return { asked, start };
}

it.each([
  ["linux", ["xdg-open", address]],
  ["freebsd", ["xdg-open", address]],
  ["darwin", ["open", address]],
  ["win32", ["cmd", "/c", "start", "", address]],
] as const)("opens an address the way of %s", async (platform, line) => {
  expect(openerOf(platform, address)).toEqual(line);
  const { asked, start } = started(["exit", 0, null]);
  expect(await showInBrowser(address, { platform, start })).toBeUndefined();
  expect(asked).toEqual([line]);
});

it("says why no browser was opened, and does not throw", async () => {
  const missing = started(["error", new Error("spawn xdg-open ENOENT")]);
  expect(await showInBrowser(address, { platform: "linux", start: missing.start })).toBe(
    "xdg-open can't be started (spawn xdg-open ENOENT)",
  );
  const without = started(["exit", 3, null]);
  expect(await showInBrowser(address, { platform: "linux", start: without.start })).toBe("xdg-open ended with 3");
  const killed = started(["exit", null, "SIGKILL"]);
  expect(await showInBrowser(address, { platform: "darwin", start: killed.start })).toBe("open ended with SIGKILL");
  const refused = (): never => {
    throw new Error("spawn EPERM");
  };
  expect(await showInBrowser(address, { platform: "win32", start: refused })).toBe(
    "cmd can't be started (spawn EPERM)",
  );
});

it("tries this system's own program where none is given, and survives that it is missing", async () => {
  const path = process.env.PATH;
  process.env.PATH = "";
  try {
    expect(await showInBrowser(address, { platform: "linux" })).toBe(
      "xdg-open can't be started (spawn xdg-open ENOENT)",
    );
  } finally {
    process.env.PATH = path;
  }
});
