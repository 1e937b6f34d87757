import { expect, it } from "vitest";
import { judgedFaults, mutatedJobs } from "../facing/mutation-run.js";

it.each(Object.keys(mutatedJobs))("refuses every fault in a program %s that the second rule finds harmful", (name) => {
  const { harmful, missed, letThrough, byHolder } = judgedFaults(name, 1);
  expect(harmful).toBeGreaterThanOrEqual(200);
  expect(missed).toEqual([]);
  if (name.includes("arbor")) expect(byHolder).toBeGreaterThanOrEqual(5);
  // a replay that refuses everything would prove nothing
  expect(letThrough).toBeGreaterThan(100);
});
