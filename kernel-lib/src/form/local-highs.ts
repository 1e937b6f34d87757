import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { type LocalArea, localAreas } from "./local-areas.js";
import { relativeWords } from "./place-words.js";
import { type SurfaceSource, surfaceOf, withOpenFindings } from "./places.js";

/** Places of a map that stand off a robust surface on one side, and the limit beyond which a place counts. */
abstract class StandingOff {
  constructor(
    readonly surface: Surface,
    /** the farthest first; the heights of lows are negative */
    readonly areas: readonly LocalArea[],
    /** distance of each place from the robust surface in µm, in the order of the places */
    readonly residualsUm: readonly number[],
    /** standard uncertainty of one place against the robust surface: noise, or the unevenness all over, the larger */
    readonly spread: Length,
    /** spread × factor: what a place must exceed, somewhat more near the edges where the surface is less certain */
    readonly limit: Length,
    readonly factor: number,
    readonly familyWiseRate: number,
  ) {
    Object.freeze(this);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** Local highs of a map, and the limit beyond which a place counts as one; made by `localHighs`. */
export class LocalHighs extends StandingOff {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** of the robust surface; a list of the other side is another type */
  get side(): "above" {
    return "above";
  }

  override toString(): string {
    return withOpenFindings(sentence(this, "high", this.side), this.surface);
  }
}

/**
 * Local highs: places that stand above a robust low-order surface (plane, bow both ways, twist; Huber) by more than a
 * limit that holds for all places together, merged into connected areas.
 *
 * The limit is taken from the noise of the readings or from the unevenness all over the map, whichever is larger: a
 * surface that is rough everywhere has no local highs.
 *
 * @throws MeasurementError `too-few-places` below 12, and as `flatness` does
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2, 3].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: i * j + (i === 1 && j === 2 ? 9 : 0), count: 2 })));
 * form.localHighs({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }).areas.map((area) => area.top.label).join() // => "P12"
 */
export function localHighs(source: SurfaceSource): LocalHighs {
  const surface = surfaceOf(source);
  const { areas, residualsUm, spreadUm, factor } = localAreas("localHighs", surface, 1);
  return new LocalHighs(surface, areas, residualsUm, um(spreadUm), um(factor * spreadUm), factor, familyWiseRate);
}

const familyWiseRate = 0.05;

/** Local lows of a map, and the limit beyond which a place counts as one; made by `localLows`. */
export class LocalLows extends StandingOff {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** of the robust surface; a list of the other side is another type */
  get side(): "below" {
    return "below";
  }

  override toString(): string {
    return withOpenFindings(sentence(this, "low", this.side), this.surface);
  }
}

/**
 * Local lows: places that stand below the robust surface by more than a limit that holds for all places together, merged
 * into connected areas. The counterpart of `localHighs`; swarf and burrs read high only, so that a low is metal missing.
 *
 * @throws MeasurementError `too-few-places` below 12, and as `flatness` does
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2, 3].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: i * j - (i === 1 && j === 2 ? 9 : 0), count: 2 })));
 * form.localLows({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }).areas.map((area) => area.top.label).join() // => "P12"
 */
export function localLows(source: SurfaceSource): LocalLows {
  const surface = surfaceOf(source);
  const { areas, residualsUm, spreadUm, factor } = localAreas("localLows", surface, -1);
  return new LocalLows(surface, areas, residualsUm, um(spreadUm), um(factor * spreadUm), factor, familyWiseRate);
}

function sentence(found: LocalHighs | LocalLows, word: "high" | "low", side: "above" | "below"): string {
  const count = found.surface.places.length;
  const rule = `a place counts from ${found.limit.in("um").toFixed(1)} µm ${side} the robust surface (${found.factor.toFixed(2)} × ${found.spread.in("um").toFixed(2)} µm; a false alarm anywhere among ${count} places in ${Math.round(found.familyWiseRate * 100)} of 100 maps)`;
  const relative = relativeWords(found.surface.frame.relativeTo);
  if (found.areas.length === 0) return `no local ${word}, ${relative}: ${rule}; smaller than the pitch goes unseen`;
  const listed = found.areas.map((area) => {
    const names = area.places.map((p) => p.label).join(", ");
    return `${area.where} at ${names}: ${word === "high" ? area.height : area.height.times(-1)} ${word}`;
  });
  const counted = `${found.areas.length} local ${word}${found.areas.length === 1 ? "" : "s"}`;
  return `${counted}, ${relative}: ${listed.join("; ")}; ${rule}`;
}
