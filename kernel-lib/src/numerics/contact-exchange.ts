import { MeasurementError } from "../measurement-error.js";
import { type Plan, startContacts } from "./start-contacts.js";

/** a point that holds the slab, and its share of the proof */
export interface Contact {
  readonly index: number;
  readonly side: "upper" | "lower";
  readonly share: number;
}

/** below this, in parts of the range of the points, a difference is rounding */
export const rounding = 1e-12;

/**
 * The exchange of contacts behind the minimum zone: the simplex method on the dual programme, whose unknowns are the
 * shares of the contacts. Four contacts hold the slab at a time. Shares hang on the places and sides alone, so that the
 * contacts of one set of heights are a start for any other at the same places.
 *
 * Points are scaled to about −1 … 1; `z` may be written to between runs.
 */
export class ContactExchange {
  slopeX = 0;
  slopeY = 0;
  offset = 0;
  half = 0;
  /** contacts by index; side +1 above, −1 below the mid plane */
  private readonly index: number[];
  private readonly side: number[];
  /** row k: what each of the four conditions (x, y, 1, sum) asks of the share of contact k */
  private readonly inverse = new Float64Array(16);
  private readonly change = new Float64Array(4);

  constructor(
    readonly x: Float64Array,
    readonly y: Float64Array,
    readonly z: Float64Array,
    start: Plan = startContacts(x, y, z),
  ) {
    this.index = [...start.index];
    this.side = [...start.side];
  }

  /** The contacts as a start for the same points in other arrays. */
  get plan(): Plan {
    return { index: [...this.index], side: [...this.side] };
  }

  /**
   * Exchanges contacts until no point stands outside; returns how far the worst stands outside, rounding apart.
   *
   * @param most exchanges after which rounding is held to lead in a circle
   * @throws MeasurementError `not-finite`, `no-convergence`
   */
  run(most = 10_000): number {
    this.hold();
    let reached = Number.NEGATIVE_INFINITY;
    let stalled = 0;
    for (let step = 0; step < most; step++) {
      const allowed = rounding * (1 + Math.abs(this.slopeX) + Math.abs(this.slopeY));
      // a contact without a share is exchanged without gain; the first point outside, not the worst, cannot go in a circle
      const entering = stalled > 20 ? this.firstOutside(allowed) : this.worst();
      const residual = this.residual(entering);
      const beyond = Math.abs(residual) - this.half;
      if (beyond <= allowed) return Math.max(beyond, 0);
      if (!Number.isFinite(beyond)) {
        throw new MeasurementError(
          "not-finite",
          "minimumZonePlane: the heights lie too far apart for their differences to be numbers; give them in a larger unit",
        );
      }
      stalled = this.half > reached + rounding ? 0 : stalled + 1;
      reached = Math.max(reached, this.half);
      this.exchange(entering, residual < 0 ? -1 : 1);
      this.hold();
    }
    throw new MeasurementError(
      "no-convergence",
      `minimumZonePlane: the contacts still change after ${most} exchanges; look for places that nearly coincide`,
    );
  }

  /** The contacts that carry a share, and how far the means of the two sides lie apart. */
  contacts(): { shares: readonly Contact[]; gap: number } {
    let dx = 0;
    let dy = 0;
    const all = this.index.map((index, k) => {
      const share = this.inverse[4 * k + 3]!;
      dx += 2 * share * this.side[k]! * this.x[index]!;
      dy += 2 * share * this.side[k]! * this.y[index]!;
      return { index, side: this.side[k]! > 0 ? ("upper" as const) : ("lower" as const), share };
    });
    return { shares: all.filter(({ share }) => share > 1e-12), gap: Math.hypot(dx, dy) };
  }

  residual(i: number): number {
    return this.z[i]! - this.slopeX * this.x[i]! - this.slopeY * this.y[i]! - this.offset;
  }

  private worst(): number {
    const { x, y, z, slopeX: a, slopeY: b, offset: c } = this;
    let found = 0;
    let most = -1;
    for (let i = 0; i < z.length; i++) {
      const size = Math.abs(z[i]! - a * x[i]! - b * y[i]! - c);
      if (size > most) {
        most = size;
        found = i;
      }
    }
    return found;
  }

  private firstOutside(allowed: number): number {
    for (let i = 0; i < this.z.length; i++) if (Math.abs(this.residual(i)) - this.half > allowed) return i;
    return this.worst();
  }

  /** Lets a point in; the contact that would first be left without a share goes out. One does: the moves sum to 1. */
  private exchange(entering: number, side: number): void {
    const { inverse, change } = this;
    const [u, v] = [side * this.x[entering]!, side * this.y[entering]!];
    let leaving = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 4; k++) {
      const moves = inverse[4 * k]! * u + inverse[4 * k + 1]! * v + inverse[4 * k + 2]! * side + inverse[4 * k + 3]!;
      change[k] = moves;
      if (!(moves > 1e-11)) continue;
      const ratio = Math.max(inverse[4 * k + 3]!, 0) / moves;
      const first = leaving < 0 || this.order(k) < this.order(leaving);
      if (ratio < least - 1e-14 || (ratio <= least + 1e-14 && first)) {
        least = Math.min(ratio, least);
        leaving = k;
      }
    }
    this.index[leaving] = entering;
    this.side[leaving] = side;
  }

  /** a fixed order of all points with their sides */
  private order(k: number): number {
    return 2 * this.index[k]! + (this.side[k]! < 0 ? 1 : 0);
  }

  /** Inverse of the four conditions, and the slab that the contacts hold. */
  private hold(): void {
    const { inverse, index, side } = this;
    invertConditions(this.x, this.y, index, side, inverse);
    let a = 0;
    let b = 0;
    let c = 0;
    let h = 0;
    for (let k = 0; k < 4; k++) {
      const z = side[k]! * this.z[index[k]!]!;
      a += inverse[4 * k]! * z;
      b += inverse[4 * k + 1]! * z;
      c += inverse[4 * k + 2]! * z;
      h += inverse[4 * k + 3]! * z;
    }
    this.slopeX = a;
    this.slopeY = b;
    this.offset = c;
    this.half = h;
  }
}

const rows = new Float64Array(32);

/** Inverse of the matrix with columns (s x, s y, s, 1) a contact, by elimination with row pivoting. */
function invertConditions(
  x: Float64Array,
  y: Float64Array,
  index: readonly number[],
  side: readonly number[],
  inverse: Float64Array,
): void {
  rows.fill(0);
  for (let k = 0; k < 4; k++) {
    const s = side[k]!;
    rows[k] = s * x[index[k]!]!;
    rows[8 + k] = s * y[index[k]!]!;
    rows[16 + k] = s;
    rows[24 + k] = 1;
    rows[8 * k + 4 + k] = 1;
  }
  for (let k = 0; k < 4; k++) {
    let pivot = k;
    for (let i = k + 1; i < 4; i++) if (Math.abs(rows[8 * i + k]!) > Math.abs(rows[8 * pivot + k]!)) pivot = i;
    const scale = 1 / rows[8 * pivot + k]!;
    for (let j = 0; j < 8; j++) {
      const top = rows[8 * pivot + j]! * scale;
      rows[8 * pivot + j] = rows[8 * k + j]!;
      rows[8 * k + j] = top;
    }
    for (let i = 0; i < 4; i++) {
      const factor = rows[8 * i + k]!;
      if (i === k || factor === 0) continue;
      for (let j = 0; j < 8; j++) rows[8 * i + j] = rows[8 * i + j]! - factor * rows[8 * k + j]!;
    }
  }
  for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) inverse[4 * i + j] = rows[8 * i + 4 + j]!;
}
