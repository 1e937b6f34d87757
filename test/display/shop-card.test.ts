import { describe, expect, it } from "vitest";
import {
  facing,
  input,
  kW,
  mm,
  mmPerMin,
  newton,
  newtonMetre,
  perMin,
  shopCard,
  um,
} from "../../kernel-lib/src/index.js";
import { aMap } from "../facing/a-map.js";
import { aHoldDown, aPlate, platePlan } from "../facing/a-plate.js";
import { someConditions } from "../facing/some-conditions.js";
import { refusal } from "../refusal.js";

const map = aMap((x, y) => 20 * ((x - 260) / 240) ** 2 + y / 20, { noiseUm: 0.5, gaugeUm: 1 });
const within = (label: string, half: number) => input.rectangular({ label, estimate: mm(0), halfWidth: mm(half) });
const holdDown = aHoldDown();
const clearance = (cut: number) =>
  facing.screwClearance({
    thread: "M10",
    leastCounterboreDepth: mm(13),
    plateThickness: mm(25),
    webNeeded: mm(8),
    margin: mm(0.5),
    screws: holdDown.plate.screws.map(({ label }) => ({ label, cut: mm(cut) })),
    doubts: {
      touchOff: within("touch-off", 0.06),
      toolLength: within("tool length", 0.03),
      lockShift: within("lock", 0.02),
      deflection: within("deflection", 0.02),
    },
  });
const job = {
  title: "Face the fixture plate",
  decision: "fixture plate, faced in place: the only option that can be proven",
  holdDown,
  bedding: facing.bedding(map, holdDown, { underside: { flatWithin: um(5) }, draws: 20 }),
  depth: facing.depth(map, { draws: 100, thickness: mm(25) }),
  clearance: clearance(0.5),
  cut: {
    spindleSpeed: perMin(600),
    feed: mmPerMin(60),
    stepOver: mm(30),
    passes: 6,
    roughDepth: mm(0.25),
    finishDepth: mm(0.15),
  },
};

