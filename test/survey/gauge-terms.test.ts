import { describe, expect, it } from "vitest";
import { deg, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { gaugeInputs } from "../../kernel-lib/src/survey/gauge-inputs.js";
import { gaugeStudy, parseGaugeStudy, type StudyReading } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";
import { inspected } from "./inspected.js";

const plain = { name: "dial", resolution: um(1), maximumPermissibleError: um(3) };
const close = (value: number, digits = 9) => expect.closeTo(value, digits);
const sd = (list: readonly number[]) => {
  const mean = list.reduce((a, b) => a + b, 0) / list.length;
  return Math.sqrt(list.reduce((s, v) => s + (v - mean) ** 2, 0) / (list.length - 1));
};

describe("the inputs of a gauge, whole", () => {
  const said = (...given: Parameters<typeof gaugeInputs>) =>
    gaugeInputs(...given).map(({ label, standardUncertainty, degreesOfFreedom, source, estimate }) => {
      expect(estimate.si).toBe(0);
      return [label, close(standardUncertainty.in("um"), 6), degreesOfFreedom, source].map((x, i) =>
        i === 1 ? standardUncertainty.in("um").toFixed(4) : x,
      );
    });
  const endless = Number.POSITIVE_INFINITY;

  it("resolution and maximum permissible error", () => {
    // rectangular, half-widths 0.5 and 3 µm over √3 (JCGM 100, 4.3.7)
    expect(said(gauge(plain))).toEqual([
      ["dial, resolution", "0.2887", endless, "half the step that is read"],
      ["dial, maximum permissible error", "1.7321", endless, "maximum permissible error over the range used, ±"],
    ]);
    const analogue = gauge({ ...plain, resolution: um(10), display: "analogue", fractionEstimated: 0.2 });
    expect(said(analogue)[0]![1]).toBe("0.5774");
    // a lever at 60° turns a step of 1 µm into half a µm of height
    expect(said(gauge({ ...plain, leverAngle: deg(60) }))[0]![1]).toBe("0.1443");
    expect(said(gauge({ ...plain, sense: "minus" }))[0]![1]).toBe("0.2887");
  });

  it("repeatability where it shows beyond the step", () => {
    const with_ = (s: number, readings = 1, more: object = {}) =>
      said(gauge({ ...plain, ...more, repeatability: { standardDeviation: um(s), degreesOfFreedom: 7 } }), {
        readings,
      })[0]!;
    expect(with_(2, 4)).toEqual([
      "dial, repeatability",
      "1.0000",
      7,
      "repeatability of the gauge, mean of 4; the step it is read to is in it",
    ]);
    expect(with_(0.5, 100)[1]).toBe("0.0500");
    expect(with_(0.49, 100)[0]).toBe("dial, resolution");
    expect(with_(0.3)[0]).toBe("dial, repeatability");
    expect(with_(0.28)[0]).toBe("dial, resolution");
    expect(with_(2, 1, { leverAngle: deg(60) })[1]).toBe("1.0000");
    expect(with_(0, 1)[0]).toBe("dial, resolution");
  });

  it("hysteresis where the approach mixes", () => {
    const known = gauge({ ...plain, hysteresis: um(2) });
    expect(said(known, { approach: "mixed" })[2]).toEqual([
      "dial, hysteresis",
      "0.5774",
      endless,
      "half the hysteresis, as the approach mixes",
    ]);
    expect(said(known, { approach: "same side" })).toHaveLength(2);
    expect(refusal(() => gaugeInputs(gauge({ ...plain, hysteresis: um(0) }), { approach: "mixed" })).code).toBe(
      "gauge-use",
    );
  });

  it("angles, on the reading they act on", () => {
    const angle = (more: object, use: object = {}) =>
      said(gauge({ ...plain, ...more }), { reading: mm(1), ...use })[2]!;
    const c = (a: number) => Math.cos((a * Math.PI) / 180);
    const u = (half: number) => (half / Math.sqrt(3)).toFixed(4);
    expect(angle({})).toEqual([
      "dial, angle of plunger",
      u(1000 * (1 - c(5))),
      endless,
      "angles known to ± 5°, on a reading of 1000 µm",
    ]);
    expect(angle({}, { reading: mm(-1) })[1]).toBe(u(1000 * (1 - c(5))));
    // at 20° the larger error is that of standing steeper
    expect(angle({ plungerTilt: deg(20) }, { angleLimit: deg(2) })[1]).toBe(u(1000 * (1 - c(22) / c(20))));
    expect(angle({ plungerTilt: deg(-20) }, { angleLimit: deg(2) })[1]).toBe(u(1000 * (1 - c(22) / c(20))));
    expect(angle({ leverAngle: deg(20) }, { angleLimit: deg(2) })).toEqual([
      "dial, angle of plunger and lever",
      u(1000 * (1 - c(2) + 1 - c(22) / c(20))),
      endless,
      "angles known to ± 2°, on a reading of 1000 µm",
    ]);
    // angles known for certain, or nothing read, give none
    expect(said(gauge(plain), { reading: mm(1), angleLimit: deg(0) })).toHaveLength(2);
    expect(said(gauge(plain), { reading: mm(0) })).toHaveLength(2);
    expect(said(gauge(plain), { angleLimit: deg(3) })).toHaveLength(2);
    expect(said(gauge(plain), { reading: mm(1), angleLimit: deg(30) })).toHaveLength(3);
    expect(refusal(() => gaugeInputs(gauge(plain), { reading: mm(1), angleLimit: deg(-1) }))).toEqual({
      code: "gauge-use",
      message: "gaugeInputs: angleLimit is −1°; give 0° to 30°",
    });
  });

  it("refuse readings that are no count", () => {
    for (const readings of [0, 1.5, -1, Number.NaN])
      expect(refusal(() => gaugeInputs(gauge(plain), { readings })).message).toBe(
        `gaugeInputs: readings is ${readings}; give the number of readings that the value is the mean of, 1 or more`,
      );
  });
});

describe("a gauge is refused, field by field", () => {
  const said = (more: object) => refusal(() => gauge({ ...plain, ...more })).message;
  it.each([
    [{ maximumPermissibleError: undefined }, "gauge: maximumPermissibleError is missing; give a length such as um(4)"],
    [{ maximumPermissibleError: um(0) }, "gauge: maximumPermissibleError is 0 µm; it must be greater than zero"],
    [
      { maximumPermissibleErrorWhole: 5 },
      "gauge: maximumPermissibleErrorWhole is 5, which has no unit; give a length such as mm(1)",
    ],
    [{ range: um(-1) }, "gauge: range is −1 µm; it must be greater than zero"],
    [{ rangePerTurn: deg(2) }, "gauge: rangePerTurn is 2°, an angle; give a length such as mm(1)"],
    [{ hysteresis: 1 }, "gauge: hysteresis is 1, which has no unit; give a length such as um(1)"],
    [{ plungerTilt: um(1) }, "gauge: plungerTilt is 1 µm, a length; give an angle such as deg(15)"],
    [
      { plungerTilt: deg(-61) },
      "gauge: plungerTilt is −61°; beyond 60° the reading says too little, set the stylus flatter or the plunger straighter",
    ],
    [{ leverAngle: 3 }, "gauge: leverAngle is 3, which has no unit; give an angle such as deg(15)"],
    [
      { repeatability: { standardDeviation: 1, degreesOfFreedom: 3 } },
      "gauge: repeatability.standardDeviation is 1, which has no unit; give a length such as um(0.5)",
    ],
    [
      { repeatability: { standardDeviation: um(-1), degreesOfFreedom: 3 } },
      "gauge: repeatability.standardDeviation is −1 µm; it must be zero or more",
    ],
    [
      { repeatability: { standardDeviation: um(1), degreesOfFreedom: 0 } },
      "gauge: repeatability.degreesOfFreedom is 0; give a number greater than zero, readings less one for one series",
    ],
    [
      { display: "digital", fractionEstimated: 1 },
      'gauge: fractionEstimated is given for a digital gauge; leave it out, or write display: "analogue"',
    ],
    [
      { display: "analogue", fractionEstimated: 0 },
      "gauge: fractionEstimated is 0; give the part of a division that is estimated, 0.2 for a fifth, at most 1",
    ],
  ])("%#", (more, message) => {
    expect(said(more)).toBe(message);
  });

  it("and takes what lies just within", () => {
    const made = gauge({
      ...plain,
      display: "analogue",
      fractionEstimated: 1,
      hysteresis: um(0),
      range: mm(1),
      rangePerTurn: mm(1),
      leverAngle: deg(60),
      plungerTilt: deg(-60),
      repeatability: { standardDeviation: um(0), degreesOfFreedom: 1 },
    });
    expect(made.name).toBe("dial");
    expect(gauge({ resolution: um(1), maximumPermissibleError: um(1), range: mm(1) }).name).toBe("gauge");
    expect(gauge({ ...plain, rangePerTurn: mm(5) }).rangePerTurn!.in("mm")).toBe(5);
  });
});

describe("a gauge study of one operator", () => {
  const parts = { A: [3, 4, 3, 6], B: [-6, -6, -5, -6], C: [11, 10, 11, 12] };
  const readings: StudyReading[] = Object.entries(parts).flatMap(([part, list]) =>
    list.map((value) => ({ part, value: um(value) })),
  );
  const study = gaugeStudy({ readings });

  it("has the mean squares of one way", () => {
    const within = Object.values(parts).reduce((s, list) => s + 3 * sd(list) ** 2, 0) / 9;
    const between = 4 * sd(Object.values(parts).map((list) => list.reduce((a, b) => a + b, 0) / 4)) ** 2;
    const part = (between - within) / 4;
    const { components } = study.chosen;
    const whole = within + part;
    const line = (key: string, name: string, variance: number, degreesOfFreedom?: number) => ({
      key,
      name,
      standardDeviation: expect.objectContaining({ si: close(1e-6 * Math.sqrt(variance), 15) }),
      spread: expect.objectContaining({ si: close(6e-6 * Math.sqrt(variance), 15) }),
      percentOfVariation: close(100 * Math.sqrt(variance / whole)),
      percentOfVariance: close((100 * variance) / whole),
      ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom: close(degreesOfFreedom) }),
    });
    // Satterthwaite: (Σ c MS)² over Σ (c MS)²/ν
    const nu = part ** 2 / ((between / 4) ** 2 / 2 + (within / 4) ** 2 / 9);
    expect(components).toEqual([
      line("EV", "repeats (EV)", within, 9),
      line("GRR", "gauge in all (GRR)", within, 9),
      line("PV", "parts (PV)", part, nu),
      line("TV", "whole (TV)", whole),
    ]);
    expect(study.chosen.categories).toBe(Math.floor(1.41 * Math.sqrt(part / within)));
    expect([study.anova, study.withInteraction, study.withoutInteraction]).toEqual([undefined, undefined, undefined]);
    expect(study.chosen.method).toBe("analysis of variance, one way");
    expect(study.chosen.notes).toEqual([]);
  });

  it("says itself in one line, and its split too", () => {
    expect(`${study}`).toMatch(
      /^gauge study: 3 parts × 1 operator × 4 repeats; GRR 5\.92 µm \(6 s\), 11\.7 % of the whole variation; 12 groups of parts told apart$/,
    );
    // mean squares by hand: 0.972 µm² of repeats, 4 · 70.77 µm² of parts
    expect(`${study.chosen}`).toBe(
      "analysis of variance, one way: EV 0.986 µm, GRR 0.986 µm, PV 8.4 µm, TV 8.46 µm (one standard deviation each)",
    );
    expect(inspected(study)).toBe(`${study}`);
    expect(inspected(study.chosen)).toBe(`${study.chosen}`);
    const wide = gaugeStudy({ readings: readings.map((r) => ({ ...r, value: r.value.times(1000) })) });
    expect(`${wide}`).toMatch(/GRR \d\.\d\d mm \(6 s\)/);
  });

  it("fills in the worksheet of averages and ranges", () => {
    const ranges = study.averageAndRange!;
    // mean range (3 + 1 + 2)/3; 1/d₂ for four, 1/d₂* for three (AIAG, K₁ and K₃)
    expect(ranges.of("EV")!.standardDeviation.in("um")).toBeCloseTo(2 * 0.4857, 9);
    expect(ranges.of("PV")!.standardDeviation.in("um")).toBeCloseTo((11 + 5.75) * 0.5231, 9);
    expect(ranges.of("AV")).toBeUndefined();
    expect(ranges.of("GRR")!.standardDeviation.in("um")).toBeCloseTo(2 * 0.4857, 9);
    expect(ranges.method).toBe("averages and ranges");
  });

  it("gives its readings back part by part", () => {
    expect(study.readingsOf("B").map((v) => Number(v.in("um").toFixed(6)))).toEqual(parts.B);
    expect(study.readingsOf("C", "").map((v) => Number(v.in("um").toFixed(6)))).toEqual(parts.C);
    expect(refusal(() => study.readingsOf("D"))).toEqual({
      code: "study-cell",
      message: "gaugeStudy: there is no part D read by the one operator",
    });
    expect(refusal(() => study.readingsOf("A", "Anna"))).toEqual({
      code: "study-cell",
      message: "gaugeStudy: there is no part A read by operator Anna",
    });
    expect(Object.isFrozen(study)).toBe(true);
  });

  it("sets parts to zero that differ by less than repeats say, and says so", () => {
    const flat = gaugeStudy({
      readings: [1, 3, 2, 2.1].map((value, i) => ({ part: i < 2 ? "A" : "B", value: um(value) })),
      partsAre: "places",
    });
    expect(flat.chosen.of("PV")!.standardDeviation.si).toBe(0);
    expect(flat.chosen.of("PV")).not.toHaveProperty("degreesOfFreedom");
    // MS of places (2 · 0.025²·2) less that of repeats (2 + 0.005)/2, halved
    expect(flat.chosen.notes).toEqual([
      "the variance of the places came out negative (-0.5 µm²) and was set to zero: it is too small for this study to see",
    ]);
    expect(flat.chosen.categories).toBe(0);
    expect(flat.notes).toEqual([
      "one operator only: what operators differ by (AV) is not tested, and GRR holds the repeats alone",
    ]);
  });

  it("whose repeats all agree says that this is no proof", () => {
    const still = gaugeStudy({
      readings: [1, 1, 2, 2].map((value, i) => ({ part: i < 2 ? "A" : "B", operator: "x", value: um(value) })),
      operatorsAre: "set-ups",
      tolerance: um(50),
    });
    expect(still.notes).toEqual([
      "one set-up only: what set-ups differ by (AV) is not tested, and GRR holds the repeats alone",
      "all repeats agree: the step of the gauge hides its scatter, which is no proof that there is none",
    ]);
    expect(`${still}`).toBe(
      "gauge study: 2 parts × 1 set-up × 2 repeats; GRR 0 µm (6 s), 0 % of the whole variation, 0 % of the tolerance of 50 µm; no scatter of the gauge seen",
    );
    // parts × (repeats − 1)
    expect(still.repeatability.degreesOfFreedom).toBe(2);
  });
});

