import { describe, expect, it } from "vitest";
import { bearingForces, type Contact, plateHeights } from "../../kernel-lib/src/facing/plate-contact.js";
import {
  bendingStiffness,
  nodeAreasMm2,
  nodeOf,
  nodePlaceMm,
  type PlateNet,
  plateStiffness,
} from "../../kernel-lib/src/facing/plate-stiffness.js";
import { BandMatrix, solveBand } from "../../kernel-lib/src/numerics/band-cholesky.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

interface Published {
  readonly simplySupported: { readonly exact: [string, string][]; readonly handbook: [string, string][] };
  readonly clamped: { readonly exact: [string, string][]; readonly handbook: [string, string][] };
}
const published = fixture<Published>("machining/plate-bending.json");

const net = (more: Partial<PlateNet> = {}): PlateNet => ({
  columns: 21,
  rows: 21,
  lengthMm: 200,
  widthMm: 200,
  thicknessMm: 10,
  modulusMPa: 70_000,
  poisson: 0.3,
  ...more,
});
const onEdge = ({ columns, rows }: PlateNet, k: number) => {
  const [i, j] = [Math.floor(k / rows), k % rows];
  return i === 0 || j === 0 || i === columns - 1 || j === rows - 1;
};
const middle = (n: PlateNet) => nodeOf(n, (n.columns - 1) / 2, (n.rows - 1) / 2);

/** deflection in the middle under 1 N/mm², nodes held where `held` says so */
function middleDeflection(n: PlateNet, held: (k: number) => boolean): number {
  const springs = nodeAreasMm2(n).map((_, k) => (held(k) ? 1e15 : 0));
  return solveBand(plateStiffness(n).plusDiagonal(springs), nodeAreasMm2(n))[middle(n)]!;
}

/** two nets, the error of order h² taken out */
function refined(at: (steps: number) => number, steps: number): number {
  return (4 * at(2 * steps) - at(steps)) / 3;
}

describe("plate bending", () => {
  it.each(published.simplySupported.exact)(
    "agrees with the series for a simply supported plate, a/b %s",
    (ratio, alpha) => {
      const a = Number(ratio);
      const got = refined((steps) => {
        const n = net({ columns: steps * (a > 1.5 ? 2 : 1) + 1, rows: steps + 1, lengthMm: 200 * a });
        return (middleDeflection(n, (k) => onEdge(n, k)) * n.modulusMPa * n.thicknessMm ** 3) / n.widthMm ** 4;
      }, 12);
      expect(Math.abs(got / Number(alpha) - 1)).toBeLessThan(0.001);
    },
  );

  it.each(published.simplySupported.handbook)("agrees with the handbook's printed digits, a/b %s", (ratio, alpha) => {
    const a = Number(ratio);
    const n = net({ columns: 33, rows: 25, lengthMm: 200 * a });
    const got = (middleDeflection(n, (k) => onEdge(n, k)) * n.modulusMPa * n.thicknessMm ** 3) / n.widthMm ** 4;
    // the handbook itself is up to 0.5 % off the series
    expect(Math.abs(got / Number(alpha) - 1)).toBeLessThan(0.01);
  });

  /** deflection in the middle times D / q b⁴, all edges clamped: held, and level across them */
  const clamped = (ratio: number, steps: number) => {
    const n = net({ columns: Math.round(steps * ratio) + 1, rows: steps + 1, lengthMm: 200 * ratio });
    const [hx, hy] = [n.lengthMm / (n.columns - 1), n.widthMm / (n.rows - 1)];
    const d = bendingStiffness(n);
    const springs = nodeAreasMm2(n).map((_, k) => {
      if (onEdge(n, k)) return 1e15;
      const [i, j] = [Math.floor(k / n.rows), k % n.rows];
      // a level edge is a mirror: there the curvature is 2 w / h², which the free edge of the matrix does not have
      const besideX = i === 1 || i === n.columns - 2 ? (2 * d * hy) / hx ** 3 : 0;
      const besideY = j === 1 || j === n.rows - 2 ? (2 * d * hx) / hy ** 3 : 0;
      return besideX + besideY;
    });
    const load = nodeAreasMm2(n);
    return (solveBand(plateStiffness(n).plusDiagonal(springs), load)[middle(n)]! * d) / n.widthMm ** 4;
  };

  it.each(published.clamped.exact)("agrees with the series for a plate clamped all round, a/b %s", (ratio, c) => {
    const got = refined((steps) => clamped(Number(ratio), steps), 20);
    expect(Math.abs(got / Number(c) - 1)).toBeLessThan(0.002);
  });

  it.each(published.clamped.handbook)("agrees with the handbook for a plate clamped all round, a/b %s", (ratio, c) => {
    const got = refined((steps) => clamped(Number(ratio), steps), 20);
    // the handbook's last digit is one too many at a/b 2, where the series gives 0.002533
    expect(Math.abs(got - Number(c))).toBeLessThan(1e-5);
  });

  it("holds a plate in pure twist by its corners alone", () => {
    const n = net({ columns: 9, rows: 7, lengthMm: 160 });
    const c = 1e-6;
    const twisted = nodeAreasMm2(n).map((_, k) => c * nodePlaceMm(n, k)[0] * nodePlaceMm(n, k)[1]);
    const forces = plateStiffness(n).times(twisted);
    const corner = 2 * bendingStiffness(n) * (1 - n.poisson) * c;
    forces.forEach((f, k) => {
      const [i, j] = [Math.floor(k / n.rows), k % n.rows];
      const ends = [0, n.columns - 1].includes(i) && [0, n.rows - 1].includes(j);
      expect(f).toBeCloseTo(ends ? ((i === 0) === (j === 0) ? corner : -corner) : 0, 6);
    });
  });

  it("leaves the long edges free when bent by moments at the ends: saddle of Poisson's ratio", () => {
    const n = net({ columns: 11, rows: 9 });
    const bent = nodeAreasMm2(n).map((_, k) => {
      const [x, y] = nodePlaceMm(n, k);
      return 1e-6 * ((x - 100) ** 2 - n.poisson * (y - 100) ** 2);
    });
    const forces = plateStiffness(n).times(bent);
    const scale = Math.max(...forces.map(Math.abs));
    forces.forEach((f, k) => {
      const i = Math.floor(k / n.rows);
      if (i > 1 && i < n.columns - 2) expect(Math.abs(f) / scale).toBeLessThan(1e-9);
    });
  });
});

