import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flatness } from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { deg, minutes, mm, seconds, um } from "../../kernel-lib/src/quantity/index.js";
import {
  diameterAbove,
  type Frame,
  gauge,
  missChance,
  type PlanOptions,
  parseSurvey,
  pitchFor,
  plan,
  whereNext,
} from "../../kernel-lib/src/survey/index.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

const frame: Frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
const dial = gauge({
  name: "lever, invented",
  resolution: um(2),
  display: "analogue",
  fractionEstimated: 0.5,
  maximumPermissibleError: um(4),
  rangePerTurn: um(200),
  leverAngle: deg(12),
  repeatability: { standardDeviation: um(1.1), degreesOfFreedom: 17 },
});
const base: PlanOptions = {
  title: "table of the small mill",
  table: { x: [mm(0), mm(480)], y: [mm(0), mm(170)] },
  travel: { x: [mm(0), mm(400)], y: [mm(5), mm(165)] },
  slots: [
    { along: "x", at: mm(45), width: mm(12) },
    { along: "x", at: mm(125), width: mm(12) },
  ],
  holes: [{ x: mm(205), y: mm(85), diameter: mm(16) }],
  pitch: mm(40),
  frame,
  gauge: dial,
};

/** share of random round defects with no place of the grid under them */
function simulatedMiss(diameter: number, pitchX: number, pitchY: number, draws: number): number {
  const random = randomStream(11);
  let missed = 0;
  for (let i = 0; i < draws; i++) {
    const [x, y] = [random.uniform() * pitchX, random.uniform() * pitchY];
    const near = Math.hypot(Math.min(x, pitchX - x), Math.min(y, pitchY - y));
    if (near > diameter / 2) missed++;
  }
  return missed / draws;
}

describe("the chance of a miss", () => {
  // common geometry, no source: 1 − πd²/4p² below the pitch, and the two figures of the four segments beyond it
  it("is one less the area of the defect in a cell, up to the pitch", () => {
    for (const d of [1, 10, 25, 40]) {
      expect(missChance(mm(d), mm(40))).toBeCloseTo(1 - (Math.PI * d * d) / (4 * 1600), 12);
      expect(missChance(mm(d), mm(40), mm(50))).toBeCloseTo(1 - (Math.PI * d * d) / (4 * 2000), 12);
    }
  });

  it("follows the four segments beyond the pitch, and ends where the corner of a cell is reached", () => {
    expect(missChance(mm(44), mm(40)).toFixed(3)).toBe("0.111");
    expect(missChance(mm(48), mm(40)).toFixed(3)).toBe("0.049");
    expect(missChance(mm(40 * Math.SQRT2 * 1.000001), mm(40))).toBe(0);
    expect(missChance(mm(40 * Math.SQRT2 * 0.999), mm(40))).toBeLessThan(1e-4);
    expect(missChance(mm(10), mm(50), mm(40)).toFixed(2)).toBe("0.96");
  });

  it.each([
    [20, 40, 40],
    [45, 40, 40],
    [52, 40, 40],
    [45, 40, 60],
    [65, 40, 60],
    [30, 25, 60],
  ])("of a defect of %d mm at %d × %d mm is what random defects give", (d, a, b) => {
    const draws = 40_000;
    const chance = missChance(mm(d), mm(a), mm(b));
    // 99.9 % of binomial shares lie within 3.3 standard errors
    const room = 3.3 * Math.sqrt((chance * (1 - chance)) / draws) + 1e-4;
    expect(Math.abs(simulatedMiss(d, a, b, draws) - chance)).toBeLessThanOrEqual(room);
  });

  it("falls with the diameter, rises with the pitch and is the same in every unit", () => {
    const size = evenly(0.5, 200);
    fc.assert(
      fc.property(size, size, size, (d, a, b) => {
        const chance = missChance(mm(d), mm(a), mm(b));
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
        expect(missChance(mm(1.1 * d), mm(a), mm(b))).toBeLessThanOrEqual(chance + 1e-12);
        expect(missChance(mm(d), mm(1.1 * a), mm(b))).toBeGreaterThanOrEqual(chance - 1e-12);
        expect(missChance(um(d), um(b), um(a))).toBeCloseTo(chance, 9);
      }),
      { seed: 75, numRuns: 300, endOnFailure: true },
    );
  });

  it("gives the pitch back that it was asked for", () => {
    for (const chance of [0, 0.001, 0.05, 0.2145, 0.5, 0.9]) {
      const pitch = pitchFor(mm(30), chance);
      expect(missChance(mm(30), pitch)).toBeLessThanOrEqual(chance + 1e-9);
      expect(missChance(mm(30), pitch.times(1.01))).toBeGreaterThan(chance);
    }
  });

  it("counts a dome only where it stands above the limit", () => {
    expect(diameterAbove(mm(40), um(20), um(15)).in("mm")).toBeCloseTo(20, 9);
    expect(diameterAbove(mm(40), um(20), um(20)).in("mm")).toBe(0);
    expect(diameterAbove(mm(40), um(20), um(30)).in("mm")).toBe(0);
  });
});

