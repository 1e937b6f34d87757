import { describe, expect, it } from "vitest";
import { gauge, inch, minutes, mm, seconds, um } from "../../kernel-lib/src/index.js";
import { diameterAbove, missChance, type PlanOptions, pitchFor, plan } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";
import { inspected } from "./inspected.js";

const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" } as const;
const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
/** a table of 100 × 60 mm: 10 to 90 and 10 to 50 may be touched */
const base: PlanOptions = {
  table: { x: [mm(0), mm(100)], y: [mm(0), mm(60)] },
  pitch: mm(40),
  frame,
  gauge: dial,
};
const grid = (more: Partial<PlanOptions> = {}) => plan({ ...base, ...more }).grid;
const lines = (more: Partial<PlanOptions> = {}) => {
  const { x, y, moved } = grid(more);
  return { x, y, moved };
};
const labels = (more: Partial<PlanOptions> = {}) =>
  plan({ ...base, ...more }).places.map(({ label, xMm, yMm }) => `${label} ${xMm} ${yMm}`);
const sentence = (more: Partial<PlanOptions>) => refusal(() => plan({ ...base, ...more })).message;

describe("the grid of a plan", () => {
  it("lies evenly between the edges, rows from FRONT, columns from the left", () => {
    expect(labels()).toEqual(["A1 10 10", "A2 50 10", "A3 90 10", "B1 10 50", "B2 50 50", "B3 90 50"]);
    expect(grid()).toMatchObject({ x: [10, 50, 90], y: [10, 50], leftOut: [], moved: [] });
  });

  it("turns with FRONT, and the way X and Y grow", () => {
    const turned = (front: "y+" | "x-" | "x+", plusX: "left" | "back" | "front", plusY: "front" | "left" | "right") =>
      labels({ frame: { relativeTo: "travel", front, plusX, plusY } });
    expect(turned("y+", "left", "front")).toEqual([
      "A1 90 50",
      "A2 50 50",
      "A3 10 50",
      "B1 90 10",
      "B2 50 10",
      "B3 10 10",
    ]);
    expect(turned("x-", "back", "left")).toEqual([
      "A1 10 50",
      "A2 10 10",
      "B1 50 50",
      "B2 50 10",
      "C1 90 50",
      "C2 90 10",
    ]);
    expect(turned("x+", "front", "right")).toEqual([
      "A1 90 10",
      "A2 90 50",
      "B1 50 10",
      "B2 50 50",
      "C1 10 10",
      "C2 10 50",
    ]);
    const { facing } = plan(base);
    expect(facing).toEqual({ across: "x", away: "y", growsRight: true, growsBack: true });
  });

  it("counts its steps so that none is wider than the pitch, and one more only where it must", () => {
    expect(lines({ pitch: mm(80) })).toEqual({ x: [10, 90], y: [10, 50], moved: [] });
    expect(lines({ pitch: mm(79) }).x).toEqual([10, 50, 90]);
    // 80 mm in three steps of whole millimetres: 26, centred
    expect(lines({ pitch: mm(30) }).x).toEqual([11, 37, 63, 89]);
    expect(lines({ pitch: { x: mm(30), y: mm(40) } })).toMatchObject({ x: [11, 37, 63, 89], y: [10, 50] });
    // below a pitch of 5 mm on tenths
    const fine = grid({ table: { x: [mm(0), mm(30)], y: [mm(0), mm(30)] }, pitch: mm(4.9) });
    expect(fine.x).toEqual([10, 13.3, 16.6, 19.9]);
    expect(grid({ table: { x: [mm(0), mm(37)], y: [mm(0), mm(37)] }, pitch: mm(5) }).x).toEqual([10, 14, 18, 22, 26]);
  });

  it("begins within what may be touched where that is no whole millimetre", () => {
    expect(lines({ table: { x: [mm(0.4), mm(100)], y: [mm(0), mm(60)] } }).x).toEqual([11, 50, 89]);
    expect(lines({ edge: mm(0) })).toMatchObject({ x: [0, 33, 66, 99], y: [0, 30, 60] });
  });

  it("stays within the travel, where that is less than the table", () => {
    expect(lines({ travel: { x: [mm(20), mm(80)] } })).toMatchObject({ x: [20, 50, 80], y: [10, 50] });
    expect(lines({ travel: { y: [mm(-50), mm(30)] } })).toMatchObject({ x: [10, 50, 90], y: [10, 30] });
    expect(lines({ travel: { x: [mm(-20), mm(300)], y: [mm(-20), mm(300)] } })).toMatchObject(lines());
    const { outline } = plan({ ...base, travel: { y: [mm(-50), mm(30)] } });
    expect(outline.travel).toEqual({ y: { fromMm: -50, toMm: 30 } });
  });

  it("moves a line off a slot to the nearer side, 5 mm away from its edge", () => {
    const slot = (along: "x" | "y", at: number, width = 10) => ({ slots: [{ along, at: mm(at), width: mm(width) }] });
    // a slot along Y at x 52: 47 to 57, and 5 mm more
    expect(lines(slot("y", 52))).toEqual({
      x: [10, 42, 90],
      y: [10, 50],
      moved: ["x 50 mm lies over a slot and was moved to x 42 mm"],
    });
    expect(lines(slot("y", 48)).moved).toEqual(["x 50 mm lies over a slot and was moved to x 58 mm"]);
    // along X it moves a row: outwards is off the table
    expect(lines(slot("x", 49))).toEqual({
      x: [10, 50, 90],
      y: [10, 39],
      moved: ["y 50 mm lies over a slot and was moved to y 39 mm"],
    });
    // a slot whose edge with its 5 mm just meets the line moves nothing
    expect(lines(slot("y", 40)).x).toEqual([10, 50, 90]);
    expect(lines(slot("y", 60)).x).toEqual([10, 50, 90]);
    expect(lines(slot("y", 40.5)).x).toEqual([10, 51, 90]);
    expect(lines({ ...slot("y", 52), clearance: mm(0) }).x).toEqual([10, 47, 90]);
  });

  it("moves a line to the next whole tenth where the pitch is below 5 mm", () => {
    // 14.465 to 17.535 may not be touched
    const slots = [{ along: "y" as const, at: mm(16), width: mm(1.07) }];
    const fine = {
      table: { x: [mm(0), mm(30)], y: [mm(0), mm(30)] },
      pitch: mm(4.9),
      clearance: mm(1),
      slots,
    } as const;
    expect(lines(fine)).toEqual({
      x: [10, 13.3, 17.6, 19.9],
      y: [10, 13.3, 16.6, 19.9],
      moved: ["x 16.6 mm lies over a slot and was moved to x 17.6 mm"],
    });
  });

  it("leaves a line out where its neighbours stand already, and says so", () => {
    const slots = [{ along: "y" as const, at: mm(30), width: mm(30) }];
    // 10 to 50 is taken: 20 moves to 10, where a line stands, or to 50, where the next one will
    expect(lines({ pitch: mm(20), slots })).toEqual({
      x: [10, 50, 70, 90],
      y: [10, 30, 50],
      moved: [
        "x 30 mm lies over a slot and was moved to x 50 mm",
        "x 50 mm lies over a slot and was left out, as its neighbours stand there",
      ],
    });
  });

  it("keeps off holes and what stands in the way, by the clearance and no more", () => {
    const hole = (x: number, y: number, diameter = 10) => ({ holes: [{ x: mm(x), y: mm(y), diameter: mm(diameter) }] });
    expect(grid(hole(50, 10)).leftOut).toEqual([{ label: "A2", reason: "a hole" }]);
    expect(grid(hole(56, 18)).leftOut).toEqual([]);
    expect(grid(hole(55.9, 18)).leftOut).toEqual([{ label: "A2", reason: "a hole" }]);
    expect(grid(hole(44, 18)).leftOut).toEqual([]);
    const vice = (x: [number, number], y: [number, number]) => ({
      obstacles: [{ name: "vice", x: [mm(x[0]), mm(x[1])] as const, y: [mm(y[0]), mm(y[1])] as const }],
    });
    expect(grid(vice([40, 60], [40, 60])).leftOut).toEqual([{ label: "B2", reason: "vice" }]);
    // 5 mm off is far enough, on every side
    expect(grid(vice([55, 60], [40, 60])).leftOut).toEqual([]);
    expect(grid(vice([40, 45], [40, 60])).leftOut).toEqual([]);
    expect(grid(vice([40, 60], [55, 60])).leftOut).toEqual([]);
    expect(grid(vice([40, 60], [40, 45])).leftOut).toEqual([]);
    expect(grid(vice([54.9, 60], [40, 60])).leftOut).toHaveLength(1);
    expect(grid(vice([40, 45.1], [40, 60])).leftOut).toHaveLength(1);
    expect(grid(vice([40, 60], [54.9, 60])).leftOut).toHaveLength(1);
    expect(grid(vice([40, 60], [40, 45.1])).leftOut).toHaveLength(1);
  });

  it("names its rows A to Z, then AA, AB", () => {
    const rows = plan({ ...base, table: { x: [mm(0), mm(60)], y: [mm(0), mm(560)] }, pitch: mm(20) }).grid.rows;
    expect(rows).toHaveLength(28);
    expect([0, 25, 26, 27].map((row) => rows[row]![0]!.label)).toEqual(["A1", "Z1", "AA1", "AB1"]);
  });
});

