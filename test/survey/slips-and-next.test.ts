import { describe, expect, it } from "vitest";
import { gauge, um } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { unitOfSteps } from "../../kernel-lib/src/survey/slip-gauge.js";
import { arrangements, mapsOfPasses, pairOf, type SlipMap } from "../../kernel-lib/src/survey/slip-maps.js";
import { shiftedRows, times } from "../../kernel-lib/src/survey/slip-rows.js";
import { slipsBetween } from "../../kernel-lib/src/survey/slips.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { whereNext } from "../../kernel-lib/src/survey/where-next.js";
import { refusal } from "../refusal.js";
import { aHeightTable } from "./a-height-table.js";
import { inspected } from "./inspected.js";

const random = randomStream(8);
const noise = Array.from({ length: 200 }, () => random.normal());
/** a form like no mirror image of itself, on 7 × 5 places read there and back */
const form = (u: number, v: number) => 20 * u * u - 12 * v * v + 9 * u * v + 14 * u ** 3 - 10 * u * v * v + 5 * v ** 3;
const spots = Array.from({ length: 35 }, (_, k) => {
  const row = Math.floor(k / 7);
  const column = row % 2 === 0 ? k % 7 : 6 - (k % 7);
  return { label: `${"ABCDE"[row]}${column + 1}`, x: 50 * column, y: 40 * row, u: column / 3 - 1, v: row / 2 - 1 };
});
const map = (name: string, z: (u: number, v: number, k: number) => number, from = 0, scatter = 0.3): SlipMap => ({
  name,
  labels: spots.map(({ label }) => label),
  x: spots.map(({ x }) => x),
  y: spots.map(({ y }) => y),
  z: spots.map(({ u, v }, k) => z(u, v, k) + scatter * noise[from + k]!),
});
const first = map("one", form);
const asked = (z: (u: number, v: number, k: number) => number, scatter = 0.3, step = 0.1) =>
  slipsBetween(first, map("two", z, 40, scatter), step);
const howSure = /^fewer than 1 clean sheet in 1000 shows as much; \d+ times less is left between the two if so$/;

