import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface, SurfacePlace } from "../../kernel-lib/src/survey/surface.js";

export type Form = (xMm: number, yMm: number) => number;

const columns = 10;
const rows = 9;

/** places of a 450 × 320 mm map, 50 × 40 mm apart: A1 … J9 */
export const grid: readonly { readonly label: string; readonly xMm: number; readonly yMm: number }[] = Array.from(
  { length: columns * rows },
  (_, i) => ({
    label: `${String.fromCharCode(65 + (i % columns))}${Math.floor(i / columns) + 1}`,
    xMm: 50 * (i % columns),
    yMm: 40 * Math.floor(i / columns),
  }),
);

/** forms whose truth is known: heights in µm over the map */
export const forms: Readonly<Record<string, Form>> = {
  flat: (x, y) => 0.02 * x - 0.01 * y,
  bow: (x) => 0.03 * x + 20 * (1 - ((x - 225) / 225) ** 2),
  "bow and twist": (x, y) => 12 * ((y - 160) / 160) ** 2 + 8 * ((x - 225) / 225) * ((y - 160) / 160),
  "worn corner": (x, y) => -25 * Math.exp(-((x / 150) ** 2 + (y / 120) ** 2)),
  waves: (x, y) => 6 * Math.sin(x / 60) + 4 * Math.cos(y / 50),
};

/** forms so small against the noise that the correction may take too much or too little */
export const slightForms: Readonly<Record<string, Form>> = {
  "slight bow": (x) => 3 * (1 - ((x - 225) / 225) ** 2),
  "half a noise of bow": (x) => 1.5 * (1 - ((x - 225) / 225) ** 2),
};

/** one place that stands off by about what can be told from noise */
export const ding: Form = (x, y) => (x === 200 && y === 160 ? 8 : 0);

export interface Planted {
  readonly form: Form;
  /** standard deviation of one reading, µm */
  readonly noiseUm: number;
  /** readings of each place */
  readonly passes: number;
  readonly seed: number;
}

/** A map as it would be found, and its heights without any error. */
export function planted({ form, noiseUm, passes, seed }: Planted): { surface: Surface; truth: readonly number[] } {
  const stream = randomStream(seed);
  const truth = grid.map(({ xMm, yMm }) => form(xMm, yMm));
  let squares = 0;
  const places: SurfacePlace[] = grid.map((place, i) => {
    const readings = Array.from({ length: passes }, () => truth[i]! + noiseUm * stream.normal());
    const mean = readings.reduce((s, r) => s + r, 0) / passes;
    squares += readings.reduce((s, r) => s + (r - mean) ** 2, 0);
    return { ...place, zUm: mean, count: passes };
  });
  const degreesOfFreedom = grid.length * (passes - 1);
  const noise = { standardUncertaintyUm: Math.sqrt(squares / degreesOfFreedom / passes), degreesOfFreedom };
  return { surface: mapOf(places, noise), truth };
}

/** A map of given places; the gauge's own error is next to nothing so that the noise stands alone. */
export function mapOf(
  places: readonly SurfacePlace[],
  noise: Surface["noise"] = { standardUncertaintyUm: 1, degreesOfFreedom: 90 },
  relativeTo: Surface["frame"]["relativeTo"] = "gravity",
): Surface {
  return {
    name: "planted map",
    frame: { relativeTo, front: "y-", plusX: "right", plusY: "back" },
    gauge: { name: "gauge", resolution: um(0.001), maximumPermissibleError: um(0.001) },
    places,
    noise,
  };
}
