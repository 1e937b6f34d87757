import { type TwoWayAnova, twoWayAnova } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { Gauge, Repeatability } from "./gauge.js";
import { splitOneWay, splitPooled, splitWithInteraction, type VarianceSplit } from "./gauge-study-anova.js";
import { refuse, type StudyCells, type StudyReading, studyCells } from "./gauge-study-cells.js";
import { interactionNote, poolAbove, resolutionNotes, short } from "./gauge-study-notes.js";
import { mostRanged, rangeFigures, splitByRanges } from "./gauge-study-ranges.js";
import { type SplitTerms, StudySplit } from "./gauge-study-split.js";
import type { SheetFile } from "./survey.js";

export interface GaugeStudyOptions {
  /** every part read by every operator, equally often */
  readonly readings: readonly StudyReading[];
  readonly name?: string;
  /** full width of the tolerance that the gauge is to judge */
  readonly tolerance?: Length;
  /** how many standard deviations a spread is stated as */
  readonly sigmas?: 6 | 5.15;
  /** taken into the repeats where its p-value is above 0.25 (common practice), unless said otherwise */
  readonly interaction?: "kept" | "left out";
  /** what the operators are: in a shed mostly days or set-ups */
  readonly operatorsAre?: "operators" | "days" | "set-ups";
  readonly partsAre?: "parts" | "places";
  /** its step tells whether the repeats are to be believed */
  readonly gauge?: Gauge;
  /** lines kept from the sheet */
  readonly notes?: readonly string[];
  /** the file that the readings came from */
  readonly file?: SheetFile;
}

/** A gauge study: how much of what differs is the gauge, who or when it was read, and the parts themselves. */
export class GaugeStudy {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly parts: readonly string[];
  readonly operators: readonly string[];
  readonly repeats: number;
  readonly sigmas: number;
  readonly tolerance: Length | undefined;
  /** missing where none was given */
  readonly gauge: Gauge | undefined;
  readonly file: SheetFile | undefined;
  /** missing where there was one operator */
  readonly anova: TwoWayAnova | undefined;
  /** the one to go by */
  readonly chosen: StudySplit;
  readonly withInteraction: StudySplit | undefined;
  readonly withoutInteraction: StudySplit | undefined;
  /** missing where there are more than ten of anything, as its factors are tabled so far */
  readonly averageAndRange: StudySplit | undefined;
  /** what was not tested, why the interaction was kept or not, what limits the figures */
  readonly notes: readonly string[];

  /** @internal made by `gaugeStudy` */
  constructor(
    readonly name: string,
    private readonly cells: StudyCells,
    /** "place", "day": what parts and operators are called */
    readonly words: { readonly part: string; readonly operator: string },
    options: GaugeStudyOptions,
  ) {
    const { parts, operators, repeats, valuesUm } = cells;
    const { sigmas = 6, tolerance, gauge } = options;
    const shape = { parts: parts.length, operators: operators.length, repeats };
    const terms: SplitTerms = { sigmas, tolerance, names: namesOf(words) };
    const split = (method: string, found: VarianceSplit) => new StudySplit(method, found.variances, terms, found.notes);
    this.parts = parts;
    this.operators = operators;
    this.repeats = repeats;
    this.sigmas = sigmas;
    this.tolerance = tolerance;
    this.gauge = gauge;
    this.file = options.file;
    const said = {
      AV: `the ${words.operator}s`,
      INT: `${words.operator}s × ${words.part}s`,
      PV: `the ${words.part}s`,
    };
    const notes = [...(options.notes ?? [])];
    if (operators.length > 1) {
      const anova = twoWayAnova(valuesUm, shape);
      this.anova = anova;
      this.withInteraction = split("analysis of variance, interaction kept", splitWithInteraction(anova, said));
      this.withoutInteraction = split("analysis of variance, interaction left out", splitPooled(anova, said));
      const kept =
        options.interaction === undefined ? anova.interaction.p <= poolAbove : options.interaction === "kept";
      this.chosen = kept ? this.withInteraction : this.withoutInteraction;
      notes.push(interactionNote(anova, kept, options.interaction !== undefined, words));
    } else {
      this.anova = undefined;
      this.withInteraction = undefined;
      this.withoutInteraction = undefined;
      this.chosen = split("analysis of variance, one way", splitOneWay(valuesUm, parts.length, said));
      notes.push(
        `one ${words.operator} only: what ${words.operator}s differ by (AV) is not tested, and GRR holds the repeats alone`,
      );
    }
    const ranged = splitByRanges(rangeFigures(cells), shape, said.AV);
    this.averageAndRange = ranged && split("averages and ranges", ranged);
    if (!ranged) notes.push(`averages and ranges are left out: their factors are tabled up to ${mostRanged} of each`);
    notes.push(...resolutionNotes(this.repeatability, gauge));
    this.notes = notes;
    Object.freeze(this);
  }

