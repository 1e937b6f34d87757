import { inUnit, type UnitSystem, units } from "../quantity/kinds.js";
import { printDecimals } from "../quantity/print.js";

/** One scale that a picture or a table is printed on. */
export interface PrintScale {
  /** "mm", "µm", "in", "thou" */
  readonly symbol: string;
  /** decimals that print at least as finely as one metric decimal fewer by as many */
  readonly moreDecimals: number;
  /** the number on this scale of one that is held in mm (places), µm (heights) or °C */
  of(metric: number): number;
}

/** The units that pictures are printed in: places on the table in mm or in, heights in µm or thou, temperatures. */
export interface PrintUnits {
  readonly system: UnitSystem;
  readonly place: PrintScale;
  readonly height: PrintScale;
  /** of a number held in °C */
  readonly temperature: PrintScale;
}

const metric: PrintUnits = {
  system: "metric",
  place: { symbol: "mm", moreDecimals: 0, of: (mm) => mm },
  height: { symbol: "µm", moreDecimals: 0, of: (um) => um },
  temperature: { symbol: "°C", moreDecimals: 0, of: (celsius) => celsius },
};

/** 1 in = 1000 thou as 1 mm = 1000 µm: heights are drawn larger by the same factor in both. */
const inch: PrintUnits = {
  system: "inch",
  place: { symbol: "in", moreDecimals: 2, of: (mm) => inUnit(units.length.in, mm / 1000) },
  height: { symbol: "thou", moreDecimals: 2, of: (um) => inUnit(units.length.thou, um / 1e6) },
  temperature: { symbol: "°F", moreDecimals: 0, of: (celsius) => inUnit(units.temperature.degF, celsius + 273.15) },
};

/** The print units of a system. Nothing here asks which one is preferred: the display fills that in. */
export function printUnits(system: UnitSystem): PrintUnits {
  return system === "inch" ? inch : metric;
}

/** A number held in mm or µm, as printed: so many decimals in metric, as fine or finer in inch. The inch number is that of
 * the printed metric one, so that pictures, tables and sentences say the same. */
export function scaleNumber(scale: PrintScale, metricNumber: number, decimals: number): string {
  return printDecimals(scale.of(Number(metricNumber.toFixed(decimals))), decimals + scale.moreDecimals);
}

/** The same with its unit. */
export function scaleText(scale: PrintScale, metricNumber: number, decimals: number): string {
  return `${scaleNumber(scale, metricNumber, decimals)} ${scale.symbol}`;
}

/** A measured height with its uncertainty; in inch in thou, as the other heights of a picture. */
export function measuredHeight(
  { system }: Pick<PrintUnits, "system">,
  measured: { text(unit: "metric" | "thou"): string },
): string {
  return measured.text(system === "inch" ? "thou" : "metric");
}

/** Where a place is, as a person reads it off a scale: mm as they stand on the sheet, inches to the thou. */
export function placeText({ place, system }: PrintUnits, mm: number): string {
  const number = system === "inch" ? printDecimals(place.of(mm), 3) : `${mm}`.replace("-", "−");
  return `${number} ${place.symbol}`;
}