describe("the order of reading", () => {
  const made = plan({ ...base, returnEvery: 4 });

  it("goes a row there and the next one back, and the second pass the same way backwards", () => {
    const said = made.readings.map(({ label, pass, visit, order }) => `${order} ${label} ${pass} ${visit ?? "-"}`);
    const visit = (from: number, pass: number, number: number) =>
      [1, 2].flatMap((datum, d) => [0, 1, 2].map((r) => `${from + 3 * d + r} datum ${datum} ${pass} ${number}`));
    expect(said).toEqual([
      ...visit(1, 1, 1),
      "7 A1 1 -",
      "8 A2 1 -",
      "9 A3 1 -",
      ...visit(10, 1, 2),
      "16 B3 1 -",
      "17 B2 1 -",
      "18 B1 1 -",
      ...visit(19, 1, 3),
      "25 B1 2 -",
      "26 B2 2 -",
      "27 B3 2 -",
      ...visit(28, 2, 4),
      "34 A3 2 -",
      "35 A2 2 -",
      "36 A1 2 -",
      ...visit(37, 2, 5),
    ]);
  });

  it("puts two datums near two far corners, three not on one line", () => {
    const places = (count: 2 | 3) =>
      plan({ ...base, table: { x: [mm(0), mm(220)], y: [mm(0), mm(120)] }, pitch: mm(20), datumPlaces: count }).datums;
    // 10 to 210 by 10 to 110: fifths and quarters of it
    expect(places(2)).toEqual([
      { label: "datum 1", xMm: 50, yMm: 90 },
      { label: "datum 2", xMm: 170, yMm: 30 },
    ]);
    expect(places(3)).toEqual([
      { label: "datum 1", xMm: 30, yMm: 30 },
      { label: "datum 2", xMm: 170, yMm: 50 },
      { label: "datum 3", xMm: 90, yMm: 90 },
    ]);
    expect(plan({ ...base, datumPlaces: 3 }).readings).toHaveLength(3 * 9 + 12);
    // where four places in one corner are all that is left, each datum still has its own
    const cornered = plan({
      ...base,
      table: { x: [mm(0), mm(180)], y: [mm(0), mm(140)] },
      datumPlaces: 3,
      obstacles: [
        { name: "vice", x: [mm(0), mm(120)], y: [mm(0), mm(140)] },
        { name: "clamp", x: [mm(120), mm(180)], y: [mm(0), mm(80)] },
      ],
    });
    expect(cornered.places.map(({ xMm, yMm }) => `${xMm} ${yMm}`)).toEqual(["130 90", "170 90", "130 130", "170 130"]);
    expect(cornered.datums.map(({ xMm, yMm }) => `${xMm} ${yMm}`)).toEqual(["130 90", "170 90", "130 130"]);
  });
});

