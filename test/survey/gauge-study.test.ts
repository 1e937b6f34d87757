import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { rangeFigures, splitByRanges } from "../../kernel-lib/src/survey/gauge-study-ranges.js";
import { StudySplit } from "../../kernel-lib/src/survey/gauge-study-split.js";
import { gauge, gaugeStudy, parseGaugeStudy, type StudyReading } from "../../kernel-lib/src/survey/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Printed {
  readonly values: readonly (readonly (readonly string[])[])[];
  readonly averageAndRange: { readonly from: { readonly [name: string]: string } } & {
    readonly [name: string]: string;
  };
  readonly anova: {
    readonly pooled: { readonly [name: string]: string };
    readonly kept: { readonly [name: string]: string };
  };
}
const printed = fixture<Printed>("gauge/study-10x3x3.json");
const readings: StudyReading[] = printed.values.flatMap((part, i) =>
  part.flatMap((cell, j) => cell.map((value) => ({ part: `${i + 1}`, operator: "ABC"[j]!, value: um(Number(value)) }))),
);
const shape = { parts: 10, operators: 3, repeats: 3 };
const names = { EV: "EV", AV: "AV", INT: "INT", GRR: "GRR", PV: "PV", TV: "TV" };
const sd = (split: StudySplit, key: "EV" | "AV" | "INT" | "GRR" | "PV" | "TV") =>
  split.of(key)!.standardDeviation.in("um");

