import { MeasurementError } from "../measurement-error.js";
import { fQuantile, type LeastSquares, leastSquares, simultaneousFactor } from "../numerics/index.js";
import type { Surface } from "../survey/surface.js";
import { type Places, range } from "./places.js";

/**
 * The form with the noise of the readings taken out, where the peak-to-valley bias is evaluated; then other forms that
 * the same readings would bear, to tell how far the bias hangs on that choice.
 *
 * First: Legendre products of the least total degree that leaves no more than the noise. Where none does, what stands
 * out by more than chance is kept whole and the rest of what is left is shrunk by the share of it that is noise. Others:
 * up to two degrees more. They serve to size a bias, not to say what lies between the places.
 *
 * @param noise standard deviation of the height of one place in µm, and its degrees of freedom
 * @returns heights at the places in µm, the best form first
 */
export function smoothForms({ x, y, z }: Places, noise: Surface["noise"]): readonly (readonly number[])[] {
  const at = (degree: number) => {
    const columns = legendreProducts(x, y, degree);
    return degree === 1 || columns.length <= 0.6 * z.length ? tryFit(columns, z) : undefined;
  };
  let degree = 1;
  let fit = leastSquares(legendreProducts(x, y, 1), z);
  while (degree < 6 && !isNoise(fit, noise)) {
    const next = at(degree + 1);
    if (next === undefined) break;
    fit = next;
    degree++;
  }
  const others = [at(degree + 1), at(degree + 2)].filter((other) => other !== undefined);
  const smooth = ({ residuals }: LeastSquares) => z.map((height, i) => height - residuals[i]!);
  if (isNoise(fit, noise)) return [smooth(fit), ...others.map(smooth)];
  return [shrunk(z, fit, noise), smooth(fit), ...others.map(smooth)];
}

function shrunk(z: readonly number[], fit: LeastSquares, noise: Surface["noise"]): readonly number[] {
  const limit = simultaneousFactor(z.length, noise.degreesOfFreedom) * noise.standardUncertaintyUm;
  const kept = fit.residuals.map((r) => Math.abs(r) > limit);
  const rest = fit.residuals.filter((_, i) => !kept[i]);
  const freedom = Math.max(fit.degreesOfFreedom - (z.length - rest.length), 1);
  const meanSquare = rest.reduce((s, r) => s + r * r, 0) / freedom;
  const share = meanSquare > 0 ? Math.max(0, 1 - noise.standardUncertaintyUm ** 2 / meanSquare) : 0;
  return z.map((height, i) => height - fit.residuals[i]! * (kept[i] ? 0 : 1 - share));
}

/** true when what the fit leaves is no more than the noise explains (one-sided, 95 %) */
function isNoise(fit: LeastSquares, noise: Surface["noise"]): boolean {
  if (fit.degreesOfFreedom < 1) return true;
  // beyond a million the F quantile is the one of an exactly known noise
  const limit = fQuantile(0.95, fit.degreesOfFreedom, Math.min(noise.degreesOfFreedom, 1e6));
  return fit.residualStandardDeviation ** 2 <= noise.standardUncertaintyUm ** 2 * limit;
}

function tryFit(columns: readonly number[][], z: readonly number[]): LeastSquares | undefined {
  try {
    return leastSquares(columns, z);
  } catch (error) {
    // the places are too few along one direction to carry this degree
    if (error instanceof MeasurementError && error.code === "rank-deficient") return undefined;
    throw error;
  }
}

/** Columns P_i(x) P_j(y), i + j ≤ degree, x and y scaled to −1 … 1 over the places; ordered by total degree. */
export function legendreProducts(x: readonly number[], y: readonly number[], degree: number): number[][] {
  const [u, v] = [scaled(x), scaled(y)];
  const columns: number[][] = [];
  for (let total = 0; total <= degree; total++) {
    for (let j = 0; j <= total; j++) {
      columns.push(u.map((value, i) => legendre(total - j, value) * legendre(j, v[i]!)));
    }
  }
  return columns;
}

/** −1 … 1 over the range of the values */
export function scaled(values: readonly number[]): readonly number[] {
  const low = Math.min(...values);
  const width = range(values);
  return values.map((v) => (width > 0 ? (2 * (v - low)) / width - 1 : 0));
}

function legendre(n: number, x: number): number {
  let before = 1;
  let now = n === 0 ? 1 : x;
  for (let k = 2; k <= n; k++) [before, now] = [now, ((2 * k - 1) * x * now - (k - 1) * before) / k];
  return now;
}