describe("what a plan takes where nothing is said", () => {
  it("is a margin of 10 mm and 5 mm, two passes, two datums, 20 readings between returns, 12 s and 5 min", () => {
    const said = plan({
      ...base,
      title: "survey",
      edge: mm(10),
      clearance: mm(5),
      passes: 2,
      datumPlaces: 2,
      returnEvery: 20,
      timePerReading: seconds(12),
      timePerWipe: minutes(5),
      expectedFlatness: um(20),
      repeatability: um(1),
      zUnit: "um",
      seed: 1,
    });
    const made = plan(base);
    expect(made.toCsv()).toBe(said.toCsv());
    expect(made.time.in("s")).toBeCloseTo(12 * made.readings.length + 600, 9);
    expect(`${made}`).toBe(`${said}`);
    expect(made.expected.repeatabilitySource).toBe("one step of the gauge, assumed, as none is stated");
    expect({ ...made.expected, repeatabilitySource: "" }).toEqual({ ...said.expected, repeatabilitySource: "" });
    expect(said.expected.repeatabilitySource).toBe("as stated for the plan");
    expect(made.zUnit).toBe("um");
    expect(made.smallestDefect).toBeUndefined();
    expect(made.frame).toBe(frame);
  });
});

describe("one sentence of a plan", () => {
  it("names places, spacing, readings, time, what is missed and U", () => {
    expect(`${plan(base)}`).toMatch(
      /^survey: 6 places at 40 × 40 mm at most, 30 readings in 2 passes, about 16 min; U of the flatness about \d\.\d µm, drift not in it$/,
    );
    expect(`${plan({ ...base, passes: 1, title: "t", timePerWipe: minutes(60) })}`).toMatch(
      /^t: 6 places at 40 × 40 mm at most, 18 readings in 1 pass, about 1 h 4 min; U/,
    );
    expect(`${plan({ ...base, timePerWipe: minutes(27) })}`).toContain("about 1 h 0 min");
    expect(`${plan({ ...base, timePerWipe: seconds(0), timePerReading: seconds(0) })}`).toContain("about 1 min");
    // a disc of 60 mm over cells of 40 × 40 mm always meets a corner
    expect(`${plan({ ...base, smallestDefect: { diameter: mm(60) } })}`).toContain(
      "a defect of 60 mm is missed in fewer than 1 of 1000 cases; U",
    );
    // 1 − π 20²/(4 · 40²) = 0.8037, handbook geometry
    expect(`${plan({ ...base, smallestDefect: { diameter: mm(20) } })}`).toContain(
      "a defect of 20 mm is missed in 80 of 100 cases; U",
    );
    expect(String(plan(base))).toBe(inspected(plan(base)));
  });
});

