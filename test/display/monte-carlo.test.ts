import { expect, it } from "vitest";
import { displayIn } from "../../kernel-lib/src/display/index.js";
import { monteCarloFigure } from "../../kernel-lib/src/display/present-monte-carlo.js";
import { display } from "../../kernel-lib/src/quantity/display-member.js";
import { degC, kelvin, mm, perKelvin } from "../../kernel-lib/src/quantity/index.js";
import { budget, input, simulateTogether } from "../../kernel-lib/src/uncertainty/index.js";
import { trialProgress } from "../../kernel-lib/src/uncertainty/trial-progress.js";

const growth = (halfWidth: number) =>
  budget({
    measurand: "growth of the table",
    inputs: {
      alpha: input.rectangular({ label: "expansion", estimate: perKelvin(11e-6), halfWidth: perKelvin(halfWidth) }),
      warming: input.normal({ label: "warming", estimate: kelvin(4), standardUncertainty: kelvin(0.2) }),
    },
    model: ({ alpha, warming }) => mm(500).times(alpha.times(warming)),
  });

it("lends a budget the progress handle of the notebook, for so many trials", () => {
  const handle = growth(2e-6)[trialProgress]?.(1000, "simulating growth");
  expect(`${handle}`).toBe("simulating growth: 0 of 1000");
});

it("says what to improve first, with U as it would be", () => {
  const text = growth(2e-6)[display]()["text/plain"];
  expect(text).toContain(
    'What to improve first: halving the contribution of "expansion" would cut U from 5.0 µm to 3.1 µm; that of "warming", to 4.7 µm.',
  );
});

it("shows a simulated result as sentence, histogram, table and shares, once each", () => {
  const text = growth(2e-6).simulate({ seed: 1, trials: 50_000 })[display]()["text/plain"]!;
  const parts = [
    /^growth of the table: mean 2[12]\.\d µm, u = 2\.6 µm; 95 % lie within /,
    /figure: Simulated values/,
    /Error budget:/,
  ];
  for (const part of parts) expect(text).toMatch(part);
  expect(text.match(/What to improve first/g)).toHaveLength(1);
});

it("draws bars that sum to the trials inside, a curve of the same area, and three intervals", () => {
  const result = growth(2e-6).simulate({ seed: 1, trials: 50_000 });
  const { data, texts } = monteCarloFigure(result)!;
  const sum = (values: unknown) => (values as number[]).reduce((total, value) => total + value, 0);
  const inside = 100 - (100 * result.histogram.outside) / 50_000;
  expect(sum(data[0]!.y)).toBeCloseTo(inside, 9);
  expect(texts.axes).toEqual(["growth of the table/µm", "trials in a bar/%"]);
  expect(texts.marked).toContain("95 %, shortest");
  expect(texts.marked).toContain("95 %, first order: y ± U");
});

it("follows the units that the notebook is shown in, and keeps the figures", () => {
  const result = growth(2e-6).simulate({ seed: 1, trials: 50_000 });
  const metric = String(result);
  displayIn("inch");
  try {
    expect(monteCarloFigure(result)!.texts.axes[0]).toMatch(/^growth of the table\/tenth$/);
    expect(String(result)).toBe(metric);
  } finally {
    displayIn("metric");
  }
});

it("shows a temperature with its u as a difference, and results simulated together in a line each", () => {
  const air = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(0.5) });
  const table = budget({
    measurand: "temperature of the table",
    inputs: { air },
    model: ({ air }) => air.plus(kelvin(1)),
  });
  expect(table.simulate({ seed: 1 }).sentence()).toMatch(
    /^temperature of the table: mean 21\.0\d °C, u = 0\.50 (K|°C); /,
  );
  const room = budget({ measurand: "temperature of the room", inputs: { air }, model: ({ air }) => air });
  const joint = simulateTogether({ table, room }, { seed: 1 });
  expect(joint.text().split("\n").at(-1)).toBe("r(table, room) = 1.00");
  expect(joint[display]()["text/plain"]).toContain("temperature of the room: mean");
});
