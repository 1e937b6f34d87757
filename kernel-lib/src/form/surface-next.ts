import { MeasurementError } from "../measurement-error.js";
import { type NextPlace, NextPlaces } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import type { SurfaceMethod } from "./surface-method.js";
import type { SurfaceRaster } from "./surface-raster.js";

/** Places of a raster that lower the mean variance of the whole surface most, each as if those before it were read. */
export function nextOn(
  surface: Surface,
  method: SurfaceMethod,
  raster: SurfaceRaster,
  count: number,
  covariances: (x: readonly number[], y: readonly number[]) => readonly number[] | undefined,
): NextPlaces {
  if (!(Number.isInteger(count) && count >= 1 && count <= 50)) {
    throw new MeasurementError("count", `nextPlaces: ${count} places; give a whole number from 1 to 50`);
  }
  const cells = raster.toArray();
  const given = covariances(
    cells.map(({ xMm }) => xMm),
    cells.map(({ yMm }) => yMm),
  );
  if (given === undefined) {
    throw new MeasurementError(
      "method",
      `nextPlaces: a ${method} surface does not know how its errors go together; take "gaussian process" or "thin-plate spline", or survey.whereNext`,
    );
  }
  const n = cells.length;
  const c = Float64Array.from(given);
  const noise = surface.noise.standardUncertaintyUm ** 2;
  const mean = () => cells.reduce((s, _, i) => s + c[i * (n + 1)]!, 0) / n;
  const before = mean();
  const chosen: NextPlace[] = [];
  let left = before;
  for (let k = 0; k < Math.min(count, n); k++) {
    const best = mostTelling(c, n, noise);
    const { xMm, yMm } = cells[best]!;
    const u = Math.sqrt(Math.max(c[best * (n + 1)]!, 0));
    takeIn(c, n, best, noise);
    const now = mean();
    chosen.push({
      xMm: Math.round(xMm),
      yMm: Math.round(yMm),
      reason: `known to ${u.toFixed(1)} µm (standard uncertainty, without the gauge); a reading here takes ${((100 * (left - now)) / before).toFixed(1)} % off the mean variance of the surface`,
      gain: u / Math.sqrt(before),
    });
    left = now;
  }
  return new NextPlaces(surface.name, chosen);
}

/** the place whose reading lowers the sum of variances most: Σ c² / (variance + noise) */
function mostTelling(c: Float64Array, n: number, noise: number): number {
  let [best, most] = [0, -1];
  for (let i = 0; i < n; i++) {
    let squares = 0;
    for (let j = 0; j < n; j++) squares += c[i * n + j]! ** 2;
    const gain = squares / (c[i * (n + 1)]! + noise);
    // by a margin, so that of two equal ones rounding does not choose
    if (gain > most * (1 + 1e-9)) [best, most] = [i, gain];
  }
  return best;
}

/** the covariances after a reading at place k */
function takeIn(c: Float64Array, n: number, k: number, noise: number): void {
  const row = c.slice(k * n, k * n + n);
  const total = row[k]! + noise;
  for (let i = 0; i < n; i++) {
    const f = row[i]! / total;
    for (let j = 0; j < n; j++) c[i * n + j] = c[i * n + j]! - f * row[j]!;
  }
}
