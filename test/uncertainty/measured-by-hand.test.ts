import { describe, expect, it } from "vitest";
import { degC, kelvin, perKelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { budgetRows } from "../../kernel-lib/src/uncertainty/budget-rows.js";
import { claimNote } from "../../kernel-lib/src/uncertainty/claim-note.js";
import { measuredCoverage } from "../../kernel-lib/src/uncertainty/coverage.js";
import { improvements } from "../../kernel-lib/src/uncertainty/improvements.js";
import { correlated, covariance, input, Measured, pooledSpread } from "../../kernel-lib/src/uncertainty/index.js";
import { Input } from "../../kernel-lib/src/uncertainty/input.js";
import { budgetSentence, coverageNote } from "../../kernel-lib/src/uncertainty/sentence.js";
import { concise, levelText, statement } from "../../kernel-lib/src/uncertainty/statement.js";

const normal = (label: string, u: number, estimate = 0) =>
  input.normal({ label, estimate: um(estimate), standardUncertainty: um(u) });
const t = (label: string, u: number, degreesOfFreedom: number, estimate = 0) =>
  input.t({ label, estimate: um(estimate), standardUncertainty: um(u), degreesOfFreedom });
const flat = (label: string, u: number) =>
  input.rectangular({ label, estimate: um(0), halfWidth: um(u * Math.sqrt(3)) });
const sumOf = (...inputs: readonly Input<"length">[]) =>
  Measured.of(
    um(20),
    inputs.map((one) => ({ input: one, sensitivity: 1 })),
  );

describe("a measured value by hand", () => {
  const [a, b] = [normal("a", 3), normal("b", 4)];
  it("adds terms of one input and drops those that cancel", () => {
    const terms = [
      { input: a, sensitivity: 2 },
      { input: b, sensitivity: 1 },
      { input: a, sensitivity: -1 },
    ];
    const found = Measured.of(um(1), terms);
    expect(found.terms).toEqual([
      { input: a, sensitivity: 1 },
      { input: b, sensitivity: 1 },
    ]);
    expect(found.standardUncertainty.in("um")).toBeCloseTo(5, 12);
    expect(Measured.of(um(1), [...terms, { input: a, sensitivity: -1 }]).terms).toHaveLength(1);
  });
  it("sums, subtracts and multiplies value and terms", () => {
    const [x, y] = [sumOf(a), sumOf(a, b)];
    expect([x.plus(y).in("um"), x.plus(y).standardUncertainty.in("um")]).toEqual([
      expect.closeTo(40, 9),
      expect.closeTo(Math.hypot(6, 4), 9),
    ]);
    expect([y.minus(x).in("um"), y.minus(x).standardUncertainty.in("um")]).toEqual([0, expect.closeTo(4, 9)]);
    expect([x.times(-2).in("um"), x.times(-2).standardUncertainty.in("um")]).toEqual([
      expect.closeTo(-40, 9),
      expect.closeTo(6, 9),
    ]);
    expect(covariance(x, y.times(2)) * 1e12).toBeCloseTo(18, 9);
    expect(covariance(sumOf(b), x)).toBe(0);
  });
  it("counts inputs of one spread as one line, with the least of its degrees of freedom", () => {
    const group = {};
    const of = (label: string, u: number, degreesOfFreedom: number) =>
      new Input({
        ...{ label, estimate: um(0), standardUncertainty: um(u), degreesOfFreedom, group },
        ...({ distribution: "t", evaluation: "A", source: "" } as const),
      });
    // Welch–Satterthwaite: (9 + 16)² / (9² / 9 + 16² / 4); in one group 25² / (25² / 4)
    expect(sumOf(t("a", 3, 9), t("b", 4, 4)).effectiveDegreesOfFreedom).toBeCloseTo(625 / 73, 9);
    expect(sumOf(of("a", 3, 9), of("b", 4, 4)).effectiveDegreesOfFreedom).toBeCloseTo(4, 9);
    expect(sumOf(of("a", 3, 4), of("b", 4, 9), b).effectiveDegreesOfFreedom).toBeCloseTo(41 ** 2 / (25 ** 2 / 4), 9);
    expect(Measured.of(um(1), []).effectiveDegreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });
  it("takes k from the t table by the truncated degrees of freedom (JCGM 100:2008, table G.2)", () => {
    expect(
      sumOf(t("a", 3, 9), t("b", 4, 4))
        .coverageFactor()
        .toFixed(2),
    ).toBe("2.31");
    expect(
      sumOf(t("a", 1, 1))
        .coverageFactor()
        .toFixed(2),
    ).toBe("12.71");
    expect(
      sumOf(t("a", 1, 5.9))
        .coverageFactor(0.99)
        .toFixed(2),
    ).toBe("4.03");
    expect(sumOf(a).coverageFactor().toFixed(3)).toBe("1.960");
    const [low, high] = sumOf(t("a", 2, 5))
      .interval(0.99)
      .map((end) => end.in("um"));
    expect([low!.toFixed(2), high!.toFixed(2)]).toEqual(["11.94", "28.06"]);
  });
  it("keeps the kind of its differences apart", () => {
    const air = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(0.5) });
    const found = Measured.from(air);
    expect(found.standardUncertainty.kind).toBe("temperature difference");
    expect(found.minus(found).kind).toBe("temperature difference");
    expect(found.plus(Measured.of(kelvin(2), [])).in("degC")).toBeCloseTo(22, 9);
    expect(`${found}`).toBe("20.00 °C ± 0.98 °C (k = 2.0)");
    expect(found.toJSON()).toEqual({ kind: "temperature", si: 293.15, standardUncertainty: 0.5 });
  });
  it("prints in the unit named, and says where it is exact", () => {
    expect(sumOf(a).text("mm")).toBe("0.0200 mm ± 0.0059 mm (k = 2.0)");
    expect(sumOf(a).text()).toBe("20.0 µm ± 5.9 µm (k = 2.0)");
    expect(Measured.of(um(20), []).text("mm")).toBe("0.02 mm (taken as exact)");
    expect(Measured.of(um(20), []).concise()).toBe("20 µm");
    expect(concise(sumOf(normal("a", 0.35)))).toBe("20.00(35) µm");
    expect(concise(sumOf(normal("a", 1)))).toBe("20.0(1.0) µm");
    expect(concise(sumOf(normal("a", 0.5)), "mm")).toBe("0.02000(50) mm");
  });
});

