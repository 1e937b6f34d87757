import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { built, project } from "./workplace.js";

beforeAll(built);

/** In a process of its own, where nobody else sets timers: what was said by then, and milliseconds until it was over. */
function ran(before: string, begun: string, withinMs: number): { readonly said: string[]; readonly ms: number } {
  const script = `const { OutstandingWork } = require(${JSON.stringify(join(project, "kernel-lib/dist/kernel/outstanding-work.js"))});
    const said = [];
    // as the sockets of a kernel do, something else keeps the process alive
    const alive = new Worker("setInterval(() => {}, 1000)", { eval: true });
    ${before};
    const work = new OutstandingWork();
    // whatever was due at once has fired by the second turn
    for (const end = performance.now() + 20; performance.now() < end; );
    setImmediate(() => setImmediate(async () => {
      work.look();
      ${begun};
      const started = performance.now();
      await work.over(${withinMs});
      console.log(JSON.stringify({ said, ms: performance.now() - started }));
      process.exit();
    }));`;
  const options = { encoding: "utf8" } as const;
  return JSON.parse(
    execFileSync(process.execPath, ["-e", `const { Worker } = require("node:worker_threads");${script}`], options),
  );
}

it("what stood before is not waited for", () => {
  expect(ran("setInterval(() => {}, 1000)", "", 20_000).ms).toBeLessThan(10_000);
});

it("a timer is waited for, and no longer than until it has fired", () => {
  const { said, ms } = ran("", 'setTimeout(() => said.push("timer"), 100)', 20_000);
  expect(said).toEqual(["timer"]);
  expect(ms).toBeLessThan(10_000);
});

it("a timer is waited for where one of the kernel's own has ended since", () => {
  const { said } = ran("setTimeout(() => {}, 0)", 'setTimeout(() => said.push("timer"), 100)', 20_000);
  expect(said).toEqual(["timer"]);
});

it("a promise that fails, an immediate and a reading of a file have their say", () => {
  const begun = `process.on("unhandledRejection", () => said.push("promise"));
      Promise.reject(new Error("no"));
      setImmediate(() => said.push("immediate"));
      require("node:fs").readFile(process.execPath, () => said.push("file"))`;
  expect(ran("", begun, 20_000).said.toSorted()).toEqual(["file", "immediate", "promise"]);
});

it("what never ends is left after the time", () => {
  expect(ran("", "setInterval(() => {}, 5)", 60).ms).toBeGreaterThanOrEqual(50);
});
