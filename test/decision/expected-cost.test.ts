import { describe, expect, it } from "vitest";
import { type OptionsInput, options, outlay, type Stakes } from "../../kernel-lib/src/decision/index.js";
import { type Choice, worthOfLooking } from "../../kernel-lib/src/decision/worth-of-looking.js";
import { normalCdf, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { isotonicFit } from "../../kernel-lib/src/numerics/isotonic.js";
import { hours, um } from "../../kernel-lib/src/quantity/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

describe("the worth of looking", () => {
  it("is 12.5 for the soundings of the oil wildcatter, and 22.5 are left after they cost 10 (Raiffa, Decision Analysis, 1968, from memory)", () => {
    const random = randomStream(1968);
    const pick = (chances: readonly number[]) => {
      const u = random.uniform();
      let sum = 0;
      return chances.findIndex((chance) => u < (sum += chance));
    };
    // dry, wet, soaking: what drilling brings in, in thousands, and what the soundings show: no, open, closed structure
    const gains = [-70, 50, 200];
    const shows = [
      [0.6, 0.3, 0.1],
      [0.3, 0.4, 0.3],
      [0.1, 0.4, 0.5],
    ];
    const draws = Array.from({ length: 30_000 }, () => {
      const state = pick([0.5, 0.3, 0.2]);
      return { gain: gains[state]!, shown: pick(shows[state]!) };
    });
    const drill: Choice = { costs: draws.map(({ gain }) => -gain), signals: draws.map(({ shown }) => -shown) };
    const { expected, best, look, certainty } = worthOfLooking([drill, { costs: draws.map(() => 0) }]);
    expect(best).toBe(0);
    expect(Math.abs(expected[0]!.mean - -20)).toBeLessThan(3.3 * expected[0]!.standardError);
    expect(Math.abs(look.mean - 12.5)).toBeLessThan(3.3 * look.standardError);
    expect(Math.abs(20 + look.mean - 10 - 22.5)).toBeLessThan(3.3 * look.standardError);
    // 0.5 × 70 is saved by whoever knows: 35
    expect(Math.abs(certainty.mean - 35)).toBeLessThan(3.3 * certainty.standardError);
  });

  it.each([0.5, 1, 3])(
    "agrees with the integral over normal beliefs (preposterior analysis, Raiffa and Schlaifer, 1961), u of the look %s",
    (u) => {
      const { normal } = randomStream(1961);
      const [mean, spread, limit, missed, sure] = [10, 2, 11, 100, 25];
      const draws = Array.from({ length: 10_000 }, () => {
        const truth = mean + spread * normal();
        return { truth, shown: truth + u * normal() };
      });
      const { look } = worthOfLooking([
        { costs: draws.map(({ truth }) => (truth <= limit ? 0 : missed)), signals: draws.map(({ shown }) => shown) },
        { costs: draws.map(() => sure) },
      ]);
      // what is shown is normal with √(spread² + u²); given it the truth is normal about the weighted mean
      const share = spread ** 2 / (spread ** 2 + u ** 2);
      const left = spread * Math.sqrt(1 - share);
      const steps = 1000;
      let after = 0;
      for (let k = 0; k < steps; k++) {
        const z = -6 + (12 * (k + 0.5)) / steps;
        const weight = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * (12 / steps);
        const given = mean + share * Math.hypot(spread, u) * z;
        after += weight * Math.min(sure, missed * (1 - normalCdf((limit - given) / left)));
      }
      const exact = Math.min(sure, missed * (1 - normalCdf((limit - mean) / spread))) - after;
      expect(Math.abs(look.mean - exact)).toBeLessThan(3.3 * look.standardError + 0.03 * exact);
    },
  );

  it("is never more than certainty is worth, and nothing where the look shows nothing", () => {
    const { normal } = randomStream(7);
    const costs = Array.from({ length: 2000 }, () => 10 + normal());
    const other = costs.map(() => 10.2);
    const blind = worthOfLooking([{ costs, signals: costs.map(() => normal()) }, { costs: other }]);
    expect(Math.abs(blind.look.mean)).toBeLessThan(3.3 * blind.look.standardError + 0.02);
    const seeing = worthOfLooking([{ costs, signals: costs }, { costs: other }]);
    expect(seeing.look.mean).toBeLessThanOrEqual(seeing.certainty.mean);
    expect(seeing.look.mean).toBeGreaterThan(0.95 * seeing.certainty.mean);
    expect(worthOfLooking([{ costs }, { costs: other }]).look).toEqual({ mean: 0, standardError: 0 });
  });

  it("learns by a line that never falls: means of what would fall are pooled (Barlow and others, 1972: 1, 3, 2, 4 → 1, 2.5, 2.5, 4)", () => {
    const fit = isotonicFit([1, 2, 3, 4], [1, 3, 2, 4]);
    expect([0, 1, 2, 3, 4, 9].map(fit)).toEqual([1, 1, 2.5, 2.5, 4, 4]);
    expect(isotonicFit([2, 2, 1], [5, 7, 9])(2)).toBe(7);
  });
});

const bow = (x: number, y: number) => 12 * ((x - 260) / 240) ** 2 + 0.04 * x - 0.05 * y;
const rim = (x: number, y: number) => bow(x, y) + (x === 60 && y === 20 ? 24 : 0);
/** scatter is most of the doubt: that is what one more survey makes less */
const map = aMap(rim, { noiseUm: 1.5, gaugeUm: 0.2 });
const stakes: Stakes = {
  hourlyValue: outlay(30, "EUR"),
  ifMissed: { hours: hours(6), outlay: outlay(800, "EUR") },
  measuringAgain: { hours: hours(2) },
};
const outlook = { texture: um(2), deflectionUpTo: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2) };
const at = (toleranceUm: number, more: Partial<OptionsInput> = {}) =>
  options({
    surface: map,
    tolerance: { upper: um(toleranceUm), source: "drawing of the job" },
    plate: outlook,
    efforts: {
      leave: { hours: hours(0) },
      stone: { hours: hours(1) },
      plate: { hours: hours(9), outlay: outlay(140, "EUR") },
    },
    stakes,
    draws: 200,
    ...more,
  }).expectedCost!;