describe("a slip between two maps", () => {
  it("is not asked about where there is none, nor where the maps are noise", () => {
    expect(asked(form)).toEqual([]);
    expect(asked((u, v) => form(u, v) + 50 + 9 * u - 4 * v)).toEqual([]);
    const flat = map("one", () => 0, 0, 1);
    expect(
      slipsBetween(
        flat,
        map("two", () => 0, 40, 1),
        0.1,
      ),
    ).toEqual([]);
  });

  it("of the sense", () => {
    expect(asked((u, v) => -form(u, v))).toEqual([
      {
        check: "sense",
        severity: "stop",
        what: "two looks like one upside down: was its sign the other way round?",
        places: [],
        howSure: expect.stringMatching(howSure),
        whatToDo:
          'push the stylus in and see which way the gauge counts; then say it above the heading, "# positive: surface stands low", on a copy of the sheet',
      },
    ]);
  });

  it.each([
    [25.4, "made 25.4 times smaller", "thou and µm, or inch and mm"],
    [1 / 25.4, "made 25.4 times larger", "thou and µm, or inch and mm"],
    [2.54, "made 2.54 times smaller", "tenths of a thou and µm"],
    [1 / 2.54, "made 2.54 times larger", "tenths of a thou and µm"],
    [10, "made 10 times smaller", "a digit slipped, or thou and tenths of a thou"],
    [1 / 10, "made 10 times larger", "a digit slipped, or thou and tenths of a thou"],
    [1000, "made 1000 times smaller", "mm and µm"],
    [1 / 1000, "made 1000 times larger", "mm and µm"],
  ])("of the unit, by %d", (factor, how, words) => {
    const found = asked((u, v) => form(u, v) / factor, 0.3 / factor);
    expect(found).toEqual([
      {
        check: "units",
        severity: "stop",
        what: `two looks like one ${how}: was it read or typed in another unit (${words})?`,
        places: [],
        howSure: expect.stringMatching(howSure),
        whatToDo: "ask which gauge was read in which unit; correct the heading, or the cells, on a copy of the sheet",
      },
    ]);
  });

  it.each([
    [(u: number, v: number) => form(-u, v), "mirrored left to right"],
    [(u: number, v: number) => form(u, -v), "mirrored front to back"],
    [(u: number, v: number) => form(-u, -v), "turned by 180°"],
  ])("of the arrangement: %#", (turned, name) => {
    expect(asked(turned)).toEqual([
      {
        check: "arrangement",
        severity: "stop",
        what: `two looks like one ${name}: was FRONT at another edge, or counted along the other way?`,
        places: [],
        howSure: expect.stringMatching(howSure),
        whatToDo: "stand at the machine, look where A1 is and which way +X and +Y point; correct a copy of the sheet",
      },
    ]);
    // not asked about where it is not looked for
    expect(slipsBetween(first, map("two", turned, 40), 0.1, []).filter(({ check }) => check === "arrangement")).toEqual(
      [],
    );
  });

  it("names a rival that is nearly as likely", () => {
    // a saddle mirrored either way is the same as one turned upside down
    const saddle = (u: number, v: number) => 30 * u * v;
    const [found] = slipsBetween(
      map("one", saddle),
      map("two", (u, v) => -saddle(u, v), 40),
      0.1,
    );
    expect(found!.what).toMatch(/^two looks like one .*\? Nearly as likely: two looks like one .*\?$/);
  });

  it("of an angle that was not allowed for", () => {
    const cos = (degrees: number) => Math.cos((degrees * Math.PI) / 180);
    const [larger, ...more] = asked((u, v) => form(u, v) / cos(30));
    expect(more).toEqual([]);
    expect(larger).toEqual({
      check: "lever angle",
      severity: "stop",
      what: expect.stringMatching(
        /^all heights of two are 1\.1[4-7] times those of one: was a lever stylus at about (29|30|31)° read without allowing for its angle\?$/,
      ),
      places: [],
      howSure: expect.stringMatching(/^the factor has a standard uncertainty of 0\.0(0\d|1\d)$/),
      whatToDo:
        'measure the angle of the stylus to the surface and say it above the heading, like "# gauge lever angle: 20 deg"',
    });
    const [smaller] = asked((u, v) => form(u, v) * cos(45));
    expect(smaller!.what).toMatch(
      /^all heights of one are 1\.4\d times those of two: was a lever stylus at about 4[4-6]°/,
    );
    expect(asked((u, v) => form(u, v) / cos(10))).toEqual([]);
    expect(asked((u, v) => form(u, v) * 2.6)[0]?.check).not.toBe("lever angle");
    // too noisy to say
    expect(asked((u, v) => form(u, v) / cos(30), 6)).toEqual([]);
    // the step is a doubt of its own
    expect(asked((u, v) => form(u, v) / cos(30), 0.3, 9)).toEqual([]);
  });

  it("of the rows comes before what explains less", () => {
    const z = spots.map(({ u, v }) => form(u, v));
    const slid = (start: number) => asked((_u, _v, k) => z[k < start ? k : k - 1]!);
    const [down, ...more] = slid(12);
    expect(more).toEqual([]);
    expect(down).toEqual({
      check: "rows",
      severity: "stop",
      what: expect.stringMatching(
        /^from B[1-3] on, the readings of two agree with one if each is taken one row up: was a row skipped or written twice\?$/,
      ),
      places: expect.arrayContaining(spots.slice(13).map(({ label }) => label)),
      howSure: expect.stringMatching(/^\d+ times less is left between the two if so$/),
      whatToDo: expect.stringMatching(/^look at the paper around B[1-3], and re-measure two places behind it$/),
    });
    const up = asked((_u, _v, k) => z[k < 12 || k === 34 ? k : k + 1]!);
    expect(up[0]!.what).toContain(" if each is taken one row down: was");
  });
});

