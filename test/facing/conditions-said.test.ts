import { describe, expect, it } from "vitest";
import { climbMilling } from "../../kernel-lib/src/facing/climb.js";
import { cuttingConditions } from "../../kernel-lib/src/facing/conditions.js";
import {
  bandText,
  type ConditionsFacts,
  CuttingConditions,
  timeText,
} from "../../kernel-lib/src/facing/conditions-result.js";
import { engagementOf } from "../../kernel-lib/src/facing/engagement.js";
import { facedPlate } from "../../kernel-lib/src/facing/faced-plate.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { type EdgeMaterial, speedRange } from "../../kernel-lib/src/facing/speed-range.js";
import { type Length, minutes, mm, mmPerMin, newton, perMin, um } from "../../kernel-lib/src/quantity/index.js";
import { budget, type Input, input, Measured, type MonteCarlo } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { aJob } from "./a-job.js";
import { someConditions } from "./some-conditions.js";

const given = someConditions();
const made = cuttingConditions(given);
const { facts } = made;
const exactly = (value: Length) => Measured.of(value, []);
/** the same conditions with other facts, without working them out again */
const withFacts = (more: Partial<ConditionsFacts>) => new CuttingConditions({ ...facts, ...more });
const turning = (mPerMin: number) => withFacts({ job: aJob({ speed: perMin((1000 * mPerMin) / (Math.PI * 40)) }) });

describe("what the conditions say", () => {
  it("stands in one line", () => {
    expect(String(made)).toBe(
      "small club plate (invented): 101 m/min, feed 128 mm/min, power 23.9 W ± 5.4 W (k = 2.0), below 0.1 µm of the old form left, 30.8 min ± 3.4 min (k = 2.0): the cut suits",
    );
    expect(() => Object.assign(made, { safe: false })).toThrow(TypeError);
  });

  it("stands in notes, each where it belongs", () => {
    const fluid = "cutting fluid, and chips cleared between passes";
    const warmUp = "no warm-up curve was given: run at speed until two readings half an hour apart agree";
    const source = "speeds: common practice, from memory; the maker of the cutter decides";
    const law = "force by Kienzle's law at the mean chip; makers' tables differ by 5 to 20 %, a worn edge by more";
    expect(made.notes).toEqual([fluid, warmUp, source, law]);
    expect(withFacts({ material: "mild steel", warmUp: Measured.of(minutes(20), []) }).notes).toEqual([source, law]);
    const repeat =
      "one more round at the last depth, offset by half a step, takes off the spring that the last one left and makes the ridges lower";
    expect(withFacts({ bites: [mm(0.5)] }).notes).toEqual([
      "one round only: rough first and leave 0.2 mm to 0.3 mm, so that less is copied",
      repeat,
      fluid,
      warmUp,
      source,
      law,
    ]);
    expect(withFacts({ bites: [mm(0.3), mm(0.2)] }).notes).toEqual([repeat, fluid, warmUp, source, law]);
    const chip = (mean: number) => withFacts({ engagement: { ...facts.engagement, meanChip: mm(mean) } }).notes;
    expect(chip(0.05)).not.toContainEqual(expect.stringContaining("rubs"));
    expect(chip(0.0499)[0]).toBe(
      "a mean chip below 0.05 mm rubs: the law is held there, and the force may be larger; feed more per tooth",
    );
    expect(turning(74).notes[0]).toBe(
      "slower than the 75 m/min usual for HSS in aluminium 6061-T651: allowed, the edge may build up",
    );
    expect(turning(75.01).notes[0]).toBe(fluid);
  });

  it("finds fault above the usual speed and above the motor's power, at the limit not yet", () => {
    expect([turning(120).faults, turning(120).safe]).toEqual([[], true]);
    expect([turning(121).faults, turning(121).safe]).toEqual([
      ["121 m/min is above the 120 m/min usual for HSS in aluminium 6061-T651: turn slower"],
      false,
    ]);
    const most = facts.power.interval()[1];
    expect(withFacts({ motor: { power: most, efficiency: 0.7 } }).faults).toEqual([]);
    const weak = withFacts({
      motor: { power: most.times(0.999), efficiency: 0.7 },
      job: aJob({ speed: perMin(1400) }),
    });
    expect(weak.faults).toEqual([
      "up to 29.31 W is drawn and the motor has 29.28 W: cut less deep, or feed less",
      "176 m/min is above the 120 m/min usual for HSS in aluminium 6061-T651: turn slower",
    ]);
    expect(String(weak)).toContain(
      ": the cut does not suit: up to 29.31 W is drawn and the motor has 29.28 W: cut less deep, or feed less; 176 m/min is above",
    );
  });

  it("hands on the upper ends of force and lift, and rough and finish by what takes metal", () => {
    expect(made.load.force.si).toBe(facts.force.interval()[1].si);
    expect(made.load.lift.si).toBe(facts.lift.interval()[1].si);
    const cut = withFacts({
      job: aJob({ rounds: [{ depth: mm(0.3) }, { depth: mm(0.7) }, { depth: mm(0.7) }] }),
      bites: [mm(0.3), mm(0.4), mm(0)],
    });
    expect([cut.roughDepth.in("mm"), cut.finishDepth.in("mm")].map((v) => v.toFixed(9))).toEqual([
      "0.300000000",
      "0.400000000",
    ]);
  });

  it("waits for the warm-up with 95 % confidence of one limit, and never less than nothing", () => {
    const wait = (value: number, u: number) =>
      withFacts({
        warmUp: Measured.of(minutes(value), [
          {
            input: input.normal({ label: "fit", estimate: minutes(0), standardUncertainty: minutes(u) }),
            sensitivity: 1,
          },
        ]),
      }).warmUpWait!.in("min");
    // 95 % of a normal law lie below 1.644854 u
    expect(wait(30, 2)).toBeCloseTo(30 + 1.644854 * 2, 5);
    expect(wait(-9, 2)).toBe(0);
    expect(made.warmUpWait).toBeUndefined();
  });

  it("says a band by its ends, or that it lies below what is printed", () => {
    const band = (low: number, high: number) => ({ symmetric: [um(low), um(high)] }) as unknown as MonteCarlo<"length">;
    expect(bandText(band(0.2, 1.26), "um", 1)).toBe("0.2 µm to 1.3 µm");
    expect(bandText(band(0, 0.051), "um", 1)).toBe("0.0 µm to 0.1 µm");
    expect(bandText(band(0, 0.049), "um", 1)).toBe("below 0.1 µm");
    expect(bandText(band(120, 1260), "mm", 2)).toBe("0.12 mm to 1.26 mm");
    expect(bandText(band(0, 4), "mm", 2)).toBe("below 0.01 mm");
  });

  it("says a time with its ± where it has one", () => {
    const of = (pause: Parameters<typeof input.normal>[0] | undefined) =>
      timeText(
        budget({
          measurand: "time",
          inputs: { pause: pause ? input.normal(pause as never) : minutes(95) } as never,
          model: (x: { pause: never }) => x.pause,
        }) as never,
      );
    expect(of(undefined)).toBe("1 h 35 min");
    expect(of({ label: "stop", estimate: minutes(95) as never, standardUncertainty: minutes(2) as never })).toBe(
      "95.0 min ± 3.9 min (k = 2.0)",
    );
  });
});

