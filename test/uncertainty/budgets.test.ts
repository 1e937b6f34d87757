import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { kelvin, plain, Quantity, um } from "../../kernel-lib/src/quantity/index.js";
import {
  budget,
  budgetOfNumbers,
  budgets,
  correlated,
  input,
  Measured,
} from "../../kernel-lib/src/uncertainty/index.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

const said = (act: () => unknown) => refusal(act).message;
const normal = (label: string, estimate: number, u: number) =>
  input.normal({ label, estimate: um(estimate), standardUncertainty: um(u) });
const number = (label: string, estimate: number, u: number) =>
  input.normal({ label, estimate: plain(estimate), standardUncertainty: plain(u) });

describe("budgets", () => {
  const left = normal("left", 4, 1);
  const right = normal("right", 10, 2);

  it("gives every output its budget, with covariance and correlation of the shared inputs", () => {
    const line = budgets({
      inputs: { left, right },
      model: ({ left, right }) => ({ rise: right.minus(left), middle: left.plus(right).over(2) }),
      measurands: { rise: "rise of the line" },
    });
    expect(line.of.rise.measurand).toBe("rise of the line");
    expect(line.of.middle.standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(5) / 2, 9);
    expect(line.covariance("rise", "middle") * 1e12).toBeCloseTo((4 - 1) / 2, 9);
    expect(line.correlation("rise", "middle")).toBeCloseTo(0.6, 9);
    expect(line.covarianceMatrix()[1]![0]).toBe(line.covariance("rise", "middle"));
    expect(`${line}`).toBe(
      "rise of the line: 6.0 µm ± 4.4 µm (k = 2.0)\nmiddle: 7.0 µm ± 2.2 µm (k = 2.0)\ncorrelation: r(rise, middle) = 0.600",
    );
  });

  it("keeps its outputs correlated when a later budget uses them", () => {
    const line = budgets({
      inputs: { left, right },
      model: ({ left, right }) => ({ rise: right.minus(left), middle: left.plus(right).over(2) }),
    });
    const end = budget({
      measurand: "right end again",
      inputs: line.of,
      model: ({ rise, middle }) => middle.plus(rise.over(2)),
    });
    expect(end.standardUncertainty.in("um")).toBeCloseTo(2, 9);
    expect(end.terms).toHaveLength(2);
  });

  it("refuses a model without a record, with one output, with a wrong name, with an output that is no quantity", () => {
    const of = (model: () => unknown) => () => budgets({ inputs: {}, model: model as never });
    expect(said(of(() => um(1)))).toBe(
      "budgets: the model gives 1 µm; end it with a record of two quantities or more, or use budget for one",
    );
    expect(said(of(() => 3))).toBe(
      "budgets: the model gives 3; end it with a record of two quantities or more, or use budget for one",
    );
    expect(said(of(() => ({ a: um(1), b: 2 })))).toBe(
      'budgets "b": the model gives 2, not a quantity; end it with a value that has a unit',
    );
    const two = { a: um(1), b: um(2) };
    expect(said(() => budgets({ inputs: {}, model: () => two, measurands: { c: "sum" } }))).toBe(
      'budgets: a measurand "c" is named, but the model gives a, b; use those names',
    );
  });
});