describe("a plate on a bed", () => {
  // a strip without sideways contraction is a beam
  const strip = net({ columns: 41, rows: 3, lengthMm: 400, widthMm: 40, poisson: 0 });
  const areas = nodeAreasMm2(strip);
  const ridges = Float64Array.from(areas, (_, k) => ([0, 40].includes(Math.floor(k / 3)) ? 0.02 : -1));
  const pressed = (force: number, bed: Float64Array): Contact => ({
    stiffness: plateStiffness(strip),
    loadN: areas.map((_, k) => (Math.floor(k / 3) === 20 ? force * [0.25, 0.5, 0.25][k % 3]! : 0)),
    bedMm: bed,
    bearingMm2: areas,
  });
  const inertia = (40 * 10 ** 3) / 12;

  it("bends between two ridges as a beam does: F L³ / 48 E I", () => {
    const heights = plateHeights(pressed(100, ridges));
    const sag = heights[nodeOf(strip, 0, 1)]! - heights[nodeOf(strip, 20, 1)]!;
    expect(sag / ((100 * 400 ** 3) / (48 * 70_000 * inertia))).toBeCloseTo(1, 2);
  });

  it("touches the floor between the ridges at the load at which a beam does", () => {
    const floor = Float64Array.from(ridges, (g) => Math.max(g, 0));
    const touch = (48 * 70_000 * inertia * 0.02) / 400 ** 3;
    const gap = (force: number) => plateHeights(pressed(force, floor))[nodeOf(strip, 20, 1)]!;
    expect(gap(0.95 * touch) * 1000).toBeCloseTo(1, 0);
    expect(gap(0.95 * touch)).toBeGreaterThan(0.0005);
    expect(Math.abs(gap(1.1 * touch))).toBeLessThan(1e-5);
  });

  it("is held up by just what presses it down, nowhere pulled", () => {
    const random = randomStream(5);
    const n = net({ columns: 15, rows: 11, lengthMm: 300 });
    for (let trial = 0; trial < 6; trial++) {
      const contact: Contact = {
        stiffness: plateStiffness(n),
        loadN: nodeAreasMm2(n).map((a) => a * 2.6e-4 + (random.uniform() < 0.05 ? 3000 : 0)),
        bedMm: nodeAreasMm2(n).map(() => 0.02 * random.normal()),
        bearingMm2: nodeAreasMm2(n),
      };
      const heights = plateHeights(contact);
      const push = bearingForces(contact, heights);
      const total = (v: Float64Array) => v.reduce((a, b) => a + b, 0);
      expect(total(push) / total(contact.loadN)).toBeCloseTo(1, 5);
      expect(Math.min(...push)).toBeGreaterThanOrEqual(0);
      const rest = contact.stiffness.times(heights).map((f, k) => f + contact.loadN[k]! - push[k]!);
      expect(Math.max(...rest.map(Math.abs)) / total(contact.loadN)).toBeLessThan(1e-5);
      expect(Math.min(...heights.map((h, k) => h - contact.bedMm[k]!))).toBeGreaterThan(-0.001);
    }
  });
});

describe("a band matrix", () => {
  it("gives back the right-hand side", () => {
    const random = randomStream(3);
    const matrix = new BandMatrix(30, 4);
    for (let i = 0; i < 30; i++)
      for (let j = Math.max(0, i - 4); j <= i; j++) matrix.add(i, j, i === j ? 9 : random.normal());
    const b = Float64Array.from({ length: 30 }, () => random.normal());
    matrix.times(solveBand(matrix, b)).forEach((v, i) => {
      expect(v).toBeCloseTo(b[i]!, 11);
    });
  });

  it("refuses one that is singular", () => {
    const matrix = new BandMatrix(2, 1, Float64Array.of(0, 1, 1, 1));
    expect(refusal(() => solveBand(matrix, new Float64Array(2)))).toEqual({
      code: "not-positive-definite",
      message:
        "solveBand: row 2 of 2 follows from the rows before it or contradicts them; hold the plate at more places",
    });
  });
});
