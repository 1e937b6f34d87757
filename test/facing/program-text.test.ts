import { describe, expect, it } from "vitest";
import { program } from "../../kernel-lib/src/facing/program.js";
import { programTime } from "../../kernel-lib/src/facing/program-time.js";
import { comments, word } from "../../kernel-lib/src/facing/program-words.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { mm, mmPerMin, perMin, seconds } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { aJob } from "./a-job.js";

/** two lanes and a repeat between them */
const slim = { ...aJob(), plate: area(mm(50), mm(170), mm(50), mm(100)), stepOver: mm(20), screws: [] };

// read line by line as an operator would: modes, Z up, stop; each round clear of the plate, down outside, through, up
const whole = `(FACING PROGRAM: SMALL CLUB PLATE INVENTED)
(CAUTION: READ ALL OF THIS BEFORE THE FIRST BLOCK)
(ISOLATE THE SPINDLE BEFORE YOU REACH IN OR MEASURE: PLUG OUT, OR MAIN)
(SWITCH LOCKED, AN EMERGENCY STOP IS NOT ISOLATION.)
(DRAWBAR SPANNER, INDICATOR AND ARM OFF BEFORE POWER, EYES PROTECTED, NO)
(GLOVES, NO RAGS, SLEEVES AND HAIR TIED BACK.)
(FLY CUTTER: STAY BELOW ITS MARKED SPEED, BALANCED, GUARDED, NOBODY IN)
(ITS PLANE.)
(STEEL SCREW HEADS AND NUTS LIE UNDER SOFT PLATE: STOP AT A SPARK, A)
(BRIGHT RING OR A CHANGE OF SOUND.)
(DRY RUN ABOVE THE WORK FIRST, FIRST PASS IN SINGLE BLOCK, A HAND ON FEED)
(HOLD, STAY WITH THE MACHINE.)
(CHIPS BY BRUSH WITH THE SPINDLE STOPPED, NO AIR LINE, KEEP CHIPS AND)
(CUTTING FLUID OUT OF THE COUNTERBORES.)
(WORKHOLDING IS CHECKED BY A SECOND PERSON BEFORE THE FIRST CUT, A HEAVY)
(PLATE IS LIFTED WITH HELP.)
(THE MACHINE MAKERS MANUAL, YOUR LOCAL RULES AND A COMPETENT PERSON COME)
(BEFORE ANYTHING PRINTED HERE, WHERE THEY DIFFER, THEY ARE RIGHT.)
(FRONT IS THE EDGE Y-, +X POINTS RIGHT, +Y POINTS BACK)
(G54: X0 Y0 AT MAP X 50 MM Y 40 MM. Z0 IS THE TOUCH-OFF ON THE HIGHEST)
(PLACE OF THE PLATE)
(CUTTER 40 MM, 2 TEETH, CONVENTIONAL, ONE WAY ALONG X, RETURN ABOVE THE)
(WORK)
(THE HOLDER IS NOT GIVEN: LOOK THAT NOTHING ABOVE THE CUTTER MEETS PLATE,)
(HEADS OR STOPS)
(DWELL P IS IN SECONDS: PROVE IT ON THIS CONTROL. LOCK THE IDLE AXIS IN)
(EACH PASS)
G17 G21 G40 G80 G90 G94
G54
M5
G0 Z60.0
(ROUND 1 OF 2: 2 PASSES AT Z -0.3 MM)
(TOUCH-OFF CHECKED, GUARD SHUT, GIBS SNUG: THEN START)
M0
G0 X-23.0 Y27.0
G0 Z5.0
S800.0 M3
G4 P4.0
G1 Z-0.3 F100.0
G1 X143.0 Y27.0 F128.0
G0 Z5.0
G0 X-23.0 Y43.0
G1 Z-0.3 F100.0
G1 X143.0 Y43.0 F128.0
G0 Z5.0
G0 Z60.0
M5
(ROUND 2 OF 2: 3 PASSES AT Z -0.3 MM)
(CHIPS BRUSHED OUT, HEADS AND SCREWS LOOKED AT: THEN START)
M0
G0 X-23.0 Y27.0
G0 Z5.0
S800.0 M3
G4 P4.0
G1 Z-0.3 F100.0
G1 X143.0 Y27.0 F128.0
G0 Z5.0
G0 X-23.0 Y35.0
G1 Z-0.3 F100.0
G1 X143.0 Y35.0 F128.0
G0 Z5.0
G0 X-23.0 Y43.0
G1 Z-0.3 F100.0
G1 X143.0 Y43.0 F128.0
G0 Z5.0
G0 Z60.0
M5
M30
`;

