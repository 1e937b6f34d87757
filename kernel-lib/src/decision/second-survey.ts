import { MeasurementError } from "../measurement-error.js";
import type { Surface } from "../survey/surface.js";
import type { Setting } from "./setting.js";

/** places closer than this count as one: what a stylus is put back to by hand, common practice, no source */
const samePlaceMm = 1;

/**
 * The second, independent survey at the places of the map, in their order.
 *
 * @throws MeasurementError `same-reference`, `two-frames`, `other-places`
 */
export function secondSurvey({ surface, independent }: Setting & { readonly independent: Surface }): Surface {
  const [a, b] = [surface.frame, independent.frame];
  if (b.relativeTo === "travel" || a.relativeTo !== "travel") {
    refuse(
      "same-reference",
      `${surface.name} is relative to ${a.relativeTo} and ${independent.name} to ${b.relativeTo}; travel and table are told apart by one map against travel and one by level or straightedge, give both`,
    );
  }
  if (a.front !== b.front || a.plusX !== b.plusX || a.plusY !== b.plusY) {
    refuse(
      "two-frames",
      `${surface.name} and ${independent.name} do not have the same FRONT, +X and +Y; check whether one sheet is mirrored or turned round, and state both the same way`,
    );
  }
  const places = surface.places.map(({ xMm, yMm }) =>
    independent.places.findIndex((p) => Math.hypot(p.xMm - xMm, p.yMm - yMm) <= samePlaceMm),
  );
  const missing = places.filter((i) => i < 0).length;
  if (missing > 0) {
    refuse(
      "other-places",
      `${missing} of ${places.length} places of ${surface.name} were not probed in ${independent.name}; probe the same places in both`,
    );
  }
  const { drift } = independent;
  return {
    ...independent,
    places: places.map((i) => independent.places[i]!),
    ...(drift ? { drift: { ...drift, modesUm: drift.modesUm.map((mode) => places.map((i) => mode[i]!)) } } : {}),
  };
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `decision.options: ${sentence}`);
}