describe("the statement of JCGM 100, 7.2.4", () => {
  it("says value, U, u, k, its law and the level", () => {
    expect(statement(sumOf(normal("a", 1)), "gap")).toBe(
      "gap = (20.0 ± 2.0) µm, where the number after ± is U = k u, with u = 1.0 µm and k = 1.96 from the normal law, and defines an interval with a level of confidence of 95 %",
    );
    expect(statement(sumOf(t("a", 1, 9.7)), "gap", { level: 0.99, unit: "mm" })).toBe(
      "gap = (0.0200 ± 0.0032) mm, where the number after ± is U = k u, with u = 0.0010 mm and k = 3.25 from the t law for 9 degrees of freedom, and defines an interval with a level of confidence of 99 %",
    );
    expect(statement(Measured.of(um(20), []), "gap", { unit: "mm" })).toBe("gap = 0.02 mm (taken as exact)");
    expect([0.95, 0.9545, 0.9973].map(levelText)).toEqual(["95 %", "95.45 %", "99.73 %"]);
  });
});

describe("the rows of a budget", () => {
  const growth = Measured.of(um(22), [
    {
      input: input.normal({
        label: "warming",
        estimate: kelvin(4),
        standardUncertainty: kelvin(0.2),
        source: "thermometer",
      }),
      sensitivity: 5.5e-6,
    },
    {
      input: input.rectangular({ label: "expansion", estimate: perKelvin(11e-6), halfWidth: perKelvin(1e-6) }),
      sensitivity: -2,
    },
    { input: t("reading", 0.5, 9, 1.25), sensitivity: 1 },
    {
      input: input.normal({ label: "factor", estimate: plain(1), standardUncertainty: plain(0.001) }),
      sensitivity: 22e-6,
    },
  ]);
  it("carry each number with its unit, the largest share first", () => {
    const total = (4 / 3 + 1.21 + 0.25 + 0.022 ** 2) as number;
    expect(budgetRows(growth).map(({ input: _, ...row }) => row)).toEqual([
      {
        ...{ label: "expansion", value: "11.00 µm/(m·K)", standardUncertainty: "0.58 µm/(m·K)", evaluation: "B" },
        ...{
          distribution: "rectangular",
          sensitivity: "−2 µm/(µm/(m·K))",
          sensitivityDoubt: 0,
          contribution: "1.2 µm",
        },
        ...{
          share: expect.closeTo(4 / 3 / total, 9),
          degreesOfFreedom: Number.POSITIVE_INFINITY,
          source: "not stated",
        },
      },
      {
        ...{
          label: "warming",
          value: "4.00 K",
          standardUncertainty: "0.20 K",
          evaluation: "B",
          distribution: "normal",
        },
        ...{ sensitivity: "5.5 µm/K", sensitivityDoubt: 0, contribution: "1.1 µm", source: "thermometer" },
        ...{ share: expect.closeTo(1.21 / total, 9), degreesOfFreedom: Number.POSITIVE_INFINITY },
      },
      {
        ...{ label: "reading", value: "1.25 µm", standardUncertainty: "0.50 µm", evaluation: "B", distribution: "t" },
        ...{ sensitivity: "1", sensitivityDoubt: 0, contribution: "0.50 µm", source: "not stated" },
        ...{ share: expect.closeTo(0.25 / total, 9), degreesOfFreedom: 9 },
      },
      {
        ...{ label: "factor", value: "1.0000", standardUncertainty: "0.0010", evaluation: "B", distribution: "normal" },
        ...{ sensitivity: "22 µm", sensitivityDoubt: 0, contribution: "0.022 µm", source: "not stated" },
        ...{ share: expect.closeTo(0.022 ** 2 / total, 9), degreesOfFreedom: Number.POSITIVE_INFINITY },
      },
    ]);
  });
  it("hold the doubt of a sensitivity against its size, and print a plain result as one", () => {
    const first = growth.terms[0]!.input;
    const rows = budgetRows(growth, new Map([[first, 1.1e-6]]));
    expect(rows.map(({ sensitivityDoubt }) => sensitivityDoubt)).toEqual([0, expect.closeTo(0.2, 12), 0, 0]);
    const ratio = Measured.of(plain(3), [{ input: normal("length", 2, 5), sensitivity: 1e3 }]);
    expect(budgetRows(ratio)[0]!.sensitivity).toBe("0.001 1/µm");
    const [inch] = budgetRows(sumOf(normal("reading", 25.4, 254)), undefined, "inch");
    expect([inch!.value, inch!.standardUncertainty, inch!.contribution]).toEqual(["10.0 thou", "1.0 thou", "10 tenth"]);
  });
});

