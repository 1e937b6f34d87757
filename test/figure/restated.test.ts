import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { restated, restatedCell, restatedUnit } from "../../kernel-lib/src/figure/restated.js";
import { type Kind, Quantity } from "../../kernel-lib/src/quantity/index.js";
import { units } from "../../kernel-lib/src/quantity/kinds.js";
import { printDecimals } from "../../kernel-lib/src/quantity/print.js";

const inch = (text: string, kept?: readonly string[]) => restated(text, "inch", kept);

/** metric units that texts are printed in, with the kind they are read back as */
const metric: readonly (readonly [Kind, string])[] = [
  ["length", "mm"],
  ["length", "um"],
  ["length", "nm"],
  ["length", "m"],
  ["area", "mm2"],
  ["volume", "mm3"],
  ["volume", "cm3"],
  ["slope", "um/m"],
  ["slope", "mm/m"],
  ["slope", "mm/300mm"],
  ["temperature", "degC"],
  ["temperature difference", "K"],
  ["force", "N"],
  ["force", "kN"],
  ["torque", "N.m"],
  ["power", "kW"],
  ["pressure", "MPa"],
  ["pressure", "GPa"],
  ["pressure", "N/mm2"],
  ["cutting speed", "m/min"],
  ["feed", "mm/min"],
  ["expansion coefficient", "um/(m.K)"],
  ["thermal drift", "um/K"],
  ["thermal drift", "mm/K"],
  ["mass", "kg"],
  ["density", "kg/m3"],
];
const symbolOf = (kind: Kind, unit: string) =>
  (units[kind] as { readonly [u: string]: { symbol: string } })[unit]!.symbol;

describe("a metric text in inch units", () => {
  it.each(metric)(
    "says the same %s in %s: rounded to the digits it had, it is the metric number again",
    (kind, unit) => {
      fc.assert(
        fc.property(
          fc.double({ min: -5000, max: 5000, noNaN: true }),
          fc.integer({ min: 0, max: 3 }),
          (value, decimals) => {
            const number = printDecimals(value, decimals);
            const said = inch(`is ${number} ${symbolOf(kind, unit)} at A1`);
            const [, again] = /^is (.*) at A1$/.exec(said)!;
            expect(again).not.toContain(symbolOf(kind, unit));
            const back = Quantity.parse(kind, again!) as Quantity<Kind>;
            expect(printDecimals(back.in(unit as never), decimals)).toBe(number);
          },
        ),
        { seed: 11, numRuns: 60 },
      );
    },
  );

  it("gives places to the thou, heights in thou, two digits to U", () => {
    expect(inch("x 400 mm, y −57.5 mm: 12.3 µm")).toBe("x 15.748 in, y −2.264 in: 0.484 thou");
    expect(inch("bow −18.1 µm ± 3.4 µm (k = 2.0)")).toBe("bow −0.71 thou ± 0.13 thou (k = 2.0)");
    expect(inch("± 4 µm")).toBe("± 0.16 thou");
    expect(inch("0.2 mm to 0.3 mm")).toBe("0.008 in to 0.012 in");
  });

  it("takes two numbers with one unit together, and leaves a factor alone", () => {
    expect(inch("x 20 to 500 mm, 40 × 50 mm")).toBe("x 0.787 to 19.685 in, 1.575 × 1.969 in");
    expect(inch("3.57 × 0.90 µm; heights × 2000")).toBe("3.57 × 0.0354 thou; heights × 2000");
  });

  it("knows a difference of temperature from a temperature", () => {
    expect(inch("20 °C ± 2 °C, 3 K apart; read at ± 1 °C")).toBe("68.0 °F ± 3.6 °F, 5 °F apart; read at ± 2 °F");
  });

  it("leaves alone what is no metric length, what is quoted and the names kept", () => {
    for (const text of ["M8 screw, 35 places, 12 min, 95 %, 11.5 µmm, F3 m", 'halving "dial 0.01 mm"']) {
      expect(inch(text)).toBe(text);
    }
    expect(inch("plate 300 mm: 10 mm", ["plate 300 mm"])).toBe("plate 300 mm: 0.394 in");
    expect(restated("x 400 mm", "metric")).toBe("x 400 mm");
  });

  it("restates the numbers of a cell by the unit of its heading", () => {
    expect(restatedCell("−12.5, 3", "µm", "inch")).toBe("−0.492, 0.12");
    expect(restatedCell("40 to 60", "mm", "inch")).toBe("1.575 to 2.362");
    expect(restatedCell("–", "mm", "inch")).toBe("–");
    expect(restatedCell("12", "%", "inch")).toBe("12");
    expect([restatedUnit("µm²", "inch"), restatedUnit("%", "inch"), restatedUnit("mm", "metric")]).toEqual([
      "thou²",
      "%",
      "mm",
    ]);
  });
});
