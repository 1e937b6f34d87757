import { describe, expect, it } from "vitest";
import { FoilStacks } from "../../kernel-lib/src/form/foil-stacks.js";
import {
  shims,
  slopeUnder,
  spindleTram,
  squareness,
  straightedgeReversal,
  travelAndTable,
} from "../../kernel-lib/src/form/index.js";
import { leastSquares } from "../../kernel-lib/src/numerics/index.js";
import { arcsec, deg, mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { gauge, type Surface } from "../../kernel-lib/src/survey/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { refusal } from "../refusal.js";
import { budgetLines } from "./budget-lines.js";
import { mapOf } from "./planted.js";

const six = (v: number) => Number(v.toPrecision(6));
const dial = gauge({ name: "dial", resolution: um(1), maximumPermissibleError: um(3) });
const slope = (value: number, u: number, label = "tilt") =>
  Measured.from(input.normal({ label, estimate: umPerM(value), standardUncertainty: umPerM(u) }));

describe("the tram of a spindle", () => {
  const readings = (noise: readonly number[], at = [0, 90, 180, 270], scale = 1) =>
    at.map((angle, i) => ({
      angle: deg(angle),
      reading: um(
        scale * (5 + 6 * Math.cos((angle * Math.PI) / 180) + 8 * Math.sin((angle * Math.PI) / 180) + noise[i]!),
      ),
    }));
  const sweep = { name: "head", radius: mm(100), gauge: dial, readings: readings([2, -2, 2, -2]) };

  it("rests on what the circle leaves, on the gauge across it and on the radius", () => {
    const { againstTable, circleUm, residualsUm } = spindleTram({ ...sweep, radiusWithin: mm(3) });
    expect(circleUm).toEqual({ mean: expect.closeTo(5, 9), cosine: expect.closeTo(6, 9), sine: expect.closeTo(8, 9) });
    for (const [i, r] of [2, -2, 2, -2].entries()) expect(residualsUm[i]).toBeCloseTo(r, 9);
    // 16 µm² over one degree of freedom: s = 4 µm; cos and sin weigh the readings by ±1/2
    const noise = (k: number, effect: number) =>
      `sweep of head, reading ${k}: ${effect}, t, 1, A, what the circle leaves`;
    expect(budgetLines(againstTable.x).filter((line) => !/: -?\d\.\d+e-\d+/.test(line))).toEqual([
      noise(1, 20),
      noise(3, -20),
      `dial, error across the sweep along X: ${six((1e6 * 3e-6) / Math.sqrt(3) / 0.2)}, rectangular, Infinity, B, maximum permissible error, ± over the range used`,
      // a radius 1 % larger makes a tilt 1 % smaller
      `radius of the sweep: ${six((-60 * 0.03) / Math.sqrt(3))}, rectangular, Infinity, B, as measured`,
    ]);
    expect(budgetLines(againstTable.y).filter((line) => !/: -?\d\.\d+e-\d+/.test(line))).toEqual([
      noise(2, 20),
      noise(4, -20),
      `dial, error across the sweep along Y: ${six((1e6 * 3e-6) / Math.sqrt(3) / 0.2)}, rectangular, Infinity, B, maximum permissible error, ± over the range used`,
      `radius of the sweep: ${six((-80 * 0.03) / Math.sqrt(3))}, rectangular, Infinity, B, as measured`,
    ]);
    const known = spindleTram({ ...sweep, radiusWithin: mm(0) });
    expect(known.againstTable.x.terms.map(({ input: i }) => i.label)).not.toContain("radius of the sweep");
    const groups = new Set(
      againstTable.x.terms.filter(({ input: i }) => i.evaluation === "A").map((t) => t.input.group),
    );
    expect(groups.size).toBe(1);
  });

  it("has no less scatter than the gauge resolves", () => {
    const still = spindleTram({ ...sweep, readings: readings([0, 0, 0, 0]) });
    const first = budgetLines(still.againstTable.x)[0];
    expect(first).toBe(
      `sweep of head, reading 1: ${six((1 / Math.sqrt(12) / 2) * 10)}, normal, Infinity, A, resolution of the gauge`,
    );
  });

  it("reads a lever by the cosine of its angle, and one that reads the other way the other way", () => {
    const lever = gauge({
      name: "lever",
      resolution: um(1),
      maximumPermissibleError: um(3),
      leverAngle: deg(60),
      sense: "minus",
    });
    const found = spindleTram({ ...sweep, gauge: lever });
    expect([found.lean.x.in("um/m"), found.lean.y.in("um/m")]).toEqual([
      expect.closeTo(-30, 9),
      expect.closeTo(-40, 9),
    ]);
  });

  it("is told with size, direction, both parts and its cautions", () => {
    const told = spindleTram({ ...sweep, gauge: dial, readings: readings([0, 0, 0, 0]) });
    expect(told.isTold).toBe(true);
    expect(`${told}`).toBe(
      `tram: head, against the table under the sweep; for cutting, the slope of the table against travel is still to be taken off: the top of the head leans ${told.size} towards 53° (from +X towards +Y), and the cutter cuts deeper there; along X ${told.lean.x}, along Y ${told.lean.y}; 4 places on a circle of radius 100 mm; isolate the spindle before you reach in, and turn it by hand only`,
    );
    expect(told.size.in("um/m")).toBeCloseTo(100, 9);
    // an angle below zero has the real minus, as every other number
    expect(
      `${spindleTram({ ...sweep, gauge: { ...dial, sense: "minus" }, readings: readings([0, 0, 0, 0]) })}`,
    ).toContain(" towards −127° (from +X towards +Y)");
    // of 60 and 80: 0.6 of the one and 0.8 of the other
    expect(told.size.terms.find(({ input: i }) => i.label.endsWith("along X"))!.sensitivity).toBeCloseTo(0.6 / 0.2, 9);
    expect(told.size.terms.find(({ input: i }) => i.label.endsWith("along Y"))!.sensitivity).toBeCloseTo(0.8 / 0.2, 9);
    expect(told.over(mm(300)).in("um")).toBeCloseTo(30, 9);
    expect(told.over(mm(300)).standardUncertainty.si / told.size.standardUncertainty.si).toBeCloseTo(0.3, 9);
    const cutting = spindleTram({
      ...sweep,
      readings: readings([0, 0, 0, 0]),
      tableSlope: { x: slope(60, 1), y: slope(80, 1) },
    });
    expect(cutting.isTold).toBe(false);
    expect(`${cutting}`).toMatch(
      /^tram: head, against the travel \(sweep less the slope of the table\), as it cuts: no tilt can be told from none; along X /,
    );
    expect(cutting.lean).toBe(cutting.againstTravel);
  });

  it("can be told from none by either part, at 97.5 % each", () => {
    // u of a part: 3 µm/√3 over 0.2 m, and the resolution; told from 2.24 u
    const u = Math.hypot(3 / Math.sqrt(3) / 0.2, (1 / Math.sqrt(12)) * Math.SQRT1_2 * 10);
    const isTold = (x: number, y: number) =>
      spindleTram({
        ...sweep,
        readings: [0, 90, 180, 270].map((angle) => ({
          angle: deg(angle),
          reading: um(0.1 * (x * Math.cos((angle * Math.PI) / 180) + y * Math.sin((angle * Math.PI) / 180))),
        })),
      }).isTold;
    const limit = 2.2414 * u;
    expect([
      isTold(limit * 0.999, 0),
      isTold(limit * 1.001, 0),
      isTold(0, -limit * 0.999),
      isTold(0, -limit * 1.001),
    ]).toEqual([false, true, false, true]);
    const none = spindleTram({
      ...sweep,
      readings: [0, 90, 180, 270].map((angle) => ({ angle: deg(angle), reading: um(7) })),
    });
    expect(none.size.value.si).toBeLessThan(1e-15);
  });

  it("takes four places all round, the same place once, angles of any turn", () => {
    const at = (...angles: number[]) =>
      refusal(() => spindleTram({ ...sweep, readings: angles.map((a) => ({ angle: deg(a), reading: um(1) })) }));
    const few = (n: number) => ({
      code: "too-few-places",
      message: `spindleTram: head was swept at ${n} places of the circle; read four at least, a quarter turn apart`,
    });
    expect(at(0, 120, 240, 360, -120)).toEqual(few(3));
    expect(at(0, 120, 240, 359.98)).toEqual(few(3));
    expect(at(10, 40, 130, 190)).toEqual({
      code: "angles",
      message: "spindleTram: the places of head lie on half of the circle, from 10° to 190°; sweep all round it",
    });
    expect(at(350, 20, 80, 170).message).toContain("lie on half of the circle, from 20° to 350°");
    expect(
      spindleTram({ ...sweep, readings: [10, 40, 130, 191].map((a) => ({ angle: deg(a), reading: um(1) })) })
        .residualsUm,
    ).toHaveLength(4);
    expect(refusal(() => spindleTram({ ...sweep, radius: mm(-5) }))).toEqual({
      code: "radius",
      message: "spindleTram: the radius of the sweep of head is −5 mm; give the distance of the stylus from the axis",
    });
    expect(
      refusal(() => spindleTram({ ...sweep, readings: [{ reading: um(1) } as never, ...sweep.readings] })),
    ).toEqual({
      code: "angles",
      message: "spindleTram: reading 1 of head has no angle; give each reading the angle of the stylus",
    });
  });
});

describe("the squareness of two axes", () => {
  // three places a leg, of which the middle one stands 3 µm off: what a line leaves is 1, −2, 1 times the sign
  const leg = (perM: number, off = 0) =>
    [0, 100, 200].map((place, i) => ({ at: mm(place), reading: um((perM * place) / 1000 + (i === 1 ? off : 0)) }));
  const given = { name: "Y to X", gauge: dial, first: leg(10, 3), second: leg(-20, -3) };
  const scatter = (which: string, effect: number) => [
    `${which}, reading 1: ${six(-effect)}, t, 2, A, what straight lines leave of all legs`,
    `${which}, reading 3: ${six(effect)}, t, 2, A, what straight lines leave of all legs`,
  ];
  const error = (which: string, share = 1) =>
    `dial, error over the ${which}: ${six((share * 3) / Math.sqrt(3) / 0.2)}, rectangular, Infinity, B, maximum permissible error, ± over the range used`;
  const clean = (lines: string[]) => lines.filter((line) => !/reading 2: -?[\d.e-]*e-\d+/.test(line));

  it("rests on the scatter of all legs, the gauge over each, and the square", () => {
    const found = squareness({ ...given, square: { within: arcsec(3) } });
    expect(found.angle.in("um/m")).toBeCloseTo(30, 9);
    // 2 × 6 µm² over two degrees of freedom: s² = 6; slope: ±5 per metre of the outer two
    const s = Math.sqrt(6) * 5;
    expect(clean(budgetLines(found.angle))).toEqual([
      ...scatter("first leg", s),
      error("first leg"),
      ...scatter("second leg", -s),
      error("second leg", -1),
      `square, departure from 90°: ${six((3 * 4.848_136_811) / Math.sqrt(3))}, rectangular, Infinity, B, ${found.angle.terms.at(-1)!.input.source}`,
    ]);
    expect(found.square).toBeUndefined();
    const known = squareness({ ...given, square: slope(5, 2, "certificate") });
    expect(known.angle.in("um/m")).toBeCloseTo(35, 9);
    expect(budgetLines(known.angle).at(-1)).toMatch(/^certificate: 2, /);
  });

  it("turned over, is half the sum of both differences, the square half their difference", () => {
    const found = squareness({ ...given, turnedOver: { first: leg(4), second: leg(-2) } });
    expect([found.angle.in("um/m"), found.square!.in("um/m")]).toEqual([expect.closeTo(18, 9), expect.closeTo(-12, 9)]);
    const labels = found.angle.terms.map(({ input: i }) => i.label);
    expect(labels).toContain("first leg, turned over, reading 1");
    expect(labels).toContain("dial, error over the second leg, turned over");
    // 12 µm² over four degrees of freedom now
    expect(budgetLines(found.angle)[0]).toBe(
      `first leg, reading 1: ${six(-Math.sqrt(3) * 2.5)}, t, 4, A, what straight lines leave of all legs`,
    );
    const still = squareness({ ...given, first: leg(10), second: leg(-20), square: { within: arcsec(3) } });
    expect(budgetLines(still.angle)[0]).toBe(
      `first leg, reading 1: ${six(-5 / Math.sqrt(12))}, normal, Infinity, A, what straight lines leave of all legs`,
    );
    const groups = new Set(found.angle.terms.filter(({ input: i }) => i.evaluation === "A").map((t) => t.input.group));
    expect(groups.size).toBe(1);
  });

  it("is told with the angle in words and in seconds, and with what is known of the square", () => {
    const wide = squareness({ ...given, square: { within: arcsec(3) } });
    expect(`${wide}`).toBe(
      `squareness of Y to X: ${wide.angle}, the angle between the positive axes is wider than 90° by 6.2″; the square as given`,
    );
    const narrow = squareness({ ...given, first: leg(-40), turnedOver: { first: leg(-40), second: leg(-20) } });
    expect(`${narrow}`).toBe(
      `squareness of Y to X: ${narrow.angle}, the angle between the positive axes is narrower than 90° by 4.1″; the square itself ${narrow.square} from 90°`,
    );
    expect(wide.over(mm(300)).in("um")).toBeCloseTo(9, 9);
    expect(wide.over(mm(300)).standardUncertainty.si / wide.angle.standardUncertainty.si).toBeCloseTo(0.3, 9);
  });

  it("reads a lever by its cosine, and asks for three places along each leg", () => {
    const lever = gauge({ name: "lever", resolution: um(1), maximumPermissibleError: um(3), leverAngle: deg(60) });
    expect(squareness({ ...given, gauge: lever, square: { within: arcsec(3) } }).angle.in("um/m")).toBeCloseTo(15, 9);
    const two = [...leg(0).slice(0, 2), leg(0)[1]!];
    expect(refusal(() => squareness({ ...given, second: two, square: { within: arcsec(3) } }))).toEqual({
      code: "too-few-places",
      message: "squareness: a leg of Y to X was read at 2 places; read three at least along each leg",
    });
    expect(refusal(() => squareness(given)).code).toBe("square");
  });
});

describe("a straightedge turned over", () => {
  const places = [0, 100, 300, 400];
  const given = {
    name: "straightedge",
    at: places.map(mm),
    normal: [1, 5, 3, 5].map((v) => um(v)),
    reversed: [3, -1, 9, 3].map((v) => um(v)),
    plane: "horizontal" as const,
    standardUncertainty: um(0.5),
  };

  it("tells both from the line through the ends, with the scatter of six readings in a place between", () => {
    const found = straightedgeReversal({ ...given, degreesOfFreedom: 7 });
    // half differences 1 −3 3 −1, less the line from 1 to −1; half sums 2 2 6 4, less the line from 2 to 4
    expect(found.machine.map((v) => v.in("um").toFixed(9))).toEqual([
      "0.000000000",
      "-3.500000000",
      "3.500000000",
      "0.000000000",
    ]);
    expect(found.artefact.map((v) => v.in("um").toFixed(9))).toEqual([
      "0.000000000",
      "-0.500000000",
      "2.500000000",
      "0.000000000",
    ]);
    const line = (run: string, k: number, effect: number) =>
      `straightedge, ${run} run, place ${k}: ${effect}, t, 7, A, scatter of one reading`;
    expect(budgetLines(found.machine[1]!).sort()).toEqual(
      [
        line("first", 1, 0.1875),
        line("first", 2, -0.25),
        line("first", 4, 0.0625),
        line("second", 1, -0.1875),
        line("second", 2, 0.25),
        line("second", 4, -0.0625),
      ].sort(),
    );
    expect(new Set(found.machine[1]!.terms.map((t) => t.input.group)).size).toBe(1);
    expect(straightedgeReversal(given).machine[1]!.terms[0]!.input.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
    // the line through the ends counts from the first place, wherever that lies
    const away = straightedgeReversal({ ...given, at: places.map((v) => mm(v + 50)) });
    expect(away.machine[1]!.in("um")).toBeCloseTo(-3.5, 9);
  });

  it("takes the sag off the machine alone, all of it uncertain together", () => {
    const sag = { at: [0, 6, 8, 2].map((v) => um(v)), within: 0.25 };
    const found = straightedgeReversal({ ...given, plane: "vertical", sag });
    // less 6 − 0.5 and 8 − 1.5 µm
    expect(found.machine.map((v) => v.in("um").toFixed(6))).toEqual(["0.000000", "-9.000000", "-3.000000", "0.000000"]);
    expect(found.artefact[1]!.in("um")).toBeCloseTo(-0.5, 9);
    expect(budgetLines(found.machine[1]!).find((line) => line.startsWith("sag"))).toBe(
      "sag of straightedge, share of it: -1.375, normal, Infinity, B, as computed from supports, section and material",
    );
  });

  it("is told with the farthest of both", () => {
    const found = straightedgeReversal(given);
    expect(`${found}`).toBe(
      `reversal of straightedge in the horizontal plane, 4 places, from the line through the ends: machine up to ${found.machine[1]!.text("um")}, artefact up to ${found.artefact[2]!.text("um")}`,
    );
  });

  it("is refused with codes that tell what is wrong", () => {
    const of = (more: object) => refusal(() => straightedgeReversal({ ...given, ...more })).code;
    expect(of({ at: [0, 100].map(mm), normal: [], reversed: [] })).toBe("too-few-places");
    expect(of({ reversed: given.reversed.slice(1) })).toBe("count");
    expect(of({ at: [0, 100, 100, 400].map(mm) })).toBe("count");
    expect(of({ standardUncertainty: um(-1) })).toBe("uncertainty");
    expect(of({ plane: "vertical" })).toBe("sag");
    expect(of({ sag: { at: places.map(() => um(1)), within: 0 } })).toBe("sag");
    const three = {
      at: places.slice(0, 3).map(mm),
      normal: given.normal.slice(0, 3),
      reversed: given.reversed.slice(0, 3),
    };
    expect(straightedgeReversal({ ...given, ...three }).machine).toHaveLength(3);
  });
});

describe("foils in a stack", () => {
  const stacks = new FoilStacks([50, 20, 20, 100].map(um), 3);
  const laid = (wanted: number, worth = 0) => stacks.fewest(wanted, worth).foilsUm;

  it("are as near as can be, thickest first, fewer where it comes to the same", () => {
    expect([stacks.finestUm, stacks.thickestUm]).toEqual([20, 300]);
    expect([laid(0), laid(9), laid(11), laid(40), laid(45), laid(70), laid(169), laid(1000)]).toEqual([
      [],
      [],
      [20],
      [20, 20],
      [50],
      [50, 20],
      [100, 50, 20],
      [100, 100, 100],
    ]);
    // 100 is one foil and two of 50; 10 lies as far from none as from 20
    expect([laid(100), laid(10)]).toEqual([[100], []]);
  });

  it("are one more only where it gains more than it is worth", () => {
    // 70 is 50 and 20; the second gains 20
    expect([laid(70, 19.9), laid(70, 20), laid(70, 20.1)]).toEqual([[50, 20], [50], [50]]);
    expect(laid(45, 6)).toEqual([50]);
  });

  it("hold as many as are allowed, and refuse foils that are none", () => {
    expect(new FoilStacks([um(20)], 1).thickestUm).toBe(20);
    expect(new FoilStacks([um(20)], 6).thickestUm).toBe(120);
    for (const most of [0, 7, 2.5]) {
      expect(refusal(() => new FoilStacks([um(20)], most))).toEqual({
        code: "foils",
        message: `shims: ${most} foils in a stack; give a whole number from 1 to 6`,
      });
    }
    expect(refusal(() => new FoilStacks([], 3)).code).toBe("foils");
    expect(refusal(() => new FoilStacks([um(20), um(-5)], 3))).toEqual({
      code: "foils",
      message: "shims: a foil of −5 µm is none; give thicknesses above zero",
    });
  });
});

describe("shims under a joint", () => {
  const bolt = (label: string, x: number, y: number) => ({ label, x: mm(x), y: mm(y) });
  const bolts = [bolt("1", 0, 0), bolt("2", 200, 0), bolt("3", 200, 250), bolt("4", 0, 250)];
  const tilt = { as: "lean", x: slope(100, 10, "x"), y: slope(200, 10, "y") } as const;
  const given = { name: "re-tram", what: "column" as const, bolts, tilt, foils: [20, 50].map(um) };
  const sheet = shims(given);

  it("are told bolt by bolt, with what remains, the rock and where the cautions stand", () => {
    // wanted 0, 20, 70, 50 µm
    expect(sheet.rows).toEqual([
      ["1", "none", "none"],
      ["2", "0.02 mm", "0.02 mm"],
      ["3", "0.07 mm", "0.05 mm + 0.02 mm"],
      ["4", "0.05 mm", "0.05 mm"],
    ]);
    expect(`${sheet}`).toBe(
      `shims under the column, re-tram: bolt 1 none, bolt 2 0.02 mm, bolt 3 0.07 mm, bolt 4 0.05 mm; 4 foils in all; lean that remains along X ${sheet.remaining.x}, along Y ${sheet.remaining.y}; the stacks stand 0.0 µm off one plane; read the cautions of the sheet before a bolt is loosened`,
    );
    const one = shims({ ...given, what: "feet", tilt: { as: "slope", x: slope(0, 1), y: slope(0, 1) } });
    expect(`${one}`).toContain("; 0 foils in all; slope that remains along X ");
    const single = shims({
      ...given,
      tilt: { as: "lean", x: slope(100, 1), y: slope(0, 1) },
      bolts: bolts.slice(0, 2).concat(bolt("3", 0, 100)),
    });
    expect(`${single}`).toContain("; 1 foil in all; ");
  });

  it("leave the tilt less that of the stacks, with every foil and the tilt itself in its doubt", () => {
    expect(sheet.remaining.x.in("um/m")).toBeCloseTo(0, 9);
    // four bolts 200 × 250 mm apart: a foil weighs 1/(2 × 0.2 m) along X
    const u = 2 / Math.sqrt(3);
    const foil = (label: string, effect: number) =>
      `${label}: ${six(effect * u)}, rectangular, Infinity, B, thickness of foil, rectangular`;
    expect(budgetLines(sheet.remaining.x).slice(1)).toEqual([
      foil("foil 1 at bolt 2", -2.5),
      foil("foil 1 at bolt 3", -2.5),
      foil("foil 2 at bolt 3", -2.5),
      foil("foil 1 at bolt 4", 2.5),
    ]);
    expect(budgetLines(sheet.remaining.y)[0]).toMatch(/^y: 10, normal/);
    expect(budgetLines(sheet.remaining.y).slice(1)).toEqual([
      foil("foil 1 at bolt 2", 2),
      foil("foil 1 at bolt 3", -2),
      foil("foil 2 at bolt 3", -2),
      foil("foil 1 at bolt 4", -2),
    ]);
    const sloping = shims({ ...given, what: "table", foilWithin: um(6), tilt: { ...tilt, as: "slope" } });
    // raised on the low side: the first bolt most
    expect(sloping.stacks.map(({ wanted }) => wanted.in("um").toFixed(6))).toEqual([
      "70.000000",
      "50.000000",
      "0.000000",
      "20.000000",
    ]);
    expect(sloping.remaining.x.in("um/m")).toBeCloseTo(0, 9);
    expect(budgetLines(sloping.remaining.x)[1]).toBe(
      `foil 1 at bolt 1: ${six((-2.5 * 6) / Math.sqrt(3))}, rectangular, Infinity, B, thickness of foil, rectangular`,
    );
  });

  it("say by how much they leave one plane", () => {
    // 20 and 50 µm only, wanted 0 30 30 0 at worth 0: 20 20 would fit; three bolts fit any plane, four do not
    const askew = shims({
      ...given,
      foils: [um(20), um(50)],
      most: 1,
      worth: um(0),
      tilt: { ...tilt, x: slope(150, 1), y: slope(60, 1) },
    });
    // wanted 0, 30, 45, 15: laid 0, 20, 50, 20; a plane misses by ∓2.5
    expect(askew.rows.map((row) => row[1])).toEqual(["none", "0.02 mm", "0.05 mm", "0.02 mm"]);
    expect(askew.rock.in("um")).toBeCloseTo(5, 9);
  });

  it("ask of a foil what thickness wanted and foil are known to", () => {
    // at bolt 3, 0.2 and 0.25 m from the lowest: u of the thickness wanted hypot(0.2 × 10, 0.25 × 10), of a foil 2/√3 µm
    const u = Math.hypot(2, 2.5, 2 / Math.sqrt(3));
    const laid = (fine: number, more: object = {}) =>
      shims({
        ...given,
        foils: [um(50), um(fine)],
        tilt: { ...tilt, x: slope((50 + fine - 50) / 0.2, 10), y: slope(200, 10) },
        ...more,
      }).stacks[2]!.foils.length;
    expect([laid(u - 0.01), laid(u + 0.01)]).toEqual([1, 2]);
    const coarse = Math.hypot(2, 2.5, 6 / Math.sqrt(3));
    expect([laid(coarse - 0.01, { foilWithin: um(6) }), laid(coarse + 0.01, { foilWithin: um(6) })]).toEqual([1, 2]);
    expect(laid(0.5, { worth: um(0) })).toBe(2);
  });

  it("count from anywhere: only the distances of the bolts matter", () => {
    const away = shims({ ...given, bolts: bolts.map((b) => ({ ...b, x: b.x.plus(mm(-700)), y: b.y.plus(mm(500)) })) });
    expect(away.rows).toEqual(sheet.rows);
    expect(budgetLines(away.remaining.x, 1e6, 4)).toEqual(budgetLines(sheet.remaining.x, 1e6, 4));
    // and so for what a foil must gain: at the third bolt hypot(2, 2.5, 2/√3) µm
    const u = Math.hypot(2, 2.5, 2 / Math.sqrt(3));
    const laid = (fine: number) =>
      shims({
        ...given,
        bolts: away.stacks.map(({ label, x, y }) => ({ label, x, y })),
        ...{ foils: [um(50), um(fine)], tilt: { ...tilt, x: slope(fine / 0.2, 10), y: slope(200, 10) } },
      }).stacks[2]!.foils.length;
    expect([laid(u - 0.01), laid(u + 0.01)]).toEqual([1, 2]);
  });

  it("are refused where the thickest stack is too thin, or the bolts say nothing of one direction", () => {
    const of = (more: object) => refusal(() => shims({ ...given, ...more }));
    // 70 µm wanted: a stack of 50 and the finest foil of 20 still reach, of 50 and 19 do not
    expect(shims({ ...given, foils: [um(50), um(20)], most: 1 }).stacks[2]!.thickness.in("um")).toBe(50);
    expect(of({ foils: [um(50), um(19)], most: 1 })).toEqual({
      code: "too-thick",
      message:
        "shims: re-tram asks for 0.07 mm at one bolt and the thickest stack is 0.05 mm; get thicker foil or allow more in a stack, and look again at the tilt",
    });
    expect(of({ worth: um(-1) }).code).toBe("worth");
    expect(of({ bolts: bolts.slice(0, 2) }).code).toBe("bolts");
    const line = [bolt("1", 10, 20), bolt("2", 40, 80), bolt("3", 70, 140)];
    expect(of({ bolts: line }).code).toBe("bolts");
    expect(shims({ ...given, bolts: [...line.slice(0, 2), bolt("3", 72, 139)] }).stacks).toHaveLength(3);
  });
});

describe("the slope of the table under a sweep", () => {
  const places = [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: 3 * i + 2 * j, count: 2 })),
  );
  const map: Surface = { ...mapOf(places, { standardUncertaintyUm: 0.5, degreesOfFreedom: 9 }, "travel"), gauge: dial };
  const sweep = { name: "head", radius: mm(50), centre: { x: mm(50), y: mm(50) } };

  it("takes the places on the circle too, and the drift at the places it takes", () => {
    const modesUm = [places.map(({ xMm }) => (xMm === 50 ? 0 : xMm) / 10)];
    const drift = { model: "settling", statement: "drift", modesUm } as const;
    const { x, y } = slopeUnder({ ...map, drift }, sweep);
    expect([x.in("um/m"), y.in("um/m")]).toEqual([expect.closeTo(60, 9), expect.closeTo(40, 9)]);
    // the middle cross: slope of the drift at 0, 50, 50, 50, 100 mm is (0, 0, 0, 0, 10)/100 mm
    const lines = budgetLines(x);
    expect(lines[0]).toBe(`reading noise: ${six(500 / Math.sqrt(5000))}, t, 9, A, repeats of the survey`);
    expect(lines.find((line) => line.startsWith("drift"))).toBe(
      "drift of the set-up, part 1: 100, normal, Infinity, B, datum returns",
    );
    expect(slopeUnder(map, sweep).x.terms.some(({ input: i }) => i.label.startsWith("drift"))).toBe(false);
  });

  it("is refused where places on one line are all there is", () => {
    const narrow = {
      ...map,
      places: places.filter(({ xMm }) => xMm === 50).concat({ ...places[4]!, label: "Q", yMm: 75 }),
    };
    expect(refusal(() => slopeUnder(narrow, sweep))).toEqual({
      code: "too-few-places",
      message:
        "slopeUnder: 4 places of planted map under the sweep of head; four are needed at least, off one line: take the tilt of the whole map, or probe more places there",
    });
    expect(refusal(() => slopeUnder(map, { ...sweep, radius: mm(49) })).message).toContain("1 place of planted map");
  });
});