describe("a gauge study of several operators", () => {
  const cells = {
    A: { x: [1, 2], y: [4, 3], z: [2, 2] },
    B: { x: [11, 10], y: [13, 15], z: [10, 12] },
    C: { x: [-5, -4], y: [-5, -2], z: [-6, -5] },
  };
  const readings: StudyReading[] = Object.entries(cells).flatMap(([part, row]) =>
    Object.entries(row).flatMap(([operator, list]) => list.map((value) => ({ part, operator, value: um(value) }))),
  );
  const all = Object.values(cells).map((row) => Object.values(row));
  const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
  const grand = mean(all.flat(2));
  const partMeans = all.map((row) => mean(row.flat()));
  const operatorMeans = [0, 1, 2].map((j) => mean(all.flatMap((row) => row[j]!)));
  const ms = {
    parts: (6 * partMeans.reduce((s, m) => s + (m - grand) ** 2, 0)) / 2,
    operators: (6 * operatorMeans.reduce((s, m) => s + (m - grand) ** 2, 0)) / 2,
    interaction:
      (2 *
        all.reduce(
          (s, row, i) =>
            s + row.reduce((t, cell, j) => t + (mean(cell) - partMeans[i]! - operatorMeans[j]! + grand) ** 2, 0),
          0,
        )) /
      4,
    repeats: all.flat().reduce((s, cell) => s + sd(cell) ** 2, 0) / 9,
  };

  it("keeps the interaction, or pools it, by the text-book's formulas", () => {
    const kept = gaugeStudy({ readings, interaction: "kept" });
    const variance = (study: typeof kept, key: "EV" | "AV" | "INT" | "PV" | "GRR") =>
      study.chosen.of(key)!.standardDeviation.in("um") ** 2;
    expect(kept.chosen).toBe(kept.withInteraction);
    expect(variance(kept, "EV")).toBeCloseTo(ms.repeats, 9);
    expect(variance(kept, "INT")).toBeCloseTo(Math.max(0, (ms.interaction - ms.repeats) / 2), 9);
    expect(variance(kept, "AV")).toBeCloseTo((ms.operators - ms.interaction) / 6, 9);
    expect(variance(kept, "PV")).toBeCloseTo((ms.parts - ms.interaction) / 6, 9);
    const pooled = gaugeStudy({ readings, interaction: "left out" });
    expect(pooled.chosen).toBe(pooled.withoutInteraction);
    const rest = (4 * ms.interaction + 9 * ms.repeats) / 13;
    expect(variance(pooled, "EV")).toBeCloseTo(rest, 9);
    expect(pooled.chosen.of("EV")!.degreesOfFreedom).toBeCloseTo(13, 9);
    expect(variance(pooled, "AV")).toBeCloseTo((ms.operators - rest) / 6, 9);
    expect(variance(pooled, "PV")).toBeCloseTo((ms.parts - rest) / 6, 9);
    expect(variance(pooled, "GRR")).toBeCloseTo((ms.operators - rest) / 6 + rest, 9);
    // GRR holds the pooled row twice: Satterthwaite takes it once, with its two shares added
    const c = 1 - 1 / 6;
    expect(pooled.chosen.of("GRR")!.degreesOfFreedom).toBeCloseTo(
      (ms.operators / 6 + c * rest) ** 2 / ((ms.operators / 6) ** 2 / 2 + (c * rest) ** 2 / 13),
      9,
    );
    expect(pooled.chosen.of("AV")!.degreesOfFreedom).toBeCloseTo(
      ((ms.operators - rest) / 6) ** 2 / ((ms.operators / 6) ** 2 / 2 + (rest / 6) ** 2 / 13),
      9,
    );
    expect(pooled.chosen.components.map(({ name }) => name)).toEqual([
      "repeats (EV)",
      "operators (AV)",
      "gauge in all (GRR)",
      "parts (PV)",
      "whole (TV)",
    ]);
    expect(kept.withInteraction!.of("INT")!.name).toBe("operators × parts (INT)");
  });

  it("says why", () => {
    const p = gaugeStudy({ readings }).anova!.interaction.p;
    const what = `whether operators differ more at some parts than at others (the interaction): p is ${p.toFixed(3)}; `;
    expect(gaugeStudy({ readings, interaction: "kept" }).notes[0]).toBe(`${what}it is kept, as asked`);
    expect(gaugeStudy({ readings, interaction: "left out" }).notes[0]).toBe(
      `${what}it is taken into the repeats, as asked`,
    );
    expect(gaugeStudy({ readings }).notes[0]).toBe(
      `${what}${p <= 0.25 ? "it is kept" : "it is taken into the repeats"}, the limit being 0.25 (common practice, no source)`,
    );
  });

  it("fills in averages and ranges, the operators less what repeats make of them", () => {
    const { averageAndRange } = gaugeStudy({ readings });
    const ev = mean(all.flat().map((cell) => Math.max(...cell) - Math.min(...cell))) * 0.8862;
    const av = ((Math.max(...operatorMeans) - Math.min(...operatorMeans)) * 0.5231) ** 2 - ev ** 2 / 6;
    expect(averageAndRange!.of("AV")!.standardDeviation.in("um")).toBeCloseTo(Math.sqrt(av), 9);
    expect(averageAndRange!.of("GRR")!.standardDeviation.in("um")).toBeCloseTo(Math.sqrt(av + ev ** 2), 9);
    const same = readings.map((r) => ({ ...r, operator: r.operator === "y" ? "x2" : r.operator! }));
    expect(gaugeStudy({ readings: same }).averageAndRange!.notes).toEqual([]);
  });

  it("sets operators that differ by nothing to zero there too, and leaves the tables where they end", () => {
    const alike = [0, 1].flatMap((part) =>
      ["x", "y"].flatMap((operator) => [0, 4].map((value) => ({ part: `${part}`, operator, value: um(value + part) }))),
    );
    expect(gaugeStudy({ readings: alike, operatorsAre: "days" }).averageAndRange!.notes).toEqual([
      "the variance of the days came out negative and was set to zero: it is too small for this study to see",
    ]);
    const many = (parts: number) =>
      gaugeStudy({
        readings: Array.from({ length: 2 * parts }, (_, i) => ({ part: `${i >> 1}`, value: um(i % 5) })),
      });
    expect(many(10).averageAndRange).toBeDefined();
    expect(many(11).averageAndRange).toBeUndefined();
    expect(many(11).notes).toContain("averages and ranges are left out: their factors are tabled up to 10 of each");
  });

  it("does not believe repeats within half a step of its gauge, and believes them beyond", () => {
    const last = (step: number) =>
      gaugeStudy({ readings, interaction: "left out", gauge: gauge({ ...plain, resolution: um(step) }) }).notes.at(-1);
    const s = Math.sqrt((4 * ms.interaction + 9 * ms.repeats) / 13);
    expect(last(2 * s + 0.01)).toMatch(
      /^the repeats scatter by .* µm, less than half a step of .*at least for one reading$/,
    );
    expect(last(2 * s - 0.01)).toMatch(/^whether operators/);
  });
});