describe("the whole program", () => {
  const job = aJob({ ...slim, rounds: [{ depth: mm(0.3) }, { depth: mm(0.3), offsetByHalfStep: true }] });
  const made = program(job);

  it("stands as it is meant to, line by line", () => {
    expect(made.text).toBe(whole);
  });

  it("is told in a sentence, with the lanes of each round and the widest step", () => {
    expect(made.lineCount).toBe(whole.split("\n").length - 1);
    expect(String(made)).toBe(
      "small club plate (invented): program of 68 lines, 2 lanes at 0.3 mm below Z0, 3 lanes at 0.3 mm below Z0; replay it before it goes to the machine",
    );
    expect(made.rounds.map(({ depth, lanes, stepOver }) => [depth.text("mm"), lanes, stepOver.text("mm")])).toEqual([
      ["0.3 mm", 2, "16 mm"],
      ["0.3 mm", 3, "8 mm"],
    ]);
    expect(made.feed.in("mm/min")).toBeCloseTo(800 * 2 * 0.08, 9);
    expect(() => Object.assign(made, { text: "" })).toThrow(TypeError);
  });

  it("takes the time of its moves: ways over rates, added up by hand", () => {
    const { feeding, rapids, dwells, stops } = programTime(made.text, job, mmPerMin(400));
    // five lanes of 120 mm, a radius and a run-out at both ends, at 128 mm/min; five ways down of 5.3 mm at 100 mm/min
    expect(feeding.in("min")).toBeCloseTo((5 * 166) / 128 + (5 * 5.3) / 100, 9);
    // up from each lane; back to the next; up to the retract and down again in each round; back to the second round
    const [back, between, home] = [Math.hypot(166, 16), Math.hypot(166, 8), Math.hypot(166, 16)];
    const up = 5 * 5.3 + 2 * 55 + 2 * 55;
    expect(rapids.in("min")).toBeCloseTo((up + back + 2 * between + home) / 400, 9);
    expect(dwells.in("s")).toBeCloseTo(8, 9);
    expect(stops).toBe(2);
  });
});

