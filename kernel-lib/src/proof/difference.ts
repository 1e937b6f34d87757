import { relativeWords, type SurfaceSource } from "../form/index.js";
import { simultaneousFactor } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import { resolutionUncertainty } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import { caveatSentences, withCaveats } from "../uncertainty/caveat.js";
import { effectiveDegreesOfFreedom } from "../uncertainty/index.js";
import { gaugeChangeUm, isOneGauge } from "./gauge-change.js";
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
  /** what the limit of "changed" rests on: noise and drift of both surveys, and what of the gauge's error does not cancel
   * because offset and tilt put the second reading elsewhere on its scale */
  readonly standardUncertaintyUm: number;
  /** doubt of how much it moved: the same, with the gauge's error at two readings as far apart as these */
  readonly amountUncertaintyUm: number;
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
    rows: readonly Omit<PlaceChange, "changed">[],
    /** of the noise of both surveys together */
    readonly degreesOfFreedom: number,
  ) {
    this.factor = simultaneousFactor(rows.length, degreesOfFreedom);
    this.changes = rows.map((row) => ({
      ...row,
      changed: Math.abs(row.changeUm) > this.factor * row.standardUncertaintyUm,
    }));
    Object.freeze(this);
  }

  /** Places that changed beyond what both surveys' noise explains, largest change first. */
  get changed(): readonly PlaceChange[] {
    return this.changes.filter(({ changed }) => changed).sort((a, b) => Math.abs(b.changeUm) - Math.abs(a.changeUm));
  }

  /** What is open in the health checks of the two surveys. */
  get caveats(): readonly string[] {
    return caveatSentences([this.before.caveat, this.after.caveat]);
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
    const sentence = `${head}; a place counts from ${factor.toFixed(2)} u of its difference (5 false alarms in 100 whole comparisons); ${this.tiedBy}; ${relativeWords(this.before.frame.relativeTo)}, ${isOneGauge(this.before.gauge, this.after.gauge) ? "the same gauge in both" : "two gauges, whose errors do not cancel"}`;
    return withCaveats(sentence, this.caveats);
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
 * form. The random parts of both surveys add. The error of the gauge is a smooth unknown curve over its own reading, the
 * same in both surveys: it cancels where both readings are equal, and less the further offset, tilt or the change itself
 * put them apart.
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
  const gaugeUm = gaugeChangeUm(before.gauge, after.gauge, spanUm(before));
  const lines = paired.map((pair, i) => {
    const apartUm = pair.after.zUm - pair.before.zUm;
    const random = Math.hypot(noise * Math.hypot(...rows[i]!), ...tiedModes.map((mode) => mode[i]!));
    return {
      label: pair.before.label,
      xMm: pair.before.xMm,
      yMm: pair.before.yMm,
      changeUm: tiedUm[i]!,
      // apart by offset and tilt alone, had nothing changed there
      standardUncertaintyUm: Math.hypot(random, gaugeUm(apartUm - tiedUm[i]!)),
      amountUncertaintyUm: Math.hypot(random, gaugeUm(apartUm)),
    };
  });
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    [before, after].map(({ name, noise: { standardUncertaintyUm, degreesOfFreedom } }) => ({
      label: name,
      contribution: standardUncertaintyUm,
      degreesOfFreedom,
    })),
  );
  return new Difference(before, after, words, lines, degreesOfFreedom);
}

function spanUm({ places }: Surface): number {
  const heights = places.map(({ zUm }) => zUm);
  return Math.max(...heights) - Math.min(...heights);
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
