import { tCdf } from "../numerics/distributions.js";
import { detrend, leverages, type Points, trendBasis } from "./trend.js";

/** A value that stands too far out. */
export interface Outlier {
  /** which of the values given */
  readonly index: number;
  /** how far it stands from the trend of the others */
  readonly size: number;
  /** chance of as much anywhere among all the values, with nothing wrong */
  readonly chance: number;
}

export interface OutlierTest {
  readonly points: Points;
  readonly values: ArrayLike<number>;
  readonly degree: number;
  /** smallest step of a value, and the variance that rounding gives it */
  readonly step: number;
  readonly roundingVariance: number;
  /** spread that is not believed to be less */
  readonly leastSpread: number;
  /** chance of a false alarm anywhere */
  readonly familyRate: number;
  /** look for values that stand high only, as swarf does */
  readonly highOnly?: boolean;
  /** how many tests make the family */
  readonly family: number;
}

/**
 * Values that stand out from a smooth trend, several at once (generalised extreme studentised deviate: take away the
 * farthest, again and again, then keep all up to the last that is too far). The spread is that of the values left, so
 * a few bad ones cannot hide themselves.
 *
 * Values read in steps: the chance is averaged over one step of rounding, because rounded readings differ by a whole
 * step far more often than a normal law says.
 *
 * @see Rosner, Technometrics 25 (1983), 165–172, for the procedure; the averaging over a step is ours, proven by
 * simulation in the tests
 */
export function findOutliers(test: OutlierTest): readonly Outlier[] {
  const count = test.values.length;
  let left = Array.from({ length: count }, (_, i) => i);
  const most = Math.min(20, Math.floor(count / 4));
  const taken: Outlier[] = [];
  let last = -1;
  for (let k = 0; k < most; k++) {
    const farthest = farthestOf(test, left);
    if (!farthest) break;
    taken.push(farthest);
    // nothing farther can be hidden behind a value that is not far itself
    if (farthest.spreads < 2.2) break;
    if (farthest.chance <= test.familyRate) last = k;
    left = left.filter((i) => i !== farthest.index);
  }
  return taken.slice(0, last + 1);
}

function farthestOf(test: OutlierTest, left: readonly number[]): (Outlier & { readonly spreads: number }) | undefined {
  const basis = trendBasis(test.points, left, test.degree);
  const degreesOfFreedom = left.length - basis.length - 1;
  if (!(degreesOfFreedom >= 3)) return undefined;
  const values = left.map((i) => test.values[i]!);
  const residuals = detrend(basis, values);
  const h = leverages(basis, left.length);
  let at = -1;
  let size = 0;
  for (let i = 0; i < residuals.length; i++) {
    const far = test.highOnly ? residuals[i]! : Math.abs(residuals[i]!);
    const own = h[i]! < 0.999 ? far / Math.sqrt(1 - h[i]!) : 0;
    if (own > size) [at, size] = [i, own];
  }
  if (at < 0) return undefined;
  const sum = residuals.reduce((total, r) => total + r * r, 0) - size * size;
  const variance = Math.max(sum / degreesOfFreedom - test.roundingVariance, test.leastSpread ** 2, 0);
  const chance =
    (test.highOnly ? 1 : 2) * test.family * steppedTail(size, Math.sqrt(variance), degreesOfFreedom, test.step);
  const spreads = size / Math.sqrt((sum + size * size) / (degreesOfFreedom + 1));
  return { index: left[at]!, size: residuals[at]! / (1 - h[at]!), chance: Math.min(1, chance), spreads };
}

/** mean over one step of the upper tail of Student's t, (1/q) ∫ from r − q to r, by Simpson's rule */
function steppedTail(r: number, spread: number, degreesOfFreedom: number, step: number): number {
  const panels = 16;
  let sum = 0;
  for (let k = 0; k <= panels; k++) {
    const weight = k === 0 || k === panels ? 1 : k % 2 === 1 ? 4 : 2;
    sum += weight * tCdf(-(r - step + (step * k) / panels) / spread, degreesOfFreedom);
  }
  return sum / (3 * panels);
}