describe("rows that slid", () => {
  const z = [0, 9, 2, 14, 5, -7, 3, 12, -4, 8, 1, 15, -2, 6, 11, -9, 4, 13, 0, 7];
  const rowsOf = (list: readonly number[], name: string): SlipMap => ({
    name,
    labels: list.map((_, i) => `P${i}`),
    x: list.map((_, i) => i),
    y: list.map(() => 0),
    z: list,
  });
  const e = (k: number) => 0.1 * noise[100 + k]!;
  const clean = z.map((v, i) => v + e(i));
  const slide = (list: readonly number[]) => shiftedRows(rowsOf(z, "a"), rowsOf(list, "b"));

  it("are found by the start and the way of the slide", () => {
    const later = z.map((_, i) => (i < 8 ? z[i]! : z[i - 1]!) + e(i));
    const { finding, left } = slide(later)!;
    expect(finding.what).toMatch(/^from P[78] on, the readings of b agree with a if each is taken one row up: was/);
    expect(left).toBeLessThan(0.03);
    const earlier = z.map((_, i) => (i < 8 || i === 19 ? z[i]! : z[i + 1]!) + e(i));
    expect(slide(earlier)!.finding.what).toMatch(
      /^from P[89] on, the readings of b agree with a if each is taken one row down/,
    );
    // from the very first row, and as late as six from the end
    const whole = z.map((_, i) => (i === 0 ? 44 : z[i - 1]!) + e(i));
    expect(slide(whole)!.finding.places).toHaveLength(20);
    const late = z.map((_, i) => (i < 14 ? z[i]! : z[i - 1]!) + e(i));
    expect(slide(late)).toBeDefined();
  });

  it("are not where nothing slid, one reading is off, or there are fewer than twelve", () => {
    expect(slide(clean)).toBeUndefined();
    expect(slide(clean.map((v, i) => (i === 7 ? v + 60 : v)))).toBeUndefined();
    const later = z.map((_, i) => (i < 5 ? z[i]! : z[i - 1]!) + e(i));
    const part = (n: number) => shiftedRows(rowsOf(z.slice(0, n), "a"), rowsOf(later.slice(0, n), "b"));
    expect(part(11)).toBeUndefined();
    expect(part(16)).toBeDefined();
    // identical maps leave nothing to explain
    expect(slide(z)).toBeUndefined();
  });

  it("are not where the slide explains too little for the many places it could begin at", () => {
    // of twelve rows it has to leave e^((ln 24 + 9.2) / 6) = 7.9 times less
    const twelve = z.slice(0, 12);
    const scattered = (by: number) => twelve.map((_, i) => twelve[i < 4 ? i : i - 1]! + by * noise[100 + i]!);
    const asked = (by: number) => shiftedRows(rowsOf(twelve, "a"), rowsOf(scattered(by), "b"));
    expect(asked(3.5)!.finding.howSure).toBe("10 times less is left between the two if so");
    expect(asked(4.5)).toBeUndefined();
  });

  it("are matched by their places, those of one map alone passed over", () => {
    const later = z.map((_, i) => (i < 8 ? z[i]! : z[i - 1]!) + e(i));
    const b = rowsOf(later, "b");
    const extra = { ...b, labels: ["X", ...b.labels], z: [99, ...Array.from(b.z)] };
    expect(shiftedRows(rowsOf(z, "a"), extra)!.finding).toEqual(slide(later)!.finding);
  });

  it("say how much less is left in two digits", () => {
    expect([12.345, 1234, Number.POSITIVE_INFINITY].map(times)).toEqual(["12 times", "1200 times", "many times"]);
  });
});

