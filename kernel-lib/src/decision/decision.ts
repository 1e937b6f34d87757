import { areaText } from "../facing/reach.js";
import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import { caveatSentences, withCaveats } from "../uncertainty/caveat.js";
import { whatWouldChange } from "./change.js";
import { hoursText, outlayText } from "./effort.js";
import { ExpectedCost } from "./expected-cost.js";
import type { Option, OptionKey } from "./option.js";
import { chanceText, coverageStatement, sureEnough } from "./prediction.js";
import type { FlatnessTolerance } from "./setting.js";
import type { Simulation } from "./simulation.js";

/** One option as a line of a table, all in words. */
export interface DecisionRow {
  readonly option: string;
  readonly flatness: string;
  readonly interval: string;
  readonly chance: string;
  readonly provable: string;
  readonly verdict: string;
  readonly errorOnPart: string;
  readonly byStraightedge: string;
  readonly hours: string;
  readonly outlay: string;
  readonly canBeUndone: string;
  readonly risks: string;
  readonly assumes: string;
}

/** Options against each other; made by `decision.options`. Nothing is weighed in secret: the rule is printed. */
export class Decision {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly tolerance: FlatnessTolerance;
  /** the least flatness tolerance that anything could be proven to keep with this gauge and this map: the guard alone */
  readonly smallestProvable: Length;
  readonly rule =
    "an option reaches the tolerance when its chance is 95 % or more; of those that do, the one with the fewest hours is named first, hours not given come last";
  /** what holds for every figure in the table */
  readonly frame: string;
  readonly whatWouldChangeIt: readonly string[];
  /** what is open in the health checks of the surveys that every figure here rests on */
  readonly caveats: readonly string[];
  /** options by what they cost on the average, and what one more survey is worth; where `stakes` were given */
  readonly expectedCost: ExpectedCost | undefined;

  constructor(
    simulation: Simulation,
    readonly options: readonly Option[],
  ) {
    const { surface, tolerance, independent } = simulation.input;
    this.caveats = caveatSentences([surface.caveat, independent?.caveat]);
    this.tolerance = tolerance;
    this.smallestProvable = um(simulation.guardUm);
    this.frame = `minimum zone flatness at the places probed, relative to ${surface.frame.relativeTo}; form finer than the pitch is not in it; ${coverageStatement}`;
    const { stakes } = simulation.input;
    this.expectedCost = stakes && new ExpectedCost(simulation, stakes, options);
    this.whatWouldChangeIt = [
      ...whatWouldChange(simulation, options),
      ...(this.expectedCost?.whatWouldChangeIt ?? [
        "what one more survey is worth before deciding: give stakes (what a miss costs, what measuring again takes) and it is worked out",
      ]),
    ];
    Object.freeze(this);
  }

  /** One option by its key. */
  option(key: OptionKey): Option {
    return this.options.find((option) => option.key === key)!;
  }

  /** Options that reach the tolerance, by the rule. Re-tramming alone changes no map and is not among them. */
  get reaching(): readonly Option[] {
    if (!(this.tolerance.upper.si > this.smallestProvable.si)) return [];
    const sure = this.options.filter(({ key, prediction }) => {
      return key !== "tram" && prediction !== undefined && prediction.chanceToMeet >= sureEnough;
    });
    const hours = (option: Option) => option.effort.hours?.si ?? Number.POSITIVE_INFINITY;
    return sure.toSorted((a, b) => (hours(a) === hours(b) ? 0 : hours(a) - hours(b)));
  }

  /** One sentence that can be quoted. */
  get answer(): string {
    const limit = `${this.tolerance.upper.text()} (${this.tolerance.source})`;
    if (!(this.tolerance.upper.si > this.smallestProvable.si)) {
      return `No option can be proven at ${limit}: with this gauge and this map even a perfect surface is proven to no better than ${this.smallestProvable.in("um").toFixed(1)} µm`;
    }
    const [first, ...others] = this.reaching;
    if (!first) return `No option on the list reaches ${limit} with a chance of 95 %; ${this.nearest()}`;
    const also = others.map((option) => `${named(option)} (${chanceText(option.prediction!.chanceToMeet)})`);
    const rest = also.length > 0 ? `; so would: ${also.join(", ")}` : "";
    return `${capital(named(first))} reaches ${limit} with a chance of ${chanceText(first.prediction!.chanceToMeet)}, ${first.effort.hours ? `${hoursText(first.effort)} of work` : "hours not given"}${rest}`;
  }

  /** The table, a row an option, in the order listed. */
  get rows(): readonly DecisionRow[] {
    return this.options.map(rowOf);
  }

  /** Cautions of the options that reach the tolerance and of every one that is opened: all of them, once each. */
  get cautions(): readonly string[] {
    return [...new Set(this.options.flatMap((option) => option.cautions))];
  }

  toString(): string {
    return withCaveats(this.answer, this.caveats);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private nearest(): string {
    const judged = this.options.flatMap(({ name, prediction }) => (prediction ? [{ name, prediction }] : []));
    const best = judged.toSorted((a, b) => b.prediction.chanceToMeet - a.prediction.chanceToMeet)[0];
    return best
      ? `nearest is ${best.name} with ${chanceText(best.prediction.chanceToMeet)}`
      : "none of them can be judged from this map";
  }
}

function rowOf(option: Option): DecisionRow {
  const { prediction: p } = option;
  const print = (value: Length) => value.in("um").toFixed(1);
  return {
    option: option.name,
    flatness: p ? `${print(p.estimate)} µm` : "not known",
    interval: p ? `${print(p.low)} µm to ${print(p.high)} µm` : "not known",
    chance: p ? chanceText(p.chanceToMeet) : "not known",
    provable: p ? chanceText(p.chanceToProve) : "not known",
    verdict: option.verdict,
    errorOnPart: option.errorOnPart,
    byStraightedge: option.byStraightedge,
    hours: hoursText(option.effort),
    outlay: outlayText(option.effort),
    canBeUndone: option.canBeUndone,
    risks: option.risks,
    assumes: option.assumes,
  };
}

/** a stated area says which */
function named({ name, area }: Option): string {
  return area ? `${name}, ${areaText(area)}` : name;
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
