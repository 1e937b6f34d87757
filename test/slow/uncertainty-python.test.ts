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
}

it.skipIf(isSkipped)("agrees at first order with Python's uncertainties on 200 random models, value and u", () => {
  const models = Array.from({ length: 200 }, (_, number) => randomModel(number));
  const { stdout, stderr, status } = spawnSync(python, [script], {
    input: JSON.stringify(models.map(({ at: _, ...model }) => model)),
    encoding: "utf8",
    maxBuffer: 1e8,
  });
  expect(stderr).toBe("");
  expect(status).toBe(0);
  const answers = JSON.parse(stdout) as readonly Answer[];
  const worst = { value: 0, u: 0 };
  for (const [number, model] of models.entries()) {
    const other = answers[number]!;
    const own = budgetOf(model);
    const u = own.standardUncertainty.in("1");
    worst.value = Math.max(worst.value, Math.abs(own.in("1") / other.value - 1));
    worst.u = Math.max(worst.u, Math.abs(u / other.u - 1));
    // what the doubt of each sensitivity can do to u
    const doubt = own.rows().reduce((sum, row) => sum + row.sensitivityDoubt * Math.sqrt(row.share) * u, 0);
    expect(Math.abs(u - other.u), `u of model ${number}, ${model.text}`).toBeLessThanOrEqual(doubt + 1e-12 * u);
  }
  console.log(`largest relative differences over 200 models, half of them correlated: ${JSON.stringify(worst)}`);
  // arithmetic alone
  expect(worst.value).toBeLessThan(1e-12);
  // derivatives by differences against exact ones, inputs known to 5 % at worst
  expect(worst.u).toBeLessThan(1e-4);
});