describe("travel and table told apart", () => {
  const at = (relativeTo: Surface["frame"]["relativeTo"], z: readonly number[], u: number, nu: number): Surface => ({
    ...mapOf(
      [0, 1].flatMap((i) =>
        [0, 1, 2].map((j) => ({
          label: `${relativeTo}${i}${j}`,
          xMm: 100 * i,
          yMm: 100 * j,
          zUm: z[3 * i + j]!,
          count: 2,
        })),
      ),
      { standardUncertaintyUm: u, degreesOfFreedom: nu },
      relativeTo,
    ),
    name: relativeTo === "travel" ? "indicator map" : "level map",
    gauge: { ...dial, name: relativeTo },
    drift: { model: "settling", statement: "drift", modesUm: [z.map((v) => v + 100)] },
  });
  const indicator = at("travel", [0, 1, 0, 2, 0, 3], 0.3, 12);
  const level = at("gravity", [5, 3, 8, 1, 9, 2], 0.4, 20);
  const found = travelAndTable({ byIndicator: indicator, byLevel: level });

  it("stand about their planes, named by where they come from, in the frame of the level", () => {
    const plane = (z: readonly number[]) => {
      const p = level.places;
      return leastSquares([p.map(() => 1), p.map((q) => q.xMm), p.map((q) => q.yMm)], z).residuals;
    };
    const near = (surface: Surface, z: readonly number[]) => {
      for (const [i, v] of plane(z).entries()) expect(surface.places[i]!.zUm).toBeCloseTo(v, 9);
    };
    near(found.table, [5, 3, 8, 1, 9, 2]);
    near(found.travel, [5, 2, 8, -1, 9, -1]);
    expect([found.table.name, found.travel.name]).toEqual([
      "table, level map",
      "path of the travel, level map less indicator map",
    ]);
    expect([found.table.gauge.name, found.travel.gauge.name]).toEqual(["gravity", "travel"]);
    expect(found.travel.frame).toEqual(level.frame);
    expect(found.travel.places.map(({ label }) => label)).toEqual(level.places.map(({ label }) => label));
  });

  it("carry the noise of both, with degrees of freedom by Welch and Satterthwaite, and the drift of both", () => {
    expect(found.table.noise).toEqual({
      standardUncertaintyUm: expect.closeTo(0.4, 12),
      degreesOfFreedom: expect.closeTo(20, 9),
      source: "readings of the surveys together",
    });
    expect(found.travel.noise.standardUncertaintyUm).toBeCloseTo(0.5, 12);
    expect(found.travel.noise.degreesOfFreedom).toBeCloseTo(0.5 ** 4 / (0.3 ** 4 / 12 + 0.4 ** 4 / 20), 9);
    expect(found.table.drift).toEqual({
      model: "not tested",
      statement: "what the heights of the surveys share is carried on",
      modesUm: level.drift!.modesUm,
    });
    expect(found.travel.drift!.modesUm).toEqual([...level.drift!.modesUm, ...indicator.drift!.modesUm]);
    const exact = (map: Surface) => ({
      ...map,
      noise: { standardUncertaintyUm: 1, degreesOfFreedom: Number.POSITIVE_INFINITY },
    });
    const known = travelAndTable({ byIndicator: exact(indicator), byLevel: exact(level) });
    expect(known.travel.noise.degreesOfFreedom).toBe(1e9);
    const still = ({ drift, ...map }: Surface) => (drift ? map : map);
    expect(travelAndTable({ byIndicator: still(indicator), byLevel: still(level) }).travel.drift!.modesUm).toEqual([]);
  });

  it("are told in one sentence", () => {
    const spread = (surface: Surface) => {
      const z = surface.places.map(({ zUm }) => zUm);
      return (Math.max(...z) - Math.min(...z)).toFixed(1);
    };
    expect(`${found}`).toBe(
      `at 6 shared places the table itself leaves its plane by ${spread(found.table)} µm and the path of the travel its own by ${spread(found.travel)} µm, as read; take form.flatness of either for the figure with U`,
    );
  });

  it("pair places up to 1 mm apart, nearest first, each once, in the order of the indicator's map", () => {
    const moved = (dx: number, more: Surface["places"] = []) => ({
      ...level,
      places: [...more, ...level.places.map((p) => ({ ...p, xMm: p.xMm + dx }))].reverse(),
      drift: { ...level.drift!, modesUm: [] },
    });
    const labels = (byLevel: Surface) =>
      travelAndTable({ byIndicator: indicator, byLevel }).table.places.map(({ label }) => label);
    const own = level.places.map(({ label }) => label);
    expect(labels(moved(1))).toEqual(own);
    expect(refusal(() => labels(moved(1.01)))).toEqual({
      code: "too-few-places",
      message:
        "travelAndTable: indicator map and level map share 0 places within 1 mm; four are needed at least, off one line: read both on the same places",
    });
    const nearer = level.places.map((p) => ({ ...p, label: `near ${p.label}`, xMm: p.xMm - 0.2 }));
    expect(labels(moved(0.5, nearer))).toEqual(own.map((label) => `near ${label}`));
    const farther = level.places.map((p) => ({ ...p, label: `far ${p.label}`, xMm: p.xMm - 0.7 }));
    expect(labels(moved(0.5, farther))).toEqual(own);
  });

  it("are refused for maps of other frames, whichever of the two is wrong", () => {
    const of = (byIndicator: Surface, byLevel: Surface) => refusal(() => travelAndTable({ byIndicator, byLevel })).code;
    const turned = (map: Surface, more: Partial<Surface["frame"]>) => ({ ...map, frame: { ...map.frame, ...more } });
    expect(of(indicator, turned(level, { relativeTo: "artefact" }))).toBe("relative-to");
    expect(of(turned(indicator, { relativeTo: "gravity" }), level)).toBe("relative-to");
    expect(of(indicator, turned(level, { plusX: "left" }))).toBe("frame");
    expect(of(turned(indicator, { plusY: "front" }), level)).toBe("frame");
    expect(of(indicator, turned(level, { front: "y+" }))).toBe("frame");
    const four = (keep: readonly number[]) => ({ ...level, places: keep.map((i) => level.places[i]!) });
    expect(of(indicator, four([0, 1, 3]))).toBe("too-few-places");
    expect(
      travelAndTable({
        byIndicator: indicator,
        byLevel: { ...four([0, 1, 3, 5]), drift: { ...level.drift!, modesUm: [] } },
      }).table.places,
    ).toHaveLength(4);
  });
});