describe("the published study, 10 parts by 3 people, 3 times each", () => {
  const study = gaugeStudy({ readings });

  it("gives the printed figures of averages and ranges from the printed worksheet", () => {
    const { from, ...figures } = printed.averageAndRange;
    const given = {
      averageRange: Number(from.averageRange),
      differenceOfOperators: Number(from.differenceOfAppraisers),
      rangeOfParts: Number(from.rangeOfParts),
    };
    const { variances } = splitByRanges(given, shape, "the operators")!;
    const split = new StudySplit("", variances, { sigmas: 6, names }, []);
    for (const key of ["EV", "AV", "GRR", "PV", "TV"] as const) {
      expect(sd(split, key).toFixed(5)).toBe(figures[key]);
    }
    for (const key of ["AV", "GRR", "PV"] as const) {
      expect(split.of(key)!.percentOfVariation.toFixed(2)).toBe(figures[`percent${key}`]);
    }
    // the book prints 17.62, where its own 0.20188 over 1.14610 is 17.61
    expect(Math.abs(split.of("EV")!.percentOfVariation - Number(figures.percentEV))).toBeLessThan(0.01);
    expect(String(split.categories)).toBe(figures.categories);
  });

  it("fills the worksheet in as printed, from the readings", () => {
    const { from } = printed.averageAndRange;
    const valuesUm = readings.map(({ value }) => value.in("um"));
    const figures = rangeFigures({ parts: new Array(10).fill(""), operators: ["A", "B", "C"], repeats: 3, valuesUm });
    expect(figures.averageRange.toFixed(4)).toBe(from.averageRange);
    expect(figures.rangeOfParts.toFixed(3)).toBe(from.rangeOfParts);
    // the book takes the difference of means that were rounded first: 0.1903 and −0.2543
    expect(Math.abs(figures.differenceOfOperators! - Number(from.differenceOfAppraisers))).toBeLessThanOrEqual(1e-4);
    expect(sd(study.averageAndRange!, "GRR")).toBeCloseTo(Number(printed.averageAndRange.GRR), 4);
  });

  it("gives the printed components of the analysis of variance without interaction, and goes by it", () => {
    const { pooled } = printed.anova;
    const split = study.withoutInteraction!;
    expect(study.chosen).toBe(split);
    for (const [key, name] of [
      ["EV", "repeats"],
      ["AV", "operators"],
      ["PV", "parts"],
    ] as const) {
      expect((sd(split, key) ** 2).toFixed(6)).toBe(pooled[name]);
    }
    expect(split.of("GRR")!.percentOfVariation.toFixed(2)).toBe(pooled.percentGRR);
    expect(String(split.categories)).toBe(pooled.categories);
  });

  it("gives the printed components with the interaction kept, sets the negative one to zero and says so", () => {
    const split = study.withInteraction!;
    expect((sd(split, "AV") ** 2).toFixed(6)).toBe(printed.anova.kept.operators);
    expect((sd(split, "PV") ** 2).toFixed(6)).toBe(printed.anova.kept.parts);
    expect(sd(split, "INT")).toBe(0);
    expect(split.notes).toEqual([
      "the variance of operators × parts came out negative (-0.00868 µm²) and was set to zero: it is too small for this study to see",
    ]);
  });

  it("says in one line what it found", () => {
    expect(`${gaugeStudy({ readings, tolerance: um(8), name: "ten parts" })}`).toBe(
      "ten parts: 10 parts × 3 operators × 3 repeats; GRR 1.81 µm (6 s), 27.9 % of the whole variation, 22.7 % of the tolerance of 8 µm; 4 groups of parts told apart",
    );
  });

  it("states spreads as 6 or as 5.15 standard deviations", () => {
    const wide = study.chosen.of("EV")!;
    const narrow = gaugeStudy({ readings, sigmas: 5.15 }).chosen.of("EV")!;
    expect(wide.spread.in("um") / wide.standardDeviation.in("um")).toBeCloseTo(6, 12);
    expect(narrow.spread.in("um") / wide.standardDeviation.in("um")).toBeCloseTo(5.15, 12);
  });

  it("is the same in another order of the rows, in another unit and from another height", () => {
    const turned = gaugeStudy({ readings: [...readings].reverse().map((r) => ({ ...r, value: r.value.plus(mm(3)) })) });
    for (const key of ["EV", "AV", "GRR", "PV"] as const) {
      expect(sd(turned.chosen, key)).toBeCloseTo(sd(study.chosen, key), 9);
    }
    const larger = gaugeStudy({ readings: readings.map((r) => ({ ...r, value: r.value.times(25.4) })) });
    for (const { key, percentOfVariation } of study.chosen.components) {
      expect(larger.chosen.of(key)!.percentOfVariation).toBeCloseTo(percentOfVariation, 9);
    }
  });

  it("has variances that add up to the whole", () => {
    for (const split of [study.withInteraction!, study.withoutInteraction!, study.averageAndRange!]) {
      const sum = (["EV", "AV", "INT", "PV"] as const).reduce(
        (s, key) => s + (split.of(key)?.percentOfVariance ?? 0),
        0,
      );
      expect(sum).toBeCloseTo(100, 9);
    }
  });
});

/** readings of a study drawn from known scatters */
function planted(
  seed: number,
  law: { e: number; o: number; i: number; p: number },
  size: readonly [number, number, number],
) {
  const random = randomStream(seed);
  const draw = (n: number, s: number) => Array.from({ length: n }, () => s * random.normal());
  const [parts, operators] = [draw(size[0], law.p), draw(size[1], law.o)];
  return parts.flatMap((part, i) =>
    operators.flatMap((operator, j) => {
      const both = law.i * random.normal();
      return draw(size[2], law.e).map((e) => ({
        part: `P${i}`,
        operator: `D${j}`,
        value: um(part + operator + both + e),
      }));
    }),
  );
}

