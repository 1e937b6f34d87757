import { describe, expect, it } from "vitest";
import { deg, degC, kelvin, plain, um } from "../../kernel-lib/src/quantity/index.js";
import { correlated, input, Measured, pooledSpread, report } from "../../kernel-lib/src/uncertainty/index.js";

describe("input", () => {
  it("divides the half-width by √3, √6 and √2, as JCGM 100 4.3.7, 4.3.9 and JCGM 101 6.4.6 print", () => {
    const limits = { label: "x", estimate: um(0), halfWidth: um(6) };
    expect(input.rectangular(limits).standardUncertainty.in("um")).toBeCloseTo(6 / Math.sqrt(3), 12);
    expect(input.triangular(limits).standardUncertainty.in("um")).toBeCloseTo(6 / Math.sqrt(6), 12);
    expect(input.arcsine(limits).standardUncertainty.in("um")).toBeCloseTo(6 / Math.sqrt(2), 12);
  });

  it("takes mean, s/√n and n − 1 from readings, never less than the steps of the display allow", () => {
    const readings = [3, 5, 4, 4, 9].map(um);
    const fine = input.fromReadings({ label: "x", readings });
    expect(fine.estimate.in("um")).toBeCloseTo(5, 12);
    expect(fine.standardUncertainty.in("um")).toBeCloseTo(Math.sqrt(22 / 4 / 5), 12);
    expect([fine.degreesOfFreedom, fine.evaluation, fine.source]).toEqual([4, "A", "5 readings"]);
    const coarse = input.fromReadings({ label: "x", readings: [um(4), um(4)], resolution: um(2) });
    expect(coarse.standardUncertainty.in("um")).toBeCloseTo(2 / Math.sqrt(12), 12);
    expect([coarse.degreesOfFreedom, coarse.evaluation]).toEqual([Number.POSITIVE_INFINITY, "B"]);
  });

  it("gives a temperature an uncertainty in kelvin", () => {
    const warm = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(0.25) });
    expect(`${Measured.from(warm)}`).toBe("20.00 °C ± 0.49 °C (k = 2.0)");
    expect(`${warm}`).toBe("air: 20 °C, u = 0.25 K (normal, type B)");
    const read = input.fromReadings({ label: "air", readings: [degC(20), degC(21)] });
    expect(read.standardUncertainty.kind).toBe("temperature difference");
  });

  it("refuses what is no spread, with a sentence to act on", () => {
    const bad = (u: number) => () => input.normal({ label: "x", estimate: um(1), standardUncertainty: um(u) });
    expect(bad(0)).toThrow(
      'input "x": its uncertainty is 0 µm; give one greater than zero, or use the plain quantity where the value is exact',
    );
    expect(bad(-1)).toThrow('input "x": its uncertainty is −1 µm');
    expect(() => input.normal({ label: "x", estimate: um(1), standardUncertainty: kelvin(1) as never })).toThrow(
      'input "x": its uncertainty is a temperature difference; give a length',
    );
    expect(() => input.normal({ label: "x", estimate: um(1), standardUncertainty: 3 as never })).toThrow(
      'input "x": its uncertainty is no quantity; give a length',
    );
    expect(() => input.normal({ label: "x", estimate: deg(1), standardUncertainty: 3 as never })).toThrow(
      'input "x": its uncertainty is no quantity; give an angle',
    );
    const spread = { label: "x", estimate: um(1), standardUncertainty: um(1) };
    expect(() => input.t({ ...spread, degreesOfFreedom: Number.NaN })).toThrow(
      'input "x": NaN degrees of freedom; give 1 or more, or leave them out where the uncertainty is exactly known',
    );
    expect(() => input.normal({ label: "x", estimate: um(1), expandedUncertainty: um(1), coverageFactor: 0 })).toThrow(
      'input "x": coverage factor 0; give the k of the certificate, usually 2',
    );
    expect(() => input.fromReadings({ label: "x", readings: [um(1)] })).toThrow(
      'input "x": 1 reading; a scatter needs two at least, better five',
    );
    expect(() => input.fromReadings({ label: "x", readings: [um(1), um(1)] })).toThrow(
      'input "x": all 2 readings are 1 µm; the steps of the display hide the scatter, give its resolution',
    );
  });
});

describe("correlated", () => {
  const a = input.normal({ label: "a", estimate: plain(1), standardUncertainty: plain(0.2) });
  const b = input.normal({ label: "b", estimate: plain(2), standardUncertainty: plain(0.3) });

  it("gives the variance of a sum its cross term", () => {
    const [x, y] = correlated(
      [a, b],
      [
        [1, 0.5],
        [0.5, 1],
      ],
    );
    expect(x.plus(y).standardUncertainty.in("1")).toBeCloseTo(Math.sqrt(0.04 + 0.09 + 2 * 0.5 * 0.06), 12);
    expect(x.minus(y).standardUncertainty.in("1")).toBeCloseTo(Math.sqrt(0.04 + 0.09 - 2 * 0.5 * 0.06), 12);
  });

  it("refuses a matrix that is not one of correlation coefficients", () => {
    expect(() =>
      correlated(
        [a, b],
        [
          [1, 0.5],
          [0.4, 1],
        ],
      ),
    ).toThrow("correlated: row 1, column 2 is 0.5, but row 2, column 1 is 0.4; both are the same r");
    expect(() =>
      correlated(
        [a, b],
        [
          [1, Number.NaN],
          [Number.NaN, 1],
        ],
      ),
    ).toThrow("correlated: row 1, column 2 is NaN; a correlation coefficient lies between −1 and 1");
  });
});

describe("report", () => {
  it("rounds the uncertainty to two digits and the value to the same place (JCGM 100 7.2.6)", () => {
    const printed = (value: number, u: number) =>
      Object.values(report("length", value * 1e-6, u * 1e-6, "um")).join(" ± ");
    expect(printed(23.04, 4.14)).toBe("23.0 µm ± 4.1 µm");
    expect(printed(23.04, 0.0996)).toBe("23.04 µm ± 0.10 µm");
    expect(printed(23.04, 9.96)).toBe("23 µm ± 10 µm");
    expect(printed(2314, 126)).toBe("2310 µm ± 130 µm");
    expect(printed(-0.04, 4.1)).toBe("0.0 µm ± 4.1 µm");
    expect(printed(-7.25, 0.5)).toBe("−7.25 µm ± 0.50 µm");
  });
});

it("says a pooled spread to two digits, one group as one", () => {
  expect(String(pooledSpread([[um(0), um(25.4)]]))).toBe("s = 18 µm from 1 group, 1 degree of freedom");
  expect(
    String(
      pooledSpread([
        [um(10), um(12)],
        [um(31), um(30), um(32)],
      ]),
    ),
  ).toBe("s = 1.2 µm from 2 groups, 3 degrees of freedom");
});
