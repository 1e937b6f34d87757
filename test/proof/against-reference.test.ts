import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { verdict } from "../../kernel-lib/src/conformity/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { againstReference, type Claim, parseReferenceValues } from "../../kernel-lib/src/proof/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { binomialBand } from "../data/workshop.js";
import { clubTable } from "../figure/club-table.js";
import { refusal } from "../refusal.js";

const claim = (stated: number, u: number, reference: number): Claim => ({
  what: "play",
  stated: Measured.from(input.normal({ label: "play", estimate: um(stated), standardUncertainty: um(u) })),
  reference: um(reference),
});

describe("what was stated, against what is known better", () => {
  it("is a hit within 1.96 u and a miss beyond, counted in u", () => {
    const { claims, hits, misses } = againstReference([claim(10, 2, 13.9), claim(10, 2, 14), claim(10, 2, 6.1)]);
    expect(claims.map(({ score }) => score)).toEqual(["hit", "miss", "hit"]);
    expect(claims.map(({ timesU }) => timesU!.toFixed(2))).toEqual(["-1.95", "-2.00", "1.95"]);
    expect([hits, misses]).toEqual([2, 1]);
  });

  it("is the same in another unit, and the other way round with signs turned", () => {
    fc.assert(
      fc.property(fc.integer({ min: -90, max: 90 }), fc.integer({ min: 1, max: 50 }), (off, u) => {
        const [one] = againstReference([claim(off, u, 0)]).claims;
        const [turned] = againstReference([claim(-off, u, 0)]).claims;
        const inMm = Measured.from(
          input.normal({ label: "play", estimate: mm(off / 1000), standardUncertainty: mm(u / 1000) }),
        );
        const [other] = againstReference([{ what: "play", stated: inMm, reference: mm(0) }]).claims;
        expect(turned!.timesU).toBeCloseTo(-one!.timesU!, 12);
        expect(other!.timesU).toBeCloseTo(one!.timesU!, 9);
        expect(other!.score).toBe(one!.score);
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it("holds as often as 95 % intervals claim", () => {
    const random = randomStream(20261201);
    const { hits } = againstReference(Array.from({ length: 1000 }, () => claim(3 * random.normal(), 3, 0)));
    const [low, high] = binomialBand(1000, 0.95);
    console.log(`95 % intervals held ${hits} of 1000, ${low} to ${high} allowed`);
    expect(hits).toBeGreaterThanOrEqual(low);
    expect(hits).toBeLessThanOrEqual(high);
  });

  it("scores verdicts as right, wrong or not decided, and intervals as hit or miss", () => {
    const flat = (at: number) =>
      Measured.from(input.normal({ label: "flatness", estimate: um(at), standardUncertainty: um(1) }));
    const judged = (at: number, reference: number): Claim => ({
      what: `good at ${at}?`,
      stated: verdict(flat(at), { upper: um(16) }),
      reference: um(reference),
    });
    const scored = againstReference([
      judged(10, 12),
      judged(10, 17),
      judged(25, 24),
      judged(25, 15),
      judged(16, 15),
      { what: "predicted", stated: { estimate: um(4), low: um(3), high: um(6) }, reference: um(2) },
    ]);
    expect(scored.claims.map(({ score }) => score)).toEqual([
      "right",
      "wrong",
      "right",
      "wrong",
      "not decided",
      "miss",
    ]);
    expect(`${scored}`).toBe(
      "0 of 1 stated intervals hold the reference (95 of 100 is what they claim); verdicts: 2 right, 2 wrong, 1 not decided",
    );
  });

  it("refuses no claim, and a claim without an uncertainty", () => {
    expect(refusal(() => againstReference([]))).toEqual({
      code: "claims",
      message: "againstReference: no claim is given; give at least one with its reference",
    });
    const exact = Measured.of(um(4), []);
    expect(refusal(() => againstReference([{ what: "play of X", stated: exact, reference: um(4) }]))).toEqual({
      code: "claims",
      message: "againstReference: play of X is stated without an uncertainty; state one, or leave the claim out",
    });
  });
});

describe("reference values", () => {
  const values = parseReferenceValues(
    '{ "X": { "playUm": 14, "pitchUmPerM": 42 }, "lever": { "angleDeg": 35 }, "warmUpMin": 41, "riseK": 7.4, "from": "2029-01-20", "odd": "x" }',
  );

  it("take their unit from the end of their name", () => {
    expect(values.length("X", "playUm").in("um")).toBeCloseTo(14, 12);
    expect(values.slope("X", "pitchUmPerM").in("um/m")).toBeCloseTo(42, 12);
    expect(values.angle("lever", "angleDeg").in("deg")).toBeCloseTo(35, 12);
    expect(values.time("warmUpMin").in("min")).toBeCloseTo(41, 12);
    expect(values.temperatureDifference("riseK").in("K")).toBeCloseTo(7.4, 12);
    expect(values.date("from")).toBe("2029-01-20");
  });

  it.each([
    [() => values.length("Y", "playUm"), "reference values: Y is not there; give the names as they stand in the text"],
    [
      () => values.length("X", "pitchUmPerM"),
      "reference values: X > pitchUmPerM is no length by its name; a length is called …Um or …Mm",
    ],
    [() => values.slope("odd"), "reference values: odd is no slope by its name; a slope is called …UmPerM"],
    [
      () => parseReferenceValues('{ "aUm": "3" }').length("aUm"),
      "reference values: aUm is not a number; correct the text",
    ],
    [() => values.date("odd"), "reference values: odd is no date; write year, month and day such as 2029-01-20"],
    [() => values.surface(clubTable(), "riseK"), "reference values: riseK is no list of heights; give the path of one"],
    [
      () => parseReferenceValues('{ "top": [{ "place": "A1", "zUm": 3 }] }').surface(clubTable(), "top"),
      "reference values: top has no height zUm for A2; give a list that holds every place of Club mill table, before",
    ],
    [() => parseReferenceValues("{"), 'reference values: is no JSON text; give one such as { "playUm": 14 }'],
  ])("refuses what is not there or of another kind (%#)", (ask, message) => {
    expect(refusal(ask)).toEqual({ code: "reference", message });
  });
});
