import { MeasurementError } from "../measurement-error.js";

/** Where on a sheet a fault stands. */
export interface SheetSpot {
  readonly name: string;
  readonly line?: number;
  readonly column?: string;
}

/** Refuses a sheet: where, what was read, what is needed, what to do, in one sentence. */
export function refuseSheet(code: string, spot: SheetSpot, sentence: string): never {
  const line = spot.line === undefined ? "" : ` line ${spot.line}`;
  const column = spot.column === undefined ? "" : `, column ${spot.column}`;
  throw new MeasurementError(code, `${spot.name}${line}${column}: ${sentence}`);
}

/** A cell as it stood, cut short and in quotation marks. */
export function shown(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 39)}…` : text);
}
