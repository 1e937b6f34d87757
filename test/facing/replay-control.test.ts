import { describe, expect, it } from "vitest";
import { blocksOf } from "../../kernel-lib/src/facing/replay-blocks.js";
import { checkMoves } from "../../kernel-lib/src/facing/replay-checks.js";
import { run } from "../../kernel-lib/src/facing/replay-control.js";
import type { ReplayMove, ToolSpot } from "../../kernel-lib/src/facing/replay-moves.js";
import { type ReplayShop, shopOf } from "../../kernel-lib/src/facing/replay-shop.js";
import { aJob } from "./a-job.js";

// clearance 5 mm, S 800, spin-up 4 s, offset G54 with its zero at x 50, y 40 mm
const shop = shopOf(aJob());
const opening = "G17 G21 G40 G80 G90 G94\nG54\nM5\nG0 Z60.0\nG0 X-23.0 Y17.0\n";
const turning = `${opening}S800.0 M3\nG4 P4.0\n`;
const ran = (text: string, of: ReplayShop = shop) => run(blocksOf(text).blocks, of);
/** what is refused besides a missing end, as "line code: sentence" */
const refused = (text: string) =>
  ran(`${text}`)
    .refusals.filter(({ sentence }) => !sentence.startsWith("the text ends without M30"))
    .map(({ line, code, sentence }) => `${line} ${code}: ${sentence}`);

describe("a line of the text", () => {
  it("is read into words, comments, blanks and tabs left out, with its number", () => {
    const { blocks, refusals, head } = blocksOf("(ONE)\r\n(TWO)\n\nG1\tX+1.5 (HERE) Y-.5Z2.\n(AFTER)\nM30");
    expect(refusals).toEqual([]);
    expect(head).toBe("(ONE)(TWO)");
    expect(
      blocks.map(({ line, words }) => [line, words.map(({ address, value, text }) => [address, value, text])]),
    ).toEqual([
      [
        4,
        [
          ["G", 1, "G1"],
          ["X", 1.5, "X+1.5"],
          ["Y", -0.5, "Y-.5"],
          ["Z", 2, "Z2."],
        ],
      ],
      [6, [["M", 30, "M30"]]],
    ]);
  });

  it.each([
    ["X5", "number", "X5 has no decimal point; some controls take it for thousandths"],
    ["G123", "words", "G123 is not a code of one or two digits"],
    ["M3.0", "words", "M3.0 is not a code of one or two digits"],
    ["G-1", "words", "G-1 is not a code of one or two digits"],
    ["N10", "words", "N10: the address N is none of those that this program needs (G M X Y Z F S P)"],
    ["X1.0 X2.0", "words", "the address X stands twice in one line"],
    ["M3 M5", "words", "the address M stands twice in one line"],
    ["G0 X", "words", '"X" is not an address in capitals with a number'],
    ["G0 x1.0 and much more than fits", "words", '"x1.0 and much more t…" is not an address in capitals with a number'],
    ["G0 12345678901234567890", "words", '"12345678901234567890" is not an address in capitals with a number'],
    ["G0 (A (B) C)", "comment", "a bracket of a comment has no partner, or stands inside another comment"],
    ["G0 X1.0)", "comment", "a bracket of a comment has no partner, or stands inside another comment"],
    [`(${"A".repeat(249)})`, "words", "251 characters; a control may cut a line off after 250"],
  ])("is refused where it can't be read: %s", (line, code, sentence) => {
    expect(blocksOf(`M5\n${line}\nM30`)).toMatchObject({ refusals: [{ line: 2, code, sentence }] });
    expect(blocksOf(`M5\n${line}\nM30`).blocks.map(({ line: at }) => at)).toEqual([1, 3]);
  });

  it("may be 250 characters long and hold several G", () => {
    expect(blocksOf(`(${"A".repeat(248)})`).refusals).toEqual([]);
    expect(blocksOf("G17 G21 G90").blocks[0]!.words).toHaveLength(3);
  });
});