  /** scatter of the repeats alone, as `gauge` takes it: same place, same hand, nothing set up anew */
  get repeatability(): Repeatability {
    const { standardDeviation, degreesOfFreedom } = this.chosen.of("EV")!;
    const least = this.parts.length * this.operators.length * (this.repeats - 1);
    return { standardDeviation, degreesOfFreedom: degreesOfFreedom ?? least };
  }

  /** Readings of one part by one operator, in the order given; the operator may be left out where there was one. */
  readingsOf(part: string, operator = this.operators.length === 1 ? this.operators[0]! : ""): readonly Length[] {
    const { parts, operators, repeats, valuesUm } = this.cells;
    const [i, j] = [parts.indexOf(part), operators.indexOf(operator)];
    if (i < 0 || j < 0)
      refuse(
        "study-cell",
        `there is no ${this.words.part} ${part} read by ${operator === "" ? `the one ${this.words.operator}` : `${this.words.operator} ${operator}`}`,
      );
    const from = (i * operators.length + j) * repeats;
    return valuesUm.slice(from, from + repeats).map((value) => Quantity.fromSi("length", value * 1e-6));
  }

  toString(): string {
    const { part, operator } = this.words;
    const grr = this.chosen.of("GRR")!;
    const ofTolerance =
      grr.percentOfTolerance === undefined
        ? ""
        : `, ${printNumber(grr.percentOfTolerance, 3)} % of the tolerance of ${this.tolerance}`;
    const groups = Number.isFinite(this.chosen.categories)
      ? `${this.chosen.categories} groups of ${part}s told apart`
      : "no scatter of the gauge seen";
    return `${this.name}: ${this.parts.length} ${part}s × ${this.operators.length} ${operator}${this.operators.length === 1 ? "" : "s"} × ${this.repeats} repeats; GRR ${short(grr.spread)} (${this.sigmas} s), ${printNumber(grr.percentOfVariation, 3)} % of the whole variation${ofTolerance}; ${groups}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A gauge study: crossed analysis of variance with and without interaction, and averages and ranges beside it.
 *
 * Parts are often places of the table, operators days or set-ups; with one operator what they differ by is not tested.
 *
 * @throws MeasurementError `study-unbalanced` names the cell that is short; `study-too-small`, `study-reading`,
 * `study-flat`, `tolerance`
 * @see AIAG, Measurement Systems Analysis, 4th edition, chapter III
 * @example
 * const heights = { A1: [3, 4, 3, 5], B4: [-6, -6, -5, -6], H2: [11, 10, 11, 12] };
 * const readings = Object.entries(heights).flatMap(([part, list]) => list.map((height, i) => ({ part, operator: i < 2 ? "Saturday" : "Sunday", value: um(height) })));
 * survey.gaugeStudy({ readings, partsAre: "places", operatorsAre: "days" }).chosen.of("GRR").percentOfVariation.toFixed(1) // => "9.6"
 */
export function gaugeStudy(options: GaugeStudyOptions): GaugeStudy {
  const { tolerance, sigmas, name = "gauge study", operatorsAre = "operators", partsAre = "parts" } = options;
  if (tolerance !== undefined && !(tolerance instanceof Quantity && tolerance.kind === "length" && tolerance.si > 0)) {
    refuse(
      "tolerance",
      `the tolerance is ${String(tolerance)}; give its full width as a length above zero, such as um(20)`,
    );
  }
  if (sigmas !== undefined && sigmas !== 6 && sigmas !== 5.15) {
    refuse("sigmas", `sigmas is ${String(sigmas)}; give 6 or 5.15, the two that are in use`);
  }
  const words = {
    part: partsAre.slice(0, -1),
    operator: operatorsAre.slice(0, -1),
  };
  return new GaugeStudy(name, studyCells(options.readings, words), words, options);
}

function namesOf({ part, operator }: { readonly part: string; readonly operator: string }): SplitTerms["names"] {
  return {
    EV: "repeats (EV)",
    AV: `${operator}s (AV)`,
    INT: `${operator}s × ${part}s (INT)`,
    GRR: "gauge in all (GRR)",
    PV: `${part}s (PV)`,
    TV: "whole (TV)",
  };
}
