import { describe, expect, it } from "vitest";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { program } from "../../kernel-lib/src/facing/program.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import type { KnownMove } from "../../kernel-lib/src/facing/replay-moves.js";
import { dropOf, removeAll } from "../../kernel-lib/src/facing/replay-removal.js";
import { coverage, facedSurface } from "../../kernel-lib/src/facing/replay-result.js";
import { type ReplayShop, shopOf } from "../../kernel-lib/src/facing/replay-shop.js";
import { type Stock, stockOf } from "../../kernel-lib/src/facing/replay-stock.js";
import { mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aJob, aTop } from "./a-job.js";

const job = aJob({ screws: [], obstacles: [] });
const shop = shopOf(job);
const flat = aTop(job, () => 0);
const level = { x: 0, y: 0 };
const pitch = mm(5);

const pass = (z: number, y: number, more: Partial<KnownMove> = {}): KnownMove => ({
  line: 7,
  kind: "feed",
  from: { xMm: 27, yMm: y, zMm: z },
  to: { xMm: 193, yMm: y, zMm: z },
  feedMmPerMin: 128,
  ...more,
});
const stock = (of: ReplayShop = shop, surface = flat, pitchMm = 5): Stock => stockOf(surface, 0, of, pitchMm);

describe("the plate as found", () => {
  it("is a grid of cells by their middles, as high as the map, less the touch-off", () => {
    const top = aTop(job, (u, v) => 40 * u - 25 * v);
    const got = stockOf(top, 40, shop, 10);
    expect([got.along, got.across].map((list) => [list.length, list[0], list.at(-1)])).toEqual([
      [12, 55, 165],
      [7, 45, 105],
    ]);
    // over Z0 in millimetres; between the places by distance, so near to the plane and not on it
    for (const [j, y] of got.across.entries()) {
      for (const [i, x] of got.along.entries()) {
        const plane = (40 * ((x - 50) / 120) - (25 * (y - 40)) / 70 - 40) / 1000;
        expect(Math.abs(got.foundMm[j * 12 + i]! - plane)).toBeLessThan(0.004);
      }
    }
    expect(got.topMm).toBe(Math.max(...got.foundMm));
    expect(got.heightMm).toEqual(got.foundMm);
    expect(got.heightMm).not.toBe(got.foundMm);
    expect([...got.isProbed].every((known) => known === 1)).toBe(true);
    expect([...got.isSwept].every((swept) => swept === 0)).toBe(true);
  });

  it("is laid along the feed, and known between the outermost places alone", () => {
    const along = shopOf(aJob({ feedAlong: "y" }));
    const got = stockOf(
      aTop(job, (u) => 100 * u),
      100,
      along,
      10,
    );
    expect([got.along.length, got.across.length]).toEqual([7, 12]);
    // heights rise across the feed now
    expect(got.foundMm[0]!).toBeLessThan(-0.09);
    expect(got.foundMm.at(-1)!).toBeGreaterThan(-0.01);
    const inner = {
      ...flat,
      places: flat.places.filter(({ xMm, yMm }) => xMm > 60 && xMm < 160 && yMm > 50 && yMm < 100),
    };
    // places at x 70 to 150 mm and at y 57.5 to 92.5 mm: cells of 10 mm at x 75 to 145 and y 65 to 85 mm
    const known = stockOf(inner, 0, shop, 10);
    expect([...known.isProbed].filter((k) => k === 1)).toHaveLength(8 * 3);
    expect(known.isProbed[2 * 12 + 2]).toBe(1);
    expect(known.isProbed[2 * 12 + 1]).toBe(0);
    expect(known.isProbed[1 * 12 + 2]).toBe(0);
    // outside the nearest go on
    expect(known.foundMm[0]).toBe(0);
  });

  it("has two cells each way at the least", () => {
    expect(stock(shop, flat, 500).along).toEqual([80, 140]);
  });
});

