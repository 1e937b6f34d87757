import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import { printNumber, printSignificantTwo } from "../quantity/print.js";
import type { Surface } from "../survey/surface.js";
import { type LeftOut, methodWords, type SurfaceMethod } from "./surface-method.js";

/** One place left out. */
export interface PlaceLeftOut {
  readonly label: string;
  /** reading less what the others say */
  readonly residualUm: number;
  /** how far that should be off, one standard deviation */
  readonly standardDeviationUm: number;
}

/** Every reading of a map against what all others say in its stead. */
export class LeaveOneOut {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** places that the others surround, in the order of the map */
  readonly places: readonly PlaceLeftOut[];

  /** @internal made by `FittedSurface.leaveOneOut` */
  constructor(
    readonly surface: Surface,
    readonly method: SurfaceMethod,
    { residualsUm, standardDeviationsUm }: LeftOut,
  ) {
    this.places = surface.places.flatMap(({ label }, i) => {
      const residualUm = residualsUm[i]!;
      return Number.isFinite(residualUm) ? [{ label, residualUm, standardDeviationUm: standardDeviationsUm[i]! }] : [];
    });
    Object.freeze(this);
  }

  /** Root mean square of what the places show beyond the others. */
  get rootMeanSquare(): Length {
    const { places } = this;
    return um(Math.sqrt(places.reduce((s, { residualUm }) => s + residualUm ** 2, 0) / places.length));
  }

  /** Root mean square of residual over standard deviation: near 1 where the doubt is of the right size. */
  get ratio(): number {
    const { places } = this;
    return Math.sqrt(
      places.reduce((s, { residualUm, standardDeviationUm: u }) => s + (residualUm / u) ** 2, 0) / places.length,
    );
  }

  /** The place farthest off, in its own standard deviations. */
  get farthest(): PlaceLeftOut {
    const off = ({ residualUm, standardDeviationUm }: PlaceLeftOut) => Math.abs(residualUm / standardDeviationUm);
    return this.places.reduce((most, place) => (off(place) > off(most) ? place : most));
  }

  toString(): string {
    const { label, residualUm, standardDeviationUm } = this.farthest;
    return `${methodWords(this.method)}, ${this.places.length} places of ${this.surface.name} left out by turns: missed by ${printNumber(this.rootMeanSquare.in("um"), 2)} µm (root mean square), ${printSignificantTwo(this.ratio)} times what its doubt says; farthest ${label}, ${printNumber(residualUm, 2)} µm or ${printNumber(Math.abs(residualUm / standardDeviationUm), 2)} standard deviations`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
