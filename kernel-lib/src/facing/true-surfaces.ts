import { placesOf } from "../form/places.js";
import { legendreProducts } from "../form/smooth-form.js";
import { MeasurementError } from "../measurement-error.js";
import {
  cholesky,
  leastSquares,
  median,
  type RandomStream,
  randomStream,
  simultaneousFactor,
} from "../numerics/index.js";
import type { Surface } from "../survey/surface.js";

/** What a map of heights leaves open: true surfaces that fit the readings, drawn one after the other. */
export interface TrueSurfaces {
  /** smooth form plus what of the residuals is more than noise, µm, one per place of the map */
  readonly likelyUm: readonly number[];
  /** smooth form alone, µm: what would be there without the local highs and lows */
  readonly smoothUm: readonly number[];
  /** index of each place that stands out of the smooth form beyond the simultaneous limit */
  readonly standsOut: readonly number[];
  /** number k ≥ 0 gives the same surface each time; heights in µm, one per place, and its smooth form */
  draw(k: number): DrawnSurface;
}

export interface DrawnSurface {
  readonly heightUm: readonly number[];
  readonly smoothUm: readonly number[];
  /** the same draw without the error of the gauge: how one more survey by this gauge would find it, but for its own noise and drift */
  readonly seenUm: readonly number[];
  /** the same draw with the local unevenness alone in doubt: heights and smooth form, µm. What else is in doubt (form,
   * drift, gauge, single places) is in the readings already, and makes a peak-to-valley of them greater on the whole. */
  readonly likely: { readonly heightUm: readonly number[]; readonly smoothUm: readonly number[] };
  /** What the errors make of a figure counts so many times in this draw, about once: see `weightOf`. */
  readonly weight: number;
}

/**
 * Doubt of a map: draws of the true surface, given its noisy readings.
 *
 * A peak-to-valley taken from noisy heights is biased high, and drawing noise *around* noisy heights biases it twice.
 * So the heights are denoised first: a low polynomial by least squares, then each residual is drawn towards it by the
 * share of its variance that is noise; a place that stands out beyond the limit keeps its reading. Draws are made about
 * that surface with the variance that is left, the doubt of the polynomial, and one smooth error of the gauge over its
 * own reading within ± its maximum permissible error. Form finer than the pitch is not in it.
 *
 * @throws MeasurementError `few-repeats` and what a map is refused for in `form.flatness`
 */
export function trueSurfaces(where: string, surface: Surface, seed: number): TrueSurfaces {
  const z = placesOf(where, surface).z;
  const noise = noiseOfOnePlace(where, surface);
  const { columns, kept, standsOut } = smoothBasis(surface, z, noise);
  const fit = leastSquares(
    columns.map((c) => kept.map((i) => c[i]!)),
    kept.map((i) => z[i]!),
  );
  const localVariance = Math.max(0, (fit.degreesOfFreedom > 0 ? fit.residualStandardDeviation ** 2 : 0) - noise ** 2);
  const share = noise > 0 ? localVariance / (localVariance + noise ** 2) : 1;
  const out = new Set(standsOut);
  const smooth = evaluate(columns, fit.coefficients);
  const factor = cholesky(fit.covarianceFactor);
  const total = Math.sqrt(localVariance + noise ** 2);
  const likelyUm = z.map((height, i) => (out.has(i) ? height : smooth[i]! + share * (height - smooth[i]!)));
  return {
    smoothUm: smooth,
    likelyUm,
    standsOut,
    draw(k) {
      const random = randomStream(seed, k);
      const shifts = coefficientShift(factor, total, random);
      const form = evaluate(
        columns,
        fit.coefficients.map((c, j) => c + shifts[j]!),
      );
      const error = gaugeError(surface, random);
      const drift = driftOf(surface, random);
      const local = z.map((_, i) => Math.sqrt(out.has(i) ? 1 : share) * noise * random.normal());
      const seenUm = z.map((height, i) => {
        const middle = out.has(i) ? height : form[i]! + share * (height - form[i]!);
        return middle + local[i]! + drift[i]!;
      });
      const heightUm = z.map((height, i) => seenUm[i]! + error(height));
      const likely = likelyUm.map((height, i) => (out.has(i) ? height : height + local[i]!));
      const smoothUm = form.map((f, i) => f + error(z[i]!) + drift[i]!);
      return { heightUm, smoothUm, seenUm, likely: { heightUm: likely, smoothUm: smooth }, weight: weightOf(seed, k) };
    },
  };
}

/** few repeats know their own scatter badly: a t law's spread instead of the normal's */
function noiseOfOnePlace(where: string, { name, noise }: Surface): number {
  const { standardUncertaintyUm: u, degreesOfFreedom: nu } = noise;
  if (!(u >= 0) || !(nu > 2)) {
    throw new MeasurementError(
      "few-repeats",
      `${where}: the scatter of ${name} rests on ${nu} degrees of freedom; more than 2 are needed: probe the places twice`,
    );
  }
  return u * (Number.isFinite(nu) ? Math.sqrt(nu / (nu - 2)) : 1);
}

