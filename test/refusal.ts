import { MeasurementError } from "../kernel-lib/src/measurement-error.js";

/** The code and the whole sentence of the refusal that `act` ends in; fails where it does not refuse. */
export function refusal(act: () => unknown): { code: string; message: string } {
  try {
    act();
  } catch (error) {
    if (error instanceof MeasurementError) return { code: error.code, message: error.message };
    throw error;
  }
  throw new Error("was accepted, but a refusal was expected");
}
