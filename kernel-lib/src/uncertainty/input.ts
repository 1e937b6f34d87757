import { MeasurementError } from "../measurement-error.js";
import type { Difference, Kind, UnitSystem } from "../quantity/index.js";
import { Quantity } from "../quantity/index.js";
import { withArticle } from "../words.js";
import type { Caveat } from "./caveat.js";
import { type Distribution, type Law, lawOf, type PlainDistribution } from "./law.js";

/** What all inputs are described by. */
export interface InputFacts<K extends Kind> {
  /** as it will stand in the budget table: "indicator, scale" */
  readonly label: string;
  readonly estimate: Quantity<K>;
  readonly standardUncertainty: Quantity<Difference<K>>;
  /** normal with finite degrees of freedom is Student's t */
  readonly distribution: PlainDistribution;
  /** the law in full, in SI, where its mean and u do not say it all */
  readonly law?: Law;
  /** of the standard uncertainty, 1 or more; `Infinity` when it is taken as exactly known */
  readonly degreesOfFreedom: number;
  /** A: from the scatter of readings. B: from anything else (JCGM 100, 3.3.4) */
  readonly evaluation: "A" | "B";
  /** where the figure comes from: a certificate, a maker's sheet, the readings of the day */
  readonly source: string;
  /** what speaks against figures made of it and is no part of its uncertainty */
  readonly caveat?: Caveat | undefined;
  /** the same object for inputs whose spread was estimated from the same readings: their degrees of freedom count once */
  readonly group?: object;
}

/** An input of any kind, as budgets and tables handle it. */
export interface AnyInput {
  readonly label: string;
  readonly estimate: Pick<Quantity<Kind>, "kind" | "si">;
  readonly uncertaintySi: number;
  readonly distribution: Distribution;
  readonly law: Law;
  readonly degreesOfFreedom: number;
  readonly evaluation: "A" | "B";
  readonly source: string;
  readonly group: object;
  readonly caveat?: Caveat | undefined;
}

/**
 * One input of an error budget. Made by `input.normal`, `input.rectangular`, `input.fromReadings` and their like.
 *
 * The identity of an input is the object itself: used in two results it makes them correlated; a second object with the
 * same figures is another, independent input.
 *
 * @see JCGM 100:2008, clause 4
 */
export class Input<K extends Kind> implements AnyInput {
  readonly label: string;
  readonly estimate: Quantity<K>;
  readonly standardUncertainty: Quantity<Difference<K>>;
  readonly distribution: Distribution;
  /** what a simulation draws from, in SI */
  readonly law: Law;
  readonly degreesOfFreedom: number;
  readonly evaluation: "A" | "B";
  readonly source: string;
  /** inputs of one group rest on one estimate of spread: their degrees of freedom count once, their t laws share one
   * draw of χ²; a `CorrelatedGroup` where they came from `correlated` */
  readonly group: object;
  readonly caveat: Caveat | undefined;
  /** the standard uncertainty in SI */
  readonly uncertaintySi: number;

  /** @throws MeasurementError `input` */
  constructor(facts: InputFacts<K>) {
    check(facts);
    this.label = facts.label;
    this.estimate = facts.estimate;
    this.standardUncertainty = facts.standardUncertainty;
    const u = facts.standardUncertainty as Quantity<Kind>;
    this.law = facts.law ?? lawOf(facts.distribution, facts.estimate.si, u.si, facts.degreesOfFreedom);
    this.distribution = this.law.name;
    this.degreesOfFreedom = facts.degreesOfFreedom;
    this.evaluation = facts.evaluation;
    this.source = facts.source;
    this.group = facts.group ?? this;
    this.caveat = facts.caveat;
    this.uncertaintySi = u.si;
    Object.freeze(this);
  }

  /** Label, estimate, u, law and type in one line. */
  text(system?: UnitSystem): string {
    const u = this.standardUncertainty as Quantity<Kind>;
    return `${this.label}: ${this.estimate.text(system)}, u = ${u.text(system)} (${this.distribution}, type ${this.evaluation})`;
  }

  toString(): string {
    return this.text();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

function check<K extends Kind>(facts: InputFacts<K>): void {
  const { label, estimate, standardUncertainty, degreesOfFreedom } = facts;
  const expected = estimate.kind === "temperature" ? "temperature difference" : estimate.kind;
  const given: Quantity<Kind> = standardUncertainty as Quantity<Kind>;
  if (!(given instanceof Quantity) || given.kind !== expected) {
    throw new MeasurementError(
      "input",
      `input "${label}": its uncertainty is ${given instanceof Quantity ? withArticle(given.kind) : "no quantity"}; give ${withArticle(expected)}`,
    );
  }
  if (!(given.si > 0)) {
    throw new MeasurementError(
      "input",
      `input "${label}": its uncertainty is ${given}; give one greater than zero, or use the plain quantity where the value is exact`,
    );
  }
  // a spread known worse than from two readings is not known: Student's t below 1 has no use in a budget
  if (!(degreesOfFreedom >= 1)) {
    throw new MeasurementError(
      "input",
      `input "${label}": ${degreesOfFreedom} degrees of freedom; give 1 or more, or leave them out where the uncertainty is exactly known`,
    );
  }
}