describe("a plan", () => {
  const made = plan(base);

  it("keeps off edges, slots, holes and what the travel does not reach", () => {
    for (const { xMm, yMm } of made.places) {
      expect(xMm).toBeGreaterThanOrEqual(10);
      expect(xMm).toBeLessThanOrEqual(400);
      expect(yMm).toBeGreaterThanOrEqual(10);
      expect(yMm).toBeLessThanOrEqual(160);
      for (const slot of [45, 125]) expect(Math.abs(yMm - slot)).toBeGreaterThanOrEqual(6 + 5);
      expect(Math.hypot(xMm - 205, yMm - 85)).toBeGreaterThanOrEqual(8 + 5);
    }
  });

  it("leaves no wider gap than the pitch but where a slot moved a row, and says so", () => {
    expect(made.widest.x.in("mm")).toBeLessThanOrEqual(40);
    const gaps = made.grid.y.slice(1).map((y, i) => y - made.grid.y[i]!);
    expect(made.widest.y.in("mm")).toBe(Math.max(...gaps));
    expect(made.grid.moved).toEqual([
      "y 48 mm lies over a slot and was moved to y 56 mm",
      "y 122 mm lies over a slot and was moved to y 114 mm",
    ]);
    expect(made.grid.leftOut).toEqual([{ label: "C6", reason: "a hole" }]);
  });

  it("reads every place once a pass, a row there and the next one back, the second pass backwards", () => {
    const way = (pass: number) =>
      made.readings.filter((r) => r.pass === pass && r.visit === undefined).map(({ label }) => label);
    expect(way(1).slice(0, 3)).toEqual(["A1", "A2", "A3"]);
    expect(way(1)[11]).toBe("B11");
    expect(way(2)).toEqual([...way(1)].reverse());
    expect(new Set(way(1)).size).toBe(made.places.length);
  });

  it("visits the datums first, last and every so many readings, each read three times", () => {
    const { readings } = made;
    expect(readings.slice(0, 6).map(({ label }) => label)).toEqual([
      ...Array(3).fill("datum 1"),
      ...Array(3).fill("datum 2"),
    ]);
    expect(readings.at(-1)!.label).toBe("datum 2");
    let since = 0;
    for (const { visit } of readings) {
      since = visit === undefined ? since + 1 : 0;
      expect(since).toBeLessThanOrEqual(20);
    }
    expect(readings.map(({ order }) => order)).toEqual(readings.map((_, i) => i + 1));
  });

  it("counts its time", () => {
    const slow = plan({ ...base, timePerReading: seconds(30), timePerWipe: minutes(10) });
    expect(slow.time.in("s")).toBeCloseTo(30 * slow.readings.length + 2 * 600, 6);
  });

  it("turns with FRONT: rows begin at the operator, columns at the left", () => {
    const turned = plan({
      ...base,
      slots: [],
      holes: [],
      frame: { relativeTo: "travel", front: "y+", plusX: "left", plusY: "front" },
    });
    expect(turned.places[0]).toEqual({ label: "A1", xMm: Math.max(...turned.grid.x), yMm: Math.max(...turned.grid.y) });
    const sideways = plan({
      ...base,
      slots: [],
      holes: [],
      frame: { relativeTo: "travel", front: "x-", plusX: "back", plusY: "left" },
    });
    expect(sideways.grid.rows[0]!.map(({ xMm }) => xMm)).toEqual(
      sideways.grid.y.map(() => Math.min(...sideways.grid.x)),
    );
    expect(sideways.grid.rows[0]![0]!.yMm).toBe(Math.max(...sideways.grid.y));
  });

  it("takes the pitch from the smallest defect and its height, and holds the chance asked for", () => {
    const open = { ...base, slots: [], holes: [] };
    const { pitch: _, ...rest } = open;
    const found = plan({ ...rest, smallestDefect: { diameter: mm(40), height: um(12), chance: 0.05 } });
    expect(found.detection!.missChance).toBeLessThanOrEqual(0.05);
    expect(found.detection!.diameter.in("mm")).toBeLessThan(40);
    const touched = plan({ ...rest, smallestDefect: { diameter: mm(40), chance: 0.05 } });
    expect(touched.places.length).toBeLessThan(found.places.length);
  });

  it("sets points against time: a closer grid takes longer and misses less", () => {
    const list = plan({ ...base, smallestDefect: { diameter: mm(30) } }).choices();
    for (const [coarse, fine] of list.slice(1).map((choice, i) => [list[i]!, choice] as const)) {
      expect(fine.places).toBeGreaterThan(coarse.places);
      expect(fine.time.isGreater(coarse.time)).toBe(true);
      expect(fine.missChance!).toBeLessThanOrEqual(coarse.missChance!);
    }
  });

  it("is the same every time, and says in one line what it is", () => {
    expect(plan(base)).toEqual(made);
    expect(`${plan({ ...base, smallestDefect: { diameter: mm(30) } })}`).toMatch(
      /^table of the small mill: 54 places at 39 × 45 mm at most, 150 readings in 2 passes, about 40 min; a defect of 30 mm is missed in \d\d of 100 cases; U of the flatness about \d\.\d µm, drift not in it$/,
    );
  });
});