it("says offset, holder, screws and feed along y of another job, and runs down along y", () => {
  const play = Measured.from(input.rectangular({ label: "play", estimate: mm(0.02), halfWidth: mm(0.01) }));
  const made = (more: Parameters<typeof aJob>[0]) =>
    program(
      aJob({
        feedAlong: "y",
        workOffset: "G57",
        zero: { x: mm(10), y: mm(-5) },
        frame: { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" },
        rounds: [{ depth: mm(0.25) }],
        screws: [{ label: "S1", x: mm(65), y: mm(75.5), headDiameter: mm(10), headTop: mm(-1.6) }],
        cutter: { ...aJob().cutter, holder: [{ name: "Ärbor", diameter: mm(64), above: mm(2) }] },
        speed: perMin(750),
        spinUp: seconds(2.5),
        ...more,
      }),
    ).text.split("\n");
  const lines = made({});
  const from = lines.findIndex((line) => line.startsWith("(FRONT"));
  expect(lines.slice(from, from + 26)).toEqual([
    "(FRONT IS THE EDGE Y+, +X POINTS LEFT, +Y POINTS FRONT)",
    "(G57: X0 Y0 AT MAP X 10 MM Y -5 MM. Z0 IS THE TOUCH-OFF ON THE HIGHEST)",
    "(PLACE OF THE PLATE)",
    "(CUTTER 40 MM, 2 TEETH, CONVENTIONAL, ONE WAY ALONG Y, RETURN ABOVE THE)",
    "(WORK)",
    "(ABOVE THE CUTTER: ARBOR, 64 MM WIDE, 2 MM ABOVE THE TIP)",
    "(SCREW S1: MAP X 65 MM Y 75.5 MM, HEAD TOP Z -1.6 MM)",
    "(DWELL P IS IN SECONDS: PROVE IT ON THIS CONTROL. LOCK THE IDLE AXIS IN)",
    "(EACH PASS)",
    "G17 G21 G40 G80 G90 G94",
    "G57",
    "M5",
    "G0 Z60.0",
    "(ROUND 1 OF 1: 7 PASSES AT Z -0.25 MM)",
    "(TOUCH-OFF CHECKED, GUARD SHUT, GIBS SNUG: THEN START)",
    "M0",
    "G0 X57.0 Y138.0",
    "G0 Z5.0",
    "S750.0 M3",
    "G4 P2.5",
    "G1 Z-0.25 F100.0",
    "G1 X57.0 Y22.0 F120.0",
    "G0 Z5.0",
    "G0 X71.333 Y138.0",
    "G1 Z-0.25 F100.0",
    "G1 X71.333 Y22.0 F120.0",
  ]);
  // climbing goes the other way, and says so
  const climbing = made({ milling: "climb", play });
  expect(climbing).toContain("(CUTTER 40 MM, 2 TEETH, CLIMB, ONE WAY ALONG Y, RETURN ABOVE THE WORK)");
  expect(climbing).toContain("G0 X57.0 Y22.0");
  expect(climbing).toContain("G1 X57.0 Y138.0 F120.0");
});

describe("a word", () => {
  it.each([
    ["X", 0, "X0.0"],
    ["X", -0.0004, "X0.0"],
    ["X", -0.0005001, "X-0.001"],
    ["Z", -12.5, "Z-12.5"],
    ["Y", 100, "Y100.0"],
    ["F", 71.3333333, "F71.333"],
    ["Z", 0.12, "Z0.12"],
    ["Z", 0.105, "Z0.105"],
    ["P", 1000.25, "P1000.25"],
  ] as const)(
    "%s %d is written %s: a decimal point, a thousandth at the finest, no sign of nothing",
    (at, value, text) => {
      expect(word(at, value)).toBe(text);
    },
  );
});

describe("a comment", () => {
  it("is in capitals that every control can store", () => {
    expect(comments("Größe Ø 5 µm; ±0,1 × 2 − 3 [don’t] it's 4=2+2/1: é")).toEqual([
      "(GROSSE DIA 5 UM, 0,1 X 2 - 3 DONT ITS 4=2+2/1: E)",
    ]);
  });

  it("is broken at spaces, 72 characters a line, and a long word after 60", () => {
    const two = (a: number, b: number) => comments(`${"A".repeat(a)} ${"B".repeat(b)}`);
    expect(two(40, 31)).toEqual([`(${"A".repeat(40)} ${"B".repeat(31)})`]);
    expect(two(40, 32)).toEqual([`(${"A".repeat(40)})`, `(${"B".repeat(32)})`]);
    expect(comments("C".repeat(61))).toEqual([`(${"C".repeat(60)} C)`]);
    expect(comments("C".repeat(130))).toEqual([`(${"C".repeat(60)})`, `(${"C".repeat(60)} ${"C".repeat(10)})`]);
  });

  it("of nothing but signs is none", () => {
    expect(comments(" [] ")).toEqual([]);
  });
});