describe("what the passes take away", () => {
  const lanes = [57, 69, 81, 93];

  it("is the depth over all the plate where they run clear", () => {
    const plate = stock();
    const { refusals, volumeMm3, lanesMm } = removeAll(
      [...lanes.map((y) => pass(-0.3, y)), ...lanes.map((y) => pass(-0.5, y))],
      plate,
      shop,
      level,
    );
    expect(refusals).toEqual([]);
    expect(volumeMm3).toBeCloseTo(120 * 70 * 0.5, 6);
    expect(lanesMm).toEqual(lanes);
    expect([...plate.heightMm].every((z) => z === -0.5)).toBe(true);
    expect([...plate.isSwept].every((swept) => swept === 1)).toBe(true);
  });

  it("is the same along y, whichever way", () => {
    const along = shopOf(aJob({ feedAlong: "y", milling: "climb" }));
    const way = (x: number, [from, to]: readonly [number, number]): KnownMove => ({
      ...pass(-0.3, 0),
      from: { xMm: x, yMm: from, zMm: -0.3 },
      to: { xMm: x, yMm: to, zMm: -0.3 },
    });
    for (const ends of [
      [17, 133],
      [133, 17],
    ] as const) {
      const plate = stock(along);
      const { volumeMm3, lanesMm } = removeAll(
        [67, 90, 110, 130, 153].map((x) => way(x, ends)),
        plate,
        along,
        level,
      );
      expect(volumeMm3).toBeCloseTo(120 * 70 * 0.3, 6);
      // only the last planned depth, −0.5 mm, counts as a lane
      expect(lanesMm).toEqual([]);
    }
  });

  it("is a cut of the rim's two edges: what the centre comes to, and half a chord on either side", () => {
    const plate = stock(shop, flat, 2);
    // a pass that stops at x 100 mm: over its lane the front edge comes to 120 mm, the rear edge to 80 mm
    removeAll([pass(-0.3, 75, { to: { xMm: 100, yMm: 75, zMm: -0.3 } })], plate, shop, level);
    const row = plate.across.findIndex((y) => Math.abs(y - 75) < 1.1);
    const at = (x: number) =>
      plate.heightMm[row * plate.along.length + plate.along.findIndex((s) => Math.abs(s - x) < 1.1)]!;
    expect([at(51), at(99), at(118)]).toEqual([-0.3, -0.3, -0.3]);
    expect(at(123)).toBe(0);
    const swept = (x: number) =>
      plate.isSwept[row * plate.along.length + plate.along.findIndex((s) => Math.abs(s - x) < 1.1)]!;
    expect([swept(99), swept(118)]).toEqual([0, 0]);
    const final = stock(shop, flat, 2);
    removeAll([pass(-0.3, 75), pass(-0.5, 75, { to: { xMm: 100, yMm: 75, zMm: -0.5 } })], final, shop, level);
    const sweptThere = (x: number) =>
      final.isSwept[row * final.along.length + final.along.findIndex((s) => Math.abs(s - x) < 1.1)]!;
    expect([sweptThere(51), sweptThere(77), sweptThere(83), sweptThere(118)]).toEqual([1, 1, 0, 0]);
    // beside the lane by more than a radius nothing is cut
    const beside = plate.across.findIndex((y) => y > 96);
    expect(plate.heightMm[beside * plate.along.length + 10]).toBe(0);
  });

  it("leaves what the lower of the two edges of a leaning rim leaves", () => {
    const plate = stock(shop, flat, 2);
    removeAll([pass(-0.3, 75)], plate, shop, { x: 1e-4, y: 3e-4 });
    const middle = Math.floor(plate.along.length / 2);
    for (const [j, y] of plate.across.entries()) {
      const dt = y - 75;
      if (Math.abs(dt) > 20) continue;
      // rises along y by 3e-4; the edge behind hangs by half a chord × 1e-4
      const expected = -0.3 + 3e-4 * dt - 1e-4 * Math.sqrt(400 - dt * dt);
      expect(plate.heightMm[j * plate.along.length + middle]!).toBeCloseTo(expected, 9);
    }
    expect(dropOf(shop, { x: 3e-4, y: 4e-4 })).toBeCloseTo(20 * 5e-4, 12);
  });

  it("is scraped off by the lowest of a leaning rim, though its middle passes above", () => {
    const above = (z: number) => removeAll([pass(z, 75)], stock(shop, flat, 2), shop, { x: 0, y: 3e-4 }).volumeMm3;
    // the rim hangs down by 6 µm
    expect(above(0.004)).toBeGreaterThan(0);
    expect(above(0.007)).toBe(0);
  });

  it("takes feeds that go straight on as one pass, others by themselves", () => {
    const half = (from: number, to: number, y = 75): KnownMove =>
      pass(-0.5, y, { from: { xMm: from, yMm: y, zMm: -0.5 }, to: { xMm: to, yMm: y, zMm: -0.5 } });
    const at = (moves: readonly KnownMove[]) => removeAll(moves, stock(), { ...shop, mayClimb: true }, level).lanesMm;
    expect(at([half(27, 100), half(100, 193)])).toEqual([75]);
    // to and fro is no one pass, nor with something between
    expect(at([half(27, 100), half(100, 40), half(40, 193)])).toEqual([]);
    expect(at([half(27, 100), { ...half(100, 100), kind: "rapid" }, half(100, 193)])).toEqual([]);
    // the rim runs clear by a radius at both ends
    expect(at([half(30, 190)])).toEqual([75]);
    expect(at([half(30.01, 190)])).toEqual([]);
    expect(at([half(30, 189.99)])).toEqual([]);
    // above the plate nothing is cut
    expect(removeAll([pass(0.1, 75)], stock(), shop, level)).toEqual({ refusals: [], volumeMm3: 0, lanesMm: [] });
  });

  it("refuses a bite beyond what its round takes, by two thousandths", () => {
    const bites = (moves: readonly KnownMove[]) =>
      removeAll(moves, stock(), shop, level).refusals.filter(({ code }) => code === "bite");
    expect(bites([pass(-0.3, 57)])).toEqual([]);
    expect(bites([pass(-0.5, 57)])).toEqual([
      {
        line: 7,
        code: "bite",
        sentence: "takes 0.500 mm at once where 0.200 mm were planned: an earlier pass is missing",
      },
    ]);
    // as much as the plate stands above Z0 may come on top of the first round
    const high = stock(
      shop,
      aTop(job, () => 50),
    );
    expect(removeAll([pass(-0.3, 57)], high, shop, level).refusals.filter(({ code }) => code === "bite")).toEqual([]);
    const low = stock(
      shop,
      aTop(job, () => -50),
    );
    expect(removeAll([pass(-0.3, 57)], low, shop, level).refusals).toEqual([]);
  });

  it("refuses a cut on the climbing side, by the way it goes, and asks nothing of a job that climbs", () => {
    const back = pass(-0.3, 57, { from: { xMm: 193, yMm: 57, zMm: -0.3 }, to: { xMm: 27, yMm: 57, zMm: -0.3 } });
    const climbs = (moves: readonly KnownMove[], of = shop) =>
      removeAll(moves, stock(shop, flat, 1), of, level).refusals.map(({ code, sentence }) => [code, sentence]);
    // the first lane: metal from y 40 to 77 mm, 17 mm of it on the front side, 20 mm behind
    expect(climbs([pass(-0.3, 57), pass(-0.3, 69)])).toEqual([]);
    expect(climbs([pass(-0.3, 57), { ...back, from: { ...back.from, yMm: 69 }, to: { ...back.to, yMm: 69 } }])).toEqual(
      [
        [
          "climb",
          "100 % of the cut lies on the right of the way, where the teeth climb, and the job cuts conventionally",
        ],
      ],
    );
    expect(
      climbs([pass(-0.3, 57), { ...back, from: { ...back.from, yMm: 69 }, to: { ...back.to, yMm: 69 } }], {
        ...shop,
        mayClimb: true,
      }),
    ).toEqual([]);
    // along y the left of a feed to +Y is −X
    const along = shopOf(aJob({ feedAlong: "y" }));
    const way = (x: number, from: number, to: number): KnownMove =>
      pass(-0.3, 0, { from: { xMm: x, yMm: from, zMm: -0.3 }, to: { xMm: x, yMm: to, zMm: -0.3 } });
    const turned = (moves: readonly KnownMove[]) =>
      removeAll(moves, stock(along, flat, 2), along, level).refusals.map(({ code }) => code);
    expect(turned([way(67, 133, 17), way(79, 133, 17)])).toEqual([]);
    expect(turned([way(67, 133, 17), way(79, 17, 133)])).toEqual(["climb"]);
  });
});

