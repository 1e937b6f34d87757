import { type SurfaceSource, surfaceOf } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import { type RandomStream, randomStream } from "../numerics/index.js";
import type { Length } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { type BeddingNet, bedOf } from "./bedding-net.js";
import { mapWeights } from "./map-weights.js";
import type { Plate } from "./plate.js";
import { areaText, outline } from "./reach.js";
import { trueSurfaces } from "./true-surfaces.js";

/** What is known of the plate's underside. */
export type Underside =
  | {
      /** flat within this, peak to valley, of a form not known: stress-relieved, skimmed or rocked on a surface plate */ readonly flatWithin: Length;
    }
  | {
      /** its map, in the coordinates in which the plate will lie: positive stands proud, towards the table */
      readonly map: SurfaceSource;
    };

/** Heights that the plate lies on, likely and drawn: table and underside together, mm at each node. */
export interface Bed {
  readonly likelyMm: Float64Array;
  /** `wide` with all that is in doubt; `likely` with what the readings do not hold already: local unevenness, an underside not mapped */
  draw(k: number): DrawnBed;
}

export interface DrawnBed {
  readonly wideMm: Float64Array;
  readonly likelyMm: Float64Array;
}

/**
 * What lies under the plate: the map of the table with its doubt, the underside with its own.
 *
 * @throws MeasurementError `not-probed`, `different-frames`, `not-positive`, `few-repeats`
 */
export function bedUnder(map: Surface, net: BeddingNet, underside: Underside, seed: number): Bed {
  const table = trueSurfaces("facing.bedding", map, seed);
  const below = undersideOf(map, net, underside, seed);
  const sum = (a: Float64Array, b: Float64Array) => a.map((v, k) => v + b[k]!);
  return {
    likelyMm: sum(bedOf(net, table.likelyUm), below.likelyMm),
    draw: (k) => {
      const [above, under] = [table.draw(k), below.draw(k)];
      return {
        wideMm: sum(bedOf(net, above.heightUm), under.wideMm),
        likelyMm: sum(bedOf(net, above.likely.heightUm), under.likelyMm),
      };
    },
  };
}

/** @throws MeasurementError `not-probed` */
export function needProbed(plate: Plate, map: Surface): void {
  const probed = outline(map);
  const { area } = plate;
  const out = Math.max(
    probed.xFrom.si - area.xFrom.si,
    area.xTo.si - probed.xTo.si,
    probed.yFrom.si - area.yFrom.si,
    area.yTo.si - probed.yTo.si,
  );
  // places stand 10 mm and more from the edges of a table
  if (out <= 0.015) return;
  throw new MeasurementError(
    "not-probed",
    `facing.bedding: the plate lies at ${areaText(area)}, up to ${(1000 * out).toFixed(0)} mm beyond the places of ${map.name} (${areaText(probed)}); probe the table there or move the plate`,
  );
}

function undersideOf(map: Surface, net: BeddingNet, underside: Underside, seed: number): Bed {
  if ("map" in underside) return mappedUnderside(map, net, surfaceOf(underside.map), seed);
  const within = underside.flatWithin.in("mm");
  if (!(within > 0)) {
    throw new MeasurementError(
      "not-positive",
      `facing.bedding: an underside flat within ${underside.flatWithin.text()} is not known so well; give what a rock test with feelers or a surface plate says`,
    );
  }
  return {
    likelyMm: new Float64Array(net.xMm.length),
    draw: (k) => {
      const form = unknownForm(net, within, randomStream(seed, 1_000_000 + k));
      return { wideMm: form, likelyMm: form };
    },
  };
}

function mappedUnderside(table: Surface, net: BeddingNet, under: Surface, seed: number): Bed {
  const [a, b] = [table.frame, under.frame];
  const words = ({ relativeTo, front, plusX, plusY }: typeof a) =>
    `relative to ${relativeTo}, FRONT ${front.replace("-", "−")}, +X ${plusX}, +Y ${plusY}`;
  if (a.relativeTo !== b.relativeTo || a.front !== b.front || a.plusX !== b.plusX || a.plusY !== b.plusY) {
    throw new MeasurementError(
      "different-frames",
      `facing.bedding: ${table.name} is ${words(a)} and ${under.name} is ${words(b)}; heights of two frames are not added: survey both against the same, or give flatWithin for the underside`,
    );
  }
  const weights = mapWeights(under);
  const shares = net.xMm.map((x, k) => weights(x, net.yMm[k]!));
  const at = (heightsUm: readonly number[]) => bedOf({ ...net, under: shares }, heightsUm);
  const doubt = trueSurfaces("facing.bedding", under, seed + 1);
  return {
    likelyMm: at(doubt.likelyUm),
    draw: (k) => {
      const drawn = doubt.draw(k);
      return { wideMm: at(drawn.heightUm), likelyMm: at(drawn.likely.heightUm) };
    },
  };
}

/** bow along x, bow along y and twist in any mix, anything up to the limit from peak to valley */
function unknownForm({ net, xMm, yMm }: BeddingNet, withinMm: number, random: RandomStream): Float64Array {
  const [a, b, c] = [random.normal(), random.normal(), random.normal()];
  const size = withinMm * random.uniform();
  const form = Float64Array.from(xMm, (x, k) => {
    const u = (2 * (x - xMm[0]!)) / net.lengthMm - 1;
    const v = (2 * (yMm[k]! - yMm[0]!)) / net.widthMm - 1;
    return a * u * u + b * v * v + c * u * v;
  });
  const span = Math.max(...form) - Math.min(...form);
  return form.map((v) => (v * size) / span);
}