describe("the shop card", () => {
  const { document } = shopCard(job);

  it("gives decision, torque, depth, speed and feed", () => {
    for (const text of [
      job.decision,
      "11.0 N·m",
      "0.40 mm below first contact",
      "600 1/min, 60 mm/min",
      "24.60 mm where deepest",
    ]) {
      expect(document).toContain(text);
    }
  });

  it("has its steps in the order of the job", () => {
    const words = [
      "Clean table",
      "mark FRONT",
      "three rounds",
      "Pencil grid",
      "warm up",
      "Rough ",
      "Wait",
      "Finish ",
      "Deburr",
      "wash",
      "Survey again before a screw",
      "Release",
      "survey a third time",
    ];
    const at = words.map((word) => document.indexOf(word, document.indexOf('<ol class="steps">')));
    expect(Math.min(...at)).toBeGreaterThan(0);
    expect(at).toEqual(at.toSorted((a, b) => a - b));
  });

  it("asks for an indicator beside each screw, a wait, and the grid that tells clean-up", () => {
    for (const sentence of [
      /an indicator beside each screw, note what it moves/,
      /shim, do not pull/,
      /until two readings half an hour apart agree/,
      /Wait until it is cool/,
      /one way, return above the work, idle axes locked\. Grid all gone = cleaned up/,
      /Deburr edges and counterbores, wash, let it soak/,
    ]) {
      expect(document).toMatch(sentence);
    }
  });

  it("carries every caution, before the first step", () => {
    const firstStep = document.indexOf('<ol class="steps">');
    for (const line of holdDown.cautions) {
      const at = document.indexOf(line.replaceAll("'", "&#39;"));
      expect(at).toBeGreaterThan(0);
      expect(at).toBeLessThan(firstStep);
    }
  });

  it("holds nothing that runs or is fetched, whatever the title says", () => {
    const hostile = shopCard({ ...job, title: `<script>alert(1)</script><img src=x onerror="y">` }).document;
    expect(hostile).not.toMatch(/<(script|img|link|iframe|object|embed|form|a)[\s>]/i);
  });

  it("shows itself in a frame that runs nothing, with a link that saves it", () => {
    const shown = shopCard({ ...job, title: `"><script>alert(1)</script>` }).toHtml().markup;
    expect(shown).toMatch(/<iframe sandbox="" srcdoc="&#60;!doctype html&#62;/);
    expect(shown).toContain('<a download="script-alert-1-script.html" href="data:text/html;base64,');
    expect(shown).not.toMatch(/<script/i);
    const [, saved] = /base64,([^"]+)"/.exec(shown)!;
    expect(Buffer.from(saved!, "base64").toString("utf8")).toContain("&#60;script&#62;");
  });

  it("takes worked-out conditions, and prints none that do not suit", () => {
    const given = someConditions();
    const conditions = facing.cuttingConditions(given);
    const { document } = shopCard({ ...job, cut: conditions });
    const { speed, cutter, feedPerTooth } = given.job;
    const feed = speed.in("1/min") * cutter.teeth * feedPerTooth.in("mm");
    expect(document).toContain(`${speed.in("1/min").toFixed(0)} 1/min, ${feed.toFixed(0)} mm/min`);
    expect(document).toMatch(/\d+ W at the most, \d+ min/);
    const weak = facing.cuttingConditions({ ...given, motor: { power: kW(0.005), efficiency: 0.7 } });
    expect(refusal(() => shopCard({ ...job, cut: weak })).message).toMatch(
      /^shopCard: .* is drawn and the motor has 5 W: cut less deep, or feed less; no card is printed until they suit$/,
    );
  });

  it("is refused where the conditions load the hold-down beyond what it was worked out for, and not where it took them itself", () => {
    const conditions = facing.cuttingConditions(someConditions());
    const [force, lift] = [conditions.load.force.in("N"), conditions.load.lift.in("N")];
    const weak = aHoldDown({ cutting: { force: newton(force / 2), lift: newton(2 * lift) } });
    expect(refusal(() => shopCard({ ...job, holdDown: weak, cut: conditions }))).toEqual({
      code: "not-held",
      message: `shopCard: the cut may push with ${force.toFixed(1)} N and the hold-down was worked out for ${(force / 2).toFixed(1)} N; work the hold-down out anew with \`cutting: conditions\``,
    });
    const own = aHoldDown({ cutting: conditions });
    expect(own.shortOf(conditions.load)).toEqual([]);
    expect(shopCard({ ...job, holdDown: own, cut: conditions }).paper).toBe("A4");
  });

  it("is laid out for A4 and for Letter", () => {
    expect(document).toContain("@page{size:A4;margin:12mm}");
    expect(shopCard(job, { paper: "Letter" }).document).toContain("@page{size:letter;margin:12mm}");
    expect(String(shopCard(job))).toBe("Face the fixture plate: shop card, 1 page A4");
  });

  it.each([
    [
      { holdDown: aHoldDown({ torque: newtonMetre(1) }) },
      "not-safe",
      /holds against sliding asks for more; .*no card is printed until it is$/,
    ],
    [
      { clearance: clearance(2.45) },
      "not-safe",
      /not safe: deepen the counterbores or cut less; no card is printed until it is$/,
    ],
    [
      { cut: { ...job.cut, roughDepth: mm(0.4) } },
      "too-deep",
      /^shopCard: rough 0\.4 mm and finish 0\.15 mm are deeper than the 0\.5 mm that plate and counterbores were planned for; cut less or plan the plate anew$/,
    ],
    [
      { cut: { ...job.cut, finishDepth: mm(0.05) } },
      "finish",
      /^shopCard: a finishing cut of 0\.05 mm; give 0\.1 mm or more and even$/,
    ],
  ])("refuses %#", (wrong, code, message) => {
    const got = refusal(() => shopCard({ ...job, ...wrong }));
    expect(got.code).toBe(code);
    expect(got.message).toMatch(message);
  });

  it("refuses a plate that was laid out in another frame than the map", () => {
    const turned = { ...map.frame, front: "y+", plusX: "left", plusY: "front" } as const;
    const down = aHoldDown({ plate: aPlate({ ...platePlan(), frame: turned }) });
    expect(refusal(() => shopCard({ ...job, holdDown: down }))).toEqual({
      code: "different-frames",
      message:
        "shopCard: fixture plate was laid out with FRONT y+, +X left, +Y front and a map has FRONT y−, +X right, +Y back; lay the plate out in the coordinates of the map",
    });
  });

  it("warns of solvent where it is used", () => {
    expect(document).toMatch(/Clean table, slots and underside; stone burrs; wipe\. Solvent: ventilate, no flame\./);
  });

  it("refuses another paper", () => {
    expect(refusal(() => shopCard(job, { paper: "A5" as "A4" })).message).toBe(
      'shopCard: paper "A5" is not known; write "A4" or "Letter"',
    );
  });
});
