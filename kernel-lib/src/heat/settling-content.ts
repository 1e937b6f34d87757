import type { SettlingFit } from "./settling-fit.js";

/** what settles: a growth or a change of temperature */
export type SettlingKind = "length" | "temperature difference";

/** A reading of the record: minutes from the first, and the value in the unit of the curve. */
export interface SettlingReading {
  readonly minute: number;
  readonly value: number;
}

/** @internal what a settling curve is made from */
export interface SettlingContent<D extends SettlingKind> {
  readonly kind: D;
  /** "spindle, growth", for titles */
  readonly name: string;
  readonly readings: readonly SettlingReading[];
  readonly fit: SettlingFit;
}
