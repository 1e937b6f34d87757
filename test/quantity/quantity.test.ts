import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Kind, toSi, type Unit, units } from "../../kernel-lib/src/quantity/kinds.js";
import { productRows, quotientRows } from "../../kernel-lib/src/quantity/products.js";
import { Quantity } from "../../kernel-lib/src/quantity/quantity.js";
import * as q from "../../kernel-lib/src/quantity/unit-functions.js";
import { refusal } from "../refusal.js";

const kinds = Object.keys(units) as Kind[];
const anyKind = fc.constantFrom(...kinds);
/** thousandths, so that scaling to SI keeps two different values apart */
const size = fc.integer({ min: -1e9, max: 1e9 }).map((n) => n / 1000);

describe("unit conversion", () => {
  // NIST Special Publication 811 (2008), appendix B.8; the digits as printed there
  const published: readonly [Quantity<Kind>, string, string][] = [
    [q.inch(1), "mm", "25.4"],
    [Quantity.parse("force", "1 lbf"), "N", "4.448222"],
    [Quantity.parse("torque", "1 lbf·ft"), "N.m", "1.355818"],
    [Quantity.parse("torque", "1 lbf·in"), "N.m", "0.1129848"],
    [Quantity.parse("pressure", "1 psi"), "Pa", "6894.757"],
    [Quantity.parse("mass", "1 lb"), "kg", "0.4535924"],
    [Quantity.parse("power", "1 hp"), "W", "745.6999"],
    [Quantity.parse("volume", "1 in³"), "cm3", "16.38706"],
    [Quantity.parse("area", "1 in²"), "mm2", "645.16"],
  ];
  it.each(published)("agrees with NIST SP 811: %s in %s", (value, unit, printed) => {
    const decimals = printed.split(".")[1]?.length ?? 0;
    expect(value.in(unit as never).toFixed(decimals)).toBe(printed);
  });

  it("equals what is the same to the last bit, in any unit, and nothing else", () => {
    expect(q.mm(1).equals(q.um(1000))).toBe(true);
    expect(q.mm(1).equals(q.um(1000.000001))).toBe(false);
  });

  it("reads °F by each of its spellings, and no number behind a letter", () => {
    for (const written of ["F", "°F", "ºF", "degF"]) {
      expect(Quantity.parse("temperature", `68 ${written}`).in("degC")).toBeCloseTo(20, 10);
    }
    for (const written of ["x.5 mm", "1x.5 mm"]) expect(() => Quantity.parse("length", written)).toThrow(written);
    expect(Quantity.parse("length", "-.5 mm").in("mm")).toBe(-0.5);
  });

  it("prints a force in newtons below a thousand, in kilonewtons from there", () => {
    expect([q.newton(999), q.newton(1000)].map((force) => `${force}`)).toEqual(["999 N", "1 kN"]);
  });

  it("puts the fixed points of water where the scales have them", () => {
    expect(q.degF(212).in("degC")).toBeCloseTo(100, 10);
    expect(q.degF(32).in("degC")).toBeCloseTo(0, 10);
    expect(q.degC(20).in("degF")).toBeCloseTo(68, 10);
  });

  it("gives back what was put in, in every unit of every kind", () => {
    fc.assert(
      fc.property(anyKind, size, (kind, value) => {
        for (const [name, unit] of Object.entries(units[kind] as Record<string, Unit>)) {
          const made = Quantity.fromSi(kind, toSi(unit, value));
          expect(Math.abs(made.in(name as never) - value)).toBeLessThanOrEqual(1e-9 + Math.abs(value) * 1e-14);
        }
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});

describe("arithmetic", () => {
  it("keeps the kind through sums and differences", () => {
    expect(q.mm(1).plus(q.inch(1)).in("mm")).toBeCloseTo(26.4, 12);
    expect(q.degC(22).minus(q.degC(20)).kind).toBe("temperature difference");
    expect(q.degC(22).minus(q.kelvin(2)).text()).toBe("20 °C");
    expect(q.degC(20).plus(q.fahrenheitDegrees(18)).text()).toBe("30 °C");
  });

  it("turns products and quotients into the right kind", () => {
    expect(
      q
        .mm(500)
        .times(q.perKelvin(11.5e-6).times(q.kelvin(10)))
        .text(),
    ).toBe("57.5 µm");
    expect(q.kN(2).times(q.mm(100)).in("N.m")).toBeCloseTo(200, 10);
    expect(q.mm(300).over(q.mm(150)).text()).toBe("2");
    expect(q.mm(0.05).times(q.perMin(2000)).in("mm/min")).toBeCloseTo(100, 10);
    expect(q.mmPerMin(100).over(q.perMin(2000)).in("um")).toBeCloseTo(50, 9);
    expect(q.umPerM(40).times(q.mm(500)).text()).toBe("20 µm");
    expect(q.kN(1).over(q.mm2(100)).in("MPa")).toBeCloseTo(10, 10);
  });

  it("is undone by its opposite for every pair of kinds in the tables", () => {
    for (const a of kinds) {
      for (const b of Object.keys(productRows[a] ?? {}) as Kind[]) {
        const product = Quantity.fromSi(a, 6).times(Quantity.fromSi(b, 3) as never) as Quantity<Kind>;
        expect([a, b, product.si]).toEqual([a, b, 18]);
        expect(productRows[b]?.[a], `${b} × ${a}`).toBe(productRows[a]?.[b]);
      }
      for (const b of Object.keys(quotientRows[a] ?? {}) as Kind[]) {
        const quotient = Quantity.fromSi(a, 6).over(Quantity.fromSi(b, 3) as never) as Quantity<Kind>;
        const back = quotient.kind === "number" ? quotient.times(Quantity.fromSi(b, 3) as never) : undefined;
        expect([a, b, quotient.si]).toEqual([a, b, 2]);
        if (back) expect(back.kind).toBe(b);
      }
    }
  });

  it("adds in any order and undoes what it did", () => {
    fc.assert(
      fc.property(size, size, (a, b) => {
        expect(
          q
            .mm(a)
            .plus(q.um(b))
            .equals(q.um(b).plus(q.mm(a))),
        ).toBe(true);
        expect(q.mm(a).minus(q.mm(a)).si).toBe(0);
        expect(q.mm(a).negated().abs().equals(q.mm(a).abs())).toBe(true);
        expect(q.mm(a).isLess(q.mm(b))).toBe(a < b);
        expect(q.mm(a).isGreater(q.mm(b))).toBe(a > b);
      }),
      { seed: 2, numRuns: 200 },
    );
  });
});

describe("what a quantity refuses", () => {
  const loose = q.mm as (value: unknown) => Quantity<"length">;
  const cases: readonly [string, () => unknown, string, string][] = [
    ["NaN", () => q.mm(Number.NaN), "not-finite", "mm: NaN is not a length; give a finite number"],
    ["text for a number", () => loose("12"), "not-finite", "mm: 12 is not a length; give a finite number"],
    [
      "an overflow",
      () => q.mm(1e308).times(1e10),
      "not-finite",
      "length: Infinity is not a value; give a finite number",
    ],
    [
      "a division by nothing",
      () => q.mm(1).over(0),
      "not-finite",
      "length: Infinity is not a value; give a finite number",
    ],
    [
      "another kind, where the compiler did not look",
      () => q.mm(1).plus(q.degC(20) as never),
      "kind-mismatch",
      "plus: 20 °C, a temperature, was given to the length 1 mm; give a length",
    ],
    [
      "a bare number in a sum",
      () => q.mm(1).plus(5 as never),
      "kind-mismatch",
      "plus: 5, which has no unit, was given to the length 1 mm; give a length",
    ],
    [
      "a comparison with another kind",
      () => q.mm(1).isLess(q.kN(1) as never),
      "kind-mismatch",
      "isLess: 1 kN, a force, was given to the length 1 mm; give a length",
    ],
    [
      "a product that means nothing",
      () => q.mm(1).times(q.kW(1) as never),
      "kind-mismatch",
      "times: a length times a power has no meaning here; check which two values were meant",
    ],
    [
      "scaling a temperature",
      () => q.degC(20).times(2 as never),
      "kind-mismatch",
      "times: 20 °C is a point on a scale; take a difference of two first",
    ],
    [
      "a unit of another kind",
      () => q.mm(1).in("degC" as never),
      "unknown-unit",
      'length: "degC" is not one of its units; use mm, um, m, nm, in, thou, tenth',
    ],
    [
      "a name every object has",
      () => q.mm(1).in("constructor" as never),
      "unknown-unit",
      'length: "constructor" is not one of its units; use mm, um, m, nm, in, thou, tenth',
    ],
    [
      "an operator of the language",
      () => (q.mm(1) as never as number) * 2,
      "operator",
      "1 mm is a length, not a bare number; use .plus, .minus, .times, .over, .isLess or .in(unit)",
    ],
  ];
  it.each(cases)("%s", (_name, act, code, message) => {
    expect(refusal(act)).toEqual({ code, message });
  });
});
