import { describe, expect, it } from "vitest";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { classicalHeights, networkOf, readingsOn } from "./union-jack.js";

const form = (x: number, y: number) => {
  const [u, v] = [(x - 240) / 240, (y - 180) / 180];
  return 9 * u * u - 4 * v * v + 3 * u * v + 2 * u * u * v + 5 * u - 7 * v;
};

/** heights with opposite corners alike, the middle at zero: the datum of the classical arithmetic */
function inClassicalDatum(at: (x: number, y: number) => number): (x: number, y: number) => number {
  const rising = (at(480, 360) - at(0, 0)) / 2;
  const falling = (at(480, 0) - at(0, 360)) / 2;
  const [slopeX, slopeY] = [(rising + falling) / 240, (rising - falling) / 180];
  const middle = at(240, 180);
  return (x, y) => at(x, y) - middle - (slopeX / 2) * (x - 240) - (slopeY / 2) * (y - 180);
}

function heightsIn(readings: readonly (readonly number[])[]): (label: string) => number {
  const network = networkOf(readings);
  const { places } = network.survey;
  const at = (x: number, y: number) =>
    network.heightsUm[places.findIndex((p) => Math.hypot(p.xMm - x, p.yMm - y) < 0.01)]!;
  const datum = inClassicalDatum(at);
  return (label) => {
    const place = places.find((p) => p.label === label)!;
    return datum(place.xMm, place.yMm);
  };
}

describe("a union jack", () => {
  it("comes out as by the classical arithmetic where its readings are consistent, to 1e-9 µm", () => {
    const readings = readingsOn(form);
    const network = heightsIn(readings);
    for (const [label, z] of classicalHeights(readings)) expect(Math.abs(network(label) - z), label).toBeLessThan(1e-9);
  });

  it("closes on the planted heights", () => {
    const readings = readingsOn(form);
    const truth = inClassicalDatum(form);
    const classical = classicalHeights(readings);
    for (const [label, z] of classical) {
      const [x, y] = label.slice(1, -1).split(", ").map(Number);
      expect(z).toBeCloseTo(truth(x!, y!), 9);
    }
    expect(networkOf(readings).greatestClosure!.in("um")).toBeLessThan(1e-9);
  });

  it("has no place with a larger variance than the classical arithmetic gives, found reading by reading", () => {
    const zero = readingsOn(() => 0);
    const variances = new Map<string, [network: number, classical: number]>();
    zero.forEach((line, k) => {
      line.forEach((_, i) => {
        const readings = zero.map((values, j) => values.map((v, n) => (j === k && n === i ? 1 : v)));
        const network = heightsIn(readings);
        for (const [label, z] of classicalHeights(readings)) {
          const [a, b] = variances.get(label) ?? [0, 0];
          variances.set(label, [a + network(label) ** 2, b + z * z]);
        }
      });
    });
    let better = 0;
    for (const [label, [network, classical]] of variances) {
      expect(network, label).toBeLessThanOrEqual(classical + 1e-9);
      better += network < classical - 1e-9 ? 1 : 0;
    }
    console.log(`network has less variance than the classical arithmetic at ${better} of ${variances.size} places`);
    expect(better).toBeGreaterThan(30);
  });

  it("says that a single pass can't be checked, and finds a blunder where the level was turned on every step", () => {
    const stream = randomStream(5);
    const noisy = () => readingsOn(form, () => stream.normal());
    const [readings, turned] = [noisy(), noisy()];
    readings[6]![2]! += 14;
    const single = networkOf(readings);
    expect([single.redundancy, single.suspects.length]).toEqual([2, 0]);
    expect(single.checkText()).toMatch(/of 62 readings can't be checked$/);
    const double = networkOf(readings, turned);
    expect(double.suspects.map(({ line, from }) => [line, from])).toEqual([["middle along x", "(120, 180)"]]);
    expect(double.suspects[0]!.off!.in("um/m")).toBeCloseTo(14, -1);
  });
});