describe("a control left in the worst state", () => {
  it("makes the moves of a text that states all it needs", () => {
    const { moves, refusals, dwellS } = ran(`${turning}G1 Z-0.3 F100.0\nG1 X143.0 F128.0\nY20.0\nG0 Z60.0\nM5\nM30\n`);
    expect(refusals).toEqual([]);
    expect(dwellS).toBe(4);
    expect(moves.map(({ line, kind, to, feedMmPerMin }) => [line, kind, to.xMm, to.yMm, to.zMm, feedMmPerMin])).toEqual(
      [
        [4, "rapid", undefined, undefined, 60, 0],
        [5, "rapid", 27, 57, 60, 0],
        [8, "feed", 27, 57, -0.3, 100],
        [9, "feed", 193, 57, -0.3, 128],
        [10, "feed", 193, 60, -0.3, 128],
        [11, "rapid", 193, 60, 60, 0],
      ],
    );
    expect(moves[3]!.from).toEqual(moves[2]!.to);
  });

  it.each<[string, string, string[]]>([
    [
      "G0 before a mode",
      "G0 Z60.0",
      [
        "1 modal: moves before the text has stated plane, units, radius compensation, cycle, absolute, feed a minute, work offset: it would do what was left over in the control",
      ],
    ],
    [
      "a move without G0 or G1",
      `${opening.replace("G0 Z60.0\nG0 X-23.0 Y17.0\n", "")}Z60.0`,
      ["4 modal: neither G0 nor G1 was stated before this movement"],
    ],
    [
      "a move after a cycle was cancelled",
      `${opening}G80\nX1.0`,
      ["7 modal: neither G0 nor G1 was stated before this movement"],
    ],
    ["a mode that is none", `${opening}G91`, ["6 words: G91 is none of the codes that this program needs"]],
    ["two of one kind", `${opening}G17 G17`, ["6 words: two codes of one kind (plane) stand in one line"]],
    ["two offsets in one line", "G54 G55", ["1 words: two codes of one kind (work offset) stand in one line"]],
    ["another offset", "G56", ["1 offset: G56 is not the work offset of the job, G54"]],
    ["an offset again", "G54\nG54", ["2 offset: a work offset is stated again; the program has one, stated once"]],
    ["words after M5", "M5 X1.0", ["1 words: M5 stands in one line with words that it does not take"]],
    ["S after M5", "M5 S800.0", ["1 words: M5 stands in one line with words that it does not take"]],
    ["F after M3", `${opening}S800.0 F100.0 M3`, ["6 words: M3 stands in one line with words that it does not take"]],
    ["a strange M", "M8", ["1 words: M8 is none of the codes that this program needs"]],
    [
      "M and G together",
      "G0 M5",
      ["1 words: what acts first in this line differs between controls; give each code a line"],
    ],
    [
      "G0 and G1 together",
      "G0 G1 X1.0",
      ["1 words: what acts first in this line differs between controls; give each code a line"],
    ],
    [
      "modes and places together",
      "G90 X1.0",
      ["1 words: what acts first in this line differs between controls; give each code a line"],
    ],
    [
      "a wait and a mode",
      "G4 G17",
      ["1 words: what acts first in this line differs between controls; give each code a line"],
    ],
    ["S in a move", `${opening}G0 X1.0 S800.0`, ["6 words: S or P stands in a line that moves"]],
    ["P in a move", `${opening}G0 X1.0 P1.0`, ["6 words: S or P stands in a line that moves"]],
    ["a move of nothing", `${opening}G0`, ["6 words: a line that asks for a movement names no axis"]],
    ["F in a rapid", `${opening}G0 X1.0 F100.0`, ["6 feed: F stands in a line with G0, where it has no meaning"]],
    ["a feed without F", `${turning}G1 Z-0.3`, ["8 feed: feeds without an F above zero"]],
    ["a feed of nothing", `${turning}G1 Z-0.3 F0.0`, ["8 feed: feeds without an F above zero"]],
    ["M3 without S", `${opening}M3`, ["6 speed: M3 without S turns as fast as the last program left it"]],
    [
      "M3 at an unknown place",
      "S800.0 M3",
      ["1 spindle: the spindle starts where the cutter is not known to be clear of everything"],
    ],
    [
      "M3 below the clearance",
      `${opening}G0 Z4.99\nS800.0 M3`,
      ["7 spindle: the spindle starts where the cutter is not known to be clear of everything"],
    ],
    ["a wait with two words", "G4 P1.0 X1.0", ["1 dwell: G4 needs P, a time in seconds above zero, and nothing else"]],
    ["a wait without P", "G4 X1.0", ["1 dwell: G4 needs P, a time in seconds above zero, and nothing else"]],
    ["a wait of nothing at all", "G4", ["1 dwell: G4 needs P, a time in seconds above zero, and nothing else"]],
    ["a pause at first", "M0", ["1 spindle: M0 while the spindle is not known to stand; M5 comes before it"]],
    [
      "an end while it turns",
      `${turning}M30`,
      ["8 spindle: M30 while the spindle is not known to stand; M5 comes before it"],
    ],
    [
      "an end with the cutter down",
      `${opening}G0 Z4.99\nM30`,
      ["7 end: the program ends with the cutter down; lift it first"],
    ],
    ["an end at an unknown place", "M5\nM30", ["2 end: the program ends with the cutter down; lift it first"]],
    [
      "something after the end",
      `${opening}M30\nM5`,
      ["7 end: stands after M30, and a control may go on or begin again there"],
    ],
    ["a feed while it stands", `${opening}G1 X1.0 F100.0`, ["6 spindle: feeds while the spindle is not known to turn"]],
    [
      "a feed after it stopped",
      `${turning}M5\nG1 X1.0 F100.0`,
      ["9 spindle: feeds while the spindle is not known to turn"],
    ],
    [
      "a feed too soon",
      `${opening}S800.0 M3\nG4 P3.9\nG1 X1.0 F100.0`,
      ["8 dwell: feeds after a wait of 3.9 s since the start of the spindle; it needs 4 s to come up to speed"],
    ],
    [
      "two short waits",
      `${opening}S800.0 M3\nG4 P2.0\nG4 P2.5\nG1 X1.0 F100.0`,
      ["9 dwell: feeds after a wait of 2.5 s since the start of the spindle; it needs 4 s to come up to speed"],
    ],
    ["a long wait before a short one", `${opening}S800.0 M3\nG4 P4.0\nG4 P0.5\nG1 X1.0 F100.0`, []],
    [
      "a wait before the start",
      `${opening}G4 P9.0\nS800.0 M3\nG1 X1.0 F100.0`,
      ["8 dwell: feeds after a wait of 0 s since the start of the spindle; it needs 4 s to come up to speed"],
    ],
    ["a speed within one in a hundred", `${opening}S808.0 M3\nM5\nS792.0 M3`, []],
    ["a speed beyond it", `${opening}S808.1 M3`, ["6 speed: S 808.1 1/min; planned are 800 1/min"]],
    ["a speed at the mark", `${opening}S1500.0 M3`, ["6 speed: S 1500 1/min; planned are 800 1/min"]],
    [
      "a speed above the mark",
      `${opening}S1500.1 M3`,
      ["6 speed: S 1500.1 1/min is above the 1500 1/min marked on the cutter"],
    ],
    ["a pause above the work", `${opening}M0\nM30`, []],
    ["a start at the clearance", `${opening}G0 Z5.0\nS800.0 M3`, []],
  ])("%s", (_name, text, expected) => {
    expect(refused(text)).toEqual(expected);
  });

  it("asks for the end with the line that came last", () => {
    expect(ran(`${opening}\n\n`).refusals).toEqual([
      {
        line: 5,
        code: "end",
        sentence: "the text ends without M30; it may have been cut off on its way to the control",
      },
    ]);
    expect(ran("").refusals).toMatchObject([{ line: 1, code: "end" }]);
  });

  it("adds up all waits, and asks each mode for once", () => {
    expect(ran(`${turning}M5\nS800.0 M3\nG4 P1.5\n`).dwellS).toBe(5.5);
    expect(refused("G0 Z60.0\nG0 X1.0 Y1.0")).toHaveLength(1);
  });
});

