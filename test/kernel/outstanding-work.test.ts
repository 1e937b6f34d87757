import { setTimeout as wait } from "node:timers/promises";
import { expect, it } from "vitest";
import { OutstandingWork } from "../../kernel-lib/src/kernel/outstanding-work.js";

async function msUntilOver(work: OutstandingWork, withinMs: number): Promise<number> {
  const begun = performance.now();
  await work.over(withinMs);
  return performance.now() - begun;
}

it("what stood before is not waited for", async () => {
  const before = setInterval(() => undefined, 1000);
  expect(await msUntilOver(new OutstandingWork(), 20_000)).toBeLessThan(10_000);
  clearInterval(before);
});

it("a timer is waited for, and no longer than until it has fired", async () => {
  const work = new OutstandingWork();
  let fired = false;
  setTimeout(() => {
    fired = true;
  }, 100);
  expect(await msUntilOver(work, 20_000)).toBeLessThan(10_000);
  expect(fired).toBe(true);
});

it("a promise that fails and an immediate have their say", async () => {
  const work = new OutstandingWork();
  const said: string[] = [];
  void wait(0).then(() => said.push("timer"));
  setImmediate(() => said.push("immediate"));
  await work.over(20_000);
  expect(said.toSorted()).toEqual(["immediate", "timer"]);
});

it("what never ends is left after the time", async () => {
  const work = new OutstandingWork();
  const endless = setInterval(() => undefined, 5);
  expect(await msUntilOver(work, 60)).toBeGreaterThanOrEqual(50);
  clearInterval(endless);
});
