import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as q from "../../kernel-lib/src/quantity/index.js";
import { units } from "../../kernel-lib/src/quantity/kinds.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

const { largest, mean, range, smallest, sum, um } = q;
const readings = fc.array(evenly(-1e6, 1e6), { minLength: 1, maxLength: 30 });

describe("sum, mean, largest, smallest and range", () => {
  it("keep the unit, metric and inch mixed", () => {
    expect(`${sum([q.mm(1), q.thou(1), q.um(0.6)])}`).toBe("1.026 mm");
    expect(`${mean([q.inch(1), q.mm(0)])}`).toBe("12.7 mm");
    expect(`${range([q.um(-3), q.um(5)])}`).toBe("8 µm");
    expect(`${sum([q.kN(1), q.newton(500)])}`).toBe("1.5 kN");
  });

  it("give temperatures a mean and a range in kelvin, and no sum", () => {
    const air = [q.degC(19), q.degC(22)];
    expect(`${mean(air)}, ${range(air)}, ${largest(air)}`).toBe("20.5 °C, 3 K, 22 °C");
    expect(refusal(() => sum(air as never))).toEqual({
      code: "kind-mismatch",
      message: "sum: temperatures are points on a scale and have no sum; take their mean",
    });
  });

  it("do not depend on the order of the list, and move and grow with it", () => {
    fc.assert(
      fc.property(readings, evenly(-1e3, 1e3), (values, shift) => {
        const list = values.map(um);
        const turned = [...list].reverse();
        const moved = list.map((value) => value.plus(um(shift)));
        const near = (a: q.Length, b: q.Length) => expect(a.in("um")).toBeCloseTo(b.in("um"), 6);
        near(sum(turned), sum(list));
        near(mean(moved), mean(list).plus(um(shift)));
        near(range(moved), range(list));
        near(largest(list.map((value) => value.negated())), smallest(list).negated());
        expect(largest(list).isLess(mean(list).minus(um(1e-6)))).toBe(false);
      }),
      { seed: 11, numRuns: 100 },
    );
  });

  it("lose no digits in a long list: a tenth of a micrometre, a million times, is 100 mm", () => {
    expect(sum(Array.from({ length: 1_000_000 }, () => um(0.1))).in("mm")).toBe(100);
  });

  it("refuse an empty list, two kinds and a bare number", () => {
    for (const [name, act] of Object.entries<(list: readonly q.Length[]) => unknown>({
      sum,
      mean,
      largest,
      smallest,
      range,
    })) {
      expect(refusal(() => act([]))).toEqual({
        code: "empty-list",
        message: `${name}: the list is empty; give one quantity at least`,
      });
    }
    expect(refusal(() => mean([um(1), q.kelvin(2) as never])).code).toBe("kind-mismatch");
    expect(refusal(() => mean([um(1), q.kelvin(2) as never])).message).toBe(
      "mean: number 2 of the list is 2 K, a temperature difference; give quantities of one kind, as 1 µm is",
    );
    expect(refusal(() => sum([um(1), 3 as never])).message).toBe(
      "sum: number 2 of the list is 3, which has no unit; give quantities of one kind, as 1 µm is",
    );
  });
});

describe("text in inch units", () => {
  it.each([
    [q.um(12.7), "5 tenth"],
    [q.um(25.4), "1 thou"],
    [q.mm(2), "78.7402 thou"],
    [q.mm(25.4), "1 in"],
    [q.m(12), "472.441 in"],
    [q.um(0), "0 thou"],
    [q.degC(20), "68 °F"],
    [q.kelvin(5), "9 °F"],
    [q.newton(4.448_221_615_260_5), "1 lbf"],
    [q.newtonMetre(1.355_817_948_331_4), "12 lbf·in"],
    [q.newtonMetre(13.558_179_483_314), "10 lbf·ft"],
    [q.umPerM(1000 / 12), "1 thou/ft"],
    [q.perKelvin(11.7e-6), "6.5 µin/(in·°F)"],
    [q.gPerCm3(2.7), "0.0975437 lb/in³"],
    [q.mmPerMin(254), "10 in/min"],
    [q.mPerMin(30.48), "100 ft/min"],
    [q.perMin(1200), "1200 1/min"],
    [q.minutes(3), "3 min"],
  ])("of %s", (value, text) => {
    expect((value as q.Length).text("inch")).toBe(text);
  });

  it("and in the units a size suits is read back, for every kind and both systems", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-9, max: 1e6, noNaN: true }), fc.boolean(), (si, minus) => {
        for (const kind of Object.keys(units) as q.Kind[]) {
          const made = q.Quantity.fromSi(kind, minus && kind !== "temperature" ? -si : si);
          for (const system of ["metric", "inch"] as const) {
            const back = q.Quantity.parse(kind, made.text(system));
            // six digits of the number printed; a temperature's number counts from another zero
            const size = kind === "temperature" ? Math.abs(made.si) + 460 : Math.abs(made.si);
            expect(Math.abs(back.si - made.si), `${kind} ${made.text(system)}`).toBeLessThanOrEqual(size * 5.1e-6);
          }
        }
      }),
      { seed: 12, numRuns: 100 },
    );
  });
});

describe("text to the digits an uncertainty allows", () => {
  it("ends at the second digit of u, in any unit", () => {
    expect(um(23.0412).textTo(um(4.1))).toBe("23.0 µm");
    expect(um(23.0412).textTo(um(0.041))).toBe("23.041 µm");
    expect(um(23.0412).textTo(um(4.1), "thou")).toBe("0.91 thou");
    expect(um(23.0412).textTo(um(4.1), "inch")).toBe("9.1 tenth");
    expect(q.degC(20.123).textTo(q.kelvin(0.25))).toBe("20.12 °C");
    expect(um(2314).textTo(um(126), "um")).toBe("2310 µm");
  });

  it("refuses an uncertainty that is none", () => {
    expect(refusal(() => um(1).textTo(um(0))).message).toBe(
      "textTo: the standard uncertainty is 0 µm; give one greater than zero, or use text for an exact value",
    );
    expect(refusal(() => q.degC(1).textTo(q.degC(1) as never)).message).toBe(
      "textTo: 1 °C, a temperature, was given to the temperature 1 °C; give a temperature difference",
    );
  });
});
