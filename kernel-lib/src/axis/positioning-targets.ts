import { randomStream } from "../numerics/index.js";
import type { Stack } from "./block-stacks.js";
import { periodColumns } from "./periodic-columns.js";

/** A period that the targets must be able to tell. */
export interface NamedPeriod {
  readonly name: string;
  readonly periodMm: number;
}

export interface TargetTerms {
  readonly fromMm: number;
  readonly toMm: number;
  readonly count: number;
  readonly periods: readonly NamedPeriod[];
  /** targets are rounded to this */
  readonly landOnMm: number;
  /** stacks that blocks give, rising; lengths are then counted from the first target on */
  readonly stacks: readonly Stack[] | undefined;
  readonly seed: number;
}

export interface DrawnTarget {
  readonly atMm: number;
  /** missing where no blocks are used, or none at the stop itself */
  readonly stack?: Stack;
}

export interface DrawnTargets {
  readonly targets: readonly DrawnTarget[];
  /** half of the range of the random offsets */
  readonly offsetMm: number;
  /** places near which no stack comes; the draw is then not complete */
  readonly missingMm: readonly number[];
  readonly aliased: readonly string[];
}

const draws = 200;
/** how far a stack may lie from the even place, in parts of the spacing; two neighbours never meet */
const nearness = 0.4;

/**
 * Targets at even places with random offsets, drawn again until every period can be told at them. Offsets reach half of the
 * longest period, 0.3 of the spacing at most; 0.15 of it where no period is known.
 */
export function drawnTargets(terms: TargetTerms): DrawnTargets {
  const spacing = (terms.toMm - terms.fromMm) / (terms.count - 1);
  const longest = Math.max(0, ...terms.periods.map(({ periodMm }) => periodMm));
  const offsetMm = longest > 0 ? Math.min(longest / 2, 0.3 * spacing) : 0.15 * spacing;
  let found = drawOnce(terms, spacing, offsetMm, 0);
  for (let draw = 1; draw < draws && found.aliased.length > 0 && found.missingMm.length === 0; draw++) {
    found = drawOnce(terms, spacing, offsetMm, draw);
  }
  return found;
}

function drawOnce(terms: TargetTerms, spacing: number, offsetMm: number, draw: number): DrawnTargets {
  const { fromMm, toMm, count, landOnMm, stacks, seed, periods } = terms;
  const { uniform } = randomStream(seed, 2300 + draw);
  const wanted = Array.from({ length: count }, (_, i) => {
    // the outermost two only inwards, so that they stay inside the travel
    const offset = i === 0 ? uniform() : i === count - 1 ? -uniform() : 2 * uniform() - 1;
    const even = fromMm + i * spacing;
    const rounded = landOnMm * Math.round((even + offsetMm * offset) / landOnMm);
    // whole nanometres, and inside the travel whatever the rounding
    const inside =
      rounded < fromMm
        ? landOnMm * Math.ceil(fromMm / landOnMm)
        : rounded > toMm
          ? landOnMm * Math.floor(toMm / landOnMm)
          : rounded;
    return Math.round(inside * 1e6) / 1e6;
  });
  const targets = stacks === undefined ? wanted.map((atMm) => ({ atMm })) : fromStop(wanted, stacks, spacing, toMm);
  const missingMm = targets.flatMap((target, i) => (target === undefined ? [wanted[i]!] : []));
  const whole = targets.filter((target) => target !== undefined);
  const columns = periodColumns(
    whole.map(({ atMm }) => atMm),
    periods,
  );
  return {
    targets: whole,
    offsetMm,
    missingMm,
    aliased: columns.flatMap(({ aliased }) => (aliased === "" ? [] : [aliased])),
  };
}

/** the nearest stack to each place wanted; the first target is the stop itself */
function fromStop(
  wanted: readonly number[],
  stacks: readonly Stack[],
  spacing: number,
  toMm: number,
): (DrawnTarget | undefined)[] {
  const stop = wanted[0]!;
  return wanted.map((place, i) => {
    if (i === 0) return { atMm: stop };
    const length = place - stop;
    const near = stacks.filter(
      ({ lengthMm }) => Math.abs(lengthMm - length) <= nearness * spacing && stop + lengthMm <= toMm,
    );
    const [first] = near;
    if (first === undefined) return undefined;
    const stack = near.reduce((a, b) => (cost(b, length) < cost(a, length) ? b : a), first);
    return { atMm: Math.round((stop + stack.lengthMm) * 1e6) / 1e6, stack };
  });
}

/** distance, and a tenth of a millimetre for each block to wring: a joint is a doubt more */
function cost({ lengthMm, blocksMm }: Stack, wantedMm: number): number {
  return Math.abs(lengthMm - wantedMm) + 0.1 * blocksMm.length;
}
