import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";

/** What repeated runs up and down say, in the unit of the deviations; the letters are those of ISO 230-2. */
export interface PositioningFigures {
  /** per position: mean deviation and standard deviation (n − 1) of each direction, B_i, R_i */
  readonly meanUp: readonly number[];
  readonly meanDown: readonly number[];
  readonly deviationUp: readonly number[];
  readonly deviationDown: readonly number[];
  readonly reversals: readonly number[];
  readonly repeatabilities: readonly number[];
  /** B: greatest reversal without its sign */
  readonly reversal: number;
  readonly meanReversal: number;
  readonly systematicUp: number;
  readonly systematicDown: number;
  readonly systematic: number;
  readonly meanDeviation: number;
  readonly repeatabilityUp: number;
  readonly repeatabilityDown: number;
  readonly repeatability: number;
  readonly accuracyUp: number;
  readonly accuracyDown: number;
  readonly accuracy: number;
}

/**
 * All figures of a bidirectional positioning test, from readings in any order.
 *
 * Per position i and direction: mean deviation and s (n − 1); B_i = mean↑ − mean↓; R_i = max(2s_i↑ + 2s_i↓ + |B_i|, 4s_i↑,
 * 4s_i↓). For the axis: B = max |B_i|, E = range of the means of both directions, M = range of the bidirectional means,
 * R = max R_i, A = max(mean + 2s) − min(mean − 2s); E, R, A of one direction likewise.
 *
 * @param positions number of the target of each reading, from 0
 * @param directions 0 for a reading that was approached upwards, 1 for one approached downwards
 * @param deviations actual − target of each reading, in any one unit; that of the results
 * @param count how many targets there are
 * @throws MeasurementError `positioning-readings` for a number that is no target or no direction, a deviation that is no
 *   number, or fewer than two readings at a target in one direction
 * @see ISO 230-2:2014, formulas from memory
 * @example
 * axis.positioningFigures([0, 0, 0, 0], [0, 0, 1, 1], [1, 1, -2, -2], 1).reversal // => 3
 */
export function positioningFigures(
  positions: ArrayLike<number>,
  directions: ArrayLike<number>,
  deviations: ArrayLike<number>,
  count: number,
): PositioningFigures {
  // of each cell: how many, sum and squares of the distances from its first reading, that reading. The first reading is
  // one of the sample, so that no more than a factor of the number of readings is lost to cancellation
  const sums = new Float64Array(8 * count);
  for (let i = 0; i < deviations.length; i++) {
    const position = positions[i]!;
    const direction = directions[i]!;
    const deviation = deviations[i]!;
    if (!(position >>> 0 === position && position < count && (direction === 0 || direction === 1))) {
      badCell(i, position, direction);
    }
    const at = (direction === 0 ? position : count + position) << 2;
    if (sums[at] === 0) sums[at + 3] = deviation;
    const off = deviation - sums[at + 3]!;
    sums[at] = sums[at]! + 1;
    sums[at + 1] = sums[at + 1]! + off;
    sums[at + 2] = sums[at + 2]! + off * off;
  }
  const means = new Float64Array(2 * count);
  const spreads = new Float64Array(2 * count);
  for (let c = 0; c < means.length; c++) {
    const runs = sums[4 * c]!;
    if (!(runs >= 2)) tooFew(c, count, runs);
    const shift = sums[4 * c + 1]! / runs;
    means[c] = sums[4 * c + 3]! + shift;
    spreads[c] = Math.sqrt(Math.max(sums[4 * c + 2]! - shift * sums[4 * c + 1]!, 0) / (runs - 1));
  }
  return figuresOf(means, spreads, count);
}

/** The figures of means and standard deviations, up before down. */
export function figuresOf(means: Float64Array, spreads: Float64Array, count: number): PositioningFigures {
  // pushed one by one: several times quicker than a copy of a typed array
  const meanUps: number[] = [];
  const meanDowns: number[] = [];
  const deviationUp: number[] = [];
  const deviationDown: number[] = [];
  const reversals: number[] = [];
  const repeatabilities: number[] = [];
  const up = new Extremes();
  const down = new Extremes();
  const middle = new Extremes();
  let [reversal, sum, repeatability] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const [meanUp, meanDown, sUp, sDown] = [means[i]!, means[count + i]!, spreads[i]!, spreads[count + i]!];
    up.add(meanUp, sUp);
    down.add(meanDown, sDown);
    middle.add((meanUp + meanDown) / 2, 0);
    const difference = meanUp - meanDown;
    const within = Math.max(2 * sUp + 2 * sDown + Math.abs(difference), 4 * sUp, 4 * sDown);
    meanUps.push(meanUp);
    meanDowns.push(meanDown);
    deviationUp.push(sUp);
    deviationDown.push(sDown);
    reversals.push(difference);
    repeatabilities.push(within);
    reversal = Math.max(reversal, Math.abs(difference));
    repeatability = Math.max(repeatability, within);
    sum += difference;
  }
  const accuracy = Math.max(up.upper, down.upper) - Math.min(up.lower, down.lower);
  if (!Number.isFinite(accuracy)) {
    refuse("a deviation is not a finite number; leave the reading out if it was not taken");
  }
  return {
    meanUp: meanUps,
    meanDown: meanDowns,
    deviationUp,
    deviationDown,
    reversals,
    repeatabilities,
    reversal,
    meanReversal: sum / count,
    systematicUp: up.high - up.low,
    systematicDown: down.high - down.low,
    systematic: Math.max(up.high, down.high) - Math.min(up.low, down.low),
    meanDeviation: middle.high - middle.low,
    repeatabilityUp: 4 * up.spread,
    repeatabilityDown: 4 * down.spread,
    repeatability,
    accuracyUp: up.upper - up.lower,
    accuracyDown: down.upper - down.lower,
    accuracy,
  };
}

/** greatest and least mean, mean ± 2 s, and s of one direction */
class Extremes {
  high = Number.NEGATIVE_INFINITY;
  low = Number.POSITIVE_INFINITY;
  upper = Number.NEGATIVE_INFINITY;
  lower = Number.POSITIVE_INFINITY;
  spread = 0;

  add(mean: number, spread: number): void {
    this.high = Math.max(this.high, mean);
    this.low = Math.min(this.low, mean);
    this.upper = Math.max(this.upper, mean + 2 * spread);
    this.lower = Math.min(this.lower, mean - 2 * spread);
    this.spread = Math.max(this.spread, spread);
  }
}

function badCell(i: number, position: number, direction: number): never {
  return refuse(
    `reading ${i + 1} is of target ${position}, direction ${direction}; number the targets from 0 and give 0 for up, 1 for down`,
  );
}

function tooFew(cell: number, count: number, found: number): never {
  return refuse(
    `target ${(cell % count) + 1} has ${counted(found, "reading")} ${cell < count ? "upwards" : "downwards"}; at least 2 are needed each way, 5 are usual`,
  );
}

function refuse(sentence: string): never {
  throw new MeasurementError("positioning-readings", `positioningFigures: ${sentence}`);
}