describe("what a plan has to say", () => {
  const between =
    "between the places nothing is seen: stone the table, blue it under a straightedge, slide over it and note the largest swing";
  const random =
    "the chance of a miss is that of a defect at random between the outermost places, and holds for one or many passes alike";

  it("is only that between the places nothing is seen, where nothing else is", () => {
    expect(plan(base).notes).toEqual([between]);
  });

  it("names what was moved, what was left out, what stands in the way and that one pass is one", () => {
    const made = plan({
      ...base,
      passes: 1,
      slots: [{ along: "y", at: mm(52), width: mm(10) }],
      holes: [{ x: mm(10), y: mm(10), diameter: mm(8) }],
      obstacles: [
        { name: "vice", x: [mm(80), mm(100)], y: [mm(40), mm(60)] },
        { name: "clamp", x: [mm(60), mm(62)], y: [mm(20), mm(25)] },
      ],
      smallestDefect: { diameter: mm(30) },
    });
    expect(made.notes).toEqual([
      "x 50 mm lies over a slot and was moved to x 42 mm",
      "left out: A1 (a hole), B3 (vice); nothing will be known there",
      random,
      "lift the stylus before it meets vice, clamp; the rows run on behind",
      between,
      "one pass cannot tell swarf from the table; take two",
    ]);
  });

  it("tells over which diameter a defect of a known height can be seen", () => {
    const made = plan({ ...base, smallestDefect: { diameter: mm(30), height: um(12) } });
    // a parabola: d √(1 − limit/height)
    const seen = 30 * Math.sqrt(1 - made.expected.limit.in("um") / 12);
    expect(made.detection!.diameter.in("mm")).toBeCloseTo(seen, 9);
    expect(made.notes).toEqual([
      `the defect exceeds the limit of ${made.expected.limit.in("um").toPrecision(2)} µm over ${seen.toPrecision(3)} mm only; touching it at the rim is not seeing it`,
      random,
      between,
    ]);
  });
});

