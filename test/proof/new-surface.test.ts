import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { newSurface, settled } from "../../kernel-lib/src/proof/index.js";
import { minutes, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";
import { aMap } from "../facing/a-map.js";
import { refusal } from "../refusal.js";

const job = { upper: um(10), source: "the job" };
const bow = (sizeUm: number) => (x: number) => sizeUm * ((x - 260) / 240) ** 2;
const table: Surface = { ...aMap(bow(18), { noiseUm: 0.5, gaugeUm: 1 }), name: "table" };
const plate: Surface = { ...aMap(bow(0.5), { noiseUm: 0.5, gaugeUm: 1 }), name: "plate" };
const levelled = (sizeUm: number): Surface => ({
  ...aMap(bow(sizeUm), { noiseUm: 0.5, gaugeUm: 1 }),
  name: "plate by level",
  frame: { ...plate.frame, relativeTo: "gravity" },
});

describe("a new surface", () => {
  it("is judged by its own form, and says what its own travel can't prove", () => {
    const found = newSurface({ before: table, after: plate, tolerance: job });
    expect([found.verdict.decision, found.flatter]).toEqual(["conforms", "for certain"]);
    expect(found.selfReference).toMatch(/parallel to that travel, not that it is flat/);
    expect(found.independent).toMatch(/^make one check that does not use the travel/);
    expect(found.toString()).toContain("holds on this table, at this torque");
  });

  it("takes an independent check, which may say otherwise", () => {
    const found = newSurface({ before: table, after: plate, tolerance: job, check: levelled(25) });
    expect(found.verdict.decision).toBe("conforms");
    expect(found.checkVerdict!.decision).toBe("does not conform");
    expect(found.independent).toMatch(/^independent check relative to gravity \(plate by level\): does not conform/);
  });

  it("calls a surface less flat where it is, and neither where the uncertainty decides", () => {
    expect(newSurface({ before: plate, after: table, tolerance: job }).flatter).toBe("less flat for certain");
    expect(newSurface({ before: plate, after: plate, tolerance: job }).flatter).toBe("not for certain");
  });

  it("warns of no self-reference where the survey does not use the travel", () => {
    const found = newSurface({ before: levelled(18), after: levelled(1), tolerance: job });
    expect([found.selfReference, found.independent]).toEqual([undefined, "the survey itself does not use the travel"]);
  });

  it.each([
    [
      "two frames",
      () => newSurface({ before: levelled(18), after: plate, tolerance: job }),
      "two-frames",
      "proof.newSurface: plate by level is relative to gravity and plate to travel; their forms can't be judged against each other, survey both the same way and give the other survey as check",
    ],
    [
      "a check by the same travel",
      () => newSurface({ before: table, after: plate, tolerance: job, check: plate }),
      "same-reference",
      "proof.newSurface: the check plate is relative to travel; a check that uses the travel proves nothing of it, survey with a level or a straightedge",
    ],
    [
      "a tolerance from nowhere",
      () => newSurface({ before: table, after: plate, tolerance: { upper: um(10), source: "" } }),
      "tolerance-source",
      "proof.newSurface: the tolerance of 10 µm has no source; say where it comes from: a standard, the maker's sheet, the job",
    ],
  ])("refuses %s", (_name, act, code, message) => {
    expect(refusal(act)).toEqual({ code, message });
  });
});

/** the same table with fresh scatter, and a bow that is still going out of it */
function evening(seed: number, leftUm = 0): Surface {
  const random = randomStream(seed);
  return {
    ...aMap((x) => bow(18 + leftUm)(x) + 0.6 * random.normal(), { noiseUm: 0.6, gaugeUm: 1 }),
    name: `at ${seed}`,
  };
}

describe("two surveys half an hour apart", () => {
  it("see a bow that still goes out as the spindle cools", () => {
    const found = settled({ first: evening(1, 3), second: evening(2), apart: minutes(40) });
    expect(found.agree).toBe(false);
    expect(found.toString()).toMatch(/^not settled: something still moves between the two surveys 40 min apart/);
  });

  it("agree where nothing moves, at least at the rate that is claimed", () => {
    const count = 300;
    const alarms = Array.from({ length: count }, (_, k) =>
      settled({ first: evening(2 * k + 10), second: evening(2 * k + 11), apart: minutes(30) }),
    ).filter(({ agree }) => !agree).length;
    // binomial 99.9 % band about 8 in 100: at most 41 of 300
    console.log(`called not settled: ${alarms} of ${count}, at most 41 allowed`);
    expect(alarms).toBeLessThanOrEqual(41);
  });

  it("are refused sooner than that", () => {
    expect(refusal(() => settled({ first: table, second: table, apart: minutes(10) }))).toEqual({
      code: "too-soon",
      message: "proof.settled: the surveys are 10 min apart; half an hour is needed at least, survey once more then",
    });
  });
});

describe("a new surface and its rest", () => {
  const [first, second] = [evening(1), evening(2)];
  const judged = (pair: readonly [Surface, Surface]) =>
    newSurface({
      before: table,
      after: second,
      tolerance: { upper: um(40), source: "the job" },
      settled: settled({ first: pair[0], second: pair[1], apart: minutes(40) }),
    });

  it("says that it waits for two surveys half an hour apart where none are shown", () => {
    const found = newSurface({ before: table, after: plate, tolerance: job });
    expect(found.rest).toBe(
      "not shown to have settled: a verdict waits until two surveys half an hour apart agree (proof.settled)",
    );
    expect(found.toString()).toContain(found.rest);
  });

  it("says whether they agree", () => {
    expect(judged([first, second]).rest).toMatch(/^settled: the two surveys 40 min apart agree/);
    expect(judged([evening(3, 4), second]).rest).toMatch(/^not settled: something still moves/);
  });

  it("is refused with two surveys of which neither is the one that is judged", () => {
    expect(refusal(() => judged([second, first]))).toEqual({
      code: "settled",
      message:
        "proof.newSurface: the surveys that were to settle end with at 1, and at 2 is judged; judge the second of the two",
    });
  });
});