describe("planted scatters", () => {
  const law = { e: 0.8, o: 1.5, i: 0.7, p: 6 };

  it("are recovered without bias over many studies", () => {
    const sums = { EV: 0, AV: 0, INT: 0, PV: 0 };
    const studies = 400;
    for (let seed = 0; seed < studies; seed++) {
      const { anova } = gaugeStudy({ readings: planted(seed, law, [6, 4, 3]) });
      sums.EV += anova!.variances.repeats / studies;
      sums.AV += anova!.variances.operators / studies;
      sums.INT += anova!.variances.interaction / studies;
      sums.PV += anova!.variances.parts / studies;
    }
    // within about three standard errors of the mean of 400 studies
    expect(sums.EV / law.e ** 2).toBeCloseTo(1, 1);
    expect(Math.abs(sums.INT / law.i ** 2 - 1)).toBeLessThan(0.15);
    expect(Math.abs(sums.AV / law.o ** 2 - 1)).toBeLessThan(0.16);
    expect(Math.abs(sums.PV / law.p ** 2 - 1)).toBeLessThan(0.13);
  });

  it("are told with degrees of freedom that fit how far the estimates scatter", () => {
    // for a scaled chi-squared of ν degrees of freedom, variance over mean squared is 2/ν
    const found = Array.from(
      { length: 300 },
      (_, seed) => gaugeStudy({ readings: planted(seed, law, [6, 4, 3]), interaction: "kept" }).chosen.of("EV")!,
    );
    const values = found.map(({ standardDeviation }) => standardDeviation.in("um") ** 2);
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const variance = values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1);
    expect(found[0]!.degreesOfFreedom).toBeCloseTo(48, 9);
    expect(variance / mean ** 2 / (2 / 48)).toBeGreaterThan(0.75);
    expect(variance / mean ** 2 / (2 / 48)).toBeLessThan(1.3);
  });

  it("keep the interaction where it is large", () => {
    const study = gaugeStudy({
      readings: planted(3, { ...law, i: 5 }, [8, 3, 3]),
      operatorsAre: "days",
      partsAre: "places",
    });
    expect(study.chosen).toBe(study.withInteraction);
    expect(study.notes[0]).toBe(
      "whether days differ more at some places than at others (the interaction): p is below 0.001; it is kept, the limit being 0.25 (common practice, no source)",
    );
  });
});

describe("one operator", () => {
  const study = gaugeStudy({
    readings: readings.filter(({ operator }) => operator === "A").map(({ part, value }) => ({ part, value })),
    partsAre: "places",
  });

  it("gives repeats and places, and says that operators are not tested", () => {
    expect(study.chosen.components.map(({ key }) => key)).toEqual(["EV", "GRR", "PV", "TV"]);
    expect(study.notes).toEqual([
      "one operator only: what operators differ by (AV) is not tested, and GRR holds the repeats alone",
    ]);
    expect(study.chosen.of("EV")!.degreesOfFreedom).toBeCloseTo(20, 9);
    expect(study.averageAndRange!.of("AV")).toBeUndefined();
  });

  it("gives a repeatability that a gauge takes", () => {
    const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4), repeatability: study.repeatability });
    // the mean of the variances within the ten places
    const within = printed.values.map(([cell]) => {
      const own = cell!.map(Number);
      const mean = own.reduce((a, b) => a + b, 0) / 3;
      return own.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 2;
    });
    const pooled = Math.sqrt(within.reduce((a, b) => a + b, 0) / 10);
    expect(dial.repeatability!.standardDeviation.in("um")).toBeCloseTo(pooled, 9);
    expect(dial.repeatability!.degreesOfFreedom).toBeCloseTo(20, 9);
  });
});

it("does not believe repeats that hide within a step of the gauge", () => {
  const coarse = gauge({ resolution: um(2), maximumPermissibleError: um(4) });
  const study = gaugeStudy({ readings: readings.map((r) => ({ ...r, value: r.value.times(2) })), gauge: coarse });
  expect(study.notes.at(-1)).toBe(
    "the repeats scatter by 0.4 µm, less than half a step of 2 µm: take 0.577 µm (step/√12) at least for one reading",
  );
});

