import { describe, expect, it } from "vitest";
import { Bedding } from "../../kernel-lib/src/facing/bedding.js";
import { bedUnder, needProbed, type Underside } from "../../kernel-lib/src/facing/bedding-case.js";
import { type BeddingNet, beddingNet, bedOf, heightsOf, stiffnessOf } from "../../kernel-lib/src/facing/bedding-net.js";
import { type BeddingRuns, runBedding } from "../../kernel-lib/src/facing/bedding-runs.js";
import { cutCautions } from "../../kernel-lib/src/facing/cautions.js";
import { standardDeviationOf } from "../../kernel-lib/src/facing/draws.js";
import { area } from "../../kernel-lib/src/facing/index.js";
import { nodeAreasMm2, nodePlaceMm, type PlateNet } from "../../kernel-lib/src/facing/plate-stiffness.js";
import { leastSquaresPlane } from "../../kernel-lib/src/numerics/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";
import { aHoldDown, aPlate, platePlan } from "./a-plate.js";

const sum = (values: Iterable<number>) => [...values].reduce((a, b) => a + b, 0);
const range = (values: Iterable<number>) => Math.max(...values) - Math.min(...values);

describe("the net of a plate", () => {
  const plate = aPlate();
  const map = aMap((x, y) => x / 10 + y / 5);
  const net = beddingNet(plate, map);

  it("divides the longer side by 24 and the other as finely, by six at the least", () => {
    expect([net.net.columns, net.net.rows]).toEqual([25, 12]);
    expect(net.net).toMatchObject({ lengthMm: 400, widthMm: 180, thicknessMm: 25, modulusMPa: 69_000, poisson: 0.33 });
    const slim = aPlate({
      ...platePlan(),
      area: area(mm(60), mm(460), mm(100), mm(140)),
      screws: [{ x: mm(260), y: mm(120) }],
    });
    expect(beddingNet(slim, map).net).toMatchObject({ columns: 25, rows: 7 });
    const high = aPlate({
      ...platePlan(),
      area: area(mm(240), mm(280), mm(30), mm(210)),
      screws: [{ x: mm(260), y: mm(120) }],
    });
    expect(beddingNet(high, map).net).toMatchObject({ columns: 7, rows: 25 });
  });

  it("lies where the plate lies, over the heights of the map, with the weight of its metal", () => {
    expect([Math.min(...net.xMm), Math.max(...net.xMm), Math.min(...net.yMm), Math.max(...net.yMm)]).toEqual([
      60, 460, 30, 210,
    ]);
    const bed = bedOf(
      net,
      map.places.map(({ zUm }) => zUm),
    );
    for (const k of [0, 7, 150, 299]) expect(bed[k]!).toBeCloseTo((net.xMm[k]! / 10 + net.yMm[k]! / 5) / 1000, 9);
    // 2.7 g/cm³ under 9.81 m/s²
    expect(net.weightPerMm).toBeCloseTo(2.7e-6 * 9.81, 12);
    expect(sum(net.areasMm2)).toBeCloseTo(400 * 180, 6);
  });

  it("does not bear over the slots, whichever way they run", () => {
    // three slots of 12 mm all along
    expect(sum(net.bearingMm2)).toBeCloseTo(400 * (180 - 36), 6);
    expect(Math.min(...net.bearingMm2)).toBeGreaterThanOrEqual(0);
    const across = [100, 260, 400].map((x) => ({ along: "y" as const, at: mm(x), width: mm(14) }));
    const turned = beddingNet(aPlate({ ...platePlan(), slots: across, screws: [{ x: mm(260), y: mm(120) }] }), map);
    expect(sum(turned.bearingMm2)).toBeCloseTo(180 * (400 - 42), 6);
    // a slot wider than the strip of a node leaves nothing of it
    const wide = [{ along: "x" as const, at: mm(120), width: mm(60) }];
    const open = beddingNet(aPlate({ ...platePlan(), slots: wide, screws: [{ x: mm(260), y: mm(120) }] }), map);
    expect(Math.min(...open.bearingMm2)).toBeCloseTo(0, 9);
    expect(sum(open.bearingMm2)).toBeCloseTo(400 * 120, 6);
  });

  it("takes each screw as one, about its place, over a disc that widens by 30° through the web", () => {
    const thick = aPlate({ ...platePlan(), thickness: mm(60), screws: [{ x: mm(240), y: mm(120) }] });
    const { screws, xMm, yMm } = beddingNet(thick, map);
    const load = screws[0]!;
    expect(screws).toHaveLength(1);
    expect(sum(load)).toBeCloseTo(1, 12);
    expect(sum(load.map((f, k) => f * xMm[k]!))).toBeCloseTo(240, 9);
    expect(sum(load.map((f, k) => f * yMm[k]!))).toBeCloseTo(120, 9);
    // head of 16 mm, web of 47 mm: radius 35.1 mm; a twelfth of it on each of four rings at 0.2, 0.5, 0.75 and 0.93 of it;
    // sharing out between nodes widens by up to a quarter of their step each way
    const radius = 8 + 47 / Math.sqrt(3);
    const rings = (radius ** 2 * (0.2 ** 2 + 0.5 ** 2 + 0.75 ** 2 + 0.93 ** 2)) / 4;
    const spread = sum(load.map((f, k) => f * ((xMm[k]! - 240) ** 2 + (yMm[k]! - 120) ** 2)));
    expect(spread).toBeGreaterThan(rings);
    expect(spread).toBeLessThan(rings + (2 * (400 / 24) ** 2) / 4);
    // at the corner of the plate what would lie outside comes on the edge
    const corner = beddingNet(aPlate({ ...platePlan(), thickness: mm(60), screws: [{ x: mm(448), y: mm(180) }] }), map);
    expect(sum(corner.screws[0]!)).toBeCloseTo(1, 12);
    expect(Math.min(...corner.screws[0]!)).toBeGreaterThanOrEqual(0);
  });
});

