import { lengthUnit } from "./headings.js";
import { micrometres } from "./sheet.js";

/** A column that a sheet may have: a word, a length, a temperature, an inclination or an angle over its unit, a time. */
export type ColumnKind = "word" | "length" | "temperature" | "time" | "slope" | "angle";

/** of an inclination; a division is worth what the sheet says */
const slopeUnits: readonly string[] = ["um/m", "mm/m", "arcsec", "div"];

/** The unit that a heading gives a column of a kind; undefined where it is none of that kind. A time without one is a clock. */
export function unitOf(kind: ColumnKind, given: string | undefined): string | undefined {
  if (kind === "word") return given === undefined ? "" : undefined;
  if (kind === "length") return given === undefined ? undefined : lengthUnit(given);
  if (kind === "time") return given === undefined ? "clock" : ["s", "min", "h"].find((unit) => unit === given);
  if (kind === "slope") return slopeUnits.find((unit) => unit === given?.replace(/[µμ]/, "u"));
  if (kind === "angle") return given === "deg" || given === "°" ? "deg" : undefined;
  const spelled = given === "°C" ? "degC" : given === "°F" ? "degF" : given;
  return ["degC", "degF", "K"].find((unit) => unit === spelled);
}

/** what to write */
export function wanted(kind: ColumnKind, column: string): string {
  if (kind === "word") return `write ${column} alone`;
  if (kind === "slope") return `write ${column}/ and one of ${slopeUnits.join(", ")}`;
  if (kind === "angle") return `write ${column}/deg`;
  const allowed =
    kind === "length" ? Object.keys(micrometres) : kind === "time" ? ["s", "min", "h"] : ["degC", "degF", "K"];
  return `write ${column}/ and one of ${allowed.join(", ")}`;
}
