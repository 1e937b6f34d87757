import { type SurfaceSource, surfaceOf } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import type { Measured } from "../uncertainty/index.js";

/** One result as a line of the record. Lengths in µm. */
export interface RecordEntry {
  /** year-month-day */
  readonly date: string;
  /** what was surveyed: "table of the bed mill" */
  readonly subject: string;
  /** what of it: "minimum zone flatness" */
  readonly result: string;
  readonly valueUm: number;
  readonly standardUncertaintyUm: number;
  readonly relativeTo: string;
  readonly gauge: string;
  /** "78 places, x 20 to 500 mm, y 20 to 220 mm" */
  readonly places: string;
  /** name of the sheet it came from, and the checksum of its bytes where it was read from a file */
  readonly sheet: string;
  readonly sheetSha256?: string;
  readonly note?: string;
  /** number of the line that this one corrects */
  readonly corrects?: number;
}

export interface RecordInput {
  /** year-month-day, by the reader: nothing here looks at a clock */
  readonly date: string;
  readonly subject: string;
  readonly result: string;
  readonly value: Measured<"length">;
  /** what it was taken from */
  readonly survey: SurfaceSource & { readonly file?: { readonly sha256: string } | undefined };
  readonly note?: string;
  readonly corrects?: number;
}

export const dateForm = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/;

/**
 * One result as a line of the record, with all that tells later whether it may be compared with another: frame, gauge,
 * places, sheet and its checksum.
 *
 * @throws MeasurementError `date`, `record`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2].flatMap((i) => [0, 1].map((j) => ({ label: `P${i}${j}`, xMm: 50 * i, yMm: 50 * j, zUm: 0, count: 2 })));
 * const map = { name: "table.csv", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 12 } };
 * const value = Measured.from(input.normal({ label: "flatness", estimate: um(14), standardUncertainty: um(2) }));
 * proof.recordEntry({ date: "2026-10-24", subject: "table", result: "flatness", value, survey: map }).places // => "6 places, x 0 to 100 mm, y 0 to 50 mm"
 */
export function recordEntry(given: RecordInput): RecordEntry {
  const { date, subject, result, value, survey, note, corrects } = given;
  needDate(date);
  for (const [name, text] of Object.entries({ subject, result })) {
    if (text.trim() === "") refuse("record", `${name} is empty; say what was surveyed and what of it`);
  }
  const { frame, gauge, places, name } = surfaceOf(survey);
  const side = (of: readonly number[]) => `${Math.min(...of)} to ${Math.max(...of)} mm`;
  const plan = `x ${side(places.map((p) => p.xMm))}, y ${side(places.map((p) => p.yMm))}`;
  const sha256 = "file" in survey ? survey.file?.sha256 : undefined;
  return Object.freeze({
    date,
    subject,
    result,
    valueUm: value.in("um"),
    standardUncertaintyUm: value.standardUncertainty.in("um"),
    relativeTo: frame.relativeTo,
    gauge: gauge.name,
    places: `${places.length} places, ${plan}`,
    sheet: name,
    ...(sha256 === undefined ? {} : { sheetSha256: sha256 }),
    ...(note === undefined ? {} : { note }),
    ...(corrects === undefined ? {} : { corrects }),
  });
}

/** Days from 1970-01-01, by the calendar. @throws MeasurementError `date` */
export function dayNumber(date: string): number {
  needDate(date);
  const [year, month, day] = date.split("-").map(Number) as [number, number, number];
  // months counted from March, so that the odd one ends the year
  const y = month > 2 ? year : year - 1;
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  return 365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + dayOfYear - 719_468;
}

function needDate(date: string): void {
  if (!dateForm.test(date)) {
    refuse("date", `${JSON.stringify(date)} is not a date; write year-month-day, like 2026-10-17`);
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `proof.recordEntry: ${sentence}`);
}
