import { MeasurementError } from "../../measurement-error.js";

/** A request that is not answered as it was meant: one sentence for the page, and the HTTP status that goes with it. */
export class Refused extends MeasurementError {
  constructor(
    readonly status: number,
    code: string,
    sentence: string,
  ) {
    super(code, sentence);
  }
}

/** HTTP status of a refusal that comes from code which knows nothing of HTTP. */
export function statusOf(error: MeasurementError): number {
  if (error instanceof Refused) return error.status;
  if (error.code !== "not-written") return 400;
  return /disk is full/.test(error.message) ? 507 : 403;
}
