import { leastSquares } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import type { Surface } from "../survey/index.js";
import { Measured } from "../uncertainty/index.js";
import type { CorrectedWidth } from "./corrected-width.js";
import { type CheckedReading, readingName, testReadings } from "./level-blunders.js";
import { LevelDoubt, type ReadingSpread, spreadOf } from "./level-doubt.js";
import { graphOf, type LevelGraph, refuse } from "./level-graph.js";
import { type LevelLoop, loopsOf } from "./level-loops.js";
import type { LevelSurvey } from "./level-reading.js";
import { placeName } from "./level-runs.js";
import { type LevelSolution, onOneLine, planeColumns, solveLevels } from "./level-solution.js";
import { levelSurface } from "./level-surface.js";
import { levelWidth } from "./level-widths.js";
import { checkWords, networkWords } from "./level-words.js";
import { relativeWords } from "./place-words.js";

/** A level survey solved as one network: heights, closures, what each reading is worth. Made by `levelNetwork`. */
export class LevelNetwork {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** heights in µm above the first place, in the order of the places; about their plane where the tilt is not known */
  readonly heightsUm: readonly number[];
  /** distances in µm from the least-squares plane, from the line where all places lie on one */
  readonly deviationsUm: readonly number[];
  /** readings more than needed */
  readonly redundancy: number;
  /** scatter of one reading */
  readonly spread: ReadingSpread;
  /** every reading, and what the others say of it */
  readonly readings: readonly CheckedReading[];
  /** multiple of its standard uncertainty above which a reading stands out */
  readonly limit: number;
  readonly tiltKnown: boolean;
  /** "relative to gravity" */
  readonly relative: string;
  readonly #doubt: LevelDoubt;
  readonly #graph: LevelGraph;
  readonly #solution: LevelSolution;
  readonly #widths = new Map<string, CorrectedWidth>();
  readonly #loops: (readonly LevelLoop[])[] = [];