describe("what to improve first", () => {
  it("is what lowers U most when it is halved", () => {
    const found = improvements(sumOf(normal("small", 3), normal("large", 4)));
    const U = (u: number) => expect.closeTo(1.959964 * u, 5);
    expect(found.map(({ label, from, to }) => [label, from.in("um"), to.in("um")])).toEqual([
      ["large", U(5), U(Math.hypot(3, 2))],
      ["small", U(5), U(Math.hypot(1.5, 4))],
    ]);
  });
  it("takes correlated inputs together", () => {
    const [a, b] = correlated(
      [normal("a", 3), normal("b", 4)],
      [
        [1, 0.5],
        [0.5, 1],
      ],
    );
    const found = improvements(a.plus(b).plus(sumOf(normal("c", 1))));
    const whole = Math.sqrt(9 + 16 + 12);
    expect(found.map(({ label, to }) => [label, to.in("um")])).toEqual([
      ["a and b", expect.closeTo(1.959964 * Math.hypot(whole / 2, 1), 5)],
      ["c", expect.closeTo(1.959964 * Math.hypot(whole, 0.5), 5)],
    ]);
  });
});

describe("what speaks against 95 %", () => {
  const uOf = (result: Measured<"length">) => result.standardUncertainty.si;
  const note = (result: Measured<"length">, times = 1, idle: readonly string[] = []) =>
    coverageNote(result, { measurand: "gap", secondOrderSi: times * uOf(result), idle });
  const counted = "counted over 10\u2009000 repeats of the measurement, they hold it";

  it("is a flat input above half of the variance", () => {
    expect(note(sumOf(flat("scale", 0.999), normal("noise", 1)))).toBe("");
    expect(note(sumOf(normal("noise", 1), flat("scale", 2)))).toMatch(
      /^the rectangular input "scale" makes up 80 % of the variance, so they hold it more often; counted over 10\u2009000 repeats of the measurement, they hold it 9[5-7]\.\d times in 100$/,
    );
    expect(note(sumOf(normal("noise", 2), flat("scale", 1)))).toBe("");
    expect(note(sumOf(t("noise", 2, 9), flat("scale", 1)))).toBe("");
  });
  it("is fewer than four effective degrees of freedom", () => {
    expect(note(sumOf(t("few", 1, 4)))).toBe("");
    expect(note(sumOf(t("few", 1, 3)))).toMatch(
      /^with fewer than four effective degrees of freedom they may hold it less often; take more readings; counted over 10\u2009000 repeats of the measurement, they hold it 9[45]\.\d times in 100$/,
    );
  });
  it("is counted where an input of few readings weighs a fifth of u", () => {
    const of = (u: number, nu: number) => note(sumOf(normal("noise", 1), t("few", u, nu)));
    // 0.2 u is 0.2041 of the other
    expect(of(0.206, 3)).toMatch(new RegExp(`^${counted} 9[45]\\.\\d times in 100$`));
    expect(of(0.202, 3)).toBe("");
    expect(of(0.206, 4)).toBe("");
  });
  it("is a model that bends by more than a twentieth of u", () => {
    const bends = (times: string) =>
      `the model bends within the uncertainty of its inputs: with second-order terms u is ${times} times the first-order figure used here`;
    const plainResult = sumOf(normal("noise", 1));
    expect([1.049, 0.951].map((times) => note(plainResult, times))).toEqual(["", ""]);
    expect([1.06, 0.94].map((times) => note(plainResult, times))).toEqual([bends("1.1"), bends("0.94")]);
  });
  it("is an input without effect, alone or among others", () => {
    const idle = "has no effect on the result, neither at first nor at second order; check the model";
    expect(note(sumOf(normal("noise", 1)), 1, ["a", "b"])).toBe(`"a", "b" ${idle}`);
    expect(coverageNote(Measured.of(um(1), []), { measurand: "gap", secondOrderSi: 0, idle: ["a"] })).toBe(
      `"a" ${idle}`,
    );
    expect(coverageNote(Measured.of(um(1), []), { measurand: "gap", secondOrderSi: 0, idle: [] })).toBe("");
  });
  it("is named before the sentence of a claim", () => {
    expect(claimNote("gap", sumOf(normal("noise", 1)))).toBe("");
    expect(claimNote("gap", sumOf(t("few", 1, 3)))).toMatch(
      /^intervals of the gap are made for 95 %: with fewer than four effective degrees of freedom/,
    );
  });
  it("stands at the end of the whole sentence", () => {
    const said = (result: Measured<"length">) =>
      budgetSentence(result, { measurand: "gap", secondOrderSi: uOf(result), idle: [] });
    const hold =
      "intervals made this way hold the true value 95 times in 100, if the model is right and the inputs are as stated";
    expect(said(sumOf(normal("noise", 1)))).toBe(
      `gap: 20.0 µm ± 2.0 µm (k = 2.0), that is 18.0 µm to 22.0 µm; k from the normal law (JCGM 100); ${hold}`,
    );
    expect(said(sumOf(t("noise", 1, 9.8)))).toBe(
      `gap: 20.0 µm ± 2.3 µm (k = 2.3), that is 17.7 µm to 22.3 µm; k from Student's t with 9 effective degrees of freedom (JCGM 100); ${hold}`,
    );
    expect(said(sumOf(t("noise", 1, 1000)))).toContain("Student's t with 1000 effective degrees of freedom");
    expect(said(sumOf(t("noise", 1, 1001)))).toContain("k from the normal law");
    expect(said(Measured.of(um(20), []))).toBe("gap: 20 µm (taken as exact)");
  });
});