const spot = (xMm?: number, yMm?: number, zMm?: number): Partial<ToolSpot> => ({
  ...(xMm === undefined ? {} : { xMm }),
  ...(yMm === undefined ? {} : { yMm }),
  ...(zMm === undefined ? {} : { zMm }),
});
const move = (
  kind: "rapid" | "feed",
  from: Partial<ToolSpot>,
  to: Partial<ToolSpot>,
  feedMmPerMin = 0,
): ReplayMove => ({
  line: 9,
  kind,
  from,
  to,
  feedMmPerMin,
});
const first = move("rapid", {}, spot(undefined, undefined, 60));
/** what is refused of moves after a right first one */
const faults = (moves: readonly ReplayMove[], of: ReplayShop = shop, dropMm = 0) =>
  checkMoves([first, ...moves], of, dropMm).map(({ code, sentence }) => `${code}: ${sentence}`);
const feed = (from: Partial<ToolSpot>, to: Partial<ToolSpot>, mmPerMin: number) => move("feed", from, to, mmPerMin);
const rapid = (from: Partial<ToolSpot>, to: Partial<ToolSpot>) => move("rapid", from, to);

describe("the first moves", () => {
  const notUp =
    "first-move: the first movement is not Z alone up to 5 mm or higher by G0; where the cutter stands is not known";
  it("go up alone, by G0, to the clearance and above all that stands on the table", () => {
    const only = (to: Partial<ToolSpot>, kind: "rapid" | "feed" = "rapid") =>
      checkMoves([move(kind, {}, to)], shop, 0).map(({ code, sentence }) => `${code}: ${sentence}`);
    expect(only(spot(undefined, undefined, 5))).toEqual([]);
    expect(only(spot(undefined, undefined, 4.998))).toEqual([notUp]);
    expect(only(spot(undefined, undefined, 60), "feed")).toEqual([notUp]);
    expect(only(spot(100, undefined, 60))).toEqual([notUp]);
    expect(only(spot(undefined, 80, 60))).toEqual([notUp]);
    expect(only(spot(100, 80))).toEqual([notUp]);
    const tall = { ...shop, obstacles: [{ ...shop.obstacles[0]!, top: 20 }] };
    const at = (zMm: number) => checkMoves([move("rapid", {}, spot(undefined, undefined, zMm))], tall, 0);
    expect(at(20.5)).toEqual([]);
    expect(at(20.4)).toMatchObject([
      {
        line: 9,
        code: "obstacle",
        sentence: "at 20.4 mm, from a place that is not known, it may meet stop, whose top is at 20 mm",
      },
    ]);
  });

  it("then state X and Y together, up there", () => {
    const up = spot(undefined, undefined, 60);
    expect(faults([rapid(up, spot(27, 57, 60))])).toEqual([]);
    expect(faults([rapid({}, spot(27, 57))])).toEqual(["first-move: moves sideways before Z was lifted"]);
    expect(faults([rapid(up, spot(undefined, undefined, 4.99))])).toEqual([
      "first-move: goes down before X and Y are known",
    ]);
    const one = "first-move: the first sideways movement must state X and Y; one of them is not known";
    expect(faults([rapid(up, spot(27, undefined, 60))])).toEqual([one]);
    expect(faults([rapid(up, spot(undefined, 57, 60))])).toEqual([one]);
    expect(faults([feed(up, spot(27, 57, 60), 100)])).toEqual(["first-move: feeds from a place that is not known"]);
    expect(faults([rapid(up, spot(undefined, undefined, 5))])).toEqual([]);
    const tall = { ...shop, obstacles: [{ ...shop.obstacles[0]!, top: 58 }] };
    expect(faults([rapid(up, spot(27, 57, 58.4))], tall)).toEqual([
      "obstacle: at 58.4 mm, from a place that is not known, it may meet stop, whose top is at 58 mm",
    ]);
  });
});

