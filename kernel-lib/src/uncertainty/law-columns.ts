import { Draws } from "../numerics/draws.js";
import { normalCdf, normalQuantile } from "../numerics/index.js";
import { ziggurat } from "../numerics/ziggurat.js";
import type { AnyInput } from "./input.js";
import type { StudentLaw, TruncatedNormalLaw } from "./law.js";

/** fills a column with shifts of one input from its estimate, in SI */
type Filler = (column: Float64Array) => void;

/**
 * Draws from the laws of a list of inputs, a column of trials each. Student's t laws of one group share their draw of χ²,
 * so that a correlated group follows its joint law.
 */
export class LawColumns {
  private readonly draws = new Draws();
  private readonly fillers: readonly Filler[];
  private readonly spreads = new Map<string, { readonly column: Float64Array; fresh: boolean }>();

  /** @param size trials in a column */
  constructor(
    bases: readonly AnyInput[],
    private readonly size: number,
  ) {
    const members = new Map<object, number>();
    for (const { group } of bases) members.set(group, (members.get(group) ?? 0) + 1);
    const numbers = new Map([...members.keys()].map((group, k) => [group, k]));
    this.fillers = bases.map((input) =>
      this.filler(input, members.get(input.group)! > 1 ? numbers.get(input.group) : undefined),
    );
  }

  /** To the beginning of a block of the stream of a seed. @throws MeasurementError `seed` */
  start(seed: number, block: number): void {
    this.draws.start(seed, block);
  }

  /** The next trials: row k of `shifts` for input k, rows one after the other, the first `count` of each filled. */
  fill(shifts: Float64Array, count: number): void {
    for (const spread of this.spreads.values()) spread.fresh = false;
    this.fillers.forEach((fill, k) => {
      fill(shifts.subarray(k * this.size, k * this.size + count));
    });
  }

  private filler({ law, estimate }: AnyInput, sharedGroup: number | undefined): Filler {
    const { draws } = this;
    const off = law.location - estimate.si;
    switch (law.name) {
      case "normal":
        return (column) => draws.normal(column, off, law.standardDeviation);
      case "rectangular":
        return (column) => draws.symmetric(column, off, law.halfWidth);
      case "triangular":
        return (column) => draws.triangular(column, off, law.halfWidth);
      case "arcsine":
        return (column) => draws.arcsine(column, off, law.halfWidth);
      case "t":
        return this.student(law, off, sharedGroup);
      case "trapezoidal": {
        const [a, b] = [(law.halfWidth + law.topHalfWidth) / 2, (law.halfWidth - law.topHalfWidth) / 2];
        return this.ofTwo((first, second) => off + a * first + b * second);
      }
      case "curvilinear trapezoid":
        return this.ofTwo((first, second) => off + (law.halfWidth + law.limitDoubt * first) * second);
      case "truncated normal":
        return truncated(law, off, draws);
    }
  }

  private student({ degreesOfFreedom, scale }: StudentLaw, off: number, sharedGroup: number | undefined): Filler {
    const { draws } = this;
    if (sharedGroup === undefined) {
      const law = ziggurat(degreesOfFreedom);
      return (column) => draws.normal(column, off, scale, law);
    }
    const key = `${sharedGroup}/${degreesOfFreedom}`;
    const spread = this.spreads.get(key) ?? { column: new Float64Array(this.size), fresh: false };
    this.spreads.set(key, spread);
    return (column) => {
      const shared = spread.column.subarray(0, column.length);
      if (!spread.fresh) draws.spread(shared, degreesOfFreedom);
      spread.fresh = true;
      draws.normal(column, 0, scale);
      for (let i = 0; i < column.length; i++) column[i] = off + column[i]! * shared[i]!;
    };
  }

  /** a value made of two uniform ones between −1 and 1 */
  private ofTwo(combine: (first: number, second: number) => number): Filler {
    const second = new Float64Array(this.size);
    return (column) => {
      this.draws.symmetric(column);
      this.draws.symmetric(second.subarray(0, column.length));
      for (let i = 0; i < column.length; i++) column[i] = combine(column[i]!, second[i]!);
    };
  }
}

/** normal between two limits: normal draws outside are drawn again, or the quantile where few would be inside */
function truncated(law: TruncatedNormalLaw, off: number, draws: Draws): Filler {
  const { location, standardDeviation, lower, upper } = law;
  const [from, to] = [(lower - location) / standardDeviation, (upper - location) / standardDeviation];
  // on the side where probabilities are small, and so exact
  const side = from > 0 ? -1 : 1;
  const [low, high] = from > 0 ? [normalCdf(-to), normalCdf(-from)] : [normalCdf(from), normalCdf(to)];
  return (column) => {
    if (high - low < 0.1) {
      for (let i = 0; i < column.length; i++) {
        column[i] = off + standardDeviation * side * normalQuantile(low + draws.unit() * (high - low));
      }
      return;
    }
    draws.normal(column);
    const again = new Float64Array(1);
    for (let i = 0; i < column.length; i++) {
      while (!(column[i]! >= from && column[i]! <= to)) {
        draws.normal(again);
        column[i] = again[0]!;
      }
      column[i] = off + standardDeviation * column[i]!;
    }
  };
}
