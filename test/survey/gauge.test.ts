import { describe, expect, it } from "vitest";
import { deg, mm, thou, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge, heightFactor, resolutionUncertainty, stepOf } from "../../kernel-lib/src/survey/gauge.js";
import { refusal } from "../refusal.js";

const plain = { resolution: um(1), maximumPermissibleError: um(4) };

describe("a gauge", () => {
  // JCGM 100:2008, F.2.2.1: an indicating device of resolution δx has u = 0.29 δx
  it("has the standard uncertainty of its resolution that the GUM prints, 0.29 of a digit", () => {
    expect(resolutionUncertainty(gauge(plain)).in("um").toFixed(2)).toBe("0.29");
  });

  it("reads in the estimated part of a division when it is analogue", () => {
    const made = gauge({ ...plain, resolution: thou(1), display: "analogue", fractionEstimated: 0.25 });
    expect(stepOf(made).in("thou")).toBeCloseTo(0.25, 12);
  });

  it("gives heights the sign of its sense and the cosines of its angles", () => {
    expect(heightFactor(gauge(plain))).toBe(1);
    expect(heightFactor(gauge({ ...plain, sense: "minus" }))).toBe(-1);
    expect(heightFactor(gauge({ ...plain, plungerTilt: deg(60), leverAngle: deg(60) }))).toBeCloseTo(0.25, 12);
  });

  it("cannot be changed afterwards", () => {
    expect(Object.isFrozen(gauge(plain))).toBe(true);
  });
});

describe("a gauge is refused in one sentence", () => {
  const cases: [string, object, string][] = [
    ["no resolution", { resolution: undefined }, "gauge: resolution is missing; give a length such as um(1)"],
    [
      "a bare number",
      { resolution: 0.001 },
      "gauge: resolution is 0.001, which has no unit; give a length such as um(1)",
    ],
    ["another kind", { resolution: deg(1) }, "gauge: resolution is 1°, an angle; give a length such as um(1)"],
    ["a resolution of zero", { resolution: um(0) }, "gauge: resolution is 0 µm; it must be greater than zero"],
    ["a negative hysteresis", { hysteresis: um(-1) }, "gauge: hysteresis is −1 µm; it must be zero or more"],
    [
      "a turn longer than the range",
      { range: mm(1), rangePerTurn: mm(5) },
      "gauge: range per turn 5 mm is more than the range 1 mm; exchange the two",
    ],
    [
      "a steep lever",
      { leverAngle: deg(75) },
      "gauge: leverAngle is 75°; beyond 60° the reading says too little, set the stylus flatter or the plunger straighter",
    ],
    [
      "an estimated fraction on a digital gauge",
      { fractionEstimated: 0.2 },
      'gauge: fractionEstimated is given for a digital gauge; leave it out, or write display: "analogue"',
    ],
    [
      "a fraction above one",
      { display: "analogue", fractionEstimated: 2 },
      "gauge: fractionEstimated is 2; give the part of a division that is estimated, 0.2 for a fifth, at most 1",
    ],
    [
      "a scatter without degrees of freedom",
      { repeatability: { standardDeviation: um(1), degreesOfFreedom: Number.NaN } },
      "gauge: repeatability.degreesOfFreedom is NaN; give a number greater than zero, readings less one for one series",
    ],
  ];
  it.each(cases)("with %s", (_, change, message) => {
    expect(refusal(() => gauge({ ...plain, ...change }))).toEqual({ code: "gauge", message });
  });
});
