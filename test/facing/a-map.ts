import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";

/** A map of 13 × 6 places, x 20 to 500 mm, y 20 to 220 mm, with the height given in µm. */
export function aMap(
  height: (x: number, y: number) => number,
  options: { noiseUm?: number; gaugeUm?: number } = {},
): Surface {
  const places = Array.from({ length: 78 }, (_, i) => {
    const [column, row] = [i % 13, Math.floor(i / 13)];
    const [xMm, yMm] = [20 + 40 * column, 20 + 40 * row];
    return { label: `${"ABCDEF"[row]}${column + 1}`, xMm, yMm, zUm: height(xMm, yMm), count: 2 };
  });
  return {
    name: "a map",
    frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
    gauge: { name: "dial", resolution: um(1), maximumPermissibleError: um(options.gaugeUm ?? 0) },
    places,
    noise: { standardUncertaintyUm: options.noiseUm ?? 0, degreesOfFreedom: 75 },
  };
}
