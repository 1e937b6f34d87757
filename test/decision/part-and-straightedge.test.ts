import { describe, expect, it } from "vitest";
import { type OptionKey, type OptionsInput, options } from "../../kernel-lib/src/decision/index.js";
import { partError } from "../../kernel-lib/src/decision/part-error.js";
import type { Simulation } from "../../kernel-lib/src/decision/simulation.js";
import { trueSurfaces } from "../../kernel-lib/src/facing/true-surfaces.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

const u = (x: number) => (x - 260) / 240;
const v = (y: number) => (y - 120) / 100;
// table: a bow of 3 µm, a twist of 4 µm and a rim of 20 µm at A2; the travel falls by a bow of 12 µm and a twist of 10 µm
const tableAt = (x: number, y: number) => 3 * u(x) ** 2 + 4 * u(x) * v(y) + (x === 60 && y === 20 ? 20 : 0);
const travelAt = (x: number, y: number) => 12 * u(x) ** 2 + 10 * u(x) * v(y);
const map = aMap((x, y) => tableAt(x, y) - travelAt(x, y) + 0.05 * x, { noiseUm: 0.3, gaugeUm: 1 });
const level: Surface = {
  ...aMap(tableAt, { noiseUm: 0.3, gaugeUm: 1 }),
  name: "the level",
  frame: { ...map.frame, relativeTo: "gravity" },
};
const lapped = {
  name: "lap with a ring",
  assumes: "half of every height goes",
  canBeUndone: "no",
  risks: "grit in the ways",
  after: ({ zUm }: { readonly zUm: number }) => um(zUm / 2),
};
const at = (more: Partial<OptionsInput> = {}) =>
  options({
    surface: map,
    tolerance: { upper: um(16), source: "the job" },
    draws: 200,
    own: [lapped],
    part: { x: mm(400), y: mm(160) },
    plate: { texture: um(2), deflectionUpTo: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2) },
    regrindPromises: um(5),
    playOfZ: um(1),
    ...more,
  });

/** "the table itself 3.1 µm (…)": the first figure after a word */
const figureAfter = (words: string, text: string) => Number(new RegExp(`${words} (\\d+\\.\\d) µm \\(`).exec(text)?.[1]);

