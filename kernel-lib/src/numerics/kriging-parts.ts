import type { Dense } from "./dense.js";
import type { TrendSpace } from "./trend-space.js";

/** What a system of places is made of. */
export interface KrigingParts extends Places {
  readonly where: string;
  readonly z: Float64Array;
  readonly trend: TrendSpace;
  /** writes the lower triangle of the covariance of the readings, rows `ld` apart; `spare`: room for three columns and twelve numbers */
  readonly fill: (memory: Float64Array, dense: Dense, at: number, ld: number, spare: number) => void;
  /** a row for each place, a column for each target: covariance of the heights at both */
  readonly cross: (
    memory: Float64Array,
    dense: Dense,
    at: number,
    ld: number,
    places: Places,
    targets: Targets,
  ) => void;
  /** values of the trend's columns at a target */
  readonly trendAt: (x: number, y: number) => readonly number[];
  /** variance of the height at a target before anything is read */
  readonly variance: number;
  /** true where heights alone are asked for: a large factor need not be kept */
  readonly meansOnly?: boolean;
}

export interface Places {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export interface Targets extends Places {
  readonly from: number;
  readonly count: number;
}

/** Mean and variance at each target. */
export interface Predicted {
  readonly mean: Float64Array;
  readonly variance: Float64Array;
}
