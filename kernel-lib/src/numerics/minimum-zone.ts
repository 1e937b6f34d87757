import { MeasurementError } from "../measurement-error.js";
import { type Contact, ContactExchange, rounding } from "./contact-exchange.js";
import { range } from "./range.js";
import { type Bounds, needFinite, sweep } from "./slab-sweep.js";
import { refuseLine, threeApart } from "./start-contacts.js";

/** The thinnest slab, bounded by two parallel planes, that holds all points; distances along z. */
export interface MinimumZone {
  /** mid plane z = slopeX · x + slopeY · y + offset */
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
  /** distance of the two planes along z */
  readonly zone: number;
  /** every point that touches the upper and the lower plane, by its index */
  readonly upper: readonly number[];
  readonly lower: readonly number[];
  /** Proof that no thinner slab exists: one point of the plan is a mean both of upper and of lower contacts. */
  readonly certificate: {
    /** contacts with their shares of that mean; the shares of each side sum to one half */
    readonly shares: readonly Contact[];
    /** how far the two means lie apart, in parts of the extent of the points: zero but for rounding */
    readonly gap: number;
    /** how far the worst point stands outside the slab, in parts of the z range: zero but for rounding */
    readonly excess: number;
  };
}

/**
 * Minimum zone plane, exact: the linear programme in slope x, slope y, offset and half-width, solved by exchange of
 * contacts. It ends when no point stands outside the slab and the contacts prove that none thinner exists (a point of
 * the plan lies within both the hull of the upper and the hull of the lower contacts).
 *
 * Many points are solved on a part of them, to which sweeps over all add those that stand outside, until none does.
 *
 * @param x places, in one unit with y
 * @param z heights, in any unit
 * @throws MeasurementError `too-few-places`, `not-finite`, `on-a-line`, `no-convergence`
 * @see ISO 12781-1 (minimum zone reference plane); the proof is the duality of linear programmes
 * @example
 * numerics.minimumZonePlane([0, 1, 0, 1], [0, 0, 1, 1], [1, -1, -1, 1]).zone // => 2
 */
export function minimumZonePlane(x: ArrayLike<number>, y: ArrayLike<number>, z: ArrayLike<number>): MinimumZone {
  if (!(z.length >= 4 && x.length === z.length && y.length === z.length)) {
    throw new MeasurementError(
      "too-few-places",
      `minimumZonePlane: ${x.length} x, ${y.length} y and ${z.length} z; give at least four points, each with all three`,
    );
  }
  const all: Columns = [doubles(x), doubles(y), doubles(z)];
  const work = startingPart(all);
  for (const i of work) needFinite(...all, i);
  let last: ContactExchange | undefined;
  // each round adds a point to the part, so that it ends at all of them
  for (;;) {
    const scales = all.map((column) => scaling(column, work)) as [Scaling, Scaling, Scaling];
    const [px, py, pz] = scales.map(({ values }) => values) as [Float64Array, Float64Array, Float64Array];
    const exchange = new ContactExchange(px, py, pz, last?.plan);
    const excess = exchange.run();
    const swept = sweep(...all, boundsOf(exchange, scales));
    const known = new Set(work);
    const more = swept.outside.filter((i) => !known.has(i));
    if (more.length === 0) return report(exchange, scales, work, swept, excess);
    work.push(...more);
    last = exchange;
  }
}

/**
 * Width of the minimum zone of many sets of heights at the same places, each solved from the contacts of the one before.
 *
 * @throws MeasurementError `on-a-line`; the function returned: `no-convergence`
 */
export function minimumZoneWidths(x: ArrayLike<number>, y: ArrayLike<number>): (heights: ArrayLike<number>) => number {
  const which = Array.from(x, (_, i) => i);
  const [px, py] = [scaling(doubles(x), which).values, scaling(doubles(y), which).values];
  const exchange = new ContactExchange(px, py, new Float64Array(x.length));
  return (heights) => {
    const half = scaleInto(exchange.z, heights);
    exchange.run();
    return 2 * Math.max(exchange.half, 0) * half;
  };
}

type Columns = readonly [x: Float64Array, y: Float64Array, z: Float64Array];

/** up to this many points are solved together */
const together = 1500;

/** The points to begin with: all of few; of many an even choice, unless that lies on a line. */
function startingPart(all: Columns): number[] {
  const count = all[2].length;
  if (count <= together) return Array.from({ length: count }, (_, i) => i);
  // a step that is no divisor of a grid's rows does not fall on the same column again and again
  const step = count / 401;
  const part = Array.from({ length: 401 }, (_, k) => Math.floor((k + 0.5) * step));
  const [x, y] = [scaling(all[0], part).values, scaling(all[1], part).values];
  if (threeApart(x, y, 1e-3) !== undefined) return part;
  const every = Array.from({ length: count }, (_, i) => i);
  const corners = threeApart(scaling(all[0], every).values, scaling(all[1], every).values) ?? refuseLine(count);
  return [...new Set([...part, ...corners])];
}

/** The slab in the units of the points, and what counts as touching it. */
function boundsOf(exchange: ContactExchange, [sx, sy, sz]: readonly [Scaling, Scaling, Scaling]): Bounds {
  const { slopeX: a, slopeY: b, half } = exchange;
  return {
    middle: [sx.middle, sy.middle, sz.middle],
    offset: exchange.offset * sz.half,
    slopeX: (a * sz.half) / sx.half,
    slopeY: (b * sz.half) / sy.half,
    outside: (half + rounding * (1 + Math.abs(a) + Math.abs(b))) * sz.half,
    touching: (half - 1e-9) * sz.half,
  };
}

interface Scaling {
  readonly values: Float64Array;
  readonly middle: number;
  readonly half: number;
}

function report(
  exchange: ContactExchange,
  [sx, sy, sz]: readonly [Scaling, Scaling, Scaling],
  work: readonly number[],
  { upper, lower }: { readonly upper: readonly number[]; readonly lower: readonly number[] },
  excess: number,
): MinimumZone {
  const slopeX = (exchange.slopeX * sz.half) / sx.half;
  const slopeY = (exchange.slopeY * sz.half) / sy.half;
  const { shares, gap } = exchange.contacts();
  return {
    slopeX,
    slopeY,
    offset: sz.middle + exchange.offset * sz.half - slopeX * sx.middle - slopeY * sy.middle,
    zone: 2 * Math.max(exchange.half, 0) * sz.half,
    upper,
    lower,
    certificate: { shares: shares.map((c) => ({ ...c, index: work[c.index]! })), gap, excess },
  };
}

/** the values chosen, moved and scaled to −1 … 1 */
function scaling(all: Float64Array, which: readonly number[]): Scaling {
  const values = new Float64Array(which.length);
  for (let k = 0; k < values.length; k++) values[k] = all[which[k]!]!;
  const [low, high] = range(values);
  const middle = low + (high - low) / 2;
  const half = (high - low) / 2 || 1;
  for (let k = 0; k < values.length; k++) values[k] = (values[k]! - middle) / half;
  return { values, middle, half };
}

/** writes the heights scaled to −1 … 1 and returns by what they were divided */
function scaleInto(target: Float64Array, heights: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < target.length; i++) {
    const v = heights[i]!;
    if (v < low) low = v;
    if (v > high) high = v;
  }
  const middle = low + (high - low) / 2;
  const half = (high - low) / 2 || 1;
  for (let i = 0; i < target.length; i++) target[i] = (heights[i]! - middle) / half;
  return half;
}

function doubles(values: ArrayLike<number>): Float64Array {
  return values instanceof Float64Array ? values : Float64Array.from(values);
}
