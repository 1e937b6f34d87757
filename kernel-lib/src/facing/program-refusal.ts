import { MeasurementError } from "../measurement-error.js";

/** A job that no program is written for. */
export function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.program: ${sentence}`);
}
