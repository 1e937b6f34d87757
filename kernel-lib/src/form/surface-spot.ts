import { MeasurementError } from "../measurement-error.js";
import { type Length, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { Surface } from "../survey/surface.js";
import { Input } from "../uncertainty/index.js";
import type { Domain } from "./surface-domain.js";
import type { Heights } from "./surface-method.js";

/** A place on the surface. */
export interface Spot {
  readonly x: Length;
  readonly y: Length;
}

export interface PlaceHeight {
  readonly xMm: number;
  readonly yMm: number;
  readonly meanUm: number;
  readonly uUm: number;
}

/** Heights at places that lie on the surface. @throws MeasurementError `no-surface` */
export function placeHeights(
  name: string,
  domain: Domain,
  spots: readonly Spot[],
  heights: (xMm: readonly number[], yMm: readonly number[]) => Heights,
): readonly PlaceHeight[] {
  const xMm = spots.map(({ x }) => x.in("mm"));
  const yMm = spots.map(({ y }) => y.in("mm"));
  const { meanUm, uUm } = heights(xMm, yMm);
  return spots.map((_, i) => {
    const place = { xMm: xMm[i]!, yMm: yMm[i]!, meanUm: meanUm[i]!, uUm: uUm[i]! };
    const blank = Number.isFinite(place.uUm) ? undefined : "next to a place not probed";
    const why = domain.outside(place.xMm, place.yMm) ?? blank;
    if (why === undefined) return place;
    throw new MeasurementError(
      "no-surface",
      `surface of ${name}: x ${printNumber(place.xMm)} mm, y ${printNumber(place.yMm)} mm lies ${why}; ask for a place on the surface, between the places probed`,
    );
  });
}

/** what readings, drift and form between the places leave open */
export function betweenInput({ noise, caveat }: Surface, source: string, label: string, uUm: number): Input<"length"> {
  return new Input({
    label,
    estimate: um(0),
    standardUncertainty: um(uUm),
    distribution: "normal",
    degreesOfFreedom: noise.degreesOfFreedom,
    evaluation: "A",
    source,
    caveat,
  });
}
