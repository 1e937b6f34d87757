import { describe, expect, it } from "vitest";
import { type OptionsInput, options, outlay } from "../../kernel-lib/src/decision/index.js";
import { localHighs } from "../../kernel-lib/src/form/index.js";
import { hours, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

const bow = (x: number, y: number) => 12 * ((x - 260) / 240) ** 2 + 0.04 * x - 0.05 * y;
const rim = (x: number, y: number) => bow(x, y) + (x === 60 && y === 20 ? 24 : 0);
const map = aMap(rim, { noiseUm: 0.6, gaugeUm: 2 });
const job = (toleranceUm: number) => ({ upper: um(toleranceUm), source: "drawing of the job" });
const outlook = { texture: um(2), deflectionUpTo: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2) };
const efforts = {
  leave: { hours: hours(0) },
  stone: { hours: hours(1) },
  plate: { hours: hours(9), outlay: outlay(140, "EUR") },
};
const at = (toleranceUm: number, more: Partial<OptionsInput> = {}) =>
  options({ surface: map, tolerance: job(toleranceUm), plate: outlook, efforts, draws: 200, ...more });

describe("options at a tolerance between table and plate", () => {
  const decision = at(16);

  it("lists levelling first and every option once", () => {
    expect(decision.options.map((o) => o.key)).toEqual([
      "level",
      "leave",
      "area",
      "stone",
      "tram",
      "correct",
      "plate",
      "scrape",
      "regrind",
    ]);
    expect(decision.rows).toHaveLength(9);
  });

  it("leaves a table with a rim, and takes the flatness of the bow when the rim is stoned", () => {
    expect(decision.option("leave").verdict).toBe("does not conform");
    const { estimate } = decision.option("stone").prediction!;
    expect(Math.abs(estimate.in("um") - 12)).toBeLessThan(1.5);
  });

  it("stones only the rim and leaves every other height of the map alone", () => {
    const before = decision.option("leave").map!;
    const changed = decision.option("stone").map!.filter((p, i) => p.zUm !== before[i]!.zUm);
    expect(changed.map((p) => p.label)).toEqual(["A2"]);
  });

  it("re-trams without changing the map", () => {
    expect(decision.option("tram").map).toEqual(decision.option("leave").map);
    expect(decision.option("tram").prediction).toEqual(decision.option("leave").prediction);
  });

  it("says that a height correction can't be judged without a second survey", () => {
    const { verdict, assumes, prediction } = decision.option("correct");
    expect([verdict, prediction]).toEqual(["can't be judged", undefined]);
    expect(assumes).toMatch(/^can't be judged without a second, independent survey/);
  });

  it("predicts a plate twice: as the machine sees it, and as a straightedge would", () => {
    const { prediction, byStraightedge } = decision.option("plate");
    expect(prediction!.low.in("um")).toBeGreaterThan(2);
    expect(prediction!.high.in("um")).toBeLessThan(8);
    expect(byStraightedge).toMatch(/^unknown unless/);
    const surveyed = at(16, { plate: { ...outlook, travelFlatness: um(10) } }).option("plate").byStraightedge;
    expect(surveyed).toMatch(/^at most \d+ µm to \d+ µm/);
  });

  it("names the option with the fewest hours among those that reach the tolerance", () => {
    expect(decision.answer).toMatch(
      /^Stone the raised rim reaches 16 µm \(drawing of the job\) with a chance of (9\d|above 99) %, 1 h of work; so would: /,
    );
    expect(String(decision)).toBe(decision.answer);
  });

  it("prints hours and outlay that were not given as not given, never as nothing", () => {
    const row = decision.rows.find((r) => r.option === decision.option("level").name)!;
    expect([row.hours, row.outlay]).toEqual(["not given", "not given"]);
  });

  it("says at which tolerances the ranking changes, what a pass more gains and which reading decides", () => {
    const [first] = decision.whatWouldChangeIt;
    expect(first).toMatch(/^from a tolerance of \d+\.\d µm upwards: /);
    expect(
      decision.whatWouldChangeIt.some((line) => line.startsWith("one more pass over the table: u of the flatness")),
    ).toBe(true);
    expect(decision.whatWouldChangeIt.some((line) => line.startsWith("the reading at A2: with it"))).toBe(true);
  });

  it("carries cautions with every option and can't be changed", () => {
    expect(decision.options.filter((o) => o.cautions.length === 0)).toEqual([]);
    expect(() => Object.assign(decision.option("stone"), { cautions: [] })).toThrow(TypeError);
    expect(() => Object.assign(decision, { options: [] })).toThrow(TypeError);
  });
});

it("finds the largest area that is flat enough, and it grows with the tolerance", () => {
  const sizes = [8, 12, 20].map((tolerance) => {
    const { xFrom, xTo, yFrom, yTo } = at(tolerance).option("area").area!;
    return xTo.minus(xFrom).in("mm") * yTo.minus(yFrom).in("mm");
  });
  expect(sizes).toEqual(sizes.toSorted((a, b) => a - b));
  expect(at(12).option("area").prediction!.chanceToMeet).toBeGreaterThanOrEqual(0.95);
});

it("gives the error left on a part: slope of the table against travel times its size", () => {
  const tilted = aMap((x, y) => 0.04 * x - 0.05 * y);
  const decision = options({ surface: tilted, tolerance: job(10), part: { x: mm(400), y: mm(160) }, draws: 200 });
  expect(decision.option("leave").errorOnPart).toContain("by 24 µm (24 µm to 24 µm) over 400 mm × 160 mm");
  expect(decision.option("leave").partOutOfParallel!.estimate.in("um")).toBeCloseTo(24, 6);
});

it("says that nothing can be proven below what the gauge can tell", () => {
  const decision = at(0.5);
  expect(decision.reaching).toEqual([]);
  expect(decision.answer).toMatch(
    /^No option can be proven at 0\.5 µm \(drawing of the job\): with this gauge and this map even a perfect surface is proven to no better than \d\.\d µm$/,
  );
});

it("names the nearest option where none is sure", () => {
  const chequered = aMap((x, y) => (((x - 20) / 40 + (y - 20) / 40) % 2) * 40, { noiseUm: 0.6, gaugeUm: 2 });
  const decision = at(16, { surface: chequered, plate: { ...outlook, heatUpTo: um(40) } });
  expect(decision.reaching).toEqual([]);
  expect(decision.option("area").assumes).toBe("no rectangle of the map is within 16 µm with a chance of 95 %");
  expect(decision.answer).toMatch(
    /^No option on the list reaches 16 µm \(drawing of the job\) with a chance of 95 %; nearest is fixture plate, faced in place with \d\d %$/,
  );
});

it("stones what it is told to, and not a place that was ruled out", () => {
  const found = localHighs(map);
  expect(found.areas.map((area) => area.top.label)).toEqual(["A2"]);
  expect(at(16, { highs: found }).option("stone").prediction).toEqual(at(16).option("stone").prediction);
  expect(at(16, { highs: { areas: [] } }).option("stone").verdict).toBe("can't be judged");
});

it("says that there is no rim where none stands out", () => {
  const decision = options({ surface: aMap(bow, { noiseUm: 0.6, gaugeUm: 2 }), tolerance: job(16), draws: 200 });
  expect(decision.option("stone").verdict).toBe("can't be judged");
  expect(decision.option("stone").assumes).toBe("no place stands out of the form around it: there is no rim to stone");
});

it("does not move with the zero or the tilt of the map where no gauge error depends on the reading", () => {
  const exact = (height: (x: number, y: number) => number) =>
    options({ surface: aMap(height, { noiseUm: 0.6 }), tolerance: job(16), draws: 200 }).option("leave").prediction!;
  const flat = exact(bow).estimate.in("um");
  expect(exact((x, y) => bow(x, y) + 100 + 0.2 * x).estimate.in("um")).toBeCloseTo(flat, 6);
});

it("gives the same decision for the same seed", () => {
  expect(at(16, { seed: 5 }).rows).toEqual(at(16, { seed: 5 }).rows);
});

it.each([
  [
    { tolerance: { upper: um(0), source: "job" } },
    "tolerance",
    "decision.options: a tolerance of 0 µm can't be met; give a length above zero",
  ],
  [
    { tolerance: { upper: um(16), source: " " } },
    "tolerance-source",
    "decision.options: the tolerance of 16 µm has no source; say where it comes from: a standard, the maker's sheet, the job",
  ],
  [
    { draws: Number.NaN },
    "draws",
    "decision.options: NaN draws are too few to tell a chance of 95 %; give 200 or more",
  ],
  [
    { part: { x: mm(0), y: mm(10) } },
    "part",
    "decision.options: a part of 0 mm × 10 mm has no size; give both sides above zero",
  ],
  [
    { surface: { ...map, gauge: { ...map.gauge, maximumPermissibleError: undefined } as never } },
    "gauge",
    "decision.options: a map does not say how far its gauge may be wrong; give the maximum permissible error",
  ],
])("refuses %o", (wrong, code, message) => {
  expect(refusal(() => at(16, wrong))).toEqual({ code, message });
});

it("refuses money without a currency and sums that are no sum", () => {
  expect(refusal(() => outlay(10, "euros")).message).toBe(
    'outlay: "euros" is not a currency; give the three letters of ISO 4217, such as "EUR"',
  );
  expect(refusal(() => outlay(Number.NaN, "EUR")).message).toBe("outlay: NaN is not a sum of money; give zero or more");
});

it("refuses a map with a height that is not a number, so that none can win", () => {
  const places = map.places.map((p, i) => (i === 5 ? { ...p, zUm: Number.NaN } : p));
  expect(refusal(() => at(16, { surface: { ...map, places } }))).toEqual({
    code: "not-finite",
    message:
      "decision.options: 1 of 78 places of a map have no height or no place (A6); measure them, or leave them out of the list",
  });
});