/** 120 mm × 60 mm of plate on 7 × 7 nodes, pressed down all over by one screw */
function smallNet(thicknessMm: number, screw?: Float64Array): BeddingNet {
  const net: PlateNet = {
    columns: 7,
    rows: 7,
    lengthMm: 120,
    widthMm: 60,
    thicknessMm,
    modulusMPa: 69_000,
    poisson: 0.33,
  };
  const areasMm2 = nodeAreasMm2(net);
  const places = Array.from(areasMm2, (_, k) => nodePlaceMm(net, k));
  return {
    net,
    areasMm2,
    bearingMm2: areasMm2,
    xMm: places.map(([x]) => 40 + x),
    yMm: places.map(([, y]) => 70 + y),
    under: [],
    screws: [screw ?? areasMm2.map((a) => a / 7200)],
    weightPerMm: 2.65e-5,
  };
}

/** hollow along x, deepest in the middle, `deep` mm; a little bow along y as well */
const hollow = ({ xMm, yMm }: BeddingNet, deep: number) =>
  Float64Array.from(xMm, (x, k) => deep * (((x - 100) / 60) ** 2 + 0.2 * ((yMm[k]! - 100) / 30) ** 2));
const offPlane = ({ xMm, yMm }: BeddingNet, heights: Float64Array) => {
  const { highest, lowest } = leastSquaresPlane(xMm, yMm, heights);
  return (highest - lowest) * 1000;
};

const oneScrew = aHoldDown({ plate: aPlate({ ...platePlan(), screws: [{ x: mm(260), y: mm(120) }] }) });

describe("a plate at rest", () => {
  it("bends as one of another stiffness under the same load would", () => {
    const screw = new Float64Array(49);
    screw[24] = 1;
    const soft = smallNet(10, screw);
    const hard = { ...soft, net: { ...soft.net, modulusMPa: 1.7 * 69_000 } };
    const bedMm = hollow(soft, 0.05);
    const case_ = { bedMm, preloadsN: [900] };
    const one = heightsOf(soft, stiffnessOf(soft), { ...case_, stiffer: 1.7 });
    const other = heightsOf(hard, stiffnessOf(hard), case_);
    for (const [k, h] of one.entries()) expect(h).toBeCloseTo(other[k]!, 4);
    const plain = heightsOf(soft, stiffnessOf(soft), case_);
    expect(Math.abs(plain[24]! - one[24]!)).toBeGreaterThan(1e-3);
  });

  it("is pressed by its weight and its screws alone", () => {
    const net = smallNet(10);
    const flat = new Float64Array(49);
    const heights = heightsOf(net, stiffnessOf(net), { bedMm: flat, preloadsN: [7200] });
    // 1 N/mm² of preload and the weight sink the plate by 10 nm into the bed for each N/mm²
    for (const h of heights) expect(h).toBeCloseTo(-(1 + 2.65e-4) / 1e5, 8);
    const own = heightsOf(net, stiffnessOf(net), { bedMm: flat, preloadsN: [0], start: flat });
    for (const h of own) expect(Math.abs(h + 2.65e-4 / 1e5)).toBeLessThan(1e-9);
  });
});