describe("coverage counted", () => {
  const rate = (result: Measured<"length">, more: object = {}) => measuredCoverage(result, { seed: 1, ...more }).rate;
  it("is 95 % where U is exact: normal, t of few readings, and a group that shares its spread", () => {
    const pool = pooledSpread([[um(0), um(1), um(2)]]);
    const read = (label: string) => input.fromReadings({ label, readings: [um(1)], pooled: pool });
    const exact = [
      sumOf(normal("a", 1), normal("b", 2)),
      sumOf(t("few", 1, 1)),
      sumOf(t("few", 1, 3)),
      sumOf(read("a"), read("b")),
    ];
    // of 10,000 the rate scatters by 0.0022
    for (const result of exact) expect(Math.abs(rate(result) - 0.95)).toBeLessThan(0.008);
  });
  it("follows the level, and goes over as many repeats as asked for, in thousands of two", () => {
    expect(Math.abs(rate(sumOf(normal("a", 1)), { level: 0.5 }) - 0.5)).toBeLessThan(0.02);
    expect(Math.abs(rate(sumOf(t("a", 1, 2)), { level: 0.8 }) - 0.8)).toBeLessThan(0.016);
    const found = measuredCoverage(sumOf(normal("a", 1)), { seed: 2, repeats: 2500 });
    expect(found.repeats).toBe(4000);
    expect(found.rate).toBe(found.hits / 4000);
    expect(measuredCoverage(sumOf(normal("a", 1)), { seed: 2, repeats: 4000 })).toEqual(found);
    expect(measuredCoverage(sumOf(normal("a", 1)), { seed: 3, repeats: 4000 }).hits).not.toBe(found.hits);
  });
  it("of one flat input alone is all of it, of an arcsine one with k = 1 half: sin(45°) in a swing of √2 u", () => {
    expect(rate(sumOf(flat("a", 1)))).toBe(1);
    const swing = input.arcsine({ label: "swing", estimate: um(0), halfWidth: um(1) });
    // U at 68.27 % is u, half of the time within ± 1/√2 of the swing
    expect(
      Math.abs(rate(Measured.of(um(0), [{ input: swing, sensitivity: -3 }]), { level: 0.6827 }) - 0.5),
    ).toBeLessThan(0.02);
  });
});

