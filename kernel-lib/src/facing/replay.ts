import { type SurfaceSource, surfaceOf } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import {
  display,
  type Length,
  type MimeBundle,
  minutes,
  mm,
  Quantity,
  type Slope,
  type Time,
  um,
  umPerM,
  type Volume,
} from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { cutCautions } from "./cautions.js";
import { needJobFrame } from "./job-frame.js";
import type { FacingJob } from "./program-job.js";
import { feedMinutes } from "./program-time.js";
import { type Area, outline } from "./reach.js";
import { blocksOf, type ReplayRefusal } from "./replay-blocks.js";
import { checkMoves } from "./replay-checks.js";
import { run } from "./replay-control.js";
import { knownMove, type ReplayMove } from "./replay-moves.js";
import { dropOf, type Lean, removeAll } from "./replay-removal.js";
import { type Coverage, coverage, facedSurface } from "./replay-result.js";
import { type ReplayShop, shopOf } from "./replay-shop.js";
import { stockOf } from "./replay-stock.js";

export interface ReplayOptions {
  /** lean of the spindle against its travel: rise of the rim's plane along +x and +y; none where it is not given */
  readonly tilt?: { readonly x: Slope; readonly y: Slope };
  /** height in the map of the place where Z0 was touched off; the highest place where it is not given */
  readonly touchOff?: Length;
  /** side of a cell of the height grid; 1 mm, or more on a large plate, where it is not given */
  readonly pitch?: Length;
}

/** What a control would make of a program, and of the plate; made by `facing.replay`. */
export class Replay {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** nothing was refused */
  readonly passes: boolean;
  readonly cautions: readonly string[] = cutCautions;

  constructor(
    readonly job: FacingJob,
    /** in the order of the lines */
    readonly refusals: readonly ReplayRefusal[],
    readonly moves: readonly ReplayMove[],
    /** outermost places of the map of the plate as found */
    readonly probed: Area,
    /** feeding and waiting; rapids and pauses are not in it */
    readonly time: Time,
    /** what the grid says; absent where a refusal came before the cut */
    readonly cut: ReplayedCut | undefined,
  ) {
    this.passes = refusals.length === 0 && cut !== undefined;
    Object.freeze(this);
  }

  /** what is known of the parts above the cutter */
  get holder(): string {
    const parts = this.job.cutter.holder ?? [];
    if (parts.length === 0) return "the holder is not given, and nothing above the cutter was looked at";
    return `${parts.map(({ name }) => name).join(", ")} above the cutter looked at too`;
  }

