import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { settling } from "../../kernel-lib/src/heat/index.js";
import { nonlinearLeastSquares } from "../../kernel-lib/src/numerics/nonlinear-least-squares.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { degC, degF, kelvin, minutes, seconds, um } from "../../kernel-lib/src/quantity/index.js";
import { evenly } from "../evenly.js";
import { fixture } from "../reference/digits.js";
import { refusal as refused } from "../refusal.js";

const { firstOrder } = fixture<{
  firstOrder: {
    rows: string[];
    fittedTimeConstantMin: string;
    fittedSizeUm: string;
    ninetyFivePercentAfterMin: string;
  };
}>("heat/growth.json");
const record = firstOrder.rows.map((row) => row.split(" ").map(Number) as [number, number]);

const refusal = (act: () => unknown) => refused(act).message;

const minute = Array.from({ length: 25 }, (_, i) => i * 10);
function planted(seed: number, scatterUm = 0.3) {
  const stream = randomStream(seed);
  const values = minute.map((t) => um(18 * (1 - Math.exp(-t / 55)) + scatterUm * stream.normal()));
  return { name: "spindle", times: minute.map(minutes), values };
}

describe("settling", () => {
  it("finds time constant and size of the printed first-order record to the digits of the reference", () => {
    const curve = settling({
      name: "printed",
      times: record.map(([t]) => minutes(t)),
      values: record.map(([, z]) => um(z)),
    });
    expect(curve.timeConstants.length).toBe(1);
    // the reference holds the start at zero; a record starts with a reading, which scatters as the others do
    const held = nonlinearLeastSquares({
      where: "start held at zero",
      y: record.map(([, z]) => z),
      model: ([a, tau], row) => -a! * Math.expm1(-record[row]![0] / tau!),
      start: [15, 40],
    });
    expect(held.coefficients[1]!.toFixed(3)).toBe(firstOrder.fittedTimeConstantMin);
    expect(held.coefficients[0]!.toFixed(3)).toBe(firstOrder.fittedSizeUm);
    expect(curve.timeConstant.in("min")).toBeCloseTo(Number(firstOrder.fittedTimeConstantMin), 2);
    expect(curve.total.in("um")).toBeCloseTo(Number(firstOrder.fittedSizeUm), 2);
    const exact = settling({
      name: "exact",
      times: minute.map(minutes),
      values: minute.map((t) => um(-18 * Math.expm1(-t / 55))),
    });
    expect(exact.waitUntilShare(0.95).time.in("min").toFixed(2)).toBe(firstOrder.ninetyFivePercentAfterMin);
  });

  it("gives waits in closed form for one time constant: τ ln(a/(τ rate)), τ ln(a/left), and agreement in between", () => {
    const curve = settling({
      name: "exact",
      times: minute.map(minutes),
      values: minute.map((t) => um(-18 * Math.expm1(-t / 55))),
    });
    const rate = curve.waitUntilRate({ change: um(1), per: minutes(30) });
    expect(rate.time.in("min")).toBeCloseTo(55 * Math.log((18 / 55) * 30), 6);
    expect(curve.waitUntilLeft(um(2)).time.in("min")).toBeCloseTo(55 * Math.log(18 / 2), 6);
    const agree = curve.waitUntilAgreement({ change: um(1), apart: minutes(30) });
    expect(agree.time.in("min")).toBeCloseTo(55 * Math.log(-18 * Math.expm1(-30 / 55)), 6);
    expect(agree.time.value.isLess(rate.time.value)).toBe(true);
  });

  it("gives a wait the uncertainty that its closed form has", () => {
    const curve = settling({ ...planted(4), timeConstants: 1 });
    const [a, tau] = [curve.total.in("um"), curve.timeConstant.in("min")];
    const wait = curve.waitUntilLeft(um(1)).time;
    // t = τ ln(a/left): draws of the curve's own parameters through the formula, first order
    const [da, dtau] = [tau / a, Math.log(a)];
    const covariance = curve.total.terms.reduce((sum, { input, sensitivity }) => {
      const other = curve.timeConstant.terms.find((term) => term.input === input)?.sensitivity ?? 0;
      return sum + sensitivity * 1e6 * (other / 60) * input.uncertaintySi ** 2;
    }, 0);
    const ua = curve.total.standardUncertainty.in("um");
    const utau = curve.timeConstant.standardUncertainty.in("min");
    const u = Math.sqrt((da * ua) ** 2 + (dtau * utau) ** 2 + 2 * da * dtau * covariance);
    expect(wait.standardUncertainty.in("min")).toBeCloseTo(u, 4);
  });

  it("tells two time constants from one by the evidence", () => {
    const stream = randomStream(7);
    const times = Array.from({ length: 60 }, (_, i) => i * 4);
    const values = times.map((t) =>
      um(12 * (1 - Math.exp(-t / 6)) + 15 * (1 - Math.exp(-t / 80)) + 0.15 * stream.normal()),
    );
    const curve = settling({ name: "two", times: times.map(minutes), values });
    expect(curve.timeConstants.length).toBe(2);
    const [quick, slow] = curve.timeConstants as [typeof curve.timeConstant, typeof curve.timeConstant];
    expect(Math.abs(quick.in("min") - 6)).toBeLessThan(3 * quick.standardUncertainty.in("min"));
    expect(Math.abs(slow.in("min") - 80)).toBeLessThan(3 * slow.standardUncertainty.in("min"));
    expect(settling(planted(1)).timeConstants.length).toBe(1);
  });

  it("reads cooling by a thermometer as well, in either unit of temperature", () => {
    const stream = randomStream(3);
    const celsius = minute.map((t) => 21 + 9 * Math.exp(-t / 40) + 0.05 * stream.normal());
    const cooling = settling({ name: "table", times: minute.map(minutes), values: celsius.map(degC) });
    const fahrenheit = settling({
      name: "table",
      times: minute.map(minutes),
      values: celsius.map((c) => degF(c * 1.8 + 32)),
    });
    expect(cooling.total.in("K")).toBeCloseTo(-9, 1);
    expect(fahrenheit.timeConstant.in("min")).toBeCloseTo(cooling.timeConstant.in("min"), 6);
    expect(`${cooling}`).toMatch(
      /^table: the readings fall by 9\.\d+ K ± 0\.\d+ K \(k = 2\.\d\) in all, time constant /,
    );
    expect(cooling.waitUntilLeft(kelvin(0.5)).time.in("min")).toBeGreaterThan(100);
  });

  it("does not depend on the unit of time, nor on where the gauge was set to zero", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), evenly(-500, 500), (seed, zero) => {
        const spec = { ...planted(seed), timeConstants: 1 as const };
        const curve = settling(spec);
        const moved = settling({
          ...spec,
          times: minute.map((t) => seconds(t * 60 + 3600)),
          values: spec.values.map((v) => v.plus(um(zero))),
        });
        expect(moved.timeConstant.in("min")).toBeCloseTo(curve.timeConstant.in("min"), 5);
        expect(moved.total.standardUncertainty.in("um")).toBeCloseTo(curve.total.standardUncertainty.in("um"), 6);
      }),
      { numRuns: 20 },
    );
  });

  it("never believes a scatter below what the resolution leaves", () => {
    const spec = planted(5, 0);
    const curve = settling({ ...spec, values: spec.values.map((v) => um(Math.round(v.in("um")))), resolution: um(2) });
    expect(curve.scatter.in("um")).toBeGreaterThanOrEqual(2 / Math.sqrt(12) - 1e-12);
  });

  it("refuses a record that cannot tell, whole sentences", () => {
    const values = (f: (t: number) => number) => minute.map((t) => um(f(t)));
    const times = minute.map(minutes);
    const line = values((t) => 0.05 * t + 0.2 * Math.sin(t));
    expect(refusal(() => settling({ name: "spindle", times, values: line }))).toBe(
      'settling "spindle": over 240 min the readings run straight and do not bend yet, so that no time constant can be found; read on until the curve flattens, or read more often at the start',
    );
    expect(refusal(() => settling({ name: "spindle", times, values: values((t) => 0.3 * Math.sin(t)) }))).toBe(
      'settling "spindle": over 240 min the readings do not change beyond their scatter, so that no time constant can be found; read on until the curve flattens, or read more often at the start',
    );
    expect(refusal(() => settling({ name: "spindle", times: times.slice(1), values: line }))).toBe(
      'settling "spindle": 24 times for 25 readings; give the time of each reading',
    );
    expect(refusal(() => settling({ name: "spindle", times: times.slice(0, 4), values: line.slice(0, 4) }))).toBe(
      'settling "spindle": 4 readings; a curve with its uncertainty needs 6 at least, read on',
    );
    expect(
      refusal(() =>
        settling({ name: "spindle", times: times.map((t, i) => (i === 3 ? minutes(5) : t)), values: line }),
      ),
    ).toBe(
      'settling "spindle": time 4 is 5 min, not after the 20 min before it; put the readings in the order of time, one a moment',
    );
    const tens = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => minutes(10 * k));
    const early = { name: "nose", times: tens, values: [0, 2, 3, 4, 6, 6, 8, 8].map(um), resolution: um(1) };
    expect(refusal(() => settling(early))).toBe(
      'settling "nose": the time constant of 89 min is known to ± 58 % only (standard error); read on until the curve flattens, or read more often at the start',
    );
    const oddly = (k: number, value: unknown) => early.values.with(k, value as never);
    expect(refusal(() => settling({ ...early, values: oddly(3, kelvin(2)) }))).toBe(
      'settling "nose": reading 4 is 2 K, a temperature difference; give lengths throughout, or temperatures throughout',
    );
    expect(refusal(() => settling({ ...early, values: oddly(0, 2) }))).toBe(
      'settling "nose": reading 1 is 2, no quantity; give lengths throughout, or temperatures throughout',
    );
    expect(refusal(() => settling({ ...early, times: tens.with(1, 10 as never) }))).toBe(
      'settling "nose": time 2 is 10; give times such as minutes(10)',
    );
    expect(refusal(() => settling(planted(1)).waitUntilRate({ change: um(1), per: minutes(0) }))).toBe(
      "waitUntilRate: 0 min; give a time greater than zero, such as minutes(30)",
    );
    expect(refusal(() => settling(planted(1)).waitUntilLeft(um(0)))).toBe(
      "waitUntilLeft: 0 µm; give a length greater than zero as the limit",
    );
    expect(refusal(() => settling(planted(1)).changeBetween(minutes(-5), minutes(5)))).toBe(
      "changeBetween: −5 min lies before the first reading; give times from the first reading on",
    );
    expect(refusal(() => settling(planted(1)).waitUntilShare(95))).toBe(
      "waitUntilShare: 95; give a share between 0 and 1, such as 0.95",
    );
  });
});
