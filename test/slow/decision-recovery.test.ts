import { expect, it } from "vitest";
import { coverageStatement } from "../../kernel-lib/src/decision/prediction.js";
import { depthCoverage } from "../../kernel-lib/src/facing/depth.js";
import { recover, recoverForeign } from "../decision/recovery.js";

const count = 1000;
/** what a claim of 95 % may come to in 1,000 cases: two standard deviations of the binomial law */
const [low, high] = [936, 963];

function count1000<K extends string>(
  of: string,
  figures: readonly K[],
  one: (seed: number) => { readonly [key in K]: boolean } & { readonly seed: number },
): { readonly [key in K]: number } {
  const results = Array.from({ length: count }, (_, i) => one(1000 + i));
  const hits = figures.map((figure) => [figure, results.filter((r) => r[figure]).length] as const);
  for (const [figure, n] of hits) console.log(`${of}, ${figure}: ${count} machines, ${n} hits, band ${low} to ${high}`);
  return Object.fromEntries(hits) as { [key in K]: number };
}

it("recovers what was planted in 1,000 invented machines at the rate that is claimed, and tells the reader so", () => {
  const hits = count1000("invented", ["found", "stoned", "depth"], (seed) => recover(seed, 400));
  for (const n of Object.values(hits)) {
    expect(n).toBeGreaterThanOrEqual(low);
    expect(n).toBeLessThanOrEqual(high);
  }
  expect(coverageStatement).toContain(` as found in ${hits.found} and stoned in ${hits.stoned}`);
  expect(depthCoverage).toContain(` the planted depth in ${hits.depth}`);
});

it("recovers it at that rate in 1,000 machines of laws that are not assumed", () => {
  const hits = count1000("other laws", ["found", "depth"], (seed) => recoverForeign(seed, 400));
  for (const n of Object.values(hits)) {
    expect(n).toBeGreaterThanOrEqual(low);
    expect(n).toBeLessThanOrEqual(high);
  }
});