describe("two maps side by side", () => {
  const asItIs = arrangements[0]!;
  it("have offset and tilt taken out of each, at the places that both have", () => {
    const tilted = map("two", (u, v) => form(u, v) + 7 - 3 * u + 4 * v, 0);
    const pair = pairOf(first, tilted, asItIs)!;
    pair.first.forEach((z, i) => {
      expect(pair.second[i]).toBeCloseTo(z, 9);
    });
    expect(pair.degreesOfFreedom).toBe(32);
    expect(arrangements.map(({ name, flipX, flipY }) => [name, flipX, flipY])).toEqual([
      ["as it is", false, false],
      ["mirrored left to right", true, false],
      ["mirrored front to back", false, true],
      ["turned by 180°", true, true],
    ]);
  });

  it("are compared from twelve places on, half of the second at least", () => {
    const part = (list: SlipMap, n: number): SlipMap => ({
      ...list,
      labels: list.labels.slice(0, n),
      x: Array.from(list.x).slice(0, n),
      y: Array.from(list.y).slice(0, n),
      z: Array.from(list.z).slice(0, n),
    });
    expect(pairOf(first, part(first, 11), asItIs)).toBeUndefined();
    expect(pairOf(first, part(first, 12), asItIs)).toBeDefined();
    expect(pairOf(part(first, 17), first, asItIs)).toBeUndefined();
    expect(pairOf(part(first, 18), first, asItIs)).toBeDefined();
    // to a tenth of a millimetre
    const moved = (by: number) => ({ ...first, x: Array.from(first.x, (x) => x + by) });
    expect(pairOf(first, moved(0.04), asItIs)).toBeDefined();
    expect(pairOf(first, moved(0.06), asItIs)).toBeUndefined();
    // mirrored about the middle of the places themselves
    const shifted = (list: SlipMap) => ({ ...list, x: Array.from(list.x, (x) => x + 300) });
    expect(pairOf(shifted(first), shifted(first), arrangements[1]!)).toBeDefined();
  });

  it("come from the passes in the order of reading", () => {
    const table = aHeightTable([
      { at: "A", x: 1, y: 2, z: 5, when: 9 },
      { at: "B", x: 3, y: 4, z: 6, when: 1 },
      { at: "A", x: 1, y: 2, z: 7, when: 4 },
      { at: "B", x: 3, y: 4, z: 8, pass: 2, when: 20 },
    ]);
    expect(mapsOfPasses(table)).toEqual([
      { name: "pass 1", labels: ["B", "A"], x: [3, 1], y: [4, 2], z: [6, 6] },
      { name: "pass 2", labels: ["B"], x: [3], y: [4], z: [8] },
    ]);
    expect(mapsOfPasses({ ...table, when: undefined })[0]!.labels).toEqual(["A", "B"]);
  });
});

describe("the unit in which heights are whole steps", () => {
  it("is another one where that of the heading has none", () => {
    expect(unitOfSteps([0.1, 0.3, 0.7, -1.1], "um", 2.54)).toBe("thou");
    expect(unitOfSteps([1, 3, 7, -11], "um", 2.54)).toBe("tenth");
    expect(unitOfSteps([2.54, 25.4 * 3, 2.54 * 7], "thou", 2.54)).toBeUndefined();
    // µm typed under thou: 3 is read as 76.2 µm
    expect(unitOfSteps([25.4 * 3, 25.4 * 7, 25.4 * 11], "thou", 1)).toBe("um");
  });
  it("is none where half the heights fit as they stand, or one fits nothing", () => {
    expect(unitOfSteps([1, 3.3, 7, 11], "um", 1)).toBeUndefined();
    expect(unitOfSteps([0.1, 0.3, 0.7, 1.1777], "um", 2.54)).toBeUndefined();
    expect(unitOfSteps([0.13, 0.37], "um", 7)).toBeUndefined();
  });
});

describe("a turn of the pointer that was missed", () => {
  const head = [
    "# relative to: travel",
    "# front: y-",
    "# +x: right",
    "# +y: back",
    "# gauge resolution: 1 um",
    "# gauge maximum permissible error: 4 um",
  ];
  const survey = (passes: ((k: number) => number)[], more = ["# gauge range per turn: 200 um"]) =>
    parseSurvey(
      [
        ...head,
        ...more,
        "place,x/mm,y/mm,z/um,pass",
        ...passes.flatMap((change, p) =>
          spots.map(
            ({ label, x, y, u, v }, k) =>
              `${label},${x},${y},${Math.round(form(u, v) / 8 + noise[40 * p + k]! / 2 + change(k))},${p + 1}`,
          ),
        ),
      ].join("\n"),
      { name: "t" },
    )
      .health()
      .findings.filter(({ check }) => check === "turn");
  const none = () => 0;
  const from = (start: number, by: number) => (k: number) => (k >= start ? by : 0);

  it("shows between two passes, more than once", () => {
    const places = (from: number) => spots.slice(from).map(({ label }) => label);
    expect(survey([none, from(28, 200)])).toEqual([
      {
        check: "turn",
        severity: "stop",
        what: `${places(28).slice(0, 5).join(", ")} and 2 more stand a whole turn of the pointer (200 µm) off between pass 1 and pass 2: was a turn missed?`,
        places: places(28),
        howSure: "7 of 35 places, each within 10 µm of a turn",
        whatToDo: `read the turn counter again at ${places(28)[0]}`,
      },
    ]);
    expect(survey([none, from(30, -200)])[0]!.what).toMatch(/^(\S+, ){4}\S+ stand a whole turn/);
    expect(survey([none, from(33, 200)])[0]!.places).toEqual(places(33));
    expect(survey([none, from(34, 200)])).toEqual([]);
    // the whole pass a turn off was set anew
    expect(survey([none, () => 200])).toEqual([]);
    expect(survey([none, from(28, 190)])).toHaveLength(1);
    expect(survey([none, from(28, 186)])).toEqual([]);
    expect(survey([none, from(28, 200)], [])).toEqual([]);
    expect(survey([none, none, from(28, 200)])[0]!.what).toContain("between pass 1 and pass 3");
  });

  it("shows within one pass as a jump there and back, or there", () => {
    const between = (k: number) => (k >= 10 && k < 13 ? -200 : 0);
    expect(survey([between])).toEqual([
      {
        check: "turn",
        severity: "stop",
        what: `${spots
          .slice(10, 13)
          .map(({ label }) => label)
          .join(", ")} stand a whole turn of the pointer (200 µm) off the readings before or after: was a turn missed?`,
        places: spots.slice(10, 13).map(({ label }) => label),
        howSure: expect.stringMatching(/^3 of 35 places, between jumps within \d+ µm of a turn$/),
        whatToDo: `read the turn counter again at ${spots[10]!.label}`,
      },
    ]);
    expect(survey([from(28, 400)])[0]!.what).toMatch(/^(\S+, ){4}\S+ and 2 more stand/);
    expect(survey([(k) => (k === 10 ? 200 : 0)])).toEqual([]);
    expect(survey([none])).toEqual([]);
    // a form that jumps by itself shows no turn
    expect(survey([(k) => (k % 2) * 45])).toEqual([]);
  });
});

