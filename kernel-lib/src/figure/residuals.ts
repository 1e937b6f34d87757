import type { Flatness } from "../form/flatness.js";
import type { Figure } from "./figure.js";
import { heightMap } from "./height-map.js";
import { heightSurface } from "./height-surface.js";
import type { MapOptions } from "./options.js";

/**
 * Map of the distances from the least-squares plane: what is left when the tilt of the table is taken out.
 *
 * @param flatness as `form.flatness` gives it
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const flat = form.flatness({ name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } });
 * figure.residualMap(flat).texts.title // => "plate"
 */
export function residualMap(flatness: Flatness, options: Omit<MapOptions, "residuals"> = {}): Figure {
  return heightMap(flatness.surface, { ...options, residuals: residualsOf(flatness) });
}

/**
 * The same distances as a surface in three dimensions with its readings.
 *
 * @throws MeasurementError as `heightSurface`
 * @example
 * typeof figure.residualSurface // => "function"
 */
export function residualSurface(flatness: Flatness, options: Omit<MapOptions, "residuals" | "outlines"> = {}): Figure {
  return heightSurface(flatness.surface, { ...options, residuals: residualsOf(flatness) });
}

function residualsOf({ residualsUm }: Flatness): { heightsUm: readonly number[]; reference: string } {
  return { heightsUm: residualsUm, reference: "above the least-squares plane" };
}