/** degree from which the choice starts, where the map can bear it, and the highest that is tried */
const [usual, most] = [3, 6];

/**
 * Legendre products up to the degree that explains the map best for the terms it takes (Schwarz's criterion; a place that
 * is left out counts as a term), third at least where there are 30 places or more; at most two terms for five places.
 */
function smoothBasis(surface: Surface, z: readonly number[], noise: number): Split & { readonly columns: number[][] } {
  const { places } = surface;
  const x = places.map((p) => p.xMm);
  const y = places.map((p) => p.yMm);
  const least = places.length >= 30 ? usual : places.length >= 18 ? 2 : 1;
  const highest = places.length >= 30 ? most : least;
  const tried = [];
  for (let degree = least; degree <= highest; degree++) {
    const columns = legendreProducts(x, y, degree);
    if (degree > least && columns.length > 0.4 * places.length) break;
    try {
      tried.push({ columns, ...split(columns, z, noise) });
    } catch (error) {
      // rows too few along one direction to carry this degree
      if (degree === least || !(error instanceof MeasurementError)) throw error;
      break;
    }
  }
  return tried.reduce((best, one) => (score(one, noise) < score(best, noise) ? one : best));
}

/** Schwarz's criterion, the mean square of what is left not below that of the noise */
function score({ columns, kept, standsOut, sumOfSquares }: Split & { readonly columns: number[][] }, noise: number) {
  const count = kept.length + standsOut.length;
  const meanSquare = Math.max(sumOfSquares / kept.length, noise ** 2, Number.MIN_VALUE);
  return count * Math.log(meanSquare) + (columns.length + standsOut.length) * Math.log(count);
}

interface Split {
  readonly kept: readonly number[];
  readonly standsOut: readonly number[];
  readonly sumOfSquares: number;
}

/** takes out, worst first, the places beyond the limit for all places at once; at most one in eight */
function split(columns: readonly number[][], z: readonly number[], noise: number): Split {
  const limit = simultaneousFactor(z.length);
  const kept = z.map((_, i) => i);
  const standsOut: number[] = [];
  for (;;) {
    const fit = leastSquares(
      columns.map((c) => kept.map((i) => c[i]!)),
      kept.map((i) => z[i]!),
    );
    const sizes = fit.residuals.map((r, i) => Math.abs(r) / Math.sqrt(Math.max(1e-12, 1 - fit.leverages[i]!)));
    const scale = Math.max(noise, 1.4826 * median(sizes));
    const worst = sizes.indexOf(Math.max(...sizes));
    const room = standsOut.length < z.length / 8 && kept.length > columns.length + 2;
    if (!room || !(sizes[worst]! > limit * scale) || scale === 0) {
      return { kept, standsOut: standsOut.toSorted((a, b) => a - b), sumOfSquares: fit.residualSumOfSquares };
    }
    standsOut.push(kept[worst]!);
    kept.splice(worst, 1);
  }
}

function evaluate(columns: readonly number[][], coefficients: readonly number[]): number[] {
  return columns[0]!.map((_, i) => coefficients.reduce((sum, c, j) => sum + c * columns[j]![i]!, 0));
}

function coefficientShift(factor: readonly (readonly number[])[], scale: number, random: RandomStream): number[] {
  const free = factor.map(() => random.normal());
  return factor.map((row) => scale * row.reduce((sum, l, j) => sum + l * free[j]!, 0));
}

/**
 * What the errors make of a figure is worked out on the likely surface, with laws and sizes that are estimates; on the
 * true one it may be more or less. Taken as known, it left intervals a tenth too narrow, on invented machines of the laws
 * assumed here as on others (`test/slow/decision-recovery.test.ts`). So it counts 0.2 to 1.8 times, evenly.
 */
function weightOf(seed: number, k: number): number {
  return 0.2 + 1.6 * randomStream(seed, 3 * 2 ** 30 + k).uniform();
}

/** what the datum returns leave open, shared by the places */
function driftOf({ drift, places }: Surface, random: RandomStream): readonly number[] {
  const causes = (drift?.modesUm ?? []).map((mode) => ({ mode, size: random.normal() }));
  return places.map((_, i) => causes.reduce((sum, { mode, size }) => sum + size * mode[i]!, 0));
}

/** One smooth error of the gauge over its own reading: a wave of unknown length, size and place within ± the maximum
 * permissible error. A wave may be as short as a sixth of what was read (a tooth of the gauge) or four times as long. */
function gaugeError({ gauge, places }: Surface, random: RandomStream): (readingUm: number) => number {
  const heights = places.map((p) => p.zUm);
  const span = Math.max(...heights) - Math.min(...heights);
  const size = gauge.maximumPermissibleError.in("um") * (2 * random.uniform() - 1);
  const wave = Math.max(span, 1e-9) * 4 * 24 ** -random.uniform();
  const phase = 2 * Math.PI * random.uniform();
  return (reading) => size * Math.sin((2 * Math.PI * reading) / wave + phase);
}
