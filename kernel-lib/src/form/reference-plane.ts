import { MeasurementError } from "../measurement-error.js";
import { bisquareFit, huberFit, leastSquaresPlane, median, orthogonalPlane, trimmedPlane } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";
import { Measured } from "../uncertainty/index.js";
import { mapDoubt, tiltTerms } from "./flatness-terms.js";
import { relativeWords } from "./place-words.js";
import { type Places, placesOf, range, type SurfaceSource, surfaceOf, withOpenFindings } from "./places.js";

/** How a plane is laid through the places. Robust ones keep to the many where some places are damaged. */
export type PlaneFit = "least squares" | "orthogonal" | "huber" | "bisquare" | "trimmed";

const words: { readonly [F in PlaneFit]: string } = {
  "least squares": "plane of least squares, distances along z",
  orthogonal: "plane of least squares, distances square to it",
  huber: "robust plane (Huber)",
  bisquare: "robust plane (bisquare)",
  trimmed: "robust plane (least trimmed squares)",
};

/** A plane through the places of a map, and what stands off it. */
export class ReferencePlane {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly tiltX: Measured<"slope">;
  readonly tiltY: Measured<"slope">;
  /** distance of each place from the plane in µm, along z; for "orthogonal" square to the plane */
  readonly residualsUm: readonly number[];
  /** highest less lowest distance. Only about a plane of least squares or a minimum zone may it be called FLTt */
  readonly width: Length;
  /** places that count for less than a tenth of the others, or not at all */
  readonly setApart: readonly SurfacePlace[];

  /** @internal made by `plane` */
  constructor(
    readonly surface: Surface,
    readonly by: PlaneFit,
    /** slopes in µm per mm, offset in µm at x = y = 0 */
    readonly plane: { readonly slopeX: number; readonly slopeY: number; readonly offset: number },
    places: Places,
    /** what each place counts for, 0 to 1 */
    readonly weights: readonly number[],
  ) {
    const { slopeX, slopeY, offset } = plane;
    const across = by === "orthogonal" ? Math.hypot(1, slopeX / 1000, slopeY / 1000) : 1;
    this.residualsUm = places.z.map((z, i) => (z - slopeX * places.x[i]! - slopeY * places.y[i]! - offset) / across);
    this.width = um(range(this.residualsUm));
    const [termsX, termsY] = tiltTerms(mapDoubt(surface, places), weights);
    this.tiltX = Measured.of(Quantity.fromSi("slope", slopeX / 1000), termsX);
    this.tiltY = Measured.of(Quantity.fromSi("slope", slopeY / 1000), termsY);
    this.setApart = surface.places.filter((_, i) => weights[i]! < 0.1);
    Object.freeze(this);
  }

  /** "above the robust plane (Huber)": stands in titles of pictures */
  get reference(): string {
    return `above the ${words[this.by]}`;
  }

  toString(): string {
    const { setApart, surface, by } = this;
    const apart = setApart.length > 0 ? `; set apart: ${setApart.map((p) => p.label).join(", ")}` : "";
    const named = by === "least squares" ? "" : "; its width bears no FLT name";
    const sentence = `${words[by]}, ${relativeWords(surface.frame.relativeTo)}: tilt along x ${this.tiltX}, along y ${this.tiltY}; highest less lowest place ${this.width.in("um").toFixed(1)} µm${named}${apart}`;
    return withOpenFindings(sentence, surface);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A plane through the places of a map, by the way of fitting named.
 *
 * "least squares" takes distances along z, "orthogonal" square to the plane (on any table the same to far below a
 * nanometre). "huber" counts places that stand off for less, "bisquare" not at all beyond 4.7 scales, "trimmed" starts from the
 * `share` of the places that fit best and takes in all that stand no farther off than three scales: for a damaged corner. U of the tilts is that of the noise with these
 * weights taken as they are, drift and gauge; the choice of the weights is not in it.
 *
 * @param source a map, or a survey that gives one
 * @param options `by`; `share` for "trimmed", 0.5 to 1
 * @throws MeasurementError `too-few-places`, `not-finite`, `same-place`, `on-a-line`, `steep`, `share`
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: i + j + (i * j === 4 ? 50 : 0), count: 2 })));
 * form.plane({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }, { by: "trimmed" }).setApart.map((p) => p.label).join() // => "P22"
 */
export function plane(
  source: SurfaceSource,
  options: { readonly by?: PlaneFit; readonly share?: number } = {},
): ReferencePlane {
  const { by = "least squares", share = 0.75 } = options;
  const surface = surfaceOf(source);
  const places = placesOf("plane", surface);
  if (!(share > 0.5 && share <= 1)) {
    throw new MeasurementError(
      "share",
      `plane: a share of ${share} of the places; give a number from 0.5 to 1, less than half can hide a second plane`,
    );
  }
  const { x, y, z } = places;
  const even = z.map(() => 1);
  if (by === "least squares") return new ReferencePlane(surface, by, leastSquaresPlane(x, y, z), places, even);
  if (by === "orthogonal") {
    const zMm = z.map((v) => v / 1000);
    const { slopeX, slopeY, offset } = orthogonalPlane(x, y, zMm);
    const inUm = { slopeX: 1000 * slopeX, slopeY: 1000 * slopeY, offset: 1000 * offset };
    return new ReferencePlane(surface, by, inUm, places, even);
  }
  if (by === "trimmed") return trimmed(surface, places, share);
  const fit = by === "huber" ? huberFit : bisquareFit;
  const { coefficients, weights } = fit([x, y, even], z, { leastScale: surface.noise.standardUncertaintyUm });
  const [slopeX, slopeY, offset] = coefficients as [number, number, number];
  return new ReferencePlane(surface, by, { slopeX, slopeY, offset }, places, weights);
}

/** least trimmed squares, then least squares over all places within three robust scales of it */
function trimmed(surface: Surface, places: Places, share: number): ReferencePlane {
  const { x, y, z } = places;
  const least = Math.floor((z.length + 4) / 2);
  const first = trimmedPlane(x, y, z, Math.min(z.length, Math.max(least, Math.ceil(share * z.length))));
  const off = z.map((v, i) => Math.abs(v - first.slopeX * x[i]! - first.slopeY * y[i]! - first.offset));
  // median of |r| over the standard deviation of a normal law: 0.6745
  const limit = 3 * Math.max(median(off) / 0.6745, surface.noise.standardUncertaintyUm);
  const weights = off.map((r) => (r <= limit ? 1 : 0));
  const kept = (values: readonly number[]) => values.filter((_, i) => weights[i] === 1);
  return new ReferencePlane(surface, "trimmed", leastSquaresPlane(kept(x), kept(y), kept(z)), places, weights);
}
