import { expect, it } from "vitest";
import { bothRules, judgedFaults, mutatedJobs } from "./mutation-run.js";

it.each(Object.entries(mutatedJobs))("finds a program %s good by both rules", (_name, job) => {
  expect(bothRules(job)).toEqual({ harm: "", refusals: 0 });
});

it("refuses what the second rule finds harmful: every seventh fault, the rest in the slow tests", () => {
  const { harmful, missed, letThrough } = judgedFaults("along x, two depths", 7);
  expect(harmful).toBeGreaterThan(90);
  expect(missed).toEqual([]);
  // a replay that refuses everything would prove nothing
  expect(letThrough).toBeGreaterThan(10);
});

it("refuses faults that only the holder above the cutter pays for", () => {
  const { missed, byHolder } = judgedFaults("along x under an arbor", 1, /\(G[01] X\S+ Y53\.0/);
  expect(missed).toEqual([]);
  expect(byHolder).toBeGreaterThanOrEqual(2);
});
