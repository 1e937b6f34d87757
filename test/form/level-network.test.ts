import { describe, expect, it } from "vitest";
import { type LevelSurvey, levelNetwork, levelRuns, makeUp } from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { binomialBand } from "./coverage.js";
import { frame } from "./union-jack.js";

const instrument = { name: "block level", resolution: umPerM(0.01), maximumPermissibleError: umPerM(0.01) };
const twisted = (x: number, y: number) => (10 / 4) * ((x - 200) / 200) * ((y - 150) / 150) + 0.02 * x - 0.03 * y;

/** a grid of 5 × 4 places at 100 mm, every step read both ways round */
function grid(seed: number, noise = 1, both = true): LevelSurvey {
  const stream = randomStream(seed);
  const xs = [0, 100, 200, 300, 400];
  const ys = [0, 100, 200, 300];
  const run = (line: string, start: { xMm: number; yMm: number }, end: { xMm: number; yMm: number }, steps: number) => {
    const at = (i: number) =>
      twisted(start.xMm + ((end.xMm - start.xMm) * i) / steps, start.yMm + ((end.yMm - start.yMm) * i) / steps);
    const rises = Array.from({ length: steps }, (_, i) => (at(i + 1) - at(i)) * 10);
    const readings = rises.map((v) => umPerM(v + 12 + noise * stream.normal()));
    const turned = rises.map((v) => umPerM(12 - v + noise * stream.normal()));
    return { line, start, end, foot: mm(100), readings, ...(both ? { turned } : {}) };
  };
  const runs = [
    ...ys.map((yMm) => run(`y ${yMm}`, { xMm: 0, yMm }, { xMm: 400, yMm }, 4)),
    ...xs.map((xMm) => run(`x ${xMm}`, { xMm, yMm: 0 }, { xMm, yMm: 300 }, 3)),
  ];
  return { name: "table", frame, instrument, ...levelRuns(runs) };
}

describe("a level network", () => {
  it("holds planted tilt and twist within U as often as 95 % claims, 120 surveys", () => {
    let [tilt, twist] = [0, 0];
    for (let seed = 1; seed <= 120; seed++) {
      const network = levelNetwork(grid(seed));
      const x = network.tilt("x");
      tilt += Math.abs(x.in("um/m") - 20) <= x.expandedUncertainty().in("um/m") ? 1 : 0;
      const { amplitude } = makeUp(network.surface()).twist;
      twist += Math.abs(amplitude.in("um") - 10) <= amplitude.expandedUncertainty().in("um") ? 1 : 0;
    }
    const [low, high] = binomialBand(120, 0.95);
    console.log(`level network, of 120: tilt held ${tilt}, twist held ${twist}, band ${low} to ${high}`);
    expect(tilt).toBeGreaterThanOrEqual(low);
    expect(tilt).toBeLessThanOrEqual(high);
    expect(twist).toBeGreaterThanOrEqual(low);
  });

  it("finds a blunder of eight times the scatter, and raises a false alarm in about one clean survey of 20", () => {
    let [found, alarms] = [0, 0];
    for (let seed = 1; seed <= 100; seed++) {
      const survey = grid(1000 + seed);
      alarms += levelNetwork(survey).suspects.length > 0 ? 1 : 0;
      const readings = survey.readings.map((r, k) =>
        k === seed % 62 ? { ...r, inclination: r.inclination.plus(umPerM(8)) } : r,
      );
      const { suspects } = levelNetwork({ ...survey, readings });
      found += suspects.some(
        ({ line, from }) => line === readings[seed % 62]!.line && from === readings[seed % 62]!.from,
      )
        ? 1
        : 0;
    }
    const [, high] = binomialBand(100, 0.05);
    console.log(`blunders found ${found} of 100, false alarms ${alarms} of 100, at most ${high}`);
    expect(found).toBeGreaterThanOrEqual(95);
    expect(alarms).toBeLessThanOrEqual(high);
  });

  it("refuses a zero read one way, parts that do not join, and a foot that does not divide", () => {
    const oneWay = grid(1, 1, false);
    expect(refusal(() => levelNetwork(oneWay)).message).toBe(
      'levelNetwork: the zero of the level was read one way only in table and cannot be told from a tilt; read a step again with the level turned end for end, state the zero, or write tilt: "not wanted"',
    );
    const untilted = levelNetwork({ ...oneWay, tilt: "not wanted" });
    expect(makeUp(untilted.surface()).twist.amplitude.in("um")).toBeGreaterThan(5);
    expect(refusal(() => untilted.tilt("x")).code).toBe("tilt");
    const survey = grid(1);
    const apart = { ...survey, readings: survey.readings.filter(({ line }) => !line.startsWith("x ")) };
    expect(refusal(() => levelNetwork(apart)).code).toBe("not-connected");
    const run = { line: "front", start: { xMm: 0, yMm: 0 }, end: { xMm: 430, yMm: 0 }, foot: mm(100), readings: [] };
    expect(refusal(() => levelRuns([run])).message).toBe(
      'levelRuns: a foot of 100 mm does not divide line "front" of 430 mm; move an end, or set the feet to a whole part of the line',
    );
  });
});
