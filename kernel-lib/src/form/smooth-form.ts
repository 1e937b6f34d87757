import { fQuantile, simultaneousFactor } from "../numerics/index.js";
import type { Surface } from "../survey/surface.js";
import { type Places, range } from "./places.js";

/**
 * The form with the noise of the readings taken out, where the peak-to-valley bias is evaluated; then other forms that
 * the same readings would bear, to tell how far the bias hangs on that choice.
 *
 * First: Legendre products of the least total degree that leaves no more than the noise. Where none does, what stands
 * out by more than chance is kept whole and the rest of what is left is shrunk by the share of it that is noise. Others:
 * up to two degrees more, and one that keeps places that may be dings. They serve to size a bias, not to say what lies between the places.
 *
 * @param noise standard deviation of the height of one place in µm, and its degrees of freedom
 * @returns heights at the places in µm, the best form first
 */
export function smoothForms({ x, y, z }: Places, noise: Surface["noise"]): readonly (readonly number[])[] {
  const columns = legendreProducts(x, y, most);
  const byDegree = Array.from({ length: most + 1 }, (_, d) =>
    columns.slice((d * (d + 1)) / 2, ((d + 1) * (d + 2)) / 2),
  );
  return smoothed(byDegree, z, noise, 1);
}

/** The same for values along a line, from Legendre polynomials of the least degree `from` or more. */
export function smoothLines(
  at: readonly number[],
  values: readonly number[],
  noise: Surface["noise"],
  from: 0 | 1,
): readonly (readonly number[])[] {
  const t = scaled(at);
  const byDegree = Array.from({ length: most + 1 }, (_, d) => [t.map((v) => legendre(d, v))]);
  return smoothed(byDegree, values, noise, from);
}

/** no degree above this is tried */
const most = 8;

function smoothed(
  byDegree: readonly (readonly (readonly number[])[])[],
  z: readonly number[],
  noise: Surface["noise"],
  from: 0 | 1,
): readonly (readonly number[])[] {
  const fits = nestedFits(byDegree, z, from);
  let degree: number = from;
  while (degree < most - 2 && fits[degree + 1] && !isNoise(fits[degree]!, noise)) degree++;
  const fit = fits[degree]!;
  const smooth = ({ residuals }: Fit) => z.map((height, i) => height - residuals[i]!);
  const others = [...fits.slice(degree + 1, degree + 3).map(smooth), ...withPeaks(z, fit, noise)];
  if (isNoise(fit, noise)) return [smooth(fit), ...others];
  return [shrunk(z, fit, noise), smooth(fit), ...others];
}

/**
 * The smooth form with those places kept that stand off as far as noise alone puts the farthest of all in half of such
 * maps: each may be a ding too small to be told from noise, and a ding leaves less room for bias.
 */
function withPeaks(z: readonly number[], { residuals }: Fit, noise: Surface["noise"]): readonly (readonly number[])[] {
  const limit = simultaneousFactor(z.length, noise.degreesOfFreedom, 0.5) * noise.standardUncertaintyUm;
  if (!residuals.some((r) => Math.abs(r) > limit)) return [];
  return [z.map((height, i) => (Math.abs(residuals[i]!) > limit ? height : height - residuals[i]!))];
}

/** what a fit leaves */
interface Fit {
  readonly residuals: Float64Array;
  readonly degreesOfFreedom: number;
}

/** Fits of degree 0, 1, 2 …, as far as the places can carry them. */
function nestedFits(
  byDegree: readonly (readonly (readonly number[])[])[],
  z: readonly number[],
  from: 0 | 1,
): readonly Fit[] {
  const basis: Float64Array[] = [];
  const left = Float64Array.from(z);
  const fits: Fit[] = [];
  for (const [degree, columns] of byDegree.entries()) {
    if (degree > from && basis.length + columns.length > 0.6 * z.length) break;
    for (const column of columns) {
      const direction = Float64Array.from(column);
      const size = norm(direction);
      // twice, because once loses digits where columns are nearly parallel
      for (let pass = 0; pass < 2; pass++) for (const q of basis) takeOut(direction, q);
      const rest = norm(direction);
      // the places are too few along one direction to carry this degree
      if (!(rest > 1e-9 * size)) return fits;
      for (let i = 0; i < direction.length; i++) direction[i] = direction[i]! / rest;
      basis.push(direction);
      takeOut(left, direction);
    }
    fits.push({ residuals: left.slice(), degreesOfFreedom: z.length - basis.length });
  }
  return fits;
}

function takeOut(target: Float64Array, unit: Float64Array): void {
  let s = 0;
  for (let i = 0; i < target.length; i++) s += target[i]! * unit[i]!;
  for (let i = 0; i < target.length; i++) target[i] = target[i]! - s * unit[i]!;
}

function norm(values: Float64Array): number {
  let s = 0;
  for (let i = 0; i < values.length; i++) s += values[i]! ** 2;
  return Math.sqrt(s);
}

function shrunk(z: readonly number[], fit: Fit, noise: Surface["noise"]): readonly number[] {
  const limit = simultaneousFactor(z.length, noise.degreesOfFreedom) * noise.standardUncertaintyUm;
  const kept = Array.from(fit.residuals, (r) => Math.abs(r) > limit);
  const rest = fit.residuals.filter((_, i) => !kept[i]);
  const freedom = Math.max(fit.degreesOfFreedom - (z.length - rest.length), 1);
  const meanSquare = rest.reduce((s, r) => s + r * r, 0) / freedom;
  const share = meanSquare > 0 ? Math.max(0, 1 - noise.standardUncertaintyUm ** 2 / meanSquare) : 0;
  return z.map((height, i) => height - fit.residuals[i]! * (kept[i] ? 0 : 1 - share));
}

/** true when what the fit leaves is no more than the noise explains (one-sided, 95 %) */
function isNoise({ residuals, degreesOfFreedom }: Fit, noise: Surface["noise"]): boolean {
  if (degreesOfFreedom < 1) return true;
  // beyond a million the F quantile is the one of an exactly known noise
  const limit = fQuantile(0.95, degreesOfFreedom, Math.min(noise.degreesOfFreedom, 1e6));
  return norm(residuals) ** 2 / degreesOfFreedom <= noise.standardUncertaintyUm ** 2 * limit;
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
