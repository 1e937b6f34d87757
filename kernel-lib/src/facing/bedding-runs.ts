import type { BandMatrix } from "../numerics/band-cholesky.js";
import { leastSquaresPlane, randomStream } from "../numerics/index.js";
import { type Length, um } from "../quantity/index.js";
import type { Bed } from "./bedding-case.js";
import { type BeddingNet, heightsOf } from "./bedding-net.js";
import { quantileOf, standardDeviationOf } from "./draws.js";
import type { HoldDown } from "./hold-down.js";
import { drawnPreloadN } from "./preload.js";
import type { PlateScrew } from "./screw-pattern.js";

/** A figure with the middle 95 % of its draws; the spring-back held the planted value in 39 of 40 invented tables. */
export interface SpreadOf {
  readonly middle: Length;
  readonly low: Length;
  readonly high: Length;
}

/** The gap at a screw. */
export interface ScrewGap {
  readonly screw: PlateScrew;
  /** as the plate lies */
  readonly loose: Length;
  /** what this screw closes when it alone is tightened */
  readonly closesAlone: Length;
  /** with all screws tight */
  readonly tight: Length;
  /** shims to put under the gap beside it; absent up to 20 µm, which a screw closes readily */
  readonly shim?: Length;
}

/** Everything that is computed of a plate on its bed. */
export interface BeddingRuns {
  readonly xMm: readonly number[];
  readonly yMm: readonly number[];
  readonly looseGapMm: readonly number[];
  readonly tightGapMm: readonly number[];
  readonly releasedMm: readonly number[];
  readonly closed: number;
  readonly springBack: SpreadOf;
  readonly offAndOn: SpreadOf;
  readonly screws: readonly ScrewGap[];
  readonly causes: readonly { readonly cause: string; readonly change: Length }[];
}

interface Runs {
  readonly net: BeddingNet;
  readonly stiffness: BandMatrix;
  readonly bed: Bed;
  readonly holdDown: HoldDown;
  readonly seed: number;
  readonly draws: number;
}

export function runBedding(runs: Runs): BeddingRuns {
  const { net, bed, holdDown } = runs;
  const middle = holdDown.preload.force.value.in("N");
  const all = holdDown.plate.screws.map(() => middle);
  const at = (preloadsN: readonly number[], stiffer = 1) =>
    heightsOf(net, runs.stiffness, { bedMm: bed.likelyMm, preloadsN, stiffer });
  const loose = at(all.map(() => 0));
  const tight = at(all);
  const gap = (heights: Float64Array) => heights.map((h, k) => Math.max(0, h - bed.likelyMm[k]!));
  const [looseGapMm, tightGapMm] = [gap(loose), gap(tight)];
  const over = (gaps: Float64Array) => gaps.reduce((sum, g, k) => sum + g * net.areasMm2[k]!, 0);
  const drawn = drawAll(runs, tight);
  return {
    xMm: net.xMm,
    yMm: net.yMm,
    looseGapMm: Array.from(looseGapMm),
    tightGapMm: Array.from(tightGapMm),
    releasedMm: Array.from(offPlane(net, tight), (h) => -h),
    closed: over(looseGapMm) > 0 ? 1 - over(tightGapMm) / over(looseGapMm) : 1,
    springBack: spreadOf(drawn.springBackUm),
    offAndOn: spreadOf(drawn.offAndOnUm),
    screws: screwGaps(runs, looseGapMm, tightGapMm, (s) => gap(at(all.map((force, k) => (k === s ? force : 0))))),
    causes: causesOf(runs, at, standardDeviationOf(drawn.springBackUm)),
  };
}

/** springs back by what it is bent when tight: a top faced flat then shows the bend the other way round */
function springBackUm(net: BeddingNet, tight: Float64Array): number {
  const plane = leastSquaresPlane(net.xMm, net.yMm, tight);
  return (plane.highest - plane.lowest) * 1000;
}

