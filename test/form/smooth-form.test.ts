import { describe, expect, it } from "vitest";
import { legendreProducts, scaled, smoothForms, smoothLines } from "../../kernel-lib/src/form/smooth-form.js";
import { leastSquares, randomStream, simultaneousFactor } from "../../kernel-lib/src/numerics/index.js";

const near = (found: readonly number[], wanted: readonly number[], digits = 9) => {
  expect(found).toHaveLength(wanted.length);
  for (const [i, v] of wanted.entries()) expect(found[i]).toBeCloseTo(v, digits);
};
const exact = Number.POSITIVE_INFINITY;
const eleven = Array.from({ length: 11 }, (_, i) => 10 + 20 * i);
/** what powers up to `degree` leave of values along a line */
const leftBy = (degree: number, at: readonly number[], z: readonly number[]) => {
  const t = scaled(at);
  const powers = Array.from({ length: degree + 1 }, (_, d) => t.map((v) => v ** d));
  return leastSquares(powers, z).residuals;
};
const rms = (values: readonly number[]) => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length);

describe("Legendre products", () => {
  it("have the values of the handbook tables: P2(0.5) = −0.125, P3 = −0.4375, P4 = −0.28906 25", () => {
    // x and y run from −1 to 1 over the places; the third place lies at 0.5, −1
    const [x, y] = [
      [10, 50, 40],
      [0, 8, 0],
    ];
    near(scaled(x), [-1, 1, 0.5]);
    const third = legendreProducts(x, y, 4).map((column) => column[2]!);
    const [p1, p2, p3, p4] = [0.5, -0.125, -0.4375, -0.2890625] as const;
    near(third, [1, p1, -1, p2, -p1, 1, p3, -p2, p1, -1, p4, -p3, p2, -p1, 1]);
  });

  it("are 1 and nothing where a direction has no width", () => {
    expect(scaled([7, 7])).toEqual([0, 0]);
    expect(legendreProducts([1, 3], [7, 7], 1)).toEqual([
      [1, 1],
      [-1, 1],
      [0, 0],
    ]);
  });
});

