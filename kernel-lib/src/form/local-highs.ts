import { huberFit, simultaneousFactor } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";
import { Input, Measured } from "../uncertainty/index.js";
import { connectedGroups, type Pitch, pitchOf } from "./neighbours.js";
import { placeWords, relativeWords } from "./place-words.js";
import { type Places, placesOf, type SurfaceSource, surfaceOf } from "./places.js";
import { legendreProducts } from "./smooth-form.js";

/** A connected area whose places all stand above the robust surface by more than the limit. */
export interface HighArea {
  readonly places: readonly SurfacePlace[];
  /** the highest of them */
  readonly top: SurfacePlace;
  /** how far the top stands above the robust surface */
  readonly height: Measured<"length">;
  /** over the places themselves; the area reaches no further than the next place beyond on each side */
  readonly extentMm: { readonly x: readonly [number, number]; readonly y: readonly [number, number] };
  /** between places that all stand high, straight from one to the next; zero where fewer than three touch */
  readonly volumeAtLeast: Quantity<"volume">;
  /** "left front": the third of the map it lies in */
  readonly where: string;
}

/** Local highs of a map, and the limit beyond which a place counts as one. */
export class LocalHighs {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `localHighs` */
  constructor(
    readonly surface: Surface,
    /** largest height first */
    readonly areas: readonly HighArea[],
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

  toString(): string {
    const count = this.surface.places.length;
    const rule = `a place counts from ${this.limit.in("um").toFixed(1)} µm above the robust surface (${this.factor.toFixed(2)} × ${this.spread.in("um").toFixed(2)} µm; a false alarm anywhere among ${count} places in ${Math.round(this.familyWiseRate * 100)} of 100 maps)`;
    const relative = relativeWords(this.surface.frame.relativeTo);
    if (this.areas.length === 0) return `no local high, ${relative}: ${rule}; smaller than the pitch goes unseen`;
    const listed = this.areas.map((area) => {
      const names = area.places.map((p) => p.label).join(", ");
      return `${area.where} at ${names}: ${area.height} high`;
    });
    return `${this.areas.length === 1 ? "1 local high" : `${this.areas.length} local highs`}, ${relative}: ${listed.join("; ")}; ${rule}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
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
  const places = placesOf("localHighs", surface, 12);
  const { noise } = surface;
  const count = places.z.length;
  const columns = legendreProducts(places.x, places.y, 2);
  const fit = huberFit(columns, places.z, { leastScale: noise.standardUncertaintyUm });
  const ofNoise = fit.scale <= noise.standardUncertaintyUm;
  // the median scale is worth about a third of the degrees of freedom of a standard deviation
  const degreesOfFreedom = ofNoise ? noise.degreesOfFreedom : Math.max(1, Math.round((count - columns.length) * 0.37));
  const factor = simultaneousFactor(count, degreesOfFreedom);
  const spreadAt = fit.leverages.map((h) => fit.scale * Math.sqrt(1 + h));
  const high = fit.residuals.flatMap((r, i) => (r > factor * spreadAt[i]! ? [i] : []));
  const pitch = pitchOf(places);
  const areas = connectedGroups(places, high, pitch)
    .map((group) => areaOf(surface, places, pitch, group, fit.residuals, { spreadAt, degreesOfFreedom, ofNoise }))
    .sort((a, b) => b.height.value.si - a.height.value.si);
  return new LocalHighs(surface, areas, fit.residuals, um(fit.scale), um(factor * fit.scale), factor, 0.05);
}

interface Doubt {
  readonly spreadAt: readonly number[];
  readonly degreesOfFreedom: number;
  readonly ofNoise: boolean;
}

function areaOf(
  surface: Surface,
  places: Places,
  pitch: Pitch,
  group: readonly number[],
  residuals: readonly number[],
  { spreadAt, degreesOfFreedom, ofNoise }: Doubt,
): HighArea {
  const top = group.reduce((best, i) => (residuals[i]! > residuals[best]! ? i : best));
  const spread = new Input({
    label: "place against the robust surface",
    estimate: um(0),
    standardUncertainty: um(spreadAt[top]!),
    distribution: "normal",
    degreesOfFreedom,
    evaluation: "A",
    source: ofNoise ? "noise of the readings" : "unevenness all over the map",
  });
  const ends = (values: readonly number[]) =>
    [Math.min(...group.map((i) => values[i]!)), Math.max(...group.map((i) => values[i]!))] as const;
  const volume = pitch.grid ? volumeBetween(places, pitch, new Map(group.map((i) => [i, residuals[i]!]))) : 0;
  return {
    places: group.map((i) => surface.places[i]!),
    top: surface.places[top]!,
    height: Measured.of(um(residuals[top]!), [{ input: spread, sensitivity: 1 }]),
    extentMm: { x: ends(places.x), y: ends(places.y) },
    volumeAtLeast: Quantity.fromSi("volume", volume * 1e-12),
    where: placeWords(surface.frame, surface.places, surface.places[top]!),
  };
}

/** mm² × µm over the cells of the grid of which three or four corners stand high */
function volumeBetween({ x, y }: Places, pitch: Pitch, heights: ReadonlyMap<number, number>): number {
  const members = [...heights.keys()];
  const at = (px: number, py: number) =>
    members.find((i) => Math.abs(x[i]! - px) < pitch.x / 4 && Math.abs(y[i]! - py) < pitch.y / 4);
  // each cell once: by its corner of least x and y, whether that corner stands high or not
  const cells = new Set(
    members.flatMap((i) => [0, 1].flatMap((a) => [0, 1].map((b) => `${x[i]! - a * pitch.x} ${y[i]! - b * pitch.y}`))),
  );
  let sum = 0;
  for (const cell of cells) {
    const [px, py] = cell.split(" ").map(Number) as [number, number];
    const corners = [0, 1].flatMap((a) => [0, 1].map((b) => at(px + a * pitch.x, py + b * pitch.y)));
    const found = corners.flatMap((i) => (i === undefined ? [] : [heights.get(i)!]));
    const mean = found.reduce((s, h) => s + h, 0) / found.length;
    if (found.length >= 3) sum += mean * pitch.x * pitch.y * (found.length === 4 ? 1 : 0.5);
  }
  return sum;
}