describe("what the survey can be expected to tell", () => {
  it("is one step over √12 where repeats scatter by less than half of it, whatever the passes", () => {
    const fine = gauge({ ...dial, repeatability: { standardDeviation: um(0.1), degreesOfFreedom: 9 } });
    const { expected } = plan({ ...base, gauge: fine, passes: 3 });
    expect(expected.place.in("um")).toBeCloseTo(1 / Math.sqrt(12), 12);
    expect(expected.repeatabilitySource).toBe("as stated for the gauge");
    expect(expected.repeatability.in("um")).toBeCloseTo(0.1, 12);
  });

  it("is s/√n else, and its limit the factor for all places at once", () => {
    const { expected, places } = plan({ ...base, repeatability: um(3), passes: 4, pitch: { x: mm(14), y: mm(10) } });
    expect(expected.place.in("um")).toBeCloseTo(1.5, 12);
    // for 35 places about 3.18 standard uncertainties, 95 % at once: common practice, no source
    expect(places).toHaveLength(35);
    expect(expected.limit.in("um") / 1.5).toBeCloseTo(3.18, 1);
  });

  it("scatters with the scatter of a place, has the gauge in it, and is biased high", () => {
    const without = gauge({ ...dial, maximumPermissibleError: um(0.001) });
    const terms = { ...base, pitch: mm(13), repeatability: um(3), passes: 1 };
    const scatter = plan({ ...terms, gauge: without }).expected;
    const both = plan(terms).expected;
    // a rectangular input of half-width 4 µm has a variance of 16/3, JCGM 100 4.3.7
    expect((both.flatness.in("um") / 2) ** 2 - (scatter.flatness.in("um") / 2) ** 2).toBeCloseTo(16 / 3, 4);
    expect(both.bias.in("um")).toBe(scatter.bias.in("um"));
    // a flat table read with much scatter: the range of 35 normal readings is 4.2 s on the average (tables of d₂: 4.09 for
    // 25, 4.50 for 50), a plane taken out a little less, scattering by about 0.7 s
    const flat = plan({ ...terms, expectedFlatness: um(0.001), gauge: without }).expected;
    expect(flat.bias.in("um") / 3).toBeGreaterThan(3.6);
    expect(flat.bias.in("um") / 3).toBeLessThan(4.4);
    expect(flat.flatness.in("um") / 6).toBeGreaterThan(0.55);
    expect(flat.flatness.in("um") / 6).toBeLessThan(0.85);
    expect(both.bias.in("um")).toBeLessThan(flat.bias.in("um"));
  });
});

describe("points against time", () => {
  it("halves and doubles the spacing, from coarse to fine", () => {
    const made = plan({ ...base, smallestDefect: { diameter: mm(20) } });
    const list = made.choices();
    expect(list.map(({ pitch }) => pitch.in("mm"))).toEqual([80, 56, 40, 28, 20]);
    expect(list.map(({ places }) => places)).toEqual([4, 6, 6, 12, 15]);
    expect(list[2]).toEqual({
      pitch: mm(40),
      places: 6,
      readings: made.readings.length,
      time: made.time,
      missChance: made.detection!.missChance,
      limit: made.expected.limit,
    });
    expect(plan(base).choices([1])[0]).not.toHaveProperty("missChance");
    expect(
      plan({ ...base, pitch: { x: mm(80), y: mm(40) } })
        .choices([1])[0]!
        .pitch.in("mm"),
    ).toBe(80);
  });
});

