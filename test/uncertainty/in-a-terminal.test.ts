import { inspect } from "node:util";
import { expect, it } from "vitest";
import { um } from "../../kernel-lib/src/quantity/index.js";
import {
  budget,
  budgets,
  correlated,
  input,
  pooledSpread,
  simulateTogether,
} from "../../kernel-lib/src/uncertainty/index.js";

it("shows every result by its one line where a program prints it", () => {
  const of = (label: string) => input.normal({ label, estimate: um(1), standardUncertainty: um(1) });
  const [a, b] = [of("a"), of("b")];
  const sum = budget({ measurand: "sum", inputs: { a, b }, model: ({ a, b }) => a.plus(b) });
  const [x] = correlated(
    [of("x"), of("y")],
    [
      [1, 0.5],
      [0.5, 1],
    ],
  );
  const results = [
    ...[a, sum, x, x.terms[0]!.input.group, pooledSpread([[um(1), um(2)]])],
    budgets({ inputs: { a, b }, model: ({ a, b }) => ({ sum: a.plus(b), rest: a.minus(b) }) }),
    sum.simulate({ seed: 1, trials: 1000 }),
    simulateTogether({ sum }, { seed: 1, trials: 1000 }),
  ];
  for (const result of results) {
    expect(inspect(result)).toBe(`${result}`);
    expect(`${result}`).not.toContain("[object");
  }
});