  toString(): string {
    const [first] = this.refusals;
    if (first) {
      const more = this.refusals.length > 1 ? `, and ${this.refusals.length - 1} more` : "";
      return `${this.job.name}: refused, line ${first.line}: ${first.sentence}${more}`;
    }
    return `${this.job.name}: the replay passes, ${this.moves.length} moves inside the travel, above floor, heads and obstacles; ${this.cut?.sentence ?? ""}; ${this.holder}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** What the replayed cut leaves. */
export interface ReplayedCut extends Coverage {
  readonly volume: Volume;
  /** peak to valley of what the tilted rim leaves, at the grid's cells: no gauge, no deflection, no heat in it */
  readonly texture: Length;
  /** the same at least a cutter's diameter from the side edges, where passes cut from both sides; zero where there is no
   * such part */
  readonly ridges: Length;
  /** the faced plate as the machine's own travel would see it, thinned for a picture; heights over Z0 + last depth */
  readonly surface: Surface;
  readonly pitch: Length;
  readonly sentence: string;
}

/**
 * Replays a program: reads the written text as a control does that was left in the worst state, and takes the material
 * away on a grid of heights that begins as the plate was found.
 *
 * It proves, or refuses with the line: every mode stated before it is needed, first move Z up alone, spindle up to speed
 * before a feed, no move outside the travel, below the floor, into a head or an obstacle, no rapid below the height of
 * free moves, the way in and out outside the plate, one axis at a time, depth, feed and bite as planned, no climbing
 * where the job cuts conventionally, and the rim over all of the plate; and, where the job gives the holder, no part above the cutter
 * that meets a head, an obstacle or the plate. It shares no code with what wrote the text. It knows nothing of hoses, of a holder that
 * is not given (and says so), or of what the control does besides.
 *
 * @param text the program, as it goes to the machine
 * @param job what it is held against
 * @param plateTop map of the plate's top as it lies, relative to travel (the table's map and the plate's together)
 * @throws MeasurementError `wrong-frame`, `frames-differ`, `holder`, `pitch`, `too-few-places`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const job = { name: "club plate", frame, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(30), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 146 * i, yMm: 20 + 100 * j, zUm: 10 * i, count: 2 })));
 * const top = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 12 } };
 * facing.replay(facing.program(job).text.replace("M5\nG0", "G0"), job, top, { pitch: mm(5) }).refusals[0].code // => "spindle"
 */
export function replay(text: string, job: FacingJob, plateTop: SurfaceSource, options: ReplayOptions = {}): Replay {
  const surface = surfaceOf(plateTop);
  needJobFrame("facing.replay", job, surface);
  const shop = shopOf(job);
  const lean: Lean = { x: (options.tilt?.x ?? umPerM(0)).si, y: (options.tilt?.y ?? umPerM(0)).si };
  const { head, blocks, refusals: unreadable } = blocksOf(text);
  const { moves, refusals: said, dwellS } = run(blocks, shop);
  const early = [...cautionFaults(head), ...unreadable, ...said, ...checkMoves(moves, shop, dropOf(shop, lean))];
  const time = minutes(feedMinutes(moves) + dwellS / 60);
  const probed = outline(surface);
  if (early.length > 0) return new Replay(job, inOrder(early), moves, probed, time, undefined);
  const { late, cut } = cutOf(moves, job, shop, surface, lean, options);
  return new Replay(job, inOrder(late), moves, probed, time, cut);
}

function cutOf(
  moves: readonly ReplayMove[],
  job: FacingJob,
  shop: ReplayShop,
  surface: Surface,
  lean: Lean,
  options: ReplayOptions,
) {
  const highest = Math.max(...surface.places.map(({ zUm }) => zUm));
  const pitchMm = pitchOf(shop, options.pitch);
  const stock = stockOf(surface, options.touchOff?.in("um") ?? highest, shop, pitchMm);
  const known = moves.flatMap((move) => knownMove(move) ?? []);
  const { refusals, volumeMm3, lanesMm } = removeAll(known, stock, shop, lean);
  const covered = coverage(stock, shop, lanesMm);
  const last = moves.at(-1)?.line ?? 1;
  const uncovered: ReplayRefusal[] =
    covered.covered === 1 ? [] : [{ line: last, code: "coverage", sentence: covered.uncoveredText }];
  const { surface: faced, textureUm, ridgesUm } = facedSurface(stock, shop, surface, job.name);
  const cut: ReplayedCut = {
    ...covered,
    volume: Quantity.fromSi("volume", volumeMm3 * 1e-9),
    texture: um(textureUm),
    ridges: um(ridgesUm),
    surface: faced,
    pitch: mm(pitchMm),
    sentence: `the rim comes over ${percent(covered.covered)} of the plate and cleans ${percent(covered.cleaned)} of what was probed (${percent(covered.probed)} of the plate); texture ${textureUm.toFixed(1)} µm from the tilt given`,
  };
  return { late: [...refusals, ...uncovered], cut };
}

/** the cautions stand at the head, letter for letter, whatever the case and the breaks of the lines */
function cautionFaults(head: string): ReplayRefusal[] {
  const letters = (text: string) => text.toUpperCase().replaceAll(/[^A-Z]/g, "");
  const has = letters(head);
  const missing = cutCautions.filter((caution) => !has.includes(letters(caution)));
  if (missing.length === 0) return [];
  const sentence = `${missing.length} of ${cutCautions.length} cautions do not stand at the head of the text`;
  return [{ line: 1, code: "cautions", sentence }];
}

const mostCells = 250_000;

function pitchOf({ plate }: ReplayShop, asked: Length | undefined): number {
  const area = (plate.x[1] - plate.x[0]) * (plate.y[1] - plate.y[0]);
  const least = Math.sqrt(area / mostCells);
  if (asked === undefined) return Math.max(1, least);
  const pitchMm = asked.in("mm");
  if (pitchMm >= least && pitchMm * pitchMm * 16 <= area) return pitchMm;
  throw new MeasurementError(
    "pitch",
    `facing.replay: cells of ${asked.text("mm")} on a plate of ${Math.round(area)} mm² are too fine or too coarse; give ${least.toFixed(2)} mm to ${(Math.sqrt(area) / 4).toFixed(1)} mm`,
  );
}

function inOrder(refusals: readonly ReplayRefusal[]): readonly ReplayRefusal[] {
  return refusals.toSorted((a, b) => a.line - b.line);
}

function percent(share: number): string {
  return share === 1 ? "all" : `${(100 * share).toFixed(1)} %`;
}