describe("what the conditions are worked out by", () => {
  it("is said in the budgets", () => {
    const names = [facts.force, facts.lift, facts.power, facts.giving, facts.time].map(({ measurand }) => measurand);
    expect(names).toEqual([
      "cutting force, widest pass",
      "upward force, widest pass",
      "power drawn by the cut",
      "yield per depth of cut",
      "time of the program with rapids and stops",
    ]);
    const simulated = [facts.deflection, facts.copiedShare, facts.copied].map(({ firstOrder }) => firstOrder.measurand);
    expect(simulated).toEqual([
      "deflection in the last round",
      "share of the old form left in the finish",
      "old form left in the finish",
    ]);
    const labels = (of: { terms: readonly { input: { label: string } }[] }) => of.terms.map((t) => t.input.label);
    expect(labels(facts.lift)).toEqual([
      "specific cutting force, makers and edge",
      "upward share of the cutting force",
    ]);
    expect(labels(facts.copied.firstOrder)).toContain("old form, peak to valley as probed");
  });

  it("takes force within 20 % and an upward share of 0.2 to 0.6 where nothing is given, and what is given", () => {
    // rectangular: half width over √3
    expect(facts.force.standardUncertainty.in("N") / facts.force.value.in("N")).toBeCloseTo(0.2 / Math.sqrt(3), 9);
    expect(facts.lift.value.in("N") / facts.force.value.in("N")).toBeCloseTo(0.4, 9);
    const own = cuttingConditions({ ...given, forceWithin: 0.1, upward: [0.1, 0.3] }).facts;
    expect(own.force.standardUncertainty.in("N") / own.force.value.in("N")).toBeCloseTo(0.1 / Math.sqrt(3), 9);
    expect(own.lift.value.in("N") / own.force.value.in("N")).toBeCloseTo(0.2, 9);
    const u = Math.hypot(0.2 * own.force.standardUncertainty.in("N"), (0.1 / Math.sqrt(3)) * own.force.value.in("N"));
    expect(own.lift.standardUncertainty.in("N")).toBeCloseTo(u, 9);
  });

  it("takes k_c × chip × deepest bite × teeth in the metal, one at least", () => {
    const kc = given.specificForce.at(facts.engagement.meanChip).in("MPa");
    expect(facts.force.value.in("N")).toBeCloseTo(kc * facts.engagement.meanChip.in("mm") * 0.3, 9);
    const many = cuttingConditions({ ...given, job: aJob({ cutter: { ...aJob().cutter, teeth: 6 } }) }).facts;
    expect(many.engagement.meanTeeth).toBeGreaterThan(2);
    expect(many.force.value.in("N")).toBeCloseTo(
      kc * many.engagement.meanChip.in("mm") * 0.3 * many.engagement.meanTeeth,
      9,
    );
    // at its thickest the chip is the feed per tooth: 80 µm in a pass over more than half of the cutter
    const thick = given.specificForce.at(mm(0.08)).in("MPa") * 0.08 * 0.3;
    expect(facts.greatestToothForce.in("N")).toBeCloseTo(thick, 9);
    // the deepest bite counts, wherever it stands
    const late = cuttingConditions({ ...given, job: aJob({ rounds: [{ depth: mm(0.2) }, { depth: mm(0.6) }] }) });
    expect(late.facts.force.value.in("N")).toBeCloseTo(kc * facts.engagement.meanChip.in("mm") * 0.4, 9);
    expect(late.facts.bites.map((bite) => bite.in("mm").toFixed(9))).toEqual(["0.200000000", "0.400000000"]);
  });

  it("yields by force × upward share × push test, for each millimetre of depth", () => {
    const kc = given.specificForce.at(facts.engagement.meanChip).in("MPa");
    const perMm = kc * facts.engagement.meanChip.in("mm");
    expect(facts.giving.value.in("1")).toBeCloseTo((perMm / 150) * 0.4 * 0.008, 12);
  });

  it("copies of the old form what each round leaves, with the doubt of the form's two ends", () => {
    const c = facts.giving.value.in("1");
    const share = (c / (1 + c)) ** 3;
    // 40 u − 25 v: 65 µm from peak to valley
    expect(facts.copied.firstOrder.value.in("um") / (65 * share)).toBeCloseTo(1, 9);
    const found = facts.copied.firstOrder.terms.find((t) => t.input.label.startsWith("old form"))!;
    expect((found.input as Input<"length">).standardUncertainty.in("um")).toBeCloseTo(0.8 * Math.SQRT2, 12);
  });

  it.each<[Partial<typeof given>, string, string]>([
    [
      { motor: { ...given.motor, power: given.motor.power.times(0) } },
      "not-positive",
      "motor.power is 0 kW; give a value above zero",
    ],
    [{ rapid: mmPerMin(-1) }, "not-positive", "rapid is −1 mm/min; give a value above zero"],
    [{ holder: { overhang: mm(0), diameter: mm(10) } }, "not-positive", "overhang is 0 mm; give a value above zero"],
    [
      { forceWithin: 1 },
      "share",
      "forceWithin 1 and upward 0.2 to 0.6; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { forceWithin: 0 },
      "share",
      "forceWithin 0 and upward 0.2 to 0.6; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { upward: [0.4, 0.4] },
      "share",
      "forceWithin 0.2 and upward 0.4 to 0.4; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { forceWithin: -0.1 },
      "share",
      "forceWithin -0.1 and upward 0.2 to 0.6; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { upward: [-0.1, 0.6] },
      "share",
      "forceWithin 0.2 and upward -0.1 to 0.6; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { upward: [0.5, 1.1] },
      "share",
      "forceWithin 0.2 and upward 0.5 to 1.1; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
  ])("refuses %#", (wrong, code, message) => {
    expect(refusal(() => cuttingConditions({ ...given, ...wrong }))).toEqual({
      code,
      message: `facing.cuttingConditions: ${message}`,
    });
  });
});

describe("how the cutter stands in its widest pass", () => {
  /** of the chips over the arc in the metal: mean and greatest, by small steps of the turn */
  const byTurn = (from: number, to: number, feed: number) => {
    const chips = Array.from({ length: 2000 }, (_, k) => feed * Math.sin(from + ((k + 0.5) * (to - from)) / 2000));
    return { mean: chips.reduce((a, b) => a + b, 0) / 2000, greatest: Math.max(...chips) };
  };
  it.each<[string, Parameters<typeof aJob>[0], number, number, number]>([
    // the rim clears the side by the run-out: the cut is 37 mm wide and begins at the rim
    ["over more than half of the cutter", {}, 37, 0, Math.acos(1 - 37 / 20)],
    // a run-out of 25 mm leaves 15 mm of the cutter over the plate
    ["over less than half of it", { runOut: mm(25), stepOver: mm(10) }, 15, 0, Math.acos(1 - 15 / 20)],
    ["over just half of it", { runOut: mm(20), stepOver: mm(10) }, 20, 0, Math.PI / 2],
    // one pass over the middle of a plate of 30 mm: as much on either side
    [
      "over a plate narrower than the cutter",
      { plate: area(mm(50), mm(170), mm(60), mm(90)) },
      30,
      Math.acos(15 / 20),
      Math.PI - Math.acos(15 / 20),
    ],
    // two passes over a plate that is narrower than the cutter less its run-out
    ["over all of a narrow plate", { plate: area(mm(50), mm(170), mm(60), mm(96)) }, 36, 0, Math.acos(1 - 36 / 20)],
  ])("%s", (_name, more, width, from, to) => {
    const job = aJob({ screws: [], ...more });
    const got = engagementOf(job);
    const { mean, greatest } = byTurn(from, to, 0.08);
    expect(got.width.in("mm")).toBeCloseTo(width, 9);
    expect(got.meanChip.in("mm")).toBeCloseTo(mean, 6);
    expect(got.greatestChip.in("mm")).toBeCloseTo(greatest, 4);
    expect(got.meanTeeth).toBeCloseTo((2 * (to - from)) / (2 * Math.PI), 9);
  });
});

describe("climbing", () => {
  it("is weighed at exactly the feed per tooth, and a play of nothing is one", () => {
    expect(climbMilling(mm(0.05), exactly(mm(0.05))).isAllowed).toBe(false);
    expect(climbMilling(mm(0.051), exactly(mm(0.05))).isAllowed).toBe(true);
    expect(climbMilling(mm(0.05), exactly(mm(0))).isAllowed).toBe(true);
  });

  it("says what was weighed", () => {
    const play = Measured.from(input.rectangular({ label: "play", estimate: mm(0.02), halfWidth: mm(0.01) }));
    // 1.96 × 0.01 / √3 more than 0.02
    expect(climbMilling(mm(0.08), play).because).toBe(
      "play 0.02 mm, at most 0.031 mm, is below the feed per tooth 0.08 mm: climbing is allowed with the gibs snug",
    );
    expect(climbMilling(mm(0.03), play).because).toBe(
      "play 0.02 mm, at most 0.031 mm, is not below the feed per tooth 0.03 mm: cut conventionally, one way, return above the work, and lock the idle axis",
    );
    expect(climbMilling(mm(0.08), undefined)).toEqual({
      isAllowed: false,
      because:
        "the play of the feed axis was not measured: cut conventionally, one way, return above the work, and lock the idle axis",
    });
  });
});

// common practice, from memory: the table as it is meant to stand, m/min
it.each([
  ["aluminium 6061-T651", "HSS", 75, 120],
  ["aluminium 6061-T651", "carbide", 200, 400],
  ["aluminium 5083-O", "HSS", 75, 120],
  ["aluminium 5083-O", "carbide", 200, 400],
  ["mild steel", "HSS", 20, 30],
  ["mild steel", "carbide", 90, 180],
  ["grey iron", "HSS", 18, 28],
  ["grey iron", "carbide", 60, 120],
] as const)("cuts %s with %s at %d to %d m/min", (material, edge, low, high) => {
  const got = speedRange(material, edge);
  expect([got.low.in("m/min"), got.high.in("m/min")]).toEqual([low, high]);
  expect(refusal(() => speedRange("oak" as "mild steel", edge)).message).toBe(
    `facing.speedRange: "${edge}" in "oak" is not in the table; use HSS or carbide in aluminium 6061-T651, aluminium 5083-O, mild steel, grey iron`,
  );
  expect(refusal(() => speedRange(material, "toString" as EdgeMaterial)).code).toBe("unknown-material");
});

describe("the faced plate", () => {
  const parts = { conditions: made, texture: um(1), travelRepeatUpTo: um(2), heatUpTo: um(4), gauge: um(0.5) };
  const surveyed = (label: string, height: number, u: number) =>
    input.normal({ label, estimate: um(height), standardUncertainty: um(u) });

  it("adds up its parts, those that are anything from none at half of what is given", () => {
    const got = facedPlate(parts);
    const { copied, deflection } = facts;
    const half = copied.firstOrder.value.in("um") + deflection.firstOrder.value.in("um") / 2;
    expect(got.asThisMachineSees.in("um")).toBeCloseTo(1 + 2 / 2 + 4 / 2 + half, 9);
    expect(got.asThisMachineSees.standardUncertainty.in("um")).toBeCloseTo(
      Math.hypot(2 / Math.sqrt(12), 4 / Math.sqrt(12), 0.5),
      5,
    );
    expect(got.asThisMachineSees.measurand).toBe("faced plate as this machine will see it, at most");
    expect(got.asThisMachineSees.terms.map((t) => t.input.label)).toEqual(
      expect.arrayContaining([
        "share of the deflection that differs over the plate",
        "travel that does not repeat",
        "change of temperature",
        "gauge of the survey after",
      ]),
    );
    expect(got.outlook).toEqual({
      texture: um(1),
      deflectionUpTo: got.outlook.deflectionUpTo,
      travelRepeatUpTo: um(2),
      heatUpTo: um(4),
    });
    expect(got.outlook.deflectionUpTo.si).toBe(copied.symmetric[1].si + deflection.symmetric[1].si);
    expect(got.straightedgeText).toBe(
      "unknown unless straightness and twist of the travel are surveyed with a level or a straightedge",
    );
    expect(() => Object.assign(got, { name: "" })).toThrow(TypeError);
  });

  it("adds straightness and twist for a straightedge, whatever they are given as", () => {
    const travel = { straightness: surveyed("straightness", 5, 1), twist: exactly(um(3)) };
    const got = facedPlate({ ...parts, texture: surveyed("texture", 1.5, 0.2), travel });
    expect(got.outlook.texture.in("um")).toBe(1.5);
    expect(got.outlook.travelFlatness!.in("um")).toBeCloseTo(8, 9);
    expect(got.asStraightedgeSees!.measurand).toBe("faced plate as a straightedge will see it, at most");
    expect(got.asStraightedgeSees!.in("um") - got.asThisMachineSees.in("um")).toBeCloseTo(8, 9);
    expect(String(got)).toBe(
      `small club plate (invented), faced: as this machine will see it at most ${got.asThisMachineSees.text("um")}; as a straightedge will see it at most ${got.asStraightedgeSees!.text("um")}`,
    );
  });

  it.each([
    [{ travelRepeatUpTo: um(-0.1) }, "travelRepeatUpTo is −0.1 µm"],
    [{ heatUpTo: um(-2) }, "heatUpTo is −2 µm"],
    [{ gauge: um(-2) }, "gauge is −2 µm"],
    [{ travel: { straightness: surveyed("s", -1, 1), twist: surveyed("t", 1, 1) } }, "straightness is −1 µm"],
    [{ travel: { straightness: surveyed("s", 1, 1), twist: exactly(um(-1)) } }, "twist is −1 µm"],
  ])("refuses %#", (wrong, said) => {
    expect(refusal(() => facedPlate({ ...parts, ...wrong }))).toEqual({
      code: "negative",
      message: `facing.facedPlate: ${said}; give a peak to valley of zero or more`,
    });
  });
});

it("takes the yield of head and holder together, each by its own share of the force", () => {
  const holder = { overhang: mm(60), diameter: mm(16) };
  const under = newton(40);
  const got = cuttingConditions({ ...given, yields: { by: um(8) as never, under }, holder }).facts.giving;
  const kc = given.specificForce.at(facts.engagement.meanChip).in("MPa");
  const perMm = kc * facts.engagement.meanChip.in("mm");
  const leans = (20 * 60 ** 2) / (2 * 207_000 * ((Math.PI * 16 ** 4) / 64));
  expect(got.value.in("1")).toBeCloseTo(perMm * ((0.4 * 0.008) / 40 + leans), 12);
});
