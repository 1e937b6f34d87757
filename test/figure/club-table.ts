import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Frame, Surface } from "../../kernel-lib/src/survey/surface.js";

const frame: Frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };

/** An invented table: 15 × 6 places over 980 mm × 250 mm, hollow along its length, one corner raised. */
export function clubTable(more: Partial<Surface> = {}): Surface {
  const places = Array.from({ length: 90 }, (_, k) => {
    const [i, j] = [k % 15, Math.floor(k / 15)];
    const [x, y] = [i / 14, j / 5];
    const hollow = 14 * ((2 * x - 1) ** 2 - 0.6) + 4 * (y - 0.5);
    const corner = 26 * Math.exp(-((1 - x) ** 2 / 0.02 + (1 - y) ** 2 / 0.08));
    const zUm = Math.round((hollow + corner + 0.6 * Math.sin(7 * k)) * 10) / 10;
    return { label: `${String.fromCharCode(65 + j)}${i + 1}`, xMm: i * 70, yMm: j * 50, zUm, count: 2 };
  });
  return {
    name: "Club mill table, before",
    frame,
    gauge: { name: "lever indicator", resolution: um(1), maximumPermissibleError: um(3) },
    places,
    noise: { standardUncertaintyUm: 0.9, degreesOfFreedom: 90 },
    ...more,
  };
}

/** The same table probed at 40 scattered places. */
export function scatteredTable(): Surface {
  const places = Array.from({ length: 40 }, (_, k) => {
    const [x, y] = [(k * 0.618034) % 1, (k * 0.381966 * 3.7 + 0.13) % 1];
    const zUm = Math.round((14 * ((2 * x - 1) ** 2 - 0.6) + 6 * (y - 0.5)) * 10) / 10;
    return { label: `P${k + 1}`, xMm: Math.round(x * 980), yMm: Math.round(y * 250), zUm, count: 1 };
  });
  return clubTable({ name: "Club mill table, scattered", places });
}