  /** @internal made by `levelNetwork` */
  constructor(
    readonly survey: LevelSurvey,
    private readonly seed: number,
  ) {
    const solve = (graph: LevelGraph) =>
      solveLevels(graph, { name: survey.name, zero: survey.zero ?? "one", tiltWanted: survey.tilt !== "not wanted" });
    this.#graph = graphOf(survey);
    this.#solution = solve(this.#graph);
    this.spread = spreadOf(survey, this.#solution);
    this.#doubt = new LevelDoubt(survey, this.#solution, this.spread);
    const { heightsUm, degreesOfFreedom, tiltKnown } = this.#solution;
    this.heightsUm = heightsUm;
    this.deviationsUm = leastSquares(planeColumns(survey.places), heightsUm).residuals;
    this.redundancy = degreesOfFreedom;
    this.tiltKnown = tiltKnown;
    const tested = testReadings(survey, (without) =>
      without.size === 0
        ? this.#solution
        : solve(graphOf({ ...survey, readings: survey.readings.filter((_, k) => !without.has(k)) })),
    );
    this.readings = tested.readings;
    this.limit = tested.limit;
    this.relative = relativeWords(survey.frame.relativeTo);
    Object.freeze(this);
  }

  /** The shortest loops, of which all others are made up, and how each closes. Found when first read. */
  get loops(): readonly LevelLoop[] {
    if (this.#loops.length === 0) {
      const scatter = this.spread.standardDeviation.in("um/m");
      this.#loops.push(loopsOf(this.#graph, this.#solution.levelledUmPerM, scatter));
    }
    return this.#loops[0]!;
  }

  /** readings that stand out, the likeliest blunders */
  get suspects(): readonly CheckedReading[] {
    return this.readings.filter(({ verdict }) => verdict === "stands out");
  }

  /** readings whose blunder would not show */
  get unchecked(): readonly CheckedReading[] {
    return this.readings.filter(({ verdict }) => verdict === "can't be checked");
  }

  /** Height of one place above another, the tilt of the whole in it. @throws MeasurementError `place`, `tilt` */
  rise(from: string, to: string): Measured<"length"> {
    if (!this.tiltKnown) this.refuseTilt("a rise");
    const [a, b] = [this.number(from), this.number(to)];
    return this.combined(this.heightsUm.map((_, i) => (i === b ? 1 : 0) - (i === a ? 1 : 0)));
  }

  /** Distance of a place from the least-squares plane (line) of all. @throws MeasurementError `place` */
  deviation(label: string): Measured<"length"> {
    const at = this.number(label);
    const own = this.heightsUm.map((_, i) => (i === at ? 1 : 0));
    return this.combined(leastSquares(planeColumns(this.survey.places), own).residuals);
  }

  /** Slope of the least-squares plane along x and y, positive where the map rises. @throws MeasurementError `tilt`, `on-a-line` */
  tilt(along: "x" | "y"): Measured<"slope"> {
    if (!this.tiltKnown) this.refuseTilt("a tilt");
    const columns = planeColumns(this.survey.places);
    if (columns.length < 3) {
      refuse(
        "on-a-line",
        `the places of ${this.survey.name} lie on one line; a tilt along ${along} takes a line beside it, ask for the rise between its ends`,
      );
    }
    const { covarianceFactor } = leastSquares(columns, this.heightsUm);
    const row = covarianceFactor[along === "x" ? 1 : 2]!;
    const weights = this.heightsUm.map((_, i) => row.reduce((s, c, j) => s + c * columns[j]![i]!, 0));
    const { value, terms } = this.combined(weights);
    // weights are per mm
    return Measured.of(
      Quantity.fromSi("slope", value.si * 1000),
      terms.map(({ input, sensitivity }) => ({ input, sensitivity: sensitivity * 1000 })),
    );
  }

  /** Peak to valley about the least-squares plane (line), as read, what noise adds, and what is left. */
  get peakToValley(): CorrectedWidth {
    return this.width("least squares");
  }

  /** Minimum zone: the figure that verdicts take. Found when first read. */
  get minimumZone(): CorrectedWidth {
    return this.width("minimum zone");
  }

  /** Flatness (straightness of a single line) about the least-squares plane, corrected for noise. */
  get overall(): Measured<"length"> {
    return this.peakToValley.corrected;
  }

  /** "flatness", or "straightness" where all places lie on one line */
  get formName(): "flatness" | "straightness" {
    return onOneLine(this.survey.places) ? "straightness" : "flatness";
  }

  /** The heights as a map, with their correlation, for planes, terms, straightness of its lines, figures. @throws MeasurementError `on-a-line` */
  surface(): Surface {
    return levelSurface(this.survey, this.#graph, this.#solution, this.#doubt);
  }

  /** The same survey without one reading, the reason kept. @throws MeasurementError `reading`, `no-reason`, and as `levelNetwork` */
  withoutReading(line: string, from: string, to: string, reason: string): LevelNetwork {
    const { survey } = this;
    const at = survey.readings.findIndex((r) => r.line === line && r.from === from && r.to === to);
    if (at < 0)
      refuse(
        "reading",
        `${survey.name} has no reading on line ${line}, ${placeName(from)} to ${placeName(to)}; see its readings`,
      );
    const name = readingName(survey.readings[at]!);
    if (!(reason.trim().length > 0)) {
      refuse("no-reason", `${name} of ${survey.name} is left out for no reason; say why, it stays with the result`);
    }
    const leftOut = [...(survey.leftOut ?? []), `${name}: ${reason}`];
    return new LevelNetwork({ ...survey, leftOut, readings: survey.readings.filter((_, k) => k !== at) }, this.seed);
  }

  /** Greatest closure of a loop; none where no loop is closed. */
  get greatestClosure(): Length | undefined {
    const sizes = this.loops.map(({ closure }) => Math.abs(closure.in("um")));
    return sizes.length > 0 ? um(Math.max(...sizes)) : undefined;
  }

  toString(): string {
    return networkWords(this);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  /** what the test of the readings found, in words */
  checkText(): string {
    return checkWords(this);
  }

  private width(by: "least squares" | "minimum zone"): CorrectedWidth {
    const made =
      this.#widths.get(by) ??
      levelWidth({ graph: this.#graph, solution: this.#solution, doubt: this.#doubt, seed: this.seed }, by);
    this.#widths.set(by, made);
    return made;
  }

  private combined(weights: readonly number[]): Measured<"length"> {
    const value = um(weights.reduce((s, w, i) => s + w * this.heightsUm[i]!, 0));
    return Measured.of(value, this.#doubt.termsOf(weights, value.si));
  }

  private number(label: string): number {
    const at = this.survey.places.findIndex((place) => place.label === label);
    if (at >= 0) return at;
    return refuse("place", `${this.survey.name} has no place ${placeName(label)}; see its places`);
  }

  private refuseTilt(what: string): never {
    return refuse(
      "tilt",
      `${what} of ${this.survey.name} can't be told: the zero of the level was read one way only; turn the level end for end on one step`,
    );
  }
}

/**
 * A level survey of any layout (line, grid, union jack, any order) as one least-squares network.
 *
 * Each reading is the rise from foot to foot over their distance, plus the zero of the level, which is an unknown of the
 * survey (of each line with `zero: "a line"`) unless it is stated. Exchange `from` and `to` where the level was turned
 * end for end: without one such reading, or diagonals, a zero cannot be told from a tilt, and the survey is refused
 * unless the tilt is not wanted. Readings count alike; the scatter of one is taken from the residuals, with its degrees of freedom.
 *
 * A level sees heights against gravity only while the table stands still; on a moving table it sees pitch and roll of the
 * travel. The floor gives under the operator: stand in one place, or read from a distance.
 *
 * @param options `seed` of the simulation of the bias of peak to valley
 * @throws MeasurementError `too-few-places`, `label`, `place`, `foot`, `not-connected`, `zero-one-way`, `zero-in-form`
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const instrument = { resolution: umPerM(1), maximumPermissibleError: umPerM(5) };
 * const run = { line: "front", start: { xMm: 0, yMm: 0 }, end: { xMm: 300, yMm: 0 }, foot: mm(100), readings: [umPerM(10), umPerM(0), umPerM(-10)], turned: [umPerM(-10), umPerM(0), umPerM(10)] };
 * form.levelNetwork({ name: "guide", frame, instrument, ...form.levelRuns([run]) }).rise("(0, 0)", "(100, 0)").in("um").toFixed(3) // => "1.000"
 */
export function levelNetwork(survey: LevelSurvey, options: { readonly seed?: number } = {}): LevelNetwork {
  return new LevelNetwork(survey, options.seed ?? 1);
}
