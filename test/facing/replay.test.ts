import { describe, expect, it } from "vitest";
import { program } from "../../kernel-lib/src/facing/program.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aJob, aTop } from "./a-job.js";

const job = aJob();
const top = aTop(job);
const good = program(job).text;
const pitch = mm(2);
const found = (text: string) => replay(text, job, top, { pitch }).refusals;

describe("a good program", () => {
  const proven = replay(good, job, top, { pitch: mm(1) });

  it("passes, covers the plate and cleans what was probed", () => {
    expect(proven.refusals).toEqual([]);
    expect(proven.passes).toBe(true);
    expect(proven.cut).toMatchObject({ covered: 1, probed: 1, cleaned: 1 });
    expect(proven.toString()).toBe(
      "small club plate (invented): the replay passes, 59 moves inside the travel, above floor, heads and obstacles; the rim comes over all of the plate and cleans all of what was probed (all of the plate); texture 0.0 µm from the tilt given; the holder is not given, and nothing above the cutter was looked at",
    );
  });

  it("takes away what lies between the plate as found and the last depth", () => {
    // mean of 40 u − 25 v less its highest, 40 µm: 32.5 µm below Z0
    const expected = 120 * 70 * (0.5 - 0.0325);
    expect(proven.cut!.volume.in("mm3")).toBeCloseTo(expected, -1);
  });

  it("takes as long as its feeds and waits", () => {
    const lanes = (13 * 166) / 128;
    const down = (4 * 5.3 + 4 * 5.5 + 5 * 5.5) / 100;
    expect(proven.time.in("min")).toBeCloseTo(lanes + down + 12 / 60, 6);
  });

  it("leaves the plate at the last depth", () => {
    const heights = proven.cut!.surface.places.map(({ zUm }) => zUm);
    expect([Math.min(...heights), Math.max(...heights)]).toEqual([0, 0]);
  });

  it("says how much was not cleaned where the plate was lower than the cut", () => {
    const low = replay(
      good,
      job,
      aTop(job, (u) => (u < 0.4 ? -900 : 0)),
      { pitch },
    );
    expect(low.refusals).toEqual([]);
    expect(low.cut!.cleaned).toBeLessThan(0.75);
  });

  it("calls nothing clean outside the places probed", () => {
    const part = { ...top, places: top.places.filter(({ xMm }) => xMm < 120) };
    expect(replay(good, job, part, { pitch }).cut!.probed).toBeCloseTo(0.5, 1);
  });

  it("passes along y, climbing with a measured play aside, and under any frame of the right hand", () => {
    const turned = { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" } as const;
    for (const other of [aJob({ feedAlong: "y" }), aJob({ frame: turned }), aJob({ workOffset: "G57" })]) {
      expect(replay(program(other).text, other, aTop(other), { pitch }).refusals).toEqual([]);
    }
  });
});

/** the first line that holds a text, counted from 1 */
const lineOf = (text: string, part: string, nth = 0) =>
  text.split("\n").flatMap((line, i) => (line === part ? [i + 1] : []))[nth]!;

describe.each<[string, string, string, string, string]>([
  [
    "a lost point",
    "S800.0 M3",
    "S800 M3",
    "number",
    "S800 has no decimal point; some controls take it for thousandths",
  ],
  [
    "an unknown address",
    "G4 P4.0",
    "G4 X4.0 Q1.0",
    "words",
    "Q1.0: the address Q is none of those that this program needs (G M X Y Z F S P)",
  ],
  ["a small letter", "G4 P4.0", "g4 P4.0", "words", '"g4 P4.0" is not an address in capitals with a number'],
  [
    "a bracket without partner",
    "G4 P4.0",
    "G4 P4.0 (WAIT",
    "comment",
    "a bracket of a comment has no partner, or stands inside another comment",
  ],
  ["an address twice", "G4 P4.0", "G4 P4.0 P4.0", "words", "the address P stands twice in one line"],
  [
    "another code",
    "G17 G21 G40 G80 G90 G94",
    "G17 G21 G40 G80 G90 G95",
    "words",
    "G95 is none of the codes that this program needs",
  ],
  ["another offset", "G54", "G55", "offset", "G55 is not the work offset of the job, G54"],
  ["a start without speed", "S800.0 M3", "M3", "speed", "M3 without S turns as fast as the last program left it"],
  [
    "a speed above the mark",
    "S800.0 M3",
    "S8000.0 M3",
    "speed",
    "S 8000 1/min is above the 1500 1/min marked on the cutter",
  ],
  ["another speed", "S800.0 M3", "S400.0 M3", "speed", "S 400 1/min; planned are 800 1/min"],
  ["a dwell of nothing", "G4 P4.0", "G4 P0.0", "dwell", "G4 needs P, a time in seconds above zero, and nothing else"],
  [
    "mixed codes",
    "G4 P4.0",
    "G4 G1 P4.0",
    "words",
    "what acts first in this line differs between controls; give each code a line",
  ],
  [
    "a pause with the spindle on",
    "M5",
    "(NO STOP)",
    "spindle",
    "M0 while the spindle is not known to stand; M5 comes before it",
  ],
  [
    "a first move sideways",
    "G0 Z60.0",
    "G0 X0.0 Y0.0",
    "first-move",
    "the first movement is not Z alone up to 5 mm or higher by G0; where the cutter stands is not known",
  ],
  ["a rapid to depth", "G1 Z-0.3 F100.0", "G0 Z-0.3", "clearance", "a rapid goes down below the height of free moves"],
  [
    "a fast way down",
    "G1 Z-0.3 F100.0",
    "G1 Z-0.3 F1000.0",
    "feed",
    "goes down at 1000 mm/min; planned are 100 mm/min",
  ],
  ["the floor", "G1 Z-0.3 F100.0", "G1 Z-3.0 F100.0", "floor", "the rim goes to −3 mm and the floor is at −0.6 mm"],
  ["the travel", "G0 X-23.0 Y17.0", "G0 X-230.0 Y17.0", "travel", "x −180 mm is outside the travel, 0 mm to 240 mm"],
  [
    "an entry over the plate",
    "G0 X-23.0 Y17.0",
    "G0 X23.0 Y17.0",
    "entry",
    "goes down over the plate; the way in is from outside, at depth",
  ],
  [
    "a pass that stops short",
    "G1 X143.0 Y17.0 F128.0",
    "G1 X113.0 Y17.0 F128.0",
    "lift",
    "lifts off over the plate, before the rim has run clear",
  ],
  [
    "a cut across",
    "G1 X143.0 Y17.0 F128.0",
    "G1 X143.0 Y27.0 F128.0",
    "idle-axis",
    "cuts along y, whose slide is meant to be locked",
  ],
  [
    "another feed",
    "G1 X143.0 Y17.0 F128.0",
    "G1 X143.0 Y17.0 F280.0",
    "feed",
    "cuts at 280 mm/min; planned are 128 mm/min",
  ],
  [
    "a slanting way",
    "G1 X143.0 Y17.0 F128.0",
    "G1 X143.0 Y17.0 Z-0.4 F128.0",
    "slant",
    "goes sideways and up or down at once below the height of free moves",
  ],
  [
    "a rapid through the plate",
    "G1 X143.0 Y17.0 F128.0",
    "G0 X143.0 Y17.0",
    "clearance",
    "a rapid goes sideways below the height of free moves",
  ],
])("%s", (_name, was, is, code, sentence) => {
  it("is refused with its line", () => {
    const refusals = found(good.replace(`\n${was}\n`, `\n${is}\n`));
    const at = lineOf(good, was);
    const line =
      code === "spindle"
        ? lineOf(good, "M0")
        : code === "entry" || code === "lift"
          ? at + (code === "lift" ? 1 : 4)
          : at;
    expect(refusals).toContainEqual({ line, code, sentence });
  });
});

it("refuses a depth that no round has, a bite that skips a round, and a cut on the climbing side", () => {
  expect(found(good.replaceAll("Z-0.3 ", "Z-0.4 "))[0]).toMatchObject({
    code: "depth",
    sentence: "cuts at −0.4 mm; planned are −0.3 mm, −0.5 mm",
  });
  expect(found(good.replaceAll("Z-0.3 ", "Z-0.5 "))[0]).toMatchObject({
    code: "bite",
    sentence: "takes 0.500 mm at once where 0.200 mm were planned: an earlier pass is missing",
  });
  const backwards = good
    .replaceAll(/G0 X-23\.0 (Y\S+)/g, "G0 X143.01 $1")
    .replaceAll(/G1 X143\.0 (Y\S+)/g, "G1 X-23.0 $1");
  expect(found(backwards)[0]!.sentence).toMatch(
    /^\d+ % of the cut lies on the right of the way, where the teeth climb/,
  );
});

it("refuses a lane that is left out where nothing else goes over it", () => {
  const lane = /G0 X-23\.0 Y53\.0\nG1 Z-0\.5 F100\.0\nG1 X143\.0 Y53\.0 F128\.0\nG0 Z5\.0\n/g;
  expect(found(good.replaceAll(lane, ""))).toMatchObject([
    { code: "coverage", sentence: "the rim does not come over y 107.0 mm to 110.0 mm at the last depth" },
  ]);
});

it("refuses a text without its cautions, without its end, and with something after its end", () => {
  expect(found(good.replace(/\(ITS PLANE\.\)\n/, ""))).toEqual([
    { line: 1, code: "cautions", sentence: "1 of 8 cautions do not stand at the head of the text" },
  ]);
  expect(found(good.replace("M30\n", ""))[0]!.sentence).toBe(
    "the text ends without M30; it may have been cut off on its way to the control",
  );
  expect(found(`${good}G0 X0.0\n`)[0]!.sentence).toBe("stands after M30, and a control may go on or begin again there");
});

it.each<[was: string, is: string, code: string, sentence: string]>([
  ["G90 G94\n", "G90 G94 G94\n", "words", "two codes of one kind (feed a minute) stand in one line"],
  ["\nG54\n", "\nG54\nG54\n", "offset", "a work offset is stated again; the program has one, stated once"],
  ["\nM5\n", "\nM5 X1.0\n", "words", "M5 stands in one line with words that it does not take"],
  ["\nM5\n", "\nM8\n", "words", "M8 is none of the codes that this program needs"],
  [
    "\nM30",
    "\nS800.0 M3\nG4 P4.0\nG1 Z1.0 F100.0\nM5\nM30",
    "end",
    "the program ends with the cutter down; lift it first",
  ],
  ["\nG1 Z-0.3 F100.0\n", "\nG1 Z-0.3\n", "feed", "feeds without an F above zero"],
  [
    "\nG1 Z-0.3 F100.0\n",
    "\nG1 Z-0.3 F100.0\nM5\nS800.0 M3\n",
    "spindle",
    "the spindle starts where the cutter is not known to be clear of everything",
  ],
  ["\nS800.0 M3\n", "\nM5\n", "spindle", "feeds while the spindle is not known to turn"],
  [
    "\nG4 P4.0\n",
    "\nG4 P2.0\n",
    "dwell",
    "feeds after a wait of 2 s since the start of the spindle; it needs 4 s to come up to speed",
  ],
])("%j changed to %j is refused", (was, is, code, sentence) => {
  expect(good.replace(was, is)).not.toBe(good);
  expect(found(good.replace(was, is))).toContainEqual({ line: expect.any(Number), code, sentence });
});

it("names every mode that a text does not state before it moves", () => {
  expect(found(good.replace("G17 G21 G40 G80 G90 G94\nG54\n", "G17\n"))[0]).toMatchObject({
    code: "modal",
    sentence:
      "moves before the text has stated units, radius compensation, cycle, absolute, feed a minute, work offset: it would do what was left over in the control",
  });
});

it("sees a screw head and a stop in the way", () => {
  const high = { ...job, screws: [{ ...job.screws[0]!, headTop: mm(-0.7) }] };
  expect(replay(good, high, top, { pitch }).refusals[0]).toMatchObject({
    code: "screw",
    sentence: "the rim passes over the head of S1, whose top is at −0.7 mm, at −0.3 mm",
  });
  const near = { ...job, obstacles: [{ ...job.obstacles![0]!, area: { ...job.obstacles![0]!.area, xFrom: mm(205) } }] };
  expect(replay(good, near, top, { pitch }).refusals[0]!.code).toBe("obstacle");
});

describe("the holder above the cutter", () => {
  /** a stop beside the plate, lower than the free moves and clear of the rim */
  const besides = (top: number) => ({
    obstacles: [{ name: "stop", area: area(mm(215), mm(230), mm(60), mm(90)), top: mm(top) }],
  });
  const held = (diameter: number, above: number, top: number) => {
    const { cutter } = aJob();
    const holder = [{ name: "arbor", diameter: mm(diameter), above: mm(above) }];
    const job = aJob({ ...besides(top), cutter: { ...cutter, holder } });
    // written by someone who did not look at the arbor
    const text = program(aJob(besides(top))).text;
    return replay(text, job, aTop(job), { pitch: mm(5) });
  };

  it("is seen where it reaches further than the rim and hangs low enough, and only there", () => {
    // the stop begins 22 mm beyond the ends of the passes (x = 193 mm): the rim of 20 mm is clear of it, an arbor of 60 mm is not
    const wide = held(60, 2, 3);
    expect(wide.passes).toBe(false);
    expect(wide.refusals[0]).toMatchObject({ code: "holder" });
    expect(wide.refusals[0]!.sentence).toMatch(
      /^arbor, 60 mm wide and 2 mm above the tip, meets stop, whose top is at 3 mm, at [−\d.]+ mm$/,
    );
    expect(held(60, 30, 3).passes).toBe(true);
    expect(held(20, 5, 3).passes).toBe(true);
    expect(String(held(60, 30, 3))).toMatch(/; arbor above the cutter looked at too$/);
  });

  it("is seen by its underside: one millimetre higher than the stop, the margin and the cut, it passes", () => {
    // deepest cut 0.5 mm below Z0, stop 3 mm above it, margin 0.5 mm
    expect(held(60, 3.9, 3).refusals.map(({ code }) => code)).toContain("holder");
    expect(held(60, 4.1, 3).refusals.map(({ code }) => code)).not.toContain("holder");
  });

  it("is refused without a size", () => {
    expect(refusal(() => held(0, 30, 3))).toEqual({
      code: "holder",
      message: "facing.replay: arbor is 0 mm wide and 30 mm above the tip; give both above zero",
    });
  });
});

it("lets the lowest edge of a tilted rim count against floor and heads", () => {
  const steep = { pitch, tilt: { x: umPerM(0), y: umPerM(6000) } };
  expect(replay(good, job, top, steep).refusals[0]).toMatchObject({ code: "floor" });
});

it("refuses a map against gravity, another frame, and cells that make no grid", () => {
  const level = { ...top, frame: { ...top.frame, relativeTo: "gravity" as const } };
  expect(refusal(() => replay(good, job, level))).toEqual({
    code: "wrong-frame",
    message:
      "facing.replay: plate top is relative to gravity, and a cut follows the travel; give a map probed from the spindle",
  });
  const turned = { ...top, frame: { ...top.frame, front: "y+", plusX: "left", plusY: "front" } as const };
  expect(refusal(() => replay(good, job, turned))).toEqual({
    code: "frames-differ",
    message:
      "facing.replay: plate top has FRONT y+, +X left, +Y front and the job FRONT y−, +X right, +Y back; give both in the same frame",
  });
  expect(refusal(() => replay(good, job, top, { pitch: um(1) }))).toEqual({
    code: "pitch",
    message:
      "facing.replay: cells of 0.001 mm on a plate of 8400 mm² are too fine or too coarse; give 0.18 mm to 22.9 mm",
  });
});

it("shows no result that can be changed", () => {
  const proven = replay(good, job, top, { pitch });
  expect(() => Object.assign(proven, { passes: false })).toThrow(TypeError);
  expect(() => (proven.cautions as string[]).pop()).toThrow(TypeError);
});
