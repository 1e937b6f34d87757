import { display, type MimeBundle } from "../quantity/index.js";
import { printSignificantTwo } from "../quantity/print.js";
import type { Surface } from "../survey/surface.js";
import { pitchOf } from "./neighbours.js";
import { placesOf, type SurfaceSource, surfaceOf } from "./places.js";
import { surface } from "./surface.js";
import type { LeaveOneOut } from "./surface-left-out.js";
import { methodWords, type SurfaceMethod } from "./surface-method.js";

/** The methods on one map, each asked for the places left out by turns. */
export class SurfaceComparison {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `compareSurfaces` */
  constructor(
    readonly surface: Surface,
    /** least missed first; counted over the places that every method can be asked for */
    readonly rows: readonly {
      readonly method: SurfaceMethod;
      readonly places: number;
      readonly missedUm: number;
      /** missed over what the doubt says: near 1 where it is of the right size */
      readonly ratio: number;
    }[],
  ) {
    Object.freeze(this);
  }

  toString(): string {
    const listed = this.rows.map(
      ({ method, missedUm, ratio }) =>
        `${methodWords(method)} ${printSignificantTwo(missedUm)} µm (${printSignificantTwo(ratio)} times its doubt)`,
    );
    return `places of ${this.surface.name} left out by turns are missed by, root mean square over ${this.rows[0]!.places} places: ${listed.join(", ")}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Which way of going between the places says best what a place left out shows.
 *
 * @throws MeasurementError as `surface`
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2, 3, 4].flatMap((i) => [0, 1, 2, 3].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 80 * j, zUm: i * (4 - i), count: 2 })));
 * const map = { name: "map", frame, gauge: gauge({ resolution: um(0.1), maximumPermissibleError: um(0.5) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 12 } };
 * form.compareSurfaces(map).rows.length // => 4
 */
export function compareSurfaces(source: SurfaceSource): SurfaceComparison {
  const map = surfaceOf(source);
  const names: SurfaceMethod[] = ["gaussian process", "thin-plate spline", "triangulated"];
  if (pitchOf(placesOf("compareSurfaces", map, 6)).grid) names.push("bilinear");
  const found = names.map((method) => surface(map, { method }).leaveOneOut());
  const common = found.reduce<readonly string[]>(
    (kept, { places }) => kept.filter((label) => places.some((place) => place.label === label)),
    map.places.map(({ label }) => label),
  );
  const rows = found.map((one) => rowOf(one, new Set(common)));
  return new SurfaceComparison(
    map,
    rows.sort((a, b) => a.missedUm - b.missedUm),
  );
}

function rowOf({ method, places }: LeaveOneOut, common: ReadonlySet<string>): SurfaceComparison["rows"][number] {
  const kept = places.filter(({ label }) => common.has(label));
  const mean = (values: readonly number[]) => Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length);
  return {
    method,
    places: kept.length,
    missedUm: mean(kept.map(({ residualUm }) => residualUm)),
    ratio: mean(kept.map(({ residualUm, standardDeviationUm }) => residualUm / standardDeviationUm)),
  };
}