describe("what a straightedge would say after each option", () => {
  const surveyed = at({ independent: level });
  const blind = at();
  const keys = surveyed.options.map(({ key }) => key);

  it("is said for every option, of the face that is cut too, and unknown without a second survey", () => {
    expect(keys).toHaveLength(10);
    for (const key of keys) {
      if (key === "correct") expect(blind.option(key).byStraightedge).toBe("that survey is what is missing");
      else expect(blind.option(key).byStraightedge).toContain("unknown unless");
      expect(surveyed.option(key).byStraightedge).not.toContain("unknown");
      expect(surveyed.option(key).byStraightedge).toMatch(/a face cut (on|with) it \d|^at most \d+ µm to \d+ µm/);
      expect(surveyed.option(key).errorOfForm!.estimate.si).toBeGreaterThan(0);
    }
  });

  /** peak to valley of twist and bow over the map, in the minimum zone: the twist alone spans its corners */
  const travel = surveyed.option("leave").errorOfForm!.estimate.in("um");

  it("leaves the travel as it is where only the table or the head is worked on", () => {
    expect(travel).toBeGreaterThan(20);
    for (const key of ["leave", "stone", "tram", "scrape", "regrind", "plate", "own: lap with a ring"] as OptionKey[]) {
      expect(surveyed.option(key).errorOfForm!.estimate.in("um")).toBeCloseTo(travel, 9);
    }
  });

  it("takes the rim off the table alone where it is stoned", () => {
    const [found, stoned] = (["leave", "stone"] as const).map((key) => {
      return figureAfter("the table itself", surveyed.option(key).byStraightedge);
    });
    expect(found! - stoned!).toBeGreaterThan(9);
    expect(surveyed.option("stone").byStraightedge).toMatch(/; a blued straightedge shows that the rim is gone$/);
  });

  it("takes up to all of the twist out of table and travel where the machine is levelled", () => {
    const { byStraightedge, errorOfForm } = surveyed.option("level");
    const left = errorOfForm!;
    // all of the twist out leaves the bow of 12 µm, none leaves everything
    expect(left.low.in("um")).toBeLessThan(14.5);
    expect(left.low.in("um")).toBeGreaterThan(10);
    expect(left.high.in("um")).toBeGreaterThan(0.85 * travel);
    expect(left.high.in("um")).toBeLessThan(1.1 * travel);
    expect(figureAfter("a face cut on it", byStraightedge)).toBeCloseTo(left.estimate.in("um"), 1);
    expect(byStraightedge).toMatch(/; a level on the table at both ends shows it while the feet are set$/);
  });

  it("holds the stated area to its own places", () => {
    const { byStraightedge, area } = at({ independent: level, tolerance: { upper: um(8), source: "the job" } }).option(
      "area",
    );
    expect(area).toBeDefined();
    expect(figureAfter("a face cut on it", byStraightedge)).toBeLessThan(travel);
    expect(figureAfter("the table itself", byStraightedge)).toBeLessThan(
      figureAfter("the table itself", surveyed.option("leave").byStraightedge),
    );
  });

  it("halves the table by the reader's own model, and leaves the face as the travel cuts it", () => {
    const [found, lappedUm] = (["leave", "own: lap with a ring"] as const).map((key) => {
      return figureAfter("the table itself", surveyed.option(key).byStraightedge);
    });
    expect(lappedUm!).toBeCloseTo(found! / 2, 0);
  });

  it("adds the travel to what the machine sees of a plate, and takes most of it off with a correction", () => {
    const [, least, most] = /^at most (\d+) µm to (\d+) µm/.exec(surveyed.option("plate").byStraightedge)!;
    expect(Number(least)).toBeGreaterThan(travel);
    expect(Number(most)).toBeLessThan(travel + 10);
    const corrected = surveyed.option("correct");
    expect(corrected.errorOfForm!.high.in("um")).toBeLessThan(0.4 * travel);
    expect(corrected.byStraightedge).toMatch(/^the table itself .* by the level; a face cut with it \d/);
  });

  it("says what a shop promises, or what the hand and the master are worth", () => {
    expect(surveyed.option("regrind").byStraightedge).toMatch(/^the table itself no more than 5 µm, as promised; /);
    expect(surveyed.option("scrape").byStraightedge).toMatch(/^the table itself as good as the master and the hand; /);
    expect(surveyed.option("scrape").risks).toMatch(/^needs a competent hand and a master/);
    expect(surveyed.option("regrind").risks).toMatch(/^ground parallel to its own ways or to the grinder's: ask which/);
  });
});

describe("the error left on a part", () => {
  it("comes with every option, as a length with its interval where the map foretells it", () => {
    const decision = at();
    for (const key of ["level", "leave", "area", "stone", "tram", "plate", "own: lap with a ring"] as OptionKey[]) {
      const { partOutOfParallel: error, errorOnPart } = decision.option(key);
      expect(error!.low.si).toBeLessThanOrEqual(error!.estimate.si);
      expect(error!.high.si).toBeGreaterThanOrEqual(error!.estimate.si);
      const print = (value: { in(unit: "um"): number }) => value.in("um").toFixed(0);
      expect(errorOnPart).toContain(
        `${print(error!.estimate)} µm (${print(error!.low)} µm to ${print(error!.high)} µm)`,
      );
    }
    expect(decision.option("regrind").errorOnPart).toBe("the slope of the table against travel stays to be measured");
    expect(decision.option("scrape").errorOnPart).toBe("not known");
    // 0.05 µm/mm over 400 mm, and half of it where every height is halved
    expect(decision.option("tram").partOutOfParallel!.estimate.in("um")).toBeCloseTo(20, 0);
    expect(decision.option("own: lap with a ring").partOutOfParallel!.estimate.in("um")).toBeCloseTo(10, 0);
  });

  it("goes by the slope of the stated area where the part stays in it", () => {
    // level on the left, falling on the right
    const kinked = aMap((x) => 0.2 * Math.max(0, x - 260), { noiseUm: 0.3, gaugeUm: 0.5 });
    const decision = at({ surface: kinked, tolerance: { upper: um(6), source: "the job" } });
    expect(decision.option("area").area!.xTo.in("mm")).toBeLessThan(320);
    expect(decision.option("area").partOutOfParallel!.estimate.in("um")).toBeLessThan(12);
    expect(decision.option("leave").partOutOfParallel!.estimate.in("um")).toBeGreaterThan(30);
  });

  it("keeps the planted slope of 100 noisy tables in its interval at the rate that is claimed", () => {
    const size = { x: mm(400), y: mm(160) };
    let held = 0;
    for (let seed = 0; seed < 100; seed++) {
      const random = randomStream(seed, 32);
      const [a, b] = [0.06 * random.normal(), 0.06 * random.normal()];
      const noisy = aMap((x, y) => a * x + b * y + 1.2 * random.normal(), { noiseUm: 1.2 });
      const input = { surface: noisy, tolerance: { upper: um(10), source: "test" }, part: size, seed };
      const doubt = trueSurfaces("test", noisy, seed);
      const draws = Array.from({ length: 200 }, (_, k) => doubt.draw(k));
      const simulation = {
        input,
        doubt,
        draws,
        second: undefined,
        toleranceUm: 10,
        guardUm: 1,
      } as unknown as Simulation;
      const { low, high } = partError(simulation).partOutOfParallel!;
      const planted = Math.abs(a) * 400 + Math.abs(b) * 160;
      if (low.in("um") <= planted && planted <= high.in("um")) held++;
    }
    console.log(`slope over a part: the 95 % interval held ${held} of 100`);
    // binomial 99.9 % band about 95 %
    expect(held).toBeGreaterThanOrEqual(87);
  });
});

describe("the map and the texture after an option", () => {
  it("are given by the reader's own model, and by the replay of the plate's program", () => {
    const faced = { ...aMap(() => 0.4), name: "plate, as replayed" };
    const decision = at({
      plate: { texture: um(2), deflectionUpTo: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2), faced },
    });
    const [found, after] = (["leave", "own: lap with a ring"] as const).map((key) => decision.option(key).map!);
    for (const [i, { zUm }] of after!.entries()) expect(zUm).toBeCloseTo(found![i]!.zUm / 2, 9);
    expect(decision.option("plate").map!.map(({ zUm }) => zUm)).toEqual(faced.places.map(({ zUm }) => zUm));
  });

  it("change in texture alone where the head is re-trammed", () => {
    const told = (texture?: OptionsInput["texture"]) => at(texture ? { texture } : {}).option("tram").errorOnPart;
    expect(told({ asFound: um(4), reTrammed: um(0.6) })).toMatch(/; texture on a cut face from 4\.0 µm to 0\.6 µm$/);
    expect(told()).toMatch(
      /; texture on a cut face becomes less; give the texture by facing\.ridges to see by how much$/,
    );
    expect(refusal(() => at({ texture: { asFound: um(4), reTrammed: um(-1) } }))).toEqual({
      code: "texture",
      message: "decision.options: texture.reTrammed is −1 µm; give a peak to valley of zero or more",
    });
  });
});

it("says in one whole sentence that the tolerance is below what the gauge can prove", () => {
  const { answer, reaching } = at({ tolerance: { upper: um(0.2), source: "the job" } });
  expect(reaching).toEqual([]);
  expect(answer).toBe(
    "No option can be proven at 0.2 µm (the job): with this gauge and this map even a perfect surface is proven to no better than 1.2 µm",
  );
});
