import { describe, expect, it } from "vitest";
import { boundedMinimum } from "../../kernel-lib/src/numerics/bounded-minimum.js";

const wide = { low: -100, high: 100 };
const parabola = (bend: readonly number[], least: readonly number[]) => (at: readonly number[]) => ({
  value: at.reduce((s, v, i) => s + (bend[i]! * (v - least[i]!) ** 2) / 2, 0),
  gradient: at.map((v, i) => bend[i]! * (v - least[i]!)),
});

describe("a minimum within limits", () => {
  it("follows the parabola back from a step too far", () => {
    // the first step is as long as the slope, 1; of the parabola through it the least lies at a quarter
    const found = boundedMinimum(parabola([4], [0]), [0.25], [wide])!;
    expect(found.at).toEqual([0]);
    expect(found.evaluations).toBe(3);
  });

  it("takes no step that ends higher than it began, however little", () => {
    // the first step, of 1, would end 5 × 10⁻⁵ higher
    const found = boundedMinimum(parabola([2 + 1e-4], [1 / (2 + 1e-4)]), [0], [wide], { most: 1 })!;
    expect(found.at[0]).toBeCloseTo(0.5, 4);
    expect(found.value).toBeLessThan(1e-8);
  });

  it("has the bend of a parabola after the first step, however strong it is", () => {
    for (const bend of [0.01, 1, 400]) {
      const found = boundedMinimum(parabola([bend, bend], [3, -2]), [0, 0], [wide, wide], { tolerance: 1e-9 })!;
      expect(found.at[0]).toBeCloseTo(3, 8);
      expect(found.at[1]).toBeCloseTo(-2, 8);
      expect(found.inverse[0]![0]! * bend).toBeCloseTo(1, 6);
    }
    const steep = boundedMinimum(parabola([400, 400], [3, -2]), [0, 0], [wide, wide])!;
    expect(steep.evaluations).toBeLessThan(9);
  });

  it("begins anew where what is known of the bend leads uphill", () => {
    const found = boundedMinimum(parabola([1, 1], [3, -2]), [0, 0], [wide, wide], {
      inverse: [
        [-1, 0],
        [0, -1],
      ],
    })!;
    expect(found.at[0]).toBeCloseTo(3, 4);
    expect(found.at[1]).toBeCloseTo(-2, 4);
  });

  it("learns no bend from where the function bends the other way", () => {
    const f = ([x]: readonly number[]) => ({ value: -(x! ** 2) / 2, gradient: [-x!] });
    expect(boundedMinimum(f, [0.5], [wide], { most: 1 })!.inverse).toEqual([[1]]);
    expect(boundedMinimum(f, [0.5], [wide])!.at).toEqual([100]);
  });

  it("ends once a step gains no more than rounding", () => {
    const f = ([x]: readonly number[]) => ({ value: 1e6 + Math.cosh(x! - 0.3), gradient: [Math.sinh(x! - 0.3)] });
    const found = boundedMinimum(f, [2], [wide], { tolerance: 0 })!;
    expect(found.at[0]).toBeCloseTo(0.3, 3);
    expect(found.evaluations).toBeLessThan(8);
  });

  it("stands at a limit where the least lies beyond it, and moves along it", () => {
    const f = parabola([1, 9], [-5, 2]);
    const found = boundedMinimum(f, [4, 0], [{ low: -1, high: 8 }, wide], { tolerance: 1e-8 })!;
    expect(found.at[0]).toBe(-1);
    expect(found.at[1]).toBeCloseTo(2, 8);
    const above = boundedMinimum(parabola([1], [50]), [0], [{ low: -1, high: 8 }])!;
    expect(above.at).toEqual([8]);
  });

  it("goes back from where the function has no value, and says nothing where it has none at the start", () => {
    const f = ([x]: readonly number[]) => (x! < 0 ? undefined : { value: (x! - 0.1) ** 2, gradient: [2 * (x! - 0.1)] });
    expect(boundedMinimum(f, [0.5], [wide])!.at[0]).toBeCloseTo(0.1, 4);
    expect(boundedMinimum(f, [-1], [wide])).toBeUndefined();
  });
});