describe("the sheet of a plan", () => {
  it("says above its heading what is known and leaves blank what is not", () => {
    const made = plan({
      ...base,
      title: " three\tlines,\nof; ",
      travel: { x: [mm(-5), mm(100.5)] },
      slots: [
        { along: "x", at: mm(25), width: mm(8) },
        { along: "y", at: mm(71), width: mm(8) },
      ],
      holes: [{ x: mm(30), y: mm(25), diameter: inch(0.5) }],
      gauge: gauge({ ...dial, name: "dial; old" }),
      passes: 1,
      zUnit: "tenth",
    });
    const lines = made.toCsv().split("\n");
    expect(lines.slice(0, 36)).toEqual([
      "# title: three lines, of",
      "# workshop:",
      "# machine:",
      "# date:",
      "# relative to: travel",
      "# front: y-",
      "# +x: right",
      "# +y: back",
      "# zeroed: once",
      "# gauge: dial; old",
      "# gauge resolution: 0.001 mm",
      "# gauge maximum permissible error: 0.004 mm",
      "# burrs stoned:",
      "# top wiped:",
      "# stylus preloaded:",
      "# spindle:",
      "# quill:",
      "# head:",
      "# locks:",
      "# approach:",
      "# vice:",
      "# places:",
      "# slide between places:",
      "# feet:",
      "# thermometers:",
      "# temperature table:",
      "# travel x: -5 mm to 100.5 mm",
      "# travel y:",
      "# table x: 0 mm to 100 mm",
      "# table y: 0 mm to 60 mm",
      "# slot 1: along x, y 21 mm to 29 mm",
      "# slot 2: along y, x 67 mm to 75 mm",
      "# hole 1: x 30 mm, y 25 mm, diameter 12.7 mm",
      "place,x/mm,y/mm,z/tenth,pass,order,time,temperature/degC,note",
      "datum 1,10,50,,1,1,,,",
      "datum 1,10,50,,1,2,,,",
    ]);
    expect(lines.at(-1)).toBe("");
    expect(lines).toHaveLength(33 + 1 + made.readings.length + 1);
  });
});