/** the sheet of a plan, filled in with a bowl and scatter */
function filledIn(csv: string, scatterUm: number, seed: number, perUnitUm = 1): string {
  const random = randomStream(seed);
  return csv
    .split("\n")
    .map((line) => {
      const cells = line.split(",");
      if (line.startsWith("#") || cells.length < 9 || cells[0] === "place") return line;
      const [u, v] = [Number(cells[1]) / 200 - 1, Number(cells[2]) / 85 - 1];
      cells[3] = String(
        Number((Math.round(10 * (u * u + v * v) + scatterUm * random.normal()) / perUnitUm).toFixed(6)),
      );
      return cells.join(",");
    })
    .join("\n");
}

describe("the sheet of a plan", () => {
  it("is read by the reader of sheets once it is filled in, place by place", () => {
    const made = plan(base);
    const read = parseSurvey(filledIn(made.toCsv(), 1.1, 5));
    expect(read.title).toBe("table of the small mill");
    expect(read.gauge.leverAngle!.in("deg")).toBeCloseTo(12, 9);
    expect(read.readings().length).toBe(made.readings.filter(({ visit }) => visit === undefined).length);
    expect(read.datumReturns.length).toBe(made.readings.filter(({ visit }) => visit !== undefined).length);
    expect(read.places.map(({ label, x, y }) => [label, x.in("mm"), y.in("mm")]).sort()).toEqual(
      made.places.map(({ label, xMm, yMm }) => [label, xMm, yMm]).sort(),
    );
    expect(read.health().findings.filter(({ severity }) => severity === "stop")).toEqual([]);
  });

  it("gives no map while it is blank", () => {
    expect(refusal(() => parseSurvey(plan(base).toCsv()).surface()).code).toBe("no-reading");
  });

  it("survives any title and any grid", () => {
    const titles = fc.string({ maxLength: 40 });
    fc.assert(
      fc.property(
        titles,
        fc.integer({ min: 25, max: 120 }),
        fc.constantFrom("um", "thou", "tenth"),
        (title, pitch, zUnit) => {
          const made = plan({ ...base, title, pitch: mm(pitch), zUnit: zUnit as "um" });
          const read = parseSurvey(filledIn(made.toCsv(), 1, 6, 25.4));
          expect(read.places.length).toBe(made.places.length);
        },
      ),
      { seed: 76, numRuns: 40, endOnFailure: true },
    );
  });
});

it("foretells the U that the flatness of such a survey then states", () => {
  const terms = {
    ...base,
    slots: [],
    holes: [],
    gauge: gauge({ ...dial, resolution: um(1), fractionEstimated: 1 }),
    expectedFlatness: um(20),
  };
  const made = plan(terms);
  const stated = [1, 2, 3, 4, 5, 6].map((seed) =>
    flatness(parseSurvey(filledIn(made.toCsv(), 1.1, seed)))
      .overall.expandedUncertainty()
      .in("um"),
  );
  const mean = stated.reduce((a, b) => a + b, 0) / stated.length;
  expect(made.expected.flatness.in("um") / mean).toBeGreaterThan(0.75);
  expect(made.expected.flatness.in("um") / mean).toBeLessThan(1.25);
});