describe("a study as text", () => {
  const lines = ["# title: three shims", "# tolerance: 0.02 mm", "# light: evening", "place;day;value/mm"];
  const rows = [
    "A1;1;0,003",
    "A1;1;0,004",
    "A1;2;0,003",
    "A1;2;0,005",
    "B4;1;-0,006",
    "B4;1;-0,006",
    "B4;2;-0,005",
    "B4;2;-0,006",
  ];

  it("is read with its words, tolerance and notes", () => {
    const study = parseGaugeStudy([...lines, ...rows].join("\r\n"));
    expect([study.name, study.words.part, study.words.operator, study.tolerance!.in("mm")]).toEqual([
      "three shims",
      "place",
      "day",
      0.02,
    ]);
    expect(study.readingsOf("B4", "2").map((value) => value.in("um"))).toEqual([-5, -6]);
    expect(study.notes[0]).toBe("light: evening");
  });

  it("is refused with line and column where a reading is missing or the heading is strange", () => {
    expect(refusal(() => parseGaugeStudy([...lines, ...rows, "B4;2;"].join("\n"))).message).toBe(
      'pasted study line 13, column value/mm: "" is not a number; a study needs every reading, read it again',
    );
    expect(refusal(() => parseGaugeStudy("part,value\nA,1")).message).toBe(
      'pasted study line 1: the heading "value" is not known; use part, place, operator, day, set-up, repeat, value/um',
    );
    expect(refusal(() => parseGaugeStudy("part,value/kg\nA,1")).message).toBe(
      'pasted study line 1: the heading "part,value/kg" lacks value with a unit of length; write part,operator,value/um',
    );
  });
});

describe("is refused", () => {
  it("where a cell is short or missing, by its name", () => {
    const short = readings.filter((_, i) => i !== 30);
    expect(refusal(() => gaugeStudy({ readings: short })).message).toBe(
      "gaugeStudy: part 4 has 2 readings by operator B and other cells have 3; read what is missing, or take as many out of every cell",
    );
    const missing = readings.filter(({ part, operator }) => !(part === "10" && operator === "C"));
    expect(refusal(() => gaugeStudy({ readings: missing, partsAre: "places", operatorsAre: "days" })).message).toBe(
      "gaugeStudy: place 10 has 0 readings by day C and other cells have 3; read what is missing, or take as many out of every cell",
    );
  });

  it("where there is too little to tell anything", () => {
    expect(refusal(() => gaugeStudy({ readings: readings.slice(0, 3) })).message).toBe(
      "gaugeStudy: 1 part; at least 2 parts and 2 readings in each cell are needed, 10 and 3 are usual",
    );
    expect(refusal(() => gaugeStudy({ readings: [] })).code).toBe("study-too-small");
    const once = readings.filter((_, i) => i % 3 === 0);
    expect(refusal(() => gaugeStudy({ readings: once })).message).toBe(
      "gaugeStudy: 1 reading in each cell; at least 2 parts and 2 readings in each cell are needed, 10 and 3 are usual",
    );
  });

  it("where all readings are the same", () => {
    expect(refusal(() => gaugeStudy({ readings: readings.map((r) => ({ ...r, value: um(0.3) })) })).message).toBe(
      "gaugeStudy: all 90 readings are the same; read with a finer gauge, or choose parts that differ",
    );
  });

  it("where a bare number or a tolerance of nothing is given", () => {
    const bare = JSON.parse('[{ "part": "1", "value": 3 }]') as StudyReading[];
    expect(refusal(() => gaugeStudy({ readings: bare })).message).toBe(
      "gaugeStudy: reading 1, part 1: 3 is not a length; give one such as um(3)",
    );
    expect(refusal(() => gaugeStudy({ readings, tolerance: um(0) })).message).toBe(
      "gaugeStudy: the tolerance is 0 µm; give its full width as a length above zero, such as um(20)",
    );
  });
});

it("never gives a figure that is no number, whatever the readings", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 12, maxLength: 12 }), (list) => {
      fc.pre(list.some((value) => value !== list[0]));
      const study = gaugeStudy({
        readings: list.map((value, i) => ({
          part: `${i % 3}`,
          operator: `${Math.floor(i / 3) % 2}`,
          value: um(value),
        })),
      });
      for (const split of [study.withInteraction!, study.withoutInteraction!, study.averageAndRange!]) {
        for (const { percentOfVariation } of split.components) expect(percentOfVariation).toBeGreaterThanOrEqual(0);
      }
    }),
    { seed: 73, numRuns: 500 },
  );
});
