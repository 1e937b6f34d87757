import { type SurfaceSource, surfaceOf, withOpenFindings } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import {
  display,
  type Length,
  type MimeBundle,
  mm2,
  Quantity,
  type Area as SurfaceArea,
  um,
  type Volume,
} from "../quantity/index.js";
import type { Surface, SurfacePlace } from "../survey/surface.js";
import { Input, Measured } from "../uncertainty/index.js";
import { cutCautions } from "./cautions.js";
import { cellAreasMm2, nearestPlaces } from "./cell-area.js";
import { meanOf, quantileOf, standardDeviationOf } from "./draws.js";
import { type DrawnSurface, trueSurfaces } from "./true-surfaces.js";

export interface DepthOptions {
  /** of the plate as it lies, where the cut is deepest */
  readonly thickness?: Length;
  /** seed of the simulation; the same seed gives the same figures */
  readonly seed?: number;
  readonly draws?: number;
}

/** The highest place: the cutter meets it first. */
export interface FirstContact {
  readonly place: SurfacePlace;
  /** chance that it is this place that is met first, among those probed */
  readonly chance: number;
  /** height of the highest place in the zero of the map */
  readonly height: Length;
  /** half the width of the 95 % interval */
  readonly expandedUncertainty: Length;
}

/** What a depth below first contact does. */
export interface CutAt {
  /** below first contact */
  readonly depth: Length;
  /** share of the probed rectangle that is cut, 0 to 1, with its 95 % interval */
  readonly areaCleaned: { readonly share: number; readonly low: number; readonly high: number };
  /** chance that every probed place is cut */
  readonly chanceOfCleanUp: number;
  readonly volume: Volume;
  /** plate left where the cut is deepest; absent where no thickness was given */
  readonly thicknessLeft?: Length;
}

/** What the interval of the depth is worth, by the test of invented machines, in words. */
export const depthCoverage =
  "the 95 % interval is made for 95 in 100; of 1,000 invented machines, their gauges wrong by up to the limit, it held the planted depth in 941";

/**
 * Depth of a facing cut: first contact, what cleans up everything, area cleaned against depth, volume, thickness left.
 *
 * A cut follows the travel, so the map must be relative to travel and its tilt counts. Depths are below first contact.
 * The doubt of the map (noise, gauge) is carried by seeded draws about the denoised heights. It holds at the places
 * probed; a low spot finer than the pitch stays unseen.
 *
 * @throws MeasurementError `wrong-frame`, `too-few-places`, `few-repeats`
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: 10 * i, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: { name: "dial", resolution: um(1), maximumPermissibleError: um(0) }, places, noise: { standardUncertaintyUm: 0, degreesOfFreedom: 12 } };
 * facing.depth(map).cleansAll.depth.in("um").toFixed(1) // => "30.0"
 */
export function depth(source: SurfaceSource, options: DepthOptions = {}): FacingDepth {
  const surface = surfaceOf(source);
  if (surface.frame.relativeTo !== "travel") {
    throw new MeasurementError(
      "wrong-frame",
      `facing.depth: ${surface.name} is relative to ${surface.frame.relativeTo}, and a cut follows the travel; give a map probed from the spindle`,
    );
  }
  const { seed = 1, draws = 1000 } = options;
  if (!(draws >= 100)) {
    throw new MeasurementError(
      "draws",
      `facing.depth: ${draws} draws are too few for a 95 % interval; give 100 or more`,
    );
  }
  const doubt = trueSurfaces("facing.depth", surface, seed);
  return new FacingDepth(
    surface,
    Array.from({ length: draws }, (_, k) => weighted(doubt.draw(k))),
    options.thickness,
  );
}

/** How deep to face a map; made by `facing.depth`. */
export class FacingDepth {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly firstContact: FirstContact;
  /** depth below first contact that cuts every probed place: median of the draws, its 95 % interval, and the depth that
   * does so with a chance of 95 % */
  readonly cleansAll: { readonly depth: Length; readonly low: Length; readonly high: Length; readonly sure: Length };
  readonly cautions: readonly string[] = cutCautions;
  readonly notes: readonly string[] = [
    "depths are below first contact with the highest place, not below the touch-off",
    "rough first and leave 0.2 mm to 0.3 mm; a finishing cut of at least 0.1 mm, even all over, keeps deflection from copying the old form (common practice, no source)",
    "at the places probed: a low spot finer than the pitch is not in it",
    depthCoverage,
  ];
  readonly #ranges: readonly number[];
  /** of each place below first contact, mean of the draws */
  readonly #belowTop: readonly number[];
  readonly #areas: readonly number[];