describe("what the rim came over", () => {
  const over = (lanesMm: readonly number[], of = shop) => coverage(stock(of), of, lanesMm);

  it("is strips a diameter wide, joined", () => {
    expect(over([57, 69, 81, 93])).toMatchObject({ covered: 1, uncoveredText: "" });
    // rim 20 mm: y 40 to 110 mm is covered from 37 to 77 and from 73 to 113 mm
    expect(over([93, 57]).covered).toBe(1);
    const one = over([75]);
    expect(one.covered).toBeCloseTo(40 / 70, 12);
    expect(one.uncoveredText).toBe(
      "the rim does not come over y 40.0 mm to 55.0 mm, y 95.0 mm to 110.0 mm at the last depth",
    );
    expect(over([])).toMatchObject({
      covered: 0,
      uncoveredText: "the rim does not come over y 40.0 mm to 110.0 mm at the last depth",
    });
    // gaps of a thousandth are none
    expect(over([60.001, 93]).covered).toBe(1);
    expect(over([60.01, 93]).uncoveredText).toBe("the rim does not come over y 40.0 mm to 40.0 mm at the last depth");
  });

  it("is named along x where the feed goes along y, with its sign, and counted beyond five strips", () => {
    const along = shopOf(aJob({ feedAlong: "y", plate: area(mm(-30), mm(90), mm(40), mm(110)) }));
    expect(over([10, 70], along).uncoveredText).toBe(
      "the rim does not come over x −30.0 mm to −10.0 mm, x 30.0 mm to 50.0 mm at the last depth",
    );
    const narrow = { ...shop, radiusMm: 2 };
    expect(over([45, 55, 65, 75], narrow).uncoveredText.match(/y /g)).toHaveLength(5);
    expect(over([45, 55, 65, 75, 85], narrow).uncoveredText).toBe(
      "the rim does not come over 6 strips at the last depth",
    );
  });

  it("cleans what was probed and lies lower than it was found", () => {
    const inner = { ...flat, places: flat.places.filter(({ xMm }) => xMm < 120) };
    const plate = stock(shop, inner);
    removeAll([pass(-0.3, 57)], plate, shop, level);
    const { probed, cleaned } = coverage(plate, shop, []);
    // probed to x 110 mm: 12 of 24 columns; the rim comes to y 77 mm: rows at 42.5 to 72.5 mm, 7 of 14
    expect([probed, cleaned]).toEqual([0.5, 0.5]);
    expect(coverage({ ...plate, isProbed: new Uint8Array(plate.isProbed.length) }, shop, [])).toMatchObject({
      probed: 0,
      cleaned: 0,
    });
  });
});

