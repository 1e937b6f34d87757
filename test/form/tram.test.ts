import { describe, expect, it } from "vitest";
import {
  barSag,
  levelReversal,
  type SweepReading,
  shims,
  spindleTram,
  squareness,
  straightedgeReversal,
} from "../../kernel-lib/src/form/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { arcsec, deg, mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";
import { binomialBand } from "./coverage.js";

const published = fixture<{
  acrossMm: string;
  readingsUm: string[];
  anglesDeg: string[];
  tiltUmPerM: string;
  tiltArcsec: string;
}>("form/tram-sweep.json");
const dial = gauge({ name: "dial", resolution: um(0.01), maximumPermissibleError: um(0.01) });
const sweep = (readings: readonly SweepReading[], radius = 75) => ({
  name: "head",
  radius: mm(radius),
  gauge: dial,
  readings,
});
const at = (angle: number, z: number): SweepReading => ({ angle: deg(angle), reading: um(z) });
const slope = (value: number, u = 5) =>
  Measured.from(input.normal({ label: `slope ${value}`, estimate: umPerM(value), standardUncertainty: umPerM(u) }));

describe("spindle tram", () => {
  it("gives the computed tilt of 0.02 mm over a sweep of 150 mm", () => {
    const readings = published.anglesDeg.map((angle, i) => at(Number(angle), Number(published.readingsUm[i])));
    const { size } = spindleTram(sweep(readings, Number(published.acrossMm) / 2));
    expect(size.in("um/m").toFixed(decimalsOf(published.tiltUmPerM))).toBe(published.tiltUmPerM);
    expect(size.in("arcsec").toFixed(decimalsOf(published.tiltArcsec))).toBe(published.tiltArcsec);
  });

  it("leans where the plunger is pushed in most, whatever the places swept and the zero of the dial", () => {
    const places = [10, 50, 115, 200, 280, 333];
    const readings = places.map((angle) => at(angle, 40 + 6 * Math.cos(((angle - 130) * Math.PI) / 180)));
    const found = spindleTram(sweep(readings, 60));
    expect(found.direction.in("deg")).toBeCloseTo(130, 9);
    expect(found.size.in("um/m")).toBeCloseTo(100, 9);
    expect(found.over(mm(300)).in("um")).toBeCloseTo(30, 9);
  });

  it("takes the slope of the table against travel off, as a vector, for cutting", () => {
    const readings = [0, 90, 180, 270].map((angle) => at(angle, 7.5 * Math.cos((angle * Math.PI) / 180)));
    const found = spindleTram({ ...sweep(readings), tableSlope: { x: slope(40), y: slope(-30) } });
    expect(found.againstTable.x.in("um/m")).toBeCloseTo(100, 9);
    expect(found.lean.x.in("um/m")).toBeCloseTo(60, 9);
    expect(found.lean.y.in("um/m")).toBeCloseTo(30, 9);
    expect(found.lean.y.standardUncertainty.in("um/m")).toBeGreaterThan(4.9);
  });

  it("holds both parts of a planted tilt within U as often as 95 % claims, 600 sweeps of 8 places", () => {
    const stream = randomStream(11);
    let [x, y] = [0, 0];
    for (let run = 0; run < 600; run++) {
      const readings = Array.from({ length: 8 }, (_, i) =>
        at(45 * i, 3 * Math.cos((i * Math.PI) / 4) - 2 * Math.sin((i * Math.PI) / 4) + stream.normal()),
      );
      const { lean } = spindleTram(sweep(readings));
      x += Math.abs(lean.x.in("um/m") - 40) <= lean.x.expandedUncertainty().in("um/m") ? 1 : 0;
      y += Math.abs(lean.y.in("um/m") + 80 / 3) <= lean.y.expandedUncertainty().in("um/m") ? 1 : 0;
    }
    const [low, high] = binomialBand(600, 0.95);
    console.log(`tram along X held ${x}, along Y ${y} of 600, band ${low} to ${high}`);
    for (const hits of [x, y]) {
      expect(hits).toBeGreaterThanOrEqual(low);
      expect(hits).toBeLessThanOrEqual(high);
    }
  });

  it("refuses three places, half a circle, a missing angle and no radius", () => {
    expect(refusal(() => spindleTram(sweep([at(0, 1), at(90, 0), at(180, 0), at(270, 0)], 0)))).toEqual({
      code: "radius",
      message: "spindleTram: the radius of the sweep of head is 0 mm; give the distance of the stylus from the axis",
    });
    const of = (...readings: SweepReading[]) => refusal(() => spindleTram(sweep(readings))).message;
    expect(of(at(0, 1), at(120, 0), at(240, 0))).toBe(
      "spindleTram: head was swept at 3 places of the circle; read four at least, a quarter turn apart",
    );
    expect(of(at(0, 1), at(60, 0), at(120, 0), at(180, 0))).toBe(
      "spindleTram: the places of head lie on half of the circle, from 0° to 180°; sweep all round it",
    );
    expect(of(at(0, 1), { reading: um(1) } as SweepReading)).toBe(
      "spindleTram: reading 2 of head has no angle; give each reading the angle of the stylus",
    );
  });
});

