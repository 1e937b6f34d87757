import { inspect } from "node:util";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { units } from "../../kernel-lib/src/quantity/kinds.js";
import { printDecimals, printTwoDigits } from "../../kernel-lib/src/quantity/print.js";
import { Quantity } from "../../kernel-lib/src/quantity/quantity.js";
import * as q from "../../kernel-lib/src/quantity/unit-functions.js";
import { refusal } from "../refusal.js";

describe("the units", () => {
  // SI Brochure (9th edition, 2019), chapters 2 to 4; the inch is 25.4 mm exactly (NIST SP 811, appendix B)
  it.each([
    [q.m, "length", 1],
    [q.mm, "length", 1e-3],
    [q.um, "length", 1e-6],
    [q.inch, "length", 0.0254],
    [q.thou, "length", 25.4e-6],
    [q.tenth, "length", 2.54e-6],
    [q.mm2, "area", 1e-6],
    [q.cm3, "volume", 1e-6],
    [q.deg, "angle", Math.PI / 180],
    [q.rad, "angle", 1],
    [q.umPerM, "slope", 1e-6],
    [q.mmPerM, "slope", 1e-3],
    [q.arcsec, "slope", Math.PI / 648_000],
    [q.kelvin, "temperature difference", 1],
    [q.fahrenheitDegrees, "temperature difference", 5 / 9],
    [q.seconds, "time", 1],
    [q.minutes, "time", 60],
    [q.hours, "time", 3600],
    [q.newton, "force", 1],
    [q.kN, "force", 1000],
    [q.newtonMetre, "torque", 1],
    [q.kW, "power", 1000],
    [q.MPa, "pressure", 1e6],
    [q.GPa, "pressure", 1e9],
    [q.mPerMin, "cutting speed", 1 / 60],
    [q.mmPerMin, "feed", 1e-3 / 60],
    [q.perMin, "rotational speed", 1 / 60],
    [q.perKelvin, "expansion coefficient", 1],
    [q.umPerKelvin, "thermal drift", 1e-6],
    [q.kg, "mass", 1],
    [q.gPerCm3, "density", 1000],
    [q.plain, "number", 1],
  ] as const)("%# are what the SI says", (of, kind, si) => {
    expect(of(1).kind).toBe(kind);
    expect(of(1).si / si).toBeCloseTo(1, 14);
  });

  it("of temperature start at 273.15 K and 32 °F", () => {
    expect([q.degC(0).si, q.degF(32).si].map((si) => si.toFixed(10))).toEqual(["273.1500000000", "273.1500000000"]);
    expect(q.degF(33).si - q.degF(32).si).toBeCloseTo(5 / 9, 10);
  });

  it("print by their symbols", () => {
    const symbols = Object.values(units).map((row) => Object.values(row).map(({ symbol }) => symbol));
    expect(symbols.map((row) => row.join(" "))).toEqual([
      " % ppm",
      "mm µm m nm in thou tenth",
      "mm² m² in²",
      "cm³ mm³ m³ in³",
      "° ′ ″ rad mrad",
      "µm/m mm/m µrad ″ mm/300 mm thou/ft",
      "°C K °F",
      "K °C °F",
      "min s h",
      "N kN lbf",
      "N·m lbf·ft lbf·in",
      "kW W hp",
      "MPa GPa Pa N/mm² psi",
      "m/min m/s ft/min",
      "mm/min m/s in/min",
      "1/min 1/s",
      "µm/(m·K) 1/K µin/(in·°F)",
      "µm/K mm/K µm/°C µin/°F thou/°F m/K",
      "kg g lb",
      "kg/m³ g/cm³ lb/in³",
    ]);
  });

  it("give back the very number that was put in, to nine decimals: 12.7 µm, not 12.700000000000001", () => {
    const thousandths = fc.integer({ min: -1e7, max: 1e7 }).map((n) => n / 1000);
    fc.assert(
      fc.property(thousandths, (value) => {
        expect(q.um(value).in("um")).toBe(value);
        expect(q.thou(value).in("thou")).toBe(value);
        expect(q.kN(value).in("kN")).toBe(value);
      }),
      { seed: 41, numRuns: 500 },
    );
    expect(q.degC(20.1).in("degC")).toBe(20.1);
    // what is not such a number stays what it is
    expect(q.um(1 / 3).in("um")).toBeCloseTo(1 / 3, 15);
  });
});

describe("a quantity shown and printed", () => {
  it("has a real minus sign, and two digits where it is a width", () => {
    expect([printDecimals(-1.26, 1), printDecimals(2, -3), printDecimals(-0.001, 1)]).toEqual(["−1.3", "2", "0.0"]);
    expect(printTwoDigits(q.um(1.234))).toBe("1.2 µm");
    expect(printTwoDigits(q.um(1.25), "mm")).toBe("0.0013 mm");
    expect(printTwoDigits(q.um(12.7), "inch")).toBe("5.0 tenth");
    expect(printTwoDigits(q.kelvin(0.5), "degF")).toBe("0.90 °F");
  });

  it("is its text where it is inspected, and kind and SI value as JSON", () => {
    expect(inspect(q.um(3))).toBe("3 µm");
    expect(JSON.stringify(q.mm(2))).toBe('{"kind":"length","si":0.002}');
  });
});

it("refuses a text as a factor, a sum of temperatures, and a list of two kinds, each by its code", () => {
  expect(refusal(() => q.mm(1).times("2" as never))).toEqual({
    code: "kind-mismatch",
    message: "times: 2 is neither a number nor a quantity; give one of them",
  });
  expect(refusal(() => q.mm(1).over(null as never)).message).toBe(
    "over: null is neither a number nor a quantity; give one of them",
  );
  expect(refusal(() => q.degC(20).abs()).message).toBe(
    "abs: 20 °C is a point on a scale; take a difference of two first",
  );
  expect(refusal(() => q.degC(20).negated()).code).toBe("kind-mismatch");
  expect(refusal(() => q.mm(1).equals(q.kelvin(1) as never)).message).toBe(
    "equals: 1 K, a temperature difference, was given to the length 1 mm; give a length",
  );
  expect(refusal(() => q.mm(1).isGreater(1 as never)).code).toBe("kind-mismatch");
  expect(refusal(() => Quantity.fromSi("length", Number.NaN)).code).toBe("not-finite");
});