describe("all that is computed of a plate on its bed", () => {
  const net = smallNet(3);
  const deep = 0.03;
  const likelyMm = hollow(net, deep);
  const scales = Array.from({ length: 39 }, (_, k) => 0.81 + 0.01 * ((k * 7) % 39));
  const run = (wide: number, over = net, holdDown = oneScrew) =>
    runBedding({
      net: over,
      stiffness: stiffnessOf(over),
      bed: {
        likelyMm,
        draw: (k) => ({
          likelyMm: likelyMm.map((g) => g * scales[k]!),
          wideMm: likelyMm.map((g) => g * scales[k]! * wide),
        }),
      },
      holdDown,
      seed: 4,
      draws: 39,
    });
  const got = run(1);
  const pv = offPlane(net, likelyMm);

  it("follows a hollow under an even pressure: springs back by the form of the bed, the other way round", () => {
    expect(got.closed).toBeGreaterThan(0.99);
    expect(got.xMm).toBe(net.xMm);
    expect(got.yMm).toBe(net.yMm);
    expect(Math.max(...got.tightGapMm)).toBeLessThan(1e-4);
    expect(Math.max(...got.looseGapMm)).toBeGreaterThan(0.02);
    expect(Math.min(...got.looseGapMm, ...got.tightGapMm)).toBe(0);
    const { slopeX, slopeY, offset } = leastSquaresPlane(net.xMm, net.yMm, likelyMm);
    for (const k of [0, 3, 24, 27, 48]) {
      const off = likelyMm[k]! - offset - slopeX * net.xMm[k]! - slopeY * net.yMm[k]!;
      expect(got.releasedMm[k]!).toBeCloseTo(-off, 4);
    }
  });

  it("has the middle of its draws, the least and the greatest of 39 as ends of 95 %", () => {
    // scales of 0.81 to 1.19, each once; the figure of a draw scales with its bed
    const { middle, low, high } = got.springBack;
    expect(middle.in("um") / pv).toBeCloseTo(1, 2);
    expect(low.in("um") / pv).toBeCloseTo(0.81, 2);
    expect(high.in("um") / pv).toBeCloseTo(1.19, 2);
    expect(got.offAndOn.high.in("um")).toBeLessThan(0.2);
    expect(got.offAndOn.low.in("um")).toBeGreaterThan(0);
    expect(got.offAndOn.high.si).toBeGreaterThan(got.offAndOn.low.si);
  });

  it("takes what the readings hold already off a draw, and never below nothing", () => {
    expect(run(1.4).springBack.middle.in("um") / pv).toBeCloseTo(2 - 1.4, 2);
    expect(run(2.5).springBack.middle.in("um")).toBe(0);
  });

  it("leaves to map and underside what modulus, thickness and preload do not explain", () => {
    expect(got.causes.map(({ cause }) => cause)).toEqual([
      "modulus, between its limits",
      "thickness, between its limits",
      "preload of all screws, low to high",
      "map of the table and underside (one standard deviation, what is left)",
    ]);
    for (const { change } of got.causes.slice(0, 3)) expect(Math.abs(change.in("um"))).toBeLessThan(0.3);
    expect(got.causes[3]!.change.in("um") / (pv * standardDeviationOf(scales))).toBeCloseTo(1, 1);
  });

  it("moves a stiff plate by half of the change between the limits of each cause", () => {
    const screw = new Float64Array(49);
    screw[24] = 1;
    const stiff = smallNet(36, screw);
    const springs = (preload: number, stiffer: number) =>
      offPlane(stiff, heightsOf(stiff, stiffnessOf(stiff), { bedMm: likelyMm, preloadsN: [preload], stiffer }));
    const { force, low, high } = oneScrew.preload;
    const middle = force.value.in("N");
    const half = (a: number, b: number) => Math.abs(a - b) / 2;
    const [modulus, thickness, preload] = run(1, stiff).causes.map(({ change }) => change.in("um"));
    // 3 % of the modulus, 0.2 of 25 mm of the thickness
    expect(modulus!).toBeCloseTo(half(springs(middle, 1.03), springs(middle, 0.97)), 3);
    expect(modulus!).toBeGreaterThan(0.05);
    expect(thickness!).toBeCloseTo(half(springs(middle, 1.008 ** 3), springs(middle, 0.992 ** 3)), 3);
    expect(preload!).toBeCloseTo(half(springs(low.in("N"), 1), springs(high.in("N"), 1)), 3);
    expect(preload!).toBeGreaterThan(modulus!);
    // a plate that may be a fifth thicker or thinner is drawn both ways: its middle stays where it was
    const screws = [{ x: mm(260), y: mm(120) }];
    const doubtful = aHoldDown({ plate: aPlate({ ...platePlan(), thicknessWithin: mm(5), screws }) });
    const drawn = run(1, stiff, doubtful).springBack.middle.in("um");
    expect(drawn / springs(middle, 1)).toBeGreaterThan(0.8);
    expect(drawn / springs(middle, 1)).toBeLessThan(1.25);
  });

  it("tells the gap at a screw loose, closed by it alone and tight, and a shim in whole tenths above 20 µm", () => {
    const [only] = got.screws;
    const mean = sum(got.looseGapMm.map((g, k) => g * net.screws[0]![k]!)) * 1000;
    expect(only!.loose.in("um")).toBeCloseTo(mean, 6);
    expect(only!.closesAlone.in("um") / mean).toBeCloseTo(1, 2);
    expect(only!.tight.in("um")).toBeLessThan(0.1);
    expect(only!.screw).toBe(oneScrew.plate.screws[0]);
    expect(only!.shim!.in("um")).toBe(20);
    const screw = new Float64Array(49);
    screw[24] = 1;
    const middle = run(1, smallNet(3, screw)).screws[0]!;
    expect(middle.loose.in("um")).toBeGreaterThan(20);
    expect(middle.shim!.in("um")).toBe(Math.floor(middle.loose.in("um") / 10) * 10);
  });

  it("calls all of it closed where there was no gap", () => {
    const flat = runBedding({
      net,
      stiffness: stiffnessOf(net),
      bed: {
        likelyMm: new Float64Array(49),
        draw: () => ({ likelyMm: new Float64Array(49), wideMm: new Float64Array(49) }),
      },
      holdDown: oneScrew,
      seed: 1,
      draws: 20,
    });
    expect(flat.closed).toBeGreaterThan(0.99);
    expect(flat.springBack.high.in("um")).toBeLessThan(0.01);
    expect(flat.screws[0]!.shim).toBeUndefined();
  });
});

