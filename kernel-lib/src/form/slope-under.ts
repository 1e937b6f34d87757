import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { flatness } from "./flatness.js";
import { onOneLine } from "./level-solution.js";
import { partOf, type SurfaceSource, surfaceOf } from "./places.js";
import type { SweepGiven } from "./spindle-tram.js";

/**
 * Slope of the table against travel under a swept circle: the least-squares plane through the places of the map inside it.
 * It is what `spindleTram` takes off for cutting.
 *
 * @param source a map relative to travel
 * @param sweep with its `centre` over the table
 * @throws MeasurementError `centre`, `relative-to`, `too-few-places` where fewer than four places, or places on one line, lie inside
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: 3 * i, count: 2 })));
 * const map = { name: "map", frame, gauge: dial, places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 9 } };
 * form.slopeUnder(map, { name: "head", radius: mm(75), centre: { x: mm(50), y: mm(50) } }).x.in("um/m").toFixed(1) // => "60.0"
 */
export function slopeUnder(
  source: SurfaceSource,
  sweep: Pick<SweepGiven, "name" | "radius" | "centre">,
): NonNullable<SweepGiven["tableSlope"]> {
  const surface = surfaceOf(source);
  const { name, radius, centre } = sweep;
  if (centre === undefined) {
    return refuse(
      "centre",
      `the sweep of ${name} does not say where over the table it was taken; write "# centre: 260, 120" on its sheet, x and y in mm`,
    );
  }
  if (surface.frame.relativeTo !== "travel") {
    return refuse(
      "relative-to",
      `${surface.name} is relative to ${surface.frame.relativeTo}; give a map against travel, as an indicator in the spindle reads it`,
    );
  }
  const inside = surface.places.flatMap(({ xMm, yMm }, i) =>
    Math.hypot(xMm - centre.x.in("mm"), yMm - centre.y.in("mm")) <= radius.in("mm") * (1 + 1e-9) ? [i] : [],
  );
  if (!(inside.length >= 4 && onOneLine(inside.map((i) => surface.places[i]!)) === undefined)) {
    return refuse(
      "too-few-places",
      `${counted(inside.length, "place")} of ${surface.name} under the sweep of ${name}; four are needed at least, off one line: take the tilt of the whole map, or probe more places there`,
    );
  }
  const { tiltX: x, tiltY: y } = flatness(partOf(surface, inside));
  return { x, y };
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `slopeUnder: ${words}`);
}