describe("squareness", () => {
  const leg = (perM: number, noise = () => 0) =>
    [0, 50, 100, 150, 200].map((place) => ({ at: mm(place), reading: um((perM * place) / 1000 + noise()) }));

  it("tells machine and square apart when the square is turned over, as often as claimed, 600 records", () => {
    const stream = randomStream(12);
    const noise = () => 0.5 * stream.normal();
    let held = 0;
    for (let run = 0; run < 600; run++) {
      // axes 25 µm/m wide, square 10 µm/m narrow: the legs show 35 and 15
      const turnedOver = { first: leg(4, noise), second: leg(-11, noise) };
      const { angle } = squareness({
        name: "Y to X",
        gauge: dial,
        first: leg(0, noise),
        second: leg(-35, noise),
        turnedOver,
      });
      held += Math.abs(angle.in("um/m") - 25) <= angle.expandedUncertainty().in("um/m") ? 1 : 0;
    }
    const [low, high] = binomialBand(600, 0.95);
    console.log(`squareness held ${held} of 600, band ${low} to ${high}`);
    expect(held).toBeGreaterThanOrEqual(low);
    expect(held).toBeLessThanOrEqual(high);
  });

  it("takes a square as given, its doubt in U, and refuses one that is neither known nor turned over", () => {
    const given = { name: "Y to X", gauge: dial, first: leg(0), second: leg(-35) };
    const found = squareness({ ...given, square: { within: arcsec(2) } });
    expect(found.angle.in("um/m")).toBeCloseTo(35, 9);
    expect(found.angle.standardUncertainty.in("um/m")).toBeCloseTo(arcsec(2).in("um/m") / Math.sqrt(3), 1);
    expect(found.over(mm(300)).in("um")).toBeCloseTo(10.5, 9);
    expect(refusal(() => squareness({ ...given, first: given.first.slice(0, 2) })).message).toBe(
      "squareness: a leg of Y to X was read at 2 places; read three at least along each leg",
    );
    expect(refusal(() => squareness(given)).message).toBe(
      "squareness: Y to X was read one way round only and the square is not known; turn it over and read again, or give its departure from 90° with the doubt of it",
    );
  });
});

