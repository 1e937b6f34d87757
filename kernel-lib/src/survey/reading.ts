import type { Length, Temperature, Time } from "../quantity/index.js";

/** One reading of a survey, as it stands on the sheet. */
export interface Reading {
  readonly place: string;
  /** place of the stylus on the table; missing at a datum that the sheet gives no place for */
  readonly x?: Length;
  readonly y?: Length;
  /** as read; see `heightFactor` for the height it means */
  readonly z: Length;
  readonly pass: number;
  /** when it was taken, as a number that grows; missing where the sheet does not say */
  readonly order?: number;
  /** of the day by the clock, or since the start, as the sheet counts */
  readonly time?: Time;
  readonly temperature?: Temperature;
  readonly approach?: string;
  readonly note?: string;
}

/** A place of the survey, without its readings. */
export interface Place {
  readonly label: string;
  readonly x: Length;
  readonly y: Length;
}

/** A cell of the sheet left blank: planned, not probed. */
export interface Blank {
  readonly place: string;
  readonly pass: number;
}