describe("the travel", () => {
  it("is kept to a thousandth of a millimetre on all axes", () => {
    const to = (x: number, y: number, z: number) =>
      faults([rapid(spot(100, 80, 60), spot(x, y, z))], { ...shop, obstacles: [] });
    expect(to(240.001, 160.001, 150.001)).toEqual([]);
    expect(to(-0.001, -0.001, 60)).toEqual([]);
    expect(to(240.002, 80, 60)).toEqual(["travel: x 240.002 mm is outside the travel, 0 mm to 240 mm"]);
    expect(to(-0.002, 80, 60)).toEqual(["travel: x −0.002 mm is outside the travel, 0 mm to 240 mm"]);
    expect(to(100, 160.002, 60)).toEqual(["travel: y 160.002 mm is outside the travel, 0 mm to 160 mm"]);
    expect(to(100, -5, 60)).toEqual(["travel: y −5 mm is outside the travel, 0 mm to 160 mm"]);
    expect(to(100, 80, 151)).toEqual(["travel: z 151 mm is outside the travel, −15 mm to 150 mm"]);
  });
});

describe("a move whose ends are known", () => {
  // plate x 50 to 170, y 40 to 110 mm; rim 20 mm; levels −0.3 and −0.5 mm; floor −0.6 mm; feed 128, down 100 mm/min
  const bare = { ...shop, screws: [], obstacles: [] };
  const pass = (z: number, mmPerMin = 128, y = 57) => feed(spot(27, y, z), spot(193, y, z), mmPerMin);

  it("stays above the floor with the lowest of its rim", () => {
    const deep = { ...bare, levelsMm: [-0.6] };
    expect(faults([pass(-0.6)], deep)).toEqual([]);
    expect(faults([pass(-0.6)], deep, 0.05)).toEqual(["floor: the rim goes to −0.65 mm and the floor is at −0.6 mm"]);
    expect(faults([feed(spot(27, 57, 5), spot(27, 57, -0.602), 100)], bare)).toEqual([
      "floor: the rim goes to −0.602 mm and the floor is at −0.6 mm",
    ]);
    expect(faults([rapid(spot(27, 57, -0.7), spot(27, 57, 5))], bare)).toHaveLength(1);
  });

  it("cuts at a planned depth, along one axis, at the planned feed", () => {
    expect(faults([pass(-0.3), pass(-0.5), pass(-0.5009)], bare)).toEqual([]);
    expect(faults([pass(-0.502)], bare)).toEqual(["depth: cuts at −0.502 mm; planned are −0.3 mm, −0.5 mm"]);
    expect(faults([pass(-0.3, 129.28), pass(-0.3, 126.72)], bare)).toEqual([]);
    expect(faults([pass(-0.3, 129.3)], bare)).toEqual(["feed: cuts at 129.3 mm/min; planned are 128 mm/min"]);
    expect(faults([pass(-0.3, 126.7)], bare)).toEqual(["feed: cuts at 126.7 mm/min; planned are 128 mm/min"]);
    expect(faults([feed(spot(27, 57, -0.3), spot(193, 58, -0.3), 128)], bare)).toEqual([
      "idle-axis: cuts along y, whose slide is meant to be locked",
    ]);
    const along = { ...bare, feedAlong: "y" as const };
    expect(faults([pass(-0.3)], along)).toEqual(["idle-axis: cuts along x, whose slide is meant to be locked"]);
    expect(faults([feed(spot(67, 17, -0.3), spot(67, 133, -0.3), 128)], along)).toEqual([]);
    // beside the plate it may feed as it likes: the rim ends at y 40 mm
    expect(faults([feed(spot(27, 20, -0.4), spot(193, 20, -0.4), 50)], bare)).toEqual([]);
    expect(faults([feed(spot(27, 20.01, -0.4), spot(193, 20.01, -0.4), 50)], bare)).toHaveLength(2);
  });

  it("goes down outside the plate by a feed, up outside, and along only below the height of free moves", () => {
    const down = (x: number, mmPerMin: number) => feed(spot(x, 57, 5), spot(x, 57, -0.3), mmPerMin);
    expect(faults([down(27, 101), down(30, 100)], bare)).toEqual([]);
    expect(faults([down(27, 101.1)], bare)).toEqual(["feed: goes down at 101.1 mm/min; planned are 100 mm/min"]);
    expect(faults([down(30.01, 100)], bare)).toEqual([
      "entry: goes down over the plate; the way in is from outside, at depth",
    ]);
    expect(faults([rapid(spot(27, 57, 5), spot(27, 57, 4.99))], bare)).toEqual([
      "clearance: a rapid goes down below the height of free moves",
    ]);
    expect(faults([rapid(spot(27, 57, 60), spot(27, 57, 5))], bare)).toEqual([]);
    expect(faults([rapid(spot(30, 57, -0.3), spot(30, 57, 5))], bare)).toEqual([]);
    expect(faults([rapid(spot(31, 57, -0.3), spot(31, 57, 5))], bare)).toEqual([
      "lift: lifts off over the plate, before the rim has run clear",
    ]);
    expect(faults([rapid(spot(27, 57, 4), spot(27, 60, 4))], bare)).toEqual([
      "clearance: a rapid goes sideways below the height of free moves",
    ]);
    expect(faults([rapid(spot(27, 57, 5), spot(193, 93, 5))], bare)).toEqual([]);
    const slant = ["slant: goes sideways and up or down at once below the height of free moves"];
    expect(faults([feed(spot(27, 57, 5), spot(28, 57, 4), 100)], bare)).toEqual(slant);
    expect(faults([feed(spot(27, 57, 4), spot(27, 58, 60), 100)], bare)).toEqual(slant);
    // a plunge that goes nowhere and a stay at one place are neither
    expect(faults([feed(spot(27, 57, -0.3), spot(27, 57, -0.3), 100)], bare)).toEqual([]);
  });

  it("meets a screw head by its rim, margin and place", () => {
    // head of 10 mm at x 65, y 75 mm; rim 20 mm: met within 25 mm, below its top and 0.5 mm
    const head = (top: number) => ({ ...bare, screws: [{ label: "S1", x: 65, y: 75, radius: 5, top }] });
    expect(faults([pass(-0.3, 128, 57)], head(-0.8))).toEqual([]);
    expect(faults([pass(-0.3, 128, 57)], head(-0.79))).toEqual([
      "screw: the rim passes over the head of S1, whose top is at −0.79 mm, at −0.3 mm",
    ]);
    expect(faults([pass(-0.3, 128, 50.01)], head(0))).toHaveLength(1);
    expect(faults([pass(-0.3, 128, 50)], head(0))).toEqual([]);
    expect(faults([pass(-0.3, 128, 57)], head(-0.8), 0.02)).toHaveLength(1);
    // a pass that ends before it: 40 mm is 25 mm off
    const short = (x: number) => faults([feed(spot(27, 75, -0.3), spot(x, 75, -0.3), 128)], head(0));
    expect(short(40)).toEqual([]);
    expect(short(40.01)).toHaveLength(1);
  });

  it("meets a thing on the table by its rim, a feed on its line and a rapid anywhere in its box", () => {
    const stop = { ...bare, obstacles: [{ name: "stop", at: { x: [200, 220], y: [60, 90] }, top: 3 } as const] };
    const low = (y: number, to: number) =>
      faults([feed(spot(27, y, 3), spot(to, y, 3), 128)], stop).filter((f) => f.startsWith("obstacle"));
    expect(low(75, 180)).toEqual([]);
    expect(low(75, 180.01)).toEqual(["obstacle: the rim meets stop, whose top is at 3 mm, at 3 mm"]);
    expect(low(40, 230)).toEqual([]);
    expect(low(40.01, 230)).toHaveLength(1);
    expect(low(110, 230)).toEqual([]);
    expect(low(109.99, 230)).toHaveLength(1);
    // off the corner by 12 and 16 mm: 20 mm
    expect(low(106, 188)).toEqual([]);
    expect(low(105.98, 188)).toHaveLength(1);
    // on the far side as well
    expect(
      faults([feed(spot(240, 75, 3), spot(235, 75, 3), 128)], stop).filter((f) => f.startsWith("obstacle")),
    ).toHaveLength(1);
    expect(faults([feed(spot(240, 75, 3), spot(240, 20, 3), 128)], stop)).toEqual([]);
    // by height: 3.5 mm clears it with its margin
    expect(
      faults([feed(spot(27, 75, 3.5), spot(240, 75, 3.5), 128)], stop).filter((f) => f.startsWith("obstacle")),
    ).toEqual([]);
    expect(
      faults([feed(spot(27, 75, 3.49), spot(240, 75, 3.49), 128)], stop).filter((f) => f.startsWith("obstacle")),
    ).toHaveLength(1);
    const corner = [spot(150, 20, 3.2), spot(240, 140, 3.2)] as const;
    const slanting = (kind: "feed" | "rapid") =>
      faults([move(kind, ...corner, 128)], { ...stop, plate: { x: [0, 1], y: [0, 1] } }).filter((f) =>
        f.startsWith("obstacle"),
      );
    expect(slanting("rapid")).toHaveLength(1);
    // the line itself passes x 200 mm at y 86.7 mm: it meets the stop; one further behind does not, its box does
    expect(slanting("feed")).toHaveLength(1);
    const behind = [spot(150, 70, 3.2), spot(170, 155, 3.2)] as const;
    const off = {
      ...stop,
      obstacles: [{ ...stop.obstacles[0]!, at: { x: [182, 200], y: [60, 72] } as const }],
      plate: { x: [0, 1], y: [0, 1] } as const,
    };
    expect(faults([move("feed", ...behind, 128)], off).filter((f) => f.startsWith("obstacle"))).toEqual([]);
    expect(faults([move("rapid", ...behind)], off).filter((f) => f.startsWith("obstacle"))).toHaveLength(1);
  });

  it("meets plate, heads and things by what is wider above it", () => {
    const arbor = (radius: number, aboveMm: number) => ({ ...bare, holder: [{ name: "arbor", radius, aboveMm }] });
    // with its underside 0.5 mm over the highest of the plate it is clear
    expect(faults([pass(-0.3)], arbor(30, 0.8))).toEqual([]);
    expect(faults([pass(-0.3)], arbor(30, 0.79))).toEqual([
      "holder: arbor, 60 mm wide and 0.79 mm above the tip, meets the plate, whose top is at 0 mm, at 0.49 mm",
    ]);
    const stop = {
      ...arbor(30, 2),
      obstacles: [{ name: "stop", at: { x: [220, 230], y: [60, 90] }, top: 3 } as const],
    };
    const beside = (x: number) => faults([feed(spot(27, 75, -0.3), spot(x, 75, -0.3), 128)], stop);
    expect(beside(190)).toEqual([]);
    expect(beside(190.01)).toEqual([
      "holder: arbor, 60 mm wide and 2 mm above the tip, meets stop, whose top is at 3 mm, at 1.7 mm",
    ]);
    // a head that stands proud of the plate counts as a square as wide as it is
    const proud = { ...arbor(30, 2), screws: [{ label: "S1", x: 230, y: 75, radius: 5, top: 3 }] };
    const near = (x: number) =>
      faults([feed(spot(27, 75, -0.3), spot(x, 75, -0.3), 128)], proud).filter((f) => f.startsWith("holder"));
    expect(near(195)).toEqual([]);
    expect(near(195.01)).toEqual([
      "holder: arbor, 60 mm wide and 2 mm above the tip, meets the head of S1, whose top is at 3 mm, at 1.7 mm",
    ]);
    const across = (y: number) =>
      faults([feed(spot(230, 0, -0.3), spot(230, y, -0.3), 128)], {
        ...proud,
        plate: { x: [0, 1], y: [0, 1] } as const,
      }).filter((f) => f.startsWith("holder"));
    expect(across(40)).toEqual([]);
    expect(across(40.01)).toHaveLength(1);
  });
});
