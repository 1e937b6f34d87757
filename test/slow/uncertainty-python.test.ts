import { spawnSync } from "node:child_process";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { budgetOf, randomModel } from "../uncertainty/random-model.js";

const python = "/usr/bin/python3";
const script = resolve(import.meta.dirname, "uncertainty_models.py");
const isThere = spawnSync(python, ["-c", "import uncertainties, numpy"]).status === 0;
const isSkipped = !isThere && process.env.CI !== "true";
if (isSkipped) console.log(`skipped: ${python} has no modules uncertainties and numpy`);

interface Answer {
  readonly value: number;
  readonly u: number;
  readonly mean: number;
  readonly spread: number;
  readonly ends: readonly [number, number];
}

it.skipIf(isSkipped)("agrees with Python's uncertainties and numpy on 200 random models", () => {
  const models = Array.from({ length: 200 }, (_, number) => randomModel(number));
  const { stdout, stderr, status } = spawnSync(python, [script], {
    input: JSON.stringify(models.map(({ at: _, ...model }) => model)),
    encoding: "utf8",
    maxBuffer: 1e8,
  });
  expect(stderr).toBe("");
  expect(status).toBe(0);
  const answers = JSON.parse(stdout) as readonly Answer[];
  const worst = { value: 0, u: 0, mean: 0, spread: 0, ends: 0 };
  for (const [number, model] of models.entries()) {
    const other = answers[number]!;
    const own = budgetOf(model);
    const u = own.standardUncertainty.in("1");
    const cloud = own.simulate({ seed: number, trials: 100_000 });
    const [low, high] = cloud.symmetric.map((end) => end.in("1")) as [number, number];
    worst.value = Math.max(worst.value, Math.abs(own.in("1") / other.value - 1));
    worst.u = Math.max(worst.u, Math.abs(u / other.u - 1));
    // what the doubt of each sensitivity can do to u
    const doubt = own.rows().reduce((sum, row) => sum + row.sensitivityDoubt * Math.sqrt(row.share) * u, 0);
    expect(Math.abs(u - other.u), `u of model ${number}, ${model.text}`).toBeLessThanOrEqual(doubt + 1e-12 * u);
    worst.mean = Math.max(worst.mean, Math.abs(cloud.value.in("1") - other.mean) / other.spread);
    worst.spread = Math.max(worst.spread, Math.abs(cloud.spread.in("1") / other.spread - 1));
    worst.ends = Math.max(
      worst.ends,
      Math.abs(low - other.ends[0]) / other.spread,
      Math.abs(high - other.ends[1]) / other.spread,
    );
  }
  console.log(`largest differences over 200 models: ${JSON.stringify(worst)}`);
  // arithmetic alone
  expect(worst.value).toBeLessThan(1e-12);
  // derivatives by differences against exact ones, inputs known to 5 % at worst
  expect(worst.u).toBeLessThan(1e-4);
  // two simulations of 100,000: five standard deviations of the difference (mean: √(2/N) u; spread: about √(1/N);
  // ends: about 2.7 √(2/N) u, more where the law is steep)
  expect(worst.mean).toBeLessThan(5 * Math.sqrt(2 / 1e5));
  expect(worst.spread).toBeLessThan(5 * Math.sqrt(1 / 1e5));
  expect(worst.ends).toBeLessThan(5 * 2.7 * Math.sqrt(2 / 1e5));
});
