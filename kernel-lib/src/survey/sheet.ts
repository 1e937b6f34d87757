import type { Temperature, UnitNames } from "../quantity/index.js";
import type { SheetColumns } from "./columns.js";
import type { Gauge } from "./gauge.js";
import type { Frame } from "./surface.js";

export type LengthUnit = UnitNames["length"];
export type TemperatureUnit = "degC" | "degF" | "K";
/** `clock` = hours and minutes of the day, 19:05 or 19:05:30 */
export type TimeUnit = "clock" | "s" | "min" | "h";

/** Lines of a sheet that say how the readings were taken. Unsaid ones are named by the survey's health. */
export const protocolKeys = [
  "burrs stoned",
  "top wiped",
  "stylus preloaded",
  "spindle",
  "quill",
  "head",
  "locks",
  "approach",
  "vice",
  "places",
  "slide between places",
  "feet",
  "thermometers",
] as const;
export type ProtocolKey = (typeof protocolKeys)[number];
export type Protocol = { readonly [K in ProtocolKey]?: string };

/** A span along an axis in millimetres: the travel that can be probed, or the table top. */
export interface Span {
  readonly fromMm: number;
  readonly toMm: number;
}

/** A line `# temperature …: 17.4 °C`, or `17.4 °C to 18.1 °C`. */
export interface StatedTemperature {
  /** what stands after the word temperature: "table", "column"; empty where nothing does */
  readonly where: string;
  readonly low: Temperature;
  readonly high: Temperature;
  readonly text: string;
}

/** A reading that the reader set aside in code, with the reason; it stays in the sheet. */
export interface Removal {
  readonly place: string;
  readonly pass: number;
  readonly reason: string;
}

/** A place that stands off its neighbours and that somebody went to look at, with what was found there. */
export interface Look {
  readonly place: string;
  readonly found: string;
}

/** The units of the columns, as the heading states them. */
export interface SheetUnits {
  readonly x: LengthUnit;
  readonly y: LengthUnit;
  readonly z: LengthUnit;
  readonly time: TimeUnit;
  readonly temperature: TemperatureUnit;
}

/** One row as written; numbers in the units of the heading. A missing z = not probed. */
export interface SheetRow {
  readonly place: string;
  readonly pass: number;
  readonly x?: number;
  readonly y?: number;
  readonly z?: number;
  readonly order?: number;
  /** seconds of the day on a clock, else a number in the unit of the heading */
  readonly time?: number;
  readonly temperature?: number;
  readonly approach?: string;
  readonly note?: string;
}

/** the same, while it is being put together */
export type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** What the preamble says. */
export interface SheetPreamble {
  readonly title?: string;
  readonly date?: string;
  readonly frame: Frame;
  readonly gauge: Gauge;
  /** false: the gauge was set to zero again at each pass */
  readonly oneZero: boolean;
  readonly protocol: Protocol;
  readonly temperatures: readonly StatedTemperature[];
  readonly travel: { readonly x?: Span; readonly y?: Span };
  /** other lines `# key: value`, kept as they are */
  readonly other: readonly (readonly [key: string, value: string])[];
  readonly notes: readonly string[];
  readonly removed: readonly Removal[];
  readonly looked: readonly Look[];
}

/** A sheet that has been read: nothing repaired, nothing left out. */
export interface Sheet {
  readonly name: string;
  readonly preamble: SheetPreamble;
  readonly units: SheetUnits;
  readonly columns: SheetColumns;
}

/** whether a place is a datum return */
export function isDatum(place: string): boolean {
  return /^datum( .+)?$/i.test(place);
}

/** what one unit of length is in micrometres and millimetres, the inch units exact to the last decimal */
export const micrometres: { readonly [U in LengthUnit]: number } = {
  m: 1e6,
  mm: 1000,
  um: 1,
  nm: 1e-3,
  in: 25_400,
  thou: 25.4,
  tenth: 2.54,
};
