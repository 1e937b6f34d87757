import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { atExit } from "../../kernel-lib/src/kernel/at-exit.js";
import { built, project } from "./workplace.js";

beforeAll(built);

// with one listener for each kernel, the eleventh notebook of the live page made Node warn of a leak
it("needs one listener however much is to be done, and none when nothing is", () => {
  const before = process.listenerCount("exit");
  const takenBack = Array.from({ length: 20 }, () => atExit(() => undefined));
  expect(process.listenerCount("exit")).toBe(before + 1);
  for (const takeBack of takenBack) takeBack();
  expect(process.listenerCount("exit")).toBe(before);
  takenBack[0]?.();
  expect(process.listenerCount("exit")).toBe(before);
});

it("does at the end what was not taken back, in order", () => {
  const file = join(project, "kernel-lib", "dist", "kernel", "at-exit.js");
  const script = `const { atExit } = require(${JSON.stringify(file)});
    atExit(() => console.log("first")); atExit(() => console.log("taken back"))(); atExit(() => console.log("last"));`;
  expect(spawnSync(process.execPath, ["-e", script], { encoding: "utf8" }).stdout).toBe("first\nlast\n");
});