describe("is refused", () => {
  const sentence = (options: Partial<PlanOptions>) => refusal(() => plan({ ...base, ...options })).message;

  it("a plan without pitch or defect", () => {
    const { pitch: _, ...rest } = base;
    expect(refusal(() => plan(rest)).message).toBe(
      "plan: neither pitch nor smallestDefect is given; give the pitch, or the smallest defect that must not be missed",
    );
  });

  it("a frame that does not go together", () => {
    expect(sentence({ frame: { ...frame, plusY: "left" } })).toBe(
      "plan: front y-, +x right and +y left do not go together; FRONT is the edge that the axis across it points away from (-) or towards (+), the other axis points right or left",
    );
  });

  it("a travel that does not reach the table, ends the wrong way round, nonsense counts", () => {
    expect(sentence({ travel: { x: [mm(600), mm(700)] } })).toBe(
      "plan: nothing of the table along x is within travel and 10 mm from its edges; check table (0 to 480 mm) and travel (600 to 700 mm)",
    );
    expect(sentence({ table: { x: [mm(480), mm(0)], y: [mm(0), mm(170)] } })).toBe(
      "plan: table x goes from 480 mm to 0 mm; give the least position first, then the greatest",
    );
    expect(sentence({ passes: 0 })).toBe("plan: 0 passes; give a whole number from 1 to 20, 2 being usual");
    expect(sentence({ returnEvery: Number.NaN })).toBe(
      "plan: returnEvery is NaN; give a whole number of readings, such as 20",
    );
    expect(sentence({ pitch: mm(0.01) })).toContain("places along");
  });

  it("a defect that scatter hides", () => {
    const { pitch: _, ...rest } = base;
    expect(refusal(() => plan({ ...rest, smallestDefect: { diameter: mm(40), height: um(1) } })).message).toMatch(
      /^plan: a defect 1 µm high is not told from scatter, which takes 2\.\d µm; take more passes or a better gauge$/,
    );
    expect(refusal(() => missChance(mm(0), mm(40))).message).toBe(
      "plan: the diameter is 0 mm; give a length above zero, such as mm(40)",
    );
  });
});

describe("where next", () => {
  it("names the reading to be confirmed first, then the hole in the map", () => {
    const made = plan({
      ...base,
      slots: [],
      holes: [],
      pitch: mm(40),
      gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
    });
    const blank = made.places
      .filter(({ xMm, yMm }) => xMm > 160 && xMm < 260 && yMm > 60 && yMm < 110)
      .map(({ label }) => label);
    const lines = filledIn(made.toCsv(), 0.8, 9)
      .split("\n")
      .filter((line) => !blank.includes(line.split(",")[0]!));
    const at = lines.findIndex((line) => line.startsWith("B3,"));
    lines[at] = lines[at]!.replace(/^(B3,[^,]+,[^,]+,)(-?\d+)/, (_, head, z) => `${head}${Number(z) + 25}`);
    const next = whereNext(parseSurvey(lines.join("\n")), { count: 5 });
    expect(next.places[0]!.label).toBe("B3");
    expect(next.places[0]!.reason).toMatch(/^confirm: B3/);
    const hole = next.places[1]!;
    expect(hole.xMm).toBeGreaterThan(150);
    expect(hole.xMm).toBeLessThan(270);
    expect(hole.reason).toMatch(/^the nearest reading is \d+(\.\d)? mm away, where \d+ mm is usual$/);
    expect(next.places).toHaveLength(5);
    const rest = next.places.slice(1).map(({ gain }) => gain);
    for (const [i, gain] of rest.slice(1).entries()) expect(gain).toBeLessThanOrEqual(1.05 * rest[i]!);
  });

  it("refuses a map too small to say", () => {
    const small = plan({ ...base, holes: [], slots: [], pitch: mm(400) });
    expect(refusal(() => whereNext(parseSurvey(filledIn(small.toCsv(), 1, 2)))).message).toBe(
      "whereNext: table of the small mill has 4 places; at least 6 are needed to say where the next one tells most",
    );
  });
});
