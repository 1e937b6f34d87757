import { type SurfaceSource, surfaceOf } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { bedUnder, needProbed, type Underside } from "./bedding-case.js";
import { beddingNet, stiffnessOf } from "./bedding-net.js";
import { type BeddingRuns, runBedding, type ScrewGap, type SpreadOf } from "./bedding-runs.js";
import { cutCautions } from "./cautions.js";
import type { HoldDown } from "./hold-down.js";
import { needPlateFrame, type Plate } from "./plate.js";

export interface BeddingOptions {
  readonly underside: Underside;
  /** seed of the simulation; the same seed gives the same figures */
  readonly seed?: number;
  readonly draws?: number;
}

/** A place of the plate. */
export interface BeddingPlace {
  readonly xMm: number;
  readonly yMm: number;
  readonly value: Length;
}

/** A plate on an uneven table: does it bridge or follow, and what springs back; made by `facing.bedding`. */
export class Bedding {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly plate: Plate;
  /** greatest gap under the plate as it lies by its own weight */
  readonly looseGap: Length;
  /** greatest gap with all screws at their torque */
  readonly tightGap: Length;
  /** share of the gap, taken over the area, that the screws close: 0 to 1 */
  readonly closed: number;
  /** "follows" from 0.9 of the gap closed, "bridges" up to 0.5 */
  readonly says: "follows" | "follows in part" | "bridges" | "lies flat";
  /** flatness (least squares, peak to valley) that a top faced flat in place has when it is released */
  readonly springBack: SpreadOf;
  /** greatest change of the top from one tightening to the next, from the scatter of the torque alone */
  readonly offAndOn: SpreadOf;
  /** each screw: gap as it lies, what it closes by itself, gap when all are tight, shim */
  readonly screws: readonly ScrewGap[];
  /** what the spring-back hangs on: half of its change between the limits of each */
  readonly causes: readonly { readonly cause: string; readonly change: Length }[];
  readonly cautions: readonly string[] = cutCautions;
  readonly notes: readonly string[];
  readonly #runs: BeddingRuns;

  constructor(
    readonly map: Surface,
    readonly holdDown: HoldDown,
    runs: BeddingRuns,
  ) {
    this.plate = holdDown.plate;
    this.#runs = runs;
    const most = (gaps: readonly number[]) => um(gaps.reduce((a, b) => Math.max(a, b), 0) * 1000);
    this.looseGap = most(runs.looseGapMm);
    this.tightGap = most(runs.tightGapMm);
    this.closed = runs.closed;
    this.says =
      this.looseGap.in("um") < 2
        ? "lies flat"
        : runs.closed >= 0.9
          ? "follows"
          : runs.closed <= 0.5
            ? "bridges"
            : "follows in part";
    this.springBack = runs.springBack;
    this.offAndOn = runs.offAndOn;
    this.screws = runs.screws;
    this.causes = runs.causes;
    this.notes = notesOf(map);
    Object.freeze(this);
  }

  /** Gap under the plate on a net of places: as it lies, or with all screws tight. */
  gaps(state: "loose" | "tight"): readonly BeddingPlace[] {
    return this.#places(state === "loose" ? this.#runs.looseGapMm : this.#runs.tightGapMm);
  }

  /** Top of the plate, faced flat in place, when it is released: height above its least-squares plane. */
  released(): readonly BeddingPlace[] {
    return this.#places(this.#runs.releasedMm);
  }

  /** Gap under a spot of the plate. */
  gapAt(x: Length, y: Length, state: "loose" | "tight"): Length {
    const near = this.gaps(state).reduce((a, b) => (distance(b, x, y) < distance(a, x, y) ? b : a));
    return near.value;
  }

  #places(valuesMm: readonly number[]): readonly BeddingPlace[] {
    const { xMm, yMm } = this.#runs;
    return valuesMm.map((value, k) => ({ xMm: xMm[k]!, yMm: yMm[k]!, value: um(value * 1000) }));
  }

  toString(): string {
    const { plate, looseGap, tightGap, springBack, offAndOn } = this;
    const print = (value: Length) => value.in("um").toFixed(0);
    const gap =
      this.says === "lies flat"
        ? `lies flat on the table (gaps up to ${looseGap.in("um").toFixed(1)} µm)`
        : `${this.says} the table: gaps up to ${print(looseGap)} µm as it lies, ${print(tightGap)} µm when tight`;
    return `${plate.name} ${gap}; released it springs back by ${print(springBack.middle)} µm (interval of the draws ${print(springBack.low)} µm to ${print(springBack.high)} µm); off and on again moves the top by up to ${offAndOn.high.in("um").toFixed(1)} µm from the torque alone (95 %)`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A plate on an uneven table: where it bears as it lies, what the screws close, what springs back when it is released.
 *
 * Thin plate on a bed that pushes and can't pull, free edges, slots not bearing, each preload on a disc that widens by
 * 30° through the plate. Doubt of the map, of the underside, of modulus, thickness and preloads by seeded draws.
 *
 * @throws MeasurementError `not-probed`, `different-frames`, `draws`, `not-positive`, `few-repeats`
 * @see Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, for the energy of a bent plate
 * @example
 * const places = [0, 1, 2, 3, 4, 5].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 90 * i, yMm: 20 + 90 * j, zUm: 3 * (i - 2.5) ** 2, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "table", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 18 } };
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * const down = facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } });
 * facing.bedding(map, down, { underside: { flatWithin: um(5) }, draws: 20 }).says // => "follows"
 */
export function bedding(source: SurfaceSource, holdDown: HoldDown, options: BeddingOptions): Bedding {
  const map = surfaceOf(source);
  const { seed = 1, draws = 100 } = options;
  if (!(draws >= 20)) {
    throw new MeasurementError(
      "draws",
      `facing.bedding: ${draws} draws are too few for an interval; give 20 or more, 100 where it counts`,
    );
  }
  needPlateFrame("facing.bedding", holdDown.plate, map);
  needProbed(holdDown.plate, map);
  const net = beddingNet(holdDown.plate, map);
  const bed = bedUnder(map, net, options.underside, seed);
  return new Bedding(map, holdDown, runBedding({ net, stiffness: stiffnessOf(net), bed, holdDown, seed, draws }));
}

function notesOf(map: Surface): readonly string[] {
  return [
    map.frame.relativeTo === "travel"
      ? "the table is taken as the travel sees it: what the travel itself is out of straight counts as table here; prove a gap with feelers"
      : `the table is taken as surveyed relative to ${map.frame.relativeTo}`,
    "read an indicator beside each screw while it is tightened; where it moves by more than 20 µm, shim under the gap rather than pull",
    "the interval of the draws is made for 95 %: of 40 invented tables and undersides of other laws it held the planted spring-back in 39",
    "off and on again is a third survey: dirt, burrs and a shifted plate are not in the figure",
    "take stress-relieved stock, or skim both sides first: stress that the cut sets free is not in the figures",
    "thin plate before the cut; holes and counterbores are not in it; form of the table finer than the pitch is not seen",
  ];
}

function distance(place: BeddingPlace, x: Length, y: Length): number {
  return Math.hypot(place.xMm - x.in("mm"), place.yMm - y.in("mm"));
}
