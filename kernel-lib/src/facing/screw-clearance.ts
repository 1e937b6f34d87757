import { MeasurementError } from "../measurement-error.js";
import { display, type Kind, type Length, type MimeBundle, Quantity } from "../quantity/index.js";
import { type Input, Measured } from "../uncertainty/index.js";
import { capScrew } from "./cap-screw.js";
import { cutCautions } from "./cautions.js";

/** What the height of the cut over a screw head is in doubt by; each an input of the budget with its own source. */
export interface ClearanceDoubts {
  /** touch-off of Z0: feeler or paper, 0.05 mm to 0.1 mm, and its play */
  readonly touchOff: Input<"length">;
  readonly toolLength: Input<"length">;
  /** what the head or knee moves when it is locked */
  readonly lockShift: Input<"length">;
  /** how far tool and plate give under the cut */
  readonly deflection: Input<"length">;
  /** anything else, by name */
  readonly [name: string]: Input<"length">;
}

export interface ScrewClearanceInput {
  /** "M10"; the greatest head height is that of ISO 4762 */
  readonly thread: string;
  /** measured from your own screws, where they are not to ISO 4762 */
  readonly headHeight?: Length;
  /** least of the counterbores, as measured from the top before the cut */
  readonly leastCounterboreDepth: Length;
  readonly washer?: Length;
  readonly plateThickness: Length;
  /** plate needed under the head for bearing and shear */
  readonly webNeeded: Length;
  /** what has to stay between cutter and head */
  readonly margin: Length;
  /** the cut at each screw, from the top before the cut */
  readonly screws: readonly { readonly label: string; readonly cut: Length | Measured<"length"> }[];
  readonly doubts: ClearanceDoubts;
}

export interface ScrewRow {
  readonly label: string;
  /** head below the finished surface, with its U */
  readonly clearance: Measured<"length">;
  /** clearance − U */
  readonly atLeast: Length;
  /** clearance − U leaves the margin */
  readonly safe: boolean;
}

/** Screw heads against the finished surface; made by `facing.screwClearance`. */
export class ScrewClearance {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** the screw that comes nearest to the cutter */
  readonly nearest: ScrewRow;
  readonly safe: boolean;
  readonly cautions: readonly string[] = cutCautions;

  constructor(
    readonly rows: readonly ScrewRow[],
    /** what has to stay between cutter and head */
    readonly margin: Length,
    /** plate left under the heads */
    readonly web: Length,
    /** what U is made of: standard uncertainty of each doubt */
    readonly doubts: readonly { readonly label: string; readonly standardUncertainty: Length }[],
  ) {
    this.nearest = rows.reduce((least, row) => (row.atLeast.si < least.atLeast.si ? row : least));
    this.safe = rows.every((row) => row.safe);
    Object.freeze(this);
  }

  toString(): string {
    const { label, clearance, atLeast } = this.nearest;
    const verdict = this.safe ? "clear of the cutter" : "not safe: deepen the counterbores or cut less";
    return `nearest head ${label}: ${clearance.text("mm")} below the finished surface, at least ${atLeast.in("mm").toFixed(2)} mm; ${verdict}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Clearance of the screw heads under the finished surface: least counterbore depth − greatest head height − washer −
 * cut at that screw − U.
 *
 * U (95 %) comes from touch-off, tool length, lock shift, deflection and what else is given. An estimate that is not
 * zero counts as cut deeper.
 *
 * @throws MeasurementError `plate-too-thin`, `counterbore`, `no-screws`, `unknown-thread`, `not-positive`
 * @see ISO 4762 (head height); the sum itself is common practice, no source
 * @example
 * const within = (label, half) => input.rectangular({ label, estimate: mm(0), halfWidth: half });
 * const doubts = { touchOff: within("touch-off", mm(0.05)), toolLength: within("tool length", mm(0.02)), lockShift: within("lock", mm(0.02)), deflection: within("deflection", mm(0.02)) };
 * facing.screwClearance({ thread: "M10", leastCounterboreDepth: mm(12), plateThickness: mm(25), webNeeded: mm(8), margin: mm(0.5), screws: [{ label: "S1", cut: mm(0.4) }], doubts }).nearest.clearance.in("mm").toFixed(2) // => "1.60"
 */
export function screwClearance(input: ScrewClearanceInput): ScrewClearance {
  const head = input.headHeight ?? capScrew(input.thread).headHeight;
  const washer = input.washer?.si ?? 0;
  checkPlate(input, head, washer);
  const rows = input.screws.map(({ label, cut }) => rowOf(input, label, cut, head.si + washer));
  const doubts = Object.values(input.doubts).map(({ label, standardUncertainty }) => ({ label, standardUncertainty }));
  return new ScrewClearance(rows, input.margin, input.plateThickness.minus(input.leastCounterboreDepth), doubts);
}

function rowOf(input: ScrewClearanceInput, label: string, cut: Length | Measured<"length">, above: number): ScrewRow {
  const cutMeasured = cut instanceof Measured ? cut : Measured.of(cut, []);
  const doubts = Object.values(input.doubts);
  const deeper = doubts.reduce((sum, doubt) => sum + doubt.estimate.si, 0);
  const value = Quantity.fromSi("length", input.leastCounterboreDepth.si - above - deeper);
  const terms = doubts.map((doubt) => ({ input: doubt as Input<Kind>, sensitivity: -1 }));
  const clearance = Measured.of(value, terms).minus(cutMeasured);
  const atLeast = clearance.interval()[0];
  return { label, clearance, atLeast, safe: atLeast.si >= input.margin.si };
}

/** what sums of lengths are off by in the last digits, m */
const rounding = 1e-12;

function checkPlate(input: ScrewClearanceInput, head: Length, washer: number): void {
  const { screws, plateThickness, leastCounterboreDepth: depth, webNeeded, margin } = input;
  if (screws.length === 0) refuse("no-screws", "no screw was given; list each screw with the cut at its place");
  for (const [name, value] of Object.entries({ plateThickness, leastCounterboreDepth: depth, webNeeded, margin })) {
    if (!(value.si > 0)) refuse("not-positive", `${name} is ${value.text("mm")}; give a length above zero`);
  }
  const deepest = Math.max(...screws.map(({ cut }) => (cut instanceof Measured ? cut.value.si : cut.si)));
  const needed = Quantity.fromSi("length", webNeeded.si + head.si + washer + deepest + margin.si);
  if (!(plateThickness.si >= needed.si - rounding)) {
    refuse(
      "plate-too-thin",
      `a plate of ${plateThickness.text("mm")} is too thin: web ${webNeeded.text("mm")}, head ${head.text("mm")}, washer ${Quantity.fromSi("length", washer).text("mm")}, deepest cut ${Quantity.fromSi("length", deepest).text("mm")} and margin ${margin.text("mm")} need ${needed.text("mm")}; take a thicker plate or smaller screws`,
    );
  }
  if (!(plateThickness.si - depth.si >= webNeeded.si - rounding)) {
    refuse(
      "counterbore",
      `counterbores ${depth.text("mm")} deep leave ${plateThickness.minus(depth).text("mm")} of a plate of ${plateThickness.text("mm")} under the heads, and ${webNeeded.text("mm")} is needed; make them shallower or take a thicker plate`,
    );
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.screwClearance: ${sentence}`);
}