describe("a plan is refused", () => {
  it.each<[more: Partial<PlanOptions>, message: string]>([
    [{ passes: 21 }, "plan: 21 passes; give a whole number from 1 to 20, 2 being usual"],
    [{ passes: 1.5 }, "plan: 1.5 passes; give a whole number from 1 to 20, 2 being usual"],
    [{ returnEvery: 0 }, "plan: returnEvery is 0; give a whole number of readings, such as 20"],
    [{ returnEvery: 2.5 }, "plan: returnEvery is 2.5; give a whole number of readings, such as 20"],
    [{ datumPlaces: 4 as never }, "plan: 4 datum places; give 2 or 3, as one sees no tilt"],
    [{ edge: mm(-1) }, "plan: edge is −1 mm; give a length of zero or more, such as mm(10)"],
    [{ clearance: minutes(5) as never }, "plan: clearance is 5 min; give a length of zero or more, such as mm(10)"],
    [{ timePerReading: mm(5) as never }, "plan: 5 mm is no time; give one such as seconds(12)"],
    [{ timePerReading: minutes(-1) }, "plan: −1 min is no time; give one such as seconds(12)"],
    [{ pitch: mm(-5) }, "plan: the pitch is −5 mm; give a length above zero, such as mm(40)"],
    [{ pitch: { x: 5 as never, y: mm(5) } }, "plan: the pitch x is 5; give a length above zero, such as mm(40)"],
    [
      { pitch: { x: mm(5), y: minutes(5) as never } },
      "plan: the pitch y is 5 min; give a length above zero, such as mm(40)",
    ],
    [{ table: undefined as never }, "plan: table x is undefined; give a length, such as mm(40)"],
    [{ table: { x: [mm(0), mm(100)] } as never }, "plan: table y is undefined; give a length, such as mm(40)"],
    [
      { table: { x: [mm(5), mm(5)], y: [mm(0), mm(60)] } },
      "plan: table x goes from 5 mm to 5 mm; give the least position first, then the greatest",
    ],
    [
      { travel: { y: [mm(60), mm(5)] } },
      "plan: travel y goes from 60 mm to 5 mm; give the least position first, then the greatest",
    ],
    [
      { travel: { x: [mm(90), mm(5)] } },
      "plan: travel x goes from 90 mm to 5 mm; give the least position first, then the greatest",
    ],
    [
      { obstacles: [{ name: "vice", x: [mm(0), mm(9)], y: [mm(9), mm(0)] }] },
      "plan: vice y goes from 9 mm to 0 mm; give the least position first, then the greatest",
    ],
    [
      { slots: [{ along: "x", at: mm(9), width: mm(0) }] },
      "plan: the width of a slot is 0 mm; give a length above zero, such as mm(40)",
    ],
    [
      { holes: [{ x: 3 as never, y: mm(9), diameter: mm(1) }] },
      "plan: x of a hole is 3; give a length, such as mm(40)",
    ],
    [
      { holes: [{ x: mm(9), y: 3 as never, diameter: mm(1) }] },
      "plan: y of a hole is 3; give a length, such as mm(40)",
    ],
    [
      { holes: [{ x: mm(9), y: mm(9), diameter: mm(-1) }] },
      "plan: the diameter of a hole is −1 mm; give a length above zero, such as mm(40)",
    ],
    [
      { table: { x: [mm(0), mm(20)], y: [mm(0), mm(60)] } },
      "plan: nothing of the table along x is within travel and 10 mm from its edges; check table (0 to 20 mm) and travel (0 to 20 mm)",
    ],
    [
      { table: { x: [mm(0), mm(20.9)], y: [mm(0), mm(60)] } },
      "plan: 0.9 mm are too little for a grid; plan a larger part of the table",
    ],
    [
      { obstacles: [{ name: "vice", x: [mm(0), mm(100)], y: [mm(0), mm(30)] }] },
      "plan: 3 places are left; at least 4 are needed, choose a smaller pitch or fewer obstacles",
    ],
  ])("%#", (more, message) => {
    expect(sentence(more)).toBe(message);
  });

  it("where its frame does not go together", () => {
    const frames = [
      { front: "y-", plusX: "right", plusY: "front" },
      { front: "y+", plusX: "right", plusY: "back" },
      { front: "x-", plusX: "right", plusY: "back" },
      { front: "y-", plusX: "back", plusY: "back" },
      { front: "x+", plusX: "back", plusY: "right" },
    ] as const;
    for (const { front, plusX, plusY } of frames) {
      expect(sentence({ frame: { relativeTo: "travel", front, plusX, plusY } })).toBe(
        `plan: front ${front}, +x ${plusX} and +y ${plusY} do not go together; FRONT is the edge that the axis across it points away from (-) or towards (+), the other axis points right or left`,
      );
    }
    expect(sentence({ frame: {} as never })).toMatch(/^plan: front undefined, \+x undefined and \+y undefined do not/);
  });

  it("where a dome or its limit is no height", () => {
    expect(refusal(() => diameterAbove(mm(40), um(20), um(0)))).toEqual({
      code: "plan",
      message: "plan: the limit is 0 mm; give a length above zero, such as mm(40)",
    });
    expect(refusal(() => diameterAbove(mm(40), um(0), um(5))).message).toContain("plan: the height is 0 mm;");
    expect(refusal(() => diameterAbove(mm(0), um(9), um(5))).message).toContain("plan: the diameter is 0 mm;");
    expect(refusal(() => missChance(mm(4), mm(0))).message).toContain("plan: the pitch is 0 mm;");
    expect(refusal(() => missChance(mm(4), mm(5), mm(-1))).message).toContain("plan: the pitch is −1 mm;");
    for (const chance of [-0.1, 1, Number.NaN])
      expect(refusal(() => pitchFor(mm(40), chance)).message).toBe(
        `plan: the chance of a miss is ${chance}; give a number from 0 to below 1, such as 0.05`,
      );
    // at a chance of 0 the diagonal of a cell is the diameter; 5 % where nothing is said
    expect(pitchFor(mm(40), 0).in("mm")).toBeCloseTo(40 / Math.SQRT2, 6);
    expect(pitchFor(mm(40)).in("mm")).toBe(pitchFor(mm(40), 0.05).in("mm"));
  });

  it("and takes what lies just within", () => {
    expect(plan({ ...base, passes: 20 }).passes).toBe(20);
    expect(plan({ ...base, returnEvery: 1, passes: 1 }).readings).toHaveLength(6 + 7 * 6);
    expect(plan({ ...base, edge: mm(0), clearance: mm(0) }).places).toHaveLength(12);
    expect(grid({ table: { x: [mm(0), mm(219)], y: [mm(0), mm(60)] }, pitch: { x: mm(1), y: mm(40) } }).x).toHaveLength(
      200,
    );
  });
});