describe("a lever without an angle", () => {
  const lever = (name: string, more = "") =>
    parseSurvey(
      `# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge: ${name}\n${more}# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,3,1\n`,
    )
      .health()
      .findings.filter(({ check }) => check === "lever angle");
  it("is asked for it, by whatever name", () => {
    expect(lever("Lever gauge")).toEqual([
      {
        check: "lever angle",
        severity: "check",
        what: "Lever gauge has a lever, and the sheet does not say its angle to the surface: readings are too large by 1.5 % at 10°, 6 % at 20°, 15 % at 30°",
        places: [],
        howSure: "1 / cos of the angle",
        whatToDo: 'set the stylus flat, or say above the heading "# gauge lever angle: 20 deg"',
      },
    ]);
    // 1/cos 10°, 20°, 30°: tables of cosines
    expect([10, 20, 30].map((a) => (100 * (1 / Math.cos((a * Math.PI) / 180) - 1)).toFixed(1))).toEqual([
      "1.5",
      "6.4",
      "15.5",
    ]);
    expect(lever("dial test indicator")).toHaveLength(1);
    expect(lever("finger clock")).toHaveLength(1);
    expect(lever("plunger, clever")).toEqual([]);
    expect(lever("Lever gauge", "# gauge lever angle: 0 deg\n")).toEqual([]);
  });
});

describe("two surveys of one frame", () => {
  const text = (more: (line: string) => string = (line) => line) =>
    more(
      `# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um\nplace,x/mm,y/mm,z/um,pass\n${spots.map(({ label, x, y, u, v }) => `${label},${x},${y},${Math.round(form(u, v))},1`).join("\n")}\n`,
    );
  const one = parseSurvey(text(), { name: "one" });
  it("are held against each other place by place", () => {
    const turned = parseSurvey(
      text((sheet) => sheet.replaceAll(/^([A-E]\d,\d+,\d+),(-?\d+)/gm, (_, at, z) => `${at},${-Number(z)}`)),
      { name: "two" },
    );
    const found = turned.slips(one);
    expect(found.name).toBe("two against one");
    expect(found.repeatability).toBeUndefined();
    expect(found.findings.map(({ check, what }) => `${check}: ${what}`)).toEqual([
      "sense: two looks like one upside down: was its sign the other way round?",
    ]);
    expect(one.slips(parseSurvey(text(), { name: "again" })).findings).toEqual([]);
  });
  it.each([
    [
      "front",
      (s: string) => s.replace("front: y-", "front: y+").replace("+y: back", "+y: front"),
      'slips: one says "front: y-" and two says "front: y+"; give two surveys of one frame',
    ],
    [
      "+x",
      (s: string) => s.replace("+x: right", "+x: left"),
      'slips: one says "+x: right" and two says "+x: left"; give two surveys of one frame',
    ],
    [
      "relative to",
      (s: string) => s.replace("travel", "gravity"),
      'slips: one says "relative to: travel" and two says "relative to: gravity"; give two surveys of one frame',
    ],
  ])("are refused where %s differs", (_, change, message) => {
    expect(refusal(() => one.slips(parseSurvey(text(change), { name: "two" })))).toEqual({
      code: "frames-differ",
      message,
    });
  });
});