function drawAll({ net, stiffness, bed, holdDown, seed, draws }: Runs, start: Float64Array) {
  const { plate, preload } = holdDown;
  const modulus = plate.material.modulusWithin;
  const thickness = plate.thicknessWithin.si / plate.thickness.si;
  const results = Array.from({ length: draws }, (_, k) => {
    const random = randomStream(seed, 2_000_000 + k);
    const within = () => 2 * random.uniform() - 1;
    const stiffer = (1 + modulus * within()) * (1 + thickness * within()) ** 3;
    const { wideMm: bedMm, likelyMm } = bed.draw(k);
    const tightened = () => {
      const wrench = 1 + preload.screw.wrench * within();
      return plate.screws.map(() => drawnPreloadN(preload, wrench, random));
    };
    const preloadsN = tightened();
    const first = heightsOf(net, stiffness, { bedMm, preloadsN, stiffer, start });
    const likely = heightsOf(net, stiffness, { bedMm: likelyMm, preloadsN, stiffer, start: first });
    const again = heightsOf(net, stiffness, { bedMm, preloadsN: tightened(), stiffer, start: first });
    return {
      // the readings hold the errors of form, drift and gauge already, which make a peak-to-valley greater more often than
      // smaller: what they do to a draw is taken off, not added once more
      springs: Math.max(0, 2 * springBackUm(net, likely) - springBackUm(net, first)),
      moves: springBackUm(
        net,
        first.map((h, i) => h - again[i]!),
      ),
    };
  });
  return { springBackUm: results.map((r) => r.springs), offAndOnUm: results.map((r) => r.moves) };
}

function spreadOf(values: readonly number[]): SpreadOf {
  const sorted = values.toSorted((a, b) => a - b);
  // places in n + 1 parts: so few draws would otherwise leave out more than 5 %
  const at = (p: number) => {
    const part = (p * (sorted.length + 1) - 1) / (sorted.length - 1);
    return um(quantileOf(sorted, Math.min(1, Math.max(0, part))));
  };
  return { middle: at(0.5), low: at(0.025), high: at(0.975) };
}

function screwGaps(
  { net, holdDown }: Runs,
  loose: Float64Array,
  tight: Float64Array,
  alone: (screw: number) => Float64Array,
): readonly ScrewGap[] {
  // the gap beside a screw: mean over the disc that its preload comes on
  const beside = (gaps: Float64Array, s: number) => gaps.reduce((sum, g, k) => sum + g * net.screws[s]![k]!, 0) * 1000;
  return holdDown.plate.screws.map((screw, s) => {
    const before = beside(loose, s);
    const shimUm = Math.floor(before / 10) * 10;
    return {
      screw,
      loose: um(before),
      closesAlone: um(Math.max(0, before - beside(alone(s), s))),
      tight: um(beside(tight, s)),
      ...(before > 20 ? { shim: um(shimUm) } : {}),
    };
  });
}

/** what each cause moves the spring-back by, and what is left for map and underside */
function causesOf(
  { net, holdDown }: Runs,
  at: (preloadsN: readonly number[], stiffer?: number) => Float64Array,
  totalUm: number,
): BeddingRuns["causes"] {
  const { plate, preload } = holdDown;
  const forces = (force: { in(unit: "N"): number }) => plate.screws.map(() => force.in("N"));
  const middle = forces(preload.force.value);
  const half = (a: Float64Array, b: Float64Array) => Math.abs(springBackUm(net, a) - springBackUm(net, b)) / 2;
  const thickness = plate.thicknessWithin.si / plate.thickness.si;
  const modulus = plate.material.modulusWithin;
  const known = [
    { cause: "modulus, between its limits", change: half(at(middle, 1 + modulus), at(middle, 1 - modulus)) },
    {
      cause: "thickness, between its limits",
      change: half(at(middle, (1 + thickness) ** 3), at(middle, (1 - thickness) ** 3)),
    },
    {
      cause: "preload of all screws, low to high",
      change: half(at(forces(preload.low)), at(forces(preload.high))),
    },
  ];
  const rest = Math.sqrt(Math.max(0, totalUm ** 2 - known.reduce((sum, { change }) => sum + change ** 2 / 3, 0)));
  return [
    ...known.map(({ cause, change }) => ({ cause, change: um(change) })),
    { cause: "map of the table and underside (one standard deviation, what is left)", change: um(rest) },
  ];
}

function offPlane(net: BeddingNet, heights: Float64Array): Float64Array {
  const { slopeX, slopeY, offset } = leastSquaresPlane(net.xMm, net.yMm, heights);
  return heights.map((h, k) => h - offset - slopeX * net.xMm[k]! - slopeY * net.yMm[k]!);
}
