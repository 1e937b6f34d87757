import { type Slope, umPerM } from "../quantity/index.js";
import type { Frame, RelativeTo, SurfacePlace } from "../survey/surface.js";

const along = { left: -1, right: 1, front: -1, back: 1 } as const;

/**
 * Where on the map a place lies, for the operator at FRONT: "left front", "right", "middle".
 *
 * The map is cut in thirds each way.
 *
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 100].flatMap((xMm) => [0, 100].map((yMm) => ({ label: "P", xMm, yMm, zUm: 0, count: 1 })));
 * form.placeWords(frame, places, { xMm: 0, yMm: 100 }) // => "left back"
 */
export function placeWords(
  frame: Frame,
  places: readonly SurfacePlace[],
  place: { readonly xMm: number; readonly yMm: number },
): string {
  const x =
    third(
      places.map((p) => p.xMm),
      place.xMm,
    ) * along[frame.plusX];
  const y =
    third(
      places.map((p) => p.yMm),
      place.yMm,
    ) * along[frame.plusY];
  const across = frame.plusX === "left" || frame.plusX === "right" ? x : y;
  const deep = frame.plusX === "left" || frame.plusX === "right" ? y : x;
  const side = ["left", "", "right"][across + 1];
  const depth = ["front", "", "back"][deep + 1];
  return [side, depth].filter(Boolean).join(" ") || "middle";
}

/** What the heights are relative to, in the words that must stand beside every figure of the map.
 * @example form.relativeWords("travel") // => "relative to travel" */
export function relativeWords(relativeTo: RelativeTo): string {
  if (relativeTo === "travel") return "relative to travel";
  return relativeTo === "gravity" ? "relative to gravity" : "relative to the artefact";
}

/** What the peak-to-valley figure may be called: against travel it is no flatness of the surface itself.
 * @example form.formName("gravity") // => "flatness relative to gravity" */
export function formName(relativeTo: RelativeTo): string {
  return relativeTo === "travel"
    ? "flatness relative to travel (the table's form and the straightness of its travel together)"
    : `flatness ${relativeWords(relativeTo)}`;
}

function third(all: readonly number[], value: number): -1 | 0 | 1 {
  const low = Math.min(...all);
  const high = Math.max(...all);
  if (!(high > low)) return 0;
  const part = (value - low) / (high - low);
  return part < 1 / 3 ? -1 : part > 2 / 3 ? 1 : 0;
}

/** "4.2 µm/m", two digits */
export function slopeWords(slope: Slope): string {
  return umPerM(Number(slope.in("um/m").toPrecision(2))).text("um/m");
}
