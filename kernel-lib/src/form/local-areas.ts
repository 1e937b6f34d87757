import { huberFit, simultaneousFactor, tCdf } from "../numerics/index.js";
import { Quantity, um } from "../quantity/index.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";
import { Input, Measured } from "../uncertainty/index.js";
import { gaugeInput } from "./flatness-terms.js";
import { connectedGroups, type Pitch, pitchOf } from "./neighbours.js";
import { placeWords } from "./place-words.js";
import { needMiddle, type Places, placesOf } from "./places.js";
import { legendreProducts } from "./smooth-form.js";

/** A connected area whose places all stand above the robust surface, or all below it, by more than the limit. */
export interface LocalArea {
  readonly places: readonly SurfacePlace[];
  /** the highest of them; of a low the lowest */
  readonly top: SurfacePlace;
  /** how far the top stands above the robust surface; negative for a low */
  readonly height: Measured<"length">;
  /** chance that readings or unevenness alone put one of all places that far off */
  readonly chance: number;
  /** over the places themselves; the area reaches no further than the next place beyond on each side */
  readonly extentMm: { readonly x: readonly [number, number]; readonly y: readonly [number, number] };
  /** between places that all stand off, straight from one to the next; zero where fewer than three touch */
  readonly volumeAtLeast: Quantity<"volume">;
  /** "left front": the third of the map it lies in */
  readonly where: string;
}

/** What a search for areas found, and the limit beyond which a place counts. */
export interface Found {
  /** farthest off first */
  readonly areas: readonly LocalArea[];
  readonly residualsUm: readonly number[];
  /** standard uncertainty of one place against the robust surface, µm */
  readonly spreadUm: number;
  readonly factor: number;
}

/** Areas that stand off a robust low-order surface (plane, bow both ways, twist; Huber) to one side of it. */
export function localAreas(where: string, surface: Surface, side: 1 | -1): Found {
  const places = placesOf(where, surface, 12);
  needMiddle(where, surface, places);
  const { noise } = surface;
  const count = places.z.length;
  const columns = legendreProducts(places.x, places.y, 2);
  const fit = huberFit(columns, places.z, { leastScale: noise.standardUncertaintyUm });
  const ofNoise = fit.scale <= noise.standardUncertaintyUm;
  // the median scale is worth about a third of the degrees of freedom of a standard deviation
  const degreesOfFreedom = ofNoise ? noise.degreesOfFreedom : Math.max(1, Math.round((count - columns.length) * 0.37));
  const factor = simultaneousFactor(count, degreesOfFreedom);
  const spreadAt = fit.leverages.map((h) => fit.scale * Math.sqrt(1 + h));
  const off = fit.residuals.flatMap((r, i) => (side * r > factor * spreadAt[i]! ? [i] : []));
  const pitch = pitchOf(places);
  const areas = connectedGroups(places, off, pitch)
    .map((group) => areaOf(surface, places, pitch, group, fit.residuals, { spreadAt, degreesOfFreedom, ofNoise, side }))
    .sort((a, b) => Math.abs(b.height.value.si) - Math.abs(a.height.value.si));
  return { areas, residualsUm: fit.residuals, spreadUm: fit.scale, factor };
}

interface Doubt {
  readonly spreadAt: readonly number[];
  readonly degreesOfFreedom: number;
  readonly ofNoise: boolean;
  readonly side: 1 | -1;
}

function areaOf(
  surface: Surface,
  places: Places,
  pitch: Pitch,
  group: readonly number[],
  residuals: readonly number[],
  { spreadAt, degreesOfFreedom, ofNoise, side }: Doubt,
): LocalArea {
  const top = group.reduce((best, i) => (side * residuals[i]! > side * residuals[best]! ? i : best));
  const spread = new Input({
    label: "place against the robust surface",
    estimate: um(0),
    standardUncertainty: um(spreadAt[top]!),
    distribution: "normal",
    degreesOfFreedom,
    evaluation: "A",
    source: ofNoise ? "noise of the readings" : "unevenness all over the map",
    caveat: surface.caveat,
  });
  const ends = (values: readonly number[]) =>
    [Math.min(...group.map((i) => values[i]!)), Math.max(...group.map((i) => values[i]!))] as const;
  const volume = pitch.grid ? volumeBetween(places, pitch, new Map(group.map((i) => [i, side * residuals[i]!]))) : 0;
  return {
    places: group.map((i) => surface.places[i]!),
    top: surface.places[top]!,
    // the limit of what stands off needs no gauge: a smooth error of its own is in the robust surface too; the size does
    height: Measured.of(um(residuals[top]!), [
      { input: spread, sensitivity: 1 },
      { input: gaugeInput(surface, "gauge, error between the place and its surroundings"), sensitivity: 1 },
    ]),
    // one place as far, either way: t; any of all places: Šidák
    chance: -Math.expm1(
      surface.places.length *
        Math.log1p(-Math.min(1, 2 * tCdf(-Math.abs(residuals[top]!) / spreadAt[top]!, degreesOfFreedom))),
    ),
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