describe("the faced top", () => {
  const cut = (lean: typeof level, pitchMm = 2) => {
    const plate = stock(shop, flat, pitchMm);
    removeAll(
      [57, 69, 81, 93].flatMap((y) => [pass(-0.3, y), pass(-0.5, y)]),
      plate,
      shop,
      lean,
    );
    return facedSurface(plate, shop, flat, "plate");
  };

  it("is flat at the last depth where the rim is level, thinned for a picture, the middle first", () => {
    const { surface, textureUm, ridgesUm } = cut(level);
    expect([textureUm, ridgesUm]).toEqual([0, 0]);
    expect(surface).toMatchObject({
      name: "plate, as replayed",
      frame: flat.frame,
      gauge: { name: "replay, no gauge", resolution: um(0.1), maximumPermissibleError: um(0) },
      noise: { standardUncertaintyUm: 0, degreesOfFreedom: Number.POSITIVE_INFINITY, source: "calculated, not probed" },
    });
    // 60 × 35 cells: 25 of the columns, all rows
    expect(surface.places).toHaveLength(25 * 35);
    expect(new Set(surface.places.map(({ xMm }) => xMm)).size).toBe(25);
    expect(surface.places[0]).toMatchObject({ xMm: 111, yMm: 75, zUm: 0, count: 1, label: "x 111, y 75" });
    const xs = surface.places.map(({ xMm }) => xMm);
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([51, 169]);
  });

  it("has its texture over all that was cut, and its ridges away from the side edges", () => {
    // lean across the feed of 1e-4: strips of a step of 12 mm rise by 1.2 µm; outside the last lane up to 20 mm − 3 mm more
    const { surface, textureUm, ridgesUm } = cut({ x: 0, y: 1e-4 }, 1);
    const heights = surface.places.map(({ zUm }) => zUm);
    expect(textureUm).toBeCloseTo(Math.max(...heights) - Math.min(...heights), 1);
    expect(textureUm).toBeGreaterThan(2.5);
    expect(ridgesUm).toBe(0);
    const wide = aJob({
      screws: [],
      obstacles: [],
      plate: area(mm(50), mm(170), mm(30), mm(150)),
      rounds: [{ depth: mm(0.5) }],
    });
    const of = shopOf(wide);
    const plate = stock(
      of,
      aTop(wide, () => 0),
      1,
    );
    removeAll(
      [47, 59, 71, 83, 95, 107, 119, 131, 133].map((y) => pass(-0.5, y)),
      plate,
      of,
      { x: 0, y: 1e-4 },
    );
    // 40 mm from both edges: the step of 12 mm, less a cell
    expect(facedSurface(plate, of, flat, "plate").ridgesUm).toBeCloseTo(1.1, 1);
  });
});