  constructor(
    readonly surface: Surface,
    private readonly drawnUm: readonly (readonly number[])[],
    readonly thickness?: Length,
  ) {
    this.#ranges = drawnUm.map((z) => Math.max(...z) - Math.min(...z)).toSorted((a, b) => a - b);
    this.#areas = cellAreasMm2(surface);
    const tops = drawnUm.map((z) => Math.max(...z));
    this.#belowTop = surface.places.map((_, i) => meanOf(drawnUm.map((z, k) => tops[k]! - z[i]!)));
    this.firstContact = contactOf(surface, drawnUm);
    this.cleansAll = {
      depth: um(quantileOf(this.#ranges, 0.5)),
      low: um(quantileOf(this.#ranges, 0.025)),
      high: um(quantileOf(this.#ranges, 0.975)),
      sure: um(quantileOf(this.#ranges, 0.95)),
    };
    Object.freeze(this);
  }

  /** Area of the probed rectangle. */
  get area(): SurfaceArea {
    return mm2(this.#areas.reduce((a, b) => a + b, 0));
  }

  /** Depth below first contact that cuts every probed place with the chance given (0 to 1). */
  depthFor(chance: number): Length {
    if (!(chance > 0 && chance < 1)) {
      throw new MeasurementError(
        "chance",
        `depthFor: a chance of ${chance} can't be met by a depth; give a number between 0 and 1`,
      );
    }
    return um(quantileOf(this.#ranges, chance));
  }

  /** What a depth below first contact cleans, takes away and leaves. */
  at(depthBelowContact: Length): CutAt {
    const depthUm = depthBelowContact.in("um");
    const total = this.#areas.reduce((a, b) => a + b, 0);
    const cuts = this.drawnUm.map((z) => {
      const top = Math.max(...z);
      return z.map((height) => Math.max(0, depthUm - (top - height)));
    });
    const shares = cuts.map((cut) => sumOver(this.#areas, (i) => (cut[i]! > 0 ? 1 : 0)) / total);
    const sorted = shares.toSorted((a, b) => a - b);
    const volumes = cuts.map((cut) => sumOver(this.#areas, (i) => cut[i]! / 1000));
    const cleaned = { share: meanOf(shares), low: quantileOf(sorted, 0.025), high: quantileOf(sorted, 0.975) };
    return {
      depth: depthBelowContact,
      areaCleaned: cleaned,
      chanceOfCleanUp: this.#ranges.filter((r) => r < depthUm).length / this.#ranges.length,
      volume: Quantity.fromSi("volume", meanOf(volumes) * 1e-9),
      ...(this.thickness ? { thicknessLeft: this.thickness.minus(depthBelowContact) } : {}),
    };
  }

  /** Cut at each place at a depth below first contact: likely value, µm; zero where the cutter passes above. */
  cutOverArea(depthBelowContact: Length): readonly { readonly place: SurfacePlace; readonly cut: Length }[] {
    const depthUm = depthBelowContact.in("um");
    return this.surface.places.map((place, i) => ({
      place,
      cut: um(meanOf(this.drawnUm.map((z) => Math.max(0, depthUm - (Math.max(...z) - z[i]!))))),
    }));
  }

  /** Height of each place over the plane of the cut at a depth below first contact: likely value; negative where the
   * cutter passes above. */
  heightsOverCut(depthBelowContact: Length): readonly Length[] {
    const depthUm = depthBelowContact.in("um");
    return this.#belowTop.map((below) => um(depthUm - below));
  }

  /**
   * Cut at a spot of the map, such as a screw, at a depth below first contact: the four nearest places weighted by
   * distance, with the doubt of the map. Negative where the cutter passes above.
   */
  cutAt(x: Length, y: Length, depthBelowContact: Length): Measured<"length"> {
    const near = nearestPlaces(this.surface, x.in("mm"), y.in("mm"));
    const depthUm = depthBelowContact.in("um");
    const cuts = this.drawnUm.map((z) => {
      const here = near.reduce((sum, { index, weight }) => sum + weight * z[index]!, 0);
      return depthUm - (Math.max(...z) - here);
    });
    const scatter = standardDeviationOf(cuts);
    if (!(scatter > 0)) return Measured.of(um(meanOf(cuts)), []);
    const doubt = new Input({
      label: `map at x ${x.text("mm")}, y ${y.text("mm")}`,
      estimate: um(0),
      standardUncertainty: um(scatter),
      distribution: "normal",
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      evaluation: "B",
      source: `${this.surface.name}, noise, drift and gauge`,
      caveat: this.surface.caveat,
    });
    return Measured.of(um(meanOf(cuts)), [{ input: doubt, sensitivity: 1 }]);
  }

  /** Area cleaned against depth: rows from first contact to past the depth that is sure to clean up. */
  get rows(): readonly CutAt[] {
    const last = this.cleansAll.high.in("um");
    return Array.from({ length: 9 }, (_, i) => this.at(um((last * (i + 1)) / 8)));
  }

  toString(): string {
    const { depth: middle, low, high, sure } = this.cleansAll;
    const print = (value: Length) => value.in("um").toFixed(0);
    const sentence = `cleans up all of it ${print(middle)} µm below first contact (95 % interval ${print(low)} µm to ${print(high)} µm); ${print(sure)} µm does so with a chance of 95 %; first contact at ${this.firstContact.place.label}`;
    return withOpenFindings(sentence, this.surface);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** heights of a draw, what is in doubt in them counted by its weight */
function weighted({ heightUm, likely, weight }: DrawnSurface): number[] {
  return likely.heightUm.map((height, i) => height + weight * (heightUm[i]! - height));
}

function contactOf(surface: Surface, drawn: readonly (readonly number[])[]): FirstContact {
  const tops = drawn.map((z) => Math.max(...z));
  const counts = surface.places.map(() => 0);
  for (const [k, z] of drawn.entries()) {
    const i = z.indexOf(tops[k]!);
    counts[i] = counts[i]! + 1;
  }
  const most = counts.indexOf(Math.max(...counts));
  const sorted = tops.toSorted((a, b) => a - b);
  return {
    place: surface.places[most]!,
    chance: counts[most]! / drawn.length,
    height: um(quantileOf(sorted, 0.5)),
    expandedUncertainty: um((quantileOf(sorted, 0.975) - quantileOf(sorted, 0.025)) / 2),
  };
}

function sumOver(areas: readonly number[], weight: (i: number) => number): number {
  return areas.reduce((sum, area, i) => sum + area * weight(i), 0);
}