describe("reversal", () => {
  const places = [0, 100, 200, 300, 400];
  const machine = [0, 3, 4, 3, 0];
  const artefact = [0, -1, 2, 1, 0];
  const given = {
    name: "straightedge",
    at: places.map(mm),
    normal: places.map((_, i) => um(artefact[i]! - machine[i]!)),
    reversed: places.map((_, i) => um(artefact[i]! + machine[i]!)),
    standardUncertainty: um(0.5),
  };

  it("tells straightedge and machine apart on its side", () => {
    const found = straightedgeReversal({ ...given, plane: "horizontal" });
    for (const [i, v] of found.machine.entries()) expect(v.in("um")).toBeCloseTo(machine[i]!, 9);
    for (const [i, v] of found.artefact.entries()) expect(v.in("um")).toBeCloseTo(artefact[i]!, 9);
    expect(found.machine[0]!.standardUncertainty.in("um")).toBe(0);
  });

  it("asks for the sag where it is turned over, and takes it off with its doubt", () => {
    expect(refusal(() => straightedgeReversal({ ...given, plane: "vertical" })).message).toBe(
      "straightedgeReversal: straightedge was turned over in the vertical plane and sags downwards both times; give its sag at each place with the doubt of it, or turn it on its side",
    );
    const hang = [0, 6, 8, 6, 0];
    const found = straightedgeReversal({
      ...given,
      normal: given.normal.map((v, i) => v.minus(um(hang[i]!))),
      reversed: given.reversed.map((v, i) => v.plus(um(hang[i]!))),
      plane: "vertical",
      sag: { at: hang.map(um), within: 0.25 },
    });
    expect(found.machine[2]!.in("um")).toBeCloseTo(4, 9);
    expect(found.machine[2]!.standardUncertainty.in("um")).toBeGreaterThan(2);
  });

  it("refuses what no reversal can be made of, each in one sentence", () => {
    const of = (more: object) =>
      refusal(() => straightedgeReversal({ ...given, plane: "horizontal", ...more })).message;
    expect(of({ at: places.slice(0, 2).map(mm) })).toBe(
      "straightedgeReversal: straightedge was read at 2 places; read three at least, both ends and between",
    );
    expect(of({ normal: given.normal.slice(1) })).toBe(
      "straightedgeReversal: straightedge has 5 places, 4 readings before and 5 after the reversal; give each place one of both",
    );
    expect(of({ at: [0, 200, 100, 300, 400].map(mm) })).toBe(
      "straightedgeReversal: the places of straightedge do not follow each other along the line; give them from one end to the other",
    );
    expect(of({ standardUncertainty: um(0) })).toBe(
      "straightedgeReversal: the uncertainty of one reading of straightedge is 0 µm; give one above zero",
    );
    expect(of({ plane: "vertical", sag: { at: [um(1)], within: 0.2 } })).toBe(
      "straightedgeReversal: the sag of straightedge is given at 1 of 5 places, within a share of 0.2; give one a place and a share above zero",
    );
  });

  it("splits a level from its zero and an indicator from its bar", () => {
    const { inclination, zero } = levelReversal(slope(30), slope(-10));
    expect([inclination.in("um/m"), zero.in("um/m")].map((v) => v.toFixed(6))).toEqual(["20.000000", "10.000000"]);
    const read = (value: number) =>
      Measured.from(input.normal({ label: `${value}`, estimate: um(value), standardUncertainty: um(1) }));
    expect(barSag(read(14), read(-10)).standardUncertainty.in("um")).toBeCloseTo(Math.SQRT1_2, 9);
  });
});