describe("a replay", () => {
  const text = program(job).text;

  it("tells the first refusal, and how many more", () => {
    const one = replay(text.replace("S800.0 M3", "S400.0 M3"), job, flat, { pitch });
    const line = text.split("\n").indexOf("S800.0 M3") + 1;
    expect(String(one)).toBe(`small club plate (invented): refused, line ${line}: S 400 1/min; planned are 800 1/min`);
    expect([one.passes, one.cut]).toEqual([false, undefined]);
    const all = replay(text.replaceAll("S800.0 M3", "S400.0 M3"), job, flat, { pitch });
    expect(String(all)).toBe(
      `small club plate (invented): refused, line ${line}: S 400 1/min; planned are 800 1/min, and 2 more`,
    );
    expect(all.refusals.map((r) => r.line)).toEqual(all.refusals.map((r) => r.line).toSorted((a, b) => a - b));
  });

  it("finds each caution missing from the head, whatever case and breaks it has", () => {
    expect(replay(text.replaceAll("(", "( ").replaceAll("SPINDLE", "Spindle"), job, flat, { pitch }).refusals).toEqual(
      [],
    );
    const bare = text.split("\n").filter((line) => !line.startsWith("(") || line.startsWith("(ROUND"));
    expect(replay(bare.join("\n"), job, flat, { pitch }).refusals).toEqual([
      {
        line: 1,
        code: "cautions",
        sentence: `${cutCautions.length} of ${cutCautions.length} cautions do not stand at the head of the text`,
      },
    ]);
  });

  it("says what is not covered with the last line that moves", () => {
    const lane = /G0 X-23\.0 Y53\.0\nG1 Z-0\.5 F100\.0\nG1 X143\.0 Y53\.0 F128\.0\nG0 Z5\.0\n/g;
    const short = text.replaceAll(lane, "");
    const got = replay(short, job, flat, { pitch });
    expect(got.refusals).toEqual([
      {
        line: short.split("\n").lastIndexOf("G0 Z60.0") + 1,
        code: "coverage",
        sentence: "the rim does not come over y 107.0 mm to 110.0 mm at the last depth",
      },
    ]);
    expect(got.passes).toBe(false);
    expect(got.cut!.sentence).toBe(
      "the rim comes over 95.7 % of the plate and cleans all of what was probed (all of the plate); texture 0.0 µm from the tilt given",
    );
  });

  it("reads touch-off and lean as they are given", () => {
    const low = replay(text, job, flat, { pitch, touchOff: um(100) });
    // the plate lies 0.1 mm lower than its touch-off
    expect(low.cut!.volume.in("mm3")).toBeCloseTo(120 * 70 * 0.4, 3);
    expect(replay(text, job, flat, { pitch }).cut!.volume.in("mm3")).toBeCloseTo(120 * 70 * 0.5, 3);
    const leaning = (x: number, y: number) =>
      replay(text, job, flat, { pitch: mm(1), tilt: { x: umPerM(x), y: umPerM(y) } }).cut!.texture.in("um");
    expect(leaning(0, 100)).toBeGreaterThan(1);
    expect(leaning(100, 0)).toBeLessThan(leaning(0, 100));
    expect(leaning(100, 0)).toBeGreaterThan(0.02);
    expect(replay(text, job, flat, { pitch, tilt: { x: umPerM(0), y: umPerM(100) } }).cut!.sentence).toMatch(
      /; texture \d\.\d µm from the tilt given$/,
    );
  });

  it("takes cells of 1 mm where none are given, of 0.18 to 22.9 mm on this plate", () => {
    expect(replay(text, job, flat).cut!.pitch.in("mm")).toBe(1);
    expect(replay(text, job, flat, { pitch: mm(22.9) }).cut!.pitch.in("mm")).toBe(22.9);
    for (const wrong of [0.18, 22.95, 0, -1]) {
      expect(refusal(() => replay(text, job, flat, { pitch: mm(wrong) })).message).toBe(
        `facing.replay: cells of ${mm(wrong).text("mm")} on a plate of 8400 mm² are too fine or too coarse; give 0.18 mm to 22.9 mm`,
      );
    }
  });

  it("tells the parts above the cutter that it looked at", () => {
    const holder = ["arbor", "spindle nose"].map((name, i) => ({
      name,
      diameter: mm(30 + 30 * i),
      above: mm(30 + 20 * i),
    }));
    const held: FacingJob = { ...job, cutter: { ...job.cutter, holder } };
    expect(replay(text, held, flat, { pitch }).holder).toBe("arbor, spindle nose above the cutter looked at too");
    expect(replay(text, job, flat, { pitch }).holder).toBe(
      "the holder is not given, and nothing above the cutter was looked at",
    );
    for (const wrong of [
      { diameter: mm(0), above: mm(5) },
      { diameter: mm(5), above: mm(0) },
    ]) {
      const bad = { ...job, cutter: { ...job.cutter, holder: [{ name: "arbor", ...wrong }] } };
      expect(refusal(() => replay(text, bad, flat, { pitch })).code).toBe("holder");
    }
  });

  it("reads its shop from the job", () => {
    const obstacle = { name: "stop", area: area(mm(1), mm(2), mm(3), mm(4)), top: mm(5) };
    const got = shopOf(
      aJob({
        rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }, { depth: mm(0.5) }],
        milling: "climb",
        workOffset: "G58",
        obstacles: [obstacle],
      }),
    );
    expect(got.levelsMm).toEqual([-0.3, -0.5]);
    expect(got).toMatchObject({
      offset: 58,
      mayClimb: true,
      feedDownMmPerMin: 100,
      spinUpS: 4,
      floorMm: -0.6,
      digitMm: 0.001,
    });
    expect(got.feedMmPerMin).toBeCloseTo(128, 9);
    expect(got.obstacles).toEqual([{ name: "stop", at: { x: [1, 2], y: [3, 4] }, top: 5 }]);
    expect(got.screws[0]).toEqual({ label: "S1", x: 65, y: 75, radius: 5, top: -1.6 });
    expect(shop.mayClimb).toBe(false);
  });
});