describe("a form with the noise taken out", () => {
  const noise = { standardUncertaintyUm: 1, degreesOfFreedom: exact };

  it("is the polynomial of the least degree that leaves no more than the noise, two degrees more beside it", () => {
    const cubic = eleven.map((x) => 40 * ((x - 110) / 100) ** 3);
    const forms = smoothLines(eleven, cubic, { ...noise, standardUncertaintyUm: 1e-3 }, 1);
    expect(forms).toHaveLength(3);
    for (const form of forms) near(form, cubic);
    // with a noise of 40 µm nothing of it is told from a straight line, or from a constant where rises are smoothed
    const [line, second, third, more] = smoothLines(eleven, cubic, { ...noise, standardUncertaintyUm: 40 }, 1);
    near(
      cubic.map((z, i) => z - line![i]!),
      leftBy(1, eleven, cubic),
    );
    near(
      cubic.map((z, i) => z - second![i]!),
      leftBy(2, eleven, cubic),
    );
    near(third!, cubic);
    expect(more).toBeUndefined();
    const [mean] = smoothLines(
      eleven,
      cubic.map((z) => z + 7),
      { ...noise, standardUncertaintyUm: 40 },
      0,
    );
    near(mean!, new Array(11).fill(7));
  });

  it("stays at a degree up to the 95 % point of chi-square: 16.92 for 9 degrees of freedom (tables), F 3.18 for 9 and 9", () => {
    const z = eleven.map((_, i) => (i % 2 ? 1 : -1) + 0.3 * i);
    const left = leftBy(1, eleven, z);
    const squares = left.reduce((s, v) => s + v * v, 0);
    const isLine = (standardUncertaintyUm: number, degreesOfFreedom: number) => {
      const [first] = smoothLines(eleven, z, { standardUncertaintyUm, degreesOfFreedom }, 1);
      return Math.max(...first!.map((v, i) => Math.abs(z[i]! - v - left[i]!))) < 1e-9;
    };
    for (const [limit, nu] of [
      [16.919, exact],
      [9 * 3.1789, 9],
    ] as const) {
      expect(isLine(Math.sqrt(squares / limit) * 1.0005, nu)).toBe(true);
      expect(isLine(Math.sqrt(squares / limit) * 0.9995, nu)).toBe(false);
    }
  });

  it("goes no higher than the sixth degree; then what is left is shrunk by the share of it that is noise", () => {
    const stream = randomStream(3);
    const at = Array.from({ length: 40 }, (_, i) => 5 * i);
    const z = at.map(() => 4.6 * stream.uniform() - 2.3);
    const left = leftBy(6, at, z);
    const meanSquare = left.reduce((s, v) => s + v * v, 0) / 33;
    const [first, sixth, seventh, eighth] = smoothLines(at, z, noise, 1);
    near(
      first!,
      z.map((v, i) => v - left[i]! / meanSquare),
    );
    near(
      z.map((v, i) => v - sixth![i]!),
      left,
    );
    near(
      z.map((v, i) => v - seventh![i]!),
      leftBy(7, at, z),
    );
    near(
      z.map((v, i) => v - eighth![i]!),
      leftBy(8, at, z),
    );
  });

  it("keeps whole what stands out by more than chance, and leaves it out of the size of the rest", () => {
    const stream = randomStream(4);
    const at = Array.from({ length: 60 }, (_, i) => 5 * i);
    const z = at.map((_, i) => 1.8 * stream.normal() + (i === 20 ? 30 : i === 41 ? -25 : 0));
    const left = leftBy(6, at, z);
    const limit = simultaneousFactor(60);
    const kept = left.map((r) => Math.abs(r) > limit);
    const rest = left.filter((_, i) => !kept[i]);
    const freedom = 53 - kept.filter((k) => k).length;
    const meanSquare = rest.reduce((s, v) => s + v * v, 0) / freedom;
    const [first] = smoothLines(at, z, noise, 1);
    near(
      first!,
      z.map((v, i) => (kept[i] ? v : v - left[i]! / meanSquare)),
    );
    expect([first![20], first![41]]).toEqual([z[20], z[41]]);
  });

  it("may have kept places that stand off as far as the farthest does in half of all such maps", () => {
    // eleven places: the limit at one half, Šidák, two-sided: 0.5^(1/11) = 0.93893, normal quantile 1.873
    const withPeak = (height: number) => {
      const z = eleven.map((_, i) => (i === 5 ? height : 0));
      const left = leftBy(1, eleven, z);
      return { z, left, forms: smoothLines(eleven, z, noise, 1) };
    };
    // of a peak in the middle a line takes an eleventh
    const limit = simultaneousFactor(11, exact, 0.5);
    expect(limit.toFixed(2)).toBe("1.87");
    const small = withPeak((limit * 11) / 10 - 0.001);
    expect(small.forms).toHaveLength(3);
    for (const sign of [1, -1]) {
      const { z, left, forms } = withPeak(sign * ((limit * 11) / 10 + 0.001));
      expect(forms).toHaveLength(4);
      near(
        forms[3]!,
        z.map((v, i) => (i === 5 ? v : v - left[i]!)),
      );
    }
  });

  it("takes no more terms than six tenths of the places bear, on a line and on a map", () => {
    const z = [0, 9, 0, 9, 0, 9];
    const six = z.map((_, i) => i);
    const [first, line, quadratic, more] = smoothLines(six, z, { ...noise, standardUncertaintyUm: 0.01 }, 1);
    // three of six places are enough for degree 2, not for degree 3: what degree 2 leaves is kept whole
    near(first!, z);
    near(
      z.map((v, i) => v - line![i]!),
      leftBy(2, six, z),
    );
    near(quadratic!, z);
    expect(more).toBeUndefined();
    const map = { x: [0, 1, 2, 0, 1, 2, 0, 1, 2], y: [0, 0, 0, 1, 1, 1, 2, 2, 2], z: [0, 5, 0, 5, 0, 5, 0, 5, 0] };
    // six columns of degree 2 are more than 5.4
    const { residuals } = leastSquares([map.z.map(() => 1), map.x, map.y], map.z);
    const forms = smoothForms(map, { ...noise, standardUncertaintyUm: 100 });
    expect(forms).toHaveLength(1);
    near(
      map.z.map((v, i) => v - forms[0]![i]!),
      residuals,
    );
  });

  it("on a map holds bows and twist together, found exactly where the noise is small", () => {
    const xs = Array.from({ length: 30 }, (_, i) => 50 * (i % 6));
    const ys = xs.map((_, i) => 40 * Math.floor(i / 6));
    const z = xs.map((x, i) => 1e-3 * x * x - 2e-3 * x * ys[i]! + 0.3 * ys[i]!);
    const forms = smoothForms({ x: xs, y: ys, z }, { standardUncertaintyUm: 1e-4, degreesOfFreedom: 30 });
    expect(forms).toHaveLength(3);
    for (const form of forms) near(form, z, 6);
    const [plane] = smoothForms({ x: xs, y: ys, z }, { standardUncertaintyUm: 40, degreesOfFreedom: 30 });
    const { residuals } = leastSquares([xs.map(() => 1), xs, ys], z);
    near(
      z.map((v, i) => v - plane![i]!),
      residuals,
    );
  });

  it("stops at the degree that columns of one and the same place still tell apart", () => {
    // three columns of four rows: x³ is x again over three values
    const xs = Array.from({ length: 24 }, (_, i) => [0, 10, 20][i % 3]!);
    const ys = xs.map((_, i) => 10 * Math.floor(i / 3));
    const z = xs.map((x, i) => (x === 10 ? 5 : 0) + ys[i]! ** 2 / 100);
    const forms = smoothForms({ x: xs, y: ys, z }, { standardUncertaintyUm: 1e-3, degreesOfFreedom: 30 });
    expect(forms).toHaveLength(1);
    near(forms[0]!, z);
    expect(rms(z)).toBeGreaterThan(5);
  });
});
