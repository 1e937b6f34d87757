import type { Flatness } from "../form/flatness.js";
import type { ReferencePlane } from "../form/reference-plane.js";
import type { Figure } from "./figure.js";
import { heightMap } from "./height-map.js";
import { heightSurface } from "./height-surface.js";
import type { MapOptions } from "./options.js";

/**
 * Map of the distances from a plane: what is left when the tilt of the table is taken out.
 *
 * @param form as `form.flatness` or `form.plane` gives it
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const flat = form.flatness({ name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } });
 * figure.residualMap(flat).texts.title // => "plate"
 */
export function residualMap(form: Flatness | ReferencePlane, options: Omit<MapOptions, "residuals"> = {}): Figure {
  return heightMap(form.surface, { ...options, residuals: residualsOf(form) });
}

/**
 * The same distances as a surface in three dimensions with its readings.
 *
 * @throws MeasurementError as `heightSurface`
 * @example
 * typeof figure.residualSurface // => "function"
 */
export function residualSurface(
  form: Flatness | ReferencePlane,
  options: Omit<MapOptions, "residuals" | "outlines"> = {},
): Figure {
  return heightSurface(form.surface, { ...options, residuals: residualsOf(form) });
}

function residualsOf(form: Flatness | ReferencePlane): { heightsUm: readonly number[]; reference: string } {
  const reference = "reference" in form ? form.reference : "above the least-squares plane";
  return { heightsUm: form.residualsUm, reference };
}