describe("a bedding", () => {
  const spread = (middle: number, low: number, high: number) => ({ middle: um(middle), low: um(low), high: um(high) });
  const runs = (more: Partial<BeddingRuns> = {}): BeddingRuns => ({
    xMm: [60, 260, 460],
    yMm: [30, 120, 210],
    looseGapMm: [0, 0.0186, 0.004],
    tightGapMm: [0, 0.0044, 0.001],
    releasedMm: [-0.001, 0.002, -0.001],
    closed: 0.7,
    springBack: spread(12.4, 8.6, 17.2),
    offAndOn: spread(0.4, 0.1, 0.94),
    screws: [],
    causes: [],
    ...more,
  });
  const map = aMap(() => 0);
  const down = aHoldDown();
  const of = (more: Partial<BeddingRuns>, of = map) => new Bedding(of, down, runs(more));

  it("follows from nine tenths of the gap closed, bridges up to a half, and lies flat below 2 µm", () => {
    const says = (closed: number, gap = 0.0186) => of({ closed, looseGapMm: [0, gap] }).says;
    expect([1, 0.9, 0.8999, 0.5001, 0.5, 0].map((closed) => says(closed))).toEqual([
      "follows",
      "follows",
      "follows in part",
      "follows in part",
      "bridges",
      "bridges",
    ]);
    expect([says(0.3, 0.00199), says(0.3, 0.002)]).toEqual(["lies flat", "bridges"]);
  });

  it("is told in one sentence", () => {
    expect(String(of({}))).toBe(
      "fixture plate follows in part the table: gaps up to 19 µm as it lies, 4 µm when tight; released it springs back by 12 µm (interval of the draws 9 µm to 17 µm); off and on again moves the top by up to 0.9 µm from the torque alone (95 %)",
    );
    expect(String(of({ looseGapMm: [0.00123, 0], closed: 1 }))).toBe(
      "fixture plate lies flat on the table (gaps up to 1.2 µm); released it springs back by 12 µm (interval of the draws 9 µm to 17 µm); off and on again moves the top by up to 0.9 µm from the torque alone (95 %)",
    );
    const got = of({});
    expect(got.cautions).toBe(cutCautions);
    expect(() => Object.assign(got, { says: "follows" })).toThrow(TypeError);
    expect([got.plate, got.looseGap.in("um"), got.tightGap.in("um")]).toEqual([
      down.plate,
      expect.closeTo(18.6, 9),
      expect.closeTo(4.4, 9),
    ]);
  });

  it("gives gaps loose and tight, the top released, and the gap under a spot", () => {
    const got = of({});
    const told = (list: ReturnType<typeof got.gaps>) =>
      list.map(({ xMm, yMm, value }) => [xMm, yMm, Number(value.in("um").toFixed(6))]);
    expect(told(got.gaps("loose"))).toEqual([
      [60, 30, 0],
      [260, 120, 18.6],
      [460, 210, 4],
    ]);
    expect(told(got.gaps("tight")).map(([, , v]) => v)).toEqual([0, 4.4, 1]);
    expect(told(got.released()).map(([, , v]) => v)).toEqual([-1, 2, -1]);
    expect(got.gapAt(mm(250), mm(100), "loose").in("um")).toBeCloseTo(18.6, 9);
    expect(got.gapAt(mm(450), mm(200), "tight").in("um")).toBeCloseTo(1, 9);
    expect(got.gapAt(mm(60), mm(125), "tight").in("um")).toBeCloseTo(0, 9);
  });

  it("keeps its notes, and says what the table is taken as", () => {
    const rest = [
      "read an indicator beside each screw while it is tightened; where it moves by more than 20 µm, shim under the gap rather than pull",
      "the interval of the draws is made for 95 %: of 40 invented tables and undersides of other laws it held the planted spring-back in 39",
      "off and on again is a third survey: dirt, burrs and a shifted plate are not in the figure",
      "take stress-relieved stock, or skim both sides first: stress that the cut sets free is not in the figures",
      "thin plate before the cut; holes and counterbores are not in it; form of the table finer than the pitch is not seen",
    ];
    expect(of({}).notes).toEqual([
      "the table is taken as the travel sees it: what the travel itself is out of straight counts as table here; prove a gap with feelers",
      ...rest,
    ]);
    const levelled = { ...map, frame: { ...map.frame, relativeTo: "gravity" as const } };
    expect(of({}, levelled).notes).toEqual(["the table is taken as surveyed relative to gravity", ...rest]);
  });
});

