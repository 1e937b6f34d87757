import { resolve } from "node:path";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { difference } from "../../kernel-lib/src/proof/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { gauge, readSurvey, type Surface } from "../../kernel-lib/src/survey/index.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" } as const;
const noiseUm = 0.6;

/** a 10 × 5 map, the same form each time, with fresh noise and what was done to it */
function map(seed: number, done: (label: string) => number = () => 0, shift = 0): Surface {
  const stream = randomStream(seed);
  const places = Array.from({ length: 50 }, (_, k) => {
    const [i, j] = [k % 10, Math.floor(k / 10)];
    const label = `${"ABCDE"[j]}${i + 1}`;
    const zUm = 0.4 * (i - 4.5) ** 2 + shift * (1 + 0.3 * i - 0.5 * j) + done(label) + noiseUm * stream.normal();
    return { label, xMm: 50 * i, yMm: 50 * j, zUm, count: 2 };
  });
  return {
    name: `map ${seed}`,
    frame,
    gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
    places,
    noise: { standardUncertaintyUm: noiseUm, degreesOfFreedom: 50 },
  };
}

describe("the difference of two surveys of one surface", () => {
  it("finds what was stoned, whatever the zero and the tilt of the second survey", () => {
    const found = difference({ before: map(1), after: map(2, (label) => (label === "B3" ? -12 : 0), 5) });
    expect(found.changed.map(({ label }) => label)).toEqual(["B3"]);
    expect(found.changed[0]?.changeUm).toBeGreaterThan(-12 - 4);
    expect(found.changed[0]?.changeUm).toBeLessThan(-12 + 4);
  });

  it("calls nothing changed where nothing was done, in 95 of 100 comparisons", () => {
    const count = 200;
    const alarms = Array.from({ length: count }, (_, k) =>
      difference({ before: map(2 * k + 10), after: map(2 * k + 11) }),
    );
    const wrong = alarms.filter(({ changed }) => changed.length > 0).length;
    // binomial 99.9 % band about 5 %: at most 21 of 200
    console.log(`false alarms: ${wrong} of ${count}, at most 21 allowed`);
    expect(wrong).toBeLessThanOrEqual(21);
  });

  it("keeps a tie of untouched places when half of the map was worked on", () => {
    const worked = (label: string) => (/[3-9]$/.test(label) ? -10 : 0);
    const untouched = ["A1", "A10", "E1", "E10", "C1", "C2"];
    const found = difference({ before: map(3), after: map(4, worked), untouched });
    const changed = new Set(found.changed.map(({ label }) => label));
    const planted = map(3)
      .places.map(({ label }) => label)
      .filter((label) => worked(label) !== 0);
    expect(planted.filter((label) => !changed.has(label))).toEqual([]);
    expect(found.toString()).toContain("tied at the untouched places A1, A10, E1, E10, C1, C2");
  });

  it("turns its sign when before and after are exchanged, and does not care for the zero", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), evenly(-100, 100), (seed, zero) => {
        const [a, b] = [map(seed), map(seed + 1)];
        const lifted = { ...b, places: b.places.map((p) => ({ ...p, zUm: p.zUm + zero })) };
        const there = difference({ before: a, after: lifted, untouched: ["A1", "A10", "E1", "E10"] });
        const back = difference({ before: lifted, after: a, untouched: ["A1", "A10", "E1", "E10"] });
        for (const [i, change] of there.changes.entries()) {
          expect(change.changeUm).toBeCloseTo(-back.changes[i]!.changeUm, 8);
        }
      }),
      { seed: 5, numRuns: 20 },
    );
  });

  it("lets the gauge's error cancel where readings are equal, and grow with how far apart they lie", () => {
    const shifted = (shift: number) => difference({ before: map(1), after: map(2, () => 0, shift) }).changes[7]!;
    expect(shifted(0).standardUncertaintyUm).toBeLessThan(1.1);
    expect(shifted(20).standardUncertaintyUm).toBeGreaterThan(2);
    // readings far apart share nothing: two waves of any size within 4 µm
    expect(shifted(20).standardUncertaintyUm).toBeLessThan(1.2 * Math.hypot(0.85, 4 / Math.sqrt(3)));
    const stoned = difference({ before: map(1), after: map(2, (label) => (label === "B3" ? -12 : 0)) }).changed[0]!;
    expect(stoned.amountUncertaintyUm).toBeGreaterThan(2 * stoned.standardUncertaintyUm);
  });

  it("lets nothing of it cancel between two gauges", () => {
    const other = gauge({ name: "another dial", resolution: um(1), maximumPermissibleError: um(3) });
    const found = difference({ before: map(1), after: { ...map(2), gauge: other } });
    expect(found.changes[0]!.standardUncertaintyUm).toBeGreaterThan(Math.hypot(4, 3) / Math.sqrt(6));
    expect(found.toString()).toContain("two gauges, whose errors do not cancel");
  });

  it("compares a map with a copy of it that differs at one place", () => {
    // this stopped with "the weights still change after 500 rounds": the scale of the differences went to nothing
    const before = map(1);
    const places = before.places.map((p) => (p.label === "C5" ? { ...p, zUm: p.zUm - 10 } : p));
    const found = difference({ before, after: { ...before, places } });
    expect(found.changed.map(({ label }) => label)).toEqual(["C5"]);
    expect(found.changed[0]!.changeUm).toBeCloseTo(-10, 1);
    expect(difference({ before, after: before }).changed).toEqual([]);
  });

  it("sees the rim go down on the invented table, and nothing else", () => {
    const data = resolve(import.meta.dirname, "../../data");
    const before = readSurvey(`${data}/table-before.csv`).withoutReading("D9", 1, "swarf");
    const found = difference({ before, after: readSurvey(`${data}/table-stoned.csv`) });
    expect(found.changed.map(({ label }) => label)).toEqual(["A2"]);
  });
});

describe("what a difference refuses", () => {
  it.each([
    [
      "two frames",
      () => difference({ before: map(1), after: { ...map(2), frame: { ...frame, relativeTo: "gravity" } } }),
      "two-frames",
      "proof.difference: map 1 is relative to travel and map 2 to gravity; a difference across two frames means nothing, survey both the same way",
    ],
    [
      "a map turned round",
      () => difference({ before: map(1), after: { ...map(2), frame: { ...frame, front: "y+" } } }),
      "two-frames",
      "proof.difference: map 1 has FRONT y-, +X right, +Y back and map 2 FRONT y+, +X right, +Y back; check whether one sheet is mirrored or turned round, and state both the same way",
    ],
    [
      "other places",
      () => difference({ before: map(1), after: { ...map(2), places: map(2).places.slice(0, 20) } }),
      "other-places",
      "proof.difference: 30 of 50 places of map 1 were not probed again in map 2; probe the same places, or compare the two forms by their own flatness",
    ],
    [
      "an untouched place nobody knows",
      () => difference({ before: map(1), after: map(2), untouched: ["A1", "E1", "Z9"] }),
      "untouched",
      "proof.difference: Z9 is named as untouched and was not probed in both surveys; name places that were",
    ],
    [
      "untouched places on one line",
      () => difference({ before: map(1), after: map(2), untouched: ["A1", "A2", "A3"] }),
      "untouched",
      "proof.difference: 3 untouched places on one line or fewer than three can't hold offset and tilt; name three that span the map",
    ],
  ] as const)("%s", (_name, act, code, message) => {
    expect(refusal(act)).toEqual({ code, message });
  });
});
