import { describe, expect, it } from "vitest";
import { cuttingConditions } from "../../kernel-lib/src/facing/conditions.js";
import { facedPlate } from "../../kernel-lib/src/facing/faced-plate.js";
import { speedRange } from "../../kernel-lib/src/facing/speed-range.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { kW, minutes, mm, newton, perMin, um } from "../../kernel-lib/src/quantity/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";
import { aJob, aTop } from "./a-job.js";
import { aFacedPlate, someConditions } from "./some-conditions.js";

const given = someConditions();
const made = cuttingConditions(given);
const { facts } = made;

describe("cutting conditions", () => {
  it("have the handbook's 300 ft/min inside the range of high-speed steel in aluminium", () => {
    const { speed } = fixture<{ speed: { cuttingFtPerMin: number } }>("machining/face-cutting.json");
    const { low, high } = speedRange("aluminium 6061-T651", "HSS");
    expect(low.in("ft/min")).toBeLessThan(speed.cuttingFtPerMin);
    expect(high.in("ft/min")).toBeGreaterThan(speed.cuttingFtPerMin);
  });

  it("keep the work: force × share of the turn × cutting speed = power at the cutter", () => {
    for (const teeth of [1, 2, 6]) {
      const job = aJob({ cutter: { diameter: mm(40), teeth, greatestSpeed: perMin(1500) } });
      const { facts: of, cuttingSpeed } = cuttingConditions(someConditions({ job }));
      const work = of.force.in("N") * Math.min(1, of.engagement.meanTeeth) * cuttingSpeed.in("m/s");
      expect(work).toBeCloseTo(of.power.in("W") * 0.7, 9);
    }
  });

  it("leave what a spring of that stiffness leaves, round after round, place by place", () => {
    const random = randomStream(7, 0);
    const found = Array.from({ length: 40 }, () => 60 * random.uniform());
    const give = facts.giving.in("1");
    const highest = Math.max(...found);
    let top = found;
    for (const { depth } of given.job.rounds) {
      const aim = highest - depth.in("um");
      top = top.map((height) => {
        // the rim rests where the push of the metal, give × what is really cut, equals how far it stands above its aim
        let [low, high] = [aim, height];
        for (let i = 0; i < 60; i++) {
          const at = (low + high) / 2;
          if (at - aim < give * (height - at)) low = at;
          else high = at;
        }
        return low;
      });
    }
    const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
    expect(range(top) / range(found)).toBeCloseTo(facts.copiedShare.firstOrder.in("1"), 9);
    expect(Math.max(...top) - (highest - 500)).toBeCloseTo(facts.deflection.firstOrder.in("um"), 6);
  });

  it("count the lean of a slender holder: R L² F / (2 E I)", () => {
    const holder = { overhang: mm(80), diameter: mm(20) };
    const more = cuttingConditions({ ...given, holder }).facts.giving.in("1") - facts.giving.in("1");
    const bite = Math.max(...facts.bites.map((b) => b.in("mm")));
    const inertia = (Math.PI * 20 ** 4) / 64;
    expect(more * bite).toBeCloseTo((20 * 80 ** 2 * facts.force.in("N")) / (2 * 207000 * inertia), 9);
  });

  it("take the time of every feed, return, dwell and stop of the text", () => {
    const { job } = given;
    const [length, clear] = [120 + 2 * 23, job.clearance.in("mm")];
    let minutes = 0;
    let from: readonly [number, number] | undefined;
    for (const [i, { depth }] of job.rounds.entries()) {
      const lanes = i < 2 ? [57, 69, 81, 93] : [57, 63, 75, 87, 93];
      const deep = clear + depth.in("mm");
      minutes += 3 + 4 / 60 + (2 * (60 - clear)) / 600;
      for (const y of lanes) {
        const start = [0, y] as const;
        if (from) minutes += Math.hypot(start[0] - from[0], start[1] - from[1]) / 600;
        minutes += deep / 100 + length / 128 + deep / 600;
        from = [length, y];
      }
    }
    expect(facts.time.in("min")).toBeCloseTo(minutes, 6);
  });

  it("say the time in whole minutes where no stop is in doubt, and with its ± where one is", () => {
    expect(String(made)).toMatch(/ left, 30\.8 min ± 3\.\d min \(k = 2\.0\): the cut suits$/);
    // before, a time without doubt was said to a hundredth of a minute, "(taken as exact)"
    const sure = (pause: number) => String(cuttingConditions({ ...given, pause: minutes(pause) }));
    expect(sure(3)).toMatch(/ left, 31 min: the cut suits$/);
    expect(sure(30)).toMatch(/ left, 1 h 52 min: the cut suits$/);
  });

  it("hand rough and finish, load and warm-up on", () => {
    expect(made.roughDepth.in("mm")).toBeCloseTo(0.3, 12);
    expect(made.finishDepth.in("mm")).toBeCloseTo(0.2, 12);
    expect(made.load.force.si).toBeCloseTo(facts.force.interval()[1].si, 12);
    expect(made.warmUpWait).toBeUndefined();
    expect(made.notes.join()).toContain("two readings half an hour apart agree");
  });

  it("say what a repeat of the last depth is for, where there is none", () => {
    const rounds = given.job.rounds.slice(0, 2);
    const twice = cuttingConditions(someConditions({ job: aJob({ rounds }) }));
    expect(twice.notes.join()).toContain("takes off the spring that the last one left");
    expect(made.notes.join()).not.toContain("takes off the spring");
    // three rounds leave less of the old form than two
    expect(twice.facts.copiedShare.firstOrder.in("1")).toBeGreaterThan(facts.copiedShare.firstOrder.in("1"));
  });

  it("say what does not suit, and do not refuse it", () => {
    const weak = cuttingConditions({ ...given, motor: { power: kW(0.005), efficiency: 0.7 } });
    expect(weak.safe).toBe(false);
    expect(String(weak)).toMatch(
      /does not suit: up to \d\d W is drawn and the motor has 5 W: cut less deep, or feed less$/,
    );
    const fast = cuttingConditions({ ...given, material: "mild steel" });
    expect(fast.faults[0]).toBe("101 m/min is above the 30 m/min usual for HSS in mild steel: turn slower");
    expect(made.safe).toBe(true);
  });

  it.each([
    [
      { yields: { ...given.yields, under: newton(0) } },
      "not-positive",
      "facing.cuttingConditions: yields.under is 0 N; give a value above zero",
    ],
    [
      { upward: [0.6, 0.2] as const },
      "share",
      "facing.cuttingConditions: forceWithin 0.2 and upward 0.6 to 0.2; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first",
    ],
    [
      { edge: "stone" as "HSS" },
      "unknown-material",
      'facing.speedRange: "stone" in "aluminium 6061-T651" is not in the table; use HSS or carbide in aluminium 6061-T651, aluminium 5083-O, mild steel, grey iron',
    ],
    [
      { plateTop: { ...aTop(given.job), frame: { ...given.job.frame, relativeTo: "gravity" as const } } },
      "wrong-frame",
      "facing.cuttingConditions: plate top is relative to gravity, and a cut follows the travel; give a map probed from the spindle",
    ],
    [
      { plateTop: { ...aTop(given.job), frame: { ...given.job.frame, front: "y+" as const } } },
      "frames-differ",
      "facing.cuttingConditions: plate top has FRONT y+, +X right, +Y back and the job FRONT y−, +X right, +Y back; give both in the same frame",
    ],
  ])("refuse %#", (wrong, code, message) => {
    expect(refusal(() => cuttingConditions({ ...given, ...wrong }))).toEqual({ code, message });
  });
});