describe("a sheet of a gauge study", () => {
  const rows = ["A,1", "A,2", "B,5", "B,7"];
  const read = (lines: readonly string[], options = {}) => parseGaugeStudy(lines.join("\n"), options);

  it("calls parts and operators as its heading does, in any unit, with columns that say nothing", () => {
    const made = read(["Part,Set-up,repeat,VALUE/thou,,", "A,1,1,1", "A,1,2,2", "B,1,1,5", "B,1,2,7"]);
    expect(made.words).toEqual({ part: "part", operator: "set-up" });
    expect(made.readingsOf("B").map((v) => v.in("thou"))).toEqual([close(5), close(7)]);
    expect(read(["place,value/um", ...rows]).words).toEqual({ part: "place", operator: "operator" });
    expect(read(["value/um,part,day", "1,A,m", "2,A,m", "5,B,m", "7,B,m"]).words.operator).toBe("day");
    expect(read(["part,operator,value/um", "A,x,1", "A,x,2", "B,x,5", "B,x,7"]).words.operator).toBe("operator");
    expect(read(["part,value/um", ...rows]).name).toBe("pasted study");
    expect(read(["part,value/um", ...rows], { name: "n" }).name).toBe("n");
    expect(read(["# title: t", "part,value/um", ...rows], { name: "n" }).name).toBe("t");
  });

  it("keeps its notes, takes its tolerance and gauge, and lets the code say more", () => {
    const above = ["# light: poor", "# read at night", "# tolerance: 20 um", "# gauge resolution: 4 um"];
    const mpe = "# gauge maximum permissible error: 8 um";
    const made = read([...above, mpe, "part,value/um", ...rows], { notes: ["and cold"] });
    expect(made.notes.slice(0, 3)).toEqual(["light: poor", "read at night", "and cold"]);
    expect(made.tolerance!.in("um")).toBeCloseTo(20, 9);
    expect(made.gauge!.resolution.in("um")).toBeCloseTo(4, 9);
    expect(read([...above, mpe, "part,value/um", ...rows], { tolerance: um(30) }).tolerance!.in("um")).toBeCloseTo(
      30,
      9,
    );
    expect(read(["part,value/um", ...rows], { gauge: gauge(plain) }).gauge!.name).toBe("dial");
    expect(read(["part,value/um", ...rows]).gauge).toBeUndefined();
    expect(refusal(() => read(["# tolerance: wide", "part,value/um", ...rows])).message).toMatch(
      /^pasted study line 1: "# tolerance:" length: "wide"/,
    );
  });

  it.each([
    [
      ["part,value/um", "A,x", "A,2"],
      "not-a-number",
      'pasted study line 2, column value/um: "x" is not a number; a study needs every reading, read it again',
    ],
    [
      ["part,value/um", "A"],
      "not-a-number",
      'pasted study line 2, column value/um: "" is not a number; a study needs every reading, read it again',
    ],
    [["part,day,value/um", "A,,1"], "blank", "pasted study line 2, column day: is blank; write who or when"],
    [
      ["part,value/um", ",1", "A,2"],
      "study-reading",
      'gaugeStudy: reading 1 does not say which part it is of; give part: "C4"',
    ],
    [
      ["part,value", "A,1"],
      "heading",
      'pasted study line 1: the heading "value" is not known; use part, place, operator, day, set-up, repeat, value/um',
    ],
    [
      ["value/um", "1"],
      "heading",
      'pasted study line 1: the heading "value/um" lacks part; write part,operator,value/um',
    ],
    [
      ["part,day", "A,1"],
      "heading",
      'pasted study line 1: the heading "part,day" lacks value with a unit of length; write part,operator,value/um',
    ],
    [
      ["part,value/um", "A,1", "A,2", "B,3"],
      "study-unbalanced",
      "gaugeStudy: part B has 1 reading and other cells have 2; read what is missing, or take as many out of every cell",
    ],
    [
      ["part,value/um", "A,1", "A,1", "B,1", "B,1"],
      "study-flat",
      "gaugeStudy: all 4 readings are the same; read with a finer gauge, or choose parts that differ",
    ],
    [
      ["part,value/um", "A,1", "B,1"],
      "study-too-small",
      "gaugeStudy: 1 reading in each cell; at least 2 parts and 2 readings in each cell are needed, 10 and 3 are usual",
    ],
  ])("is refused: %j", (lines, code, message) => {
    expect(refusal(() => read(lines))).toEqual({ code, message });
  });

  it("and so is a study whose tolerance or spread is none", () => {
    const readings = [1, 2, 5, 7].map((value, i) => ({ part: i < 2 ? "A" : "B", value: um(value) }));
    const code = (more: object) => refusal(() => gaugeStudy({ readings, ...more } as never));
    expect(code({ tolerance: um(-1) })).toEqual({
      code: "tolerance",
      message: "gaugeStudy: the tolerance is −1 µm; give its full width as a length above zero, such as um(20)",
    });
    expect(code({ tolerance: deg(1) }).code).toBe("tolerance");
    expect(code({ tolerance: 20 }).code).toBe("tolerance");
    expect(code({ sigmas: 5 })).toEqual({
      code: "sigmas",
      message: "gaugeStudy: sigmas is 5; give 6 or 5.15, the two that are in use",
    });
    expect(code({ readings: [{ part: 3, value: um(1) }] }).code).toBe("study-reading");
    expect(code({ readings: [{ part: "A", value: deg(1) }] })).toEqual({
      code: "study-reading",
      message: "gaugeStudy: reading 1, part A: 1° is not a length; give one such as um(3)",
    });
    expect(gaugeStudy({ readings, sigmas: 5.15, tolerance: um(10) }).chosen.of("EV")!.percentOfTolerance).toBeCloseTo(
      (100 * 5.15 * Math.sqrt(1.25)) / 10,
      9,
    );
  });
});