describe("the expected cost of options", () => {
  const inside = at(11);
  it("is hours at their value, the outlay, and the cost of a miss times its chance", () => {
    const { rows, unit, leftOut } = inside;
    expect(unit).toBe("EUR");
    expect(rows.map(({ option }) => option.key).toSorted()).toEqual(["leave", "plate", "stone"]);
    for (const { option, doing, chanceToMiss, expected } of rows) {
      expect(expected.mean).toBeCloseTo(doing + 980 * chanceToMiss, 9);
      expect(doing).toBe({ leave: 0, stone: 30, plate: 410 }[option.key as "leave" | "stone" | "plate"]);
    }
    expect(rows.map(({ expected }) => expected.mean)).toEqual(
      rows.map(({ expected }) => expected.mean).toSorted((a, b) => a - b),
    );
    expect(leftOut).toContain("scrape the table: can't be judged");
    expect(leftOut).toContain("level the machine, take twist out of its feet: its hours are not given");
  });

  it("makes one more survey worth something where the tolerance lies inside the doubt, and nothing where it lies outside", () => {
    const outside = at(60);
    const { worth, worthOfCertainty } = at(11, { draws: 1000 });
    expect(worth.mean).toBeGreaterThan(3 * worth.standardError);
    expect(worth.mean).toBeLessThanOrEqual(worthOfCertainty.mean);
    expect(outside.worth.mean).toBe(0);
    expect(outside.measureAgain).toBe("not worth it");
    expect(`${outside}`).toMatch(
      /^least on the average: leave it as it is, 0 EUR; one more survey .*: decide now; it would/,
    );
  });

  it("is worth nothing where the error of the gauge is what is in doubt, for the same gauge errs the same way again", () => {
    const found = at(11, { surface: aMap(rim, { noiseUm: 0.2, gaugeUm: 4 }) });
    expect(found.worthOfCertainty.mean).toBeGreaterThan(20);
    expect(found.worth.mean).toBeLessThan(2 * found.worth.standardError + 5);
  });

  it("counts in hours where an hour has no price, and then takes no money", () => {
    const inHours: Partial<OptionsInput> = {
      stakes: { ifMissed: { hours: hours(6) }, measuringAgain: { hours: hours(2) } },
      efforts: { leave: { hours: hours(0) }, stone: { hours: hours(1) } },
    };
    const found = at(11, inHours);
    expect(found.unit).toBe("h");
    expect(found.rows.find(({ option }) => option.key === "stone")!.doing).toBe(1);
    expect(
      refusal(() => at(11, { ...inHours, efforts: { stone: { hours: hours(1), outlay: outlay(15, "EUR") } } })),
    ).toEqual({
      code: "stakes",
      message:
        "decision.options, stakes: stone the raised rim names 15 EUR; give the value of an hour (hourlyValue), so that hours and money can be added",
    });
  });

  it("says at which tolerance and which value of an hour another option would cost least", () => {
    const lines = inside.whatWouldChangeIt;
    expect(lines[0]).toMatch(/^one more survey of the same places before deciding is worth \d/);
    expect(
      lines.some((line) =>
        /^a tolerance from about \d+\.\d µm upwards: stone the raised rim would cost least$/.test(line),
      ),
    ).toBe(true);
    expect(lines.some((line) => line.startsWith("an hour worth "))).toBe(true);
  });

  it("refuses what can't be added up", () => {
    const stakesOf = (more: Partial<Stakes>) => refusal(() => at(11, { stakes: { ...stakes, ...more } })).message;
    expect(stakesOf({ ifMissed: {} })).toBe(
      "decision.options, stakes: ifMissed is nothing; give the hours or the outlay that it costs where the tolerance is not kept",
    );
    expect(stakesOf({ measuringAgain: {} })).toBe(
      "decision.options, stakes: measuringAgain is nothing; give the hours that one more survey takes",
    );
    expect(stakesOf({ ifMissed: { outlay: outlay(40, "GBP") } })).toBe(
      "decision.options, stakes: ifMissed names 40 GBP; give all money in EUR, the currency of the hourly value",
    );
  });
});
