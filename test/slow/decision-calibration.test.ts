import { expect, it } from "vitest";
import { simulate } from "../../kernel-lib/src/decision/simulation.js";
import { minimumZonePlane, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { invent, surveyedTable } from "../data/workshop.js";

interface Case {
  readonly stated: number;
  readonly met: boolean;
}

/** States a chance to meet a tolerance for one invented machine, at a tolerance drawn so that the chance is as wanted. */
function stateOne(seed: number, wanted: number): Case {
  const { map, trueUm } = surveyedTable(invent(seed));
  const { foundUm } = simulate({ surface: map, tolerance: { upper: um(1), source: "test" }, draws: 200, seed });
  const toleranceUm = foundUm.toSorted((a, b) => a - b)[Math.floor(wanted * 200)]!;
  const x = map.places.map((p) => p.xMm);
  const y = map.places.map((p) => p.yMm);
  const stated = foundUm.filter((f) => f <= toleranceUm).length / 200;
  return { stated, met: minimumZonePlane(x, y, trueUm).zone <= toleranceUm };
}

it("is right about four times in five where it states a chance of 75 % to 85 %, and in step at every tenth", () => {
  const random = randomStream(47);
  const tenths = [0, 1, 2, 3, 4, 5, 6, 8, 9].flatMap((tenth) => Array.from({ length: 60 }, () => tenth / 10));
  const wide = tenths.map((from, i) => stateOne(20_000 + i, from + 0.1 * random.uniform()));
  const about80 = Array.from({ length: 600 }, (_, i) => stateOne(30_000 + i, 0.75 + 0.0999 * random.uniform()));
  const rate = about80.filter((c) => c.met).length / 600;
  console.log(`stated 75 % to 85 %: 600 cases, ${(100 * rate).toFixed(1)} % met`);
  const rows = Array.from({ length: 10 }, (_, tenth) => {
    const cases = [...wide, ...about80].filter((c) => Math.min(9, Math.floor(c.stated * 10 + 1e-9)) === tenth);
    return { stated: mean(cases.map((c) => c.stated)), met: mean(cases.map((c) => (c.met ? 1 : 0))), n: cases.length };
  });
  for (const row of rows) console.log(`  stated ${row.stated.toFixed(2)}: met ${row.met.toFixed(2)} of ${row.n}`);
  const middle = mean(rows.map((r) => r.stated));
  const across = rows.reduce((sum, r) => sum + (r.stated - middle) ** 2, 0);
  const slope = rows.reduce((sum, r) => sum + (r.stated - middle) * r.met, 0) / across;
  console.log(`slope of met against stated: ${slope.toFixed(3)}`);
  expect(rate).toBeGreaterThanOrEqual(0.75);
  expect(rate).toBeLessThanOrEqual(0.85);
  expect(slope).toBeGreaterThanOrEqual(0.9);
  expect(slope).toBeLessThanOrEqual(1.1);
});

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