describe("an input", () => {
  const facts = {
    ...{ label: "x", estimate: degC(20), standardUncertainty: kelvin(1), degreesOfFreedom: 4, source: "" },
    ...({ distribution: "normal", evaluation: "B" } as const),
  };
  it("says label, estimate, u, law and type in one line", () => {
    expect(`${new Input(facts)}`).toBe("x: 20 °C, u = 1 K (t, type B)");
    expect(normal("gap", 25.4, 50.8).text("inch")).toBe("gap: 2 thou, u = 1 thou (normal, type B)");
    expect(new Input(facts).group).toBeInstanceOf(Input);
  });
  it("is refused without a u of its kind above zero, and a u better than two readings", () => {
    const of = (more: object) => () => new Input({ ...facts, ...more } as never);
    expect(of({ standardUncertainty: um(1) })).toThrow(
      'input "x": its uncertainty is a length; give a temperature difference',
    );
    expect(of({ standardUncertainty: 1 })).toThrow(
      'input "x": its uncertainty is no quantity; give a temperature difference',
    );
    expect(of({ standardUncertainty: kelvin(0) })).toThrow(
      'input "x": its uncertainty is 0 K; give one greater than zero, or use the plain quantity where the value is exact',
    );
    expect(of({ degreesOfFreedom: Number.NaN })).toThrow(
      'input "x": NaN degrees of freedom; give 1 or more, or leave them out where the uncertainty is exactly known',
    );
    expect(new Input({ ...facts, degreesOfFreedom: 1 }).degreesOfFreedom).toBe(1);
  });
});