describe("a model that goes wrong", () => {
  const a = number("a", 1, 0.5);

  it("is named with the place where it gives no value", () => {
    const of = (model: (a: number) => number) => () =>
      budgetOfNumbers({
        measurand: "y",
        inputs: { a },
        units: { a: "1" },
        result: { kind: "number", unit: "1" },
        model: ({ a }) => model(a),
      });
    expect(refusal(of(() => Number.NaN))).toEqual({
      code: "not-finite",
      message:
        'budget "y": with every input at its estimate the model refuses (number: NaN is not a value; give a finite number)',
    });
    expect(said(of((v) => Math.log(v - 0.6)))).toBe(
      'budget "y": with "a" at 0.5 (u below its estimate) the model refuses (number: NaN is not a value; give a finite number)',
    );
  });

  it("is named when its kind changes", () => {
    const model = ({ a }: { a: Quantity<"number"> }) => (a.si > 1 ? kelvin(1) : um(1)) as Quantity<"length">;
    expect(said(() => budget({ measurand: "y", inputs: { a }, model }))).toBe(
      'budget "y": the model gives a temperature difference where it gave a length before; let it end in one kind',
    );
  });

  it("is named when it never uses an input", () => {
    expect(refusal(() => budget({ measurand: "y", inputs: { a, spare: um(3) }, model: (q) => q.a }))).toEqual({
      code: "input-unused",
      message: 'budget "y": the model never uses the input "spare"; use it, or leave it out of the inputs',
    });
  });

  it("says which input has no effect, and does not say so of one that acts only with another", () => {
    const b = number("b", 0, 1);
    const c = number("c", 0, 1);
    const idle = budget({ measurand: "y", inputs: { a, b }, model: ({ a, b }) => a.plus(b.times(0)) });
    expect(idle.coverageNote()).toBe(
      '"b" has no effect on the result, neither at first nor at second order; check the model',
    );
    const together = budget({ measurand: "y", inputs: { a, b, c }, model: ({ a, b, c }) => a.plus(b.times(c)) });
    expect(together.coverageNote()).not.toContain("no effect");
    expect(together.secondOrderUncertainty.in("1")).toBeCloseTo(Math.sqrt(0.25 + 1), 9);
  });

  it("says that the formula for ν does not hold for correlated inputs without one ν", () => {
    const t = (label: string, degreesOfFreedom: number) =>
      input.t({ label, estimate: um(1), standardUncertainty: um(1), degreesOfFreedom });
    const matrix = [
      [1, 0.5],
      [0.5, 1],
    ];
    const sum = (options?: { degreesOfFreedom: number }) => {
      const [x, y] = correlated([t("x", 6), t("y", 20)], matrix, options);
      return budget({ measurand: "sum", inputs: { x, y }, model: ({ x, y }) => x.plus(y) });
    };
    expect(sum().coverageNote()).toBe(
      "the Welch–Satterthwaite formula does not hold for correlated inputs (x, y): the least of their degrees of freedom, 6, is taken for all of them; state one for the group",
    );
    expect(sum().sentence()).toContain("Welch–Satterthwaite formula does not hold");
    expect(sum().effectiveDegreesOfFreedom).toBeCloseTo(6, 9);
    expect(sum({ degreesOfFreedom: 12 }).coverageNote()).toBe("");
    expect(sum({ degreesOfFreedom: 12 }).effectiveDegreesOfFreedom).toBeCloseTo(12, 9);
  });
});

describe("reporting", () => {
  // JCGM 100, 7.2.2 and 7.2.4 (from memory): the mass of 100 g, u = 0.35 mg, k = 2.26 for ν = 9
  const mass = budget({
    measurand: "m_S",
    inputs: {
      m: input.t({
        label: "mass",
        estimate: Quantity.fromSi("mass", 0.100_021_47),
        standardUncertainty: Quantity.fromSi("mass", 0.35e-6),
        degreesOfFreedom: 9,
      }),
    },
    model: ({ m }) => m,
  });

  it("writes the mass of JCGM 100 7.2.2 and 7.2.4 as printed there: 100.02147(35) g, (100.02147 ± 0.00079) g, k = 2.26", () => {
    expect(mass.concise("g")).toBe("100.02147(35) g");
    expect(mass.statement({ unit: "g" })).toBe(
      "m_S = (100.02147 ± 0.00079) g, where the number after ± is U = k u, with u = 0.00035 g and k = 2.26 from the t law for 9 degrees of freedom, and defines an interval with a level of confidence of 95 %",
    );
  });

  it("states 95.45 % with k = 2 for the normal law, and other levels when asked", () => {
    const gap = Measured.from(normal("gap", 20, 1));
    expect(gap.coverageFactor(0.9545).toFixed(2)).toBe("2.00");
    expect(gap.expandedUncertainty(0.99).in("um").toFixed(3)).toBe("2.576");
    expect(mass.statement({ level: 0.9545, unit: "g" })).toContain("level of confidence of 95.45 %");
    for (const level of [0, 1, -0.5, 95, Number.NaN]) {
      expect(said(() => gap.coverageFactor(level))).toBe(
        `coverageFactor: level ${level}; give a level of confidence between 0 and 1, such as 0.95`,
      );
    }
  });

  it("keeps the point in a u of one unit or more", () => {
    expect(Measured.from(normal("gap", 20.26, 1.24)).concise()).toBe("20.3(1.2) µm");
    expect(Measured.from(normal("gap", 726.4, 12.4)).concise("um")).toBe("726(12) µm");
  });
});

