import type { CovarianceSize, Likelihood, LikelihoodParts } from "./gaussian-likelihood.js";
import { leastSquaresPlane } from "./least-squares-plane.js";
import { range } from "./range.js";

export type SizeBounds = { readonly [K in keyof CovarianceSize]: readonly [least: number, greatest: number] };

export interface FitOptions {
  readonly fitNoise?: boolean;
  readonly isotropic?: boolean;
  readonly start?: Partial<CovarianceSize>;
  readonly bounds?: Partial<SizeBounds>;
}

/** the search runs over logarithms of these: variance, length (x and y), noise where it is fitted */
export interface Search {
  readonly names: readonly (keyof CovarianceSize)[];
  readonly sizeOf: (logs: readonly number[]) => CovarianceSize;
  readonly slopesOf: (gradient: Likelihood["gradient"]) => readonly number[];
  readonly bounds: readonly { readonly low: number; readonly high: number }[];
  readonly starts: readonly (readonly number[])[];
}

/** Limits and starts of the search for the sizes of a covariance. */
export function searchOf(
  { x, y, z }: LikelihoodParts,
  { fitNoise, isotropic, start = {}, bounds = {} }: FitOptions,
): Search {
  const spread = spreadOf(x, y, z);
  const [rx, ry] = [width(range(x)), width(range(y))];
  const root = Math.sqrt(x.length);
  const limits: SizeBounds = {
    variance: [1e-4 * spread, 1e4 * spread],
    lengthX: [rx / root, 10 * rx],
    lengthY: [ry / root, 10 * ry],
    noise: [1e-8 * spread, 10 * spread],
    ...bounds,
  };
  const names: (keyof CovarianceSize)[] = ["variance", "lengthX"];
  if (!isotropic) names.push("lengthY");
  if (fitNoise) names.push("noise");
  const sizeOf = (logs: readonly number[]): CovarianceSize => {
    const value = (name: keyof CovarianceSize) => Math.exp(logs[names.indexOf(name)]!);
    const lengthX = value("lengthX");
    return {
      variance: value("variance"),
      lengthX,
      lengthY: isotropic ? lengthX : value("lengthY"),
      noise: fitNoise ? value("noise") : 0,
    };
  };
  const slopesOf = ([variance, lx, ly, noise]: Likelihood["gradient"]) => {
    const all = { variance, lengthX: isotropic ? lx + ly : lx, lengthY: ly, noise };
    return names.map((name) => all[name]);
  };
  const shares = Object.keys(start).length > 0 ? [0.3] : [0.2, 0.5, 1.5];
  const starts = shares.flatMap((sx) =>
    (isotropic || shares.length === 1 ? [sx] : shares).map((sy) => {
      const usual: CovarianceSize = { variance: spread, lengthX: sx * rx, lengthY: sy * ry, noise: 0.1 * spread };
      return names.map((name) => Math.log(start[name] ?? usual[name]));
    }),
  );
  return {
    names,
    sizeOf,
    slopesOf,
    bounds: names.map((name) => ({ low: Math.log(limits[name][0]), high: Math.log(limits[name][1]) })),
    starts,
  };
}

/** mean square off the plane; 1 where all heights lie on it */
function spreadOf(x: Float64Array, y: Float64Array, z: Float64Array): number {
  const { slopeX, slopeY, offset } = leastSquaresPlane(x, y, z);
  let sum = 0;
  for (let i = 0; i < z.length; i++) sum += (z[i]! - offset - slopeX * x[i]! - slopeY * y[i]!) ** 2;
  return sum > 0 ? sum / z.length : 1;
}

function width([low, high]: readonly [number, number]): number {
  return high - low;
}