describe("what lies under the plate", () => {
  const wide = area(mm(60), mm(460), mm(20), mm(220));
  const plate = aPlate({ ...platePlan(), area: wide, screws: [{ x: mm(260), y: mm(120) }] });
  const map = aMap((x) => 30 * ((x - 260) / 240) ** 2);
  const net = beddingNet(plate, map);

  it("may stand 15 mm beyond the places of the map on each side", () => {
    // places x 20 to 500 mm, y 20 to 220 mm
    const at = (xFrom: number, xTo: number, yFrom: number, yTo: number) => () =>
      needProbed(
        aPlate({
          ...platePlan(),
          area: area(mm(xFrom), mm(xTo), mm(yFrom), mm(yTo)),
          screws: [{ x: mm(260), y: mm(120) }],
        }),
        map,
      );
    expect(at(5.001, 514.999, 5.001, 234.999)).not.toThrow();
    for (const out of [at(4.9, 500, 20, 220), at(20, 515.1, 20, 220), at(20, 500, 4.9, 220), at(20, 500, 20, 235.1)]) {
      expect(refusal(out).code).toBe("not-probed");
    }
    expect(refusal(at(20, 500, 20, 250)).message).toBe(
      "facing.bedding: the plate lies at x 20 mm to 500 mm, y 20 mm to 250 mm, up to 30 mm beyond the places of a map (x 20 mm to 500 mm, y 20 mm to 220 mm); probe the table there or move the plate",
    );
  });

  it("is the table alone where the underside is known by a limit, and any bow and twist up to it in the draws", () => {
    const bed = bedUnder(map, net, { flatWithin: um(8) }, 3);
    const table = bedOf(
      net,
      map.places.map(({ zUm }) => zUm),
    );
    for (const [k, z] of bed.likelyMm.entries()) expect(z).toBeCloseTo(table[k]!, 9);
    const node = (i: number, j: number) => (i + 1) * 12 * net.net.rows + (j + 1) * 6;
    expect([net.xMm[node(1, 1)], net.yMm[node(1, 1)], net.xMm[node(0, 0)], net.yMm[node(0, 0)]]).toEqual([
      460, 220, 260, 120,
    ]);
    const forms = Array.from({ length: 60 }, (_, k) => bed.draw(k).wideMm.map((z, i) => 1000 * (z - table[i]!)));
    const sizes = forms.map(range);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(8 + 1e-9);
    expect(Math.max(...sizes)).toBeGreaterThan(7.2);
    expect(Math.min(...sizes)).toBeLessThan(1.2);
    const terms = forms.map((f) => {
      const at = (i: number, j: number) => f[node(i, j)]! - f[node(0, 0)]!;
      // a bow is even, a twist odd, and nothing is tilted
      expect(at(1, 0)).toBeCloseTo(at(-1, 0), 9);
      expect(at(0, 1)).toBeCloseTo(at(0, -1), 9);
      expect(at(1, 1)).toBeCloseTo(at(-1, -1), 9);
      const twist = (at(1, 1) - at(-1, 1)) / 2;
      expect(at(1, 1)).toBeCloseTo(at(1, 0) + at(0, 1) + twist, 9);
      return [at(1, 0), at(0, 1), twist];
    });
    for (const one of [0, 1, 2]) {
      const share = terms.filter((t) => t[one]! > 0).length / terms.length;
      expect(share).toBeGreaterThan(0.3);
      expect(share).toBeLessThan(0.7);
    }
    expect(bed.draw(5).likelyMm).toEqual(bed.draw(5).wideMm);
    expect(bed.draw(6).wideMm).not.toEqual(bed.draw(5).wideMm);
  });

  it("is table and underside together where both are mapped", () => {
    const under = aMap((x, y) => x / 100 - y / 40);
    const bed = bedUnder(map, net, { map: under }, 3);
    const expected = net.xMm.map((x, k) => x / 100 - net.yMm[k]! / 40);
    const table = bedOf(
      net,
      map.places.map(({ zUm }) => zUm),
    );
    for (const heights of [bed.likelyMm, bed.draw(2).wideMm, bed.draw(2).likelyMm]) {
      for (const [k, z] of heights.entries()) expect(1000 * (z - table[k]!)).toBeCloseTo(expected[k]!, 6);
    }
  });

  it("is drawn with the doubt of table and underside, each by its own draws", () => {
    const noisy = aMap(() => 0, { noiseUm: 1 });
    const both = bedUnder(noisy, net, { map: noisy }, 3);
    const one = bedUnder(noisy, net, { flatWithin: um(1e-6) }, 3);
    const at = (bed: typeof both, k: number) => bed.draw(k).wideMm[150]! * 1000;
    const spread = (bed: typeof both) => standardDeviationOf(Array.from({ length: 80 }, (_, k) => at(bed, k)));
    expect(spread(both) / spread(one)).toBeGreaterThan(1.15);
    expect(spread(both) / spread(one)).toBeLessThan(1.75);
  });

  it.each<[string, Underside, string, string]>([
    [
      "a limit of nothing",
      { flatWithin: um(-1) },
      "not-positive",
      "an underside flat within −1 µm is not known so well; give what a rock test with feelers or a surface plate says",
    ],
    ...(["front", "plusX", "plusY"] as const).map((name): [string, Underside, string, string] => {
      const frame = { ...map.frame, [name]: { front: "y+", plusX: "left", plusY: "front" }[name] };
      const words = `FRONT ${frame.front.replace("-", "−")}, +X ${frame.plusX}, +Y ${frame.plusY}`;
      return [
        `another ${name}`,
        { map: { ...map, name: "underside", frame } as never },
        "different-frames",
        `a map is relative to travel, FRONT y−, +X right, +Y back and underside is relative to travel, ${words}; heights of two frames are not added: survey both against the same, or give flatWithin for the underside`,
      ];
    }),
  ])("refuses %s", (_name, underside, code, message) => {
    expect(refusal(() => bedUnder(map, net, underside, 1))).toEqual({ code, message: `facing.bedding: ${message}` });
  });
});
