import { describe, expect, it } from "vitest";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { readPositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { perfectAxis, simulateTests } from "../../kernel-lib/src/axis/simulated-tests.js";
import { gauge, input, mm, slope, um } from "../../kernel-lib/src/index.js";
import { fixture } from "../reference/digits.js";

const truth = fixture<{ axis: { X: { playUm: number } } }>("../../data/truth.json");
const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3), rangePerTurn: um(200) });
const blocks = { name: "gauge blocks", scaleLimit: slope(um(3), mm(300)) };

function small(runs: number, targets: readonly number[], reference = blocks) {
  const readings = Array.from({ length: runs }, (_, r) => r + 1).flatMap((run) => [
    ...targets.map((at) => ({ target: mm(at), direction: "up" as const, run, deviation: um(at / 20 + (run % 2)) })),
    ...targets
      .toReversed()
      .map((at) => ({ target: mm(at), direction: "down" as const, run, deviation: um(at / 20 + 9 - (run % 2)) })),
  ]);
  return positioningTest({ axis: "X", readings, gauge: dial, reference, senseProven: true });
}

describe("the demonstration of X", () => {
  const found = positioning(readPositioning("data/positioning-x.csv"));
  it("gives the planted play back within its uncertainty", () => {
    const [low, high] = found.lostMotion.interval();
    expect(low.in("um")).toBeLessThan(truth.axis.X.playUm);
    expect(high.in("um")).toBeGreaterThan(truth.axis.X.playUm);
  });

  it("meets the standard's count of runs and targets", () => {
    expect(found.shortOfStandard).toEqual([]);
  });

  it("says what a perfect axis would be given", () => {
    expect(found.gaugeAlone.accuracy.in("um")).toBeGreaterThan(4);
    expect(found.notes.join("; ")).toContain("taken to scatter by one step as it states no repeatability");
  });
});

it("says where a test is less than the standard asks for, and evaluates it", () => {
  const found = positioning(small(3, [0, 40, 80]));
  expect(found.shortOfStandard).toEqual([
    "3 runs each way, where the standard asks for 5",
    "3 targets on 80 mm, where the standard asks for 5 (5 a metre, 5 at least)",
  ]);
  expect(found.toString()).toContain("; less than ISO 230-2 asks for");
});

it("lets the reference act on the length between the targets that make a figure, and not on the reversal", () => {
  const bare = positioning(small(5, [0, 100, 200, 300, 400], { name: "gauge blocks" } as typeof blocks));
  const sure = positioning(small(5, [0, 100, 200, 300, 400]));
  const u = (of: typeof sure) => of.systematic.standardUncertainty.in("um");
  // 10 µm/m over 0.4 m, rectangular
  expect(Math.sqrt(u(sure) ** 2 - u(bare) ** 2)).toBeCloseTo(4 / Math.sqrt(3), 3);
  expect(sure.meanReversal.standardUncertainty.in("um")).toBeCloseTo(
    bare.meanReversal.standardUncertainty.in("um"),
    12,
  );
});

it("gives a perfect axis of 10 targets, 5 runs, s = 1 µm the figures of a simulation: R 6.6, A 7.0, B 1.2, E 1.7", () => {
  // simulated elsewhere, no published source
  const law = { meansUm: new Float64Array(20), spreadsUm: new Float64Array(20).fill(1), runs: 5, stepUm: 0, seed: 3 };
  const found = simulateTests({ ...law, trials: 20_000 });
  expect(found.repeatability.mean.toFixed(1)).toBe("6.6");
  expect(found.accuracy.mean.toFixed(1)).toBe("7.0");
  expect(found.reversal.mean.toFixed(1)).toBe("1.2");
  expect(found.systematic.mean.toFixed(1)).toBe("1.7");
  const quick = perfectAxis({ targets: 10, runs: 5, standardDeviation: um(1) });
  expect(quick.accuracy.in("um")).toBeCloseTo(found.accuracy.mean, 0);
});

it("takes a reversal known to lie between 10 and 20 µm as 15 with u = 2.887 (common practice, no source)", () => {
  const lost = input.rectangular({ label: "lost motion", lower: um(10), upper: um(20) });
  expect(lost.estimate.in("um")).toBe(15);
  expect(lost.standardUncertainty.in("um").toFixed(3)).toBe("2.887");
});

it("is the same for the same seed", () => {
  const test = small(4, [0, 50, 100, 150, 200]);
  expect(positioning(test, { seed: 3 }).accuracy.text()).toBe(positioning(test, { seed: 3 }).accuracy.text());
});
