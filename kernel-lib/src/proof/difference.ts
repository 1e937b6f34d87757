import { relativeWords, type SurfaceSource } from "../form/index.js";
import { simultaneousFactor } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import { resolutionUncertainty } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import { effectiveDegreesOfFreedom } from "../uncertainty/index.js";
import { type Pair, pairs, surfaceOf } from "./pairing.js";
import { applied, tie } from "./tie.js";

export interface DifferenceInput {
  /** the same surface before and after something was done to it, in the same frame and at the same places */
  readonly before: SurfaceSource;
  readonly after: SurfaceSource;
  /** three or more places that nobody touched; a robust plane of all places where left out */
  readonly untouched?: readonly string[];
}

/** What one place did between the two surveys. */
export interface PlaceChange {
  readonly label: string;
  readonly xMm: number;
  readonly yMm: number;
  /** after − before with offset and tilt taken out; negative = came down */
  readonly changeUm: number;
  /** random part, from both surveys' noise and drift; the gauge's own error cancels where a place did not move */
  readonly standardUncertaintyUm: number;
  /** beyond the limit for all places together */
  readonly changed: boolean;
}

/** Two surveys of one surface, place by place; made by `proof.difference`. */
export class Difference {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly changes: readonly PlaceChange[];
  /** factor × u of a place: the limit beyond which it counts as changed, for all places together */
  readonly factor: number;

  /** @internal made by `difference` */
  constructor(
    readonly before: Surface,
    readonly after: Surface,
    /** how the two maps were brought onto each other */
    readonly tiedBy: string,
    rows: readonly { readonly pair: Pair; readonly changeUm: number; readonly standardUncertaintyUm: number }[],
    degreesOfFreedom: number,
  ) {
    this.factor = simultaneousFactor(rows.length, degreesOfFreedom);
    this.changes = rows.map(({ pair: { before: place }, changeUm, standardUncertaintyUm }) => ({
      label: place.label,
      xMm: place.xMm,
      yMm: place.yMm,
      changeUm,
      standardUncertaintyUm,
      changed: Math.abs(changeUm) > this.factor * standardUncertaintyUm,
    }));
    Object.freeze(this);
  }

  /** Places that changed beyond what both surveys' noise explains, largest change first. */
  get changed(): readonly PlaceChange[] {
    return this.changes.filter(({ changed }) => changed).sort((a, b) => Math.abs(b.changeUm) - Math.abs(a.changeUm));
  }

  toString(): string {
    const { changed, changes, factor } = this;
    const listed = changed
      .slice(0, 5)
      .map(({ label, changeUm }) => `${label} ${changeUm < 0 ? "down" : "up"} by ${Math.abs(changeUm).toFixed(1)} µm`);
    const more = changed.length > 5 ? ` and ${changed.length - 5} more` : "";
    const head =
      changed.length === 0
        ? `no place of ${changes.length} changed for certain`
        : `${changed.length} of ${changes.length} places changed: ${listed.join(", ")}${more}`;
    return `${head}; a place counts from ${factor.toFixed(2)} u of its difference (5 false alarms in 100 whole comparisons); ${this.tiedBy}; ${relativeWords(this.before.frame.relativeTo)}, same gauge assumed`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * What changed on a surface between two surveys: the difference at the same places, offset and tilt taken out, against a
 * limit that holds for all places together.
 *
 * For the same surface only (stoned, scraped, levelled); a new surface, such as a plate, is compared by each map's own
 * form. The random parts of both surveys add; the error of the gauge is the same where a place did not move and so makes
 * no false change. How much a changed place moved carries the gauge's error besides.
 *
 * @throws MeasurementError `two-frames`, `other-places`, `untouched`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = (name, high) => ({ name, frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places: [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: i === 1 && j === 1 ? high : 0, count: 2 }))), noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 12 } });
 * proof.difference({ before: map("before", 20), after: map("after", 1) }).changed.map(({ label }) => label).join() // => "P11"
 */
export function difference(input: DifferenceInput): Difference {
  const [before, after] = [surfaceOf(input.before), surfaceOf(input.after)];
  const paired = pairs(before, after);
  const { tiedUm, rows, words } = tie(paired, input.untouched, roundingUm(before, after));
  const modes = [...sharedDoubt(before, paired, "before"), ...sharedDoubt(after, paired, "after")];
  const tiedModes = modes.map((mode) => applied(rows, mode));
  const noise = Math.hypot(before.noise.standardUncertaintyUm, after.noise.standardUncertaintyUm);
  const lines = paired.map((pair, i) => ({
    pair,
    changeUm: tiedUm[i]!,
    standardUncertaintyUm: Math.hypot(noise * Math.hypot(...rows[i]!), ...tiedModes.map((mode) => mode[i]!)),
  }));
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    [before, after].map(({ name, noise: { standardUncertaintyUm, degreesOfFreedom } }) => ({
      label: name,
      contribution: standardUncertaintyUm,
      degreesOfFreedom,
    })),
  );
  return new Difference(before, after, words, lines, degreesOfFreedom);
}

/** standard uncertainty that two roundings leave in a difference */
function roundingUm(before: Surface, after: Surface): number {
  return Math.hypot(...[before, after].map(({ gauge }) => resolutionUncertainty(gauge).in("um")));
}

/** the doubt that drift leaves in the heights of a survey, at the paired places */
function sharedDoubt(surface: Surface, paired: readonly Pair[], side: keyof Pair): readonly (readonly number[])[] {
  const place = new Map(surface.places.map((p, i) => [p.label, i]));
  return (surface.drift?.modesUm ?? []).map((mode) => paired.map((pair) => mode[place.get(pair[side].label)!]!));
}
