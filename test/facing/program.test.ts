import { describe, expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { climbMilling } from "../../kernel-lib/src/facing/climb.js";
import { program } from "../../kernel-lib/src/facing/program.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { mm, mmPerMin, perMin } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { aJob, aTop } from "./a-job.js";

const text = program(aJob()).text;
const blocks = text.split("\n").filter((line) => line !== "" && !line.startsWith("("));
/** the cutter of the job under an arbor */
const held = (diameter: number, above: number) => ({
  ...aJob().cutter,
  holder: [{ name: "arbor", diameter: mm(diameter), above: mm(above) }],
});
const play = (value: number, half: number) =>
  Measured.from(input.rectangular({ label: "play of the x axis", estimate: mm(value), halfWidth: mm(half) }));

describe("the text", () => {
  it("has none but the words it may have, and a decimal point in every number", () => {
    for (const block of blocks) {
      expect(block).toMatch(/^(?:(?:G(?:0|1|4|17|21|40|80|90|94|54)|M(?:0|3|5|30)|[XYZFSP]-?\d+\.\d+)(?: |$))+$/);
    }
  });

  it("begins with every caution, in comments of capitals", () => {
    const head = text.slice(0, text.indexOf("G17"));
    const letters = (s: string) => s.toUpperCase().replaceAll(/[^A-Z]/g, "");
    for (const caution of cutCautions) expect(letters(head)).toContain(letters(caution));
    expect(head).toMatch(/^(?:\([A-Z0-9 .,:;/+=-]{1,72}\)\n)+$/);
  });

  it("states all modes, then lifts Z alone before anything else moves", () => {
    expect(blocks.slice(0, 4)).toEqual(["G17 G21 G40 G80 G90 G94", "G54", "M5", "G0 Z60.0"]);
  });

  it("waits after each start of the spindle and stops it before each pause", () => {
    const starts = blocks.flatMap((b, i) => (b.includes("M3") && !b.includes("M30") ? [i] : []));
    expect(starts).toHaveLength(3);
    for (const i of starts) expect([blocks[i], blocks[i + 1]]).toEqual(["S800.0 M3", "G4 P4.0"]);
    for (const [i, b] of blocks.entries()) if (b === "M0" || b === "M30") expect(blocks.slice(0, i)).toContain("M5");
  });

  it("says direction, return and lock of the idle axis before the first block", () => {
    const head = text.slice(0, text.indexOf("G17")).replaceAll(/\)\n\(/g, " ");
    expect(head).toContain("CONVENTIONAL, ONE WAY ALONG X, RETURN ABOVE THE WORK");
    expect(head).toContain("LOCK THE IDLE AXIS IN EACH PASS");
  });

  it("says what is above the cutter, or that nobody said it", () => {
    const head = (job: FacingJob) => {
      const made = program(job).text;
      return made.slice(0, made.indexOf("G17")).replaceAll(/\)\n\(/g, " ");
    };
    expect(head(aJob())).toContain("THE HOLDER IS NOT GIVEN: LOOK THAT NOTHING ABOVE THE CUTTER MEETS PLATE");
    expect(head(aJob({ cutter: held(64, 2) }))).toContain("ABOVE THE CUTTER: ARBOR, 64 MM WIDE, 2 MM ABOVE THE TIP");
  });

  it("shows what a person may write into a name as a plain comment", () => {
    const odd = program(aJob({ name: "plate (2) %\nM3 ; größer Ø 5 µm" })).text;
    expect(odd.split("\n")[0]).toBe("(FACING PROGRAM: PLATE 2 M3 , GROSSER DIA 5 UM)");
    expect(odd.split("\n").filter((line) => !line.startsWith("("))).toEqual(
      text.split("\n").filter((line) => !line.startsWith("(")),
    );
  });
});

describe("the lanes", () => {
  const ways = (job: FacingJob) =>
    [...program(job).text.matchAll(/^G1 X(\S+) Y(\S+)/gm)].map(([, x, y]) => [Number(x), Number(y)]);

  it("are spread evenly, clear the edges by the run-out, and lie half a step off in a repeat", () => {
    const across = ways(aJob()).map(([, y]) => y);
    expect(across.slice(0, 4)).toEqual([17, 29, 41, 53]);
    expect(across.slice(8)).toEqual([17, 23, 35, 47, 53]);
  });

  it("feed so that the uncut side is on the left, conventionally, along x and along y", () => {
    expect(ways(aJob())[0]).toEqual([143, 17]);
    const alongY = aJob({ feedAlong: "y" });
    expect(ways(alongY).slice(0, 2)).toEqual([
      [17, -23],
      [31.333, -23],
    ]);
    const climbing = ways(aJob({ milling: "climb", play: play(0.02, 0.01) }));
    expect(climbing[0]).toEqual([-23, 17]);
  });

  it("make one of them where the cutter is wider than the plate", () => {
    const slim = aJob({ plate: area(mm(50), mm(170), mm(60), mm(90)) });
    expect(program(slim).rounds[0]).toMatchObject({ lanes: 1, stepOver: mm(0) });
  });
});

describe("climbing", () => {
  it("is allowed only where the play and its U are below the feed per tooth", () => {
    expect(climbMilling(mm(0.08), play(0.02, 0.01)).isAllowed).toBe(true);
    expect(climbMilling(mm(0.08), play(0.07, 0.02)).isAllowed).toBe(false);
    expect(climbMilling(mm(0.08), play(-0.02, 0.01)).isAllowed).toBe(false);
    expect(climbMilling(mm(0.08), undefined).because).toBe(
      "the play of the feed axis was not measured: cut conventionally, one way, return above the work, and lock the idle axis",
    );
  });
});

const mirrored = { relativeTo: "travel", front: "y-", plusX: "left", plusY: "back" } as const;

it.each<[Partial<FacingJob>, string, string]>([
  [
    { frame: mirrored },
    "frame",
    "+X points left and +Y points back, a mirror image of the axes of ISO 841 (the sheet counts the table's own motion); give the places as the tool moves over the work",
  ],
  [{ feedDown: mmPerMin(0) }, "not-positive", "feedDown is 0 mm/min; give a value above zero"],
  [
    { cutter: { diameter: mm(40), teeth: 1.5, greatestSpeed: perMin(1500) } },
    "not-positive",
    "cutter.teeth is 1.5; give a whole number of teeth",
  ],
  [
    { plate: area(mm(170), mm(50), mm(40), mm(110)) },
    "area",
    "plate runs x 170 mm to 50 mm, y 40 mm to 110 mm, which has no size; give xFrom below xTo and yFrom below yTo",
  ],
  [{ rounds: [] }, "rounds", "no round was given; give the depth of each, from the first to the last"],
  [
    { rounds: [{ depth: mm(0.5) }, { depth: mm(0.3) }] },
    "rounds",
    "round 2 is 0.3 mm deep after 0.5 mm; give depths below Z0 above zero, none shallower than the one before",
  ],
  [
    { rounds: [{ depth: mm(0.3) }, { depth: mm(0.35) }] },
    "finish",
    "round 2 takes 0.05 mm; a cut thinner than 0.1 mm rubs: take more, or repeat the depth of the round before",
  ],
  [
    { rounds: [{ depth: mm(0.3) }, { depth: mm(0.5), offsetByHalfStep: true }] },
    "half-step",
    "round 2 is offset by half a step and deeper than what was cut before, so its own ridges stay; repeat the depth of the round before",
  ],
  [
    { floor: mm(-0.4) },
    "floor",
    "the last round goes 0.5 mm below Z0 and the floor is at −0.4 mm; cut less, or deepen the counterbores and lower the floor",
  ],
  [
    { retract: mm(4) },
    "clearance",
    "clearance 5 mm and retract 4 mm; give a clearance above Z0 and a retract not below it",
  ],
  [
    { obstacles: [{ name: "clamp", area: area(mm(0), mm(5), mm(0), mm(5)), top: mm(12) }] },
    "clearance",
    "clamp stands 12 mm over Z0, and a clearance of 5 mm does not leave the margin of 0.5 mm; raise clearance and retract",
  ],
  [
    { stepOver: mm(40) },
    "step-over",
    "a step-over of 40 mm leaves strips uncut under a cutter of 40 mm; keep it below the diameter",
  ],
  [{ speed: perMin(1600) }, "speed", "a speed of 1600 1/min is above the 1500 1/min marked on the cutter; turn slower"],
  [
    { milling: "climb" },
    "climb",
    "the play of the feed axis was not measured: cut conventionally, one way, return above the work, and lock the idle axis",
  ],
  [
    { stepOver: mm(38), runOut: mm(19) },
    "climb",
    "steps of 34 mm with a run-out of 19 mm leave the last pass a strip that is cut mostly by climbing teeth; take a step-over up to the radius of 20 mm, or less run-out",
  ],
  [
    { travel: area(mm(30), mm(240), mm(0), mm(160)) },
    "travel",
    "to run clear of the plate the cutter has to go from x 27 mm to 193 mm, and the travel is 30 mm to 240 mm; take a smaller cutter, less run-out or a smaller plate",
  ],
  [
    { travelZ: { from: mm(-15), to: mm(40) } },
    "travel",
    "the cutter has to go from −0.5 mm to 60 mm over Z0, and z reaches from −15 mm to 40 mm; change the retract, the tool or the packing",
  ],
  [
    { screws: [{ label: "S1", x: mm(65), y: mm(75), headDiameter: mm(10), headTop: mm(-0.8) }] },
    "screw",
    "the head of S1 reaches −0.8 mm over Z0 and the last round goes 0.5 mm below it, with a margin of 0.5 mm; cut less or deepen the counterbore",
  ],
  [
    { obstacles: [{ name: "stop", area: area(mm(200), mm(220), mm(60), mm(90)), top: mm(3) }] },
    "obstacle",
    "stop stands at x 200 mm to 220 mm, y 60 mm to 90 mm, where the rim comes: it sweeps x 7 mm to 213 mm, y 37 mm to 113 mm; move it away, or take less run-out or a smaller cutter",
  ],
  [{ cutter: held(0, 30) }, "holder", "arbor is 0 mm wide and 30 mm above the tip; give both above zero"],
  [
    { cutter: held(60, 0.9) },
    "holder",
    "arbor, 60 mm wide and 0.9 mm above the tip, comes over the plate, whose highest place is Z0, with its underside at 0.4 mm; a margin of 0.5 mm has to stay: let the cutter stand out further, or cut less",
  ],
  [
    { cutter: held(66, 2) },
    "holder",
    "arbor, 66 mm wide and 2 mm above the tip, comes over stop, whose top is at 3 mm over Z0, with its underside at 1.7 mm in round 1: the lanes come within 32 mm of it and 33 mm are needed, or a margin of 0.5 mm above it; move it away, let the cutter stand out further, or take less run-out",
  ],
])("refuses %o", (wrong, code, sentence) => {
  expect(refusal(() => program(aJob(wrong)))).toEqual({ code, message: `facing.program: ${sentence}` });
});

describe("parts above the cutter", () => {
  it("are let through where they stay clear by the margin, beside the stop or above it", () => {
    // the stop begins 32 mm beyond the ends of the passes, is 3 mm high, and the last round is 0.5 mm deep
    for (const [diameter, above] of [
      [64, 1],
      [300, 4],
      [20, 1],
    ] as const) {
      expect(program(aJob({ cutter: held(diameter, above) })).rounds).toHaveLength(3);
    }
  });

  it("are held against lanes that only a half-step round comes to", () => {
    // lanes at y 57, 69, 81, 93 mm and, half a step off, 63, 75, 87 mm: a post at y 75 mm is 6 mm nearer to the latter
    const post = { name: "post", area: area(mm(222), mm(224), mm(74.9), mm(75.1)), top: mm(3) };
    const job = (rounds: FacingJob["rounds"]) => aJob({ rounds, obstacles: [post], cutter: held(58.4, 2) });
    expect(program(job([{ depth: mm(0.5) }])).rounds).toHaveLength(1);
    expect(
      refusal(() => program(job([{ depth: mm(0.5) }, { depth: mm(0.5), offsetByHalfStep: true }]))).message,
    ).toContain("in round 2: the lanes come within 29 mm of it and 29.2 mm are needed");
  });

  it("are seen by the writer wherever the replay sees them, and only there", () => {
    const stop = (xFrom: number, top: number) => ({
      obstacles: [{ name: "stop", area: area(mm(xFrom), mm(240), mm(60), mm(90)), top: mm(top) }],
    });
    for (const diameter of [20, 50, 60.2]) {
      for (const above of [0.7, 1.2, 2.2, 3.7, 4.2]) {
        for (const [xFrom, top] of [
          [215, 3],
          [222, 1],
          [225, 3],
        ] as const) {
          const bare = aJob(stop(xFrom, top));
          const job = { ...bare, cutter: held(diameter, above) };
          const sees = replay(program(bare).text, job, aTop(job), { pitch: mm(5) }).refusals.some(
            ({ code }) => code === "holder",
          );
          const writes = () => program(job).rounds.length;
          if (sees) expect(refusal(writes).code).toBe("holder");
          else expect(writes()).toBe(3);
        }
      }
    }
  });
});
