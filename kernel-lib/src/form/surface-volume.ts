import { MeasurementError } from "../measurement-error.js";
import { normalCdf } from "../numerics/index.js";
import { type Length, Quantity } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { Input, Measured } from "../uncertainty/index.js";
import { gaugeInput } from "./flatness-terms.js";
import type { SurfaceRaster } from "./surface-raster.js";

type Covariances = (x: readonly number[], y: readonly number[]) => readonly number[] | undefined;

/**
 * Volume above a level: each cell adds what is to be expected above it with the doubt of its height, and weighs with its
 * chance to stand above. Errors of neighbouring cells go together as the method says; where it does not, as if all were one,
 * which is an upper bound.
 */
export function volumeOver(
  surface: Surface,
  raster: SurfaceRaster,
  level: Length,
  of: Covariances,
): Measured<"volume"> {
  if (!(level instanceof Quantity && level.kind === "length")) {
    throw new MeasurementError("level", `volumeAbove: the level is ${String(level)}; give a length, such as um(10)`);
  }
  const cells = raster.toArray();
  const levelUm = level.in("um");
  const gaugeUm = surface.gauge.maximumPermissibleError.in("um") / Math.sqrt(3);
  const chances = cells.map(({ heightUm, uUm }) => normalCdf((heightUm - levelUm) / uUm));
  const expected = cells.reduce((s, { heightUm, uUm }, i) => {
    const t = (heightUm - levelUm) / uUm;
    return s + (heightUm - levelUm) * chances[i]! + (uUm * Math.exp((-t * t) / 2)) / Math.sqrt(2 * Math.PI);
  }, 0);
  const own = cells.map(({ uUm }) => Math.sqrt(Math.max(uUm ** 2 - gaugeUm ** 2, 0)));
  const together = covered(cells, chances, own, of);
  // µm × mm² are 1e-12 m³
  const unit = raster.cellMm2 * 1e-12;
  const heights = new Input({
    label: "heights: readings, drift and form between the places",
    estimate: Quantity.fromSi("number", 0),
    standardUncertainty: Quantity.fromSi("number", 1),
    distribution: "normal",
    degreesOfFreedom: surface.noise.degreesOfFreedom,
    evaluation: "A",
    source: "surface between the places",
    caveat: surface.caveat,
  });
  return Measured.of(Quantity.fromSi("volume", expected * unit), [
    { input: heights, sensitivity: together * unit },
    {
      input: gaugeInput(surface, "gauge, error of the heights"),
      sensitivity: chances.reduce((s, p) => s + p, 0) * unit * 1e6,
    },
  ]);
}

/** standard uncertainty of the weighted sum of the heights, µm */
function covered(
  cells: readonly { readonly xMm: number; readonly yMm: number }[],
  weights: readonly number[],
  uUm: readonly number[],
  of: Covariances,
): number {
  // cells with next to no chance change nothing
  const kept = weights.flatMap((w, i) => (w > 1e-4 ? [i] : []));
  if (kept.length === 0) return 0;
  const found = of(
    kept.map((i) => cells[i]!.xMm),
    kept.map((i) => cells[i]!.yMm),
  );
  if (found === undefined) return kept.reduce((s, i) => s + weights[i]! * uUm[i]!, 0);
  let sum = 0;
  kept.forEach((i, a) => {
    kept.forEach((j, b) => {
      sum += weights[i]! * weights[j]! * found[a * kept.length + b]!;
    });
  });
  return Math.sqrt(Math.max(sum, 0));
}
