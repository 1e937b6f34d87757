import { describe, expect, it } from "vitest";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { doubtTerms, positioningDoubt } from "../../kernel-lib/src/axis/positioning-doubt.js";
import { positioningFigures } from "../../kernel-lib/src/axis/positioning-figures.js";
import { positioningNotes, shortOfStandard } from "../../kernel-lib/src/axis/positioning-notes.js";
import type { PositioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { simulateTests } from "../../kernel-lib/src/axis/simulated-tests.js";
import { degC, gauge, kelvin, mm, slope, um } from "../../kernel-lib/src/index.js";
import { dial, plantedTest } from "./planted-test.js";

const near = (values: readonly number[], digits = 9) => values.map((value) => expect.closeTo(value, digits));
const scale = { name: "scale", scaleLimit: slope(um(20), mm(1000)) };
/** means of each target, up and down, and half of the distance of the two runs */
const [ups, downs, halves] = [
  [0, 4, 2, -1],
  [3, 5, 7, 2],
  [0, 3, 0, 1],
];
const targets = [0, 100, 300, 600];
const fourOf = (more: object = {}) =>
  plantedTest(
    targets,
    [1, 2],
    (at, direction, run) => {
      const i = targets.indexOf(at);
      const half = halves[i]! * (direction === "up" ? 1 : 0.5);
      return (direction === "up" ? ups : downs)[i]! + (run === 1 ? half : -half);
    },
    { reference: scale, ...more },
  );
const found = positioning(fourOf());
/** figures and doubt alone, without the perfect axis that is simulated beside them */
function doubtOf(test: PositioningTest, seed = 1) {
  const figures = positioningFigures(
    test.targetNumbers(),
    test.readings.map(({ direction }) => (direction === "up" ? 0 : 1)),
    test.readings.map(({ deviationUm }) => deviationUm),
    test.targetsMm.length,
  );
  return { figures, doubt: positioningDoubt(test, figures, seed) };
}
const pick = ({ test, gaugeAlone, accuracy, lostMotion }: typeof found) => ({ test, gaugeAlone, accuracy, lostMotion });

describe("figures worked out by hand (formulas of ISO 230-2)", () => {
  // s of two readings m ± h is h √2
  const [sUp, sDown] = [halves.map((h) => h * Math.SQRT2), halves.map((h) => (h * Math.SQRT2) / 2)];
  it("of each target", () => {
    const column = (name: Exclude<keyof (typeof found.positions)[number], never>) =>
      found.positions.map((position) => position[name].in(name === "target" ? "mm" : "um"));
    expect(column("target")).toEqual(targets);
    expect(column("meanUp")).toEqual(near(ups));
    expect(column("meanDown")).toEqual(near(downs));
    expect(column("deviationUp")).toEqual(near(sUp));
    expect(column("deviationDown")).toEqual(near(sDown));
    expect(column("reversal")).toEqual(near([-3, -1, -5, -3]));
    expect(column("repeatabilityUp")).toEqual(near(sUp.map((s) => 4 * s)));
    expect(column("repeatabilityDown")).toEqual(near(sDown.map((s) => 4 * s)));
    expect(column("repeatability")).toEqual(
      near([3, Math.max(1 + 9 * Math.SQRT2, 12 * Math.SQRT2), 5, 3 + 3 * Math.SQRT2]),
    );
  });

  it("of the axis, and on which length the reference acts", () => {
    const r = Math.SQRT2;
    const of = (figure: typeof found.accuracy) => {
      const reference = figure.terms.find(({ input }) => input.label === "scale, length");
      // a line that acts on no length is no line
      return [figure.in("um"), reference?.sensitivity ?? 0];
    };
    const value = (um: number, metres: number) => near([um, metres]);
    // greatest 4 + 6 √2 at 100 mm up, least 4 − 6 √2 there too
    expect(of(found.accuracy)).toEqual(value(12 * r, 0));
    expect(of(found.accuracyUp)).toEqual(value(12 * r, 0));
    // greatest 5 + 3 √2 at 100 mm, least 2 − √2 at 600 mm
    expect(of(found.accuracyDown)).toEqual(value(3 + 4 * r, -0.5));
    // greatest 7 at 300 mm down, least −1 at 600 mm up
    expect(of(found.systematic)).toEqual(value(8, -0.3));
    expect(of(found.systematicUp)).toEqual(value(5, -0.5));
    expect(of(found.systematicDown)).toEqual(value(5, -0.3));
    // middle 1.5, 4.5, 4.5, 0.5
    expect(of(found.meanDeviation)).toEqual(value(4, -0.5));
    expect(of(found.repeatability)).toEqual(value(12 * r, 0));
    expect(of(found.repeatabilityUp)).toEqual(value(12 * r, 0));
    expect(of(found.repeatabilityDown)).toEqual(value(6 * r, 0));
    expect(of(found.reversal)).toEqual(value(5, 0));
    expect(of(found.meanReversal)).toEqual(value(-3, 0));
    expect(found.lostMotion.in("um")).toBeCloseTo(3, 9);
  });

  it("act on the length between the targets of mean ± 2 s, where these are not those of the means", () => {
    // up: greatest mean at 0 mm, greatest mean + 2 s at 300 mm; least mean at 600 mm, least mean − 2 s at 100 mm
    const means = [5, 1, 4, 0];
    const test = plantedTest(
      targets,
      [1, 2],
      (at, direction, run) => {
        const i = targets.indexOf(at);
        return direction === "down" ? 2 : means[i]! + [0, 2, 2, 0][i]! * (run === 1 ? 1 : -1);
      },
      { reference: scale },
    );
    const { accuracy, accuracyUp, accuracyDown, systematicUp } = positioning(test);
    const metres = [accuracy, accuracyUp, systematicUp, accuracyDown].map(
      (figure) => figure.terms.find(({ input }) => input.label === "scale, length")?.sensitivity ?? 0,
    );
    expect(metres).toEqual(near([0.2, 0.2, -0.6, 0], 12));
    expect(accuracy.in("um")).toBeCloseTo(3 + 8 * Math.SQRT2, 9);
  });
});

describe("the doubt of the figures", () => {
  const hysteresis = gauge({ resolution: um(1), maximumPermissibleError: um(3), hysteresis: um(1.5), name: "dial" });
  const drifting = plantedTest(
    [0, 100, 200],
    [1, 2, 3],
    (at, direction, run) => at / 10 + 4 * run + (run === 2 ? 3 : 0) + (direction === "up" ? 0 : 9),
    { gauge: hysteresis, reference: scale },
  );
  const doubted = positioning(drifting);
  const lines = (figure: typeof found.accuracy) =>
    figure.terms.map(({ input, sensitivity }) => [input.label, input.source, input.distribution, sensitivity]);
  const scatter = ["scatter of the runs", "3 runs each way at 3 targets, simulated", "t", 1];
  const gaugeAndDrift = [
    ["dial, maximum permissible error", "over the range used, on any difference of two readings", "rectangular", 1],
    ["dial, hysteresis", "the two directions push the plunger opposite ways", "rectangular", 1],
    ["drift within a run", "half of what the run means move by from run to run", "rectangular", 1],
  ];

  it("is scatter, gauge, hysteresis, drift and reference, each by its name", () => {
    const reference = ["scale, length", "certificate or grade of the reference, ±", "rectangular"];
    expect(lines(doubted.accuracy)).toEqual([scatter, ...gaugeAndDrift, [...reference, expect.closeTo(0.2, 12)]]);
    expect(lines(doubted.meanReversal)).toEqual([scatter, ...gaugeAndDrift]);
    expect(lines(doubted.repeatabilityUp)).toEqual([scatter]);
    const half = (label: string) =>
      doubted.accuracy.terms.find(({ input }) => input.label.endsWith(label))!.input.uncertaintySi * 1e6 * Math.sqrt(3);
    expect(half("error")).toBeCloseTo(3, 9);
    expect(half("hysteresis")).toBeCloseTo(1.5, 9);
    // the run means rise by 4 µm a run
    expect(doubted.doubt.driftPerRunUm).toBeCloseTo(4, 9);
    expect(half("drift within a run")).toBeCloseTo(2, 9);
  });

  it("takes a falling drift like a rising one, and has no line of what there is not", () => {
    const falling = doubtOf(plantedTest([0, 100], [1, 2], (_at, _direction, run) => 6 - 2 * run));
    expect(falling.doubt.driftPerRunUm).toBeCloseTo(-2, 9);
    const terms = doubtTerms(falling.doubt, "accuracy", 0.1, true);
    expect(terms.map(({ input }) => input.label)).toEqual([
      "scatter of the runs",
      `${dial.name}, maximum permissible error`,
      "drift within a run",
    ]);
    expect(terms[2]!.input.uncertaintySi * 1e6).toBeCloseTo(1 / Math.sqrt(3), 9);
    const still = doubtOf(plantedTest([0, 100], [1, 2, 3], (at, _direction, run) => at / 100 + (run === 2 ? 2 : 0)));
    expect(still.doubt.driftPerRunUm).toBe(0);
    expect(doubtTerms(still.doubt, "accuracy", 0.1, true)).toHaveLength(2);
  });

  it("pools the scatter of all targets and directions, with the degrees of freedom of all", () => {
    const { scatterUm, degreesOfFreedom, stepUm, belowStep } = found.doubt;
    // s² = 2 h²: up 0, 18, 0, 2 and down 0, 4.5, 0, 0.5
    expect(scatterUm).toBeCloseTo(Math.sqrt(25 / 8), 9);
    expect([degreesOfFreedom, stepUm, belowStep]).toEqual([8, 1, false]);
    expect(found.accuracyUp.terms[0]!.input.degreesOfFreedom).toBe(8);
  });

  /** s of these five offsets is 0.5 size, exactly */
  const offsets = [-0.5, 0.5, 0, 0.5, -0.5];
  const scattered = (size: number) =>
    doubtOf(plantedTest([0, 100, 200], [1, 2, 3, 4, 5], (_at, _direction, run) => size * offsets[run - 1]!));

  it("believes no scatter below half a step, and half a step itself", () => {
    const [half, less] = [scattered(1), scattered(0.99)];
    expect([half.doubt.belowStep, less.doubt.belowStep]).toEqual([false, true]);
    expect(half.doubt.scatterUm).toBeCloseTo(0.5, 12);
    expect(less.doubt.scatterUm).toBeCloseTo(0.495, 12);
    // and at least that of the rounding
    expect(scattered(0.1).doubt.scatterUm).toBeCloseTo(1 / Math.sqrt(12), 12);
    // two roundings in each difference
    const uOf = ({ doubt }: typeof half) => doubt.scatterOf.meanReversal.uncertaintySi * 1e6;
    expect(uOf(less)).toBeCloseTo(1 / Math.sqrt(6), 12);
    expect(uOf(half)).toBeLessThan(0.3);
    const said =
      "the runs scatter by less than half a step of 1 µm: such a scatter is not believed, and more runs would not help";
    const notes = ({ doubt }: typeof half) => positioningNotes({ ...pick(found), doubt });
    expect([half, less].map((one) => notes(one).includes(said))).toEqual([false, true]);
  });

  it("of the mean reversal is that of a mean of all cells, s √(2 / (runs × targets)), to a tenth", () => {
    const u = scattered(8).doubt.scatterOf.meanReversal.uncertaintySi * 1e6;
    expect(u / (4 * Math.sqrt(2 / 15))).toBeGreaterThan(0.9);
    expect(u / (4 * Math.sqrt(2 / 15))).toBeLessThan(1.1);
  });

  it("draws the scatter of a cell towards that of all, as far as chance makes them differ", () => {
    const simulated = (test: ReturnType<typeof scattered>, spreads: readonly number[], runs: number) =>
      simulateTests({
        meansUm: [...test.figures.meanUp, ...test.figures.meanDown],
        spreadsUm: spreads,
        ...{ runs, stepUm: 0, trials: 400, seed: 1 },
      }).repeatability.deviation;
    const u = ({ doubt }: ReturnType<typeof scattered>) => doubt.scatterOf.repeatability.uncertaintySi * 1e6;
    // two runs: s² of the cells 0 and 8 µm², half of each; chance alone makes them differ by 2, seen is 8/7: all alike
    const alike = doubtOf(plantedTest([0, 1, 2, 3], [1, 2], (at, _direction, run) => (at < 2 && run === 1 ? 4 : 0)));
    expect(u(alike)).toBeCloseTo(simulated(alike, new Array(8).fill(2), 2), 9);
    // nine runs, s² 0 and 4: seen 8/7 of the square of the mean, by chance 2/8; real (8/7 − 1/4) / (5/4) = 5/7, kept 20/27
    const runs = [1, 2, 3, 4, 5, 6, 7, 8, 9];
    const offs = [2, -2, 2, -2, 2, -2, 2, -2, 0];
    const unlike = doubtOf(plantedTest([0, 1, 2, 3], runs, (at, _direction, run) => (at < 2 ? offs[run - 1]! : 0)));
    const [wide, narrow] = [Math.sqrt(2 + (20 / 27) * 2), Math.sqrt(2 - (20 / 27) * 2)];
    expect(u(unlike)).toBeCloseTo(simulated(unlike, [wide, wide, narrow, narrow, wide, wide, narrow, narrow], 9), 9);
  });

  it("is drawn anew for another seed", () => {
    const test = fourOf();
    const u = (seed: number) => positioning(test, { seed }).accuracy.standardUncertainty.si;
    expect(u(1)).toBe(found.accuracy.standardUncertainty.si);
    expect(u(2)).not.toBe(u(1));
  });
});

describe("what is said of a test", () => {
  const perfect = ({ gaugeAlone: { accuracy, repeatability, systematic, reversal } }: typeof found) => {
    const [a, r, e, b] = [accuracy, repeatability, systematic, reversal].map((one) => `${one.in("um").toFixed(1)} µm`);
    return `a perfect axis would be given A ${a}, R ${r}, E ${e}, B ${b} with this gauge`;
  };
  it("in one line", () => {
    const { accuracy, systematic, repeatability, lostMotion, gaugeAlone } = found;
    const [a, r] = [gaugeAlone.accuracy, gaugeAlone.repeatability].map((one) => one.in("um").toFixed(1));
    expect(`${found}`).toBe(
      `positioning of X: A = ${accuracy}, E = ${systematic}, R = ${repeatability}, lost motion ${lostMotion} (mean of 4 targets); a perfect axis would be given A ${a} µm, R ${r} µm; less than ISO 230-2 asks for`,
    );
    expect(`${found.test}`).toBe(
      "positioning of X: axis X, 4 targets from 0 mm to 600 mm, 2 runs each way, against scale",
    );
  });

  it("in its notes: what is not said, proven, looked for", () => {
    expect(found.notes.filter((line) => !line.startsWith("intervals of"))).toEqual([
      "of scale nothing is said about how well it lies in line, its temperature against that of the screw: in no U here",
      'no deliberate move proved which way the deviations count: all signs may be turned round (one move towards plus, then "# sense proven: yes")',
      "the gauge does not state its range per turn: a missed turn of the pointer could not be looked for",
      `${perfect(found)}, taken to scatter by one step as it states no repeatability (simulated)`,
    ]);
  });

  it("in its notes of a vertical axis that is fully described", () => {
    const reference = {
      ...{ ...scale, alignmentLimit: slope(mm(1), mm(1000)), temperature: degC(20) },
      temperatureDifferenceLimit: kelvin(0.5),
    };
    const repeatability = { standardDeviation: um(0.8), degreesOfFreedom: 19 };
    const full = gauge({ resolution: um(1), maximumPermissibleError: um(3), rangePerTurn: mm(1), repeatability });
    const vertical = positioning(fourOf({ axis: "Z", gauge: full, reference, senseProven: true }));
    expect(vertical.notes.filter((line) => !line.startsWith("intervals of"))).toEqual([
      "gravity holds the axis on one flank: its play appears when the cutter pulls, and is not in these figures unless the test was done under a known upward pull",
      `${perfect(vertical)}, which states its repeatability (simulated)`,
    ]);
    expect(`${vertical}`).toContain(`, lost motion as it hangs ${vertical.lostMotion} (mean of `);
    expect(vertical.notes.join()).not.toContain("intervals of the lost motion are");
    // R grows with the scatter of a reading: 0.8 µm and its rounding instead of a whole step
    expect(vertical.gaugeAlone.repeatability.si).toBeLessThan(found.gaugeAlone.repeatability.si);
    const lying = positioningNotes({
      ...pick(found),
      doubt: found.doubt,
      test: fourOf({ axis: "Z", vertical: false }),
    });
    expect(lying.join()).not.toContain("gravity");
  });

  it("where an interval holds more often than 95 times in 100", () => {
    const claims = found.notes.filter((line) => line.startsWith("intervals of"));
    expect(claims.map((line) => line.split(" are made")[0])).toEqual(["intervals of the lost motion"]);
  });

  it("of the runs and targets that the standard asks for", () => {
    const short = (count: number, length: number, runs: number) => {
      const at = Array.from({ length: count }, (_, i) => (length * i) / (count - 1));
      const test = plantedTest(
        at,
        Array.from({ length: runs }, (_, i) => i + 1),
        (_at, _direction, run) => run % 2,
      );
      return shortOfStandard(test);
    };
    expect(short(5, 1000, 5)).toEqual([]);
    expect(short(5, 1001, 5)).toEqual(["5 targets on 1001 mm, where the standard asks for 6 (5 a metre, 5 at least)"]);
    expect(short(4, 100, 4)).toEqual([
      "4 runs each way, where the standard asks for 5",
      "4 targets on 100 mm, where the standard asks for 5 (5 a metre, 5 at least)",
    ]);
    expect(short(10, 2000, 5)).toEqual([]);
    expect(short(11, 2001, 5)).toEqual(["a travel above 2 m, for which the standard has another test cycle"]);
  });
});
