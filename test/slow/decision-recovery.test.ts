import { expect, it } from "vitest";
import { coverageStatement } from "../../kernel-lib/src/decision/prediction.js";
import { depthCoverage } from "../../kernel-lib/src/facing/depth.js";
import { binomialBand } from "../data/workshop.js";
import { recover } from "../decision/recovery.js";

it("recovers what was planted in 200 invented machines at the rate that is claimed", () => {
  const count = 200;
  const results = Array.from({ length: count }, (_, i) => recover(1000 + i, 400));
  const [low, high] = binomialBand(count, 0.95);
  const [found, stoned] = coverageStatement.split(" and stoned");
  const told = { found: found!, stoned: stoned!, depth: depthCoverage };
  for (const figure of ["found", "stoned", "depth"] as const) {
    const hits = results.filter((r) => r[figure]).length;
    const wide = hits > high ? "; wider than claimed: limits of the gauge are bounds, not a scatter" : "";
    console.log(`${figure}: ${count} machines, ${hits} hits, band ${low} to ${high}${wide}`);
    const missed = results.filter((r) => !r[figure]).map((r) => r.seed);
    if (missed.length > 0) console.log(`  missed: seeds ${missed.join(", ")}`);
    expect(hits).toBeGreaterThanOrEqual(low);
    // what a reader is told is what was measured here
    expect(told[figure]).toContain(` ${hits}`);
  }
});
