import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { gauge, mm, slope, um } from "../../kernel-lib/src/index.js";
import { tQuantile } from "../../kernel-lib/src/numerics/index.js";
import { refusal } from "../refusal.js";

interface Planted {
  readonly playUm: number;
  readonly pitchUmPerM: number;
  readonly driftUmPerMin: number;
  readonly periodic: { readonly amplitudeUm: number };
}
const planted: { readonly axis: Readonly<Record<"X" | "Z", Planted>> } = JSON.parse(
  readFileSync("data/truth.json", "utf8"),
);

const dial = gauge({ resolution: um(0.001), maximumPermissibleError: um(1) });

/** an axis with slope 100 µm/m, play 6 µm and a wave of 2 µm, greatest 1 mm from zero, every 5 mm */
function exact(targets: readonly number[]) {
  const at = (target: number, down: boolean) =>
    um(target / 10 + (down ? 3 : -3) + 2 * Math.cos((2 * Math.PI * (target - 1)) / 5));
  const readings = [1, 2, 3].flatMap((run) => [
    ...targets.map((t) => ({ target: mm(t), direction: "up" as const, run, deviation: at(t, false) })),
    ...targets.toReversed().map((t) => ({ target: mm(t), direction: "down" as const, run, deviation: at(t, true) })),
  ]);
  return positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "scale" } });
}

it("gives slope, play and a wave back exactly where there is no scatter", () => {
  const part = systematicPart(exact([0, 41.3, 83.9, 121.7, 160.2, 202.6, 241.1]), { lead: mm(5) });
  expect(part.slope.in("um/m")).toBeCloseTo(100, 6);
  expect(part.play.in("um")).toBeCloseTo(6, 6);
  expect(part.drift.in("um")).toBeCloseTo(0, 6);
  expect(part.periodic[0]!.amplitude.in("um")).toBeCloseTo(2, 6);
  expect(part.periodic[0]!.greatestAt.in("mm")).toBeCloseTo(1, 6);
  expect(part.newStepsPerMm(400).value.si).toBeCloseTo(400 / 1.0001, 9);
});

it("gives several waves in one turn back exactly, each where it is greatest", () => {
  const targets = [0, 41.3, 83.9, 121.7, 160.2, 202.6, 241.1, 283.7, 319.4];
  const at = (target: number) =>
    um(2 * Math.cos((2 * Math.PI * (target - 1)) / 5) + 1.5 * Math.cos((2 * Math.PI * (target - 0.4)) / 2.5));
  const readings = [1, 2, 3].flatMap((run) => [
    ...targets.map((t) => ({ target: mm(t), direction: "up" as const, run, deviation: at(t) })),
    ...targets.toReversed().map((t) => ({ target: mm(t), direction: "down" as const, run, deviation: at(t) })),
  ]);
  const test = positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "scale" } });
  const { periodic } = systematicPart(test, { lead: mm(5), harmonics: 2 });
  expect(periodic.map(({ name }) => name)).toEqual(["turn of the screw", "turn of the screw, 2 waves in one"]);
  expect(periodic.map(({ amplitude }) => amplitude.in("um"))).toEqual([expect.closeTo(2, 6), expect.closeTo(1.5, 6)]);
  expect(periodic.map(({ greatestAt }) => greatestAt.in("mm"))).toEqual([expect.closeTo(1, 6), expect.closeTo(0.4, 6)]);
});

it("takes harmonics turn by turn, and says which look alike", () => {
  const targets = [0, 41.3, 83.9, 121.7, 160.2, 202.6, 241.1, 283.7, 319.4, 361.2];
  const part = systematicPart(exact(targets), { lead: mm(5), motorTurn: mm(2.5), harmonics: { lead: 2 } });
  expect(part.periodic.map(({ name }) => name)).toEqual(["turn of the screw", "turn of the screw, 2 waves in one"]);
  expect(part.aliased).toEqual([
    "turn of the motor (2.5 mm): at these targets it looks like a slope, a constant or another period; it can't be told, choose targets with random offsets",
  ]);
  expect(refusal(() => systematicPart(exact(targets), { lead: mm(5), harmonics: 1.5 }))).toEqual({
    code: "harmonics",
    message:
      "systematicPart: turn of the screw: 1.5 harmonics; give a whole number from 1 to 6, each takes two targets",
  });
});

it("says where an interval holds more than 95 times in 100, and that the rectangular input is why", () => {
  const readings = exact([0, 41.3, 83.9, 121.7, 160.2]).readings.map((r, i) => ({
    target: mm(r.targetMm),
    direction: r.direction,
    run: r.run,
    deviation: um(r.deviationUm + (i % 3)),
  }));
  const reference = { name: "scale", scaleLimit: slope(um(60), mm(1000)) };
  const { notes } = systematicPart(positioningTest({ axis: "X", readings, gauge: dial, reference }));
  expect(notes.find((line) => line.startsWith("intervals of the slope"))).toMatch(
    /^intervals of the slope are made for 95 %: the rectangular input "scale, length" makes up \d\d % of the variance, so they hold it more often; counted over 10\u2009000 repeats of the measurement, they hold it (9[89]\.\d|100\.0) times in 100$/,
  );
});

it.each([
  ["X", 5],
  ["Z", 4],
] as const)("gives what was planted in the demonstration of %s back", (name, lead) => {
  const truth = planted.axis[name];
  const part = systematicPart(readPositioning(`data/positioning-${name.toLowerCase()}.csv`), { lead: mm(lead) });
  const within = (ends: readonly number[], value: number) => ends[0]! <= value && value <= ends[1]!;
  const micrometres = part.play.interval().map((end) => end.in("um"));
  expect(within(micrometres, truth.playUm), `${part.play}`).toBe(true);
  const pitch = part.slope.interval().map((end) => end.in("um/m"));
  expect(within(pitch, truth.pitchUmPerM), `${part.slope}`).toBe(true);
  const minutes = part.test.readings.at(-1)!.minutes! - part.test.readings[0]!.minutes!;
  const drifts = part.drift.interval().map((end) => end.in("um"));
  expect(within(drifts, truth.driftUmPerMin * minutes), `${part.drift}`).toBe(true);
  // the seven targets of Z can't tell the turn of its screw, and that is said
  expect([...part.periodic.map(() => "told"), ...part.aliased.map(() => "can't be told")]).toEqual([
    name === "X" ? "told" : "can't be told",
  ]);
  for (const { amplitude, standardUncertainty, degreesOfFreedom } of part.periodic) {
    const off = Math.abs(amplitude.in("um") - truth.periodic.amplitudeUm);
    expect(off).toBeLessThan(tQuantile(0.975, degreesOfFreedom) * standardUncertainty.in("um"));
  }
});

it("names a lead that targets whole turns apart can't tell", () => {
  const part = systematicPart(exact([0, 40, 80, 120, 160, 200]), { lead: mm(5) });
  expect(part.periodic).toEqual([]);
  expect(part.aliased).toEqual([
    "turn of the screw (5 mm): the targets stand whole periods apart, so that it looks like a constant; it can't be told, choose targets with random offsets",
  ]);
});

it("refuses a period that is none", () => {
  expect(refusal(() => systematicPart(exact([0, 40, 80]), { lead: mm(0) }))).toEqual({
    code: "period",
    message: "systematicPart: turn of the screw is 0 mm; give the travel of one, such as mm(5)",
  });
});