describe("shims", () => {
  const bolt = (label: string, x: number, y: number) => ({ label, x: mm(x), y: mm(y) });
  const bolts = [bolt("1", 0, 0), bolt("2", 200, 0), bolt("3", 200, 250), bolt("4", 0, 250)];
  const column = { name: "re-tram", what: "column" as const, bolts, foils: [20, 50, 100].map(um) };

  it("raises the side a column leans to, and a table's low side", () => {
    const tilt = { x: slope(0), y: slope(200) };
    expect(shims({ ...column, tilt: { as: "lean", ...tilt } }).rows.map((row) => row[2])).toEqual([
      "none",
      "none",
      "0.05 mm",
      "0.05 mm",
    ]);
    const table = shims({ ...column, what: "table", tilt: { as: "slope", ...tilt } });
    expect(table.rows.map((row) => row[1])).toEqual(["0.05 mm", "0.05 mm", "none", "none"]);
  });

  it("lays as few foils as will do, none under the lowest bolt", () => {
    const tilt = { as: "lean", x: slope(137, 0.1), y: slope(-261, 0.1) } as const;
    const known = shims({ ...column, tilt, foils: [20, 25, 50, 65].map(um) });
    // wanted: 1 65.2 µm, 2 92.6, 3 27.4, 4 none; each from the tilt by hand
    expect(known.stacks.map((s) => s.wanted.in("um").toFixed(1))).toEqual(["65.3", "92.7", "27.4", "0.0"]);
    expect(known.rows.map((row) => row[2])).toEqual(["0.065 mm", "0.065 mm + 0.025 mm", "0.025 mm", "none"]);
    expect(known.foilCount).toBe(4);
    // a tilt known to 40 µm/m only does not ask for a second foil
    const vague = shims({
      ...column,
      tilt: { ...tilt, x: slope(137, 80), y: slope(-261, 80) },
      foils: [50, 85, 5].map(um),
    });
    expect(vague.rows.map((row) => row[2])).toEqual(["0.05 mm", "0.085 mm", "none", "none"]);
    expect(shims({ ...column, tilt, worth: um(100) }).foilCount).toBe(0);
  });

  it("has no foil at the lowest bolt and never more than the nearest stack would take, whatever the tilt", () => {
    const stream = randomStream(31);
    for (let run = 0; run < 100; run++) {
      const tilt = { as: "lean", x: slope(300 * stream.normal(), 5), y: slope(300 * stream.normal(), 5) } as const;
      const [few, near] = [undefined, um(0)].map((worth) =>
        shims({ ...column, tilt, foils: [20, 30, 50, 100].map(um), most: 6, ...(worth && { worth }) }),
      );
      const lowest = few!.stacks.find((s) => s.wanted.si === 0)!;
      expect(lowest.foils).toEqual([]);
      expect(few!.foilCount).toBeLessThanOrEqual(near!.foilCount);
      for (const s of near!.stacks)
        expect(Math.abs(s.wanted.in("um") - s.thickness.in("um"))).toBeLessThanOrEqual(10.001);
    }
  });

  it("leaves the tilt asked for less the tilt of the stacks, foils in U", () => {
    const sheet = shims({ ...column, tilt: { as: "lean", x: slope(137), y: slope(-261) } });
    const thickness = sheet.stacks.map((s) => s.thickness.in("um"));
    const along = (thickness[1]! + thickness[2]! - thickness[0]! - thickness[3]!) / 2 / 0.2;
    expect(sheet.remaining.x.in("um/m")).toBeCloseTo(137 - along, 9);
    expect(Math.abs(sheet.remaining.y.in("um/m"))).toBeLessThan(80);
    expect(sheet.remaining.x.standardUncertainty.in("um/m")).toBeGreaterThan(5);
  });

  it("refuses bolts on one line, no foil and a tilt beyond the foils", () => {
    const tilt = { as: "lean", x: slope(0), y: slope(200) } as const;
    const of = (more: object) => refusal(() => shims({ ...column, tilt, ...more })).message;
    expect(of({ bolts: [bolt("1", 0, 0), bolt("2", 100, 0), bolt("3", 200, 0)] })).toBe(
      "shims: the 3 bolts of re-tram lie on one line; give one beside it, or shim the tilt along the line only by hand",
    );
    expect(of({ bolts: bolts.slice(0, 2) })).toBe(
      "shims: re-tram has 2 bolts; a tilt both ways takes three at least, off one line",
    );
    expect(of({ foils: [um(20), um(0)] })).toBe("shims: a foil of 0 µm is none; give thicknesses above zero");
    expect(of({ most: 7 })).toBe("shims: 7 foils in a stack; give a whole number from 1 to 6");
    expect(of({ worth: um(-1) })).toBe("shims: a foil of re-tram must gain −1 µm; give zero or more, or leave it out");
    expect(of({ foils: [] })).toBe("shims: no foil is given; list the thicknesses at hand, like um(20), um(50)");
    expect(of({ foils: [um(5)], most: 2 })).toBe(
      "shims: re-tram asks for 0.05 mm at one bolt and the thickest stack is 0.01 mm; get thicker foil or allow more in a stack, and look again at the tilt",
    );
  });
});