describe("where to read next", () => {
  const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" } as const;
  const surface = (list: readonly (readonly [number, number])[]): Surface => ({
    name: "m",
    frame,
    gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
    places: list.map(([xMm, yMm], i) => ({ label: `P${i}`, xMm, yMm, zUm: 0, count: 1 })),
    noise: { standardUncertaintyUm: 1, degreesOfFreedom: 9 },
  });
  const grid = (columns: number, rows: number, without: (x: number, y: number) => boolean = () => false) =>
    Array.from(
      { length: columns * rows },
      (_, i) => [40 * (i % columns), 40 * Math.floor(i / columns)] as const,
    ).filter(([x, y]) => !without(x, y));

  it("is first the hole in a grid, then the middle of a cell", () => {
    const next = whereNext(surface(grid(6, 5, (x, y) => x === 120 && y === 80)), { count: 2 });
    const [hole, cell] = next.places;
    // the hole is a pitch away from its neighbours, the middle of a cell 0.71 of it, and 1 is what is usual
    expect(hole).toEqual({
      xMm: 120,
      yMm: 80,
      reason: "the nearest reading is 40 mm away, where 40 mm is usual",
      gain: expect.closeTo(Math.SQRT2, 9),
    });
    expect(cell!.gain).toBeGreaterThan(0.9);
    expect(cell!.gain).toBeLessThan(1.3);
    expect(`${next}`).toBe(
      `where next on m\n1. new at x 120 mm, y 80 mm: the nearest reading is 40 mm away, where 40 mm is usual\n2. new at x ${cell!.xMm} mm, y ${cell!.yMm} mm: ${cell!.reason}`,
    );
    expect(inspected(next)).toBe(`${next}`);
    expect(Object.isFrozen(next)).toBe(true);
    expect(whereNext(surface(grid(6, 5))).places).toHaveLength(6);
  });

  it("is where the smooth surface is least certain, as the far end of a row that was only begun", () => {
    const list = [...grid(8, 2), [0, 80], [40, 80]] as const;
    const [next] = whereNext(surface(list), { count: 1 }).places;
    expect([next!.xMm, next!.yMm]).toEqual([280, 80]);
    // gᵀ (XᵀX)⁻¹ g of the quadric there, against its average of 6 terms over 18 places: elimination row by row
    const terms = ([x, y]: readonly [number, number]) =>
      [1, x / 140 - 1, y / 40 - 1].flatMap((a, i, all) => all.slice(i).map((b) => a * b));
    const rows = list.map(terms);
    const g = terms([280, 80]);
    const m = g.map((gi, i) => [...g.map((_, j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0)), gi]);
    for (let p = 0; p < 6; p++) {
      for (let r = 0; r < 6; r++) {
        if (r === p) continue;
        const f = m[r]![p]! / m[p]![p]!;
        m[r] = m[r]!.map((value, c) => value - f * m[p]![c]!);
      }
    }
    const variance = g.reduce((sum, gi, i) => sum + (gi * m[i]![6]!) / m[i]![i]!, 0);
    expect(next!.gain).toBeCloseTo(Math.sqrt(variance / (6 / 18)), 6);
    expect(next!.reason).toBe(
      `the smooth surface is ${Number(next!.gain.toPrecision(2))} times as uncertain here as on average`,
    );
  });

  it("is where the lines of a grid cross, to the last digit", () => {
    const list = grid(6, 5, (x, y) => x === 120 && y === 80).map(([x, y]) => [x / 1.2, y / 1.2] as const);
    const [hole] = whereNext(surface(list), { count: 1 }).places;
    expect([hole!.xMm, hole!.yMm]).toEqual([120 / 1.2, 80 / 1.2]);
  });

  it("works on scattered places too, within them, on whole millimetres", () => {
    const spread = Array.from(
      { length: 24 },
      (_, i) => [3 + 400 * ((i * 0.618) % 1), 5 + 200 * ((i * 0.414) % 1)] as const,
    );
    const { places } = whereNext(surface(spread), { count: 8 });
    expect(places).toHaveLength(8);
    for (const { xMm, yMm, label } of places) {
      expect(label).toBeUndefined();
      expect(Number.isInteger(xMm) && Number.isInteger(yMm)).toBe(true);
      expect(xMm >= 3 && xMm <= 403 && yMm >= 5 && yMm <= 205).toBe(true);
    }
    const key = places.map(({ xMm, yMm }) => `${xMm} ${yMm}`);
    expect(new Set(key).size).toBe(8);
  });

  it("stops where nothing is left to read", () => {
    const tight = grid(3, 2).map(([x, y]) => [x / 40, y / 40] as const);
    const { places } = whereNext(surface(tight), { count: 50 });
    expect(places.length).toBeLessThan(50);
  });

  it("begins with what the health of the survey asks to have confirmed, each place once", () => {
    const z = (k: number) => (k === 16 ? 40 : 0);
    const rows = [1, 2].flatMap((pass) =>
      spots.map(
        ({ label, x, y, u, v }, k) =>
          `${label},${x},${y},${k === 5 && pass === 1 ? "" : Math.round(form(u, v) / 8 + noise[40 * pass + k]! / 2 + (pass === 2 ? z(k) : 0))},${pass}`,
      ),
    );
    const survey = parseSurvey(
      [
        "# relative to: travel",
        "# front: y-",
        "# +x: right",
        "# +y: back",
        "# gauge resolution: 1 um",
        "# gauge maximum permissible error: 4 um",
        "place,x/mm,y/mm,z/um,pass",
        ...rows,
      ].join("\n"),
      { name: "t" },
    );
    const { places } = whereNext(survey, { count: 4 });
    const [confirm, fill] = places;
    expect(confirm).toEqual({
      label: spots[16]!.label,
      xMm: spots[16]!.x,
      yMm: spots[16]!.y,
      reason: expect.stringMatching(new RegExp(`^confirm: ${spots[16]!.label}: pass 1 and 2 differ by 38 µm, pass 2`)),
      gain: 10,
    });
    expect(fill).toEqual({
      label: spots[5]!.label,
      xMm: spots[5]!.x,
      yMm: spots[5]!.y,
      reason: `fill in: 1 cell is blank, not probed: ${spots[5]!.label} pass 1`,
      gain: 10,
    });
    expect(places).toHaveLength(4);
    expect(places[2]!.label).toBeUndefined();
    expect(whereNext(survey, { count: 1 }).places).toEqual([confirm]);
    expect(`${whereNext(survey, { count: 1 })}`).toContain(`1. ${spots[16]!.label} at x `);
  });

  it("asks to have a place confirmed that stands off its neighbours", () => {
    const rows = spots.map(
      ({ label, x, y, u, v }, k) =>
        `${label},${x},${y},${Math.round(form(u, v) / 8 + noise[k]! / 2 + (k === 17 ? 30 : 0))},1`,
    );
    const head = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# gauge resolution: 1 um"];
    const sheet = [...head, "# gauge maximum permissible error: 4 um", "place,x/mm,y/mm,z/um,pass", ...rows].join("\n");
    const [next] = whereNext(parseSurvey(sheet, { name: "t" }), { count: 1 }).places;
    expect(next).toMatchObject({ label: spots[17]!.label, xMm: spots[17]!.x, yMm: spots[17]!.y });
    expect(next!.reason).toMatch(new RegExp(`^confirm: ${spots[17]!.label}`));
  });

  it("refuses counts and maps that say nothing", () => {
    for (const count of [0, 51, 1.5, Number.NaN])
      expect(refusal(() => whereNext(surface(grid(3, 3)), { count }))).toEqual({
        code: "count",
        message: `whereNext: ${count} places; give a whole number from 1 to 50`,
      });
    expect(refusal(() => whereNext(surface(grid(5, 1))))).toEqual({
      code: "too-few-places",
      message: "whereNext: m has 5 places; at least 6 are needed to say where the next one tells most",
    });
    expect(whereNext(surface(grid(3, 2)), { count: 1 }).places).toHaveLength(1);
  });
});