describe("the two predictions of the faced plate", () => {
  const plate = aFacedPlate();

  it("stand together, the straightedge's greater by straightness and twist of the travel", () => {
    expect(plate.asStraightedgeSees!.in("um") - plate.asThisMachineSees.in("um")).toBeCloseTo(8, 9);
    expect(String(plate)).toMatch(/as this machine will see it at most .*; as a straightedge will see it at most /);
  });

  it("say unknown where the travel was not surveyed", () => {
    const only = facedPlate({
      conditions: made,
      texture: um(1),
      travelRepeatUpTo: um(2),
      heatUpTo: um(2),
      gauge: um(1),
    });
    expect(only.asStraightedgeSees).toBeUndefined();
    expect(String(only)).toMatch(
      /as a straightedge will see it unknown unless straightness and twist of the travel are surveyed with a level or a straightedge$/,
    );
    expect(only.outlook).not.toHaveProperty("travelFlatness");
  });

  it("are never less than a sum of forms of those heights", () => {
    const random = randomStream(11, 0);
    const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
    for (let k = 0; k < 300; k++) {
      const forms = [1, 2, 3, 4].map(() => Array.from({ length: 12 }, () => random.normal()));
      const together = forms[0]!.map((_, i) => forms.reduce((sum, form) => sum + form[i]!, 0));
      expect(range(together)).toBeLessThanOrEqual(forms.reduce((sum, form) => sum + range(form), 0) + 1e-12);
    }
  });

  it("refuses a height below zero", () => {
    const wrong = { conditions: made, texture: um(-1), travelRepeatUpTo: um(2), heatUpTo: um(2), gauge: um(1) };
    expect(refusal(() => facedPlate(wrong))).toEqual({
      code: "negative",
      message: "facing.facedPlate: texture is −1 µm; give a peak to valley of zero or more",
    });
  });
});