describe("laws of budgets", () => {
  const estimate = evenly(0.5, 50);
  const u = evenly(1e-3, 0.05);
  const three = fc.array(fc.tuple(estimate, u), { minLength: 3, maxLength: 3 });
  const of = (rows: readonly (readonly [number, number])[], order = [0, 1, 2], shift = 0) => {
    const inputs = rows.map(([x, ux], i) => number(`x${i}`, x, ux));
    const named = Object.fromEntries(order.map((i) => [`x${i}`, inputs[i]!]));
    return budgetOfNumbers({
      measurand: "y",
      inputs: named,
      units: Object.fromEntries(order.map((i) => [`x${i}`, "1" as const])),
      result: { kind: "number", unit: "1" },
      model: (q) => (q.x0! * q.x1!) / q.x2! + shift,
    });
  };

  it("the order of the inputs does not matter, and a constant moves the value alone", () => {
    fc.assert(
      fc.property(three, evenly(-10, 10), (rows, shift) => {
        const plainOrder = of(rows);
        const turned = of(rows, [2, 0, 1]);
        const moved = of(rows, [0, 1, 2], shift);
        const ratio = (b: Measured<"number">) => b.standardUncertainty.in("1") / plainOrder.standardUncertainty.in("1");
        expect(ratio(turned)).toBeCloseTo(1, 10);
        expect(ratio(moved)).toBeCloseTo(1, 6);
        expect(moved.in("1") - plainOrder.in("1")).toBeCloseTo(shift, 9);
      }),
      { seed: 31, numRuns: 60 },
    );
  });

  it("sensitivities of a quotient are the derivatives, within the bound that the row states", () => {
    fc.assert(
      fc.property(three, (rows) => {
        const [[a], [b], [c]] = rows as [[number, number], [number, number], [number, number]];
        const exact: Record<string, number> = { x0: b / c, x1: a / c, x2: (-a * b) / c ** 2 };
        const found = of(rows);
        const doubts = new Map(found.rows().map(({ label, sensitivityDoubt }) => [label, sensitivityDoubt]));
        for (const { input, sensitivity } of found.terms) {
          const off = Math.abs(sensitivity / exact[input.label]! - 1);
          expect(off).toBeLessThanOrEqual(doubts.get(input.label)!);
          expect(off).toBeLessThan(1e-4);
        }
      }),
      { seed: 32, numRuns: 60 },
    );
  });

  it("as every u goes to nothing, u of the result follows in proportion and second order goes away", () => {
    fc.assert(
      fc.property(three, (rows) => {
        const small = rows.map(([x, ux]) => [x, ux / 100] as const);
        const [wide, narrow] = [of(rows), of(small)];
        expect((100 * narrow.standardUncertainty.si) / wide.standardUncertainty.si).toBeCloseTo(1, 2);
        expect(narrow.secondOrderUncertainty.si / narrow.standardUncertainty.si).toBeCloseTo(1, 5);
      }),
      { seed: 33, numRuns: 60 },
    );
  });
});
